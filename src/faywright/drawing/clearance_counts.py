"""Many pairs counted by their clearance: hatched columns over the steps of an axis."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import count, pairwise

import numpy as np
from numpy.typing import NDArray

from faywright.drawing.axis import SMALL_TICK, Axis
from faywright.drawing.hatching import Hatch
from faywright.drawing.heading import LINE, SIZE
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.model import Mark, Outline, Text, line

Floats = NDArray[np.float64]

TALL = 34.0
"""How tall the fullest column is. [mm]"""

ABOVE = 5.0
"""Room over the columns for the bar of the uncertainty. [mm]"""

MOST_STEPS = 5
"""Numbers of the scale of pairs, nought not counted."""

WOOD = Hatch(45.0, 1.2)


@dataclass(frozen=True, eq=False)
class Counts:
    """``mean`` clearances in columns, the bar of ``expanded`` over them. [mm]"""

    mean: Floats
    expanded: float
    axis: Axis

    @property
    def height(self) -> float:
        """Of the bar and the columns."""
        return ABOVE + TALL

    @property
    def marks(self) -> Iterator[Mark]:
        """The bar, the columns, and the scale of pairs to the left."""
        yield from self._bar
        for (low, high), many in zip(pairwise(self.edges), self.counted, strict=True):
            if many:
                left, right = self.axis.at(low), self.axis.at(high)
                top, foot = self._y(many), self.height
                corners = ((left, top), (right, top), (right, foot), (left, foot))
                yield Outline(corners, "outline", WOOD)
        left = self.axis.left
        yield line((left, ABOVE), (left, self.height), "frame")
        for many in self.steps:
            y = self._y(many)
            yield line((left - SMALL_TICK, y), (left, y), "frame")
            base = y + CAPITAL * SIZE / 2
            yield Text(f"{many}", (left - SMALL_TICK - 1.0, base), SIZE, anchor="end")

    @cached_property
    def edges(self) -> tuple[float, ...]:
        """Where columns meet: at the ticks of the axis, and at its ends."""
        places = self.axis.small_ticks or tuple(tick.value for tick in self.axis.ticks)
        inner = [place for place in places if self.axis.low < place < self.axis.high]
        return (self.axis.low, *inner, self.axis.high)

    @cached_property
    def counted(self) -> tuple[int, ...]:
        """Pairs in each column; one on an edge is in the column above it."""
        found, _ = np.histogram(self.mean, bins=self.edges)
        return tuple(int(many) for many in found)

    @cached_property
    def steps(self) -> tuple[int, ...]:
        """Numbers of pairs on the scale, whole and round."""
        most = max(self.counted)
        for power in count():
            for digit in (1, 2, 5):
                step = digit * 10**power
                far_enough = step * TALL / most >= LINE
                if most // step <= MOST_STEPS and far_enough:
                    return tuple(range(0, most + 1, step))
        raise AssertionError("steps grow without end")

    @property
    def _bar(self) -> Iterator[Mark]:
        """As wide as a pair is unsure, about the middle one."""
        y, middle = ABOVE / 2, float(np.median(self.mean))
        low, high = (self.axis.at(middle + side * self.expanded) for side in (-1, 1))
        if high - low > 1e-6:
            yield line((low, y), (high, y), "outline")
            for x in (low, high):
                yield line((x, y - 1.2), (x, y + 1.2), "outline")

    def _y(self, many: int) -> float:
        return self.height - TALL * many / max(self.counted)
