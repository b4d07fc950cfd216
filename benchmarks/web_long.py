"""What a server has in use of memory after a long day: many requests, and many different pieces."""

from __future__ import annotations

from dataclasses import dataclass

from benchmarks.web_client import Browser
from benchmarks.web_pieces import lining_text, put
from benchmarks.web_server import Server

REQUESTS, PIECES = 10_000, 60
PIECE_JOINTS, PIECE_BOARDS = 8, 5


@dataclass(frozen=True, slots=True)
class Grown:
    """Memory in use before and after, and in the middle. [MB]"""

    before: float
    middle: float
    after: float


def requested(server: Server, browser: Browser, addresses: tuple[str, ...], times: int) -> Grown:
    """Look at pages by turns, so many times in all, after each was looked at once."""
    for address in addresses:
        browser.get(address).told(200)
    before = middle = server.megabytes
    for turn in range(times):
        browser.get(addresses[turn % len(addresses)]).told(200)
        if turn == times // 2:
            middle = server.megabytes
    return Grown(before, middle, server.megabytes)


def planned(server: Server, browser: Browser, pieces: int) -> Grown:
    """Take in so many different pieces and look at all of each: more than a server may keep."""
    before = middle = server.megabytes
    for number in range(pieces):
        text = lining_text(f"Order {number + 1}", PIECE_JOINTS, PIECE_BOARDS, seed=5000 + number)
        piece = put(browser, text)
        browser.get(f"/pieces/{piece}").told(200)
        browser.get(f"/pieces/{piece}/setups?whole").told(200)
        if number == pieces // 2:
            middle = server.megabytes
    return Grown(before, middle, server.megabytes)
