"""A mated pair in section at its true size, every gap named, the nose of the tongue enlarged."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from faywright.drawing.apart import shortened
from faywright.drawing.check_line import check_line
from faywright.drawing.gap_labels import GapLabels
from faywright.drawing.heading import SHEET_WIDTH, heading
from faywright.drawing.lens import CORNER, Lens, Window, lens_window
from faywright.drawing.model import (
    Bounds,
    Drawing,
    Mark,
    Outline,
    Polyline,
    drawing_around,
    joined,
)
from faywright.drawing.naming import Naming, what_is_up
from faywright.drawing.pairing import TONGUE_AND_GROOVE, Facing, GapPlace, MatedPair, mated_pair
from faywright.drawing.part_notes import PartNotes
from faywright.drawing.standing import TRUE, Standing
from faywright.drawing.view import rounded
from faywright.errors import RangeError
from faywright.section.cutting import Sections
from faywright.section.mating import Meeting, Placing

SIZE = 3.0

LEAST_REACH = 8.0

NAMES = 36.0
"""Room for the name of a part; what is longer is shortened. [mm]"""

PLAIN = (Naming("grooved part"), Naming("tongued part"))


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
    parts: tuple[Naming, Naming] = PLAIN,
    meetings: Sequence[Meeting] = TONGUE_AND_GROOVE,
    facing: Facing | None = None,
) -> Drawing:
    """Pair number ``pair`` where it meets, at 1:1, the grooved part to the left. [mm]

    What reaches far beyond the joint, along or across, is broken off; what does not is shown
    whole.

    Parameters
    ----------
    gaps
        By name; printed as given, by ``write``. A negative gap is written as interference, a
        step with the part that stands proud.
    reach
        How far the parts are shown to the left and right of the joint before they are broken
        off; by default about as far as they are thick, or less where that would be wider than a
        sheet.
    parts
        What the part with the groove and the one with the tongue or strip are called.
    meetings
        Which surfaces meet at each gap.
    facing
        The board whose groove takes the other half of a loose tongue, to be drawn with it.

    Raises
    ------
    InputError
        There is no such pair, or the surfaces of a gap are unknown, missing or not square.
    RangeError
        ``reach`` is not between 1 and 500 mm.
    """
    mated = mated_pair(grooved, tongued, placing, pair, gaps, meetings, facing)
    if reach is not None and not 1 <= reach <= 500:
        raise RangeError(
            f"a reach of {reach:g} mm is not between 1 and 500 mm",
            where="drawing of a joint",
            remedy="Give how far the boards are shown beyond the joint",
        )
    namings = tuple(
        replace(naming, name=shortened(naming.name, NAMES, SIZE))
        for naming in (parts if facing is None else (*parts, facing.naming))
    )
    sheet = _Sheet(mated, title, write, reach or _usual_reach(mated), namings, lens_window(mated))
    if reach is None:
        sheet = sheet.fitted()
    told = "; ".join(f"{gap.name} {', '.join(sheet.words(gap))}" for gap in mated.gaps)
    return drawing_around(
        sheet.marks,
        title=title,
        description=f"Section across the joint at true size{sheet.lying}"
        + (f". Gaps: {told}." if told else "."),
    )


def _usual_reach(pair: MatedPair) -> float:
    """About as far as the thicker part is thick."""
    thick = max(part.bounds[2] - part.bounds[0] for part in pair.parts)
    return min(max(0.9 * thick, 12.0), 28.0)


@dataclass(frozen=True)
class _Sheet:
    """The parts of the drawing and where they stand."""

    pair: MatedPair
    title: str
    write: Callable[[float], str]
    reach: float
    parts: tuple[Naming, ...]
    window: Window | None

    def words(self, gap: GapPlace) -> tuple[str, ...]:
        """The gap's value, and in words what is wrong with it or which part stands proud."""
        size = self.write(abs(gap.value))
        if size == self._nought:
            return (size,)
        if gap.kind == "step":
            return size, f"{self.parts[0 if gap.value > 0 else 1].name} proud"
        return (size, "interference") if gap.value < 0 else (size,)

    @cached_property
    def _nought(self) -> str:
        return self.write(0.0)

    def fitted(self) -> _Sheet:
        """The same with parts broken off sooner, as far as a sheet is too narrow for it."""
        sheet = self
        while sheet.too_wide > 1e-9 and sheet.reach > LEAST_REACH:
            shorter = sheet.reach - max(sheet.too_wide / 2, 0.01)
            sheet = replace(sheet, reach=max(shorter, LEAST_REACH))
        return sheet

    @property
    def lying(self) -> str:
        """How the parts lie, to follow other words."""
        up = what_is_up(self.parts)
        return f", {up}" if up else ""

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Everything, title first."""
        left, top, _, _ = self._extent
        told = f"section across the joint{self.lying}"
        return (
            *heading(self.title, told, top - 5.5, left, size=SIZE),
            *self._body,
            *self._check_line(left),
        )

    @property
    def too_wide(self) -> float:
        """How much the drawing is wider than a sheet can show; negative where it fits. [mm]"""
        left, _, right, _ = self._extent
        return right - left - SHEET_WIDTH

    @cached_property
    def _standing(self) -> Standing:
        return Standing(self.pair, self.reach)

    @cached_property
    def _labels(self) -> GapLabels:
        lensed = () if self.window is None else ("cheek", "bottom")
        gaps = tuple(gap for gap in self.pair.gaps if gap.kind not in lensed)
        return GapLabels(self._standing, gaps, self.words)

    @cached_property
    def _true_size(self) -> tuple[Mark, ...]:
        """The section and what is written about it."""
        notes = PartNotes(self._standing, self.parts, self.write)
        below = self._labels.below
        return (
            *self._standing.marks,
            *notes.marks,
            *self._labels.above,
            *(below or notes.depth),
        )

    @cached_property
    def _body(self) -> tuple[Mark, ...]:
        """The section and the lens."""
        if self.window is None:
            return self._true_size
        return (*self._true_size, *self._enlarged(self.window))

    @cached_property
    def _extent(self) -> Bounds:
        return joined(mark.bounds for mark in self._body)

    def _enlarged(self, window: Window) -> list[Mark]:
        """The lens to the right of the section, its place marked and joined to it."""
        _, _, edge, _ = joined(mark.bounds for mark in self._true_size)
        middle = (window.u_low + window.u_high) / 2
        trial = Lens(self.pair, window, self.words, 0.0, middle - window.height / 2)
        overhang = -joined(mark.bounds for mark in trial.framing)[0]
        lens = Lens(self.pair, window, self.words, edge + 5.0 + overhang, trial.top)
        x_left, y_top = TRUE.point(window.u_low, window.v_high)
        x_right, y_foot = TRUE.point(window.u_high, window.v_low)
        corner = min(1.0, (y_foot - y_top) / 4, (x_right - x_left) / 4)
        left, top, _, _ = lens.frame
        path = [(x_right, middle), (left, middle)]
        if self.parts[1].up is None and self.pair.facing is None:
            # A strip is narrow: the line runs above it, not through it.
            level = max(self._standing.over_strip, top + CORNER)
            inset = corner * (1 - math.sqrt(0.5))
            path = [(x_right - inset, y_top + inset), (2.0, level), (left, level)]
        return [
            Outline(rounded(x_left, y_top, x_right, y_foot, corner), "frame"),
            Polyline(tuple(path), "dimension"),
            *lens.marks,
        ]

    def _check_line(self, left: float) -> list[Mark]:
        """A line to measure, level with the foot of what is drawn: is the print true to size?"""
        section, foot = joined(mark.bounds for mark in self._true_size)[3], self._extent[3]
        return check_line(left, max(foot - 1.6, section + 12.0), self.write)
