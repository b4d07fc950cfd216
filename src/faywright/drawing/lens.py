"""The lens: the nose of the tongue enlarged, so that gaps too fine for the eye can be seen.

Where the tongue is too thick to be shown whole, its middle is broken out: both cheeks stand in
one lens, at one scale.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import shapely

from faywright.drawing.dimensioning import LEADING, Dimension
from faywright.drawing.model import Bounds, Mark, Outline, Polyline, Text
from faywright.drawing.pairing import GapPlace, MatedPair
from faywright.drawing.view import View, pair_marks, rounded, wave
from faywright.errors import InputError

SCALES = (20.0, 10.0, 5.0, 2.0)
WIDEST_CHEEK, NEAT_BOTTOM, WIDEST_BOTTOM = 4.0, 13.0, 30.0
"""How wide a gap may show in the lens before a smaller scale is taken. [mm on paper]"""

FAINT = 0.6
"""A cheek gap narrower than this is hard to see between two outlines. [mm on paper]"""

SLACK = 1e-6
"""Rounding of a sum of lengths is no reason for another scale. [mm]"""

TONGUE_SHOWN, WALL_SHOWN, FLOOR_SHOWN = 14.0, 8.0, 9.0
"""How much wood stands about the gaps. [mm on paper]"""

CHEEK_SHOWN = 11.0
"""How much of the tongue is shown behind each cheek where its middle is broken out."""

BROKEN_ABOVE = 46.0
"""A window taller than this is broken. [mm on paper]"""

BREAK = 3.0
"""Width of the break. [mm on paper]"""

BREAK_SWING = 0.8
CORNER = 3.0
SPACING = 2.2
SIZE = 3.0

LABEL_SPACE = 2.0
"""Bare paper between the lettering of one cheek and that of the other. [mm]"""


@dataclass(frozen=True, slots=True)
class Window:
    """What a lens shows: a rectangle of the joint frame, perhaps without its middle. [mm]"""

    scale: float
    u_low: float
    u_high: float
    v_low: float
    v_high: float
    broken: tuple[float, float] | None

    @property
    def width(self) -> float:
        """On paper. [mm]"""
        return (self.v_high - self.v_low) * self.scale

    @property
    def height(self) -> float:
        """On paper. [mm]"""
        if self.broken is None:
            return (self.u_high - self.u_low) * self.scale
        out = self.broken[1] - self.broken[0]
        return (self.u_high - self.u_low - out) * self.scale + BREAK


def lens_window(pair: MatedPair) -> Window | None:
    """What the lens has to show; None where no cheek gap is named."""
    cheeks = pair.of_kind("cheek")
    if not cheeks:
        return None
    if len(cheeks) > 2:
        raise InputError(
            f"{len(cheeks)} cheek gaps are named",
            where="drawing of a joint",
            remedy="Name at most one on either side of the tongue",
        )
    floor = [v for gap in pair.of_kind("bottom") for v in (gap.fixed, gap.moved)]
    floor = floor or [max(cheek.high for cheek in cheeks)]
    scale = _scale([abs(c.fixed - c.moved) for c in cheeks], max(floor) - min(floor))
    engaged = min(cheek.high - cheek.low for cheek in cheeks)
    spans = [_cheek_span(cheek, scale) for cheek in cheeks]
    u_low, u_high = min(low for low, _ in spans), max(high for _, high in spans)
    broken = None
    if len(spans) == 2 and (u_high - u_low) * scale > BROKEN_ABOVE:
        broken = (spans[0][1], spans[1][0])
    return Window(
        scale,
        u_low,
        u_high,
        v_low=min(floor) - min(TONGUE_SHOWN / scale, 0.8 * engaged),
        v_high=max(floor) + FLOOR_SHOWN / scale,
        broken=broken if broken and broken[1] - broken[0] > BREAK / scale else None,
    )


def _scale(cheeks: Sequence[float], bottom: float) -> float:
    """The greatest scale at which the gaps do not gape; fine cheeks may have a wider bottom."""
    fits = [scale for scale in SCALES if max(cheeks) * scale <= WIDEST_CHEEK + SLACK]
    neat = [scale for scale in fits if bottom * scale <= NEAT_BOTTOM + SLACK]
    scale = neat[0] if neat else SCALES[-1]
    finest = min((cheek for cheek in cheeks if cheek > SLACK), default=1.0)
    roomy = [s for s in fits if s > scale and bottom * s <= WIDEST_BOTTOM + SLACK]
    while finest * scale < FAINT and roomy:
        scale = roomy.pop()
    return scale


def _cheek_span(cheek: GapPlace, scale: float) -> tuple[float, float]:
    """From so much wall to so much tongue, whichever lies nearer face A."""
    low, high = sorted((cheek.fixed, cheek.moved))
    before, behind = WALL_SHOWN / scale, CHEEK_SHOWN / scale
    if cheek.sign < 0:
        before, behind = behind, before
    return low - before, high + behind


def _shifts(
    lines: Sequence[tuple[str, ...]], ends: Sequence[tuple[float, float]]
) -> tuple[float, ...]:
    """How far the lettering at each gap must move down so that none runs into the next. [mm]"""
    if len(lines) == 1:
        return (0.0,)
    needed = LEADING * SIZE * (len(lines[0]) + len(lines[1])) / 2 + LABEL_SPACE
    short = max(0.0, needed - (sum(ends[1]) - sum(ends[0])) / 2)
    return -short / 2, short / 2


@dataclass(frozen=True)
class Lens:
    """A lens placed on paper, its frame's top left corner at ``left``, ``top``. [mm]"""

    pair: MatedPair
    window: Window
    words: Callable[[GapPlace], tuple[str, ...]]
    left: float
    top: float

    @property
    def frame(self) -> Bounds:
        """The rectangle of its frame."""
        return (
            self.left,
            self.top,
            self.left + self.window.width,
            self.top + self.window.height,
        )

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The enlarged parts, and what frames them."""
        return (*self._parts(shapely.Polygon(rounded(*self.frame, CORNER))), *self.framing)

    @property
    def framing(self) -> tuple[Mark, ...]:
        """The frame, the scale and a dimension for every gap in it: all there is at its edges."""
        left, top, _, _ = self.frame
        return (
            Outline(rounded(*self.frame, CORNER), "frame"),
            Text(f"nose of the tongue, {self.window.scale:g}:1", (left, top - 2.2), SIZE),
            *self._cheeks(),
            *self._bottom(),
        )

    @property
    def _upper(self) -> View:
        scale = self.window.scale
        x = self.left + self.window.v_high * scale
        return View(scale, x, self.top - self.window.u_low * scale)

    @property
    def _lower(self) -> View:
        """The view below the break; the same as above it where there is none."""
        scale = self.window.scale
        foot = self.top + self.window.height
        return View(scale, self._upper.x, foot - self.window.u_high * scale)

    def _parts(self, frame: shapely.Polygon) -> list[Mark]:
        if self.window.broken is None:
            return list(pair_marks(self.pair, self._upper, frame, SPACING))
        left, top, right, foot = self.frame
        marks: list[Mark] = []
        for view, u, beyond in (
            (self._upper, self.window.broken[0], top - 1),
            (self._lower, self.window.broken[1], foot + 1),
        ):
            y = view.point(u, 0)[1]
            edge = wave((left, y), (right, y), BREAK_SWING)
            clip = shapely.Polygon([*edge, (right + 1, beyond), (left - 1, beyond)])
            marks += pair_marks(self.pair, view, shapely.intersection(frame, clip), SPACING)
            marks.append(Polyline(edge, "dimension"))
        return marks

    def _cheeks(self) -> list[Mark]:
        right = self.frame[2]
        cheeks = self.pair.of_kind("cheek")
        lines = [(cheek.name, *self.words(cheek)) for cheek in cheeks]
        ends = []
        for cheek in cheeks:
            view = self._upper if cheek.sign > 0 else self._lower
            ends.append((view.point(cheek.fixed, 0)[1], view.point(cheek.moved, 0)[1]))
        marks: list[Mark] = []
        for told, (fixed, moved), shift in zip(lines, ends, _shifts(lines, ends), strict=True):
            dimension = Dimension(
                start=(right, fixed),
                end=(right, moved),
                axis="y",
                at=right + 5.5,
                lines=told,
                along=shift,
                strong=1,
            )
            marks += dimension.marks
        return marks

    def _bottom(self) -> list[Mark]:
        foot = self.frame[3]
        marks: list[Mark] = []
        for gap in self.pair.of_kind("bottom"):
            dimension = Dimension(
                start=(self._lower.point(0, gap.fixed)[0], foot),
                end=(self._lower.point(0, gap.moved)[0], foot),
                axis="x",
                at=foot + 5.5,
                lines=(gap.name, *self.words(gap)),
                strong=1,
            )
            marks += dimension.marks
        return marks
