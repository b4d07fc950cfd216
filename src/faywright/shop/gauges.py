"""Instruments: what a reading is worth."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from faywright.errors import RangeError

Use = Literal["height", "fence", "thickness"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """A gauge or calipers. [mm]

    ``zero_error`` is what it shows when it should show nought, known to ``zero_uncertainty``,
    or as well as one reading where that is None; ``repeatability`` is one standard deviation of
    readings of the same thing.
    """

    mark: str
    uses: tuple[Use, ...]
    resolution: float
    repeatability: float
    zero_error: float = 0.0
    zero_uncertainty: float | None = None

    def __post_init__(self) -> None:
        """A gauge has a use, shows steps above 0 and scatters by 0 or more."""
        if not self.uses:
            raise RangeError(
                "it is used for nothing",
                where=f"gauge {self.mark}",
                remedy="Give its uses: height, fence, thickness",
            )
        if not (0 < self.resolution <= 2 and 0 <= self.repeatability <= 2):
            raise RangeError(
                f"resolution {self.resolution:g} mm and repeatability {self.repeatability:g} mm "
                "cannot both be right",
                where=f"gauge {self.mark}",
                remedy="Give a resolution above 0 and a repeatability from 0, both at most 2 mm",
            )
        if self.zero_uncertainty is not None and not 0 <= self.zero_uncertainty <= 5:
            raise RangeError(
                f"a zero known to {self.zero_uncertainty:g} mm is not known to 0 to 5 mm",
                where=f"gauge {self.mark}",
                remedy="Give a standard uncertainty of 0 or more",
            )
        if not abs(self.zero_error) <= 5:
            raise RangeError(
                f"a zero error of {self.zero_error:g} mm is beyond 5 mm",
                where=f"gauge {self.mark}",
                remedy="Zero the gauge, or give what it shows when closed",
            )

    @property
    def zero_spread(self) -> float:
        """Standard uncertainty of its zero: it is nulled by one reading, or known better. [mm]"""
        if self.zero_uncertainty is None:
            return self.standard_uncertainty
        return self.zero_uncertainty

    @property
    def standard_uncertainty(self) -> float:
        """Of one reading, zero error taken off. [mm]

        The display rounds to a step of ``resolution``: a rectangular spread of half a step each
        side, so a step over the square root of 12 (JCGM 100:2008, F.2.2.1).
        """
        return math.hypot(self.resolution / math.sqrt(12), self.repeatability)

    def of_mean(self, readings: int) -> float:
        """Standard uncertainty of the mean of repeated readings of one thing. [mm]"""
        return math.hypot(self.resolution / math.sqrt(12), self.repeatability / math.sqrt(readings))

    def shows(self, true: float) -> float:
        """What the gauge shows for a true length, zero error put back. [mm]"""
        return true + self.zero_error
