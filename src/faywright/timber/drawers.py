"""A drawer in its opening: it moves in height, the width of its sides and front.

The opening does not: its height lies along the grain of the case's sides, its width along that of
the rails. Along the drawer's own front nothing moves either, save the sides in their thickness,
about 0.2 mm for a 12 mm side over a year indoors, half of it outwards: the play holds that.
"""

from __future__ import annotations

from dataclasses import dataclass

from faywright.errors import RangeError
from faywright.timber.movement import MARGIN
from faywright.timber.verdict import above_nought
from faywright.timber.year import Expected, Swing, expected

LEAST_GAP = 0.8
"""Gap that is left over a drawer when it is wettest. Common practice, no source. [mm]"""

PLAY = (0.4, 0.8)
"""Least and most play of a drawer at each of its sides, where it is guided. Common practice, no
source. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerFit:
    """A drawer made today for an opening, both in millimetres; ``swing`` is that of its height.

    ``least_gap`` is what stays open above it at the wettest, ``play`` its clearance at each side.

    >>> still = Swing(swelling=0.0, shrinkage=0.0, months=(0.0,) * 12)
    >>> drawer = DrawerFit(opening_width=401.2, opening_height=120.8, swing=still)
    >>> drawer.width, drawer.height, round(drawer.gap, 3)
    (400.0, 120.0, 0.8)
    """

    opening_width: float
    opening_height: float
    swing: Swing
    least_gap: float = LEAST_GAP
    play: float = sum(PLAY) / 2
    margin: float = MARGIN

    def __post_init__(self) -> None:
        """There is a drawer left after its gaps."""
        where = "drawer"
        above_nought(where, opening_width=self.opening_width, opening_height=self.opening_height)
        for name, gap, most in (
            ("least gap", self.least_gap, self.opening_height / 2),
            ("play", self.play, self.opening_width / 4),
        ):
            if not 0 <= gap < most:
                raise RangeError(
                    f"{name} {gap:g} mm is not between 0 and {most:g} mm",
                    where=where,
                    remedy="Give a gap that leaves most of the opening to the drawer",
                )
        if not 1 <= self.margin <= 3:
            raise RangeError(
                f"margin of {self.margin:g} is outside 1 to 3",
                where=where,
                remedy=f"Give a multiple of the expected movement, such as {MARGIN}",
            )

    @property
    def ready(self) -> float:
        """Swelling it is made ready for, as a share of its height today."""
        return self.margin * self.swing.swelling

    @property
    def height(self) -> float:
        """Height to make sides, front and back today. [mm]"""
        return (self.opening_height - self.least_gap) / (1 + self.ready)

    @property
    def width(self) -> float:
        """Width to make the drawer, sides included. [mm]"""
        return self.opening_width - 2 * self.play

    @property
    def gap(self) -> float:
        """Gap in height to leave today, all above it where it runs on its lower edges. [mm]"""
        return self.opening_height - self.height

    def at(self, change: float) -> Expected:
        """Gap in height after wood has changed by the share ``change`` of its size today. [mm]"""
        return expected(self.gap, -self.height * change)

    @property
    def by_month(self) -> tuple[Expected, ...]:
        """Gap in height in each month, January first. [mm]"""
        return tuple(self.at(change) for change in self.swing.months)

    @property
    def driest(self) -> Expected:
        """Gap in height at the driest. [mm]"""
        return self.at(-self.swing.shrinkage)

    @property
    def wettest(self) -> Expected:
        """Gap in height at the wettest. [mm]"""
        return self.at(self.swing.swelling)
