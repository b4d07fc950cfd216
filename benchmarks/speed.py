"""Speed beside named peers, measured in the same run; every promise is checked and said out.

- The kernel beside plain shapely taking the same two differences, board by board.
- Sampling beside plain numpy drawing the same random numbers with the same generator.
- The demo's plan beside the kernel cutting the passes of that plan and nothing else.
- ``faywright --help`` beside a Python that starts and does nothing.
- Planning large panels beside planning small ones.
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapely
from numpy.typing import NDArray

from benchmarks.measuring import Cost, alone, beside, median_alone
from benchmarks.one_plan import DEMO, large_panel
from benchmarks.promise import Result
from benchmarks.tables import table
from faywright.fit.chance import CHUNK, Effect, sampled
from faywright.joints.solution import Solution
from faywright.piece.opened import open_documents
from faywright.piece.plan import Plan, plan
from faywright.section import Pass, Posture, cut_boards, straight_profile

Floats = NDArray[np.float64]

KERNEL_BOARDS, SAMPLED_TRIALS = 10_000, 300_000
LARGE = (10, 100, 1_000, 10_000)
QUICK_LARGE = (10, 100, 1_000)
REPEATS = 7

BOARDS_A_SECOND, SAMPLES_A_SECOND, TIMES_DRAWING = 10_000, 1_000_000, 2.0
PLAN_SECONDS, HELP_SECONDS, HELP_MEGABYTES = 0.3, 0.3, 60.0
LARGE_MEGABYTES, GROWTH = 500.0, 1.15
"""Growth of the time a board counts as such when it is above this; less is noise."""


def kernel(repeats: int = REPEATS, count: int = KERNEL_BOARDS) -> list[Result]:
    """Two-pass boards: a tongue cut from both faces on boards of different thickness."""
    thickness = np.random.default_rng(1).uniform(18, 20, count)
    width = np.full(count, 120.0)
    profile = straight_profile(6.35, 25.0, 6.35)
    axis = 9.5 - 6.35
    passes = [Pass(profile, 6.5, axis, posture) for posture in (Posture.FLAT_A, Posture.FLAT_B)]

    def peer() -> None:
        for thick in thickness.tolist():
            body: shapely.Geometry = shapely.box(0, 0, thick, 120.0)
            for run in passes:
                outline = run.posture.to_joint(run.silhouette, thick)
                body = shapely.difference(body, shapely.Polygon(outline))

    ours, ratio = beside(lambda: cut_boards(thickness, width, passes), peer, repeats)
    rate = count / ours
    return [
        Result(
            what="kernel, two-pass boards a second",
            measured=f"{rate:,.0f}",
            promise=f">= {BOARDS_A_SECOND:,}",
            kept=rate >= BOARDS_A_SECOND,
            peer="shapely, two differences in a loop",
            ratio=ratio,
        )
    ]


def sampling(repeats: int = REPEATS, trials: int = SAMPLED_TRIALS) -> list[Result]:
    """A panel of 12 boards in groups, with the errors of its real solution."""
    solution = _grouped_panel()
    joints = len(solution.first)
    boards = joints + 1

    def draw() -> None:
        _draw(solution.effects, joints, trials)

    found = []
    for name, keep in (("chances alone", False), ("with the middle 95 %", True)):
        sample = partial(
            sampled, solution.clearance, solution.band, solution.effects, trials=trials, keep=keep
        )
        ours, ratio = beside(sample, draw, 3 * repeats)
        rate = boards * trials / ours
        found.append(
            Result(
                what=f"sampling, boards a second, {name}",
                measured=f"{rate:,.0f}",
                promise=f">= {SAMPLES_A_SECOND:,}, <= {TIMES_DRAWING:g} times the peer",
                kept=rate >= SAMPLES_A_SECOND and ratio <= TIMES_DRAWING,
                peer="numpy, the same draws with SFC64",
                ratio=ratio,
            )
        )
    return found


def _grouped_panel() -> Solution:
    documents = large_panel(12)
    return plan(documents.piece, documents.shop).joints[0].solution


def _draw(effects: Sequence[Effect], gaps: int, trials: int) -> None:
    """Nothing but the random numbers, in fresh arrays of the same size."""
    generator = np.random.Generator(np.random.SFC64(1))
    rows = CHUNK // max([gaps, *(effect.count for effect in effects)])
    for done in range(0, trials, rows):
        now = min(rows, trials - done)
        for effect in effects:
            if effect.spread.shape == "normal":
                generator.standard_normal((now, effect.count))
            else:
                generator.random((now, effect.count))


def demo(repeats: int = REPEATS) -> list[Result]:
    """The demo's plan once its imports are done: the first in a process, and those after it."""
    documents = open_documents(DEMO)
    made = plan(documents.piece, documents.shop)
    again, ratio = beside(
        lambda: plan(documents.piece, documents.shop), lambda: _cut_all(made), repeats
    )
    first = statistics.median(_planning("demo")[0] for _ in range(repeats))
    return [
        Result(
            what=f"plan of the demo, {name}",
            measured=f"{seconds:.3f} s",
            promise=f"<= {PLAN_SECONDS:g} s",
            kept=seconds <= PLAN_SECONDS,
            peer="the kernel cutting that plan's passes",
            ratio=ratio * seconds / again,
        )
        for name, seconds in (("first in a process", first), ("once warm", again))
    ]


def _cut_all(made: Plan) -> None:
    for joint in made.joints:
        solution = joint.solution
        for method, work, groups in (
            (solution.groove, solution.task.grooved, solution.groove_groups),
            (solution.tongue, solution.task.tongued, solution.tongue_groups),
        ):
            for group in groups:
                across = work.across[group.members]
                stations = method.stations(group.settings, float(across.max()), work.timber)
                passes = [run for station in stations for run in station.passes()]
                cut_boards(across, work.deep[group.members], passes)


def help_page(repeats: int = REPEATS) -> list[Result]:
    """``faywright --help`` from start to end."""
    ours = median_alone([str(Path(sys.executable).with_name("faywright")), "--help"], repeats)
    theirs = median_alone([sys.executable, "-c", "pass"], repeats)
    peer = "python -c pass"
    return [
        Result(
            what="faywright --help, time",
            measured=f"{ours.seconds:.3f} s",
            promise=f"<= {HELP_SECONDS:g} s",
            kept=ours.seconds <= HELP_SECONDS,
            peer=peer,
            ratio=ours.seconds / theirs.seconds,
        ),
        Result(
            what="faywright --help, memory",
            measured=f"{ours.megabytes:.0f} MB",
            promise=f"<= {HELP_MEGABYTES:g} MB",
            kept=ours.megabytes <= HELP_MEGABYTES,
            peer=peer,
            ratio=ours.megabytes / theirs.megabytes,
        ),
    ]


def _planning(asked: str) -> tuple[float, Cost]:
    cost = alone([sys.executable, "-m", "benchmarks.one_plan", asked])
    return float(cost.printed), cost


@dataclass(frozen=True, slots=True)
class Large:
    """Planning one panel of ``boards``: time [s] and greatest memory in use [MB]."""

    boards: int
    seconds: float
    megabytes: float

    @property
    def each(self) -> float:
        """Time a board. [s]"""
        return self.seconds / self.boards


def large_panels(sizes: Sequence[int] = LARGE) -> list[Large]:
    """Panels from small to large, each planned in a process of its own."""
    found = []
    for size in sizes:
        runs = [_planning(str(size)) for _ in range(3 if size <= 1_000 else 1)]
        found.append(
            Large(
                size,
                statistics.median(seconds for seconds, _ in runs),
                statistics.median(cost.megabytes for _, cost in runs),
            )
        )
    return found


def large_report(found: Sequence[Large]) -> str:
    """Time a board and memory, and whether they keep what is promised."""
    rows = []
    for before, large in zip([None, *found], found, strict=False):
        growth = "" if before is None else f"{large.each / before.each:.2f}"
        rows.append(
            [
                f"{large.boards:,} boards",
                f"{large.seconds:.2f} s",
                f"{1000 * large.each:.2f} ms",
                growth,
                f"{large.megabytes:.0f} MB",
            ]
        )
    steps = pairwise(found)
    faster = [
        f"from {a.boards:,} to {b.boards:,} boards" for a, b in steps if b.each > GROWTH * a.each
    ]
    text = table(["one panel", "planned in", "a board", "times the row above", "memory"], rows)
    linear = f"NOT KEPT {', '.join(faster)}" if faster else "kept"
    within = "kept" if found[-1].megabytes < LARGE_MEGABYTES else "NOT KEPT"
    return (
        f"{text}\n\nNo faster than linear growth: {linear}\n"
        f"Below {LARGE_MEGABYTES:g} MB for {found[-1].boards:,} boards: {within}"
    )
