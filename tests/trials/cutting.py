"""Trial pieces cut by the kernel in a shop whose hidden errors are known. [mm]"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np

from faywright.fit.forms import Quantity, Value
from faywright.joints import grooves, tongues
from faywright.joints.method import Method, Side
from faywright.joints.solution import Solution
from faywright.shop import Cutter
from faywright.trials.belief import Belief, Floats, Unknown
from faywright.trials.observing import (
    TrialPiece,
    dimensions,
    first_belief,
    observed,
    with_settings,
)
from faywright.trials.update import Observation
from tests.joints.builders import groove_by, joint, solved, straight, tongue_by
from tests.joints.test_method import LIFTS, cut_again

Surfaces = Mapping[str, float]

ON_THE_BOARD: Mapping[str, Callable[[Surfaces, float], float]] = {
    "groove width": lambda at, _t: at["face-B wall"] - at["face-A wall"],
    "groove depth": lambda at, _t: at["bottom"],
    "wall beside face A": lambda at, _t: at["face-A wall"],
    "wall beside face B": lambda at, t: t - at["face-B wall"],
    "tongue thickness": lambda at, _t: at["face-B cheek"] - at["face-A cheek"],
    "tongue length": lambda at, _t: at["face-B shoulder"],
    "depth of the face-A cheek": lambda at, _t: at["face-A cheek"],
    "depth of the face-B cheek": lambda at, t: t - at["face-B cheek"],
}
"""Each dimension as calipers span it, from where the surfaces stand on a board ``t`` thick."""


def by_calipers(at: Surfaces, thickness: float, names: tuple[str, ...]) -> dict[str, float]:
    return {name: ON_THE_BOARD[name](at, thickness) for name in names}


def moved_by(piece: TrialPiece, unknown: Unknown) -> tuple[Quantity, ...]:
    """The settings, cutters and rides of a method that an unknown is in, by what it is."""
    method = piece.method
    if unknown.kind == "lift":
        return tuple(Quantity("lift", key) for name, key in LIFTS if name == method.name)
    if unknown.kind == "cutter":
        return tuple(size for size in method.cutter_sizes if size.key == unknown.owner)
    if unknown.kind == "setting":
        return tuple(each for each in piece.as_set if piece.setting(each) == unknown)
    kind = "height" if unknown.kind == "height zero" else "fence"
    return tuple(each for each in piece.as_set if each.kind == kind)


def cut_with(piece: TrialPiece, quantity: Quantity, thickness: float) -> dict[str, float]:
    """Surfaces with one quantity off by the step of those who cut again."""
    groups = (
        piece.solution.groove_groups if piece.side == "groove" else piece.solution.tongue_groups
    )
    return cut_again(piece.method, groups[piece.group], thickness, quantity)


def everything(piece: TrialPiece) -> Belief:
    """The first belief of all that could be off for a trial piece."""
    task = piece.solution.task
    methods: tuple[Method, ...] = (piece.solution.groove, piece.solution.tongue)
    cutters = [cutter for method in methods for cutter in method.cutters]
    return with_settings(first_belief(task.instruments, task.machine, cutters), piece)


def flat_joint(**wishes: object) -> Solution:
    """A groove by two fence positions, and a tongue flat from both faces."""
    task = joint([19.0] * 3, [19.0, 19.05, 18.95], groove_width=6.5, **wishes)  # type: ignore[arg-type]  # wishes of all kinds go through
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.5))
    return solved(task, groove, tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2")))


def piece_of(solution: Solution, side: Side, **more: object) -> TrialPiece:
    """A trial piece as thick as the middle board, its readings made to scatter a little."""
    across = solution.task.grooved if side == "groove" else solution.task.tongued
    zero = solution.task.instruments.calipers.zero_error
    readings = tuple(across.middle + zero + off for off in (-0.01, 0.0, 0.01))
    figures: dict[str, object] = {"mark": "T1", "thickness": readings, **more}
    return TrialPiece(solution=solution, side=side, **figures)  # type: ignore[arg-type]  # likewise


class RoughShop:
    """Shops as the documents describe them, with a trial piece of each side measured.

    Cutters are anywhere about their mark, work rides to one side only, and calipers round.
    """

    def __init__(self, solution: Solution, unmeasured: Cutter) -> None:
        self.solution, self.generator = solution, np.random.Generator(np.random.SFC64(7))
        self.pieces = (piece_of(solution, "groove"), piece_of(solution, "tongue"))
        task = solution.task
        self.most = task.machine.work_lift
        self.lift, self.cutter = (
            Unknown("lift", task.machine.mark),
            Unknown("cutter", unmeasured.mark),
        )
        lasting = first_belief(task.instruments, task.machine, [unmeasured])
        self.first = with_settings(lasting, *self.pieces)

    def drawn(self) -> tuple[Floats, list[Observation]]:
        """What is off in one such shop, and what its trial pieces tell."""
        first, uniform = self.first, self.generator.uniform
        truth = first.mean + first.deviation * self.generator.standard_normal(len(first.mean))
        truth[first.place(self.cutter)] = uniform(-0.10, 0.10)
        truth[first.place(self.lift)] = self.most / 2 + self.half_ride()
        off = dict(zip(first.unknowns, truth.tolist(), strict=True))
        return truth, [each for piece in self.pieces for each in self._measured(piece, off)]

    def half_ride(self) -> float:
        """A rectangular error of half the variance of the ride of a pass."""
        return float(self.generator.uniform(-0.5, 0.5)) * self.most * math.sqrt(0.5)

    def _shown(self, true: float) -> tuple[float, ...]:
        calipers = self.solution.task.instruments.calipers
        read = true + calipers.repeatability * self.generator.standard_normal(3)
        shown = calipers.resolution * np.round(read / calipers.resolution)
        return tuple(shown.tolist())

    def _measured(self, piece: TrialPiece, off: Mapping[Unknown, float]) -> tuple[Observation, ...]:
        forms = dimensions(self.solution, piece.side)
        true: dict[Quantity, Value] = {piece.method.thickness: self.generator.normal(19.0, 0.1)}
        for quantity, value in {**piece.as_set, **piece.method.cutter_sizes}.items():
            reached = [u for u in off if quantity in moved_by(piece, u)]
            true[quantity] = value + sum(off[unknown] for unknown in reached)
        for ride in moved_by(piece, self.lift):
            true[ride] = off[self.lift] + self.half_ride()
        board = replace(piece, thickness=self._shown(float(true[piece.method.thickness])))
        return observed(board, {n: self._shown(float(f.value(true))) for n, f in forms.items()})
