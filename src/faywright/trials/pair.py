"""A piece of each side, cut in trial, and what is known from them of the joints themselves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from faywright.errors import InputError
from faywright.fit.forms import Form
from faywright.fit.spread import one_sided
from faywright.joints.method import Method, Settings, Side
from faywright.joints.side_groups import SideGroup
from faywright.joints.solution import Solution
from faywright.joints.work import Work
from faywright.trials.belief import Belief, Floats, Unknown
from faywright.trials.observing import LASTING_RIDE, TrialPiece
from faywright.trials.spreads import Clearance, Spreads

Index = NDArray[np.int64]
Parts = Mapping[Side, Form]
"""What each side adds to some dimension of the joint."""


@dataclass(frozen=True, eq=False)
class Trial:
    """The two pieces that stand for a joint, as they are set: cut in trial, or about to be.

    Settings that were not made yet may be spoken of as well; they are what the plan has.
    """

    groove: TrialPiece
    tongue: TrialPiece

    def __post_init__(self) -> None:
        """A piece of each side of one joint."""
        if self.groove.side != "groove" or self.tongue.side != "tongue":
            self._refuse(
                f"the pieces are for a {self.groove.side} and a {self.tongue.side}",
                "Give a piece with a groove, then one with a tongue",
            )
        if self.groove.solution is not self.tongue.solution:
            self._refuse("the pieces are of different plans", "Give pieces of one joint")

    @property
    def solution(self) -> Solution:
        """The solved joint."""
        return self.groove.solution

    @property
    def pieces(self) -> tuple[TrialPiece, TrialPiece]:
        """Both pieces."""
        return self.groove, self.tongue

    def piece(self, side: Side) -> TrialPiece:
        """The piece of one side."""
        return self.groove if side == "groove" else self.tongue

    @property
    def adjusted(self) -> TrialPiece:
        """The piece whose setting decides the fit: the tongue's, if it has one."""
        return self.tongue if self.tongue.method.control is not None else self.groove

    @property
    def play(self) -> Parts:
        """What each side adds to the clearance per side."""
        return {"groove": 0.5 * self.groove.method.size, "tongue": -0.5 * self.tongue.method.size}

    def again(self, made: Mapping[Side, Settings]) -> Trial:
        """The next pieces, after settings were made anew by the gauge."""

        def following(piece: TrialPiece) -> TrialPiece:
            settings = made.get(piece.side)
            return piece.again(piece.mark, settings) if settings else piece

        return Trial(following(self.groove), following(self.tongue))

    def at_group(self, group: int, mark: str) -> Trial:
        """The same for another group (from 0) of the boards whose setting decides the fit.

        Settings that all groups share stay as they are; the deciding one is what the plan has.
        """
        old = self.adjusted
        control = old.method.control
        new = replace(
            old,
            mark=mark,
            group=group,
            thickness=(),
            settings={each: made for each, made in old.settings.items() if each != control},
            times={each: count for each, count in old.times.items() if each != control},
        )
        pieces = (self.groove, new) if old is self.tongue else (new, self.tongue)
        return Trial(*pieces)

    @cached_property
    def joints(self) -> Index:
        """Numbers of the joints whose boards are in both pieces' groups; maybe none."""
        solution = self.solution
        grooved, tongued = (group_of(piece).members for piece in self.pieces)
        inside = np.isin(solution.first, grooved) & np.isin(solution.second, tongued)
        return np.flatnonzero(inside)

    @cached_property
    def planned(self) -> Floats:
        """Clearance per side that the plan has for each of ``joints``, never empty. [mm]

        Where a group meets nothing, as at the end of a row, its middle board stands in.
        """
        solution = self.solution
        first, second = self._boards
        widths = solution.sizes(solution.groove, solution.groove.size)
        thicknesses = solution.sizes(solution.tongue, solution.tongue.size)
        found: Floats = (widths[first] - thicknesses[second]) / 2
        return found

    @cached_property
    def board_deviations(self) -> Floats:
        """Standard deviation of each joint's clearance from what is new in every board. [mm]

        It is the spread of thickness between readings, and the ride of each pass about what the
        machine has lasting.
        """
        first, second = self._boards
        task, solution = self.solution.task, self.solution
        ride = (1 - LASTING_RIDE) * one_sided(task.machine.work_lift).standard_uncertainty ** 2
        total = np.zeros(len(first))
        sides: tuple[tuple[Method, Work, Index], ...] = (
            (solution.groove, task.grooved, first),
            (solution.tongue, task.tongued, second),
        )
        for method, work, boards in sides:
            total += (0.5 * method.follows * work.deviation[boards]) ** 2
            lifts = [c for q, c in method.size.coefficients.items() if q.kind == "lift"]
            total += sum((0.5 * c) ** 2 for c in lifts) * ride
        return np.sqrt(total)

    def row(self, parts: Parts) -> dict[Unknown, float]:
        """How a dimension grows with each unknown."""
        found: dict[Unknown, float] = {}
        for side, form in parts.items():
            for unknown, coefficient in self.piece(side).row(form).items():
                found[unknown] = found.get(unknown, 0.0) + coefficient
        return found

    def off(self, belief: Belief, parts: Parts) -> tuple[float, float]:
        """How far a dimension is from the plan: mean and standard deviation. [mm]"""
        mean, deviation = belief.predicted(self.row(parts))
        for side, form in parts.items():
            piece = self.piece(side)
            planned = group_of(piece).settings
            mean += sum(
                form.coefficient(each) * (made - planned[each])
                for each, made in piece.settings.items()
            )
        return mean, deviation

    def spreads(self, off: float, deviation: float) -> Spreads:
        """Clearances of the joints, ``off`` from the plan give or take ``deviation``. [mm]"""
        return Spreads(self.planned + off, np.hypot(self.board_deviations, deviation))

    def clearance(self, belief: Belief) -> Clearance:
        """What is expected of the joints at the pieces' settings."""
        spreads = self.spreads(*self.off(belief, self.play))
        return Clearance(
            mean=float(spreads.centres.mean()),
            low=spreads.quantile(0.05),
            high=spreads.quantile(0.95),
            chance=spreads.chance(self.solution.band),
        )

    @property
    def _boards(self) -> tuple[Index, Index]:
        solution, joints = self.solution, self.joints
        if len(joints):
            return solution.first[joints], solution.second[joints]
        works = (solution.task.grooved, solution.task.tongued)
        pairs = zip(self.pieces, works, strict=True)
        first, second = (_middle(group_of(piece).members, work) for piece, work in pairs)
        return first, second

    def _refuse(self, what: str, remedy: str) -> None:
        raise InputError(what, where=f"trial {self.groove.mark}, {self.tongue.mark}", remedy=remedy)


def group_of(piece: TrialPiece) -> SideGroup:
    """The group of boards that a trial piece stands for, with the settings of the plan."""
    return piece.solution.groups(piece.side)[piece.group]


def _middle(members: Index, work: Work) -> Index:
    """The one of some boards that is of middle thickness."""
    by_size = members[np.argsort(work.across[members], kind="stable")]
    return by_size[[len(by_size) // 2]]
