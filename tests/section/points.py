"""Sections of any cutter worked out a second way: point by point, from the cutter's own r(z).

Nothing here knows the kernel: a point is cut away where a pass covers it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tests.section.rectangles import Bools, flood

Floats = NDArray[np.float64]
Radius = Callable[[Floats], Floats]
"""Radius of a cutter by the depth below its top, for depths of 0 and more. [mm]"""

RASTER = 0.2
"""Pitch of the raster that tells offcuts from the board. [mm]"""


def stepped(*steps: tuple[float, float], shank: float) -> Radius:
    """Cylinders from the top down as (radius, depth below the top they reach), then the shank."""

    def radius(depth: Floats) -> Floats:
        below = [depth <= reach for _, reach in steps]
        return np.select(below, [np.full_like(depth, each) for each, _ in steps], shank)

    return radius


def dovetail(top: float, height: float, angle_deg: float) -> Radius:
    return lambda depth: top - np.minimum(depth, height) * np.tan(np.radians(angle_deg))


def v_point(greatest: float, included_angle_deg: float) -> Radius:
    slope = np.tan(np.radians(included_angle_deg) / 2)
    return lambda depth: np.minimum(depth * slope, greatest)


def bead(round_radius: float, point: float) -> Radius:
    """A hollow quarter round about a centre level with the top, outside the point."""

    def radius(depth: Floats) -> Floats:
        down = np.minimum(depth, round_radius)
        return point + round_radius - _other_side(round_radius, down)

    return radius


def core(ball: float) -> Radius:
    return lambda depth: _other_side(ball, ball - np.minimum(depth, ball))


def _other_side(hypotenuse: float, side: Floats) -> Floats:
    other: Floats = np.sqrt(np.maximum((hypotenuse - side) * (hypotenuse + side), 0))
    return other


def ogee(point: float, hollow: float, swell: float) -> Radius:
    """From a point: a hollow quarter round downwards, then a quarter round that swells out."""

    def radius(depth: Floats) -> Floats:
        first = np.minimum(depth, hollow)
        second = np.clip(depth - hollow, 0, swell)
        out = hollow - _other_side(hollow, first)
        return point + out + _other_side(swell, swell - second)

    return radius


@dataclass(frozen=True)
class TurningPass:
    """A pass of any cutter; the work lies ``flat`` or on edge, face B down if ``turned``."""

    radius: Radius
    height: float
    axis: float
    flat: bool
    turned: bool

    def cuts(self, points: Floats, thickness: float) -> Bools:
        """Which of the points (n, 2) the cutter sweeps."""
        u, v = points.T
        if self.turned:
            u = thickness - u
        y, z = (v, u) if self.flat else (u, v)
        depth = self.height - z
        within = np.abs(y - self.axis) <= self.radius(np.maximum(depth, 0))
        return np.asarray((depth >= 0) & within, dtype=np.bool_)


@dataclass(frozen=True)
class Board:
    """A board and its passes, asked point by point. [mm]"""

    thickness: float
    width: float
    passes: tuple[TurningPass, ...]

    def wood(self, points: Floats) -> Bools:
        """Which points lie in the wood, offcuts among it."""
        left = np.all((points >= 0) & (points <= (self.thickness, self.width)), axis=1)
        for run in self.passes:
            left = left & ~run.cuts(points, self.thickness)
        return np.asarray(left, dtype=np.bool_)

    def in_offcut(self, points: Floats) -> Bools:
        """Which points lie further than a raster cell from all wood that reaches the back."""
        rows, columns = (math.ceil(size / RASTER) for size in (self.thickness, self.width))
        cells = np.indices((rows, columns)).reshape(2, -1).T.astype(np.float64)
        wood = self.wood((cells + 0.5) * RASTER).reshape(rows, columns)
        back = np.zeros_like(wood)
        back[:, -2] = wood[:, -2]  # the last row may stick out past the back
        reached = np.pad(flood(back, wood), 1)
        u, v = (points // RASTER).astype(int).T
        near = [reached[u + i, v + j] for i in (0, 1, 2) for j in (0, 1, 2)]
        return ~np.asarray(np.any(near, axis=0), dtype=np.bool_)


def even_odd(points: Floats, corners: Floats, ends: Floats) -> Bools:
    """Which points lie inside an outline: a ray along u crosses it an odd number of times."""
    u, v = points[:, :1], points[:, 1:]
    (u1, v1), (u2, v2) = corners.T, ends.T
    straddles = (v1 > v) != (v2 > v)
    rise = np.where(v1 == v2, 1.0, v2 - v1)
    crossing = u1 + (v - v1) / rise * (u2 - u1)
    return np.asarray((straddles & (u < crossing)).sum(axis=1) % 2 == 1)


def from_outline(points: Floats, corners: Floats, ends: Floats) -> Floats:
    """Distance of points (n, 2) from the nearest of the edges. [mm]"""
    along = ends - corners
    length = np.maximum((along**2).sum(axis=1), 1e-300)
    off = points[:, None, :] - corners
    share = np.clip((off * along).sum(axis=2) / length, 0, 1)
    distance: Floats = np.hypot(*np.moveaxis(off - share[..., None] * along, 2, 0)).min(axis=1)
    return distance


def beside(corners: Floats, ends: Floats, offset: float) -> Floats:
    """Points on either side of the middle of every edge that is long enough, ``offset`` away."""
    along = ends - corners
    length = np.hypot(*along.T)
    long = length > 4 * offset
    middle = ((corners + ends) / 2)[long]
    normal = np.stack([-along[long, 1], along[long, 0]], axis=1) / length[long, None]
    return np.concatenate([middle + offset * normal, middle - offset * normal])


def shoelace(corners: Floats) -> float:
    """Area inside one ring of corners, anticlockwise. [mm2]"""
    u, v = corners.T
    return float((u * np.roll(v, -1) - v * np.roll(u, -1)).sum() / 2)
