"""Names of the gaps that the lens does not show, outside the section, with leaders to them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from faywright.drawing.dimensioning import LEADING, leader, lettered
from faywright.drawing.hatching import Point
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.model import Mark
from faywright.drawing.pairing import GapPlace
from faywright.drawing.standing import TRUE, Standing

SIZE = 3.0
LINE = LEADING * SIZE
CLEAR = 8.5
"""From the section to the nearest label. [mm]"""

RIGHT = -8.0
"""Where labels end. [mm]"""


@dataclass(frozen=True)
class GapLabels:
    """Labels for ``gaps``, those nearer the foot of the joint below it, the others above."""

    standing: Standing
    gaps: tuple[GapPlace, ...]
    words: Callable[[GapPlace], tuple[str, ...]]

    @property
    def above(self) -> tuple[Mark, ...]:
        """Labels above the section, the one for the highest place uppermost."""
        marks: list[Mark] = []
        y = self.standing.bounds[1] - CLEAR
        for gap, place in sorted(self._places("above"), key=lambda found: -found[1][1]):
            y -= LINE * (len(self.words(gap)) - 1)
            marks += self._label(gap, place, y)
            y -= LINE + 1.1
        return tuple(marks)

    @property
    def below(self) -> tuple[Mark, ...]:
        """Labels below the section, the one for the lowest place lowest."""
        marks: list[Mark] = []
        y = self.standing.bounds[3] + CLEAR
        for gap, place in sorted(self._places("below"), key=lambda found: found[1][1]):
            marks += self._label(gap, place, y)
            y += LINE * len(self.words(gap)) + 1.1
        return tuple(marks)

    def _places(self, where: Literal["above", "below"]) -> list[tuple[GapPlace, Point]]:
        places = [(gap, self._place(gap)) for gap in self.gaps]
        middle = self.standing.middle
        return [found for found in places if (found[1][1] < middle) is (where == "above")]

    def _place(self, gap: GapPlace) -> Point:
        """The middle of the gap on paper; a step is pointed at where it stands proud."""
        if gap.kind == "step":
            return TRUE.point(self._step(gap), 0.0)
        across, along = (gap.fixed + gap.moved) / 2, (gap.low + gap.high) / 2
        if gap.kind == "cheek":
            return TRUE.point(across, along)
        if gap.kind == "shoulder":  # near the face that the leader comes from
            near = min((gap.high - gap.low) / 2, 3.0)
            along = gap.low + near if along < self.standing.middle else gap.high - near
        return TRUE.point(along, across)

    def _step(self, gap: GapPlace) -> float:
        """The face that stands proud, or the other where that one is broken off."""
        ends = (gap.fixed, gap.moved)
        seen = self.standing.shown[:2]
        return max(end for end, part in zip(ends, seen, strict=True) if "foot" not in part.broken)

    def _label(self, gap: GapPlace, place: Point, y: float) -> list[Mark]:
        middle = y - CAPITAL / 2 * SIZE
        size, *remark = self.words(gap)
        return [
            *lettered([f"{gap.name} {size}", *remark], (RIGHT, y), SIZE, anchor="end"),
            *leader([(RIGHT + 1.0, middle), (RIGHT + 2.6, middle), place]),
        ]
