"""Moisture, movement and species beside numpy and the standard library.

- A year of hourly air to moisture and width, beside numpy evaluating one polynomial of as many
  terms on the same numbers.
- Looking a species up by name, beside difflib finding one name among those there are.
- A plan whose piece has a climate beside the same plan without, and what loading adds.
"""

from __future__ import annotations

import difflib
import re
import statistics
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from benchmarks.measuring import alone, beside
from benchmarks.one_plan import DEMO
from benchmarks.promise import Result
from faywright.timber.figures import shrinkage_of
from faywright.timber.finding import find_species
from faywright.timber.moisture import equilibrium_moisture
from faywright.timber.movement import across_width
from faywright.timber.species_table import species_table

HOURS = 8_760
YEAR_MILLISECONDS, LOOK_UP_MILLISECONDS, LOADING_MILLISECONDS = 20.0, 1.0, 30.0
ASKED = ("white oak", "Tilia americana", "european redwood", "black walnut", "sitka spruce")


def year(repeats: int) -> Result:
    """8,760 hours of air, to the moisture of the wood and the width of a board."""
    hours = np.arange(HOURS)
    temperature = 20 + 4 * np.sin(hours / HOURS * 2 * np.pi)
    humidity = 50 + 20 * np.sin(hours / 24)
    board = across_width(shrinkage_of(find_species("white oak")), "flat")
    terms = np.linspace(0.1, 1.0, 20)

    def ours() -> None:
        board.size(120.0, 9.0, equilibrium_moisture(temperature, humidity))

    seconds, ratio = beside(ours, lambda: np.polyval(terms, humidity / 100), repeats)
    return _result(
        "a year of hourly air to moisture and width",
        seconds,
        YEAR_MILLISECONDS,
        "numpy, a polynomial of 20 terms on as many numbers",
        ratio,
    )


def look_up(repeats: int) -> Result:
    """Species by common, botanical and loose names, once the table is loaded."""
    names = [name.lower() for name in species_table()]
    turns = 20

    def ours() -> None:
        for _ in range(turns):
            for name in ASKED:
                find_species(name)

    def theirs() -> None:
        for _ in range(turns):
            for name in ASKED:
                difflib.get_close_matches(name, names, n=1)

    seconds, ratio = beside(ours, theirs, repeats)
    each = seconds / turns / len(ASKED)
    peer = "difflib, the nearest of as many names"
    return _result("a species by its name", each, LOOK_UP_MILLISECONDS, peer, ratio)


PLANNING = """
import sys, time
from pathlib import Path
from faywright.piece.opened import open_documents
from faywright.piece.plan import plan
start = time.perf_counter()
documents = open_documents(Path(sys.argv[1]))
plan(documents.piece, documents.shop)
print(time.perf_counter() - start)
"""


def loading(repeats: int) -> Result:
    """The demo with its climate, and without: the first plan a process makes, tables and all."""
    with TemporaryDirectory(prefix="faywright-") as name:
        still = Path(name) / "piece.toml"
        for file in DEMO.parent.glob("*"):
            (Path(name) / file.name).write_bytes(file.read_bytes())
        text = DEMO.read_text(encoding="utf-8")
        still.write_text(without_climate(text), encoding="utf-8")
        pairs = [(_planned(DEMO), _planned(still)) for _ in range(repeats)]
    more = statistics.median(moving - calm for moving, calm in pairs)
    ratio = statistics.median(moving / calm for moving, calm in pairs)
    peer = "the same piece without a climate"
    what = "a first plan with a climate, more than without"
    return _result(what, more, LOADING_MILLISECONDS, peer, ratio)


def without_climate(text: str) -> str:
    """A piece file without what needs a climate."""
    for table in ("[climate]", "[[panel]]", "[[framed]]", "[[drawer]]"):
        text = re.sub(rf"^{re.escape(table)}\n(?:(?!\[).*\n?)*", "", text, flags=re.MULTILINE)
    return text


def _planned(piece: Path) -> float:
    """Seconds to read and plan a piece, in a process of its own."""
    cost = alone([sys.executable, "-c", PLANNING, str(piece)])
    return float(cost.printed)


def _result(what: str, seconds: float, limit: float, peer: str, ratio: float) -> Result:
    taken = 1e3 * seconds
    return Result(
        what=what,
        measured=f"{taken:.3g} ms",
        promise=f"<= {limit:g} ms",
        kept=taken <= limit,
        peer=peer,
        ratio=ratio,
    )
