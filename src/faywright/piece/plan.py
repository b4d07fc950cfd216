"""The plan: the whole chain from documents to setups, for every joint of a piece."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count
from typing import TypedDict

import numpy as np

from faywright.errors import InfeasibleError
from faywright.fit.chance import Budget, Chance, sampled
from faywright.joints.gaps import (
    BOTTOM,
    CHEEK_A,
    CHEEK_B,
    Simulated,
    formula_gaps,
    gap_forms,
    simulate,
)
from faywright.joints.method import Method
from faywright.joints.seasonal import READABLE, Seasonal, seasonal
from faywright.joints.solution import Solution, effects_on
from faywright.joints.task import Instruments, JointTask, both_edges, joint_task, strips_for
from faywright.joints.wanted import Place, WantedJoint
from faywright.joints.work import Work, work_of
from faywright.piece.climate_table import PieceClimate
from faywright.piece.learned import Lesson
from faywright.piece.model import Piece
from faywright.piece.moving import moving_of
from faywright.piece.panels import (
    DrawerPlan,
    FramedPlan,
    RowPlan,
    drawer_plan,
    framed_plan,
    row_plan,
)
from faywright.piece.strengths import ShelfStrength, Strength, shelf_strength, strength_of
from faywright.setups.choice import Choice, Recipe, Refused, Way, choose, millimetres
from faywright.setups.hazards import CAUTIONS, Caution
from faywright.setups.setup import Setup
from faywright.setups.sheet import setups_of
from faywright.shop.inventory import Shop
from faywright.shop.machines import Machine
from faywright.timber.species import Species

MOST_TRIALS, LEAST_TRIALS = 20_000, 1_000
QUICK_TRIALS = 4_000
"""Trials of a quick answer: its chances are sure to within 1 % or so."""

MOST_DRAWS = 4_000_000
"""Joints times trials sampled at most, beyond ``LEAST_TRIALS``: large piles get fewer trials."""

GAP_TRIALS = 4_000
"""Trials for the spread of each named gap."""

OPEN = 1e3
"""A gap wider than any. [mm]"""

ALLOWED_STEP = 0.1
"""Faces A that stand off by less than this count as flush. [mm] Common practice, no source."""

SURE = 0.9
"""Chance from which a joint is said to fit; below it is doubtful."""

Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Whether a board's joints fit: the least chance of them, and what is wrong. [mm]

    ``over`` is by how much the board is too thick (below 0: too thin) for its setting; 0 where
    it is within, or where its thickness does not matter.
    """

    mark: str
    verdict: str
    chance: float
    over: float
    spread: float


@dataclass(frozen=True, kw_only=True, eq=False)
class JointPlan:
    """Everything about one joint: the choice and why, gaps, chances, boards and setups.

    ``gaps`` has the spread of every named gap; ``seasonal`` what becomes of them with moisture,
    None without a climate.
    ``mark`` stands for what the plan rests on, where it is kept.
    ``untested`` and ``tested`` are the chances at the printed settings, and after one trial cut
    at each of them is measured and corrected.
    """

    wanted: WantedJoint
    task: JointTask
    choice: Choice
    solution: Solution
    simulated: Simulated
    seasonal: Seasonal | None
    strength: Strength | None
    untested: Chance
    tested: Chance
    budget: Budget
    gaps: Mapping[str, Chance]
    verdicts: tuple[Verdict, ...]
    setups: tuple[Setup, ...]
    mark: bytes = b""

    @property
    def stand_offs(self) -> tuple[tuple[str, str, float], ...]:
        """Boards whose faces A cannot be brought flush, and by how much they stand off. [mm]"""
        if self.task.strip or self.task.offset_faces:
            return ()
        gaps = self.simulated.gaps
        least = np.minimum(gaps[CHEEK_A], gaps[CHEEK_B])
        return tuple(
            (
                self.task.grooved.marks[self.solution.first[joint]],
                self.task.tongued.marks[self.solution.second[joint]],
                float(-least[joint]),
            )
            for joint in np.flatnonzero(least < -ALLOWED_STEP)
        )

    @property
    def settled(self) -> bool:
        """Whether nothing is left to decide before cutting."""
        fits = all(verdict.verdict == "fits" for verdict in self.verdicts)
        holds = self.strength is None or self.strength.holds
        lasts = self.seasonal is None or not any(self.seasonal.faults(self.task))
        return fits and holds and lasts and not self.stand_offs and self.tested.all_fit >= SURE

    @property
    def indifferent(self) -> Way | None:
        """The best way whose fit owes nothing to thickness; None if chosen, or there is none."""
        if not (self.solution.groove.follows or self.solution.tongue.follows):
            return None
        for way in self.choice.ways:
            if not (way.groove.follows or way.tongue.follows):
                return way
        return None


@dataclass(frozen=True, kw_only=True, eq=False)
class Plan:
    """The plan of a piece: joints in the order of work, with setups numbered through."""

    piece: Piece
    shop: Shop
    machine: Machine
    joints: tuple[JointPlan, ...]
    cautions: tuple[Caution, ...]
    seed: int
    shelves: tuple[ShelfStrength, ...] = ()
    rows: tuple[RowPlan, ...] = ()
    framed: tuple[FramedPlan, ...] = ()
    drawers: tuple[DrawerPlan, ...] = ()
    learned: tuple[Lesson, ...] = ()

    def row_of(self, joint: JointPlan) -> RowPlan | None:
        """The panel that the boards of a joint are ripped for, if they are."""
        return next((row for row in self.rows if row.joint == joint.wanted.name), None)

    @property
    def settled(self) -> bool:
        """Whether nothing is left to decide before cutting."""
        filled = all(row.settled for row in self.rows)
        hold = all(shelf.holds for shelf in self.shelves)
        return all(joint.settled for joint in self.joints) and filled and hold

    @property
    def setups(self) -> tuple[Setup, ...]:
        """All setups in order of work."""
        return tuple(setup for joint in self.joints for setup in joint.setups)


def plan(piece: Piece, shop: Shop, *, seed: int = 1, progress: Progress | None = None) -> Plan:
    """Plan every joint of a piece with what the shop has, on its first machine.

    ``progress`` is called with what is being done, how many joints are done, and how many there
    are. Joints across the grain come first, so that what tears out is cut away later.

    Raises
    ------
    InfeasibleError
        A joint cannot be made safely with what is on hand.
    InputError
        The documents do not go together.
    DisagreementError
        Formula and simulated cut differ: an error of ours.
    """
    tasks = tasks_of(piece, shop)
    done: list[JointPlan] = []
    for number, task in enumerate(tasks):
        if progress is not None:
            progress(task.wanted.name, number, len(tasks))
        done.append(joint_plan(task, shop, piece.climate, seed=seed))
    return assembled(piece, shop, done, seed=seed)


def tasks_of(piece: Piece, shop: Shop) -> tuple[JointTask, ...]:
    """What is to be planned for each joint, in the order of work.

    Raises
    ------
    InputError
        The documents do not go together.
    """
    tasks = [task_of(piece, shop, wanted) for wanted in piece.joints]
    return tuple(
        sorted(tasks, key=lambda task: not (task.grooved.end_grain or task.tongued.end_grain))
    )


def assembled(piece: Piece, shop: Shop, joints: Sequence[JointPlan], *, seed: int = 1) -> Plan:
    """The plan of joints that are planned one by one, their setups numbered through.

    ``joints`` are those of ``tasks_of``, in its order.
    """
    numbers = count(1)
    numbered = tuple(
        replace(
            joint,
            setups=tuple(replace(setup, number=next(numbers)) for setup in joint.setups),
        )
        for joint in joints
    )
    return Plan(
        piece=piece,
        shop=shop,
        machine=shop.machines[0],
        joints=numbered,
        cautions=CAUTIONS,
        shelves=tuple(
            shelf_strength(shelf, piece.climate, shop.species) for shelf in piece.shelves
        ),
        **_panels(piece, joints, shop.species),
        seed=seed,
    )


class _Panels(TypedDict):
    rows: tuple[RowPlan, ...]
    framed: tuple[FramedPlan, ...]
    drawers: tuple[DrawerPlan, ...]


def _panels(piece: Piece, joints: Sequence[JointPlan], own: tuple[Species, ...]) -> _Panels:
    """What the climate makes of rows, framed panels and drawers."""
    asked = piece.climate
    if asked is None:
        return {"rows": (), "framed": (), "drawers": ()}
    solved = {joint.wanted.name: joint.solution for joint in joints}
    return {
        "rows": tuple(row_plan(each, solved[each.joint], asked, own) for each in piece.panels),
        "framed": tuple(framed_plan(each, asked, own) for each in piece.framed),
        "drawers": tuple(drawer_plan(each, asked, own) for each in piece.drawers),
    }


def instruments_of(shop: Shop) -> Instruments:
    """The gauges that set height and fence, and the calipers."""
    return Instruments(
        height=shop.gauge_for("height"),
        fence=shop.gauge_for("fence"),
        calipers=shop.gauge_for("thickness"),
    )


def task_of(piece: Piece, shop: Shop, wanted: WantedJoint) -> JointTask:
    """What is to be planned for one joint: its boards, its target, and how they move.

    Raises
    ------
    InputError
        The documents do not go together.
    """
    instruments = instruments_of(shop)

    def work(place: Place) -> Work:
        part = piece.part(place.part)
        return work_of(part.boards, place, part.timber, instruments.calipers)

    grooved = work(wanted.groove)
    if wanted.second_groove is not None:
        grooved = both_edges(grooved, work(wanted.second_groove))
    if wanted.tongue is not None:
        tongued = work(wanted.tongue)
    else:
        tongued = work(Place(wanted.strip or "", "reference edge"))
    if wanted.second_groove is not None:
        tongued = strips_for(tongued, len(grooved) // 2)
    moving = None
    if piece.climate is not None:
        moving = moving_of(piece.climate, wanted, grooved, tongued, shop.species)
    return joint_task(
        wanted,
        grooved,
        tongued,
        machine=shop.machines[0],
        instruments=instruments,
        moving=moving,
    )


def joint_plan(
    task: JointTask,
    shop: Shop,
    climate: PieceClimate | None,
    *,
    seed: int = 1,
    like: Recipe | None = None,
) -> JointPlan:
    """The plan of one joint, its setups numbered from 1.

    With ``like`` it is made that way again, others are not looked at, and chances are sampled
    more coarsely: a quick answer while a dimension is being changed.

    Raises
    ------
    InfeasibleError
        It cannot be made safely with what is on hand, or not that way.
    DisagreementError
        Formula and simulated cut differ: an error of ours.
    """
    choice = choose(task, shop.cutters, seed=seed, like=like)
    choice, setups = _first_safe(choice, shop.machines[0])
    solution = choice.chosen.solution
    joints = len(solution.first)
    most = MOST_TRIALS if like is None else QUICK_TRIALS
    trials = max(LEAST_TRIALS, min(most, MOST_DRAWS // joints))
    untested, tested = solution.sampled(trials=trials, seed=seed)
    return JointPlan(
        wanted=task.wanted,
        task=task,
        choice=choice,
        solution=solution,
        simulated=simulate(solution),
        seasonal=seasonal(solution),
        strength=strength_of(solution, climate, shop.species),
        untested=untested,
        tested=tested,
        budget=solution.budget,
        gaps=_sampled_gaps(solution, trials=trials, seed=seed),
        verdicts=_verdicts(solution, tested),
        setups=setups,
    )


def _sampled_gaps(solution: Solution, *, trials: int, seed: int) -> dict[str, Chance]:
    """Every named gap under all errors at the printed settings; its chance is to stay open."""
    values = formula_gaps(solution)
    return {
        name: sampled(
            values[name],
            (0.0, OPEN),
            effects_on(solution, form.groove, form.tongue, deep=name == BOTTOM),
            trials=min(trials, GAP_TRIALS),
            seed=seed,
        )
        for name, form in gap_forms(solution).items()
    }


def _first_safe(choice: Choice, machine: Machine) -> tuple[Choice, tuple[Setup, ...]]:
    """The best way whose setups, with each group's own settings, are all safe.

    Ways were screened on the middle board; a group of thin boards may leave too little wood.
    """
    wanted = choice.chosen.solution.task.wanted
    refused = list(choice.refused)
    for way in choice.allowed:
        setups = setups_of(way.solution, machine)
        never = [
            (setup, hazard)
            for setup in setups
            for hazard in setup.hazards
            if hazard.severity == "never"
        ]
        if not never:
            return replace(choice, chosen=way, refused=tuple(refused)), setups
        for setup, hazard in never:
            refused.append(Refused(setup.method, (setup.cutter,), (hazard.said(millimetres),)))
    reasons = "; ".join(dict.fromkeys(why for each in refused for why in each.why))
    raise InfeasibleError(
        f"no safe way with the cutters and boards on hand ({reasons})",
        where=f"joint {wanted.name!r}",
        remedy="Change what that names: another cutter, proportion or thicker boards",
    )


def _verdicts(solution: Solution, tested: Chance) -> tuple[Verdict, ...]:
    """One verdict a board, from the worst of the joints it is in."""
    low, high = solution.band
    misfit = np.clip(solution.clearance, low, high) - solution.clearance
    sides = [
        (solution.groove, solution.task.grooved, solution.first),
        (solution.tongue, solution.task.tongued, solution.second),
    ]
    # A joint is judged by the board whose thickness decides it; the other is judged by its own.
    sides.sort(key=lambda side: side[0].follows == 0)
    decided: set[str] = set()
    found: dict[str, Verdict] = {}
    for method, work, boards in sides:
        if method.follows == 0:
            decided = set(found)
        for joint, board in enumerate(boards):
            mark = work.marks[board]
            if mark in decided:
                continue
            verdict = _verdict(
                mark,
                chance=float(tested.each[joint]),
                over=_over(method, float(misfit[joint])),
                out=abs(float(misfit[joint])) > READABLE,
                spread=work.boards[board].along,
            )
            if mark not in found or verdict.chance < found[mark].chance:
                found[mark] = verdict
    return tuple(found[mark] for mark in sorted(found))


def _over(method: Method, misfit: float) -> float:
    """Thickness to take off a board to bring its joint back into the band. [mm]

    Half the play is on each side, so a side wants twice the misfit in thickness.
    """
    if method.follows == 0:
        return 0.0
    sign = 1.0 if method.side == "tongue" else -1.0
    return 2 * misfit * sign / method.follows


def _verdict(mark: str, *, chance: float, over: float, out: bool, spread: float) -> Verdict:
    if out:
        verdict = "will not go" if over > 0 else "will be loose" if over < 0 else "out of its band"
    else:
        verdict = "fits" if chance >= SURE else "doubtful"
    return Verdict(mark=mark, verdict=verdict, chance=chance, over=over, spread=spread)
