"""What one reading is, in a picture: the part that is measured, and between what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import shapely

from faywright.drawing.broken import Shown, shown
from faywright.drawing.cut_part import CutPart, cut_part
from faywright.drawing.dimensioning import Dimension
from faywright.drawing.hatching import Hatch, Point
from faywright.drawing.model import Drawing, drawing_around
from faywright.drawing.tightest import CutBoard
from faywright.drawing.view import LEANS, View, part_marks

LARGEST_DOUBLED = 12.0
"""Parts up to this thick are drawn at 2:1: their cuts are small. [mm]"""

REACH, ACROSS = 22.0, 20.0
"""How much of a part is shown behind the cut, and to either side of it. [mm on paper]"""

OUT = 6.0
"""From the part to the dimension line. [mm]"""


def reading_picture(cut: CutBoard, what: str) -> Drawing | None:
    """The section of a cut board with one distance on it, by the name of the reading.

    None for a reading that this board does not have, or that a section cannot show.
    """
    picture = _Picture(cut_part(cut.sections, cut.board))
    dimension = picture.dimension(what)
    if dimension is None:
        return None
    hatch = Hatch(LEANS[1 if picture.points_left else 0], 2.0)
    return drawing_around(
        (
            *part_marks(picture.paper, picture.shown.window, hatch),
            *picture.shown.breaks,
            *dimension.marks,
        ),
        title=what,
        description=f"Where to measure the {what}: {cut.role} of {cut.naming.name} in section.",
        margin=2.0,
        scale=picture.scale,
    )


@dataclass(frozen=True)
class _Picture:
    """A part on paper: a groove opens to the right, a tongue points to the left."""

    part: CutPart

    @property
    def scale(self) -> float:
        return 2.0 if self.part.thickness <= LARGEST_DOUBLED else 1.0

    @property
    def points_left(self) -> bool:
        return self.part.kind != "groove"

    @cached_property
    def paper(self) -> shapely.Polygon:
        outline = self.part.outline
        if self.points_left:
            outline = shapely.transform(outline, lambda points: points * (1, -1))
        return View(self.scale, 0.0, 0.0).shape(outline)

    @cached_property
    def shown(self) -> Shown:
        low, high = (self.scale * at for at in self.part.cut)
        behind = self.scale * self.part.depth
        left, right = (0.0, behind) if self.points_left else (-behind, 0.0)
        return shown(self.paper, (left, low, right, high), (REACH, ACROSS, REACH, ACROSS))

    def dimension(self, what: str) -> Dimension | None:
        """The one distance that is read."""
        across = self._across.get(what)
        if across is not None:
            return self._between(*across, what)
        deep = "groove depth" if self.part.kind == "groove" else "tongue length"
        return self._along(what) if what == deep and self.part.depth else None

    @property
    def _across(self) -> Mapping[str, tuple[float, float]]:
        low, high = self.part.cut
        whole = self.part.thickness
        if self.part.kind == "strip":
            return {}
        if self.part.kind == "groove":
            return {
                "groove width": (low, high),
                "wall beside face B": (high, whole),
                "wall beside opposite edge": (high, whole),
                "wall beside face A": (0.0, low),
                "wall beside reference edge": (0.0, low),
            }
        return {
            "tongue thickness": (low, high),
            "depth of the face-A cheek": (0.0, low),
            "depth of the face-B cheek": (high, whole),
        }

    def _between(self, low: float, high: float, what: str) -> Dimension | None:
        top, foot = self.shown.bounds[1], self.shown.bounds[3]
        start, end = self._corner(low), self._corner(high)
        if high - low < 1e-6 or start[1] < top - 1e-6 or end[1] > foot + 1e-6:
            return None
        at = -OUT if self.points_left else OUT
        return Dimension(start=start, end=end, axis="y", at=at, lines=(what,), strong=0)

    def _corner(self, at: float) -> Point:
        behind = self.scale * self.part.begins(at)
        return (behind if self.points_left else -behind, self.scale * at)

    def _along(self, what: str) -> Dimension:
        foot, high = self.shown.bounds[3], self.scale * self.part.cut[1]
        behind = self.scale * self.part.depth
        ends = ((-behind, high), (0.0, foot))
        if self.points_left:
            ends = ((0.0, high), (behind, foot))
        return Dimension(
            start=ends[0], end=ends[1], axis="x", at=foot + OUT, lines=(what,), strong=0
        )
