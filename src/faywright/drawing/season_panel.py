"""One quantity of wood over the months: its curve, its band, its levels and its extremes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal

import numpy as np
import shapely

from faywright.drawing.apart import spread_apart
from faywright.drawing.axis import SMALL_TICK, Axis
from faywright.drawing.dimensioning import lettered
from faywright.drawing.hatching import Hatch, Point
from faywright.drawing.heading import LINE, SIZE
from faywright.drawing.inking import chain, hatched
from faywright.drawing.lettering import ASCENT, CAPITAL, DESCENT, text_width
from faywright.drawing.model import Mark, Outline, Polyline, Text, Weight, line
from faywright.drawing.season_year import Course, Kind, Said
from faywright.lengths import LengthStyle

STRIP = 5.2
"""Above and below the curves of a panel, so that what is said of them always finds room. [mm]"""

BESIDE, BESIDE_TICK = 3.2, 0.9
"""From the end of a level to its words, and from a tick to its number. [mm]"""

CLEAR, PAD = 1.4, 0.6
"""Bare paper between lettering and a curve, and between lettering and any other line. [mm]"""

DOT, DIAMOND = 0.65, 1.4
"""Half of what marks a month, and of what marks the day it was assembled. [mm]"""

SEEN = 0.1
"""A band thinner than this on paper is nothing but its line. [mm]"""


@dataclass(frozen=True, slots=True)
class Level:
    """A value that months are compared with, how its line is drawn, and what stands beside it."""

    value: float
    kind: Kind
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Scale:
    """Values from ``low`` to ``high`` on paper from ``foot`` up to ``top``."""

    low: float
    high: float
    top: float
    foot: float
    style: LengthStyle

    def y(self, value: float) -> float:
        """Where a value stands."""
        return self.foot - (value - self.low) / (self.high - self.low) * (self.foot - self.top)

    @cached_property
    def ticks(self) -> tuple[tuple[float, str], ...]:
        """Heights on paper and their numbers.

        A level axis keeps its numbers apart by their width; numbers one above the other may
        stand closer, so that an upright one is given more paper than it has until it has enough.
        """
        found: list[tuple[float, str]] = []
        for longer in (1.6, 2.2, 3.0, 4.0):
            axis = Axis(self.low, self.high, 0.0, longer * (self.foot - self.top), self._marked)
            ticks = [(self.y(tick.value), tick.label) for tick in axis.ticks]
            for more in (ticks, ticks[::2]):
                apart = min((a[0] - b[0] for a, b in pairwise(more)), default=math.inf)
                if len(more) > len(found) and apart >= SIZE * (ASCENT + DESCENT) + PAD:
                    found = more
            if len(found) >= 3:
                break
        return tuple(found)

    @property
    def _marked(self) -> LengthStyle:
        """No hundredths where there is no room for them; to look for it would take long."""
        coarse = self.style.style == "mm" and self.high - self.low > 10
        return LengthStyle("mm", 1) if coarse else self.style


@dataclass(frozen=True)
class Panel:
    """One quantity over the months, from ``left`` to ``right``.

    The first of ``levels`` is that of the day of assembly; ``day`` is its month, if known.
    """

    course: Course
    scale: Scale
    levels: tuple[Level, ...]
    said: Said
    day: int | None
    left: float
    right: float

    @property
    def top(self) -> float:
        """Upper end of the panel, above the curves."""
        return self.scale.top - STRIP

    @property
    def foot(self) -> float:
        """Lower end of the panel, where its months are."""
        return self.scale.foot + STRIP

    def x(self, month: int) -> float:
        """Where a month stands, by its index from 0."""
        return self.left + (month + 0.5) * (self.right - self.left) / 12

    @property
    def marks(self) -> Iterator[Mark]:
        """The band first, everything else over it."""
        yield from self._frame()
        yield from self._band()
        yield from self._levels()
        yield Polyline(self._run(self.course.mean), "outline")
        for month in range(12):
            yield _dot(self.x(month), self.scale.y(self.course.mean[month]))
        if self.day is not None:
            x, y = self.x(self.day), self.scale.y(self.levels[0].value)
            corners = ((x - DIAMOND, y), (x, y - DIAMOND), (x + DIAMOND, y), (x, y + DIAMOND))
            yield Outline(corners, "frame")
        yield from self._extremes()

    @property
    def banded(self) -> bool:
        """Whether there is a band to be seen."""
        low, high = self._run(self.course.low), self._run(self.course.high)
        return max(a[1] - b[1] for a, b in zip(low, high, strict=True)) >= SEEN

    def _run(self, values: Sequence[float]) -> tuple[Point, ...]:
        return tuple((self.x(month), self.scale.y(values[month])) for month in range(12))

    def _frame(self) -> Iterator[Mark]:
        yield line((self.left, self.top), (self.left, self.foot), "frame")
        yield line((self.left, self.foot), (self.right, self.foot), "frame")
        for month in range(12):
            x = self.x(month)
            yield line((x, self.foot), (x, self.foot + SMALL_TICK), "frame")
        for y, label in self.scale.ticks:
            yield line((self.left - SMALL_TICK, y), (self.left, y), "frame")
            base = y + CAPITAL * SIZE / 2
            yield Text(label, (self.left - SMALL_TICK - BESIDE_TICK, base), SIZE, anchor="end")

    def _band(self) -> Iterator[Mark]:
        """Hatched between its edges, which are drawn thinly."""
        if not self.banded:
            return
        low, high = self._run(self.course.low), self._run(self.course.high)
        edges = list(zip(low, high, strict=True))
        parts = [shapely.Polygon((a, b, d, c)) for (a, b), (c, d) in pairwise(edges)]
        whole = shapely.union_all([part for part in parts if part.area > 0])
        yield from hatched(whole, (Hatch(45.0, 1.2),))
        yield Polyline(low, "dimension")
        yield Polyline(high, "dimension")

    def _levels(self) -> Iterator[Mark]:
        """Lines across the panel, and words to the right of it, kept apart."""
        heights = [self.scale.y(level.value) for level in self.levels]
        tall = LINE + SIZE * (ASCENT + DESCENT) + CLEAR
        places = spread_apart(heights, tall, (self.top + tall / 2, self.foot - tall / 2))
        for level, y, at in zip(self.levels, heights, places, strict=True):
            if level.kind == "limit":
                yield from chain((self.left, y), (self.right, y))
            else:
                weight: Weight = "hidden" if level.kind == "day" else "frame"
                yield line((self.left, y), (self.right, y), weight)
            yield line((self.right, y), (self.right + BESIDE - 1.0, at), "dimension")
            first = at + CAPITAL * SIZE / 2 - LINE * (len(level.lines) - 1) / 2
            yield from lettered(level.lines, (self.right + BESIDE, first), SIZE)

    def _extremes(self) -> Iterator[Mark]:
        """The greatest above the curve and the least below it, or one word for a flat year."""
        if self.said.flat:
            yield self._told(self.said.all_year, 5, -1)[0]
            return
        yield from self._told(*self.said.greatest, -1)
        yield from self._told(*self.said.least, 1)

    def _told(self, told: str, month: int, outward: Literal[-1, 1]) -> tuple[Mark, Mark]:
        """``told`` and a line to its month, at the first free place up (-1) or down (1)."""
        x, wide = self.x(month), text_width(told, SIZE)
        # Anchored so that lettering narrower than reckoned still stands over its month.
        anchor: Literal["start", "middle", "end"] = "middle"
        start, at = x - wide / 2, x
        if start < self.left + 1.0:
            anchor, start = "start", self.left + 1.0
            at = start
        elif start + wide > self.right - 1.0:
            anchor, at = "end", self.right - 1.0
            start = at - wide
        near = self._free(start, start + wide, outward)
        base = near + SIZE * (ASCENT if outward > 0 else -DESCENT)
        tip = self.scale.y(self.course.mean[month])
        leading = line((x, near - 0.3 * outward), (x, tip), "dimension")
        return Text(told, (at, base), SIZE, anchor=anchor), leading

    def _free(self, start: float, end: float, outward: Literal[-1, 1]) -> float:
        """Where lettering may begin, beyond the curve and between levels and marks."""
        edge = self._run(self.course.low if outward > 0 else self.course.high)
        xs, ys = np.array(edge).T
        asked = np.array([start - CLEAR, *xs[(xs > start) & (xs < end)], end + CLEAR])
        near = float((np.interp(asked, xs, ys) * outward).max()) + CLEAR
        tall = SIZE * (ASCENT + DESCENT)
        for low, high in sorted(self._in_the_way(start, end, outward)):
            if low - PAD < near + tall and near < high + PAD:
                near = high + PAD
        return near * outward

    def _in_the_way(
        self, start: float, end: float, outward: Literal[-1, 1]
    ) -> Iterator[tuple[float, float]]:
        """Where levels and the mark of the day lie, counted outwards."""
        for level in self.levels:
            at = self.scale.y(level.value) * outward
            yield at, at
        day = math.inf if self.day is None else self.x(self.day)
        if start - PAD < day + DIAMOND and day - DIAMOND < end + PAD:
            at = self.scale.y(self.levels[0].value) * outward
            yield at - DIAMOND, at + DIAMOND


def _dot(x: float, y: float) -> Outline:
    turns = [math.tau * k / 12 for k in range(12)]
    points = tuple((x + DOT * math.cos(turn), y + DOT * math.sin(turn)) for turn in turns)
    return Outline(points, None, solid=True)
