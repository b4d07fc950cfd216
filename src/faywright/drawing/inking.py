"""Strokes that a drawing of work on a machine needs: chain lines, heavy walls, bold arrows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from faywright.drawing.hatching import Hatch, Point
from faywright.drawing.model import Mark, Outline, Polyline, Weight, line

LONG, SPACE, SHORT = 5.0, 0.9, 1.0
"""The strokes of a chain line, and what is left open between them. [mm]"""

HEAVY = 0.9
"""Width of a fresh wall, the heaviest line of a drawing. [mm]"""

SPECK = 1e-6
"""Lengths and areas below this are nothing. [mm, mm2]"""

WOOD = (Hatch(45.0, 2.0),)
WASTE = (Hatch(20.0, 0.9), Hatch(110.0, 0.9))
"""Wood that stays is hatched one way and openly, waste both ways and closely."""


def chain(start: Point, end: Point) -> list[Mark]:
    """A thin line of long and short strokes: an axis, or the edge of a zone."""
    length = math.dist(start, end)
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    marks: list[Mark] = []
    at, long = 0.0, True
    while at < length - SPECK:
        stop = min(at + (LONG if long else SHORT), length)
        ends = [(start[0] + dx * t, start[1] + dy * t) for t in (at, stop)]
        if stop - at > 0.3:
            marks.append(line(ends[0], ends[1], "dimension"))
        at, long = stop + SPACE, not long
    return marks


def heavy(run: Sequence[Point]) -> list[Mark]:
    """A run of straight strokes drawn heavily, as solid shapes."""
    stroke = shapely.LineString(run).buffer(HEAVY / 2, cap_style="flat", join_style="mitre")
    return [Outline(corners, None, solid=True) for corners in outlines(stroke)]


def bold_arrow(tail: Point, tip: Point, *, width: float = 1.6, head: float = 6.0) -> Outline:
    """One solid arrow from ``tail`` to ``tip``, its head twice as long as it is wide to a side."""
    length = math.dist(tail, tip)
    dx, dy = (tip[0] - tail[0]) / length, (tip[1] - tail[1]) / length

    def at(along: float, beside: float) -> Point:
        return tail[0] + dx * along - dy * beside, tail[1] + dy * along + dx * beside

    neck, half, wing = length - head, width / 2, head / 2
    corners = (at(0, half), at(neck, half), at(neck, wing), at(length, 0))
    return Outline((*corners, at(neck, -wing), at(neck, -half), at(0, -half)), None, solid=True)


def hatched(shape: BaseGeometry, hatches: Sequence[Hatch]) -> list[Mark]:
    """``shape`` hatched, holes and all; its edges are not drawn."""
    return [Outline(corners, None, hatch) for corners in outlines(shape) for hatch in hatches]


def outlines(shape: BaseGeometry) -> Iterator[tuple[Point, ...]]:
    """Closed outlines that make up ``shape``; one with a hole is cut in two through it."""
    for part in shapely.get_parts(shape):
        if not isinstance(part, shapely.Polygon) or part.area <= SPECK:
            continue
        if not part.interiors:
            yield tuple(_points(part.exterior)[:-1])
            continue
        left, top, right, foot = part.bounds
        through = part.interiors[0].centroid.x
        for half in (
            shapely.box(left - 1, top - 1, through, foot + 1),
            shapely.box(through, top - 1, right + 1, foot + 1),
        ):
            yield from outlines(shapely.intersection(part, half))


def strokes(lines: BaseGeometry, weight: Weight) -> list[Mark]:
    """Lines of any kind as strokes, runs that touch put together."""
    runs = [part for part in shapely.get_parts(lines) if isinstance(part, shapely.LineString)]
    merged = shapely.line_merge(shapely.MultiLineString([run for run in runs if run.length > 0]))
    return [
        Polyline(tuple(_points(run)), weight)
        for run in shapely.get_parts(merged)
        if run.length > SPECK
    ]


def _points(run: BaseGeometry) -> list[Point]:
    return [(float(x), float(y)) for x, y in shapely.get_coordinates(run)]


def segments(run: BaseGeometry) -> list[tuple[Point, Point]]:
    """The straight strokes of all runs in ``run``."""
    return [stroke for part in shapely.get_parts(run) for stroke in pairwise(_points(part))]
