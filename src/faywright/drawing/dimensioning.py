"""Dimensions and leaders: a number, and the place it belongs to."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from faywright.drawing.hatching import Point
from faywright.drawing.lettering import CAPITAL, text_width
from faywright.drawing.model import Mark, Outline, Text, line
from faywright.errors import InputError

HEAD_LENGTH, HEAD_WIDTH = 2.2, 0.75
TAIL = 3.2
"""How far a dimension line runs on behind a head that points inwards from outside. [mm]"""

CLEAR = 0.8
"""Bare paper between a thing and the extension line that starts from it. [mm]"""

OVERRUN = 1.2
"""How far an extension line runs on past its dimension line. [mm]"""

LEADING = 1.3
"""From baseline to baseline. [em]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """The distance between two points along x or along y, written beside its dimension line.

    The dimension line stands at ``at``, an x for a distance along y and a y for one along x.
    Between points nearer than three heads the heads point in from outside. ``lines`` of
    lettering stand beside the dimension line, on the side away from the points, ``along`` mm
    further along it than its middle; or, ``below`` it, past the lower end of an upright one and
    to the right of ``beyond``. Line number ``strong`` is bold.
    """

    start: Point
    end: Point
    axis: Literal["x", "y"]
    at: float
    lines: tuple[str, ...]
    along: float = 0.0
    below: bool = False
    beyond: float = -math.inf
    size: float = 3.0
    strong: int | None = None

    def __post_init__(self) -> None:
        """A dimension says something."""
        if not self.lines:
            raise InputError(
                "no lettering given", where="dimension", remedy="Give the distance as text"
            )

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Extension lines, dimension line, heads and lettering."""
        return (*self.bare, *self._lettering())

    @property
    def bare(self) -> tuple[Mark, ...]:
        """Extension lines, dimension line and heads, for lettering that stands elsewhere."""
        return (*self._extensions(), *self._shaft())

    @property
    def _side(self) -> float:
        """+1 where the dimension line lies to the right of or below what it measures."""
        beside = 0 if self.axis == "y" else 1
        return math.copysign(1.0, self.at - (self.start[beside] + self.end[beside]) / 2)

    @property
    def _span(self) -> tuple[float, float]:
        measured = 1 if self.axis == "y" else 0
        low, high = sorted((self.start[measured], self.end[measured]))
        return low, high

    @property
    def _roomy(self) -> bool:
        """Whether both heads stand between the extension lines."""
        low, high = self._span
        return high - low >= 3 * HEAD_LENGTH

    def _point(self, along: float, beside: float) -> Point:
        return (beside, along) if self.axis == "y" else (along, beside)

    def _extensions(self) -> list[Mark]:
        measured, beside = (1, 0) if self.axis == "y" else (0, 1)
        return [
            line(
                self._point(point[measured], point[beside] + self._side * CLEAR),
                self._point(point[measured], self.at + self._side * OVERRUN),
                "dimension",
            )
            for point in (self.start, self.end)
        ]

    def _shaft(self) -> list[Mark]:
        low, high = self._span
        marks: list[Mark] = []
        for tip, outward in ((low, -1.0), (high, 1.0)):
            back = -outward if self._roomy else outward
            marks.append(self._head(tip, back))
            if not self._roomy:
                tail = tip + back * (HEAD_LENGTH + TAIL)
                marks.append(
                    line(self._point(tip, self.at), self._point(tail, self.at), "dimension")
                )
        if self._roomy:
            marks.append(line(self._point(low, self.at), self._point(high, self.at), "dimension"))
        return marks

    def _head(self, tip: float, back: float) -> Outline:
        """An arrow head with its point at ``tip``, its body towards ``back``."""
        return arrow_head(self._point(tip, self.at), self._point(back, 0.0))

    def _lettering(self) -> list[Mark]:
        low, high = self._span
        middle = (low + high) / 2 + self.along
        height = LEADING * self.size * (len(self.lines) - 1)
        down = 2.0 + CAPITAL * self.size
        anchor: Literal["start", "middle", "end"] = "middle"
        if self.axis == "x":
            x, first = middle, self.at + down if self._side > 0 else self.at - 2.0 - height
        elif self.below:
            wide = max(text_width(told, self.size) for told in self.lines)
            x = max(self.at, self.beyond + wide / 2)
            first = high + down + (0.0 if self._roomy else HEAD_LENGTH + TAIL)
        else:
            x = self.at + self._side * 2.4
            first = middle - height / 2 + CAPITAL * self.size / 2
            anchor = "start" if self._side > 0 else "end"
        return lettered(self.lines, (x, first), self.size, anchor=anchor, strong=self.strong)


def lettered(
    lines: Sequence[str],
    at: Point,
    size: float,
    *,
    anchor: Literal["start", "middle", "end"] = "start",
    strong: int | None = None,
) -> list[Mark]:
    """Lines of lettering under each other, one of them ``strong``; ``at`` anchors the first."""
    return [
        Text(
            text,
            (at[0], at[1] + LEADING * size * k),
            size,
            anchor=anchor,
            emphasis="strong" if k == strong else "plain",
        )
        for k, text in enumerate(lines)
    ]


def arrow_head(tip: Point, towards: Point) -> Outline:
    """A slim solid head with its point at ``tip``; ``towards`` points from there to its body."""
    length = math.hypot(*towards)
    dx, dy = towards[0] / length, towards[1] / length
    bx, by = tip[0] + dx * HEAD_LENGTH, tip[1] + dy * HEAD_LENGTH
    wing = HEAD_WIDTH / 2
    corners = (tip, (bx - dy * wing, by + dx * wing), (bx + dy * wing, by - dx * wing))
    return Outline(corners, None, solid=True)


def leader(path: Sequence[Point]) -> list[Mark]:
    """A thin line along ``path`` with an arrow head at its last point, the place it names."""
    (x0, y0), tip = path[-2], path[-1]
    marks: list[Mark] = [line(start, end, "dimension") for start, end in pairwise(path)]
    return [*marks, arrow_head(tip, (x0 - tip[0], y0 - tip[1]))]
