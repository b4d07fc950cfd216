"""Addresses of every page there is, each in the states that look different."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.served import PIECE, SHOP

AT = f"/pieces/{PIECE}"
JOINT = f"{AT}/joints/1"
SHOP_AT = f"/shop/{SHOP}"

PAGES = {
    "pieces": "/",
    "new-piece": "/pieces/new",
    "piece": AT,
    "piece-year": f"{AT}/year",
    "boards": f"{AT}/boards",
    "boards-one": f"{AT}/boards?board=B01",
    "history": f"{AT}/history",
    "take-in": "/take-in",
    "new-joint": f"{AT}/joints/new",
    "joint": JOINT,
    "joint-runner": f"{AT}/joints/2",
    "joint-charts": f"{JOINT}/charts",
    "joint-seasons": f"{JOINT}/seasons",
    "joint-working": f"{JOINT}/working",
    "setups": f"{AT}/setups",
    "trial": f"{JOINT}/trial",
    "packet": f"{AT}/packet",
    "shop-one": SHOP_AT,
    "shop-adding-a-cutter": f"{SHOP_AT}?add=straight",
    "shop": "/shop?all=yes",
    "new-shop": "/shop/new",
    "drift": f"{SHOP_AT}/drift",
    "shop-history": f"{SHOP_AT}/history",
    "timber": "/timber",
    "timber-answered": "/timber?species=Scots+pine&width=120",
    "told": "/pieces/999",
    "nothing-here": "/nowhere",
}
"""By what they are called; names of addresses, where a page has but one state."""

PARTS = {"joint-live", "joint-row"}
"""What pages load of themselves."""

FILES = {"piece-file", "shop-file", "archive", "packet-file", "drawing-file", "plan-file"} | {
    "offline",
    "drawing-rules",
}
CHANGES = {"piece-change", "piece-add", "piece-drop", "piece-climate", "boards-paste"} | {
    *("undo", "redo", "go-back", "discard", "bring-back", "joint-change", "joint-remove"),
    *("setup-done", "shop-change", "shop-sharpened", "shop-forget", "shop-undo", "shop-redo"),
    *("shop-go-back", "shop-discard", "shop-bring-back", "units", "sign-out"),
}
"""What only forms are sent to."""

SIGNING_IN = {"sign-in", "first-keeper", "accounts"}
"""Pages for shops where people sign in: `test_signed_in.py`, and the tests of accounts."""


def settled(page: Page) -> Page:
    """The same page, once nothing of it is on its way."""
    page.wait_for_load_state("networkidle")
    expect(page.locator(".htmx-request, [aria-busy=true]")).to_have_count(0)
    return page
