"""Lettering put where there is room for it: the first of several places that is clear."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
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

    marks: list[Mark] = field(default_factory=list)

    def add(self, marks: Iterable[Mark]) -> None:
        """Draw ``marks`` where they stand."""
        self.marks += marks

    def clear_for(self, texts: Sequence[Text]) -> bool:
        """Whether ``texts`` would keep clear of all lines, solid shapes and other lettering."""
        rooms = room_of(texts)
        return not any(shapely.intersects(rooms, shape) for shape in self._shapes())

    def label(self, spots: Iterable[tuple[Sequence[Text], Sequence[Point]]]) -> bool:
        """Draw the first label that is clear, with the leader along its path; whether one was."""
        for texts, path in spots:
            if self.clear_for(texts) and not self._strikes(path):
                self.add([*texts, *leader(path)])
                return True
        return False

    def _strikes(self, path: Sequence[Point]) -> bool:
        line = shapely.LineString(path)
        return any(
            line.intersects(room_of([mark])) for mark in self.marks if isinstance(mark, Text)
        )

    def _shapes(self) -> Iterator[BaseGeometry]:
        for mark in self.marks:
            match mark:
                case Polyline():
                    yield shapely.LineString(mark.points)
                case Text():
                    yield room_of([mark])
                case Outline():
                    yield shapely.Polygon(mark.points)


def room_of(texts: Sequence[Text]) -> BaseGeometry:
    """The paper that lettering takes, with a margin."""
    return shapely.union_all([shapely.Polygon(text.corners).buffer(MARGIN) for text in texts])
