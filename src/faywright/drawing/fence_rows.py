"""Distances from the fence to the cutter, one under the other below the table."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import shapely

from faywright.drawing.at_work import AtWork
from faywright.drawing.dimensioning import HEAD_LENGTH, TAIL, Dimension
from faywright.drawing.lettering import CAPITAL
from faywright.drawing.model import Mark, Text
from faywright.shop.inventory import Reference

REFERENCES: tuple[Reference, ...] = ("far edge", "axis", "near edge")
SIZE, ACCENT_SIZE = 2.8, 5.0


@dataclass(frozen=True)
class FenceRows:
    """The edge this maker measures to first and larger, the other two under it.

    ``out`` is which way along x leads out from the fence, ``below`` how much of the cutter is
    shown below the table, ``gauge`` a note on what the gauge shows. [mm on paper]
    """

    at_work: AtWork
    scale: float
    out: int
    write: Callable[[float], str]
    reference: Reference
    accent: bool
    gauge: str
    below: float

    @property
    def order(self) -> tuple[Reference, ...]:
        """The maker's own edge first."""
        return (self.reference, *(each for each in REFERENCES if each != self.reference))

    @cached_property
    def levels(self) -> dict[Reference, float]:
        """Where each dimension line stands below the table. [mm on paper]"""
        first = self.below + (6.0 if self.accent else 5.0)
        second = first + (5.2 if self.accent else 4.6) + (4.0 if self.gauge else 0.0)
        return dict(zip(self.order, (first, second, second + 4.6), strict=True))

    @property
    def axis_foot(self) -> float:
        """How far down the chain line of the axis runs."""
        return self.levels["axis"] + 1.2

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Dimensions and lettering."""
        return tuple(mark for each in self.order for mark in self._row(each))

    def place(self, reference: Reference) -> float:
        """Out from the fence face. [mm on paper]"""
        return self.scale * self.at_work.setup.places.to(reference)

    @property
    def clear(self) -> float:
        """Out from here no line of the dimensions runs. [mm on paper]"""
        ends = [0.0]
        for each in REFERENCES:
            place = self.place(each)
            short = abs(place) < 3 * HEAD_LENGTH
            ends.append(max(place, 0.0) + (HEAD_LENGTH + TAIL if short else 0.0))
        return max(ends) + 2.4

    def _start(self, reference: Reference) -> float:
        """Below the table, where the extension line starts: the foot of that edge as shown."""
        if reference == "axis":
            return 0.0
        run = self.at_work.result.run
        side = 1 if reference == "far edge" else -1
        y = run.axis + side * (run.profile.radius - 1e-4)
        foot = shapely.LineString([(y, -1e4), (y, 1e4)]).intersection(self.at_work.cutter)
        return 0.0 if foot.is_empty else min(-self.scale * float(foot.bounds[1]), self.below)

    def _row(self, reference: Reference) -> list[Mark]:
        x, y = self.out * self.place(reference), self.levels[reference]
        dimension = Dimension(
            start=(x, self._start(reference)),
            end=(0.0, 0.0),
            axis="x",
            at=y,
            lines=(self.write(abs(self.at_work.setup.places.to(reference))),),
        )
        bare = dimension.bare
        if reference == "axis":
            bare = bare[1:]  # the chain line is its extension line
        return [*bare, *self._lettering(reference, y)]

    def _lettering(self, reference: Reference, y: float) -> list[Mark]:
        distance = self.at_work.setup.places.to(reference)
        anchor: Literal["start", "end"] = "end" if self.out < 0 else "start"
        behind = ", behind the face" if distance < 0 else ""
        value = self.write(abs(distance))
        x = self.out * self.clear
        if reference != self.reference:
            told = f"{value} to {reference}{behind}"
            return [Text(told, (x, y + 1.0), SIZE - 0.3, anchor)]
        size = ACCENT_SIZE if self.accent else SIZE + 0.4
        number = Text(
            value,
            (x, y + CAPITAL * size / 2),
            size,
            anchor,
            emphasis="accent" if self.accent else "plain",
        )
        words_x = x + self.out * (number.width + 1.8)
        level = y + CAPITAL * size / 2
        marks: list[Mark] = [
            number,
            Text(f"fence to {reference}{behind}", (words_x, level), SIZE, anchor),
        ]
        if self.gauge:
            marks.append(Text(self.gauge, (x, level + 4.2), SIZE, anchor))
        return marks
