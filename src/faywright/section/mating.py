"""Two sections put together: the signed gap between every pair of surfaces that meet.

The first part (the one with the groove) stays in its own joint frame. The second is turned to
face it: its v runs the other way, from ``seat``, the place where its shoulder stops it, and it
may stand ``lift`` along u so that faces A are not flush. A gap below 0 is interference.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from faywright.errors import InputError
from faywright.section.cutting import Sections

Floats = NDArray[np.float64]
Index = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Meeting:
    """A named pair of surfaces and the way their gap opens.

    ``axis`` 0 measures along u, 1 along v; ``sign`` is +1 where the gap opens as the second
    part's surface moves up that axis.
    """

    gap: str
    first: str
    second: str
    axis: Literal[0, 1]
    sign: Literal[1, -1]


@dataclass(frozen=True)
class Placing:
    """How the second parts stand against the first, one entry a pair. [mm]"""

    first: Index
    second: Index
    seat: Floats
    lift: Floats


def seats(tongued: Sections, shoulders: Sequence[str]) -> Floats:
    """v of the shoulder that closes first on every board: the one nearest the nose. [mm]

    A part without shoulders (a loose strip) is seated at its own edge by giving none.
    """
    if not shoulders:
        return np.zeros(len(tongued))
    positions = np.stack([tongued.position(name, 1) for name in shoulders])
    least: Floats = np.minimum.reduce(positions, axis=0)
    return least


def gaps(
    grooved: Sections, tongued: Sections, meetings: Sequence[Meeting], placing: Placing
) -> dict[str, Floats]:
    """Signed gaps between surfaces that are square to u or v, by name, one entry a pair. [mm]

    Raises
    ------
    InputError
        A section lacks a surface, or the surface is not square to the axis of its meeting.
    """
    result = {}
    for meeting in meetings:
        fixed = grooved.position(meeting.first, meeting.axis)[placing.first]
        moved = tongued.position(meeting.second, meeting.axis)[placing.second]
        moved = placing.seat - moved if meeting.axis == 1 else moved + placing.lift
        result[meeting.gap] = meeting.sign * (moved - fixed)
    return result


def narrowest_gap(
    grooved: Sections, tongued: Sections, meeting: Meeting, placing: Placing, pair: int = 0
) -> float:
    """Least signed gap of one pair between surfaces of any shape, along the meeting's axis. [mm]

    Exact for straight surfaces; for round ones within the chord tolerance of the profile.

    Raises
    ------
    InputError
        The surfaces are missing or do not lie opposite each other anywhere.
    """
    fixed = grooved.edges(meeting.first, int(placing.first[pair]))
    moved = place(tongued.edges(meeting.second, int(placing.second[pair])).copy(), placing, pair)
    other = 1 - meeting.axis
    knots = np.unique(np.concatenate([fixed[..., other].ravel(), moved[..., other].ravel()]))
    least = np.inf
    for knot in knots:
        there = [_at(edges, float(knot), meeting.axis) for edges in (fixed, moved)]
        if all(len(values) for values in there):
            difference = meeting.sign * (there[1][:, None] - there[0][None, :])
            least = min(least, float(difference.min()))
    if not np.isfinite(least):
        raise InputError(
            f"{meeting.first!r} and {meeting.second!r} do not lie opposite each other",
            where=f"gap {meeting.gap!r}",
            remedy="Check the names, or the offset between the parts",
        )
    return least


def _at(edges: Floats, knot: float, axis: int) -> Floats:
    """Coordinates along ``axis`` where the edges cross or touch ``knot`` on the other axis."""
    if len(edges) == 0:
        return np.empty(0)
    low, high = edges[:, 0, 1 - axis], edges[:, 1, 1 - axis]
    touching = (np.minimum(low, high) <= knot + 1e-12) & (np.maximum(low, high) >= knot - 1e-12)
    start, end = edges[touching, 0], edges[touching, 1]
    run = end[:, 1 - axis] - start[:, 1 - axis]
    level = np.abs(run) < 1e-12
    share = np.where(level, 0.0, (knot - start[:, 1 - axis]) / np.where(level, 1.0, run))
    crossing = start[:, axis] + share * (end[:, axis] - start[:, axis])
    return np.concatenate([crossing, end[level, axis]])


def place(points: Floats, placing: Placing, pair: int) -> Floats:
    """``points`` (..., 2) of the second part of a pair where they stand when mated. [mm]"""
    points = points.copy()
    points[..., 0] += placing.lift[pair]
    points[..., 1] = placing.seat[pair] - points[..., 1]
    return points


def overlap_area(grooved: Sections, tongued: Sections, placing: Placing) -> Floats:
    """Area in which the two parts of each pair would stand in the same place. [mm2]"""
    fixed = grooved.polygons[placing.first]
    count = len(placing.first)
    areas = np.empty(count)
    for pair in range(count):
        board = int(placing.second[pair])
        corners = tongued.points[tongued.starts[board] : tongued.starts[board + 1]]
        moved = shapely.Polygon(place(corners, placing, pair))
        areas[pair] = shapely.area(shapely.intersection(fixed[pair], moved))
    return areas
