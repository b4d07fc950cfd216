"""Hatching as single strokes, cut off at the edges of what is hatched."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from faywright.errors import RangeError

Floats = NDArray[np.float64]
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
    area = shapely.Polygon(corners)
    lean = math.radians(hatch.angle)
    along = np.array([math.cos(lean), math.sin(lean)])
    across = np.array([-along[1], along[0]])
    points = np.asarray(corners, dtype=np.float64)
    low, high = points @ across / hatch.spacing, points @ along
    counts = np.arange(math.ceil(low.min()), math.floor(low.max()) + 1)
    feet = counts[:, None] * hatch.spacing * across
    ends = np.stack([feet + (high.min() - 1) * along, feet + (high.max() + 1) * along], axis=1)
    inside = shapely.get_parts(shapely.intersection(shapely.linestrings(ends), area))
    long = inside[shapely.length(inside) >= SHORTEST]
    return tuple(_ordered(shapely.get_coordinates(piece), along) for piece in long)


def _ordered(piece: Floats, along: Floats) -> tuple[Point, Point]:
    """First and last point of a piece in the direction of the strokes."""
    order = np.argsort(piece @ along)
    first, last = piece[order[0]], piece[order[-1]]
    return (float(first[0]), float(first[1])), (float(last[0]), float(last[1]))
