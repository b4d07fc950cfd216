"""The main job by keyboard alone: one sees where one is, goes on in order, and is held nowhere."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Opening
from tests.browser.pages import AT, JOINT, PAGES, settled
from tests.browser.served import Served

MOST = 250
"""Stops on one page; the longest has some 90."""

STOP = """() => {
  const at = document.activeElement;
  if (!at || at === document.body) return null;
  const style = getComputedStyle(at), box = at.getBoundingClientRect();
  const before = window.stood;
  window.stood = at;
  const said = at.getAttribute('aria-label') ?? at.labels?.[0]?.textContent ?? at.textContent;
  return {
    what: at.outerHTML.slice(0, 90), said: said.replace(/\\s+/g, ' ').trim(),
    seen: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
    inSight: at.checkVisibility() && box.bottom > 0 && box.top < innerHeight &&
      box.right > 0 && box.left < innerWidth,
    inOrder: !before || !before.isConnected ||
      Boolean(before.compareDocumentPosition(at) & Node.DOCUMENT_POSITION_FOLLOWING)};
}"""


def tab(page: Page) -> dict[str, str | bool] | None:
    page.keyboard.press("Tab")
    found: dict[str, str | bool] | None = page.evaluate(STOP)
    return found


def tab_to(page: Page, said: str) -> None:
    """On to what says so; it has to come within one round of the page."""
    for _ in range(MOST):
        found = tab(page)
        if found is not None and re.match(said, str(found["said"])):
            return
    raise AssertionError(f"there is no way to {said!r}")


def enter(page: Page) -> None:
    page.keyboard.press("Enter")
    page.wait_for_load_state()
    settled(page)


@pytest.mark.parametrize("name", ["pieces", "piece", "joint", "setups", "trial", "shop-one"])
def test_one_goes_round_a_page_in_order_and_sees_where_one_is(
    served: Served, opened: Opening, name: str
) -> None:
    page = settled(opened(served.address + PAGES[name]))
    stops = []
    while (found := tab(page)) is not None:
        stops.append(found)
        assert found["seen"], found
        assert found["inSight"], found
        assert found["inOrder"], found
        assert len(stops) < MOST, stops[-3:]
    assert len(stops) > 8


def test_the_first_stop_leads_past_what_stands_on_every_page(
    served: Served, opened: Opening
) -> None:
    page = settled(opened(served.address + PAGES["pieces"]))
    tab_to(page, "To the work")
    page.keyboard.press("Enter")
    tab_to(page, "Hall bench")
    expect(page.locator(":focus")).to_have_attribute("href", AT)


def test_a_dimension_is_changed_and_the_focus_stays_where_one_is_typing(
    fresh: Served, opened: Opening
) -> None:
    page = settled(opened(fresh.address + JOINT))
    tab_to(page, "Groove depth")
    page.keyboard.type("9.4")
    expect(page.locator("#live")).to_contain_text("Not kept yet")
    expect(page.locator(":focus")).to_have_value("9.4")
    tab_to(page, "Groove width")
    expect(page.locator("#said")).to_contain_text("9.4")
    settled(page)
    expect(page.locator(":focus")).to_have_attribute("name", "groove_width")


def test_from_the_list_of_pieces_to_a_correction_without_a_mouse(
    fresh: Served, opened: Opening
) -> None:
    page = settled(opened(fresh.address))
    tab_to(page, "Hall bench")
    enter(page)
    tab_to(page, "Setups$")
    enter(page)
    tab_to(page, "Done$")
    enter(page)
    expect(page.locator("#made")).to_have_text("1")
    assert page.evaluate("document.activeElement.closest('#setup-1') !== null")
    page.keyboard.press("ArrowRight")
    expect(page.locator(".turn .at")).to_contain_text("2 of")
    tab_to(page, "Try this cut")
    enter(page)
    tab_to(page, "Thickness of the trial piece")
    for digits in ("18.96", "6.35", "6.34", "10.48", "5.93", "6.5", "9.48"):
        page.keyboard.type(digits)
        page.keyboard.press("Enter")
    expect(page.locator("#send")).to_be_focused()
    enter(page)
    expect(page.locator(".answer")).to_contain_text("Remembered as trial 1")
