"""Clearances of several joints, each normally distributed, taken together."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from faywright.trials.belief import Floats

EXACT = 1e-9
"""Least standard deviation of a clearance. [mm]"""

FINE_ENOUGH = 1e-4
"""How closely the ends of an interval are worked out. [mm]"""


@dataclass(frozen=True, slots=True)
class Clearance:
    """Clearance per side of one joint: its mean, and the interval that holds 90 % of joints. [mm]

    ``chance`` is that of a joint to be in its band. Where there are several joints, it is any one
    of them.
    """

    mean: float
    low: float
    high: float
    chance: float


@dataclass(frozen=True, eq=False)
class Spreads:
    """Where each of several joints' clearance probably is: normal about its centre. [mm]"""

    centres: Floats
    deviations: Floats

    @cached_property
    def _scaled(self) -> list[tuple[float, float]]:
        scales = math.sqrt(2) * np.maximum(self.deviations, EXACT)
        return list(zip(self.centres.tolist(), scales.tolist(), strict=True))

    def below(self, length: float) -> float:
        """Chance of a joint, any one of them, to have less clearance than ``length``."""
        chances = [math.erfc((centre - length) / scale) for centre, scale in self._scaled]
        return sum(chances) / (2 * len(chances))

    def chance(self, band: tuple[float, float]) -> float:
        """Chance of a joint to be within ``band``."""
        return self.below(band[1]) - self.below(band[0])

    def quantile(self, share: float) -> float:
        """The clearance that ``share`` of joints are below."""
        reach = 6 * self.deviations + FINE_ENOUGH
        low, high = float((self.centres - reach).min()), float((self.centres + reach).max())
        while high - low > FINE_ENOUGH:
            middle = (low + high) / 2
            low, high = (middle, high) if self.below(middle) < share else (low, middle)
        return (low + high) / 2
