"""A shop's network: over TLS, and nobody comes in without the passphrase."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from faywright.web.entry.addresses import lan_address
from tests.browser.conftest import SIZES, Opening
from tests.browser.measuring import barriers, pushed_sideways, small, too_small
from tests.browser.pages import AT, PAGES, settled
from tests.browser.served import Served, serving

UNKNOWN = ("SSL certificate error",)
"""Browsers keep no copies of pages of a server whose certificate they were not told to trust."""

pytestmark = pytest.mark.skipif(
    lan_address() is None, reason="this computer is on no network, and can serve none"
)


@pytest.fixture(scope="module", name="lan")
def _lan(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serving(tmp_path_factory.mktemp("lan"), "--lan") as found:
        yield found


def passphrase(served: Served) -> str:
    found = re.search("signs in with the passphrase: (.+)", served.said)
    assert found is not None
    return found[1]


def sign_in(page: Page, words: str) -> None:
    page.get_by_label("Passphrase", exact=True).fill(words)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_load_state()


def test_one_signs_in_and_comes_to_the_page_one_wanted(lan: Served, opened: Opening) -> None:
    page = opened(f"{lan.address}{AT}/setups", but_for=UNKNOWN)
    expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")
    sign_in(page, passphrase(lan))
    expect(page.get_by_role("heading", level=1)).to_contain_text("Setups")
    page.locator("#done-1").get_by_role("button", name="Done", exact=True).click()
    expect(page.locator("#made")).to_have_text("1")
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_load_state()
    page.goto(lan.address)
    expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")


def test_a_wrong_passphrase_is_told(lan: Served, opened: Opening) -> None:
    page = opened(lan.address, but_for=("status of 4",))
    sign_in(page, "not the words")
    expect(page.get_by_role("alert")).to_be_visible()
    expect(page.get_by_label("Passphrase", exact=True)).to_be_visible()


def test_what_is_typed_can_be_looked_at(lan: Served, opened: Opening) -> None:
    page = opened(lan.address)
    field = page.get_by_label("Passphrase", exact=True)
    field.fill("chisel")
    page.get_by_role("button", name=re.compile("^Show")).click()
    expect(field).to_have_attribute("type", "text")


@pytest.mark.parametrize("name", ["sign-in", *PAGES][:3])
@pytest.mark.parametrize("size", ["phone", "tablet"])
def test_these_pages_stand_in_nobody_s_way_either(
    lan: Served, opened: Opening, name: str, size: str
) -> None:
    page = opened(lan.address, size=size)
    if name != "sign-in":
        sign_in(page, passphrase(lan))
        page.goto(lan.address + PAGES[name])
    assert page.viewport_size == dict(zip(("width", "height"), SIZES[size], strict=True))
    assert pushed_sideways(settled(page)) <= 0
    assert too_small(page) == []
    assert small(page) == []
    assert barriers(page) == []
