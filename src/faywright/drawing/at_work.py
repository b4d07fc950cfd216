"""A board at the cutter, seen along the feed: what every drawing of a setup starts from.

Everything is in the machine frame: y out of the fence, z up from the table. [mm]
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import shapely
from shapely.geometry.base import BaseGeometry

from faywright.drawing.inking import segments
from faywright.joints.work import Work
from faywright.section.posture import Posture
from faywright.setups.hazards import Feed
from faywright.setups.setup import Setup
from faywright.setups.simulate import PassResult, SeenPass
from faywright.shop.machines import Machine

CLOSE = 1e-6

Side = Literal["down", "up", "against the fence", "away from the fence"]


@dataclass(frozen=True, slots=True)
class FreshWall:
    """An upright surface this pass leaves, from ``low`` to ``high``."""

    low: tuple[float, float]
    high: tuple[float, float]
    outer: bool

    @property
    def ends(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Its foot and its head."""
        return self.low, self.high

    @property
    def middle(self) -> tuple[float, float]:
        """Half way up."""
        return (self.low[0] + self.high[0]) / 2, (self.low[1] + self.high[1]) / 2


@dataclass(frozen=True)
class AtWork:
    """The first pass of a setup, with the board that was run in the simulation."""

    setup: Setup
    work: Work
    machine: Machine

    @property
    def result(self) -> PassResult:
        """The pass that is drawn."""
        return self.setup.report.results[0]

    @cached_property
    def seen(self) -> SeenPass:
        """The board before and after, and the waste."""
        return self.result.seen

    @property
    def mark(self) -> str:
        """Mark of the board that is drawn, the thickest of its group."""
        return self.work.marks[self.setup.report.board]

    @property
    def thickness(self) -> float:
        """Its size along the kernel's u: the width of a board with a groove in its face. [mm]"""
        return float(self.work.across[self.setup.report.board])

    @property
    def deep(self) -> float:
        """Its size square to that, across the feed as well. [mm]"""
        return float(self.work.deep[self.setup.report.board])

    @property
    def board(self) -> float:
        """How thick the board is, whichever way it lies. [mm]"""
        return self.deep if self._on_face else self.thickness

    @property
    def lies_flat(self) -> bool:
        """Whether its thickness stands up from the table, whatever the kernel calls that."""
        return self.posture.flat != self._on_face

    @property
    def _on_face(self) -> bool:
        return self.work.called("jointed edge") in ("face A", "face B")

    @property
    def posture(self) -> Posture:
        """How it lies."""
        return self.result.run.posture

    @property
    def feed(self) -> Feed:
        """Which way it goes past the cutter, as the operator stands."""
        return self.setup.report.feeds[0]

    @property
    def fence_behind(self) -> bool:
        """Whether the fence stands on the far side of the cutter from the operator."""
        return self.machine.fence_side == "behind the cutter"

    @property
    def fence_right(self) -> bool:
        """Whether whoever looks along the feed has the fence to the right.

        Looking from right to left the far side is to the right hand; each of the other feed and
        the other side of the fence turns it about.
        """
        return (self.feed == "right to left") == self.fence_behind

    @cached_property
    def cutter(self) -> shapely.Polygon:
        """The cutter's silhouette."""
        return shapely.Polygon(self.result.run.silhouette)

    @property
    def measured_point(self) -> tuple[float, float]:
        """Where the height is measured to, on the side away from the fence."""
        axis, z = self.result.run.axis, self.setup.height.true
        level = shapely.box(axis, z - CLOSE, axis + 1e4, z + CLOSE)
        there = shapely.intersection(level, self.cutter)
        return (axis if there.is_empty else there.bounds[2]), z

    @cached_property
    def fresh(self) -> BaseGeometry:
        """Every surface this pass leaves."""
        old = shapely.buffer(shapely.boundary(self.seen.before), CLOSE)
        return shapely.difference(shapely.boundary(self.seen.left), old)

    @cached_property
    def fresh_walls(self) -> tuple[FreshWall, ...]:
        """The upright ones among them; longest first on the side that decides the feed."""
        walls = []
        for one, two in segments(self.fresh):
            low, high = sorted((one, two), key=lambda point: point[1])
            if high[1] - low[1] > 10 * CLOSE:
                outer = low[0] + high[0] > 2 * self.result.run.axis
                walls.append(FreshWall(low, high, outer))
        deciding = self.result.fresh == "outer side"
        walls.sort(key=lambda wall: (wall.outer is not deciding, wall.low[1] - wall.high[1]))
        return tuple(walls)

    @property
    def face_a(self) -> tuple[Side, float] | None:
        """Where face A lies, and its place along z or y; None for a part without one. [mm]"""
        for face, at in (("face A", 0.0), ("face B", self.thickness)):
            if self.work.called(face) == "face A":
                return self._across(at)
        edge = self.work.called("jointed edge")
        if edge not in ("face A", "face B"):
            return None
        return self._inwards(0.0 if edge == "face A" else self.deep)

    def _across(self, at: float) -> tuple[Side, float]:
        place = self.thickness - at if self.posture.turned else at
        if self.posture.flat:
            return ("down" if place == 0 else "up"), place
        return ("against the fence" if place == 0 else "away from the fence"), place

    def _inwards(self, at: float) -> tuple[Side, float]:
        if self.posture.flat:
            return ("against the fence" if at == 0 else "away from the fence"), at
        return ("down" if at == 0 else "up"), at

    @property
    def lying(self) -> str:
        """What is down and what runs along the fence."""
        one = self.setup.passes[0]
        return f"{one.down} on the table, {one.against} against the fence"

    @property
    def turned_about(self) -> str:
        """What to do for the second pass; empty where there is none."""
        if len(self.setup.passes) < 2:
            return ""
        first, second = self.setup.passes[:2]
        if second.against != first.against:
            return f"then turn end for end: {second.against} against the fence"
        return f"then turn end for end: {second.down} on the table"
