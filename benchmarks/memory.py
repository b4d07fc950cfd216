"""What the shop's memory costs.

- One trial taken in and its advice worked out, beside numpy solving the same equations and no more.
- The first plan of a process with a store of 10,000 trials, beside the same plan without a store.
"""

from __future__ import annotations

import statistics
import sys
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from benchmarks.measuring import alone, beside
from benchmarks.one_plan import DEMO
from benchmarks.promise import Result
from faywright.app.bench import informed_plan
from faywright.app.opening import open_store
from faywright.app.records import Contents, KeptTrial, TrialRecord
from faywright.app.trial_cut import Measured, tried
from faywright.app.trial_records import record_of
from faywright.piece.opened import open_documents
from faywright.piece.words import MILLIMETRES, writer

TRIALS = 10_000
UPDATE_MILLISECONDS, TIMES_WITHOUT = 5.0, 1.1
READ = Measured(
    joint="back",
    readings={"tongue thickness": (5.95, 5.96, 5.95), "groove width": (6.30, 6.31, 6.30)},
    thickness=(18.95, 18.96, 18.94),
)


def update(repeats: int) -> Result:
    """A trial of the demo's back: readings in, slips looked for, correction out."""
    documents = open_documents(DEMO)
    with TemporaryDirectory(prefix="faywright-") as name:
        informed = informed_plan(
            documents.piece, documents.shop, str(Path(name) / "store.db"), today=_today()
        )
    write = writer(MILLIMETRES)
    outcome = tried(informed.plan, informed.known, READ, write)
    rows = np.array([outcome.before.weights(each.row) for each in outcome.observations])
    prior = outcome.before.covariance
    noise = np.diag([each.uncertainty**2 for each in outcome.observations])

    def peer() -> None:
        np.linalg.solve(rows @ prior @ rows.T + noise, rows @ prior)

    seconds, ratio = beside(
        lambda: tried(informed.plan, informed.known, READ, write), peer, repeats
    )
    return Result(
        what="a trial taken in, and its advice",
        measured=f"{1e3 * seconds:.2f} ms",
        promise=f"<= {UPDATE_MILLISECONDS:g} ms",
        kept=1e3 * seconds <= UPDATE_MILLISECONDS,
        peer="numpy, the equations of the update solved once",
        ratio=ratio,
    )


PLANNING = """
import sys, time
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from faywright.app.bench import informed_plan
from faywright.piece.opened import open_documents
start = time.perf_counter()
documents = open_documents(Path(sys.argv[1]))
informed_plan(documents.piece, documents.shop, sys.argv[2], today=datetime.now(UTC).date())
print(time.perf_counter() - start)
"""


def remembered(repeats: int, trials: int = TRIALS) -> Result:
    """The demo planned with all that so many trials have taught."""
    with TemporaryDirectory(prefix="faywright-") as name:
        full, none = Path(name) / "full.db", Path(name) / "none.db"
        fill(full, trials)
        with open_store(none):
            pass  # as a shop has it before its first trial
        pairs = [(_planned(full), _planned(none)) for _ in range(repeats)]
    ratio = statistics.median(a / b for a, b in pairs)
    return Result(
        what=f"a first plan with {trials:,} trials remembered",
        measured=f"{statistics.median(a for a, _ in pairs):.2f} s",
        promise=f"<= {TIMES_WITHOUT:g} x",
        kept=ratio <= TIMES_WITHOUT,
        peer="the same plan with an empty memory",
        ratio=ratio,
    )


def fill(path: Path, trials: int) -> None:
    """Store the same trial so many times, an hour apart."""
    documents = open_documents(DEMO)
    informed = informed_plan(documents.piece, documents.shop, str(path), today=_today())
    outcome = tried(informed.plan, informed.known, READ, writer(MILLIMETRES))
    start = datetime.now(UTC) - timedelta(hours=trials)
    record: TrialRecord = record_of(outcome, informed.known, informed.plan, start)
    kept = []
    for number in range(trials):
        at = start + timedelta(hours=number)
        kept.append(KeptTrial(number + 1, replace(record, at=at)))
    with open_store(path) as store:
        store.add_contents(Contents(trials=tuple(kept)))


def _planned(store: Path) -> float:
    """Seconds to read and plan the demo with a store, in a process of its own."""
    return float(alone([sys.executable, "-c", PLANNING, str(DEMO), str(store)]).printed)


def _today() -> date:
    return datetime.now(UTC).date()
