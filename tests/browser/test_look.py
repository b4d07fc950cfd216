"""Everything a page is made of, measured in a browser: widths, targets, contrast, behaviour."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from itertools import product
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]  # has none
from playwright.sync_api import Browser, Page

from tests.web.gallery import SCHEMES, SIZES, shown

Look = Callable[..., Page]
HALF_A_PIXEL = 0.5
TOUCH = 48.0

SAID = """words => document.body.dispatchEvent(
  new CustomEvent("said", {detail: {value: words}, bubbles: true}))"""

ASK = """wait => {
  const detail = {xhr: {status: 200}, target: document.querySelector("form"),
    requestConfig: {verb: "post", triggeringEvent: new Event("submit")}};
  const tell = name => document.body.dispatchEvent(new CustomEvent(name, {detail, bubbles: true}));
  tell("htmx:beforeRequest");
  setTimeout(() => tell("htmx:afterRequest"), wait);
}"""

ANSWER = """([by, status]) => document.body.dispatchEvent(
  new CustomEvent("htmx:afterSettle", {bubbles: true, detail: {xhr: {status},
    target: document.querySelector("main"),
    requestConfig: {verb: "post", triggeringEvent: new Event(by)}}}))"""


@pytest.fixture(name="look")
def _look(browser: Browser) -> Iterator[Look]:
    with ExitStack() as pages:

        def opened(size: str = "phone", scheme: Literal["light", "dark"] = "light") -> Page:
            return pages.enter_context(shown(browser, size, scheme))

        yield opened


def said(page: Page) -> str:
    return page.locator("#said").inner_text()


@pytest.mark.parametrize("size", SIZES)
def test_no_page_is_pushed_sideways(look: Look, size: str) -> None:
    page = look(size)
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= SIZES[size][0]


def test_letters_twice_as_large_push_nothing_sideways_either(look: Look) -> None:
    wide = look("phone").evaluate(
        """() => { const sheet = new CSSStyleSheet(); sheet.replaceSync('html{font-size:200%}');
        document.adoptedStyleSheets = [sheet]; return document.documentElement.scrollWidth; }"""
    )
    assert wide <= SIZES["phone"][0]


@pytest.mark.parametrize("size", SIZES)
def test_what_is_pressed_is_large_enough_for_a_gloved_finger(look: Look, size: str) -> None:
    page = look(size)
    small = page.evaluate(
        """least => [...document.querySelectorAll('button, summary, .top a, .actions a, select,' +
        'input:not([type=hidden], [type=checkbox], [type=radio]), label:has(> input)')]
        .map(each => [each.outerHTML.slice(0, 60), each.getBoundingClientRect().height])
        .filter(([, tall]) => tall < least)""",
        TOUCH - HALF_A_PIXEL,
    )
    assert small == []


MOST_UNLIKE = [("phone", "light"), ("tablet", "dark")]
"""Looked at in every run; the other sizes and schemes in soak runs."""


@pytest.mark.parametrize(
    ("size", "scheme"),
    [
        pytest.param(*each, marks=[] if each in MOST_UNLIKE else [pytest.mark.soak])
        for each in product(SIZES, SCHEMES)
    ],
)
def test_nothing_stands_in_the_way_of_anyone(
    look: Look, size: str, scheme: Literal["light", "dark"]
) -> None:
    options = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
    found = Axe().run(look(size, scheme), options=options)
    assert found.violations_count == 0, found.generate_report()


def test_lettering_of_drawings_is_never_shrunk_on_a_phone(look: Look) -> None:
    page = look("phone")
    least = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('svg.drawing text')].map(text =>
        Number(text.getAttribute('font-size')) * text.getScreenCTM().a))"""
    )
    assert least > 11


def test_the_focus_is_drawn_heavily(look: Look) -> None:
    page = look("tablet")
    page.locator("#depth").focus()
    outline = page.evaluate("getComputedStyle(document.querySelector('#depth')).outlineWidth")
    assert outline == "3px"


def test_what_was_done_is_said(look: Look) -> None:
    page = look()
    page.evaluate(SAID, "Groove depth is 9 mm")
    assert said(page) == "Groove depth is 9 mm"


def test_one_is_told_of_waiting_only_when_it_takes_a_moment(look: Look) -> None:
    page = look()
    page.evaluate(ASK, 50)
    page.wait_for_timeout(400)
    assert said(page) == ""
    page.evaluate(ASK, 1500)
    page.wait_for_timeout(500)
    assert said(page) == "Working it out"
    page.wait_for_timeout(1500)
    assert said(page) == ""


def test_after_a_form_one_stands_at_its_first_fault(look: Look) -> None:
    page = look()
    page.locator("#depth").focus()
    page.evaluate(ANSWER, ["submit", 200])
    assert page.evaluate("document.activeElement.id") == "depth"
    page.evaluate(ANSWER, ["submit", 422])
    assert page.evaluate("document.activeElement.id") == "width"


def test_a_fault_of_a_field_one_has_left_is_told_and_does_not_call_one_back(look: Look) -> None:
    page = look()
    page.locator("#notes").focus()
    page.evaluate(ANSWER, ["change", 422])
    assert page.evaluate("document.activeElement.id") == "notes"
    assert "is no length" in said(page)


def test_drawings_print_at_their_true_size(look: Look) -> None:
    page = look("desk")
    page.emulate_media(media="print")
    wide, told = page.evaluate(
        """() => { const found = document.querySelector('.sheet svg.drawing');
        return [found.getBoundingClientRect().width, found.getAttribute('width')]; }"""
    )
    assert wide * 25.4 / 96 == pytest.approx(float(told.removesuffix("mm")), rel=1e-3)
    assert not page.locator(".top").is_visible()
