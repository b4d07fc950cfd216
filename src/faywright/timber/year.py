"""What a year does to a size across the grain: how far it swings, and what to expect of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from faywright.errors import InputError, RangeError
from faywright.timber.climate import MONTHS, Climate
from faywright.timber.movement import COVERAGE, SHRINKAGE_VARIATION, Movement

MOST_SWING = 0.25
"""No wood changes more than this between green and oven-dry, as a share of its size."""

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """How a size across the grain will change after today, as shares of what it is today.

    ``swelling`` to the wettest and ``shrinkage`` to the driest are both 0 or more; ``months`` are
    the changes by month, January first, a shrinkage negative.
    """

    swelling: float
    shrinkage: float
    months: tuple[float, ...]

    def __post_init__(self) -> None:
        """Shares are not percent, and no month lies beyond wettest and driest."""
        where = "movement over the year"
        for name, share in (("swelling", self.swelling), ("shrinkage", self.shrinkage)):
            if not 0 <= share <= MOST_SWING:
                raise RangeError(
                    f"a {name} of {share:g} is outside 0 to {MOST_SWING:g}",
                    where=where,
                    remedy="Give it as a share of the size today, 0.012 for 1.2 %",
                )
        if len(self.months) != len(MONTHS):
            remedy = "Give twelve, January first"
            raise InputError(f"{len(self.months)} months are given", where=where, remedy=remedy)
        for name, change in zip(MONTHS, self.months, strict=True):
            if not -self.shrinkage - _ROUNDING <= change <= self.swelling + _ROUNDING:
                raise RangeError(
                    f"a change of {change:g} in {name} is outside {-self.shrinkage:g} to "
                    f"{self.swelling:g}",
                    where=where,
                    remedy="Give swelling and shrinkage that hold every month",
                )


def swing(movement: Movement, climate: Climate) -> Swing:
    """How sizes that follow ``movement`` will change after assembly.

    Wood wetter than fibre saturation is as large as at it.
    """
    start = climate.assembly.moisture
    months = tuple(
        movement.share(start, moisture) for moisture in climate.room.moisture_by_month.tolist()
    )
    return Swing(
        swelling=max(0.0, movement.share(start, climate.wettest.moisture)),
        shrinkage=max(0.0, -movement.share(start, climate.driest.moisture)),
        months=months,
    )


def swing_of_all(boards: Sequence[tuple[Swing, float]]) -> Swing:
    """One for boards of these widths [mm] that do not all swing alike.

    It swells and shrinks as far as the board that does so most, to be ready for that one; its
    months are those of all the wood together, each board by its share of the width.

    >>> one, other = (Swing(swelling=s, shrinkage=0.0, months=(s,) * 12) for s in (0.01, 0.02))
    >>> both = swing_of_all([(one, 100.0), (other, 300.0)])
    >>> both.swelling, both.months[0]
    (0.02, 0.0175)
    """
    wood = sum(width for _, width in boards)
    by_month = zip(*(each.months for each, _ in boards), strict=True)
    return Swing(
        swelling=max(each.swelling for each, _ in boards),
        shrinkage=max(each.shrinkage for each, _ in boards),
        months=tuple(
            sum(change * width for change, (_, width) in zip(changes, boards, strict=True)) / wood
            for changes in by_month
        ),
    )


@dataclass(frozen=True, slots=True)
class Expected:
    """A size to expect, and its standard uncertainty for the scatter between boards. [mm]"""

    size: float
    standard_uncertainty: float = 0.0

    @property
    def low(self) -> float:
        """Low end of the 95 % range. [mm]"""
        return self.size - COVERAGE * self.standard_uncertainty

    @property
    def high(self) -> float:
        """High end of the 95 % range. [mm]"""
        return self.size + COVERAGE * self.standard_uncertainty


def expected(today: float, change: float) -> Expected:
    """A size that is ``today``, after it has changed by ``change``. [mm]

    Boards are taken to scatter together, as those of one tree do; scatter that differs from board
    to board makes a row's width better known than told. Moisture is taken as known.
    """
    return Expected(today + change, SHRINKAGE_VARIATION * abs(change))
