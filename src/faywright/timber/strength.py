"""What clear wood can bear: published means, and what scatter, moisture and knots leave of them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from faywright.errors import InputError, RangeError
from faywright.timber.strength_factors import strength_factors

Kind = Literal["softwood", "hardwood"]
Measured = Literal["bending", "elasticity", "shear", "tension across", "compression across"]
"""Published properties. Shear is along the grain; across is across the grain."""

Duration = Literal[
    "permanent", "ten years", "one year", "two months", "seven days", "ten minutes", "impact"
]
"""How long the load lasts in all, over the life of the piece."""

CALLED: dict[Measured, str] = {
    "bending": "bending strength",
    "elasticity": "stiffness in bending",
    "shear": "shear along the grain",
    "tension across": "tension across the grain",
    "compression across": "compression across the grain",
}
"""The properties in words."""

ONE_IN_TWENTY = 1.645
"""Standard deviations below the mean under which a twentieth of a normal population lies."""

WETTEST = 20.0
"""Moisture above which nothing is said. [% of oven-dry mass]"""

LEAST_AND_MOST: dict[Measured, tuple[float, float]] = {
    "bending": (10.0, 400.0),
    "elasticity": (1000.0, 40000.0),
    "shear": (1.0, 50.0),
    "tension across": (0.3, 30.0),
    "compression across": (0.5, 100.0),
}
"""A figure beyond these is in psi or GPa, or its decimal slipped. [MPa]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearWood:
    """Mean published properties of small clear pieces, at 12 % moisture. [MPa]

    ``bending`` is the modulus of rupture, ``elasticity`` the modulus of elasticity in bending,
    as published; each is None where none was published. ``green`` holds the properties
    of green timber where they are known, and ``change_begins`` the moisture below which they begin
    to change. [% of oven-dry mass]
    """

    kind: Kind
    bending: float | None
    elasticity: float | None
    compression_perp: float | None
    shear_parallel: float | None
    tension_perp: float | None
    name: str = "this timber"
    green: ClearWood | None = None
    change_begins: float = 25.0

    def __post_init__(self) -> None:
        """Every figure is one that wood can have in MPa."""
        if self.kind not in get_args(Kind):
            raise InputError(
                f"kind {self.kind!r}",
                where=f"strength of {self.name}",
                remedy=f"Use {' or '.join(get_args(Kind))}",
            )
        for of, (low, high) in LEAST_AND_MOST.items():
            value = self.published(of)
            if value is not None and not low <= value <= high:
                raise RangeError(
                    f"{of} of {value:g} MPa is not that of a wood",
                    where=f"strength of {self.name}",
                    remedy=f"Give the published mean in MPa, from {low:g} to {high:g} "
                    "(1000 psi is 6.895 MPa)",
                )

    def published(self, of: Measured) -> float | None:
        """The mean of a property, None where none was published. [MPa]"""
        means: dict[Measured, float | None] = {
            "bending": self.bending,
            "elasticity": self.elasticity,
            "shear": self.shear_parallel,
            "tension across": self.tension_perp,
            "compression across": self.compression_perp,
        }
        return means[of]

    def mean(self, of: Measured) -> float:
        """The mean of a property. [MPa]

        Raises
        ------
        InputError
            None was published.
        """
        value = self.published(of)
        if value is None:
            low, high = LEAST_AND_MOST[of]
            raise InputError(
                f"{CALLED[of]} is not known",
                where=f"strength of {self.name}",
                remedy=f"Enter its published mean at 12 % moisture, in MPa, {low:g} to {high:g}",
            )
        return value


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """What the part has to live with: how long the load lasts, knots and moisture.

    ``strength_ratio`` is the share of strength that the stock has of a clear straight piece: 1
    if it is one, :func:`knot_ratio` if not. ``moisture`` is the highest the part will have in
    use. [% of oven-dry mass] Of loads that come together the shortest gives the duration, and
    the lasting ones are checked alone as well.
    """

    duration: Duration = "permanent"
    strength_ratio: float = 1.0
    moisture: float = 12.0

    def __post_init__(self) -> None:
        """A known duration, a share above 0 and at most 1, the moisture of seasoned timber."""
        if self.duration not in get_args(Duration):
            raise InputError(
                f"duration {self.duration!r}",
                where="service",
                remedy=f"Use one of {', '.join(get_args(Duration))}",
            )
        if not 0 < self.strength_ratio <= 1:
            raise RangeError(
                f"a strength ratio of {self.strength_ratio:g}",
                where="service",
                remedy="Give a share above 0 and at most 1, which is clear straight stock",
            )
        if not 0 <= self.moisture <= WETTEST:
            raise RangeError(
                f"moisture of {self.moisture:g} %",
                where="service",
                remedy=f"Give the highest moisture in use, from 0 to {WETTEST:g} %; "
                "wetter timber is not judged here",
            )


def five_percent(variation: float) -> float:
    """Share of the mean that nineteen pieces in twenty exceed: 1 - 1.645 times ``variation``.

    Of a normal population; ``variation`` is its standard deviation over its mean.

    Raises
    ------
    RangeError
        The variation is below 0, or so wide that nothing is left.

    Examples
    --------
    >>> round(five_percent(0.14), 3)
    0.77
    """
    if not 0 <= variation < 1 / ONE_IN_TWENTY:
        raise RangeError(
            f"a coefficient of variation of {variation:g}",
            where="strength",
            remedy="Give standard deviation over mean as a share, from 0 to 0.6",
        )
    return 1 - ONE_IN_TWENTY * variation


def moisture_share(wood: ClearWood, of: Measured, moisture: float) -> tuple[float, str]:
    """What a moisture leaves of a property beside 12 %, and how that is known.

    By :func:`at_moisture` where the green property is known, else by the middle trend of many
    species, straight from 12 to 20 %. Drier timber is stronger in most ways, and more brittle:
    that is not counted on, and the share is 1 up to 12 %.
    """
    green = None if wood.green is None else wood.green.published(of)
    if green is not None:
        dry = wood.mean(of)
        left = at_moisture(dry, green, max(moisture, 12.0), begins=wood.change_begins) / dry
        return min(left, 1.0), "Wood Handbook (2010), ch. 5; from memory: between dry and green"
    wettest = strength_factors()["at 20 % moisture", of]
    part = max(moisture - 12, 0.0) / (WETTEST - 12)
    return 1 - part * (1 - wettest.value), wettest.source


def at_moisture(dry: float, green: float, moisture: float, *, begins: float = 25.0) -> float:
    """A property at ``moisture`` M: dry * (dry / green)^((12 - M) / (Mp - 12)).

    Parameters
    ----------
    dry, green
        The property at 12 % and green, in one unit.
    moisture
        [% of oven-dry mass]
    begins
        Moisture Mp below which the property changes: 25 % where not known, as low as 21
        (longleaf pine), as high as 28 (western larch). Wetter timber is as green.

    Raises
    ------
    RangeError
        A property is not above 0, or a moisture is out of reach.

    Notes
    -----
    Wood Handbook (2010), ch. 5, from memory. A mean over many species; not for shock, nor for
    tension across the grain below 12 %.

    Examples
    --------
    >>> round(at_moisture(100, 60, 12)), round(at_moisture(100, 60, 18.5)), at_moisture(100, 60, 30)
    (100, 77, 60.0)
    """
    if not (0 < dry < math.inf and 0 < green < math.inf):
        raise RangeError(
            f"{dry:g} at 12 % and {green:g} green",
            where="strength at a moisture",
            remedy="Give both above 0, in the same unit",
        )
    if not (4 <= moisture <= 300 and 20 <= begins <= 32):
        raise RangeError(
            f"a moisture of {moisture:g} %, with change beginning at {begins:g} %",
            where="strength at a moisture",
            remedy="Give a moisture from 4 %, and a beginning from 20 to 32 %",
        )
    if moisture >= begins:
        return float(green)
    return float(dry * (dry / green) ** ((12 - moisture) / (begins - 12)))


def knot_ratio(knot: float, width: float, *, at_edge: bool) -> float:
    """Strength ratio of a part ``width`` wide with a knot in it. [mm]

    The knot counts as a hole. In the middle it takes its share of the width; at an edge twice
    over, for bending strength goes by the square of the width that is left. So grading rules
    reason (ASTM D245, from memory), with small allowances that are left out here.

    Raises
    ------
    RangeError
        The knot is not narrower than the part.

    Examples
    --------
    >>> knot_ratio(10, 40, at_edge=False), knot_ratio(10, 40, at_edge=True)
    (0.75, 0.5625)
    """
    if not 0 <= knot < width < math.inf:
        raise RangeError(
            f"a knot {knot:g} mm wide in a part {width:g} mm wide",
            where="strength ratio",
            remedy="Measure the knot across the part; it must be narrower than the part",
        )
    left = 1 - knot / width
    return left * left if at_edge else left
