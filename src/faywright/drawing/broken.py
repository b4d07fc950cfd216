"""How much of a part is shown: whole where it is small, else broken off clear of the joint."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import shapely

from faywright.drawing.hatching import Point
from faywright.drawing.model import Bounds, Polyline
from faywright.drawing.view import wave

Side = Literal["left", "top", "right", "foot"]
SIDES: tuple[Side, ...] = ("left", "top", "right", "foot")
OUTWARDS = (-1, -1, 1, 1)
"""Which way each side looks, along its own axis."""

SPARE = 0.4
"""A part that ends this little further out is not worth breaking off; a share of the reach."""

OVERRUN = 1.2
"""How far a break line runs on past the edges of the part. [mm]"""


@dataclass(frozen=True)
class Shown:
    """The rectangle of paper in which a part is shown, and the sides where it is broken off."""

    bounds: Bounds
    broken: frozenset[Side]

    @property
    def tall(self) -> bool:
        """Whether the part is broken off above or below, so that its height is not true."""
        return not self.broken.isdisjoint(("top", "foot"))

    @cached_property
    def window(self) -> shapely.Polygon:
        """What is shown of the part, its break lines included."""
        return shapely.Polygon([point for side in SIDES for point in self._edge(side)])

    @property
    def breaks(self) -> tuple[Polyline, ...]:
        """The break lines, drawn as by hand."""
        return tuple(
            Polyline(self._edge(side), "dimension") for side in SIDES if side in self.broken
        )

    def _edge(self, side: Side) -> tuple[Point, ...]:
        """One side of the window, clockwise on paper; whole ends stand clear of the part."""
        left, top, right, foot = (
            at if name in self.broken else at + outwards * OVERRUN
            for name, at, outwards in zip(SIDES, self.bounds, OUTWARDS, strict=True)
        )
        corners = [(left, foot), (left, top), (right, top), (right, foot)]
        k = SIDES.index(side)
        start, end = corners[k], corners[(k + 1) % 4]
        if side not in self.broken:
            return start, end
        length = abs(end[0] - start[0]) + abs(end[1] - start[1])
        return wave(start, end, min(max(length / 16, 0.5), 1.6))


def shown(part: shapely.Polygon, joint: Bounds, reach: Bounds) -> Shown:
    """What to show of ``part`` (on paper) about ``joint``, ``reach`` mm beyond it at each side."""
    bounds: list[float] = []
    broken: set[Side] = set()
    for side, outwards, end, at, far in zip(
        SIDES, OUTWARDS, part.bounds, joint, reach, strict=True
    ):
        if outwards * (end - at) <= (1 + SPARE) * far:
            bounds.append(end)
        else:
            bounds.append(at + outwards * far)
            broken.add(side)
    left, top, right, foot = bounds
    return Shown((left, top, right, foot), frozenset(broken))
