"""A setup in values: what to set, from which edge, how near, what to check and to move."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from faywright.joints.method import Reference
from faywright.setups.hazards import Feed, Hazard
from faywright.setups.report import StationReport
from faywright.shop.inventory import Reference as Edge
from faywright.shop.machines import Machine
from faywright.shop.practice import SpindleSpeed

Direction = Literal["raise", "lower", "back", "forward"]
"""Back is away from the operator, forward towards them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """How far a setting may be off either way before ``gap`` leaves its bounds. [mm]"""

    low: float
    high: float
    gap: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One number to set. [mm]

    ``true`` is the length itself, ``shows`` what the gauge reads there. ``start`` is where to
    set it for the first trial cut: on the side that can still be cured, by one standard
    uncertainty; None where the setting does not decide the fit; ``start_shows`` is what the
    gauge reads there. ``working`` is the sum, as terms.
    """

    quantity: Literal["height", "fence"]
    true: float
    shows: float
    tolerance: Tolerance | None
    start: float | None
    start_shows: float | None
    working: Working | None


@dataclass(frozen=True, slots=True)
class Working:
    """(``terms`` added up) divided by ``divisor`` is the setting; each term has a name. [mm]"""

    terms: tuple[tuple[str, float], ...]
    divisor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FencePlace:
    """Fence face to the cutter's far edge, axis and near edge; below 0 is behind it. [mm]"""

    far_edge: float
    axis: float
    near_edge: float

    def measurable(self, preferred: Edge, *, pointed: bool = False) -> Edge:
        """The edge to measure to: the preferred one unless it lies behind the fence face.

        A ``pointed`` cutter is measured to its point, for its widest part is under the table.
        """
        if pointed:
            return "axis"
        return preferred if self.to(preferred) >= 0 else "far edge"

    def to(self, reference: Edge) -> float:
        """The distance to the edge the maker measures to."""
        return {"far edge": self.far_edge, "axis": self.axis, "near edge": self.near_edge}[
            reference
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """Which way to move if the reading is more, and how much of what it is over.

    If it reads less, the same the other way.
    """

    quantity: Literal["height", "fence"]
    more: Direction
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckReading:
    """What to measure on a trial piece ``thickness`` thick, and what it should be. [mm]

    ``reads`` is the true length, ``shows`` and ``thickness_shows`` what the calipers show.
    Differences up to ``leave`` are within what readings scatter. ``per_thickness`` is how much
    more it should read on a piece 1 thicker (or wider, for a groove in a face). ``correction``
    is None where only another cutter size changes it.
    """

    what: str
    thickness: float
    thickness_shows: float
    size_word: Literal["thick", "wide"]
    reads: float
    shows: float
    leave: float
    per_thickness: float
    correction: Correction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PassSheet:
    """One pass: what is down, what is against the fence, the feed, and the bite. [mm]"""

    down: str
    against: str
    feed: Feed
    fresh: str
    bite_up: float
    bite_across: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """The change from the setup before it with the same cutter. [mm]

    ``turns`` of the lift's key are None where its pitch is not known. ``fence`` is how much
    further the far edge stands from the fence, ``fence_way`` which way the fence moves for that;
    ``fence_end`` is the move at the free end of a fence that swings on a pivot.
    """

    raised: float
    turns: float | None
    fence: float
    fence_way: Literal["back", "forward"]
    fence_end: float | None


@dataclass(frozen=True, kw_only=True, eq=False)
class Setup:
    """One setting of the machine and everything done at it. [mm]"""

    number: int
    joint: str
    side: Literal["groove", "tongue"]
    method: str
    stage: str
    final: bool
    marks: tuple[str, ...]
    cutter: str
    speed: SpindleSpeed
    height: Setting
    cutter_top: float
    measured_to: Reference
    fence: Setting
    places: FencePlace
    passes: tuple[PassSheet, ...]
    readings: tuple[CheckReading, ...]
    hazards: tuple[Hazard, ...]
    cure: str
    change: Change | None
    report: StationReport

    def reference(self, preferred: Edge) -> Edge:
        """The edge of the cutter to measure the fence to, for a maker who prefers one."""
        pointed = float(self.report.station.run.cutter.profile.half[0][1, 1]) < 0
        return self.places.measurable(preferred, pointed=pointed)


def change_by(machine: Machine, raised: float, fence: float) -> Change:
    """The change that raises the cutter and moves the fence's far edge out by so much. [mm]"""
    pivoted = machine.fence.kind == "pivoted"
    return Change(
        raised=raised,
        turns=None if machine.lift_pitch is None else raised / machine.lift_pitch,
        fence=fence,
        fence_way=(
            "back" if (fence > 0) == (machine.fence_side == "behind the cutter") else "forward"
        ),
        fence_end=fence * machine.fence.ratio if pivoted else None,
    )
