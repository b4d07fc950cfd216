"""A setup seen along the feed, to scale: table, fence, cutter, and the work before the pass."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from faywright.drawing.at_work import AtWork
from faywright.drawing.broken import Shown, shown
from faywright.drawing.dimensioning import Dimension
from faywright.drawing.fence_rows import FenceRows
from faywright.drawing.hatching import Point
from faywright.drawing.inking import WASTE, WOOD, chain, hatched, heavy, strokes, wrapped
from faywright.drawing.lettering import CAPITAL, DESCENT
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
from faywright.drawing.placing import Paper, room_of
from faywright.drawing.view import wave
from faywright.joints.work import Work
from faywright.setups.sheet import Setup
from faywright.shop.inventory import Reference
from faywright.shop.machines import Machine

SCALES = (2.0, 1.0, 0.5)
WIDEST, TALLEST = 130.0, 100.0
"""The largest scale is taken at which a drawing is no larger. [mm]"""

SIZE, ACCENT_SIZE = 2.8, 5.0
HEADING_SIZE = 3.4

FENCE = 14.0
"""How thick the fence is shown, whatever it is. [mm on paper]"""

SLAB = 4.5
"""How thick the table is shown. [mm on paper]"""

BELOW = 11.0
"""How much of the cutter is shown below the table. [mm on paper]"""

BESIDE, ABOVE = 15.0, 13.0
"""How much of wide or tall work is shown beyond the cut. [mm on paper]"""

THICK = 65.0
"""Work no thicker than this is not broken off across its thickness. [mm]"""

NEVER = 1e4


def along_feed(
    setup: Setup,
    work: Work,
    machine: Machine,
    *,
    write: Callable[[float], str],
    reference: Reference = "far edge",
) -> Drawing:
    """The first pass of ``setup``, the thickest board of its group on the machine.

    The scale, 2:1, 1:1 or 1:2, is the largest that keeps the drawing small enough to stand
    beside the words of a setup. The number that decides the fit is bold; all are lengths from
    the table or the fence, and what a gauge with a zero error shows is beside them.

    Parameters
    ----------
    reference
        The edge of the cutter to which this maker measures the fence.
    """
    at_work = AtWork(setup, work, machine)
    for scale in SCALES:
        sheet = _Sheet(at_work, scale, write, reference)
        left, top, right, foot = joined(mark.bounds for mark in sheet.marks)
        if right - left <= WIDEST and foot - top <= TALLEST:
            break
    return drawing_around(
        sheet.marks,
        title=f"Setup {setup.number}, seen along the feed",
        description=sheet.told,
        margin=4.0,
        scale=scale,
    )


def ratio(scale: float) -> str:
    """A scale as it is written on a drawing.

    Examples
    --------
    >>> ratio(2.0), ratio(0.5)
    ('2:1', '1:2')
    """
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"


@dataclass(frozen=True)
class _Sheet:
    """One setup at one scale; the fence face meets the table at the paper's zero."""

    at_work: AtWork
    scale: float
    write: Callable[[float], str]
    reference: Reference

    @property
    def out(self) -> int:
        """Which way along x leads out from the fence."""
        return -1 if self.at_work.fence_right else 1

    @property
    def outwards(self) -> Literal["start", "end"]:
        """The anchor of lettering that runs away from the fence."""
        return "end" if self.at_work.fence_right else "start"

    def point(self, y: float, z: float) -> Point:
        """Where a point of the machine frame lands on paper."""
        return self.out * self.scale * y, -self.scale * z

    def shape(self, shape: BaseGeometry) -> BaseGeometry:
        """A shape of the machine frame on paper."""
        return affinity.scale(shape, self.out * self.scale, -self.scale, origin=(0, 0))

    # what is shown

    @cached_property
    def before(self) -> BaseGeometry:
        return self.shape(self.at_work.seen.before)

    @cached_property
    def work(self) -> Shown:
        """How much of the work is shown: never broken at fence and table, nor in its thickness."""
        at_work, scale = self.at_work, self.scale
        taken = at_work.seen.taken.bounds or (0.0, 0.0, 0.0, 0.0)
        y = max(taken[2], at_work.setup.places.far_edge)
        z = max(taken[3], at_work.cutter.bounds[3])
        x = self.out * scale * y
        joint = (min(x, 0.0), -scale * z, max(x, 0.0), 0.0)
        whole = at_work.thickness <= THICK
        up = NEVER if at_work.posture.flat and whole else ABOVE
        aside = NEVER if not at_work.posture.flat and whole else BESIDE
        left, right = (aside, NEVER) if self.out < 0 else (NEVER, aside)
        return shown(self.before, joint, (left, up, right, NEVER))

    @property
    def work_out(self) -> float:
        """How far out from the fence the work is shown. [mm on paper]"""
        left, _, right, _ = self.work.bounds
        return max(self.out * left, self.out * right)

    @property
    def work_top(self) -> float:
        """How high the work is shown. [mm on paper]"""
        return -self.work.bounds[1]

    @property
    def cutter_top(self) -> float:
        """[mm on paper]"""
        return self.scale * float(self.at_work.cutter.bounds[3])

    @property
    def fence_top(self) -> float:
        """How high the fence is shown: its height, or broken off a little lower than the work."""
        room = max(self.cutter_top + 7.0, self.work_top - 4.0)
        return min(self.scale * self.at_work.machine.fence.height, room)

    @property
    def table_out(self) -> float:
        """Where the table is broken off on the operator's side. [mm on paper]"""
        far = self.scale * self.at_work.setup.places.far_edge
        return max(self.work_out, far) + 6.0

    @property
    def table_in(self) -> float:
        """Where it is broken off behind the fence; negative. [mm on paper]"""
        return min(-FENCE, self.scale * self.at_work.setup.places.near_edge) - 5.0

    # marks

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Everything, heading first."""
        paper = Paper()
        paper.add(self._table())
        paper.add(self._fence())
        paper.add(self._cutter())
        paper.add(strokes(shapely.intersection(self._edges(), self.work.window), "outline"))
        paper.add(self.work.breaks)
        for wall in self._walls():
            paper.add(heavy(wall))
        paper.add(self._height())
        paper.add(self.rows.marks)
        paper.add(self._axis())
        paper.add(self._names())
        face = self._face(paper)
        paper.add(face)
        self._fresh_label(paper)
        left, top, _, foot = joined(mark.bounds for mark in paper.marks)
        return (
            *self._heading(left, top),
            *self._wood(face),
            *paper.marks,
            *self._legend(left, foot),
        )

    def _edges(self) -> BaseGeometry:
        """Edges of the work as it comes and of what is left of it."""
        seen = self.at_work.seen
        left = shapely.union(shapely.boundary(seen.before), shapely.boundary(seen.left))
        return self.shape(left)

    def _wood(self, face: list[Mark]) -> list[Mark]:
        """Hatching, with bare paper about the letter on the face."""
        taken = shapely.intersection(self.shape(self.at_work.seen.taken), self.work.window)
        stays = shapely.intersection(shapely.difference(self.before, taken), self.work.window)
        letters = [mark for mark in face if isinstance(mark, Text)]
        bare = shapely.difference(stays, room_of(letters)) if letters else stays
        return [*hatched(bare, WOOD), *hatched(taken, WASTE)]

    @property
    def _slab(self) -> tuple[float | None, float | None]:
        """Where the table ends at its opening, behind and before the fence; None if not shown."""
        hole = self.at_work.machine.table_opening
        swept = 2 * self.at_work.result.run.profile.radius
        half = self.scale * swept / 2 + 3.0 if hole is None else self.scale * hole / 2
        axis = self.scale * self.at_work.setup.places.axis
        back = axis - half if axis - half > self.table_in + 1.0 else None
        front = axis + half if axis + half < self.table_out - 1.0 else None
        return back, front

    def _table(self) -> list[Mark]:
        out, ends = self.out, (self.table_in, self.table_out)
        marks: list[Mark] = [line((out * ends[0], 0.0), (out * ends[1], 0.0), "frame")]
        for edge, end in zip(self._slab, ends, strict=True):
            if edge is not None:
                corners = ((out * edge, 0.0), (out * edge, SLAB), (out * end, SLAB))
                broken = wave((out * end, 0.0), (out * end, SLAB), 0.5)
                marks += [Polyline(corners, "frame"), Polyline(broken, "dimension")]
        return marks

    def _fence(self) -> list[Mark]:
        top, back = self.fence_top, -self.out * FENCE
        lower = top < self.scale * self.at_work.machine.fence.height - 1e-9
        marks: list[Mark] = [
            line((0.0, 0.0), (0.0, -top), "frame"),
            line((back, 0.0), (back, -top), "frame"),
        ]
        if lower:
            marks.append(Polyline(wave((0.0, -top), (back, -top), 0.8), "dimension"))
        else:
            marks.append(line((0.0, -top), (back, -top), "frame"))
        opening = self.cutter_top + 2.0
        if self.at_work.setup.places.near_edge < 0 and opening < top - 1.0:
            marks.append(line((0.0, -opening), (back, -opening), "hidden"))
        return marks

    def _cutter(self) -> list[Mark]:
        """Full lines in the open, dashed behind the fence face and below the table."""
        low = -BELOW / self.scale
        window = shapely.box(-NEVER, low, NEVER, NEVER)
        body = shapely.intersection(self.at_work.cutter, window)
        foot = shapely.LineString([(-NEVER, low), (NEVER, low)]).buffer(1e-6)
        edge = shapely.difference(shapely.boundary(body), foot)
        open_air = shapely.box(0.0, 0.0, NEVER, NEVER)
        seen = shapely.intersection(edge, open_air)
        hidden = shapely.difference(edge, open_air)
        ends = shapely.intersection(body, shapely.box(-NEVER, low - 1, NEVER, low + 1e-6)).bounds
        wavy = wave(self.point(ends[0], low), self.point(ends[2], low), 0.5)
        return [
            *strokes(self.shape(seen), "frame"),
            *strokes(self.shape(hidden), "hidden"),
            Polyline(wavy, "dimension"),
        ]

    def _axis(self) -> list[Mark]:
        x = self.point(self.at_work.setup.places.axis, 0.0)[0]
        return chain((x, -self.cutter_top - 3.5), (x, self.rows.axis_foot))

    def _walls(self) -> Iterator[list[Point]]:
        for wall in self.at_work.fresh_walls:
            yield [self.point(*wall.low), self.point(*wall.high)]

    # lettering

    @cached_property
    def rows(self) -> FenceRows:
        """The distances from the fence, below the table."""
        setup, gauge = self.at_work.setup, ""
        if self.write(setup.fence.shows) != self.write(setup.fence.true):
            over = setup.fence.shows - setup.fence.true
            shows = self.write(setup.places.to(self.reference) + over)
            gauge = f"the gauge shows {shows}"
        return FenceRows(
            at_work=self.at_work,
            scale=self.scale,
            out=self.out,
            write=self.write,
            reference=self.reference,
            accent=setup.height.start is None,
            gauge=gauge,
            below=BELOW,
        )

    def _height(self) -> list[Mark]:
        """Table to what the height is measured to, beyond the table's edge."""
        height = self.at_work.setup.height
        accent = height.start is not None
        x = self.out * (self.table_out + 4.0)
        value = self.write(height.true)
        size = ACCENT_SIZE if accent else SIZE + 0.4
        dimension = Dimension(
            start=self.point(*self.at_work.measured_point),
            end=(self.out * self.table_out, 0.0),
            axis="y",
            at=x,
            lines=(value,),
        )
        words = [f"table to {self.at_work.setup.measured_to}"]
        if self.write(height.shows) != value:
            words.append(f"the gauge shows {self.write(height.shows)}")
        beside = x + self.out * 2.4
        y = -self.scale * height.true / 2 + CAPITAL * size / 2
        y = min(y, 5.0 - 3.6 * (len(words) - 1))
        texts: list[Mark] = [
            Text(value, (beside, y), size, self.outwards, emphasis="accent" if accent else "plain")
        ]
        for word in words:
            y += 3.9
            texts.append(Text(word, (beside, y), SIZE, self.outwards))
        return [*dimension.bare, *texts]

    def _names(self) -> list[Mark]:
        fence = Text("fence", (-self.out * FENCE / 2, -self.fence_top - 2.6), SIZE, "middle")
        end = self.out * (self.table_out - 0.8)
        under = SLAB if self._slab[1] else 0.0
        return [fence, Text("table", (end, under + 3.4), SIZE, self.outwards)]

    def _face(self, paper: Paper) -> list[Mark]:
        """A letter A in the wood by face A, with a tick out to the face."""
        face = self.at_work.face_a
        if face is None:
            return []
        side, at = face
        stays = shapely.difference(self.before, self.shape(self.at_work.seen.taken))
        wood = shapely.buffer(shapely.intersection(stays, self.work.window), -0.3)
        for size in (4.2, 3.4, 2.6):
            for tip, letter in self._letters(side, self.scale * at, size):
                room = room_of([letter])
                if shapely.contains(wood, room) and paper.clear_for([letter]):
                    start = shapely.shortest_line(room, shapely.Point(tip)).coords[0]
                    return [letter, line((start[0], start[1]), tip, "frame")]
        return []

    def _letters(self, side: str, at: float, size: float) -> Iterator[tuple[Point, Text]]:
        """Places for the letter along the face, those furthest from the cut first."""
        inset = 1.5 + (CAPITAL / 2 + DESCENT) * size
        _, top, _, _ = self.work.bounds
        sideways = side in ("down", "up")
        length = self.work_out if sideways else -top
        steps = [length - inset - k * 0.8 for k in range(int(length / 0.8) + 1)]
        inward = -1 if side in ("up", "away from the fence") else 1
        for along in steps:
            if sideways:
                tip, middle = (along, at), (along, at + inward * inset)
            else:
                tip, middle = (at, along), (at + inward * inset, along)
            x, y = self.out * middle[0], -middle[1] + CAPITAL * size / 2
            letter = Text("A", (x, y), size, "middle", emphasis="strong")
            yield (self.out * tip[0], -tip[1]), letter

    def _fresh_label(self, paper: Paper) -> None:
        """The words "fresh wall" with a leader to the one that decides the feed."""
        walls = self.at_work.fresh_walls
        if not walls:
            return
        paper.label(self._fresh_spots(self.point(*walls[0].middle)))

    def _fresh_spots(self, tip: Point) -> Iterator[tuple[list[Text], list[Point]]]:
        """Beside the work and above the cut, or above the work; nearest first."""
        for rise in range(4, 60, 2):
            for aside in (3.0, 7.0, 12.0, 20.0):
                x = self.out * (self.work_out + aside)
                y = tip[1] - rise
                text = Text("fresh wall", (x, y), SIZE, self.outwards)
                elbow = x - self.out * 1.2
                yield [text], [(elbow, y - 1.0), tip]

    def _heading(self, left: float, top: float) -> list[Mark]:
        head = f"Setup {self.at_work.setup.number}, seen along the feed, {ratio(self.scale)}"
        lines = self._notes()
        y = top - 4.6 - 3.9 * len(lines)
        marks: list[Mark] = [Text(head, (left, y), HEADING_SIZE, emphasis="strong")]
        for text in lines:
            y += 3.9
            marks.append(Text(text, (left, y), SIZE))
        return marks

    def _notes(self) -> list[str]:
        at_work = self.at_work
        notes = [
            at_work.lying,
            at_work.turned_about,
            f"{at_work.setup.cutter}; drawn with {at_work.mark}, {self.write(at_work.board)} thick",
        ]
        return [text for note in notes for text in wrapped(note, SIZE, 105.0)]

    def _legend(self, left: float, foot: float) -> list[Mark]:
        marks: list[Mark] = []
        x, y = left, foot + 4.0
        for told, hatches in (("stays", WOOD), ("this pass takes", WASTE)):
            corners = ((x, y), (x + 9.0, y), (x + 9.0, y + 4.4), (x, y + 4.4))
            marks += hatched(shapely.Polygon(corners), hatches)
            marks.append(Outline(corners, "frame"))
            text = Text(told, (x + 10.8, y + 3.2), SIZE)
            marks.append(text)
            x = text.bounds[2] + 5.0
        return marks

    @property
    def told(self) -> str:
        """The drawing in words."""
        setup, write = self.at_work.setup, self.write
        edge = setup.places.to(self.reference)
        behind = " behind its face" if edge < 0 else ""
        return (
            f"{'. '.join(self._notes())}. Table to {setup.measured_to} {write(setup.height.true)}; "
            f"fence to {self.reference} {write(abs(edge))}{behind}."
        )
