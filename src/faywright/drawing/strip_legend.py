"""What the marks of a thickness strip stand for: small samples, and the bars they are made of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from faywright.drawing.heading import LINE, SHEET_WIDTH, SIZE
from faywright.drawing.lettering import CAPITAL, text_width
from faywright.drawing.model import Mark, Outline, Text, Weight, line

BAR = 0.7
"""How tall the bar of a board's readings is. [mm]"""

SAMPLE, BESIDE, BETWEEN = 7.0, 1.5, 4.0
"""Width of a sample, and bare paper beside it and between one and the next. [mm]"""


class _Sample(NamedTuple):
    """Where a sample stands, how it is drawn (None: as a board), and what it stands for."""

    x: float
    weight: Weight | None
    told: str


@dataclass(frozen=True)
class Legend:
    """A sample of a board and one of each of ``bars``, the first line's baseline at ``top``."""

    bars: tuple[tuple[Weight, str], ...]
    top: float

    @property
    def foot(self) -> float:
        """Baseline of the last line."""
        return self.top + (len(self._lines) - 1) * 1.3 * LINE

    @property
    def marks(self) -> Iterator[Mark]:
        """Samples and words."""
        for k, samples in enumerate(self._lines):
            y = self.top + k * 1.3 * LINE
            middle = y - CAPITAL * SIZE / 2
            for x, weight, told in samples:
                if weight is None:
                    yield readings_bar(x, x + SAMPLE, middle, BAR)
                    tick = x + SAMPLE / 2
                    yield line((tick, middle - 1.4), (tick, middle + 1.4), "outline")
                else:
                    yield open_bar(x, middle - 1.4, x + SAMPLE, middle + 1.4, weight)
                yield Text(told, (x + SAMPLE + BESIDE, y), SIZE)

    @cached_property
    def _lines(self) -> list[list[_Sample]]:
        """Samples in as many lines as they take."""
        lines: list[list[_Sample]] = [[]]
        x = 0.0
        board = (None, "thickness, and its readings from least to greatest")
        for weight, told in (board, *self.bars):
            wide = SAMPLE + BESIDE + text_width(told, SIZE)
            if x + wide > SHEET_WIDTH:
                lines.append([])
                x = 0.0
            lines[-1].append(_Sample(x, weight, told))
            x += wide + BETWEEN
        return lines


def open_bar(left: float, top: float, right: float, foot: float, weight: Weight) -> Outline:
    """The bar of what a setting serves."""
    return Outline(((left, top), (right, top), (right, foot), (left, foot)), weight)


def readings_bar(low: float, high: float, y: float, tall: float) -> Outline:
    """The thin solid bar of a board's readings."""
    top, foot = y - tall / 2, y + tall / 2
    return Outline(((low, top), (high, top), (high, foot), (low, foot)), None, solid=True)
