"""A level axis of lengths in the maker's units, with ticks where a rule would have them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import count, takewhile
from typing import NamedTuple

from faywright.drawing.dimensioning import LEADING
from faywright.drawing.lettering import CAPITAL, text_width
from faywright.drawing.model import Mark, Text, line
from faywright.errors import RangeError
from faywright.lengths import INCH, LengthStyle

SIZE = 2.6
TICK, SMALL_TICK = 2.0, 1.1
BETWEEN = 3.0
"""Bare paper between the numbers at two ticks. [mm]"""

LEAST_ROOM = 1.6
"""Small ticks stand at least this far apart. [mm]"""

MOST_FRACTIONS = 3
"""So many fractions of a rule at least have to fall on an axis that is marked in them."""


class Tick(NamedTuple):
    """A place on the axis in mm, and what is written there."""

    value: float
    label: str


@dataclass(frozen=True)
class Axis:
    """From ``low`` to ``high`` mm, on paper from ``left`` to ``right``."""

    low: float
    high: float
    left: float
    right: float
    style: LengthStyle

    def __post_init__(self) -> None:
        """An axis has a length."""
        if not (self.low < self.high and self.right - self.left >= 20):
            raise RangeError(
                f"{self.low:g} to {self.high:g} mm on {self.right - self.left:g} mm of paper",
                where="axis of a drawing",
                remedy="Give the lower end first, and at least 20 mm of paper",
            )

    def at(self, value: float) -> float:
        """Where a length of ``value`` mm stands on paper."""
        return self.left + (value - self.low) * self._per_mm

    @property
    def unit(self) -> str:
        """What the numbers at the ticks count."""
        return "mm" if self.style.style == "mm" else "in"

    @cached_property
    def ticks(self) -> tuple[Tick, ...]:
        """The ticks with a number, as many as there is room for."""
        return tuple(self._ticks(self._step))

    @property
    def small_ticks(self) -> tuple[float, ...]:
        """Places of the small ticks that part the steps between numbers."""
        for parts in (4, 2) if self._by_fractions else (10, 5, 4, 2):
            step = self._step / parts
            if float(step) * self._per_mm >= LEAST_ROOM and self._readable(step):
                return tuple(float(value) for value in self._multiples(step))
        return ()

    def marks(self, y: float, caption: str) -> list[Mark]:
        """The axis drawn at ``y`` with its ticks downwards, and ``caption`` under it."""
        foot = y + TICK + 1.2 + CAPITAL * SIZE
        marks: list[Mark] = [line((self.left, y), (self.right, y), "frame")]
        for tick in self.ticks:
            x = self.at(tick.value)
            marks.append(line((x, y), (x, y + TICK), "frame"))
            marks.append(Text(tick.label, (x, foot), SIZE, anchor="middle"))
        full = {round(tick.value, 9) for tick in self.ticks}
        for value in self.small_ticks:
            if round(value, 9) not in full:
                x = self.at(value)
                marks.append(line((x, y), (x, y + SMALL_TICK), "dimension"))
        middle = (self.left + self.right) / 2
        told = f"{caption}, {self.unit}{self._counted_from}"
        return [*marks, Text(told, (middle, foot + LEADING * SIZE), SIZE, anchor="middle")]

    @property
    def _counted_from(self) -> str:
        """The fraction that thousandths are more or less than, if no tick tells it."""
        base = _mixed(self._base / INCH)
        told = self._base == 0 or any(tick.label == base for tick in self.ticks)
        return "" if told else f" from {base}"

    @property
    def _per_mm(self) -> float:
        return (self.right - self.left) / (self.high - self.low)

    @property
    def _in_unit(self) -> Fraction:
        return Fraction(1) if self.style.style == "mm" else INCH

    @property
    def _finest(self) -> Fraction:
        """The least step that can be written, in mm."""
        if self.style.style == "fraction inch":
            return INCH / 1000
        places = self.style.places or (2 if self.style.style == "mm" else 3)
        return self._in_unit * Fraction(1, 10**places)

    @property
    def _by_fractions(self) -> bool:
        """Whether the axis is long enough to be marked in fractions of an inch."""
        if self.style.style != "fraction inch":
            return False
        return self.high - self.low >= MOST_FRACTIONS * float(INCH) / self.style.denominator

    def _steps(self) -> Iterator[Fraction]:
        """Steps in mm from the finest up: 1, 2, 5, 10, or halves of an inch."""
        if self._by_fractions:
            for doubled in count():
                yield INCH * Fraction(2**doubled, self.style.denominator)
        for power in count():
            for digit in (1, 2, 5):
                yield self._finest * digit * 10**power

    def _readable(self, step: Fraction) -> bool:
        """Whether multiples of ``step`` fall on a rule or on digits that are written."""
        least = INCH / self.style.denominator if self._by_fractions else self._finest
        return (step / least).denominator == 1

    @cached_property
    def _step(self) -> Fraction:
        """The step from number to number, in mm: the finest whose numbers keep apart."""
        for step in self._steps():
            room = float(step) * self._per_mm
            if room >= BETWEEN and all(
                room >= text_width(tick.label, SIZE) + BETWEEN for tick in self._ticks(step)
            ):
                return step
        raise AssertionError("steps grow without end")

    @cached_property
    def _base(self) -> Fraction:
        """Where thousandths are counted from: the plainest fraction on the axis, or nearest it."""
        if self.style.style != "fraction inch" or self._by_fractions or self.low <= 0 <= self.high:
            return Fraction(0)
        middle = Fraction((self.low + self.high) / 2) / INCH
        for doubled in takewhile(lambda k: 2**k <= self.style.denominator, count()):
            near = Fraction(round(middle * 2**doubled), 2**doubled)
            if self.low <= near * INCH <= self.high or 2**doubled == self.style.denominator:
                return near * INCH
        raise AssertionError("the last denominator is always taken")

    def _multiples(self, step: Fraction) -> Iterator[Fraction]:
        first = math.ceil((Fraction(self.low) - self._base) / step - Fraction(1, 10**6))
        last = math.floor((Fraction(self.high) - self._base) / step + Fraction(1, 10**6))
        return (self._base + k * step for k in range(first, last + 1))

    def _ticks(self, step: Fraction) -> Iterator[Tick]:
        for value in self._multiples(step):
            yield Tick(float(value), self._label(value, step))

    def _label(self, value: Fraction, step: Fraction) -> str:
        if self._by_fractions:
            return _mixed(value / INCH)
        if self.style.style == "fraction inch":
            return self._thousandths(value)
        places = _places(step / self._in_unit)
        return f"{float(value / self._in_unit):.{places}f}"

    def _thousandths(self, value: Fraction) -> str:
        thou = round((value - self._base) / INCH * 1000)
        if thou == 0:
            return _mixed(self._base / INCH)
        if self._base == 0:
            return f"{'-' if thou < 0 else ''}{_decimal(abs(thou))}"
        return f"{'+' if thou > 0 else 'less'} {_decimal(abs(thou))}"


def _decimal(thou: int) -> str:
    return f"{thou / 1000:.3f}".removeprefix("0")


def _places(step: Fraction) -> int:
    """Decimal places that tell multiples of ``step`` apart."""
    return next(places for places in count() if (step * 10**places).denominator == 1)


def _mixed(inches: Fraction) -> str:
    """A fraction as it stands on a rule."""
    whole, part = divmod(abs(inches), 1)
    sign = "-" if inches < 0 else ""
    if part == 0:
        return f"{sign}{whole}"
    return f"{sign}{whole}-{part}" if whole else f"{sign}{part}"
