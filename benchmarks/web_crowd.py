"""Thirty people at once, and whether all that they were told is kept is found again."""

from __future__ import annotations

import random
import statistics
import subprocess
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from benchmarks.measuring import ROOT
from benchmarks.tables import table
from benchmarks.web_client import Browser
from benchmarks.web_edits import JointEditor
from benchmarks.web_person import Kept, Person, busy
from benchmarks.web_pieces import JOINTS, joint_name, lining_text, put
from benchmarks.web_server import PROGRAM, Server
from faywright.app.cuts_done import CutsDone
from faywright.app.opening import open_store
from faywright.piece.document import tables_of

PEOPLE, SECONDS = 30, 60.0
OWN_JOINTS, OWN_BOARDS = 3, 6
THINK = (1.0, 3.0)
"""Between two things one does. [s]"""

CONTESTED = JOINTS
"""Place of the joint that everybody edits."""

PASSWORD = "seven ash boards"  # noqa: S105 - of a server that is thrown away


@dataclass(frozen=True)
class Ran:
    """What a crowd met with: seconds by kind of request, and how long it all took."""

    seconds: dict[str, list[float]]
    lasted: float
    processor: float
    kept: list[Kept]

    @property
    def all(self) -> list[float]:
        """Seconds of every request."""
        return [each for found in self.seconds.values() for each in found]


def ninety_fifth(values: Sequence[float]) -> float:
    """The value below which 95 of 100 are."""
    return sorted(values)[round(0.95 * (len(values) - 1))]


class Crowd:
    """People at one server; each has a piece, and all have one together."""

    def __init__(self, server: Server, people: int = PEOPLE, *, names: bool, seed: int = 1) -> None:
        """Everybody comes in, by ``names`` of their own if there are accounts."""
        self.server = server
        with ExitStack() as stack:
            browsers = [Browser(server.port) for _ in range(people)]
            for browser in browsers:
                stack.callback(browser.close)
            for number, browser in enumerate(browsers):
                if names:
                    browser.sign_in(account_name(number), PASSWORD)
                else:
                    browser.begin()
            self._leave = stack.pop_all()
        shared = put(browsers[0], lining_text("Long hall"))
        self.people = [
            self._person(browser, shared, number, seed) for number, browser in enumerate(browsers)
        ]

    def close(self) -> None:
        """All go home."""
        self._leave.close()

    def _person(self, browser: Browser, shared: int, number: int, seed: int) -> Person:
        title = f"Porch {number + 1}"
        own = put(browser, lining_text(title, OWN_JOINTS, OWN_BOARDS, seed=100 + number))
        return Person(
            browser=browser,
            own=JointEditor(browser, own, 1),
            shared=JointEditor(browser, shared, number % (JOINTS - 1) + 1),
            contested=JointEditor(browser, shared, CONTESTED),
            joints=OWN_JOINTS,
            chance=random.Random(1000 * seed + number),  # noqa: S311 - deeds, not secrets
        )

    def open(self) -> float:
        """Everybody begins the day; how long until all have. [s]"""
        start = time.perf_counter()
        self._all(Person.open)
        return time.perf_counter() - start

    def run(self, seconds: float, think: tuple[float, float] | None) -> Ran:
        """Everybody is busy for so long."""
        for person in self.people:
            person.seconds.clear()
        start, before = time.monotonic(), self.server.processor_seconds
        self._all(lambda person: busy(person, start + seconds, think))
        lasted = time.monotonic() - start
        found: defaultdict[str, list[float]] = defaultdict(list)
        for person in self.people:
            for kind, each in person.seconds.items():
                found[kind] += each
        spent = self.server.processor_seconds - before
        return Ran(dict(found), lasted, spent / lasted, [each.kept for each in self.people])

    def _all(self, what: Callable[[Person], None]) -> None:
        with ThreadPoolExecutor(len(self.people)) as pool:
            for done in [pool.submit(what, person) for person in self.people]:
                done.result()


def add_accounts(server: Server, folder: Path, store: str, people: int = PEOPLE) -> None:
    """An account for each: the keeper's by the command line, the others on the keeper's page."""
    words = ["account", "add", account_name(0), "--store", store]
    subprocess.run(
        [*PROGRAM, *words],
        input=f"{PASSWORD}\n",
        text=True,
        check=True,
        cwd=ROOT,
        capture_output=True,
        env={"XDG_DATA_HOME": str(folder / "data")},
    )
    keeper = Browser(server.port)
    keeper.sign_in(account_name(0), PASSWORD)
    for number in range(1, people):
        form = {"name": account_name(number), "password": PASSWORD}
        keeper.post("/accounts/add", form, part=False).told(302)
    keeper.close()


def account_name(number: int) -> str:
    """What a person is called; numbers begin at 0."""
    return f"person {number + 1}"


def lost(store: str, kept: Sequence[Kept]) -> list[str]:
    """What was acknowledged and is not found in the store, in words; the server has to be down."""
    said: Counter[tuple[int, str]] = Counter()
    for person in kept:
        said.update(person.said)
    found = []
    with open_store(store, alias="default") as opened:
        documents = opened.documents
        whats: Counter[tuple[int, str]] = Counter()
        tables = {}
        agreed = {each for person in kept for each in person.agreed}
        for piece in {number for number, _ in (*said, *agreed)}:
            steps = documents.history(piece)
            numbers = [step.number for step in steps]
            if numbers != list(range(len(steps), 0, -1)):
                found.append(f"piece {piece}: its revisions are {numbers}")
            whats.update((piece, step.what) for step in steps)
            tables[piece] = tables_of(documents.sheet(piece).revision.text)
        missing = [*(said - whats), *(agreed - set(whats))]
        found += [f"piece {piece}: {what}" for piece, what in missing]
        for person in kept:
            for (piece, place, group), value in person.last.items():
                if not _has(tables[piece], place, group, value):
                    found.append(f"piece {piece}, {joint_name(place)}: {group} is not {value}")
        ticks = CutsDone("default", store)
        for person in kept:
            for (piece, cut), made in person.ticks.items():
                if (cut in ticks.of(piece)) != made:
                    found.append(f"piece {piece}: the tick of {cut}")
        trials = {trial.id for trial in opened.trials()}
        found += [f"trial {each}" for person in kept for each in person.trials - trials]
    return found


def _has(tables: object, place: int, group: str, value: str) -> bool:
    if not isinstance(tables, dict):
        return False
    written = tables["joint"][place - 1].get(group)
    return bool(written == value if group == "fit" else written == float(value))


def by_kind(ran: Ran) -> str:
    """A row for each kind of request."""
    rows = []
    for kind, seconds in sorted(ran.seconds.items()):
        figures = (statistics.median(seconds), ninety_fifth(seconds), max(seconds))
        rows.append([kind, str(len(seconds)), *(f"{1e3 * each:.0f}" for each in figures)])
    return table(["request", "times", "median [ms]", "95th [ms]", "longest [ms]"], rows)
