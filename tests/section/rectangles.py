"""Sections of stepped cutters worked out a second way: rectangles in whole micrometres, exactly.

Nothing here knows the kernel: a cutter is a stack of steps, a board a grid of cells.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]
Bools = NDArray[np.bool_]
Rectangle = tuple[int, int, int, int]
"""From u to u, from v to v."""

DEEP = 10_000_000
"""How far the last step of a cutter goes down, past any table. [um]"""


@dataclass(frozen=True)
class Step:
    """One cylinder of a cutter, from the step above it down to ``depth`` below the top. [um]"""

    radius: int
    depth: int
    side: str
    ledge: str


@dataclass(frozen=True)
class SteppedPass:
    """A pass of a stack of steps; the work lies ``flat`` or on edge, face B down if ``turned``."""

    steps: tuple[Step, ...]
    height: int
    axis: int
    flat: bool
    turned: bool

    def on_board(self, thickness: int, y: tuple[int, int], z: tuple[int, int]) -> Rectangle:
        """A machine-frame rectangle as the board sees it."""
        u, v = (z, y) if self.flat else (y, z)
        if self.turned:
            u = (thickness - u[1], thickness - u[0])
        return (*u, *v)

    def rectangles(self, thickness: int) -> list[Rectangle]:
        """What the cutter sweeps, step by step."""
        found, top = [], 0
        for step in self.steps:
            y = (self.axis - step.radius, self.axis + step.radius)
            found.append(self.on_board(thickness, y, (self.height - step.depth, self.height - top)))
            top = step.depth
        return found

    def surfaces(self, thickness: int) -> dict[str, tuple[int, int]]:
        """By part and side: the axis a surface is square to (0 for u), and where on it."""
        places: dict[str, tuple[int, int]] = {}
        top = 0
        for step in self.steps:
            for side, y in (("near", self.axis - step.radius), ("far", self.axis + step.radius)):
                u, _, v, _ = self.on_board(thickness, (y, y), (0, 0))
                places[f"{step.side} {side}"] = (1, v) if self.flat else (0, u)
                ledge = step.ledge if top == 0 else f"{step.ledge} {side}"
                z = self.height - top
                u, _, v, _ = self.on_board(thickness, (0, 0), (z, z))
                places[ledge] = (0, u) if self.flat else (1, v)
            top = step.depth
        return places


@dataclass(frozen=True)
class Cells:
    """A board as cells between the lines ``us`` and ``vs``: wood or none. [um]"""

    us: Whole
    vs: Whole
    wood: Bools

    @property
    def area(self) -> int:
        """Area of the wood. [um2]"""
        return int((np.outer(np.diff(self.us), np.diff(self.vs)) * self.wood).sum())

    def back_piece(self) -> Cells:
        """The wood that hangs together with the back of the board, side by side."""
        kept = np.zeros_like(self.wood)
        kept[:, -1] = self.wood[:, -1]
        return Cells(self.us, self.vs, flood(kept, self.wood))

    def outline(self) -> dict[tuple[int, int], list[tuple[int, int]]]:
        """Stretches of boundary by (axis they are square to, position)."""
        stretches: dict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
        padded = np.pad(self.wood, 1)
        for i, j in np.argwhere(padded[1:, 1:-1] != padded[:-1, 1:-1]):
            stretches[0, int(self.us[i])].append((int(self.vs[j]), int(self.vs[j + 1])))
        for i, j in np.argwhere(padded[1:-1, 1:] != padded[1:-1, :-1]):
            stretches[1, int(self.vs[j])].append((int(self.us[i]), int(self.us[i + 1])))
        return {line: _joined(sorted(found)) for line, found in stretches.items()}


def flood(seed: Bools, wood: Bools) -> Bools:
    """All the ``wood`` that can be reached from ``seed`` through sides of cells."""
    while True:
        grown = seed.copy()
        grown[1:] |= seed[:-1]
        grown[:-1] |= seed[1:]
        grown[:, 1:] |= seed[:, :-1]
        grown[:, :-1] |= seed[:, 1:]
        grown &= wood
        if (grown == seed).all():
            return seed
        seed = grown


def cells(thickness: int, width: int, passes: Sequence[SteppedPass]) -> Cells:
    """The board after ``passes``, offcuts still in place."""
    swept = [rectangle for run in passes for rectangle in run.rectangles(thickness)]
    us = _lines(thickness, [u for rectangle in swept for u in rectangle[:2]])
    vs = _lines(width, [v for rectangle in swept for v in rectangle[2:]])
    wood = np.ones((len(us) - 1, len(vs) - 1), dtype=np.bool_)
    for u1, u2, v1, v2 in swept:
        across = slice(*np.searchsorted(us, np.clip([u1, u2], 0, thickness)))
        along = slice(*np.searchsorted(vs, np.clip([v1, v2], 0, width)))
        wood[across, along] = False
    return Cells(us, vs, wood)


def _lines(size: int, places: Sequence[int]) -> Whole:
    return np.unique(np.clip([0, size, *places], 0, size)).astype(np.int64)


def _joined(stretches: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    starts = [stretches[0][0]]
    ends = []
    for before, after in pairwise(stretches):
        if before[1] != after[0]:
            ends.append(before[1])
            starts.append(after[0])
    return list(zip(starts, [*ends, stretches[-1][1]], strict=True))
