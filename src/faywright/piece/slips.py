"""Thickness readings that look like slips of the pencil, found by median and spread.

A *pile* is all boards of a part. A reading far off its pile that would lie in it with the decimal
point moved, in the other unit, or as the fraction it may stand for, is named as that slip.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from faywright.shop.boards import Board

Floats = NDArray[np.float64]

DEVIATIONS = 6.0
"""Standard deviations beyond which a reading is asked about. Common practice, no source: wide,
so that rough stock raises no questions that wear out the answer."""

LEAST_SPREAD = 0.025
"""Standard deviation taken at least, for readings that happen to agree. [mm] Common practice, no
source: what calipers scatter by in one hand."""

IN_PILE = 0.05
"""How far off the median of its pile a mended reading may lie, as a share of it."""

_MAD_TO_DEVIATION = 1 / 0.6744897501960817  # of a normal distribution: its upper quartile
_DECIMAL = re.compile(r"([0-9]+)\.([0-9]+)")
_RULE = (2, 4, 8, 16, 32, 64)  # what the fractions on a rule are counted in


Slip = Literal["decimal point", "inches", "millimetres", "fraction"]
