"""The pages, measured against a server as a maker starts it.

- An edit of a large piece, to the new drawing on the page; beside a bare view of Django's.
- First visits: bytes over the wire, and when a page can be used, on a slow tablet.
- Thirty people at once, on a file and on PostgreSQL; nothing that was acknowledged may be lost.
- Memory after all that, after a day of other pieces, and over 10,000 requests.
"""

from __future__ import annotations

import os
import statistics
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from benchmarks.promise import Result, report
from benchmarks.web_client import Answer, Browser
from benchmarks.web_crowd import (
    SECONDS,
    THINK,
    Crowd,
    Ran,
    add_accounts,
    by_kind,
    lost,
    ninety_fifth,
)
from benchmarks.web_edits import JointEditor
from benchmarks.web_long import PIECES, REQUESTS, planned, requested
from benchmarks.web_pages import median_visit, tablet
from benchmarks.web_pieces import JOINTS, lining_text, put
from benchmarks.web_postgres import postgres
from benchmarks.web_server import Server, bare, serving

EDITS, VISITS, PEOPLE = 240, 5, 30
QUICK_EDITS, QUICK_VISITS, QUICK_PEOPLE, QUICK_SECONDS, QUICK_REQUESTS = 24, 1, 6, 6.0, 300
QUICK_PIECES = 3

MEDIAN, NINETY_FIFTH = 0.050, 0.100
"""To the new drawing after an edit. [s]"""

CROWDED = 0.300
"""What 95 of 100 requests of thirty people may take. [s]"""

BYTES, USABLE, MEGABYTES = 150_000, 1.0, 250.0
GROWTH = 1.05
"""How much more memory may be in use after as many requests again."""

BARE = "Django, a bare view behind the same HTTP server"
DJANGO = f"{BARE}, its median"
FORM = {"group": "groove_depth", "groove_depth": "8.1", "was:groove_depth": "8", "base": "1"}


@dataclass(frozen=True)
class Size:
    """How much is measured."""

    edits: int = EDITS
    visits: int = VISITS
    people: int = PEOPLE
    seconds: float = SECONDS
    requests: int = REQUESTS
    pieces: int = PIECES


QUICK = Size(QUICK_EDITS, QUICK_VISITS, QUICK_PEOPLE, QUICK_SECONDS, QUICK_REQUESTS, QUICK_PIECES)


def reports(size: Size) -> Iterator[str]:
    """All tables, one by one."""
    yield load()
    with TemporaryDirectory(prefix="faywright-") as name:
        folder = Path(name)
        with _server(folder) as server, bare(folder) as peer:
            browser = Browser(server.port)
            browser.begin()
            yield report([*edits(server, browser, peer, size.edits)])
            yield report([*visits(server, peer, size.visits)])
            yield report([*memory(server, browser, size)])
            browser.close()
    yield from crowds(size)
    yield load()


def load() -> str:
    """What else the machine does, for whoever reads the figures."""
    return "load average " + ", ".join(f"{each:.1f}" for each in os.getloadavg())


@contextmanager
def _server(folder: Path) -> Iterator[Server]:
    with serving(folder, str(folder / "shop.sqlite3")) as server:
        yield server


def edits(server: Server, browser: Browser, peer: Server, times: int) -> Iterator[Result]:
    """Joints of a large piece, edited by turns in all their fields, beside the peer's answers."""
    piece = put(browser, lining_text("Long hall"))
    editors = [JointEditor(browser, piece, place) for place in range(1, JOINTS + 1, 8)]
    for editor in editors:
        editor.open()
    other = Browser(peer.port)
    looks, kept, bare_ones = Times(), Times(), Times()
    for turn in range(times):
        editor = editors[turn % len(editors)]
        group, value = editor.next(turn)
        bare_ones.add(peer, lambda: other.post("/", FORM).told(200))
        if group != "fit":
            looks.add(server, partial(editor.preview, group, value))
        kept.add(server, partial(editor.kept, group, value))
        for each in editors:
            each.base = editor.base
        editor.thoroughly()  # as the page does by itself, for the next edit to begin from
    other.close()
    yield from _within("look while typing", looks, bare_ones)
    yield from _within("edit kept and drawn", kept, bare_ones)


@dataclass
class Times:
    """How long answers took, and the processors' time that the server spent on them. [s]"""

    seconds: list[float] = field(default_factory=list)
    processor: float = 0.0

    def add(self, server: Server, ask: Callable[[], Answer]) -> None:
        """One more."""
        before = server.processor_seconds
        self.seconds.append(ask().seconds)
        self.processor += server.processor_seconds - before

    @property
    def mean_processor(self) -> float:
        """Of one answer; no less than the clock can tell. [s]"""
        return max(self.processor, 0.01) / len(self.seconds)


def _within(what: str, times: Times, bare_ones: Times) -> Iterator[Result]:
    seconds, beside = times.seconds, statistics.median(bare_ones.seconds)
    yield Result(
        what=f"{what}: processor time, mean",
        measured=f"{1e3 * times.mean_processor:.0f} ms",
        promise="",
        kept=None,
        peer=BARE,
        ratio=times.mean_processor / bare_ones.mean_processor,
    )
    figures = (
        ("median", statistics.median(seconds), MEDIAN),
        ("95th percentile", ninety_fifth(seconds), NINETY_FIFTH),
    )
    for name, found, most in figures:
        yield Result(
            what=f"{what}, 40 joints: {name} of {len(seconds)}",
            measured=f"{1e3 * found:.0f} ms",
            promise=f"<= {1e3 * most:.0f} ms",
            kept=found <= most,
            peer=DJANGO,
            ratio=found / beside,
        )


def visits(server: Server, peer: Server, times: int) -> Iterator[Result]:
    """Pages on the slow tablet; nothing where there is no browser."""
    pages = {
        "first page": "/",
        "piece": "/pieces/2",
        "joint": "/pieces/2/joints/1",
        "setups": "/pieces/2/setups",
    }
    with tablet() as browser:
        if browser is None:
            return
        plain = median_visit(browser, f"http://127.0.0.1:{peer.port}/", times)
        for what, path in pages.items():
            found = median_visit(browser, f"http://127.0.0.1:{server.port}{path}", times)
            yield Result(
                what=f"{what}, {found.files} files",
                measured=f"{found.bytes / 1e3:.0f} kB",
                promise=f"<= {BYTES / 1e3:.0f} kB",
                kept=found.bytes <= BYTES,
                peer=BARE,
                ratio=found.bytes / plain.bytes,
            )
            yield Result(
                what=f"{what}, usable",
                measured=f"{found.usable:.2f} s",
                promise=f"<= {USABLE:g} s",
                kept=found.usable <= USABLE,
                peer=BARE,
                ratio=found.usable / plain.usable,
            )


def memory(server: Server, browser: Browser, size: Size) -> Iterator[Result]:
    """After other pieces, and over many requests, beside the server as it was before."""
    grown = planned(server, browser, size.pieces)
    yield _memory(f"memory after {size.pieces} other pieces", grown.after, grown.before)
    pages = ("/", "/pieces/2", "/pieces/2/joints/1", "/pieces/2/joints/1/row", "/shop/1")
    found = requested(server, browser, pages, size.requests)
    ratio = found.after / found.middle
    yield Result(
        what=f"memory over {size.requests:,} requests",
        measured=f"{found.middle:.0f}, then {found.after:.0f} MB",
        promise=f"<= {GROWTH:g} x",
        kept=ratio <= GROWTH,
        peer="itself, after half of them",
        ratio=ratio,
    )


def _memory(what: str, megabytes: float, before: float) -> Result:
    return Result(
        what=what,
        measured=f"{megabytes:.0f} MB",
        promise=f"<= {MEGABYTES:.0f} MB",
        kept=megabytes <= MEGABYTES,
        peer="itself before",
        ratio=megabytes / before,
    )


def crowds(size: Size) -> Iterator[str]:
    """Many at once, on a file and on a server."""
    with TemporaryDirectory(prefix="faywright-") as name:
        yield from _crowd("a file", str(Path(name) / "shop.sqlite3"), size)
    with postgres() as address:
        if address is not None:
            yield from _crowd("PostgreSQL", address, size)


def _crowd(where: str, store: str, size: Size) -> Iterator[str]:
    names = store.startswith("postgresql")
    with TemporaryDirectory(prefix="faywright-") as name, ExitStack() as stack:
        folder = Path(name)
        kept = []
        with serving(folder, store) as server:
            before = server.megabytes
            if names:
                add_accounts(server, folder, store, size.people)
            crowd = Crowd(server, size.people, names=names)
            stack.callback(crowd.close)
            opened = crowd.open()
            yield f"{size.people} people on {where}; the first look at all took {opened:.0f} s"
            for think in (THINK, None):
                ran = crowd.run(size.seconds, think)
                beside = _alone(folder, size)
                yield by_kind(ran)
                yield report([_crowded(where, ran, beside, think=think is not None)])
                kept = ran.kept
            yield report([_memory(f"memory after {where}", server.megabytes, before)])
        missing = lost(store, kept)
        said = sum(each.changes for each in kept)
        yield f"{said} changes acknowledged on {where}, {len(missing)} lost {missing[:5] or ''}"


def _alone(folder: Path, size: Size) -> float:
    """The 95th percentile of the bare view, with nobody else there. [s]"""
    with bare(folder) as peer:
        other = Browser(peer.port)
        found = [other.post("/", FORM).told(200).seconds for _ in range(20 * size.people)]
        other.close()
    return ninety_fifth(found)


def _crowded(where: str, ran: Ran, beside: float, *, think: bool) -> Result:
    found = ninety_fifth(ran.all)
    how = "thinking 1 to 3 s" if think else "without a thought"
    return Result(
        what=f"{len(ran.kept)} people on {where}, {how}: 95th percentile",
        measured=f"{1e3 * found:.0f} ms, median {1e3 * statistics.median(ran.all):.0f}, "
        f"{len(ran.all) / ran.lasted:.0f} requests/s, {ran.processor:.2f} of a core",
        promise=f"<= {1e3 * CROWDED:.0f} ms" if think else "",
        kept=found <= CROWDED if think else None,
        peer=f"{BARE}, one at a time",
        ratio=found / beside,
    )
