"""Lettering put where there is room for it: the first of several places that is clear."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import shapely
from shapely.geometry.base import BaseGeometry

from faywright.drawing.dimensioning import leader
from faywright.drawing.hatching import Point
from faywright.drawing.model import Mark, Outline, Polyline, Text

MARGIN = 0.7
"""Bare paper around lettering. [mm]"""


@dataclass
class Paper:
    """What has been drawn so far, and the lettering on it."""

    marks: list[Mark] = field(default_factory=list, init=False)
    _shapes: list[BaseGeometry] = field(default_factory=list, init=False)
    _lettered: list[BaseGeometry] = field(default_factory=list, init=False)

    def add(self, marks: Iterable[Mark]) -> None:
        """Draw ``marks`` where they stand."""
        for mark in marks:
            shape = _shape(mark)
            self.marks.append(mark)
            self._shapes.append(shape)
            if isinstance(mark, Text):
                self._lettered.append(shape)

    def clear_for(self, texts: Sequence[Text]) -> bool:
        """Whether ``texts`` would keep clear of all lines, solid shapes and other lettering."""
        bare = shapely.polygons([text.corners for text in texts])
        return not shapely.dwithin(bare[:, None], self._shapes, MARGIN).any()

    def label(self, spots: Iterable[tuple[Sequence[Text], Sequence[Point]]]) -> bool:
        """Draw the first label that is clear, with the leader along its path; whether one was."""
        for texts, path in spots:
            if self.clear_for(texts) and not self._strikes(path):
                self.add([*texts, *leader(path)])
                return True
        return False

    def _strikes(self, path: Sequence[Point]) -> bool:
        return bool(shapely.intersects(shapely.LineString(path), self._lettered).any())


def _shape(mark: Mark) -> BaseGeometry:
    """What lettering has to keep clear of."""
    match mark:
        case Polyline():
            return shapely.linestrings(mark.points)
        case Text():
            return _room(mark)
        case Outline():
            return shapely.polygons(mark.points)


def room_of(texts: Sequence[Text]) -> BaseGeometry:
    """The paper that lettering takes, with a margin."""
    return shapely.union_all([_room(text) for text in texts])


def _room(text: Text) -> BaseGeometry:
    return shapely.buffer(shapely.polygons(text.corners), MARGIN, quad_segs=16)
