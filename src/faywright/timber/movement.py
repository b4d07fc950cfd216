"""How wood changes size across the grain with its moisture, by the angle of its rings.

One law g of each direction, radial and tangential, gives its size at a moisture relative to that
at 10 %, where the published coefficient C is at home:

    6 to 14 %    g(M) = 1 + C (M - 10)                      the coefficient formula, 13-2
    outside      g(M) = g(edge) (k + M) / (k + edge)        the total-shrinkage formula, 13-3

with k = 100 f/S - f for a total shrinkage S from fibre saturation f. Both are straight lines, so
g is a line with corners at 6 and 14 %, unbroken and rising: sizes depend on moisture alone, and
wood that is wetted and dried again has its old size. Along a direction at the angle a to the
rings, g turns as a strain does: g_T cos^2 a + g_R sin^2 a.

The coefficient formula as printed takes C on the size at the start M1, which is not the same for
there and back again. The change here is the printed one divided by 1 + C (M1 - 10): the same
from 10 %, and up to 1.8 % more or less of the change for the liveliest wood (C 0.0044) from 6
or 14 %, which is small beside the scatter of wood itself. The total-shrinkage formula is kept
exactly along and across the rings.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, overload

import numpy as np

from faywright.errors import InputError, RangeError
from faywright.timber.moisture import Floats, plain, require_within

Grain = Literal["flat", "rift", "quarter"]

RING_ANGLES: Mapping[Grain, float] = MappingProxyType({"flat": 0.0, "rift": 45.0, "quarter": 90.0})
"""Angle between rings and the width, as end grain shows it, where only the cut is known. [deg]

Real boards are seldom truly flat- or quarter-sawn (flat counts to 30 deg, quarter from 60, from
memory): with these, the width of a flat board moves rather less than told, its thickness more.
"""

SHRINKAGE_VARIATION = 0.15
"""Standard uncertainty of a movement as a share of it: coefficient of variation of shrinkage
within a species. Wood Handbook, FPL-GTR-190 (2010), chapter 4, from memory."""

COVERAGE = 2.0
"""Standard uncertainties either way that hold about 95 % (JCGM 100:2008, 6.3.3)."""

MARGIN = 1 + COVERAGE * SHRINKAGE_VARIATION
"""Movement to be ready for, as a multiple of the expected one. Of 20 boards 19 lie within as much
more or less, and 1 in 40 moves more."""

LEAST_LINEAR, HOME, MOST_LINEAR = 6.0, 10.0, 14.0
"""Moistures between which the coefficient holds, and where it is defined on the size. [%]"""

FAR_APART = 0.1
"""Share by which coefficient and total shrinkage may differ before the basis mentions it."""


@dataclass(frozen=True, slots=True)
class Shrinkage:
    """What is published of a species' shrinkage, None where it is not known.

    Coefficients are fractions of the size at 10 % for each 1 % of moisture (table 13-5: 0.00248),
    totals are from fibre saturation to oven-dry in percent of the size at fibre saturation
    (tables 4-3 and 4-4: 7.1). Fibre saturation is in percent of moisture.
    """

    radial_coefficient: float | None
    tangential_coefficient: float | None
    radial_total: float | None
    tangential_total: float | None
    fibre_saturation: float = 30.0

    def __post_init__(self) -> None:
        """Figures are of the size that wood has, so that percent is not taken for a fraction."""
        for name in ("radial", "tangential"):
            coefficient, total = self._published(name)
            if coefficient is not None and not 0.0001 <= coefficient <= 0.01:
                raise RangeError(
                    f"a {name} coefficient of {coefficient:g} is outside 0.0001 to 0.01",
                    where="shrinkage",
                    remedy="Give the fraction for each 1 % of moisture: 0.0025, where a table in "
                    "percent has 0.25",
                )
            if total is not None and not 0.5 <= total <= 25:
                raise RangeError(
                    f"a total {name} shrinkage of {total:g} % is outside 0.5 to 25 %",
                    where="shrinkage",
                    remedy="Give percent of the green size, from green to oven-dry, such as 7.1",
                )
        if not 20 <= self.fibre_saturation <= 35:
            raise RangeError(
                f"fibre saturation at {self.fibre_saturation:g} % is outside 20 to 35 %",
                where="shrinkage",
                remedy="Give 30 %, or 22 % for woods rich in extractives",
            )

    def _published(self, name: str) -> tuple[float | None, float | None]:
        if name == "radial":
            return self.radial_coefficient, self.radial_total
        return self.tangential_coefficient, self.tangential_total

    def law(self, name: Literal["radial", "tangential"]) -> Law:
        """How sizes along that direction move.

        Raises
        ------
        InputError
            Neither coefficient nor total shrinkage is known along it.
        """
        coefficient, total = self._published(name)
        f = self.fibre_saturation
        if total is not None:
            implied, k = implied_coefficient(total, f), 100 * f / total - f
            if coefficient is None:
                basis = f"{name} coefficient {implied:.5f} worked out from the total shrinkage"
                return Law(implied, k, f, basis)
            basis = f"{name} coefficient from 6 to 14 %, total shrinkage outside"
            if abs(coefficient / implied - 1) > FAR_APART:
                basis += f", which disagrees: it would make the coefficient {implied:.5f}"
            return Law(coefficient, k, f, basis)
        if coefficient is not None:
            basis = f"{name} coefficient, used beyond 6 to 14 % for want of the total shrinkage"
            return Law(coefficient, 1 / coefficient - HOME, f, basis)
        raise InputError(
            f"neither the {name} coefficient nor the total {name} shrinkage is known",
            where="movement",
            remedy=f"Enter the {name} coefficient, such as 0.0025 for each 1 % of moisture, "
            f"or the {name} shrinkage from green to oven-dry, such as 7 %",
        )


def implied_coefficient(total: float, fibre_saturation: float = 30.0) -> float:
    """Coefficient C that a total shrinkage S from fibre saturation f comes to.

    C = S / (100 f - S (f - 10)), which is formula 13-3 of the Wood Handbook, FPL-GTR-190
    (2010), taken at 10 %.

    >>> round(implied_coefficient(7.8), 6)
    0.002743
    """
    return total / (100 * fibre_saturation - total * (fibre_saturation - HOME))


@dataclass(frozen=True, slots=True)
class Law:
    """The line g of one direction: its coefficient, k of the total shrinkage, where it ends."""

    coefficient: float
    k: float  # % of moisture
    fibre_saturation: float  # %
    basis: str

    @property
    def corners(self) -> tuple[float, float, float, float]:
        """Size relative to that at 10 %, at 0, 6 and 14 % and at fibre saturation."""
        dry = 1 + self.coefficient * (LEAST_LINEAR - HOME)
        damp = 1 + self.coefficient * (MOST_LINEAR - HOME)
        return (
            dry * self.k / (self.k + LEAST_LINEAR),
            dry,
            damp,
            damp * (self.k + self.fibre_saturation) / (self.k + MOST_LINEAR),
        )


@dataclass(frozen=True, slots=True)
class Movement:
    """How one size of a board, its width or its thickness, follows the moisture of the wood.

    Build it with ``across_width`` or ``across_thickness``. ``basis`` says in words what stands
    behind the figures; ``corners`` are those of a ``Law``, turned to the board.
    """

    coefficient: float  # per 1 % of moisture, 6 to 14 %
    corners: tuple[float, float, float, float]
    fibre_saturation: float  # %
    basis: str

    @property
    def _moistures(self) -> tuple[float, float, float, float]:
        return (0.0, LEAST_LINEAR, MOST_LINEAR, self.fibre_saturation)

    @overload
    def relative_size(self, moisture_pct: float) -> float: ...
    @overload
    def relative_size(self, moisture_pct: Floats) -> Floats: ...
    def relative_size(self, moisture_pct: float | Floats) -> float | Floats:
        """Size at a moisture as a multiple of that at 10 %.

        Raises
        ------
        RangeError
            A moisture below 0, or above fibre saturation, where wood does not move.
        """
        f = self.fibre_saturation
        require_within(
            np.asarray(moisture_pct, float),
            0,
            f,
            what="moisture of {value:g} % is outside 0 to "
            f"{f:g} %: above that, fibre saturation, wood does not move with its moisture",
            where="movement",
            remedy=f"Give the moisture of dried wood, or exactly {f:g} % for wood that was sized "
            "green and has still to dry",
        )
        return plain(np.interp(np.asarray(moisture_pct, float), self._moistures, self.corners))

    @overload
    def size(self, size: float, start_pct: float, end_pct: float) -> float: ...
    @overload
    def size(self, size: float, start_pct: float, end_pct: Floats) -> Floats: ...
    def size(self, size: float, start_pct: float, end_pct: float | Floats) -> float | Floats:
        """Size at the end, in the unit of ``size``, of what measured ``size`` at the start.

        >>> cherry = Shrinkage(0.00126, 0.00248, 3.7, 7.1)
        >>> round(across_width(cherry, "flat").size(100.0, 10.0, 7.0), 3)
        99.256
        """
        return size + self.change(size, start_pct, end_pct)

    @overload
    def change(self, size: float, start_pct: float, end_pct: float) -> float: ...
    @overload
    def change(self, size: float, start_pct: float, end_pct: Floats) -> Floats: ...
    def change(self, size: float, start_pct: float, end_pct: float | Floats) -> float | Floats:
        """By how much a size grows from one moisture to another, below 0 where it shrinks.

        Parameters
        ----------
        size
            Size as measured at the start. [any unit of length, which the result has, too]
        start_pct, end_pct
            Moisture contents, from 0 to fibre saturation. [% of oven-dry mass]

        Returns
        -------
        float or array
            The change, as many as there are moistures at the end; its uncertainty is
            ``standard_uncertainty``.

        Raises
        ------
        RangeError
            A moisture out of range, or a size that is not above 0.

        Notes
        -----
        Straight from fibre saturation to oven-dry, the total shrinkage makes the change too small
        by about 5 %, the Handbook says. Along the grain (0.1 to 0.2 % from green to oven-dry)
        nothing is reckoned.

        References
        ----------
        Wood Handbook, FPL-GTR-190 (2010), chapter 13, equations 13-2 and 13-3 (12-2 and 12-3 in
        the edition of 1999); the head of this module tells how they are joined.

        Examples
        --------
        >>> walnut = Shrinkage(0.00190, 0.00274, 5.5, 7.8)
        >>> round(across_width(walnut, "quarter").change(4.0, 10.0, 13.0), 4)
        0.0228
        """
        if not 0 < size < math.inf:
            raise RangeError(
                f"a size of {size:g}", where="movement", remedy="Give a measured size above 0"
            )
        start = self.relative_size(start_pct)
        return size * ((self.relative_size(end_pct) - start) / start)

    def share(self, start_pct: float, end_pct: float) -> float:
        """Change of a size as a part of it, 0.01 for 1 %; below 0 where it shrinks.

        Unlike ``change`` it takes wood wetter than fibre saturation to be as large as at it.

        >>> cedar = Shrinkage(0.00111, 0.00234, 2.4, 5.0, fibre_saturation=22)
        >>> flat = across_width(cedar, "flat")
        >>> flat.share(10, 28) == flat.share(10, 22)
        True
        """
        most = self.fibre_saturation
        return self.change(1.0, min(start_pct, most), min(end_pct, most))

    @overload
    def standard_uncertainty(self, change: float) -> float: ...
    @overload
    def standard_uncertainty(self, change: Floats) -> Floats: ...
    def standard_uncertainty(self, change: float | Floats) -> float | Floats:
        """Of a change, in its unit: boards of a species differ by ``SHRINKAGE_VARIATION``.

        Moistures that are not well known come on top.
        """
        return plain(SHRINKAGE_VARIATION * np.abs(np.asarray(change, float)))


def across_width(shrinkage: Shrinkage, rings: Grain | float) -> Movement:
    """How the width of a board moves.

    Parameters
    ----------
    shrinkage
        What is published of the species.
    rings
        "flat", "rift" or "quarter", or the angle measured on the end grain between the growth
        rings and the width: 0 is truly flat-sawn, 90 truly quarter-sawn. [deg]

    Raises
    ------
    InputError
        The angle or its name is none, or a direction that counts has no figures.

    Examples
    --------
    >>> oak = Shrinkage(0.00180, 0.00365, None, None)
    >>> round(across_width(oak, 30).coefficient, 7)
    0.0031875
    """
    return _turned(shrinkage, _angle(rings))


def across_thickness(shrinkage: Shrinkage, rings: Grain | float) -> Movement:
    """How the thickness of a board moves; ``rings`` as for the width, which lies square to it.

    Examples
    --------
    >>> oak = Shrinkage(0.00180, 0.00365, None, None)
    >>> across_thickness(oak, "quarter").coefficient  # along the rings
    0.00365
    """
    return _turned(shrinkage, 90 - _angle(rings))  # a square's cosine is as good either way


def _angle(rings: Grain | float) -> float:
    where = "angle of the rings"
    if isinstance(rings, str):
        if rings not in RING_ANGLES:
            raise InputError(
                f"{rings!r} is no way of sawing",
                where=where,
                remedy=f"Use {', '.join(RING_ANGLES)}, or the angle in degrees",
            )
        return RING_ANGLES[rings]
    if not 0 <= rings <= 90:
        raise RangeError(
            f"{rings:g} deg is outside 0 to 90 deg",
            where=where,
            remedy="Measure on the end grain between rings and width: 0 is flat-sawn",
        )
    return rings


def _turned(shrinkage: Shrinkage, angle_deg: float) -> Movement:
    """Along a direction at an angle to the rings, each way of the wood by its share."""
    twice = math.cos(math.radians(2 * angle_deg))  # exactly 1 and -1 at the ends
    shares: dict[Literal["radial", "tangential"], float] = {
        "tangential": (1 + twice) / 2,
        "radial": (1 - twice) / 2,
    }
    parts = [(share, shrinkage.law(way)) for way, share in shares.items() if share > 0]
    at_0, at_6, at_14, at_f = (
        sum(share * law.corners[corner] for share, law in parts) for corner in range(4)
    )
    return Movement(
        coefficient=sum(share * law.coefficient for share, law in parts),
        corners=(at_0, at_6, at_14, at_f),
        fibre_saturation=shrinkage.fibre_saturation,
        basis="; ".join(law.basis for _, law in parts),
    )
