"""Pictures of pages for the README: ``python -m tests.browser.pictures`` takes them anew."""

from __future__ import annotations

import base64
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Page, expect, sync_playwright

from tests.browser.conftest import FLAGS, NAMES, SIZES
from tests.browser.pages import AT, JOINT, settled
from tests.browser.served import PATIENCE_S, serving

ROOT = Path(__file__).parents[2]
WORDS = ROOT / "tests" / "golden" / "pictured.txt"
RENEWED_BY = ".venv/bin/python -m tests.browser.pictures"

TEXTS = """inSight => [...document.querySelectorAll(
    'main :is(h1, h2, h3, p, dt, dd, td, th, label)')]
  .filter(each => !each.querySelector('time') && each.checkVisibility())
  .filter(each => { const box = each.getBoundingClientRect();
    return !inSight || (box.height > 0 && box.bottom > 0 && box.top < innerHeight &&
      box.right > 0 && box.left < innerWidth); })
  .map(each => each.textContent.replace(/\\s+/g, ' ').trim()).filter(each => each)"""

READ = {"stock": "19.02", "groove": "6.31", "wall": "6.29", "depth": "10.46"} | {
    "tongue": "6.06",
    "cheek": "6.45",
    "length": "9.50",
}
"""A trial piece of the demo whose tongue came out fat. [mm]"""


@dataclass(frozen=True)
class Picture:
    """A page as it is pictured: where it is, and what is done there first."""

    name: str
    address: str
    ready: Callable[[Page], object]


def at_first_setup(page: Page) -> None:
    card = page.locator("#setup-4")
    card.scroll_into_view_if_needed()
    card.evaluate("each => scrollTo(0, each.getBoundingClientRect().top + scrollY)")
    expect(page.locator(".turn .at")).to_contain_text("4 of")


def tried(page: Page) -> None:
    for name, digits in READ.items():
        page.locator(f"#field-{name}").fill(digits)
    page.locator("#send").click()
    expect(page.locator(".answer .setting").first).to_be_visible()


PICTURES = (
    Picture("joint-page", JOINT, lambda page: page.locator("#ways").wait_for()),
    Picture("setup-card", f"{AT}/setups", at_first_setup),
    Picture("trial-page", f"{JOINT}/trial", tried),
)


def ready(page: Page, address: str, picture: Picture) -> Page:
    """The page, as it is pictured."""
    page.goto(address + picture.address)
    picture.ready(settled(page))
    return settled(page)


def words_on(page: Page, *, in_sight: bool) -> list[str]:
    """What is to be read on the page, or on what is seen of it without pushing it."""
    found: list[str] = page.evaluate(TEXTS, in_sight)
    return found


def file_of(picture: Picture) -> Path:
    return ROOT / "docs" / f"{picture.name}.webp"


def taken(page: Page) -> bytes:
    """What is to be seen now, as WebP: a third of the size of PNG, and as sharp to the eye."""
    page.mouse.move(0, 0)
    session = page.context.new_cdp_session(page)
    shot = session.send("Page.captureScreenshot", {"format": "webp", "quality": 85})
    session.detach()
    return base64.b64decode(shot["data"])


def main() -> None:
    """Take all, and write down what is to be read on them."""
    program = next(found for name in NAMES if (found := shutil.which(name)))
    width, height = SIZES["tablet"]
    told = []
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(Path(folder)) as served,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(executable_path=program, args=list(FLAGS))
        page = browser.new_page(viewport={"width": width, "height": height})
        page.set_default_timeout(PATIENCE_S * 1000)
        for picture in PICTURES:
            ready(page, served.address, picture)
            told += [f"== {picture.name}", *words_on(page, in_sight=True)]
            file_of(picture).write_bytes(taken(page))
        browser.close()
    WORDS.write_text("\n".join(told) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
