"""A real server and Debian's chromium, driven as a maker would."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Literal, Protocol

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, sync_playwright

from tests.browser.served import PATIENCE_S, Served, serving

NAMES = ("chromium", "chromium-browser", "google-chrome")
SIZES = {"phone": (360, 800), "tablet": (820, 1180), "desk": (1440, 900)}

FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


class Opening(Protocol):
    """Opens a page in a browser profile of its own.

    Console errors with one of the words ``but_for`` in them belong to what is tried: a browser
    writes one for every answer of 422, and for every request without a connection.
    """

    def __call__(
        self,
        address: str,
        *,
        size: str = "tablet",
        scheme: Literal["light", "dark"] = "light",
        but_for: tuple[str, ...] = (),
    ) -> Page: ...


@pytest.fixture(scope="session")
def chromium() -> str:
    """The browser's program; without one these tests fail, for pages would go out unseen."""
    for name in NAMES:
        found = shutil.which(name)
        if found:
            return found
    pytest.fail(
        "no chromium is installed: `make test` installs Debian's where it may; elsewhere "
        "install the package chromium and run it again"
    )


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Browser]:
    """One for the tests of a file; each page gets a profile of its own.

    Not for longer: as long as it is there a loop runs in this thread, and Django will not touch a
    database beside one.
    """
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=chromium, args=list(FLAGS))
        yield found
        found.close()


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A server with the demo, for the tests of one file that do not mind each other."""
    with serving(tmp_path_factory.mktemp("served")) as found:
        yield found


@pytest.fixture
def fresh(tmp_path: Path) -> Iterator[Served]:
    """A server with the demo, for one test."""
    with serving(tmp_path) as found:
        yield found


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Served]:
    """A server with nothing in its store."""
    with serving(tmp_path, "--empty") as found:
        yield found


@pytest.fixture
def opened(browser: Browser) -> Iterator[Opening]:
    """Opens pages; any error in one, or in another page of its profile, fails the test."""
    contexts: list[BrowserContext] = []
    wrong: list[str] = []

    def open_page(
        address: str,
        *,
        size: str = "tablet",
        scheme: Literal["light", "dark"] = "light",
        but_for: tuple[str, ...] = (),
    ) -> Page:
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme=scheme,
            has_touch=True,
            ignore_https_errors=address.startswith("https:"),
        )
        contexts.append(context)
        context.set_default_timeout(PATIENCE_S * 1000)
        context.on("weberror", lambda error: wrong.append(f"{error.page}: {error.error}"))
        context.on("console", lambda said: wrong.extend(_errors(said, but_for)))
        page = context.new_page()
        page.goto(address)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert not wrong, wrong


def _errors(said: ConsoleMessage, but_for: tuple[str, ...]) -> Iterator[str]:
    if said.type == "error" and not any(words in said.text for words in but_for):
        yield f"{said.location.get('url')}: {said.text}"
