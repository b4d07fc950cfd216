"""A year of a row of boards or a panel, in plain numbers, and what is said of twelve months."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from faywright.errors import InputError, RangeError
from faywright.timber.climate import MONTHS

Kind = Literal["day", "closed", "limit"]
"""The state on the day of assembly, joints that are shut, the end of what a tongue can do."""

MOST_SPAN = 500.0
"""No row of boards moves by more than this; what does is a slip of the unit. [mm]"""

MOST_WIDTH = 100_000.0
"""Nor is any wider. [mm]"""


@dataclass(frozen=True, slots=True)
class Course:
    """A length in each month, January first, and the range that holds 19 of 20. [mm]"""

    mean: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]

    def __post_init__(self) -> None:
        """Twelve months, each mean within its range."""
        for name in ("mean", "low", "high"):
            _check_months(getattr(self, name), where=f"course of a year, {name}")
        for month, low, mean, high in zip(MONTHS, self.low, self.mean, self.high, strict=True):
            if not low - 1e-9 <= mean <= high + 1e-9:
                raise RangeError(
                    f"{mean:g} mm in {month} is not between {low:g} and {high:g} mm",
                    where="course of a year",
                    remedy="Give the lower end, the mean and the upper end of each month",
                )


@dataclass(frozen=True, slots=True)
class Joints:
    """The opening of each joint over the year, and as it was laid. [mm]

    ``limit`` is the opening at which too little tongue stays in its groove, None where there is
    no such. An opening below 0 is what the boards lack of room: they press on each other.
    """

    opening: Course
    laid: float
    limit: float | None = None

    def __post_init__(self) -> None:
        """Boards are laid with a gap or without, and a limit is a gap."""
        if not (0 <= self.laid < math.inf and (self.limit is None or 0 < self.limit < math.inf)):
            raise RangeError(
                f"joints laid {self.laid} mm open that may open {self.limit} mm",
                where="joints over the year",
                remedy="Give a gap of 0 or more, and a limit above 0 or none",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """What a year does to a row of boards, or to a panel, which has no ``joints`` that open.

    Moisture is in percent of dry mass. ``assembly_month_index`` counts from 0, January; None
    where the month is not known. ``width`` is that of all wood together if nothing held it, and
    ``made`` what it was when assembled. [mm] ``of`` says what 19 in 20
    of are meant, and ``when`` what was done on the day that all is counted from.
    """

    title: str
    moisture: tuple[float, ...]
    assembly_moisture: float
    assembly_month_index: int | None
    width: Course
    made: float
    joints: Joints | None = None
    of: str = "panels"
    when: str = "assembled"

    def __post_init__(self) -> None:
        """Moistures of wood, widths of furniture, and a month of the twelve."""
        where = f"year of {self.title!r}"
        _check_months(self.moisture, where=f"{where}, moisture")
        if not all(0 <= each <= 100 for each in (*self.moisture, self.assembly_moisture)):
            raise RangeError(
                "a moisture outside 0 to 100 %", where=where, remedy="Give percent of the dry mass"
            )
        if self.assembly_month_index not in (None, *range(12)):
            raise RangeError(
                f"no month has the index {self.assembly_month_index}",
                where=where,
                remedy="Count from 0 for January to 11 for December, or give None",
            )
        if not all(0 < each <= MOST_WIDTH for each in (self.made, *self.width.low)):
            raise RangeError(
                f"a width outside 0 to {MOST_WIDTH:g} mm",
                where=where,
                remedy="Give the width of all wood together in millimetres",
            )
        low, high = span(self.sizes)
        if not high - low <= MOST_SPAN:
            raise RangeError(
                f"sizes from {low:g} to {high:g} mm within a year",
                where=where,
                remedy=f"Give lengths in millimetres that lie within {MOST_SPAN:g} mm",
            )

    @property
    def shown(self) -> Course:
        """What is drawn under the moisture."""
        return self.joints.opening if self.joints else self.width

    @property
    def levels(self) -> tuple[tuple[Kind, str, float], ...]:
        """Sizes that the months are compared with, that of the day of assembly first. [mm]"""
        if self.joints is None:
            return (("day", "as made today" if self.when == "assembled" else self.when, self.made),)
        levels: list[tuple[Kind, str, float]] = [
            ("day", "laid today", self.joints.laid),
            ("closed", "closed", 0.0),
        ]
        if self.joints.limit is not None:
            levels.append(("limit", "tongue leaves", self.joints.limit))
        return tuple(levels)

    @property
    def sizes(self) -> tuple[float, ...]:
        """Everything that has to find a place under the moisture. [mm]"""
        return (*self.shown.low, *self.shown.high, *(value for *_, value in self.levels))


@dataclass(frozen=True)
class Said:
    """Twelve values in words; ``most`` and ``fewest`` say what the extremes are."""

    values: tuple[float, ...]
    most: str
    fewest: str
    write: Callable[[float], str]

    @cached_property
    def written(self) -> tuple[str, ...]:
        """Each month's value."""
        return tuple(self.write(value) for value in self.values)

    @property
    def flat(self) -> bool:
        """Whether all months are written alike."""
        return len(set(self.written)) == 1

    @property
    def all_year(self) -> str:
        """What is said of a flat year."""
        return f"{self.written[0]} all year"

    @property
    def greatest(self) -> tuple[str, int]:
        """What is said of the greatest value, and the month that it is said of."""
        return self._at(self.most, self.values.index(max(self.values)))

    @property
    def least(self) -> tuple[str, int]:
        """The same of the least."""
        return self._at(self.fewest, self.values.index(min(self.values)))

    def in_full(self, what: str) -> str:
        """Every month, and the extremes."""
        if self.flat:
            return f"{what}: {self.all_year}."
        months = (f"{name} {told}" for name, told in zip(MONTHS, self.written, strict=True))
        return f"{what}: {', '.join(months)}; {self.greatest[0]}, {self.least[0]}."

    def _at(self, word: str, month: int) -> tuple[str, int]:
        """The middle of a run of months that are written alike stands for all of them."""
        alike = [k for k in range(12) if self.written[k] == self.written[month]]
        run = _run(alike)
        when = listed(alike) if run else f"in {MONTHS[month]} and other months"
        return f"{word} {when}: {self.written[month]}", run[(len(run) - 1) // 2] if run else month


def listed(months: Sequence[int]) -> str:
    """Months, by their indices from 0, in words.

    Examples
    --------
    >>> listed([0, 1, 10, 11]), listed([0, 4, 5]), listed([6])
    ('from November to February', 'in January, May, June', 'in July')
    """
    if len(months) == 12:
        return "in every month"
    run = _run(months)
    if len(run) >= 3:
        return f"from {MONTHS[run[0]]} to {MONTHS[run[-1]]}"
    if len(run) == 2:
        return f"in {MONTHS[run[0]]} and {MONTHS[run[1]]}"
    return f"in {', '.join(MONTHS[month] for month in months)}"


def _run(months: Sequence[int]) -> tuple[int, ...]:
    """The same months as one run, over the new year as well; nothing if they are none."""
    firsts = [month for month in months if (month - 1) % 12 not in months]
    if len(firsts) != 1:
        return ()
    return tuple((firsts[0] + k) % 12 for k in range(len(months)))


def span(values: Sequence[float], least: float = 0.0) -> tuple[float, float]:
    """From the least to the greatest value, widened to ``least``."""
    low, high = min(values), max(values)
    spare = max(0.0, (least - (high - low)) / 2)
    return low - spare, high + spare


def _check_months(values: Sequence[float], *, where: str) -> None:
    if len(values) != 12 or not all(math.isfinite(value) for value in values):
        raise InputError(
            f"{len(values)} months, or one that is not a number",
            where=where,
            remedy="Give twelve numbers, January first",
        )
