"""Two people at the same piece, each at a page of their own: nothing of either is lost unseen."""

from __future__ import annotations

import re
import tomllib
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Opening
from tests.browser.pages import AT, JOINT, settled
from tests.browser.served import Served, fetched

CONFLICT = ("status of 409",)


def stored(served: Served) -> dict[str, Any]:
    return tomllib.loads(fetched(f"{served.address}{AT}/piece.toml").decode())


def field(page: Page, label: str) -> Locator:
    return page.get_by_label(re.compile(f"^{label}"))


def keep(page: Page, label: str, value: str) -> None:
    """Typed, and left with the key that leaves fields; done once the server has answered."""
    field(page, label).fill(value)
    with page.expect_response(re.compile("/change$")):
        field(page, label).press("Tab")
    settled(page)


@pytest.fixture(name="two")
def _two(fresh: Served, opened: Opening) -> tuple[Page, Page]:
    address = fresh.address + JOINT
    return settled(opened(address)), settled(opened(address, but_for=CONFLICT))


def test_changes_of_different_fields_are_put_together_and_told(
    two: tuple[Page, Page], fresh: Served
) -> None:
    one, other = two
    keep(one, "Groove depth", "9.5")
    keep(other, "Bottom gap", "1.4")
    expect(other.locator("#said")).to_contain_text("Meanwhile")
    expect(other.locator("#said")).to_contain_text("9.5")
    joint = stored(fresh)["joint"][0]
    assert (joint["groove_depth"], joint["bottom_gap"]) == (9.5, 1.4)


@pytest.mark.parametrize(("pressed", "kept"), [("Keep theirs", 9.5), ("Put mine", 8.5)])
def test_of_two_values_for_one_field_the_second_person_chooses(
    two: tuple[Page, Page], fresh: Served, pressed: str, kept: float
) -> None:
    one, other = two
    keep(one, "Groove depth", "9.5")
    keep(other, "Groove depth", "8.5")
    asked = other.get_by_role("alert")
    expect(asked).to_contain_text("Nothing of yours was kept yet")
    expect(asked.locator(".figures")).to_contain_text(re.compile(r"9\.5.*8\.5", re.DOTALL))
    assert stored(fresh)["joint"][0]["groove_depth"] == 9.5
    other.get_by_role("button", name=pressed).click()
    expect(field(other, "Groove depth")).to_have_value(re.compile(rf"^{kept}"))
    settled(other)
    assert stored(fresh)["joint"][0]["groove_depth"] == kept


def test_what_was_chosen_after_a_difference_can_be_changed_again(
    two: tuple[Page, Page], fresh: Served
) -> None:
    one, other = two
    keep(one, "Groove depth", "9.5")
    keep(other, "Groove depth", "8.5")
    other.get_by_role("button", name="Put mine").click()
    expect(field(other, "Groove depth")).to_be_visible()
    settled(other)
    keep(other, "Groove depth", "8.8")
    assert stored(fresh)["joint"][0]["groove_depth"] == 8.8


def test_a_board_is_changed_by_two_as_a_joint_is(fresh: Served, opened: Opening) -> None:
    address = f"{fresh.address}{AT}/boards?board=D1#board"
    one, other = opened(address), opened(address, but_for=CONFLICT)
    for page, width in ((one, "95.5"), (other, "95.2")):
        settled(page)
        page.locator("#board").get_by_label(re.compile("^Width")).fill(width)
        with page.expect_response(re.compile("/change$")):
            page.keyboard.press("Tab")
        settled(page)
    asked = other.get_by_role("alert")
    expect(asked.locator(".figures")).to_contain_text(re.compile(r"95\.5.*95\.2", re.DOTALL))
    other.get_by_role("button", name="Put mine").click()
    expect(other.locator("#board").get_by_label(re.compile("^Width"))).to_have_value("95.2")
    board = next(each for each in stored(fresh)["board"] if each["mark"] == "D1")
    assert board["width"] == 95.2
