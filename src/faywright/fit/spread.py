"""How far a quantity may be from what was measured or set."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from faywright.errors import RangeError

COVERAGE = 2.0
"""Coverage factor for limits of a normal spread: about 95 % lies within (JCGM 100:2008, 6.3.3)."""


@dataclass(frozen=True, slots=True)
class Spread:
    """The error of a quantity: normal about ``mean``, or rectangular with equal chance. [mm]

    ``size`` is the standard deviation of a normal error, the half width of a rectangular one.
    """

    shape: Literal["normal", "rectangular"]
    size: float
    mean: float = 0.0

    def __post_init__(self) -> None:
        """A spread is 0 or more."""
        if not (math.isfinite(self.size) and self.size >= 0 and math.isfinite(self.mean)):
            raise RangeError(
                f"a spread of {self.size:g} about {self.mean:g} cannot be",
                where="uncertainty",
                remedy="Give a finite spread of 0 or more",
            )

    @property
    def standard_uncertainty(self) -> float:
        """Standard deviation: half width over root 3 where rectangular (JCGM 100:2008, 4.3.7)."""
        return self.size if self.shape == "normal" else self.size / math.sqrt(3)

    @property
    def limit(self) -> float:
        """Most it is taken to be off its mean in a worst case: half width, or ``COVERAGE`` sd."""
        return self.size if self.shape == "rectangular" else COVERAGE * self.size

    def draw(self, generator: np.random.Generator, shape: tuple[int, ...]) -> NDArray[np.float64]:
        """Random errors (JCGM 101:2008, 6.4.2 and 6.4.7)."""
        if self.shape == "normal":
            drawn = generator.standard_normal(shape)
            drawn *= self.size
        else:
            drawn = generator.random(shape)
            drawn *= 2 * self.size
            drawn -= self.size
        if self.mean:
            drawn += self.mean
        return drawn


def one_sided(most: float) -> Spread:
    """An error anywhere from 0 to ``most``. [mm]"""
    return Spread("rectangular", most / 2, most / 2)
