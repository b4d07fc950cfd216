"""Hatching as single strokes, cut off at the edges of what is hatched."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faywright.errors import RangeError

Floats = NDArray[np.float64]
Index = NDArray[np.int64]
Point = tuple[float, float]

SHORTEST = 0.05
"""Strokes shorter than this would print as specks and are left out. [mm]"""


@dataclass(frozen=True, slots=True)
class Hatch:
    """Even strokes, ``angle`` degrees clockwise from level on paper, ``spacing`` mm apart."""

    angle: float
    spacing: float

    def __post_init__(self) -> None:
        """Refuse a spacing that would print as a grey block, or not at all."""
        if not 0.3 <= self.spacing <= 50:
            raise RangeError(
                f"a spacing of {self.spacing:g} mm is not between 0.3 and 50 mm",
                where="hatching",
                remedy="About 2 mm reads well on paper",
            )


def hatch_strokes(corners: Sequence[Point], hatch: Hatch) -> tuple[tuple[Point, Point], ...]:
    """The strokes of ``hatch`` inside a closed outline. [mm]

    Strokes are counted from the drawing's origin, so that two pieces of one part run on.
    """
    lean = math.radians(hatch.angle)
    along = np.array([math.cos(lean), math.sin(lean)])
    across = np.array([-along[1], along[0]])
    points = np.asarray(corners, dtype=np.float64)
    aside, ahead = points @ across / hatch.spacing, points @ along
    counts = np.arange(math.ceil(aside.min()), math.floor(aside.max()) + 1)
    stroke, spans = _inside(aside, ahead, counts)
    long = spans[:, 1] - spans[:, 0] >= SHORTEST
    feet = counts[stroke[long], None] * hatch.spacing * across
    ends = feet[:, None, :] + spans[long][:, :, None] * along
    return tuple(((x, y), (to_x, to_y)) for (x, y), (to_x, to_y) in ends.tolist())


def _inside(aside: Floats, ahead: Floats, counts: Index) -> tuple[Index, Floats]:
    """Which stroke, from where to where, for each stretch inside; places are along the strokes.

    A stroke crosses an edge that has one end short of it, or on it, and the other beyond.
    """
    short = aside <= counts[:, None]
    crosses = short != np.roll(short, -1, axis=1)
    stroke, edge = np.nonzero(crosses)
    after = (edge + 1) % len(aside)
    share = (counts[stroke] - aside[edge]) / (aside[after] - aside[edge])
    places = ahead[edge] + share * (ahead[after] - ahead[edge])
    order = np.lexsort((places, stroke))
    return stroke[order[::2]], places[order].reshape(-1, 2)
