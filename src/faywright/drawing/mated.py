"""A mated pair in section at its true size, every gap named, the nose of the tongue enlarged."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import shapely

from faywright.drawing.dimensioning import LEADING, Dimension, leader, lettered
from faywright.drawing.lens import Lens, Window, lens_window
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.model import (
    Drawing,
    Mark,
    Outline,
    Polyline,
    Text,
    drawing_around,
    joined,
    line,
)
from faywright.drawing.pairing import TONGUE_AND_GROOVE, GapPlace, MatedPair, mated_pair
from faywright.drawing.view import View, pair_marks, rounded, wave
from faywright.errors import RangeError
from faywright.section import Meeting, Placing, Sections

SIZE = 3.0
TITLE_SIZE = 4.6
LINE = LEADING * SIZE
CHECK_LENGTH = 50.0
"""Length of the line to measure on the print. [mm]"""

SHEET_WIDTH = 190.0
"""What an A4 sheet shows across, with 10 mm left bare on either side. [mm]"""

LEAST_REACH = 8.0

TRUE = View(1.0, 0.0, 0.0)
"""The joint at its true size, face A of the grooved part and its edge at the paper's zero."""


def mated_drawing(
    grooved: Sections,
    tongued: Sections,
    placing: Placing,
    pair: int,
    gaps: Mapping[str, float],
    *,
    title: str,
    write: Callable[[float], str],
    reach: float | None = None,
    parts: tuple[str, str] = ("grooved part", "tongued part"),
    meetings: Sequence[Meeting] = TONGUE_AND_GROOVE,
) -> Drawing:
    """Pair number ``pair`` where it meets, at 1:1, faces A up, the grooved part to the left. [mm]

    Parameters
    ----------
    gaps
        By name; printed as given, by ``write``. A negative gap is written as interference, a
        step with the part that stands proud.
    reach
        How far either part is shown beyond the joint before it is broken off; by default about
        as far as it is thick, or less where that would be wider than a sheet.
    parts
        What the part with the groove and the one with the tongue are called.
    meetings
        Which surfaces meet at each gap.

    Raises
    ------
    InputError
        There is no such pair, or the surfaces of a gap are unknown, missing or not square.
    RangeError
        ``reach`` is not between 1 and 500 mm.
    """
    mated = mated_pair(grooved, tongued, placing, pair, gaps, meetings)
    if reach is not None and not 1 <= reach <= 500:
        raise RangeError(
            f"a reach of {reach:g} mm is not between 1 and 500 mm",
            where="drawing of a joint",
            remedy="Give how far the boards are shown beyond the joint",
        )
    usual = min(max(0.9 * max(mated.thickness), 12.0), 28.0)
    sheet = _Sheet(mated, title, write, reach or usual, parts, lens_window(mated))
    if reach is None and sheet.too_wide > 0:
        sheet = replace(sheet, reach=max(usual - sheet.too_wide / 2, LEAST_REACH))
    told = "; ".join(f"{gap.name} {', '.join(sheet.words(gap))}" for gap in mated.gaps)
    return drawing_around(
        sheet.marks,
        title=title,
        description="Section across the joint at true size, faces A up"
        + (f". Gaps: {told}." if told else "."),
    )


@dataclass(frozen=True)
class _Sheet:
    """The parts of the drawing and where they stand."""

    pair: MatedPair
    title: str
    write: Callable[[float], str]
    reach: float
    parts: tuple[str, str]
    window: Window | None

    def words(self, gap: GapPlace) -> tuple[str, ...]:
        """The gap's value, and in words what is wrong with it or which part stands proud."""
        size = self.write(abs(gap.value))
        if size == self.write(0.0):
            return (size,)
        if gap.kind == "step":
            return size, f"{self.parts[0 if gap.value > 0 else 1]} proud"
        return (size, "interference") if gap.value < 0 else (size,)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Everything, title first."""
        left, top, _, _ = joined(mark.bounds for mark in self._body)
        note = "section across the joint, faces A up"
        return (
            Text(self.title, (left, top - 10.5), TITLE_SIZE, emphasis="strong"),
            Text(note, (left, top - 5.5), SIZE),
            *self._body,
            *self._check_line(left),
        )

    @property
    def too_wide(self) -> float:
        """How much the drawing is wider than a sheet can show; negative where it fits. [mm]"""
        left, _, right, _ = joined(mark.bounds for mark in self._body)
        return right - left - SHEET_WIDTH

    @cached_property
    def _true_size(self) -> tuple[Mark, ...]:
        """The section and what is written about it."""
        return (*self._section(), *self._sizes(), *self._face_marks(), *self._labels())

    @cached_property
    def _body(self) -> tuple[Mark, ...]:
        """The section and the lens."""
        if self.window is None:
            return self._true_size
        return (*self._true_size, *self._enlarged(self.window))

    @cached_property
    def _depth(self) -> float:
        """How far the joint itself reaches into the grooved part."""
        v = shapely.get_coordinates(self.pair.tongued)[:, 1].max()
        return max([float(v), *(gap.fixed for gap in self.pair.of_kind("bottom"))])

    @property
    def _ends(self) -> tuple[float, float]:
        """Where the parts are broken off, left and right on paper."""
        return -self._depth - self.reach, self.reach

    @property
    def _spans(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """From face A to face B of the grooved and of the tongued part, down the paper."""
        lift = self.pair.lift
        return (0.0, self.pair.thickness[0]), (lift, lift + self.pair.thickness[1])

    def _section(self) -> list[Mark]:
        left, right = self._ends
        thick = max(self.pair.thickness)
        swing = min(max(thick / 16, 0.5), 1.6)
        over = 1.2
        breaks = [
            wave((x, top - over), (x, foot + over), swing)
            for x, (top, foot) in zip((left, right), self._spans, strict=True)
        ]
        window = shapely.Polygon([*breaks[0], *breaks[1][::-1]])
        spacing = min(max(thick / 9, 1.0), 2.4)
        return [
            *pair_marks(self.pair, TRUE, window, spacing),
            *(Polyline(edge, "dimension") for edge in breaks),
        ]

    def _sizes(self) -> list[Mark]:
        """The thickness of either part, beyond its broken end."""
        left, right = self._ends
        marks: list[Mark] = []
        for x, at, (top, foot), name in (
            (left, left - 5.0, self._spans[0], self.parts[0]),
            (right, right + 5.0, self._spans[1], self.parts[1]),
        ):
            dimension = Dimension(
                start=(x, top),
                end=(x, foot),
                axis="y",
                at=at,
                lines=(name, self.write(foot - top)),
                below=at > 0,  # beside it runs the line to the lens
            )
            marks += dimension.marks
        return marks

    def _face_marks(self) -> list[Mark]:
        """A letter A on face A of either part, with a tick down to the face."""
        left, right = self._ends
        marks: list[Mark] = []
        for x, (face, _) in zip((left + 3.0, right - 3.0), self._spans, strict=True):
            marks.append(line((x, face - 0.3), (x, face - 1.7), "frame"))
            marks.append(Text("A", (x, face - 2.8), 3.4, anchor="middle", emphasis="strong"))
        return marks

    def _labels(self) -> list[Mark]:
        """Gaps at the shoulders and faces, outside the section, with leaders to their places."""
        middle = self.pair.thickness[0] / 2
        lensed = () if self.window is None else ("cheek", "bottom")
        gaps = [gap for gap in self.pair.gaps if gap.kind not in lensed]
        places = [(gap, *self._place(gap)) for gap in gaps]
        above = [place for place in places if place[2] < middle]
        below = [place for place in places if place[2] >= middle]
        foot = max(foot for _, foot in self._spans)
        top = min(top for top, _ in self._spans)
        marks: list[Mark] = []
        y = top - 8.5
        for gap, *place in sorted(above, key=lambda place: -place[2]):
            y -= LINE * (len(self.words(gap)) - 1)
            marks += self._label(gap, (place[0], place[1]), y)
            y -= LINE + 1.1
        y = foot + 8.5
        for gap, *place in sorted(below, key=lambda place: place[2]):
            marks += self._label(gap, (place[0], place[1]), y)
            y += LINE * len(self.words(gap)) + 1.1
        return marks

    def _place(self, gap: GapPlace) -> tuple[float, float]:
        """The middle of the gap on paper; a step is pointed at where it stands proud."""
        if gap.kind == "step":
            return TRUE.point(max(gap.fixed, gap.moved), 0.0)
        across, along = (gap.fixed + gap.moved) / 2, (gap.low + gap.high) / 2
        if gap.kind == "cheek":
            return TRUE.point(across, along)
        if gap.kind == "shoulder":  # near the face that the leader comes from
            near = min((gap.high - gap.low) / 2, 3.0)
            above = along < self.pair.thickness[0] / 2
            along = gap.low + near if above else gap.high - near
        return TRUE.point(along, across)

    def _label(self, gap: GapPlace, place: tuple[float, float], y: float) -> list[Mark]:
        x = -8.0
        middle = y - CAPITAL / 2 * SIZE
        size, *remark = self.words(gap)
        return [
            *lettered([f"{gap.name} {size}", *remark], (x, y), SIZE, anchor="end"),
            *leader([(x + 1.0, middle), (x + 2.6, middle), place]),
        ]

    def _enlarged(self, window: Window) -> list[Mark]:
        """The lens to the right of the section, its place marked and joined to it."""
        _, _, edge, _ = joined(mark.bounds for mark in self._true_size)
        middle = (window.u_low + window.u_high) / 2
        trial = Lens(self.pair, window, self.words, 0.0, middle - window.height / 2)
        overhang = -joined(mark.bounds for mark in trial.marks)[0]
        lens = Lens(self.pair, window, self.words, edge + 5.0 + overhang, trial.top)
        x_left, y_top = TRUE.point(window.u_low, window.v_high)
        x_right, y_foot = TRUE.point(window.u_high, window.v_low)
        corner = min(1.0, (y_foot - y_top) / 4, (x_right - x_left) / 4)
        return [
            Outline(rounded(x_left, y_top, x_right, y_foot, corner), "frame"),
            line((x_right, middle), (lens.frame[0], middle), "dimension"),
            *lens.marks,
        ]

    def _check_line(self, left: float) -> list[Mark]:
        """A line to measure, level with the foot of what is drawn: is the print true to size?"""
        section, foot = (
            joined(mark.bounds for mark in marks)[3] for marks in (self._true_size, self._body)
        )
        y, right = max(foot - 1.6, section + 12.0), left + CHECK_LENGTH
        return [
            Text(f"1:1, this line is {CHECK_LENGTH:g} mm", (left, y - 3.0), SIZE),
            line((left, y), (right, y), "frame"),
            line((left, y - 1.6), (left, y + 1.6), "frame"),
            line((right, y - 1.6), (right, y + 1.6), "frame"),
        ]
