"""Sections laid on paper: to scale, cut off at a window, hatched, with their edges drawn."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from faywright.drawing.hatching import Hatch, Point
from faywright.drawing.model import Mark, Outline, Polyline
from faywright.drawing.pairing import MatedPair

LEANS = (45.0, 135.0, 30.0)
"""Which way the hatching leans, of the grooved and the tongued part and of one that faces the
grooved part. [degrees]
"""


@dataclass(frozen=True, slots=True)
class View:
    """Joint frame to paper: the grooved part to the left, its face A up.

    ``scale`` is paper mm for one mm, ``x`` and ``y`` the paper's place for u = v = 0.
    """

    scale: float
    x: float
    y: float

    def point(self, u: float, v: float) -> Point:
        """Where a point of the joint frame lands on paper."""
        return self.x - self.scale * v, self.y + self.scale * u

    def shape(self, shape: shapely.Polygon) -> shapely.Polygon:
        """A section of the joint frame on paper."""
        points = shapely.get_coordinates(shapely.get_exterior_ring(shape))
        return shapely.Polygon([self.point(u, v) for u, v in points.tolist()])


def pair_marks(
    pair: MatedPair, view: View, window: BaseGeometry, spacing: float
) -> tuple[Mark, ...]:
    """Grooved and tongued part as far as they lie in ``window``, which is on paper."""
    marks: list[Mark] = []
    for part, lean in zip((pair.grooved, pair.tongued), LEANS, strict=False):
        marks += part_marks(view.shape(part), window, Hatch(lean, spacing))
    return tuple(marks)


def part_marks(part: shapely.Polygon, window: BaseGeometry, hatch: Hatch) -> list[Mark]:
    """A part on paper: hatching first, edges over it; none where the window cuts it off."""
    marks: list[Mark] = [
        Outline(_points(shapely.get_exterior_ring(piece))[:-1], None, hatch)
        for piece in shapely.get_parts(shapely.intersection(part, window))
        if isinstance(piece, shapely.Polygon) and piece.area > 1e-6
    ]
    edges = shapely.intersection(shapely.get_exterior_ring(part), window)
    runs = shapely.get_parts(shapely.line_merge(edges))
    marks += [Polyline(_points(run), "outline") for run in runs if run.length > 1e-6]
    return marks


def _points(run: BaseGeometry) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(run))


def _off(t: float) -> float:
    ripple = math.sin(6 * math.pi * t + 1.2) - math.sin(1.2)  # 0 at both ends
    return 0.75 * math.sin(2 * math.pi * t) + 0.25 * ripple


_WAVE = tuple((k / 32, _off(k / 32)) for k in range(33))
"""Places along a break line, and how far it is off there for a swing of 1."""


def wave(start: Point, end: Point, swing: float) -> tuple[Point, ...]:
    """A break line drawn as by hand, from ``start`` to ``end``, ``swing`` to either side."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    return tuple(
        (
            start[0] + dx * t - dy / length * (swing * off),
            start[1] + dy * t + dx / length * (swing * off),
        )
        for t, off in _WAVE
    )


def rounded(left: float, top: float, right: float, foot: float, radius: float) -> tuple[Point, ...]:
    """A rectangle with rounded corners, clockwise on paper. [mm]"""
    centres = (
        (right - radius, top + radius, -90),
        (right - radius, foot - radius, 0),
        (left + radius, foot - radius, 90),
        (left + radius, top + radius, 180),
    )
    return tuple(
        (
            x + radius * math.cos(math.radians(first + turn)),
            y + radius * math.sin(math.radians(first + turn)),
        )
        for x, y, first in centres
        for turn in (0, 15, 30, 45, 60, 75, 90)
    )
