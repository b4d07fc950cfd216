"""The pair of boards that stands for a solved joint: the one with the least clearance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from faywright.drawing.naming import Naming
from faywright.drawing.pairing import Facing
from faywright.joints.gaps import Simulated
from faywright.joints.solution import Solution
from faywright.joints.work import Work
from faywright.section.cutting import Sections, cut
from faywright.section.mating import Placing

Role = Literal["groove", "second groove", "tongue", "strip"]


@dataclass(frozen=True, eq=False)
class CutBoard:
    """Board number ``board`` of ``sections``, and its part in the joint."""

    role: Role
    sections: Sections
    board: int
    naming: Naming


@dataclass(frozen=True, eq=False)
class Tightest:
    """The joint with the least clearance, as it was simulated."""

    solution: Solution
    simulated: Simulated

    @cached_property
    def joint(self) -> int:
        """Its number."""
        return int(np.argmin(self.solution.clearance))

    @property
    def boards(self) -> Iterator[CutBoard]:
        """Every part of it: groove first, then tongue or strip, then the groove that faces it."""
        placing, pair = self.placed
        yield CutBoard("groove", self.grooved, int(placing.first[pair]), self.first)
        role: Role = "strip" if self.solution.task.strip else "tongue"
        yield CutBoard(role, self.tongued, int(placing.second[pair]), self.second)
        if self.facing is not None:
            facing = self.facing
            yield CutBoard("second groove", facing.sections, facing.board, facing.naming)

    @cached_property
    def grooved(self) -> Sections:
        """The group of its grooved part."""
        return self.simulated.grooved[self._place(self.joint)[0]]

    @cached_property
    def tongued(self) -> Sections:
        """The group of its tongued part; of a loose tongue, the one strip as wide as it is ripped.

        The stock was simulated, which may be wider than both grooves together are deep.
        """
        task = self.solution.task
        if task.strip_width is None:
            return self.simulated.tongued[self._place(self.joint)[1]]
        thickness = float(task.tongued.across[self.solution.second[self.joint]])
        return cut(thickness, task.strip_width, [])

    @cached_property
    def placed(self) -> tuple[Placing, int]:
        """How ``grooved`` and ``tongued`` are put together, and its place among their pairs."""
        _, _, placing, pair = self._place(self.joint)
        if self.solution.task.strip_width is None:
            return placing, pair
        one = slice(pair, pair + 1)
        only = np.zeros(1, dtype=np.int64)
        return Placing(placing.first[one], only, placing.seat[one], placing.lift[one]), 0

    @property
    def first(self) -> Naming:
        """The grooved part."""
        return _naming(self.solution.task.grooved, int(self.solution.first[self.joint]))

    @property
    def second(self) -> Naming:
        """The part with the tongue, or the strip."""
        task = self.solution.task
        return _naming(task.tongued, int(self.solution.second[self.joint]), strip=task.strip)

    @cached_property
    def facing(self) -> Facing | None:
        """The board on the other side of a loose tongue: second grooves follow the first ones."""
        task = self.solution.task
        if task.wanted.second_groove is None:
            return None
        first, grooves = self.solution.first, len(task.grooved)
        other = (int(first[self.joint]) + grooves // 2) % grooves
        one, _, placing, pair = self._place(int(np.flatnonzero(first == other)[0]))
        board = int(placing.first[pair])
        return Facing(self.simulated.grooved[one], board, _naming(task.grooved, other))

    def _place(self, joint: int) -> tuple[int, int, Placing, int]:
        """Groups of both parts of a joint as simulated, and its place among their pairs."""
        for (one, two), (joints, placing) in self.simulated.placings.items():
            where = np.flatnonzero(joints == joint)
            if len(where):
                return one, two, placing, int(where[0])
        raise AssertionError("every joint is placed")


def _naming(work: Work, board: int, *, strip: bool = False) -> Naming:
    """A board by its mark; a strip has no face to keep up."""
    if strip:
        return Naming(work.marks[board], None)
    edge = work.place.edge
    face = edge if edge in ("face A", "face B") else None
    return Naming(work.marks[board], work.called("face A"), face)
