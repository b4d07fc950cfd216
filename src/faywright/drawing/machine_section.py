"""Table, fence, cutter and work at one scale, seen along the feed, before any lettering."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from faywright.drawing.at_work import AtWork
from faywright.drawing.broken import Shown, shown
from faywright.drawing.hatching import Point
from faywright.drawing.inking import heavy, strokes
from faywright.drawing.model import Mark, Polyline, line
from faywright.drawing.view import wave

FENCE = 14.0
"""How thick the fence is shown, whatever it is. [mm on paper]"""

SLAB = 4.5
"""How thick the table is shown. [mm on paper]"""

BELOW = 11.0
"""How much of the cutter is shown below the table. [mm on paper]"""

BESIDE, ABOVE = 12.0, 13.0
"""How much of wide or tall work is shown beyond the cut. [mm on paper]"""

THICK = 65.0
"""Work no thicker than this is not broken off across its thickness. [mm]"""

NEVER = 1e4


@dataclass(frozen=True)
class MachineSection:
    """A setup on paper; the fence face meets the table at the paper's zero."""

    at_work: AtWork
    scale: float

    @property
    def out(self) -> int:
        """Which way along x leads out from the fence."""
        return -1 if self.at_work.fence_right else 1

    @property
    def outwards(self) -> Literal["start", "end"]:
        """The anchor of lettering that runs away from the fence."""
        return "end" if self.at_work.fence_right else "start"

    def point(self, y: float, z: float) -> Point:
        """Where a point of the machine frame lands on paper."""
        return self.out * self.scale * y, -self.scale * z

    def shape(self, shape: BaseGeometry) -> BaseGeometry:
        """A shape of the machine frame on paper."""
        return affinity.scale(shape, self.out * self.scale, -self.scale, origin=(0, 0))

    @cached_property
    def before(self) -> shapely.Polygon:
        """The work as it comes, on paper."""
        return shapely.Polygon(shapely.get_coordinates(self.shape(self.at_work.seen.before)))

    @cached_property
    def work(self) -> Shown:
        """How much of the work is shown: never broken at fence and table, nor in its thickness."""
        at_work, scale = self.at_work, self.scale
        y, z = at_work.setup.places.far_edge, float(at_work.cutter.bounds[3])
        x = self.out * scale * y
        joint = (min(x, 0.0), -scale * z, max(x, 0.0), 0.0)
        whole = at_work.board <= THICK
        up = NEVER if whole and at_work.lies_flat else ABOVE
        aside = NEVER if whole and not at_work.lies_flat else BESIDE
        left, right = (aside, NEVER) if self.out < 0 else (NEVER, aside)
        return shown(self.before, joint, (left, up, right, NEVER))

    @property
    def work_out(self) -> float:
        """How far out from the fence the work is shown. [mm on paper]"""
        left, _, right, _ = self.work.bounds
        return max(self.out * left, self.out * right)

    @property
    def work_top(self) -> float:
        """How high the work is shown. [mm on paper]"""
        return -self.work.bounds[1]

    @property
    def cutter_top(self) -> float:
        """[mm on paper]"""
        return self.scale * float(self.at_work.cutter.bounds[3])

    @property
    def fence_top(self) -> float:
        """How high the fence is shown: its height, or broken off a little lower than the work."""
        room = max(self.cutter_top + 7.0, self.work_top - 8.0)
        return min(self.scale * self.at_work.machine.fence.height, room)

    @property
    def table_out(self) -> float:
        """Where the table is broken off on the operator's side. [mm on paper]"""
        far = self.scale * self.at_work.setup.places.far_edge
        return max(self.work_out + 6.0, far + 10.5)

    @property
    def table_in(self) -> float:
        """Where it is broken off behind the fence; negative. [mm on paper]"""
        return min(-FENCE, self.scale * self.at_work.setup.places.near_edge) - 5.0

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Table, fence, cutter, and the edges of the work, fresh walls heavily; no hatching."""
        edges = shapely.intersection(self._edges(), self.work.window)
        return (
            *self._table(),
            *self._fence(),
            *self._cutter(),
            *strokes(edges, "outline"),
            *self.work.breaks,
            *(mark for wall in self._walls() for mark in heavy(wall)),
        )

    def _edges(self) -> BaseGeometry:
        """Edges of the work as it comes and of what is left of it."""
        seen = self.at_work.seen
        left = shapely.union(shapely.boundary(seen.before), shapely.boundary(seen.left))
        return self.shape(left)

    @property
    def slab(self) -> tuple[float | None, float | None]:
        """Where the table ends at its opening, behind and before the fence; None if not shown."""
        hole = self.at_work.machine.table_opening
        swept = 2 * self.at_work.result.run.profile.radius
        half = self.scale * swept / 2 + 3.0 if hole is None else self.scale * hole / 2
        axis = self.scale * self.at_work.setup.places.axis
        back = axis - half if axis - half > self.table_in + 1.0 else None
        front = axis + half if axis + half < self.table_out - 1.0 else None
        return back, front

    def _table(self) -> list[Mark]:
        out, ends = self.out, (self.table_in, self.table_out)
        marks: list[Mark] = [line((out * ends[0], 0.0), (out * ends[1], 0.0), "frame")]
        for edge, end in zip(self.slab, ends, strict=True):
            if edge is not None:
                corners = ((out * edge, 0.0), (out * edge, SLAB), (out * end, SLAB))
                broken = wave((out * end, 0.0), (out * end, SLAB), 0.5)
                marks += [Polyline(corners, "frame"), Polyline(broken, "dimension")]
        return marks

    def _fence(self) -> list[Mark]:
        top, back = self.fence_top, -self.out * FENCE
        lower = top < self.scale * self.at_work.machine.fence.height - 1e-9
        marks: list[Mark] = [
            line((0.0, 0.0), (0.0, -top), "frame"),
            line((back, 0.0), (back, -top), "frame"),
        ]
        if lower:
            marks.append(Polyline(wave((0.0, -top), (back, -top), 0.8), "dimension"))
        else:
            marks.append(line((0.0, -top), (back, -top), "frame"))
        opening = self.cutter_top + 2.0
        if self.at_work.setup.places.near_edge < 0 and opening < top - 1.0:
            marks.append(line((0.0, -opening), (back, -opening), "hidden"))
        return marks

    def _cutter(self) -> list[Mark]:
        """Full lines in the open, dashed behind the fence face and below the table."""
        low = -BELOW / self.scale
        window = shapely.box(-NEVER, low, NEVER, NEVER)
        body = shapely.intersection(self.at_work.cutter, window)
        foot = shapely.LineString([(-NEVER, low), (NEVER, low)]).buffer(1e-6)
        edge = shapely.difference(shapely.boundary(body), foot)
        open_air = shapely.box(0.0, 0.0, NEVER, NEVER)
        seen = shapely.intersection(edge, open_air)
        hidden = shapely.difference(edge, open_air)
        ends = shapely.intersection(body, shapely.box(-NEVER, low - 1, NEVER, low + 1e-6)).bounds
        wavy = wave(self.point(ends[0], low), self.point(ends[2], low), 0.5)
        return [
            *strokes(self.shape(seen), "frame"),
            *strokes(self.shape(hidden), "hidden"),
            Polyline(wavy, "dimension"),
        ]

    def _walls(self) -> Iterator[list[Point]]:
        for wall in self.at_work.fresh_walls:
            yield [self.point(*wall.low), self.point(*wall.high)]
