"""A server that dies while many write: what it said to be kept is there when it starts again."""

from __future__ import annotations

import http.client
import json
import random
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import pytest

from benchmarks.web_client import Browser
from benchmarks.web_crowd import PASSWORD, account_name, add_accounts, lost
from benchmarks.web_person import Kept
from benchmarks.web_pieces import lining_text, put
from benchmarks.web_server import Server, serving
from faywright.app import open_store
from tests.app.conftest import database, place, server  # noqa: F401 - fixtures

CLIENTS = 10
TOO_QUICK = 422
"""Others were quicker, again and again: said to be not kept."""


@dataclass
class Writer:
    """Changes its part of the piece that all share, and ticks setups off, until nobody answers."""

    browser: Browser
    piece: int
    number: int
    base: int = 1
    kept: Kept = field(default_factory=Kept)
    turns: count[int] = field(default_factory=lambda: count(1))

    def write(self) -> None:
        with suppress(OSError, http.client.HTTPException):
            page = self.browser.get(f"/pieces/{self.piece}").told(200)
            self.base = int(page.found(r'id="base" name="at" value="(\d+)"'))
            while True:
                turn = next(self.turns)
                self.change(turn)
                self.tick(f"{self.number:016x}{turn:016x}")

    def change(self, turn: int) -> None:
        form = {
            "path": json.dumps(["part", f"wall {self.number}", "moisture"]),
            "kind": "number",
            "was": "",
            "value": f"{8 + 0.001 * (turn % 4000):.3f}",
            "base": str(self.base),
            "at": str(self.base),
        }
        answer = self.browser.post(f"/pieces/{self.piece}/change", form)
        if answer.status == TOO_QUICK:
            return
        told = json.loads(answer.told(200).headers["HX-Trigger"])
        self.base = told["changed"]
        self.kept.said[self.piece, told["said"].partition(". Meanwhile ")[0]] += 1

    def tick(self, cut: str) -> None:
        form = {"number": "1", "cut": cut, "height": "6.5", "fence": "9.5", "done": "yes"}
        self.browser.post(f"/pieces/{self.piece}/setups/done", form).told(200)
        self.kept.ticks[self.piece, cut] = True


def writers(running: Server, folder: Path, place: str) -> list[Writer]:  # noqa: F811
    """Ten who have come in, with a piece that has a part for each."""
    browsers = [Browser(running.port) for _ in range(CLIENTS)]
    if place.startswith("postgresql"):
        add_accounts(running, folder, place, CLIENTS)
        for number, browser in enumerate(browsers):
            browser.sign_in(account_name(number), PASSWORD)
    else:
        for browser in browsers:
            browser.begin()
    piece = put(browsers[0], lining_text("Long hall", CLIENTS, boards=2))
    return [Writer(browser, piece, number) for number, browser in enumerate(browsers, start=1)]


def survives(place: str, folder: Path, kills: int, seconds: float) -> None:  # noqa: F811
    chance = random.Random(kills)  # noqa: S311 - moments, not secrets
    each: list[Writer] = []
    for kill in range(1, kills + 1):
        with serving(folder, place) as running:
            each = each or writers(running, folder, place)
            with ThreadPoolExecutor(CLIENTS) as pool:
                for writer in each:
                    writer.browser.follow(running.port)
                under_way = [pool.submit(writer.write) for writer in each]
                time.sleep(chance.uniform(0.5, 1) * seconds)
                running.kill()
                for writing in under_way:
                    writing.result()
        assert lost(place, [writer.kept for writer in each]) == []
        assert unsaid(place, each) <= CLIENTS * kill, (
            "each may have kept one more than it could say"
        )
    assert sum(sum(writer.kept.said.values()) for writer in each) >= 10 * kills
    for writer in each:
        writer.browser.close()


def unsaid(place: str, each: list[Writer]) -> int:  # noqa: F811
    """How many revisions there are, beside the first, that nobody was told of."""
    with open_store(place) as store:
        steps = store.documents.history(each[0].piece)
        text = store.documents.sheet(each[0].piece).revision.text
    assert text.startswith('faywright = "piece 1"')
    assert text.count("[[joint]]") == CLIENTS
    parents = [step.parent for step in reversed(steps)]
    assert parents == [None, *range(1, len(steps))], "each was made from the one before it"
    return len(steps) - 1 - sum(sum(writer.kept.said.values()) for writer in each)


def test_what_ten_were_told_to_be_kept_survives_a_kill(tmp_path: Path) -> None:
    survives(str(tmp_path / "shop.sqlite3"), tmp_path, kills=2, seconds=1.5)


@pytest.mark.soak
def test_what_ten_were_told_to_be_kept_survives_many_kills(
    place: str,  # noqa: F811
    tmp_path: Path,
) -> None:
    survives(place, tmp_path, kills=20, seconds=3)
