"""A setup seen from above: which way the work goes, and where hands may be."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely

from faywright.drawing.along_feed import ratio
from faywright.drawing.at_work import AtWork
from faywright.drawing.dimensioning import arrow_head, leader
from faywright.drawing.hatching import Hatch, Point
from faywright.drawing.inking import bold_arrow, chain, heavy, strokes, wrapped
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.model import (
    Drawing,
    Mark,
    Outline,
    Polyline,
    Text,
    drawing_around,
    joined,
    line,
)
from faywright.drawing.view import rounded, wave
from faywright.joints.work import Work
from faywright.setups.sheet import Setup
from faywright.shop.machines import Machine

SCALES = (2.0, 1.0, 0.5)
TALLEST = 100.0
"""The largest scale is taken at which a drawing is no taller. [mm]"""

SIZE, HEADING_SIZE = 2.8, 3.4

FENCE = 9.0
"""How thick the fence is shown. [mm on paper]"""

LINE = 3.9
"""From one line of lettering to the next. [mm]"""

PUSH = 12.0
"""How much of wide work a push block takes. [mm on paper]"""

HAND = (15.0, 6.0)
BESIDE_ZONE, BEYOND = 22.0, 12.0
"""Work shown beyond the zone at either end, and what is shown of fence and table beyond the
work. [mm on paper]"""

BLOCK = 8.0
"""How thick the block behind the work is shown. [mm on paper]"""

BEYOND_CUT = 10.0
"""How much of wide work is shown beyond the cut. [mm on paper]"""


def from_above(
    setup: Setup, work: Work, machine: Machine, *, write: Callable[[float], str]
) -> Drawing:
    """The first pass of ``setup`` from above, the operator at the foot of the sheet.

    Across the fence it is to scale; along it only the order of things is meant.
    """
    at_work = AtWork(setup, work, machine)
    for scale in SCALES:
        sheet = _Plan(at_work, scale, write)
        _, top, _, foot = joined(mark.bounds for mark in sheet.marks)
        if foot - top <= TALLEST:
            break
    return drawing_around(
        sheet.marks,
        title=f"Setup {setup.number}, seen from above",
        description=sheet.told,
        margin=4.0,
        scale=scale,
    )


@dataclass(frozen=True)
class _Plan:
    """One setup at one scale; the spindle axis stands at x = 0, the fence face at y = 0."""

    at_work: AtWork
    scale: float
    write: Callable[[float], str]

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

    # sizes on paper

    @property
    def radius(self) -> float:
        return self.scale * self.at_work.result.run.profile.radius

    @property
    def axis(self) -> float:
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
        cut = max(self.scale * self.at_work.setup.places.far_edge, 0.0) + BEYOND_CUT
        return (cut, True) if y > 1.4 * cut else (y, False)

    @property
    def side(self) -> float:
        """Out from here nothing of work and cutter stands."""
        far = self.scale * self.at_work.setup.places.far_edge
        return max(self.wide[0], far)

    @property
    def back(self) -> float:
        """Behind here nothing of fence and cutter stands; negative."""
        return min(-FENCE, self.axis - self.radius) - 1.0

    # marks

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Everything, heading first."""
        below = [
            *self._fence(),
            *self._work(),
            *self._cutter(),
            *self._behind_work(),
            *self._featherboard(),
            *self._hands(),
            *self._zone(),
            *self._feed(),
            *self._operator(),
            *self._labels(),
        ]
        left, top, _, _ = joined(mark.bounds for mark in below)
        return (*self._heading(left, top), *below)

    def _fence(self) -> list[Mark]:
        gap, end = self.radius + 3.0, self.end + BEYOND
        marks: list[Mark] = []
        for side, told in ((1, "infeed"), (-1, "outfeed")):
            corners = [(side * end, -FENCE), (side * gap, -FENCE), (side * gap, 0), (side * end, 0)]
            path = tuple(self.point(*corner) for corner in corners)
            broken = wave(self.point(side * end, -FENCE), self.point(side * end, 0.0), 0.6)
            marks += [Polyline(path, "frame"), Polyline(broken, "dimension")]
            middle = self.point(side * (self.zone + end) / 2, -FENCE / 2)
            marks.append(self._text(f"fence, {told}", middle))
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
        place = self._fresh_place()
        if place is not None:
            marks += heavy([self.point(0.0, place), self.point(-self.end, place)])
        return marks

    def _fresh_place(self) -> float | None:
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
        """An arc three quarters round; y runs down the sheet, so clockwise is to more degrees."""
        radius = self.radius + 2.0
        clockwise = self.at_work.machine.rotation == "clockwise"
        first, last = (135.0, 405.0) if clockwise else (45.0, -225.0)
        arc = _arc(centre, radius, first, last)
        turn = math.radians(last)
        forward = 1 if clockwise else -1
        back = (forward * math.sin(turn), -forward * math.cos(turn))
        tip = (arc[-1][0] - back[0] * 1.1, arc[-1][1] - back[1] * 1.1)
        return [Polyline(arc, "frame"), arrow_head(tip, back)]

    def _behind_work(self) -> list[Mark]:
        """What pushes: a backing block where the grain ends at the cut, else a push block."""
        wide = self.wide[0]
        out = wide if self.at_work.work.end_grain else min(wide, PUSH)
        corners = [
            self.point(self.end + 0.5, 0.5),
            self.point(self.end + 0.5 + BLOCK, 0.5),
            self.point(self.end + 0.5 + BLOCK, out),
            self.point(self.end + 0.5, out),
        ]
        return [Outline(tuple(corners), "frame", Hatch(90.0, 1.6))]

    def _featherboard(self) -> list[Mark]:
        """Fingers that lean the way the work goes, just before the cutter."""
        near, far = self.radius + 4.0, self.radius + 20.0
        body = [(near, 5.0), (near, 10.0), (far, 10.0), (far, 5.0)]
        marks: list[Mark] = [self._path([(x, self.side + y) for x, y in body])]
        edge = self.wide[0] + 0.4
        count = 6
        step = (far - near) / count
        for k in range(count + 1):
            foot = near + k * step
            marks.append(self._path([(foot, self.side + 5.0), (foot - 2.2, edge)]))
        return marks

    def _hands(self) -> list[Mark]:
        """Where hands may be: on the work, beyond the zone on either side."""
        wide, high = HAND
        marks: list[Mark] = []
        for side in (1, -1):
            x, y = self.point(side * (self.zone + 3.0 + wide / 2), self.side + 1.4 + high / 2)
            frame = rounded(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2, 2.4)
            marks += [Outline(frame, "frame"), self._text("hand", (x, y))]
        return marks

    def _zone(self) -> list[Mark]:
        """Where no hand comes, across the whole table."""
        low, high = self.back - 6.0, self.side + 12.0
        marks: list[Mark] = []
        for side in (1, -1):
            marks += chain(self.point(side * self.zone, low), self.point(side * self.zone, high))
        level = self.back - 4.5
        ends = [self.point(side * self.zone, level) for side in (1, -1)]
        told = "keep hands out of here, 100 mm clear of the cutter"
        inward = math.copysign(1.0, ends[1][0] - ends[0][0])
        marks += [
            line(ends[0], ends[1], "dimension"),
            arrow_head(ends[0], (inward, 0.0)),
            arrow_head(ends[1], (-inward, 0.0)),
            self._text(told, self.point(0.0, level - 4.0)),
        ]
        return marks

    @property
    def feed_level(self) -> float:
        """How far out the feed arrow lies. [mm on paper]"""
        return self.side + 17.0

    def _feed(self) -> list[Mark]:
        half = self.zone + 12.0
        level = self.feed_level
        arrow = bold_arrow(self.point(half, level), self.point(-half, level))
        told = f"feed {self.at_work.feed}"
        return [arrow, self._text(told, self.point(0.0, level + 4.6), 3.4, strong=True)]

    def _operator(self) -> list[Mark]:
        """The edge of the table on the operator's side, at the foot of the sheet."""
        if self.at_work.fence_behind:
            y = self.feed_level + 9.5
        else:
            y = -self.back + 13.0
        half = self.end + BEYOND
        return [
            line((-half, y), (half, y), "frame"),
            line((-half, y + 1.0), (half, y + 1.0), "dimension"),
            self._text("edge of the table; you stand here", (0.0, y + 4.2)),
        ]

    def _labels(self) -> list[Mark]:
        """What the things beside the work are called."""
        level = self.side + 13.0
        marks: list[Mark] = [
            self._text("featherboard", self.point(self.radius + 12.0, level)),
            *self._face(),
        ]
        told = "backing block" if self.at_work.work.end_grain else "push block"
        along, low = self.end + 7.0, self.side + 4.4
        foot = self.wide[0] if self.at_work.work.end_grain else min(self.wide[0], PUSH)
        marks.append(self._text(told, self.point(along, low)))
        if low - foot > 6.0:
            tip = self.point(self.end + BLOCK / 2, foot)
            marks += leader([self.point(self.end + BLOCK / 2, low - 2.4), tip])
        return [*marks, *self._fresh_label(level - 1.5)]

    def _fresh_label(self, level: float) -> list[Mark]:
        place = self._fresh_place()
        if place is None:
            return []
        along = -(self.radius + 12.5)
        path = [self.point(along, level - 2.4), self.point(along, place)]
        return [self._text("fresh wall", self.point(along, level)), *leader(path)]

    def _face(self) -> list[Mark]:
        """A letter A on the face that is seen, or within the edge that is seen of it."""
        face = self.at_work.face_a
        if face is None or face[0] == "down":
            return []
        wide, broken = self.wide
        along, size = self.zone - 6.0, min(3.4, wide - 2.6)
        if face[0] == "up":
            return [self._text("A", self.point(along, wide / 2), size, strong=True)]
        near = face[0] == "against the fence"
        if broken and not near:
            return []
        edge, inward = (0.0, 1.0) if near else (wide, -1.0)
        middle = edge + inward * (1.2 + size / 2)
        ends = [self.point(along + 2.4, edge + inward * depth) for depth in (0.0, 2.0)]
        return [
            self._text("A", self.point(along, middle), size, strong=True),
            line(ends[0], ends[1], "frame"),
        ]

    def _text(self, told: str, middle: Point, size: float = SIZE, *, strong: bool = False) -> Text:
        """Lettering with its middle at a point."""
        at = (middle[0], middle[1] + CAPITAL * size / 2)
        return Text(told, at, size, "middle", emphasis="strong" if strong else "plain")

    def _path(self, points: Sequence[Point]) -> Polyline:
        return Polyline(tuple(self.point(*point) for point in points), "frame")

    def _heading(self, left: float, top: float) -> list[Mark]:
        head = f"Setup {self.at_work.setup.number}, seen from above"
        lines = [text for note in self._notes() for text in wrapped(note, SIZE, 120.0)]
        y = top - 4.6 - LINE * len(lines)
        marks: list[Mark] = [Text(head, (left, y), HEADING_SIZE, emphasis="strong")]
        for text in lines:
            y += LINE
            marks.append(Text(text, (left, y), SIZE))
        return marks

    def _notes(self) -> list[str]:
        turns = f"the cutter turns {self.at_work.machine.rotation}"
        scale = f"{ratio(self.scale)} across the fence, not to scale along it"
        return [self.at_work.lying, *filter(None, [self.at_work.turned_about]), f"{turns}; {scale}"]

    @property
    def told(self) -> str:
        """The drawing in words."""
        block = "backed by a block" if self.at_work.work.end_grain else "pushed with a block"
        return (
            f"{'. '.join(self._notes())}. Feed {self.at_work.feed}, the work {block}, a "
            "featherboard before the cutter, hands 100 mm clear of it."
        )


def _arc(centre: Point, radius: float, first: float, last: float) -> tuple[Point, ...]:
    """Points along an arc, degrees from the right and clockwise on paper."""
    steps = max(8, round(abs(last - first) / 7.5))
    turns = [math.radians(first + (last - first) * k / steps) for k in range(steps + 1)]
    return tuple(
        (centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)) for turn in turns
    )
