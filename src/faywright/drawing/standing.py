"""The section of a mated pair on paper at its true size, before anything is written about it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import shapely

from faywright.drawing.broken import Shown, shown
from faywright.drawing.hatching import Hatch
from faywright.drawing.model import Bounds, Mark
from faywright.drawing.pairing import MatedPair
from faywright.drawing.view import LEANS, View, part_marks

TRUE = View(1.0, 0.0, 0.0)
"""The joint at its true size, face A of the grooved part and its edge at the paper's zero."""

ACROSS = 20.0
"""How much of a part taller than its joint is shown above and below the other part. [mm]"""

OVER_STRIP = 8.0
"""How far above a strip the line to the lens runs, clear of the heads of its dimension. [mm]"""


@dataclass(frozen=True)
class Standing:
    """The parts where they stand on paper, each shown up to ``reach`` mm beyond the joint."""

    pair: MatedPair
    reach: float

    @cached_property
    def parts(self) -> tuple[shapely.Polygon, ...]:
        """The parts on paper, as in ``pair.parts``."""
        return tuple(TRUE.shape(part) for part in self.pair.parts)

    @cached_property
    def shown(self) -> tuple[Shown, ...]:
        """How much of each part is shown."""
        grooved, tongued, *facing = self.parts
        deepest = max([-tongued.bounds[0], *(gap.fixed for gap in self.pair.of_kind("bottom"))])
        right = tongued.bounds[2] if facing else 0.0
        reach = (self.reach, ACROSS, self.reach, ACROSS)
        return tuple(
            shown(part, (-deepest, other.bounds[1], right, other.bounds[3]), reach)
            for part, other in zip(self.parts, (tongued, grooved, tongued), strict=False)
        )

    @property
    def bounds(self) -> Bounds:
        """The least rectangle about all that is shown."""
        lefts, tops, rights, feet = zip(*(part.bounds for part in self.shown), strict=True)
        return min(lefts), min(tops), max(rights), max(feet)

    @property
    def middle(self) -> float:
        """Half way down what grooved and tongued part have in common."""
        grooved, tongued = (part.bounds for part in self.shown[:2])
        return (max(grooved[1], tongued[1]) + min(grooved[3], tongued[3])) / 2

    @property
    def over_strip(self) -> float:
        """Where a line to the lens passes above a strip."""
        return float(self.parts[1].bounds[1]) - OVER_STRIP

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Hatching and edges of each part, and break lines where it is broken off."""
        marks: list[Mark] = []
        for part, seen, lean in zip(self.parts, self.shown, LEANS, strict=False):
            _, top, _, foot = seen.bounds
            spacing = min(max((foot - top) / 9, 1.0), 2.4)
            marks += part_marks(part, seen.window, Hatch(lean, spacing))
        return (*marks, *(line for seen in self.shown for line in seen.breaks))
