"""Fence, cutter and work at one scale, seen from above, the operator at the foot of the sheet."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely

from faywright.drawing.at_work import AtWork
from faywright.drawing.hatching import Point
from faywright.drawing.inking import bold_arrow, heavy, strokes
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.model import Mark, Polyline, Text, line
from faywright.drawing.view import wave

SIZE = 2.8

FENCE = 9.0
"""How thick the fence is shown. [mm on paper]"""

BESIDE_ZONE, BEYOND = 22.0, 12.0
"""Work shown beyond the zone at either end, and what is shown of fence and table beyond the
work. [mm on paper]"""

THICK = 65.0
"""Work on edge no thicker than this is shown whole. [mm]"""

BEYOND_CUT = 10.0
"""How much of wide work is shown beyond the cut. [mm on paper]"""


@dataclass(frozen=True)
class MachinePlan:
    """A setup on paper; the spindle axis stands at x = 0, the fence face at y = 0.

    Along the fence only the order of things is meant.
    """

    at_work: AtWork
    scale: float

    @property
    def out(self) -> int:
        """Which way along the paper's y leads out from the fence face."""
        return 1 if self.at_work.fence_behind else -1

    @property
    def infeed(self) -> int:
        """Which way along x the work comes from."""
        return 1 if self.at_work.feed == "right to left" else -1

    def point(self, along: float, out: float) -> Point:
        """A point so far to the infeed side of the axis and so far out from the fence."""
        return self.infeed * along, self.out * out

    @property
    def radius(self) -> float:
        """Of the circle that the cutter sweeps. [mm on paper]"""
        return self.scale * self.at_work.result.run.profile.radius

    @property
    def axis(self) -> float:
        """How far out the spindle axis stands. [mm on paper]"""
        return self.scale * self.at_work.setup.places.axis

    @property
    def zone(self) -> float:
        """Half the length of the zone."""
        return max(self.radius + 25.0, 33.0)

    @property
    def end(self) -> float:
        """Where the work ends, on either side."""
        return self.zone + BESIDE_ZONE

    @cached_property
    def wide(self) -> tuple[float, bool]:
        """How far out from the fence the work is shown, and whether it is broken off there."""
        y = self.scale * float(self.at_work.seen.before.bounds[2])
        if not self.at_work.posture.flat and self.at_work.thickness <= THICK:
            return y, False
        cut = max(self.scale * self.at_work.setup.places.far_edge, 0.0) + BEYOND_CUT
        return (cut, True) if y > 1.15 * cut else (y, False)

    @property
    def side(self) -> float:
        """Out from here nothing of work and cutter stands."""
        far = self.scale * self.at_work.setup.places.far_edge
        return max(self.wide[0], far)

    @property
    def back(self) -> float:
        """Behind here nothing of fence and cutter stands; negative."""
        return min(-FENCE, self.axis - self.radius) - 1.0

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Fence, work with its fresh wall, cutter and the way it turns."""
        return (*self._fence(), *self._work(), *self._cutter())

    def _fence(self) -> list[Mark]:
        gap, end = self.radius + 4.2, self.end + BEYOND
        marks: list[Mark] = []
        for side, told in ((1, "infeed"), (-1, "outfeed")):
            corners = [(side * end, -FENCE), (side * gap, -FENCE), (side * gap, 0), (side * end, 0)]
            path = tuple(self.point(*corner) for corner in corners)
            broken = wave(self.point(side * end, -FENCE), self.point(side * end, 0.0), 0.6)
            marks += [Polyline(path, "frame"), Polyline(broken, "dimension")]
            middle = self.point(side * (self.zone + end) / 2, -FENCE / 2)
            marks.append(self.text(f"fence, {told}", middle))
        return marks

    def _work(self) -> list[Mark]:
        wide, broken = self.wide
        ends = [(self.end, wide), (self.end, 0.0), (-self.end, 0.0), (-self.end, wide)]
        path = tuple(self.point(*end) for end in ends)
        if broken:
            edge = Polyline(wave(path[-1], path[0], 0.9), "dimension")
        else:
            edge = line(path[-1], path[0], "outline")
        marks: list[Mark] = [Polyline(path, "outline"), edge]
        place = self.fresh_place
        if place is not None:
            marks += heavy([self.point(0.0, place), self.point(-self.end, place)])
        return marks

    @property
    def fresh_place(self) -> float | None:
        """How far out the fresh wall stands that decides the feed. [mm on paper]"""
        walls = self.at_work.fresh_walls
        if not walls:
            return None
        outer = walls[0].outer
        ends = [self.scale * y for wall in walls if wall.outer is outer for y, _ in wall.ends]
        return max(ends) if outer else min(ends)

    def _cutter(self) -> list[Mark]:
        """The circle it sweeps, dashed under the work, and an arrow the way it turns."""
        centre = self.point(0.0, self.axis)
        circle = shapely.LinearRing(_arc(centre, self.radius, 0.0, 360.0))
        corners = [self.point(-self.end, 0.0), self.point(self.end, self.wide[0])]
        xs, ys = zip(*corners, strict=True)
        under = shapely.box(min(xs), min(ys), max(xs), max(ys))
        cross = min(self.radius * 0.4, 1.5)
        x, y = centre
        return [
            *strokes(shapely.intersection(circle, under), "hidden"),
            *strokes(shapely.difference(circle, under), "frame"),
            line((x - cross, y), (x + cross, y), "dimension"),
            line((x, y - cross), (x, y + cross), "dimension"),
            *self._turning(centre),
        ]

    def _turning(self, centre: Point) -> list[Mark]:
        """An arc on the fence side; y runs down the sheet, so clockwise is to more degrees."""
        radius = self.radius + 2.6
        clockwise = self.at_work.machine.rotation == "clockwise"
        towards_fence = -90.0 * self.out
        half = 70.0 if clockwise else -70.0
        first, last = towards_fence - half, towards_fence + half
        arc = _arc(centre, radius, first, last)
        turn = math.radians(last)
        forward = 1 if clockwise else -1
        back = (forward * math.sin(turn), -forward * math.cos(turn))
        tip = (arc[-1][0] - back[0] * 2.4, arc[-1][1] - back[1] * 2.4)
        return [Polyline(arc, "outline"), bold_arrow(arc[-1], tip, width=0.4, head=2.4)]

    def text(self, told: str, middle: Point, size: float = SIZE, *, strong: bool = False) -> Text:
        """Lettering with its middle at a point."""
        at = (middle[0], middle[1] + CAPITAL * size / 2)
        return Text(told, at, size, "middle", emphasis="strong" if strong else "plain")

    def path(self, points: Sequence[Point]) -> Polyline:
        """A run of straight strokes through points given as in :meth:`point`."""
        return Polyline(tuple(self.point(*point) for point in points), "frame")


def _arc(centre: Point, radius: float, first: float, last: float) -> tuple[Point, ...]:
    """Points along an arc, degrees from the right and clockwise on paper."""
    steps = max(8, round(abs(last - first) / 5.0))
    turns = [math.radians(first + (last - first) * k / steps) for k in range(steps + 1)]
    return tuple(
        (centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)) for turn in turns
    )
