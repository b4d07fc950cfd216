"""The switch between units: every length on the page follows it, and nothing that is stored."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Opening
from tests.browser.pages import AT, JOINT, SHOP_AT, settled
from tests.browser.served import Served, fetched

PLACES = {
    "joint": JOINT,
    "working": f"{JOINT}/working",
    "setups": f"{AT}/setups",
    "trial": f"{JOINT}/trial",
    "boards": f"{AT}/boards",
    "shop": SHOP_AT,
    "timber": "/timber?species=Scots+pine&width=120",
}
TEXTS = """() => [...document.querySelectorAll(
    'main :is(td, dd, dt, li, text, .setting, .verdict, .number p, article > p, .reading .quiet)')]
  .filter(each => !each.closest('#ways'))
  .map(each => each.textContent.replaceAll('\\u00a0', ' ').replace(/\\s+/g, ' '))"""
MM, INCH = re.compile(r"\d mm\b"), re.compile(r"\d in\b")
SCALE = "this line is"
"""Beside the line that a print is measured by, which is as long in any unit."""

ROUNDED = 2
"""How many words may go where a thousandth of an inch is too coarse for what they tell."""


def stored(served: Served) -> tuple[bytes, bytes]:
    address = served.address
    return fetched(f"{address}{AT}/piece.toml"), fetched(f"{address}{SHOP_AT}/shop.toml")


def switch(page: Page, unit: str) -> None:
    page.locator(".units").get_by_role("button", name=unit, exact=True).click()
    chosen = page.locator(".units [aria-pressed='true']")
    expect(chosen).to_have_text(unit)
    settled(page)


def texts(page: Page) -> list[str]:
    found: list[str] = page.evaluate(TEXTS)
    return [each for each in found if SCALE not in each]


@pytest.mark.parametrize("unit", [pytest.param("0.001 in", marks=pytest.mark.soak), "1/64 in"])
@pytest.mark.parametrize("place", PLACES)
def test_every_length_is_shown_in_the_unit_that_was_asked_for(
    served: Served, opened: Opening, place: str, unit: str
) -> None:
    before = stored(served)
    page = settled(opened(served.address + PLACES[place]))
    in_mm = texts(page)
    lengths = sum(MM.search(text) is not None for text in in_mm)
    assert lengths
    switch(page, unit)
    in_inches = texts(page)
    assert [each for each in in_inches if MM.search(each)] == []
    assert sum(INCH.search(text) is not None for text in in_inches) >= lengths - ROUNDED
    assert stored(served) == before


def test_a_field_that_is_left_as_it_was_is_stored_as_it_was(
    served: Served, opened: Opening
) -> None:
    before = stored(served)
    page = settled(opened(f"{served.address}{AT}/joints/2"))
    depth = page.get_by_label(re.compile("^Groove depth"))
    expect(depth).to_have_value("6.5")
    switch(page, "0.001 in")
    expect(depth).to_have_value("0.256 in")
    depth.focus()
    page.keyboard.press("Tab")
    settled(page)
    assert stored(served) == before


def test_a_bare_number_is_in_the_unit_that_is_shown(fresh: Served, opened: Opening) -> None:
    page = settled(opened(fresh.address + JOINT))
    switch(page, "0.001 in")
    page.get_by_label(re.compile("^Groove depth")).fill("0.4")
    with page.expect_response(re.compile("/change$")):
        page.keyboard.press("Tab")
    settled(page)
    assert b'groove_depth = "0.4 in"' in stored(fresh)[0]
