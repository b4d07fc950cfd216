"""A shop with hidden errors in which trial pieces are cut, measured, and settings made anew.

Boards, cutters and calipers are those of :mod:`benchmarks.hidden`; none of the boards of a pile
differs from the others but along its length. Besides:

- Height and fence are each set by a gauge that was nulled once, and never again: its zero is off
  by one reading of that gauge. A reading scatters by what the gauge repeats to, and is anywhere
  within a step of its display.
- A setting is made by bringing the gauge to the figure wanted, rounded to a step of its display.
  It is off by one reading of the gauge, by another each time.
- Where moves are made by turns of a key or screw, slack taken up, the old error stays, and the
  move scatters by 0.015 mm (one standard deviation).
- Of the ride of the work half the variance is the machine's own and lasts; the rest is new in
  every pass.

What the maker's documents say is as true as it can be: the gauge's steps and what it repeats to,
readings of boards and cutters, the most that work rides. None of these errors has a published
source: they are common practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from benchmarks.following import DEPTHS, blade_of
from benchmarks.hidden import HIDDEN, Errors, Floats, Truth, truth_of
from benchmarks.needle import Needles
from benchmarks.panels import CALIPERS, HALF, JOINT, MACHINE, QUARTER, SLOT, boards
from benchmarks.workshop import cutters_of
from faywright.fit.bands import Fit
from faywright.fit.forms import Quantity, Value
from faywright.joints.grooves import BOTH_FACES, ON_EDGE, Declined, groove_methods
from faywright.joints.joint_errors import TRIAL_READINGS
from faywright.joints.method import Method, Side
from faywright.joints.solution import Solution, solve
from faywright.joints.task import Instruments, JointTask, joint_task
from faywright.joints.tongues import FACE_A, FLAT, TongueJob, tongue_methods
from faywright.joints.tongues import ON_EDGE as TONGUE_ON_EDGE
from faywright.joints.work import work_of
from faywright.shop.gauges import Gauge
from faywright.trials.observing import TrialPiece

WITHIN = 0.025
"""How close the mean clearance per side has to come to the aim: 0.001 in. [mm]"""

ASKED = Fit(
    name="to 0.001 in.",
    aim=JOINT.fit.aim,
    low=JOINT.fit.aim - WITHIN,
    high=JOINT.fit.aim + WITHIN,
)

LASTING = math.sqrt(0.5)
"""Share of the spread of the ride that is the machine's own, and of what is new in a pass."""

KEY = 0.015
"""What a move by turns of the lift's key or the fence's screw scatters, slack taken up: one
standard deviation. Common practice, no source: good to 0.03 mm. [mm]"""

SOLVING_TRIALS = 200
"""Enough where there is but one way to group the boards."""


def gauge(step: float, repeats: float) -> Gauge:
    """A gauge that sets both height and fence. [mm]"""
    return Gauge(mark="gauge", uses=("height", "fence"), resolution=step, repeatability=repeats)


GAUGES: Mapping[str, Gauge] = {
    "0.01, repeats to 0.01": gauge(0.01, 0.01),
    "0.01, repeats to 0.03": gauge(0.01, 0.03),
    "0.1, repeats to 0.03": gauge(0.1, 0.03),
}


@dataclass(frozen=True, slots=True)
class Kind:
    """A way to cut the joint: its methods, the cutter for the groove and those for the tongue."""

    groove: str
    tongue: str
    cutters: tuple[str, ...]


KINDS = (
    Kind(ON_EDGE, FLAT, (QUARTER, HALF)),
    Kind(BOTH_FACES, TONGUE_ON_EDGE, (QUARTER, HALF)),
    Kind(ON_EDGE, FACE_A, (QUARTER, HALF, SLOT)),
)


@dataclass(frozen=True, kw_only=True, eq=False)
class Hidden:
    """A shop as it really is: boards, cutters, the zeros of its gauge, and what work rides. [mm]"""

    truth: Truth
    gauge: Gauge
    zeros: Mapping[str, float]
    ride: float


def reading_error(gauge: Gauge, generator: np.random.Generator) -> float:
    """What one reading of a gauge is off by. [mm]"""
    step = gauge.resolution * float(generator.uniform(-0.5, 0.5))
    return step + gauge.repeatability * float(generator.standard_normal())


def hidden_shop(gauge: Gauge, seed: tuple[int, ...], errors: Errors = HIDDEN) -> Hidden:
    """A shop drawn at random."""
    generator = np.random.default_rng((*seed, 1))
    zeros = {kind: reading_error(gauge, generator) for kind in ("height", "fence")}
    lasting = LASTING * float(generator.uniform(-0.5, 0.5))
    ride = errors.ride_most * (0.5 + lasting)
    return Hidden(truth=truth_of(errors, 0.0, seed), gauge=gauge, zeros=zeros, ride=ride)


def solution_of(hidden: Hidden, kind: Kind) -> Solution:
    """What the maker's plan has: one setting a side for all boards."""
    wanted = replace(JOINT, fit=ASKED, most_settings=1)
    pile = boards(list(hidden.truth.readings))
    task = joint_task(
        wanted,
        work_of(pile, wanted.groove, "softwood", CALIPERS),
        work_of(pile, wanted.tongue or wanted.groove, "softwood", CALIPERS),
        machine=MACHINE,
        instruments=Instruments(height=hidden.gauge, fence=hidden.gauge, calipers=CALIPERS),
    )
    cutters = cutters_of(hidden.truth, kind.cutters)
    groove = _called(
        kind.groove, groove_methods(task.target, task.grooved, cutters[0], exact=False)
    )
    tongue = _called(kind.tongue, tongue_methods(_tongue_job(task, groove), cutters[1:]))
    return solve(task, groove, tongue, trials=SOLVING_TRIALS, seed=1)


def _tongue_job(task: JointTask, groove: Method) -> TongueJob:
    """The tongue that goes into a groove of the middle board."""
    known: dict[Quantity, Value] = {**groove.known(), groove.thickness: task.grooved.middle}
    if groove.control is not None:
        known[groove.control] = groove.control_for(task.target.width, task.grooved.middle)
    width, wall = groove.size.value(known), groove.surfaces["face-A wall"][1].value(known)
    return TongueJob(
        work=task.tongued,
        length=task.target.length,
        near=float(wall) + task.target.play / 2,
        thickness=float(width) - task.target.play,
        half=False,
        centred=groove.follows != 0,
    )


def _called(name: str, made: Iterator[Method | Declined]) -> Method:
    """The method called so that takes the most cutters."""
    named = [each for each in made if isinstance(each, Method) and each.name == name]
    return max(named, key=lambda method: len(method.cutters))


@dataclass(eq=False)
class Bench:
    """The machine in a hidden shop, as it is set for one joint. [mm]"""

    hidden: Hidden
    solution: Solution
    generator: np.random.Generator
    own: dict[tuple[Side, Quantity], float] = field(default_factory=dict)

    def make(self, piece: TrialPiece, quantity: Quantity, wanted: float) -> float:
        """Make a setting; the figure the gauge was brought to."""
        step = self.hidden.gauge.resolution
        self.own[piece.side, quantity] = reading_error(self.hidden.gauge, self.generator)
        return round(wanted / step) * step

    def turn(self, piece: TrialPiece, quantity: Quantity, by: float, to: float) -> float:
        """Move a setting by the key or the screw; the figure it is then taken to be at."""
        here = piece.as_set[quantity]
        scatter = KEY * float(self.generator.standard_normal())
        self.own[piece.side, quantity] += by + scatter - (to - here)
        return to

    def really(self, piece: TrialPiece) -> dict[Quantity, float]:
        """Where cutter and fence really stand."""
        return {
            quantity: shown + self.hidden.zeros[quantity.kind] + self.own[piece.side, quantity]
            for quantity, shown in piece.as_set.items()
        }

    def cut(self, piece: TrialPiece, thickness: Floats, *, passing: bool = True) -> Needles:
        """Pieces cut as things stand; without ``passing`` every pass rides as the machine does."""
        depths = self.solution.task.target.length * np.array(DEPTHS)
        needles = Needles.through(thickness, depths, groove=piece.side == "groove")
        cutters = self.hidden.truth.cutters
        settings = self.really(piece)
        for station in piece.method.stations(settings, float(thickness.max()), "softwood"):
            run = station.run
            top = station.height
            if run.top_over:
                top += cutters[run.cutter.mark] - run.top_over
            blade = blade_of(run.cutter, cutters[run.cutter.mark])
            for posture in run.postures:
                ride, stray = self._rides(len(thickness), passing=passing)
                needles.cut(blade, posture, top, station.far, ride, stray)
        return needles

    def clearance(self, groove: TrialPiece, tongue: TrialPiece) -> float:
        """What the settings as they stand give on boards as they are on average."""
        middle = self.hidden.truth.means[:1]
        width, thickness = (self.cut(p, middle, passing=False).size for p in (groove, tongue))
        return float(width[0] - thickness[0]) / 2

    def joint(self, groove: TrialPiece, tongue: TrialPiece) -> float:
        """Clearance of a joint of two boards of the pile, any two that meet."""
        number = int(self.generator.integers(len(self.solution.first)))
        places = self.hidden.truth.places
        one, other = self.solution.first[[number]], self.solution.second[[number]]
        width = self.cut(groove, places[one]).size
        thickness = self.cut(tongue, places[other]).size
        return float(width[0] - thickness[0]) / 2

    def offcut(self) -> Floats:
        """Thickness of an offcut of one of the boards."""
        along = self.hidden.truth.errors.along * float(self.generator.standard_normal())
        return self.hidden.truth.means[:1] + along

    def read(self, true: float, times: int = TRIAL_READINGS) -> tuple[float, ...]:
        """What the calipers show, time after time."""
        truth = self.hidden.truth
        shown = truth.errors.read(np.full(times, true), truth.calipers_zero, self.generator)
        return tuple(shown.tolist())

    def _rides(self, count: int, *, passing: bool) -> Iterator[Floats]:
        most = self.hidden.truth.errors.ride_most if passing else 0.0
        new = most * LASTING * self.generator.uniform(-0.5, 0.5, (2, count))
        return iter(self.hidden.ride + new)
