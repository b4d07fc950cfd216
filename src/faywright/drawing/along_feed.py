"""A setup seen along the feed, to scale: table, fence, cutter, and the work before the pass."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import Literal

import numpy as np
import shapely

from faywright.drawing.at_work import AtWork
from faywright.drawing.dimensioning import Dimension
from faywright.drawing.face_letter import face_label, face_letter, spots
from faywright.drawing.fence_rows import FenceRows
from faywright.drawing.hatching import Point
from faywright.drawing.inking import WASTE, WOOD, chain, hatched
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.machine_section import BELOW, FENCE, SLAB, MachineSection
from faywright.drawing.model import Drawing, Mark, Outline, Text, drawing_around, joined, line
from faywright.drawing.placing import Paper, room_of
from faywright.drawing.setup_heading import LINE, ratio, setup_heading
from faywright.joints.work import Work
from faywright.setups.setup import Setup
from faywright.shop.inventory import Reference
from faywright.shop.machines import Machine

SCALES = (2.0, 1.0, 0.5, 0.25)
WIDEST, TALLEST = 136.0, 98.0
"""The largest scale is taken at which a drawing is no larger. [mm]"""

SIZE, ACCENT_SIZE = 2.8, 5.0


def along_feed(
    setup: Setup,
    work: Work,
    machine: Machine,
    *,
    write: Callable[[float], str],
    reference: Reference = "far edge",
) -> Drawing:
    """The first pass of ``setup``, the thickest board of its group on the machine.

    The scale, 2:1, 1:1, 1:2 or 1:4, is the largest that keeps the drawing small enough to stand
    beside the words of a setup. The number that decides the fit is bold; all are lengths from
    the table or the fence, and what a gauge with a zero error shows is beside them.

    Parameters
    ----------
    reference
        The edge of the cutter to which this maker measures the fence.
    """
    at_work = AtWork(setup, work, machine)
    for scale in SCALES:
        sheet = _Sheet(MachineSection(at_work, scale), write, reference)
        if all(_small_enough(marks) for marks in sheet.growing):
            break
    return drawing_around(
        sheet.marks,
        title=f"Setup {setup.number}, seen along the feed",
        description=sheet.told,
        margin=4.0,
        scale=scale,
    )


def _small_enough(marks: Sequence[Mark]) -> bool:
    left, top, right, foot = joined(mark.bounds for mark in marks)
    return right - left <= WIDEST and foot - top <= TALLEST


@dataclass(frozen=True)
class _Sheet:
    """One setup at one scale, and what is written about it."""

    section: MachineSection
    write: Callable[[float], str]
    reference: Reference

    @property
    def at_work(self) -> AtWork:
        """The board at the cutter."""
        return self.section.at_work

    @property
    def growing(self) -> Iterator[Sequence[Mark]]:
        """Less and then more of it: where little is too large, no more need be drawn to tell."""
        out, section = self.section.out, self.section
        table = line((out * section.table_in, 0.0), (out * section.table_out, 0.0), "frame")
        yield (table, *self._height)
        yield self.measured
        yield self.marks

    @cached_property
    def measured(self) -> tuple[Mark, ...]:
        """The machine with its dimensions."""
        return (*self.section.marks, *self._height, *self.rows.marks, *self._axis())

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Everything, heading first."""
        section = self.section
        paper = Paper()
        paper.add(self.measured)
        self._name_fence(paper)
        paper.add(self._name_table())
        letter = face_letter(section, paper)
        paper.add(letter)
        if not letter:
            face_label(section, paper)
        walls = self.at_work.fresh_walls
        if walls:
            paper.label(spots(section, "fresh wall", section.point(*walls[0].middle)))
        left, top, _, foot = joined(mark.bounds for mark in paper.marks)
        head = f"Setup {self.at_work.setup.number}, seen along the feed, {ratio(section.scale)}"
        return (
            *setup_heading(head, self._notes(), left, top),
            *self._wood(letter),
            *paper.marks,
            *self._legend(left, foot),
        )

    def _wood(self, letter: list[Mark]) -> list[Mark]:
        """Hatching, with bare paper about the letter on the face."""
        section = self.section
        taken = section.shape(self.at_work.seen.taken)
        stays = shapely.difference(section.before, taken)
        room = room_of([mark for mark in letter if isinstance(mark, Text)])
        bare = shapely.difference(shapely.intersection(stays, section.work.window), room)
        waste = shapely.intersection(taken, section.work.window)
        return [*hatched(bare, WOOD), *hatched(waste, WASTE)]

    def _axis(self) -> list[Mark]:
        x = self.section.point(self.at_work.setup.places.axis, 0.0)[0]
        return chain((x, -self.section.cutter_top - 3.5), (x, self.rows.axis_foot))

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
            scale=self.section.scale,
            out=self.section.out,
            write=self.write,
            reference=self.reference,
            accent=setup.height.start is None,
            gauge=gauge,
            below=BELOW,
        )

    @cached_property
    def _height(self) -> list[Mark]:
        """Table to what the height is measured to, beyond the table's edge."""
        height, section = self.at_work.setup.height, self.section
        accent = height.start is not None
        x = section.out * (section.table_out + 4.0)
        value = self.write(height.true)
        size = ACCENT_SIZE if accent else SIZE + 0.4
        dimension = Dimension(
            start=section.point(*self.at_work.measured_point),
            end=(section.out * section.table_out, 0.0),
            axis="y",
            at=x,
            lines=(value,),
        )
        words = [f"table to {self.at_work.setup.measured_to}"]
        if self.write(height.shows) != value:
            words.append(f"the gauge shows {self.write(height.shows)}")
        beside = x + section.out * 2.4
        y = -section.scale * height.true / 2 + CAPITAL * size / 2
        y = min(y, 5.0 - 3.6 * (len(words) - 1))
        anchor = section.outwards
        emphasis: Literal["accent", "plain"] = "accent" if accent else "plain"
        texts: list[Mark] = [Text(value, (beside, y), size, anchor, emphasis=emphasis)]
        for k, word in enumerate(words, 1):
            texts.append(Text(word, (beside, y + LINE * k), SIZE, anchor))
        return [*dimension.bare, *texts]

    def _name_fence(self, paper: Paper) -> None:
        """Over the fence; where a cutter stands as high, behind it with a leader."""
        section = self.section
        over = (-section.out * FENCE / 2, -section.fence_top - 2.6)
        name = Text("fence", over, SIZE, "middle")
        if paper.clear_for([name]):
            paper.add([name])
            return
        paper.label(self._behind_fence())

    def _behind_fence(self) -> Iterator[tuple[list[Text], list[Point]]]:
        """Places for its name behind it, the nearest first, and the way from there to it."""
        out, back = self.section.out, -self.section.out * FENCE
        anchor: Literal["start", "end"] = "end" if out > 0 else "start"
        levels = np.linspace(-0.8 * self.section.fence_top, -4.0, 8).tolist()
        for aside, y in product(range(4, 120, 4), levels):
            x = back - out * aside
            yield [Text("fence", (x, y), SIZE, anchor)], [(x + out, y - 1.0), (back, y - 1.0)]

    def _name_table(self) -> list[Mark]:
        section = self.section
        under = (
            section.out * (section.table_out - 1.0),
            (SLAB if section.slab[1] else 0.0) + 3.4,
        )
        anchor: Literal["start", "end"] = "start" if section.out < 0 else "end"
        return [Text("table", under, SIZE, anchor)]

    def _notes(self) -> list[str]:
        at_work = self.at_work
        drawn = f"drawn with {at_work.mark}, {self.write(at_work.board)} thick"
        notes = (
            at_work.lying,
            at_work.turned_about,
            "" if at_work.result.area else "this first pass takes nothing of this board",
            f"cutter {at_work.setup.cutter}; {drawn}",
        )
        return [note for note in notes if note]

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
