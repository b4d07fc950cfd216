"""Undo, redo and history: pressed as a maker presses them, each takes back just what it says."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Opening
from tests.browser.pages import AT, JOINT, SHOP_AT, settled
from tests.browser.served import Served, fetched

CONFLICT = ("status of 409", "status of 422")


def stored(served: Served) -> bytes:
    return fetched(f"{served.address}{AT}/piece.toml")


def depth(page: Page) -> Locator:
    return page.get_by_label(re.compile("^Groove depth"))


def keep(page: Page, value: str) -> None:
    depth(page).fill(value)
    with page.expect_response(re.compile("/change$")):
        depth(page).press("Tab")
    settled(page)


def press(page: Page, button: str) -> None:
    page.locator("#undoing").get_by_role("button", name=button, exact=True).click()
    page.wait_for_load_state()
    settled(page)


def test_undo_and_redo_go_back_and_forth_between_what_was_stored(
    fresh: Served, opened: Opening
) -> None:
    page = settled(opened(fresh.address + JOINT))
    texts = [stored(fresh)]
    for value in ("9.5", "9"):
        keep(page, value)
        texts.append(stored(fresh))
    assert len(set(texts)) == 3
    expect(page.locator("#undoing")).to_contain_text("Undo takes back:")
    for text in texts[1::-1]:
        press(page, "Undo")
        assert stored(fresh) == text
    page.goto(fresh.address + JOINT)
    expect(page.locator("#undoing").get_by_role("button", name="Undo")).to_have_count(0)
    for text in texts[1:]:
        press(page, "Redo")
        assert stored(fresh) == text


def test_what_was_undone_is_seen_on_the_page(fresh: Served, opened: Opening) -> None:
    page = settled(opened(fresh.address + JOINT))
    gaps = page.get_by_role("region", name="Gaps")
    before = gaps.inner_text()
    page.get_by_label(re.compile("^Bottom gap")).fill("1.6")
    page.keyboard.press("Tab")
    expect(gaps).to_contain_text("1.60 mm")
    settled(page)
    press(page, "Undo")
    page.goto(fresh.address + JOINT)
    assert gaps.inner_text() == before


def test_any_step_of_the_history_can_be_gone_back_to(fresh: Served, opened: Opening) -> None:
    page = settled(opened(fresh.address + JOINT))
    first = stored(fresh)
    keep(page, "9.5")
    keep(page, "9")
    last = stored(fresh)
    page.goto(f"{fresh.address}{AT}/history")
    page.get_by_role("button", name="Go back to 1").click()
    page.wait_for_load_state()
    assert stored(fresh) == first
    page.goto(f"{fresh.address}{AT}/history")
    expect(page.locator(".history [aria-current]")).to_contain_text("1")
    for _ in range(2):
        press(page, "Redo")
    assert stored(fresh) == last


def test_undo_on_a_page_that_is_out_of_date_takes_back_nothing_and_says_so(
    fresh: Served, opened: Opening
) -> None:
    one, other = (opened(fresh.address + JOINT, but_for=CONFLICT) for _ in range(2))
    keep(settled(one), "9.5")
    other.reload()
    keep(one, "9")
    before = stored(fresh)
    other.locator("#undoing").get_by_role("button", name="Undo", exact=True).click()
    expect(other.get_by_role("alert")).to_be_visible()
    assert stored(fresh) == before


@pytest.mark.parametrize("path", [AT, pytest.param(SHOP_AT, marks=pytest.mark.soak)])
def test_what_was_discarded_can_be_brought_back(fresh: Served, opened: Opening, path: str) -> None:
    page = settled(opened(fresh.address + path))
    text = stored(fresh)
    if path == SHOP_AT:
        discard(page, fresh, AT)  # a shop goes only after what is made in it
    discard(page, fresh, path)
    page.goto(fresh.address + ("/shop?all=yes" if path == SHOP_AT else "/"))
    for each in page.locator("details").all():
        each.evaluate("each => { each.open = true; }")
    page.get_by_role("button", name=re.compile("^Bring (it )?back")).first.click()
    page.wait_for_load_state()
    page.goto(fresh.address + path)
    expect(page.get_by_role("button", name=re.compile("^Discard this"))).to_be_visible()
    assert stored(fresh) == text


def discard(page: Page, served: Served, path: str) -> None:
    page.goto(served.address + path)
    page.get_by_role("button", name=re.compile("^Discard this")).click()
    page.wait_for_load_state()
