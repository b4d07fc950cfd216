"""A setup seen from above: which way the work goes, and where hands may be."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from faywright.drawing.at_work import AtWork
from faywright.drawing.dimensioning import arrow_head, leader
from faywright.drawing.hatching import Hatch
from faywright.drawing.inking import bold_arrow, chain
from faywright.drawing.machine_plan import BEYOND, MachinePlan
from faywright.drawing.model import Drawing, Mark, Outline, drawing_around, joined, line
from faywright.drawing.setup_heading import ratio, setup_heading
from faywright.drawing.view import rounded
from faywright.joints.work import Work
from faywright.lengths import LengthStyle
from faywright.piece.words import MILLIMETRES, at_least
from faywright.setups.hazards import HANDS_AWAY
from faywright.setups.setup import Setup
from faywright.shop.machines import Machine

SCALES = {2.0: 100.0, 1.0: 100.0, 0.5: 150.0, 0.25: math.inf}
"""The largest scale is taken at which a drawing is no taller than this. [mm]"""

PUSH = 12.0
"""How much of wide work a push block takes. [mm on paper]"""

BLOCK = 8.0
"""How thick the block behind the work is shown. [mm on paper]"""

HAND = (15.0, 6.0)

THIN = 5.0
"""Work shown thinner than this has no room for a letter on it. [mm on paper]"""


def from_above(
    setup: Setup, work: Work, machine: Machine, *, style: LengthStyle = MILLIMETRES
) -> Drawing:
    """The first pass of ``setup`` from above, the operator at the foot of the sheet.

    Across the fence it is to scale; along it only the order of things is meant.
    """
    at_work = AtWork(setup, work, machine)
    for scale, tallest in SCALES.items():
        sheet = _Sheet(MachinePlan(at_work, scale), at_least(style)(HANDS_AWAY))
        _, top, _, foot = joined(mark.bounds for mark in sheet.marks)
        if foot - top <= tallest:
            break
    return drawing_around(
        sheet.marks,
        title=f"Setup {setup.number}, seen from above",
        description=sheet.told,
        margin=4.0,
        scale=scale,
    )


@dataclass(frozen=True)
class _Sheet:
    """One setup at one scale, with what keeps the work and the hands where they belong."""

    plan: MachinePlan
    away: str

    @property
    def at_work(self) -> AtWork:
        """The board at the cutter."""
        return self.plan.at_work

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Everything, heading first."""
        below = [
            *self.plan.marks,
            *self._behind_work(),
            *self._featherboard(),
            *self._hands(),
            *self._zone(),
            *self._feed(),
            *self._operator(),
            *self._labels(),
        ]
        left, top, _, _ = joined(mark.bounds for mark in below)
        head = f"Setup {self.at_work.setup.number}, seen from above"
        return (*setup_heading(head, self._notes(), left, top), *below)

    def _behind_work(self) -> list[Mark]:
        """What pushes: a backing block where the grain ends at the cut, else a push block."""
        wide = self.plan.wide[0]
        out = wide if self.at_work.work.end_grain else min(wide, PUSH)
        corners = [
            self.plan.point(self.plan.end + 0.5, 0.5),
            self.plan.point(self.plan.end + 0.5 + BLOCK, 0.5),
            self.plan.point(self.plan.end + 0.5 + BLOCK, out),
            self.plan.point(self.plan.end + 0.5, out),
        ]
        return [Outline(tuple(corners), "frame", Hatch(90.0, 1.6))]

    def _featherboard(self) -> list[Mark]:
        """Fingers that lean the way the work goes, just before the cutter."""
        near, far = self.plan.radius + 4.0, self.plan.radius + 20.0
        body = [(near, 5.0), (near, 10.0), (far, 10.0), (far, 5.0)]
        marks: list[Mark] = [self.plan.path([(x, self.plan.side + y) for x, y in body])]
        edge = self.plan.wide[0] + 0.4
        count = 6
        step = (far - near) / count
        for k in range(count + 1):
            foot = near + k * step
            marks.append(self.plan.path([(foot, self.plan.side + 5.0), (foot - 2.2, edge)]))
        return marks

    def _hands(self) -> list[Mark]:
        """Where hands may be: on the work, beyond the zone on either side."""
        wide, high = HAND
        marks: list[Mark] = []
        for side in (1, -1):
            x, y = self.plan.point(
                side * (self.plan.zone + 3.0 + wide / 2), self.plan.side + 2.2 + high / 2
            )
            frame = rounded(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2, 2.4)
            marks += [Outline(frame, "frame"), self.plan.text("hand", (x, y))]
        return marks

    def _zone(self) -> list[Mark]:
        """Where no hand comes, across the whole table."""
        low, high = self.plan.back - 6.0, self.plan.side + 12.0
        marks: list[Mark] = []
        for side in (1, -1):
            marks += chain(
                self.plan.point(side * self.plan.zone, low),
                self.plan.point(side * self.plan.zone, high),
            )
        level = self.plan.back - 4.5
        ends = [self.plan.point(side * self.plan.zone, level) for side in (1, -1)]
        told = f"keep hands out of here, {self.away} clear of the cutter"
        inward = math.copysign(1.0, ends[1][0] - ends[0][0])
        marks += [
            line(ends[0], ends[1], "dimension"),
            arrow_head(ends[0], (inward, 0.0)),
            arrow_head(ends[1], (-inward, 0.0)),
            self.plan.text(told, self.plan.point(0.0, level - 4.0)),
        ]
        return marks

    @property
    def feed_level(self) -> float:
        """How far out the feed arrow lies. [mm on paper]"""
        return self.plan.side + 17.0

    def _feed(self) -> list[Mark]:
        half = self.plan.zone + 12.0
        level = self.feed_level
        arrow = bold_arrow(self.plan.point(half, level), self.plan.point(-half, level))
        told = f"feed {self.at_work.feed}"
        return [arrow, self.plan.text(told, self.plan.point(0.0, level + 4.6), 3.4, strong=True)]

    def _operator(self) -> list[Mark]:
        """The edge of the table on the operator's side, at the foot of the sheet."""
        y = self.feed_level + 9.5 if self.at_work.fence_behind else -self.plan.back + 13.0
        half = self.plan.end + BEYOND
        return [
            line((-half, y), (half, y), "frame"),
            line((-half, y + 1.0), (half, y + 1.0), "dimension"),
            self.plan.text("edge of the table; you stand here", (0.0, y + 4.2)),
        ]

    def _labels(self) -> list[Mark]:
        """What the things beside the work are called."""
        level = self.plan.side + 13.0
        marks: list[Mark] = [
            self.plan.text("featherboard", self.plan.point(self.plan.radius + 12.0, level)),
            *self._face(),
        ]
        told = "backing block" if self.at_work.work.end_grain else "push block"
        along, low = self.plan.end + 7.0, self.plan.side + 5.2
        foot = self.plan.wide[0] if self.at_work.work.end_grain else min(self.plan.wide[0], PUSH)
        marks.append(self.plan.text(told, self.plan.point(along, low)))
        if low - foot > 6.0:
            tip = self.plan.point(self.plan.end + BLOCK / 2, foot)
            marks += leader([self.plan.point(self.plan.end + BLOCK / 2, low - 2.4), tip])
        return [*marks, *self._fresh_label(level - 1.5)]

    def _fresh_label(self, level: float) -> list[Mark]:
        place = self.plan.fresh_place
        if place is None:
            return []
        along = -(self.plan.radius + 12.5)
        path = [self.plan.point(along, level - 2.4), self.plan.point(along, place)]
        return [self.plan.text("fresh wall", self.plan.point(along, level)), *leader(path)]

    def _face(self) -> list[Mark]:
        """A letter A on the face that is seen, or within the edge that is seen of it."""
        face = self.at_work.face_a
        if face is None or face[0] == "down":
            return []
        wide, broken = self.plan.wide
        if wide < THIN:
            return []
        along, size = self.plan.zone - 6.0, min(3.4, wide - 2.6)
        if face[0] == "up":
            return [self.plan.text("A", self.plan.point(along, wide / 2), size, strong=True)]
        near = face[0] == "against the fence"
        if broken and not near:
            return []
        edge, inward = (0.0, 1.0) if near else (wide, -1.0)
        middle = edge + inward * (1.2 + size / 2)
        ends = [self.plan.point(along + 2.4, edge + inward * depth) for depth in (0.0, 2.0)]
        return [
            self.plan.text("A", self.plan.point(along, middle), size, strong=True),
            line(ends[0], ends[1], "frame"),
        ]

    def _notes(self) -> list[str]:
        turns = f"the cutter turns {self.at_work.machine.rotation}"
        scale = f"{ratio(self.plan.scale)} across the fence, not to scale along it"
        return [self.at_work.lying, *filter(None, [self.at_work.turned_about]), f"{turns}; {scale}"]

    @property
    def told(self) -> str:
        """The drawing in words."""
        block = "backed by a block" if self.at_work.work.end_grain else "pushed with a block"
        return (
            f"{'. '.join(self._notes())}. Feed {self.at_work.feed}, the work {block}, a "
            f"featherboard before the cutter, hands {self.away} clear of it."
        )
