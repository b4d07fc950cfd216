"""Moisture content of wood: at rest with the air around it, or as a meter reads it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import overload

import numpy as np
from numpy.typing import NDArray

from faywright.errors import RangeError

Floats = NDArray[np.float64]


def celsius(fahrenheit: float) -> float:
    """Temperature in degrees Celsius.

    >>> celsius(68)
    20.0
    """
    return (fahrenheit - 32) * 5 / 9


COLDEST, HOTTEST = celsius(30), celsius(200)
"""Temperatures over which the equation was held against the published table. [deg C]"""

DAMPEST = 98.0
"""Relative humidity up to which air decides the moisture of wood. [%] The table ends at 95 %."""

HYSTERESIS = (1.0, 2.5)
"""How much wetter drying wood comes to rest than wetting wood, at usual indoor air: least and
most. [% of oven-dry mass] Wood Handbook, FPL-GTR-190 (2010), chapter 4, from memory."""

EQUILIBRIUM_LIMIT = HYSTERESIS[1] / 2
"""Most that wood at rest is taken to be off the equation, either way. [% of oven-dry mass]

The equation runs between wetting and drying; half their greatest distance is our assumption.
Woods rich in extractives (teak, mahogany, redwood, cedars) rest lower still, by an unknown step.
"""


@dataclass(frozen=True, slots=True)
class _Sorption:
    """What equation 4-5 needs at a temperature: 1800/W, K, K1 and the product of K1 and K2."""

    scale: Floats
    k: Floats
    k1: Floats
    k1k2: Floats

    @classmethod
    def at(cls, t: Floats) -> _Sorption:
        k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
        return cls(
            scale=1800 / (349 + 1.29 * t + 0.0135 * t * t),
            k=0.805 + 0.000736 * t - 0.00000273 * t * t,
            k1=k1,
            k1k2=k1 * (1.91 + 0.0407 * t - 0.000293 * t * t),
        )

    def content(self, x: Floats) -> Floats:
        """Moisture content at ``x``, the product K h. [%]"""
        first, second = self.k1 * x, self.k1k2 * x * x
        return self.scale * (x / (1 - x) + (first + 2 * second) / (1 + first + second))

    def slope(self, x: Floats) -> Floats:
        """Derivative of ``content`` to ``x``."""
        first, second = self.k1 * x, self.k1k2 * x * x
        bound = 1 + first + second
        # Quotient rule; the terms of third order in x cancel
        hydrates = (self.k1 * (1 + second) + 4 * self.k1k2 * x) / (bound * bound)
        return self.scale * (1 / (1 - x) ** 2 + hydrates)


@overload
def equilibrium_moisture(temperature_c: float, humidity_pct: float) -> float: ...
@overload
def equilibrium_moisture(temperature_c: Floats, humidity_pct: float | Floats) -> Floats: ...
@overload
def equilibrium_moisture(temperature_c: float, humidity_pct: Floats) -> Floats: ...
def equilibrium_moisture(
    temperature_c: float | Floats, humidity_pct: float | Floats
) -> float | Floats:
    r"""Moisture content that wood comes to when kept long in air.

    .. math:: M = \frac{1800}{W} \left[ \frac{K h}{1 - K h}
        + \frac{K_1 K h + 2 K_1 K_2 K^2 h^2}{1 + K_1 K h + K_1 K_2 K^2 h^2} \right]

    with W, K, K1 and K2 quadratic in the temperature.

    Parameters
    ----------
    temperature_c
        Temperature of the air, from 30 to 200 deg F. [deg C]
    humidity_pct
        Relative humidity, the equation's h in percent, from 0 to 98. [%]

    Returns
    -------
    float or array
        Moisture content M, see ``EQUILIBRIUM_LIMIT`` for how well it is known.
        [% of oven-dry mass]

    Raises
    ------
    RangeError
        Air outside those ranges; of an array, the message names the first such entry.

    Notes
    -----
    Worst difference from the table is 0.056, mean 0.025 %, which rounding alone would give. Wood
    follows the air slowly: short swings reach its surface only, and a finish slows all of them.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), chapter 4, equation 4-5; set of coefficients for deg C
    from memory, held against table 4-2 from 30 to 200 deg F.

    Examples
    --------
    >>> round(equilibrium_moisture(celsius(70), 65), 1)
    12.0
    """
    temperature, humidity = np.asarray(temperature_c, float), np.asarray(humidity_pct, float)
    require_air(temperature, humidity, where="equilibrium moisture")
    sorption = _Sorption.at(temperature)
    return plain(sorption.content(sorption.k * humidity / 100))


@overload
def humidity_at_rest(temperature_c: float, moisture_pct: float) -> float: ...
@overload
def humidity_at_rest(temperature_c: Floats, moisture_pct: float | Floats) -> Floats: ...
@overload
def humidity_at_rest(temperature_c: float, moisture_pct: Floats) -> Floats: ...
def humidity_at_rest(temperature_c: float | Floats, moisture_pct: float | Floats) -> float | Floats:
    """Relative humidity in which wood keeps its moisture: ``equilibrium_moisture`` turned round.

    Solved to within 1e-9 % of humidity.

    Raises
    ------
    RangeError
        A temperature outside 30 to 200 deg F, or a moisture that wood gets from no air: below 0,
        or above what it rests at in air of 98 %.

    Examples
    --------
    >>> round(humidity_at_rest(20, 12.0), 1)
    65.0
    """
    where = "humidity at rest"
    temperature, moisture = np.asarray(temperature_c, float), np.asarray(moisture_pct, float)
    _require_temperature(temperature, where=where)
    sorption = _Sorption.at(temperature)
    dampest = sorption.k * DAMPEST / 100
    require_within(
        moisture,
        0,
        sorption.content(dampest),
        what="moisture of {value:g} % is not one that air of 0 to 98 % gives wood",
        where=where,
        remedy="Give the moisture of wood that has dried in air, about 5 to 20 %",
    )
    return plain(_solved(sorption, moisture, dampest) / sorption.k * 100)


def _solved(sorption: _Sorption, moisture: Floats, dampest: Floats) -> Floats:
    """Solve for K h by Newton's steps, halving the bracket wherever one would leave it."""
    low = np.zeros(np.broadcast_shapes(moisture.shape, dampest.shape))
    high = low + dampest
    x = high / 2
    for _ in range(60):  # halving alone would reach the last digit
        excess = sorption.content(x) - moisture
        low, high = np.where(excess <= 0, x, low), np.where(excess >= 0, x, high)
        step = x - excess / sorption.slope(x)
        better = np.where((low <= step) & (step <= high), step, (low + high) / 2)
        settled = bool(np.all(np.abs(better - x) <= 1e-14))
        x = better
        if settled:
            break
    return x


LEAST_READ, MOST_READ = 6.0, 30.0
"""What a meter with pins can read. [%] Wood Handbook, FPL-GTR-190 (2010), chapter 13."""

METER_LIMIT = 1.0
"""Most that the mean of an even lot is off, temperature corrected. [% of oven-dry mass]
Same chapter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterReading:
    """What a moisture meter with pins shows, as the mean of readings of an even lot. [%]

    ``calibrated_c`` is the temperature the meter was calibrated for; 20 deg C is common practice,
    no source, and the meter's own paper comes first.
    """

    shown: float
    wood_c: float = 20.0
    calibrated_c: float = 20.0

    def __post_init__(self) -> None:
        """A reading lies on the meter's scale, and the wood is neither frozen nor hot."""
        where = "moisture meter"
        if self.shown < LEAST_READ:
            raise RangeError(
                f"{self.shown:g} % is below {LEAST_READ:g} %, where wood conducts too little "
                "to be read with pins",
                where=where,
                remedy="Give temperature and humidity of the air the wood has rested in, or weigh "
                "a piece before and after drying it in an oven",
            )
        if not self.shown <= MOST_READ:
            raise RangeError(
                f"{self.shown:g} % is above {MOST_READ:g} %, near fibre saturation, where more "
                "water hardly changes a reading",
                where=where,
                remedy="Let the wood dry before it is measured or cut",
            )
        for name, value in (("wood", self.wood_c), ("calibration", self.calibrated_c)):
            if not 0 <= value <= 50:
                raise RangeError(
                    f"{name} temperature of {value:g} deg C is outside 0 to 50 deg C",
                    where=where,
                    remedy="Measure wood that is neither frozen nor hot, and give deg C",
                )

    @property
    def moisture(self) -> float:
        """Moisture content: 0.5 % more for each 5.6 deg C (10 deg F) below calibration. [%]

        Wood Handbook, FPL-GTR-190 (2010), chapter 13.

        >>> MeterReading(shown=9.0, wood_c=8.8).moisture
        10.0
        """
        return self.shown + 0.5 * (self.calibrated_c - self.wood_c) / 5.6

    @property
    def standard_uncertainty(self) -> float:
        """Of ``moisture``: anywhere within ``METER_LIMIT`` (JCGM 100:2008, 4.3.7). [%]"""
        return METER_LIMIT / math.sqrt(3)


def require_air(temperature: Floats, humidity: Floats, *, where: str) -> None:
    """Refuse air that the equation does not cover; ``where`` stands first in the message."""
    _require_temperature(temperature, where=where)
    require_within(
        humidity,
        0,
        DAMPEST,
        what="relative humidity of {value:g} % is outside 0 to 98 %",
        where=where,
        remedy="Give percent, at most 98: in air damper than that wood draws in liquid water, and "
        "the air no longer tells its moisture",
    )


def _require_temperature(temperature: Floats, *, where: str) -> None:
    require_within(
        temperature,
        COLDEST,
        HOTTEST,
        what="temperature of {value:g} deg C is outside -1.1 to 93.3 deg C (30 to 200 deg F)",
        where=where,
        remedy="Give deg C; in frost give -1.1, for the moisture hardly changes below that",
    )


def require_within(
    values: Floats, low: float, high: float | Floats, *, what: str, where: str, remedy: str
) -> None:
    """Refuse values outside ``low`` to ``high``, naming the first one and its entry.

    ``what`` says the fault, with ``{value}`` for the number.
    """
    outside = np.atleast_1d(~((values >= low) & (values <= high)))  # a nan is outside, too
    if not outside.any():
        return
    value = np.broadcast_to(values, outside.shape)[outside][0]
    if outside.size > 1:
        where = f"{where}, entry {int(outside.argmax()) + 1} of {outside.size}"
    raise RangeError(what.format(value=float(value)), where=where, remedy=remedy)


def plain(values: Floats) -> float | Floats:
    """A float for figures without a shape, else the array."""
    return values if np.ndim(values) else float(values)
