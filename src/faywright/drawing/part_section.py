"""The section of one part alone, true to scale, with the dimensions that its setups make."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

import shapely

from faywright.drawing.apart import shortened, spread_apart
from faywright.drawing.broken import Shown, shown
from faywright.drawing.check_line import check_line
from faywright.drawing.cut_part import CutPart, cut_part
from faywright.drawing.dimensioning import LEADING, Dimension, lettered
from faywright.drawing.hatching import Hatch, Point
from faywright.drawing.heading import heading
from faywright.drawing.lettering import ASCENT, CAPITAL, DESCENT, text_width
from faywright.drawing.model import Drawing, Mark, Text, drawing_around, joined, line
from faywright.drawing.naming import FACE_A, Naming, what_is_up
from faywright.drawing.view import LEANS, View, part_marks
from faywright.section.cutting import Sections

SIZE = 3.0
Scale = Literal[1, 2]

LARGEST_DOUBLED = 42.0
"""Parts up to this thick are drawn at 2:1. [mm]"""

SAME = 1e-6
"""Rounding of a length. [mm]"""

REACH = 30.0
"""How far a part is shown behind the cut. [mm on paper]"""

ACROSS = 24.0
"""How much of a tall part is shown beyond the cut. [mm on paper]"""

TALLEST = 120.0
"""What lies further from the cut than this is broken off, even if it is measured from. [mm]"""

OUT, NEXT = 7.0, 10.0
"""From the part to its first dimension line, and from there to the next. [mm]"""

BESIDE = 2.0
"""Bare paper between an extension line and the lettering beside it. [mm]"""

NAMES = 40.0
"""Room for the name of a part; what is longer is shortened. [mm]"""


class _Measure(NamedTuple):
    """A dimension across the part, from ``low`` to ``high`` in u. [mm]"""

    told: str
    low: float
    high: float


def part_section(
    sections: Sections,
    board: int,
    *,
    naming: Naming,
    write: Callable[[float], str],
    title: str | None = None,
    scale: Scale | None = None,
) -> Drawing:
    """Board number ``board`` alone: a groove opens to the right, a tongue points to the left.

    Which it is, and what there is to dimension, shows in the surfaces of the section. What lies
    far from the cut is broken off. ``scale`` is 2:1 for parts up to 42 mm thick and 1:1 for
    others, if not given.

    Raises
    ------
    InputError
        There is no such board, or a surface to be dimensioned is not square.
    """
    part = cut_part(sections, board)
    if scale is None:
        scale = 2 if part.thickness <= LARGEST_DOUBLED + SAME else 1
    sheet = _Sheet(part, naming, write, scale)
    told = title or f"{naming.name}: {sheet.part.kind} in section"
    return drawing_around(
        sheet.under_heading(told),
        title=told,
        description=f"{sheet.caption}. {'; '.join(sheet.said)}.",
        scale=float(scale),
    )


@dataclass(frozen=True)
class _Sheet:
    part: CutPart
    naming: Naming
    write: Callable[[float], str]
    scale: Scale

    @property
    def points_left(self) -> bool:
        """Whether the cut is at the left end: a tongue points at the groove to its left."""
        return self.part.kind != "groove"

    @property
    def caption(self) -> str:
        """The line under the title."""
        up = what_is_up([self.naming])
        return f"section{f', {up}' if up else ''}, {self.scale}:1"

    @property
    def said(self) -> tuple[str, ...]:
        """Every dimension in words."""
        found = [f"{each.told} {self._size(each)}" for each in self.across]
        if self.part.depth:
            found.append(f"{self._depth_told} {self._written_depth}")
        what = "thickness" if self.naming.grooved_face is None else "width"
        found.append(f"{what} {self.write(self.part.thickness)}")
        return tuple(found)

    @cached_property
    def across(self) -> tuple[_Measure, ...]:
        """What is measured across the part at the cut."""
        low, high = self.part.cut
        if self.part.kind == "groove":
            return (
                _Measure(f"wall beside {self._face}", 0.0, low),
                _Measure("groove width", low, high),
            )
        if self.part.kind == "strip":
            return ()
        measures = [_Measure("tongue thickness", low, high)]
        if low > 1e-6:
            measures.insert(0, _Measure(f"cheek depth on {self._face}", 0.0, low))
        else:
            measures.append(_Measure("cheek depth on face B", high, self.part.thickness))
        return tuple(measures)

    @property
    def _face(self) -> str:
        return self.naming.up or FACE_A

    @property
    def _depth_told(self) -> str:
        return "groove depth" if self.part.kind == "groove" else "tongue length"

    def _size(self, measure: _Measure) -> str:
        return self.write(measure.high - measure.low)

    # Where things stand

    @cached_property
    def paper(self) -> shapely.Polygon:
        """The part on paper, face A up and its jointed edge at x = 0."""
        view = View(float(self.scale), 0.0, 0.0)
        outline = self.part.outline
        if self.points_left:
            outline = shapely.transform(outline, lambda points: points * (1, -1))
        return view.shape(outline)

    @cached_property
    def shown(self) -> Shown:
        """What is shown of it: from face A past the cut, and some way behind it."""
        low, high = (self.scale * at for at in self.part.cut)
        behind = self.scale * self.part.depth
        joint = (0.0, low, behind, high) if self.points_left else (-behind, low, 0.0, high)
        across = TALLEST if self.part.kind == "tongue" else ACROSS  # both its cheeks are measured
        return shown(self.paper, joint, (REACH, TALLEST, REACH, across))

    @property
    def marks(self) -> Iterator[Mark]:
        """The part, its dimensions, and which way it lies."""
        _, top, _, foot = self.shown.bounds
        spacing = min(max((foot - top) / 11, 1.0), 3.0)
        lean = LEANS[1 if self.points_left else 0]
        yield from part_marks(self.paper, self.shown.window, Hatch(lean, spacing))
        yield from self.shown.breaks
        yield from self._up
        yield from self._dimensions
        yield from self._under
        yield from self._thickness

    @property
    def _up(self) -> Iterator[Mark]:
        """A letter A with a tick down to face A; another edge is named."""
        left, top, right, _ = self.shown.bounds
        inwards = min(REACH, right - left) / 2
        x = right - inwards if self.points_left else left + inwards
        if self.naming.up is None:
            return
        if self.naming.up != FACE_A or "top" in self.shown.broken:
            broken = "top" in self.shown.broken
            told, y = (f"to {self.naming.up}", top - 4.2) if broken else (self.naming.up, top - 2.8)
            # It ends where the cut does: beyond stand heads of dimensions.
            yield Text(told, (0.0, y), SIZE, anchor="start" if self.points_left else "end")
        else:
            yield line((x, top - 0.3), (x, top - 1.9), "frame")
            yield Text("A", (x, top - 3.0), 3.4, anchor="middle", emphasis="strong")

    @property
    def _dimensions(self) -> Iterator[Mark]:
        """Dimension lines beside the cut, their lettering kept apart."""
        side = -1.0 if self.points_left else 1.0
        drawn = [each for each in self.across if not self._cut_off(each)]
        middles = [self.scale * (each.low + each.high) / 2 for each in drawn]
        room = LEADING * SIZE + (ASCENT + DESCENT) * SIZE + 1.4
        for each, middle, at in zip(drawn, middles, spread_apart(middles, room), strict=True):
            yield from Dimension(
                start=self._corner(each.low),
                end=self._corner(each.high),
                axis="y",
                at=side * OUT,
                lines=(each.told, self._size(each)),
                along=at - middle,
                strong=1,
            ).marks

    def _corner(self, at: float) -> Point:
        """Where an extension line starts from."""
        behind = self.scale * self.part.begins(at)
        return (behind if self.points_left else -behind, self.scale * at)

    def _cut_off(self, measure: _Measure) -> bool:
        top, foot = self.shown.bounds[1], self.shown.bounds[3]
        return self.scale * measure.low < top - 1e-6 or self.scale * measure.high > foot + 1e-6

    @property
    def _under(self) -> Iterator[Mark]:
        """Depth of the groove or length of the tongue, and how wide a part is that is whole."""
        left, _, right, foot = self.shown.bounds
        level, high = foot + OUT, self.scale * self.part.cut[1]
        if self.part.depth:
            behind = self.scale * self.part.depth
            ends = ((behind, foot), (0.0, high))
            if not self.points_left:
                ends = ((-behind, high), (0.0, foot))
            told = f"{self._depth_told} {self._written_depth}"
            yield from self._along(*ends, level, told, outside=self._whole)
            level += NEXT
        if self._whole:
            told = self.write((right - left) / self.scale)
            yield from self._along((left, foot), (right, foot), level, told)

    @property
    def _whole(self) -> bool:
        """Whether the part is seen from end to end, and so has its size written under it."""
        return self.shown.broken.isdisjoint(("left", "right"))

    def _along(
        self, start: Point, end: Point, at: float, told: str, *, outside: bool = False
    ) -> tuple[Mark, ...]:
        """A dimension along the part, its lettering on one side of where the cut ends."""
        middle, half = (start[0] + end[0]) / 2, text_width(told, SIZE) / 2
        out = -1.0 if self.points_left else 1.0
        along = out * half + out * BESIDE - middle if outside else -out * half - middle
        if not outside and out * along > 0:
            along = 0.0
        return Dimension(start=start, end=end, axis="x", at=at, lines=(told,), along=along).marks

    @property
    def _written_depth(self) -> str:
        return self.write(self.part.depth)

    @property
    def _thickness(self) -> Sequence[Mark]:
        """Name and thickness at the outer end; in words where the part is broken off."""
        left, top, right, foot = self.shown.bounds
        x, out = (right, 1.0) if self.points_left else (left, -1.0)
        size, name = self.write(self.part.thickness), shortened(self.naming.name, NAMES, SIZE)
        if self.shown.tall:
            anchor: Literal["start", "end"] = "start" if self.points_left else "end"
            told = (name, f"in all {size}")
            return lettered(told, (x + 3.0 * out, (top + foot) / 2), SIZE, anchor=anchor)
        return Dimension(
            start=(x, top), end=(x, foot), axis="y", at=x + OUT * out, lines=(name, size)
        ).marks

    def under_heading(self, title: str) -> list[Mark]:
        """Everything, title first and the check line last."""
        body = list(self.marks)
        left, top, _, foot = joined(mark.bounds for mark in body)
        words = [f"{each.told} {self._size(each)}" for each in self.across if self._cut_off(each)]
        first = foot + 3.0 + CAPITAL * SIZE
        level = foot + (LEADING * SIZE * len(words) + 3.0 if words else 0.0)
        return [
            *heading(title, self.caption, top - 5.0, left),
            *body,
            *lettered(words, (left, first), SIZE),
            *check_line(left, level + 11.0, self.write, scale=self.scale),
        ]
