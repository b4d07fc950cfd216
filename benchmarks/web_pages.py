"""How large pages are, and how soon they can be used, in a browser on a slow tablet.

Chromium, with its clock of a processor a quarter as fast as here (4 x throttled, by the DevTools
protocol) on a network of 9 Mbit/s down, 1.5 Mbit/s up and 60 ms there and back: the tablet of a
workshop on a middling 4G or a far wireless router. No cache: somebody comes for the first time.
"""

from __future__ import annotations

import shutil
import statistics
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from playwright.sync_api import Browser, CDPSession, sync_playwright

SLOWER = 4
DOWN, UP, THERE_AND_BACK = 9e6 / 8, 1.5e6 / 8, 60  # bytes/s, bytes/s, ms
WIDTH, HEIGHT = 820, 1180
PATIENCE = 60_000  # ms
PROGRAM = "chromium"

USABLE = """() => {
    const [entry] = performance.getEntriesByType("navigation");
    const paints = performance.getEntriesByName("first-contentful-paint");
    return [entry.domContentLoadedEventEnd, paints.length ? paints[0].startTime : 0];
}"""


@dataclass(frozen=True, slots=True)
class Visit:
    """One first visit: bytes over the wire, files, and when it can be used. [s]

    Usable is when it is painted and its scripts have run, whichever is later.
    """

    bytes: int
    files: int
    usable: float


@contextmanager
def tablet() -> Iterator[Browser | None]:
    """A browser; None where there is none."""
    program = shutil.which(PROGRAM)
    if program is None:
        yield None
        return
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()


def visit(browser: Browser, address: str) -> Visit:
    """Look at a page for the first time, and wait until nothing more comes."""
    context = browser.new_context(viewport={"width": WIDTH, "height": HEIGHT}, has_touch=True)
    try:
        page = context.new_page()
        session = context.new_cdp_session(page)
        loads = _slowed(session)
        page.goto(address, wait_until="networkidle", timeout=PATIENCE)
        loaded, painted = page.evaluate(USABLE)
        return Visit(sum(loads), len(loads), max(loaded, painted) / 1e3)
    finally:
        context.close()


def _slowed(session: CDPSession) -> list[int]:
    """Slow everything down; a list that gets the bytes of each file when it has come."""
    loads: list[int] = []
    session.on("Network.loadingFinished", lambda event: loads.append(event["encodedDataLength"]))
    session.send("Network.enable")
    session.send("Network.setCacheDisabled", {"cacheDisabled": True})
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    conditions = {
        "offline": False,
        "latency": THERE_AND_BACK,
        "downloadThroughput": DOWN,
        "uploadThroughput": UP,
    }
    session.send("Network.emulateNetworkConditions", conditions)
    return loads


def median_visit(browser: Browser, address: str, times: int) -> Visit:
    """The median of several first visits."""
    found = [visit(browser, address) for _ in range(times)]
    return Visit(
        max(each.bytes for each in found),
        max(each.files for each in found),
        statistics.median(each.usable for each in found),
    )
