"""The virtual workshop: how often a panel of 12 boards fits, by which way of working.

Many shops, each with a pile of 12 boards, are drawn at random (see :mod:`benchmarks.hidden` for
what is hidden in them and what the maker knows). Each panel is cut by the common procedure and
by Faywright's plan, followed literally, and measured. A panel counts where every one of its 11
joints lands in its band. The plan's own chance stands beside what came of it.

Cutting and measuring (:mod:`benchmarks.needle`) share nothing with the plan's own closed forms,
effects and sections.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from benchmarks.common_way import SETTINGS, common_way
from benchmarks.following import follow, landed
from benchmarks.hidden import HIDDEN, MARKED, Errors, Truth, truth_of
from benchmarks.panels import (
    CALIPERS,
    DEPTH_GAUGE,
    HALF,
    JOINT,
    MACHINE,
    QUARTER,
    SLOT,
    boards,
    slot,
    straight,
)
from faywright.joints.solution import Solution
from faywright.joints.task import Instruments, JointTask, joint_task
from faywright.joints.work import work_of
from faywright.setups.choice import Choice, Way, choose
from faywright.setups.setup import Setup
from faywright.setups.sheet import setups_of
from faywright.shop.cutters import Cutter

Floats = NDArray[np.float64]

SEED = 19
PILES = 300
SCATTERS = {"0.002 in. (0.05 mm)": 0.05, "0.005 in. (0.13 mm)": 0.13, "0.010 in. (0.25 mm)": 0.25}
"""Scatter of thickness between the boards of a pile, one standard deviation. [mm]"""

COMMON = "common procedure"
STRAIGHT_ONLY = "plan, straight cutters"
WITH_SLOT = "plan, slot cutter too"
KITS = {STRAIGHT_ONLY: (QUARTER, HALF), WITH_SLOT: (QUARTER, HALF, SLOT)}

PREDICTING_TRIALS = 4000

Progress = Callable[[int, int], None]


@dataclass(frozen=True, kw_only=True, eq=False)
class Planned:
    """A plan of one panel: the solution, its setups, and its chances without and with trials."""

    solution: Solution
    setups: tuple[Setup, ...]
    untested: float
    tested: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """What became of one panel: whether all its joints landed, and what the plan had promised.

    ``predicted`` is not-a-number where there was no plan. ``zero_known`` says that the depth
    gauge's zero error was left out.
    """

    way: str
    scatter: str
    trial: bool
    zero_known: bool
    landed: bool
    predicted: float
    settings: int


def task_of(truth: Truth) -> JointTask:
    """The panel's joint from what the maker measured."""
    pile = boards(list(truth.readings))
    grooved = work_of(pile, JOINT.groove, "softwood", CALIPERS)
    tongued = work_of(pile, JOINT.tongue or JOINT.groove, "softwood", CALIPERS)
    instruments = Instruments(height=DEPTH_GAUGE, fence=DEPTH_GAUGE, calipers=CALIPERS)
    return joint_task(JOINT, grooved, tongued, machine=MACHINE, instruments=instruments)


def cutters_of(truth: Truth, kit: Iterable[str]) -> list[Cutter]:
    """Cutters as the maker measured them."""
    made: list[Cutter] = []
    for mark in kit:
        make = slot if mark == SLOT else straight
        made.append(make(mark, MARKED[mark], truth.measured[mark]))
    return made


def planned(choice: Choice, kit: Sequence[str], *, seed: int) -> Planned:
    """What a choice among ``kit`` alone would take: its best way whose setups are all safe.

    Ways are solved each by itself, so a choice among more cutters holds them all already.
    """
    ways = [way for way in choice.ways if _needs(way) <= set(kit)]
    best = max((way.chance for way in ways), default=0.0)
    for way in sorted(ways, key=lambda way: way.rank(best)):
        setups = setups_of(way.solution, MACHINE)
        if any(hazard.severity == "never" for setup in setups for hazard in setup.hazards):
            continue
        untested, tested = way.solution.sampled(trials=PREDICTING_TRIALS, seed=seed)
        return Planned(
            solution=way.solution,
            setups=setups,
            untested=untested.all_fit,
            tested=tested.all_fit,
        )
    raise ValueError(f"no safe way with {', '.join(kit)}")


def _needs(way: Way) -> set[str]:
    return {cutter.mark for cutter in (*way.groove.cutters, *way.tongue.cutters)}


def panels(
    *, piles: int, seed: int = SEED, errors: Errors = HIDDEN, progress: Progress | None = None
) -> list[Panel]:
    """Every panel cut every way."""
    found: list[Panel] = []
    for number, (name, scatter) in enumerate(SCATTERS.items()):
        for pile in range(piles):
            if progress is not None:
                progress(number * piles + pile, piles * len(SCATTERS))
            key = (seed, number, pile)
            found += _panels(truth_of(errors, scatter, key), name, key)
    return found


def _panels(truth: Truth, scatter: str, key: tuple[int, ...]) -> Iterable[Panel]:
    """One pile cut every way; with each way its own draws, so that none depends on another."""
    for trial in (False, True):
        clearance = common_way(truth, np.random.default_rng((*key, 1, trial)), trial=trial)
        yield _panel(COMMON, scatter, clearance, trial=trial, settings=SETTINGS)
    choice = choose(task_of(truth), cutters_of(truth, MARKED))
    for number, (way, kit) in enumerate(KITS.items(), 2):
        plan = planned(choice, kit, seed=key[-1])
        for trial, zero_known in product((False, True), repeat=2):
            generator = np.random.default_rng((*key, number, trial, zero_known))
            real = replace(truth, gauge_zero=0.0) if zero_known else truth
            yield _panel(
                way,
                scatter,
                follow(plan.solution, plan.setups, real, generator, trial=trial),
                trial=trial,
                settings=sum(setup.final for setup in plan.setups),
                zero_known=zero_known,
                predicted=plan.tested if trial else plan.untested,
            )


def _panel(
    way: str,
    scatter: str,
    clearance: Floats,
    *,
    trial: bool,
    settings: int,
    zero_known: bool = False,
    predicted: float = math.nan,
) -> Panel:
    return Panel(
        way=way,
        scatter=scatter,
        trial=trial,
        zero_known=zero_known,
        landed=bool(landed(clearance, JOINT.fit).all()),
        predicted=predicted,
        settings=settings,
    )
