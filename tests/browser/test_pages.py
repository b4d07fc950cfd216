"""Every page, measured: for everyone to use, on a phone and on a tablet, by day and by night."""

from __future__ import annotations

import os
from itertools import product
from pathlib import Path
from typing import Literal

import pytest
from django.urls import URLPattern, URLResolver, get_resolver
from playwright.sync_api import Page

from tests.browser.conftest import SIZES, Opening
from tests.browser.measuring import barriers, pushed_sideways, small, too_small
from tests.browser.pages import CHANGES, FILES, PAGES, PARTS, SIGNING_IN, settled
from tests.browser.served import Served

SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
NOT_THERE = ("status of 404",)


ALL_OPEN = "for (const each of document.querySelectorAll('details')) each.open = true"


@pytest.fixture(name="page", params=PAGES)
def _page(request: pytest.FixtureRequest, served: Served, opened: Opening) -> Page:
    """One page of the demo."""
    page = opened(served.address + PAGES[request.param], size="phone", but_for=NOT_THERE)
    if "FAYWRIGHT_PICTURES" in os.environ:
        photograph(settled(page), Path(os.environ["FAYWRIGHT_PICTURES"]), request.param)
    page.evaluate(ALL_OPEN)
    return settled(page)


def look_at(page: Page, size: str, scheme: Literal["light", "dark"]) -> None:
    width, height = SIZES[size]
    page.set_viewport_size({"width": width, "height": height})
    page.emulate_media(color_scheme=scheme)


def photograph(page: Page, folder: Path, name: str) -> None:
    """For who wants to look: each page at each size, by day and by night."""
    folder.mkdir(parents=True, exist_ok=True)
    for size, scheme in product(SIZES, SCHEMES):
        look_at(page, size, scheme)
        to = folder / f"{name}-{size}-{scheme}.png"
        page.screenshot(path=to, full_page=size == "phone")


def test_a_page_stands_in_nobody_s_way(page: Page) -> None:
    """On a phone, by day: the narrowest. `test_contrast.py` has the colours of the night."""
    look_at(page, "phone", "light")
    assert pushed_sideways(page) <= 0
    assert too_small(page) == []
    assert small(page) == []
    assert barriers(page) == []


@pytest.mark.soak
def test_a_page_stands_in_nobody_s_way_at_any_size_by_day_or_night(page: Page) -> None:
    for size, scheme in product(SIZES, SCHEMES):
        look_at(page, size, scheme)
        assert pushed_sideways(page) <= 0, size
        assert barriers(page) == [], (size, scheme)


def test_every_address_is_one_of_these_pages_or_no_page() -> None:
    names = set(_names(get_resolver("faywright.web.urls")))
    pages = names & set(PAGES)
    assert names - pages - PARTS - FILES - CHANGES - SIGNING_IN == set()
    assert names >= PARTS | FILES | CHANGES | SIGNING_IN


def _names(resolver: URLResolver) -> list[str]:
    """Names of pages; accounts and the API have tests of their own."""
    found: list[str] = []
    for each in resolver.url_patterns:
        if isinstance(each, URLResolver):
            if str(each.pattern) != "api/":
                found.extend(_names(each))
        elif isinstance(each, URLPattern) and not str(each.pattern).startswith("accounts/"):
            found.append(each.name or str(each.pattern))
    return found
