"""What a drawing is made of, in millimetres on the paper; backends only carry it out.

x runs to the right and y down the sheet. Every choice is made here or by whoever composes the
drawing: what stands where, how heavy a line is, how the hatching runs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Literal, TypeAlias

from faywright.drawing.hatching import Hatch, Point, hatch_strokes
from faywright.drawing.lettering import ASCENT, DESCENT, text_width
from faywright.errors import InputError, RangeError

Bounds: TypeAlias = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y. [mm]"""

Weight = Literal["outline", "frame", "hidden", "dimension", "hatch"]

LINE_WIDTHS: dict[Weight, float] = {
    "outline": 0.4,  # surfaces of the work
    "frame": 0.28,  # what is enlarged, and the enlarged view
    "hidden": 0.25,  # behind what is drawn; dashed
    "dimension": 0.18,  # dimensions, leaders, breaks
    "hatch": 0.13,  # cut wood
}
"""What each weight means, and its width on paper. [mm]"""

HIDDEN_DASHES = (1.8, 0.9)
"""Stroke and space of hidden lines. [mm]"""


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open run of straight strokes."""

    points: tuple[Point, ...]
    weight: Weight

    def __post_init__(self) -> None:
        """A stroke has two ends."""
        _check_points(self.points, least=2, where="line of a drawing")

    @property
    def bounds(self) -> Bounds:
        """The least rectangle that holds it."""
        return _bounds(self.points)


def line(start: Point, end: Point, weight: Weight) -> Polyline:
    """One straight stroke."""
    return Polyline((start, end), weight)


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline; ``weight`` None leaves its edge undrawn, ``solid`` fills it with ink."""

    points: tuple[Point, ...]
    weight: Weight | None
    hatch: Hatch | None = None
    solid: bool = False

    def __post_init__(self) -> None:
        """An outline has three corners."""
        _check_points(self.points, least=3, where="outline of a drawing")

    @property
    def bounds(self) -> Bounds:
        """The least rectangle that holds it."""
        return _bounds(self.points)

    @property
    def strokes(self) -> tuple[tuple[Point, Point], ...]:
        """Its hatching, cut off at the outline."""
        return () if self.hatch is None else hatch_strokes(self.points, self.hatch)


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering; ``at`` is the anchor on its baseline, ``size`` its em in mm.

    ``rotation`` is in degrees clockwise about the anchor. ``accent`` is for the one figure to
    set now; it is bold as well, so that it needs no colour.
    """

    text: str
    at: Point
    size: float
    anchor: Literal["start", "middle", "end"] = "start"
    rotation: float = 0.0
    emphasis: Literal["plain", "strong", "accent"] = "plain"

    def __post_init__(self) -> None:
        """Refuse what would not print as one legible line."""
        _check_points((self.at,), least=1, where=f"lettering {self.text!r}")
        check_text(self.text, where="lettering of a drawing")
        if not 1.5 <= self.size <= 100:
            raise RangeError(
                f"a size of {self.size:g} mm is not between 1.5 and 100 mm",
                where=f"lettering {self.text!r}",
                remedy="2.5 mm is small print, 5 mm a title",
            )

    @property
    def width(self) -> float:
        """Room along the baseline, by the width model of ``lettering``. [mm]"""
        return text_width(self.text, self.size, bold=self.emphasis != "plain")

    @property
    def corners(self) -> tuple[Point, ...]:
        """The rectangle the lettering takes, turned as it is."""
        left, top, right, foot = self._level
        turn = math.radians(self.rotation)
        cos, sin = math.cos(turn), math.sin(turn)
        x, y = self.at
        return tuple(
            (x + dx * cos - dy * sin, y + dx * sin + dy * cos)
            for dx, dy in ((left, top), (right, top), (right, foot), (left, foot))
        )

    @property
    def bounds(self) -> Bounds:
        """The least upright rectangle that holds it."""
        if self.rotation:
            return _bounds(self.corners)
        left, top, right, foot = self._level
        x, y = self.at
        return x + left, y + top, x + right, y + foot

    @property
    def _level(self) -> Bounds:
        """The room it takes about its anchor before it is turned."""
        width = self.width
        left = -width * {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor]
        return left, -ASCENT * self.size, left + width, DESCENT * self.size


Mark: TypeAlias = Polyline | Outline | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing; ``origin`` is its top left corner, ``scale`` paper mm for one mm."""

    title: str
    description: str
    origin: Point
    size: tuple[float, float]
    marks: tuple[Mark, ...]
    scale: float = 1.0

    def __post_init__(self) -> None:
        """A drawing has an extent and says what it shows."""
        check_text(self.title, where="title of a drawing")
        check_text(self.description, where="description of a drawing")
        if not all(0 < extent < 5000 for extent in (*self.size, self.scale)):
            raise RangeError(
                f"{self.size[0]:g} x {self.size[1]:g} mm at {self.scale:g}:1 is no sheet",
                where=f"drawing {self.title!r}",
                remedy="Give sizes above 0",
            )

    @property
    def texts(self) -> tuple[Text, ...]:
        """All its lettering."""
        return tuple(mark for mark in self.marks if isinstance(mark, Text))


def drawing_around(
    marks: Sequence[Mark], *, title: str, description: str, margin: float = 6.0, scale: float = 1.0
) -> Drawing:
    """A drawing just large enough for ``marks`` and a ``margin`` of bare paper. [mm]"""
    left, top, right, foot = joined(mark.bounds for mark in marks)
    return Drawing(
        title=title,
        description=description,
        origin=(left - margin, top - margin),
        size=(right - left + 2 * margin, foot - top + 2 * margin),
        marks=tuple(marks),
        scale=scale,
    )


def joined(bounds: Iterable[Bounds]) -> Bounds:
    """The least rectangle that holds all of ``bounds``."""
    lefts, tops, rights, feet = zip(*bounds, strict=True)
    return min(lefts), min(tops), max(rights), max(feet)


def check_text(text: str, *, where: str) -> None:
    """Refuse lettering that is blank or would not stay on one line."""
    if not text.strip() or not text.isprintable():
        raise InputError(
            f"{text!r} is blank or holds characters that do not print",
            where=where,
            remedy="Write one line of plain text",
        )


def _check_points(points: Sequence[Point], *, least: int, where: str) -> None:
    # One sum is as infinite, or as little a number, as any of its terms.
    if len(points) < least or not math.isfinite(sum(chain.from_iterable(points))):
        raise InputError(
            f"{len(points)} points, or one that is not a number",
            where=where,
            remedy=f"Give at least {least} points in millimetres",
        )


def _bounds(points: Iterable[Point]) -> Bounds:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
