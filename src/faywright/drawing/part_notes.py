"""What is written about the parts of a section: names, sizes, and which way they lie."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import shapely

from faywright.drawing.dimensioning import LEADING, Dimension, leader, lettered
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.model import Mark, Text, line
from faywright.drawing.naming import FACE_A, Naming
from faywright.drawing.standing import Standing

SIZE = 3.0
OUT = 5.0
"""From a part to the dimension line beside it. [mm]"""

NAMED = 7.0
"""From the joint to the name of an edge that lies up, clear of leaders to the joint. [mm]"""

CLEAR_OF_GAPS = 5.0
"""From the joint to lettering below it, clear of leaders to the gaps. [mm]"""


class _Side(NamedTuple):
    """The outer side of a part: which of its bounds, which way along x, how lettering is set."""

    bound: int
    outwards: int
    anchor: Literal["start", "end"]


LEFT, RIGHT = _Side(0, -1, "end"), _Side(2, 1, "start")


@dataclass(frozen=True)
class PartNotes:
    """Notes for the parts of ``standing``, named in the same order."""

    standing: Standing
    namings: Sequence[Naming]
    write: Callable[[float], str]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Sizes, faces and, where a strip is hidden between two boards, its name."""
        marks = [
            mark
            for k, side in ((0, LEFT), (len(self.standing.parts) - 1, RIGHT))
            for mark in (*self._height(k, side), *self._up(k, side))
        ]
        return (*marks, *(self._strip() if len(self.standing.parts) == 3 else ()))

    @property
    def depth(self) -> tuple[Mark, ...]:
        """How deep a grooved part is that is shown whole, under it."""
        seen = self.standing.shown[0]
        if "left" in seen.broken:
            return ()
        left, _, right, foot = seen.bounds
        dimension = Dimension(
            start=(left, foot),
            end=(right, foot),
            axis="x",
            at=foot + OUT,
            lines=(self.write(right - left),),
        )
        return dimension.marks

    def _height(self, k: int, side: _Side) -> Sequence[Mark]:
        """Name and thickness of a part beyond its outer end; in words where it is broken off."""
        part, seen, name = self.standing.parts[k], self.standing.shown[k], self.namings[k].name
        _, top, _, foot = seen.bounds
        x = seen.bounds[side.bound]
        size = self.write(_height(part))
        if seen.tall:
            middle = (top + foot - LEADING * SIZE + CAPITAL * SIZE) / 2
            first = middle if side is LEFT else middle + 2 * LEADING * SIZE  # clear of the lens
            lines = (name, f"{size} in all")
            return lettered(lines, (x + 3.0 * side.outwards, first), SIZE, anchor=side.anchor)
        return Dimension(
            start=(x, top),
            end=(x, foot),
            axis="y",
            at=x + OUT * side.outwards,
            lines=(name, size),
            below=side is RIGHT,  # beside it runs the line to the lens
            beyond=CLEAR_OF_GAPS,
        ).marks

    def _up(self, k: int, side: _Side) -> list[Mark]:
        """A letter A on face A with a tick down to it; another edge is named."""
        seen, up = self.standing.shown[k], self.namings[k].up
        left, top, right, _ = seen.bounds
        if up is None:
            return []
        if "top" in seen.broken:
            return [self._named(f"to {up}", top - 4.2, side)]
        if up != FACE_A:
            return [self._named(up, top - 2.8, side)]
        x = seen.bounds[side.bound] - side.outwards * min(3.0, (right - left) / 2)
        return [
            line((x, top - 0.3), (x, top - 1.7), "frame"),
            Text("A", (x, top - 2.8), 3.4, anchor="middle", emphasis="strong"),
        ]

    def _named(self, told: str, y: float, side: _Side) -> Text:
        """Above the middle of the part where no leader passes, else to its outer side."""
        left, _, right, _ = self.standing.shown[0].bounds
        clear = self.standing.over_strip > y + 2.0 and self.namings[1].up is None
        if side is LEFT and clear:
            return Text(told, ((left + right) / 2, y), SIZE, anchor="middle")
        return Text(told, (NAMED * side.outwards, y), SIZE, anchor=side.anchor)

    def _strip(self) -> list[Mark]:
        """Name and thickness of the strip, below the boards that hide it."""
        strip, foot = self.standing.parts[1], self.standing.bounds[3]
        told = f"{self.namings[1].name} {self.write(_height(strip))}"
        y = foot + 8.5
        middle = y - CAPITAL / 2 * SIZE
        place = (strip.bounds[2] / 2, strip.bounds[3])
        return [
            Text(told, (-8.0, y), SIZE, anchor="end"),
            *leader([(-7.0, middle), (-5.4, middle), place]),
        ]


def _height(part: shapely.Polygon) -> float:
    return float(part.bounds[3] - part.bounds[1])
