"""How both sides of a joint change size with moisture, and the room that this asks for.

Only ratios come in here; species, ring angles and the air of a room stay in ``timber``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faywright.timber.movement import SHRINKAGE_VARIATION

Floats = NDArray[np.float64]

MARGIN = 1 + 2 * SHRINKAGE_VARIATION
"""Movement to be ready for, as a share of what is expected: 19 boards in 20 move less."""

ENGAGEMENT = 3.0
"""Least tongue left in its groove at the driest. [mm] Common practice, no source."""

LEAST_BOTTOM = 0.5
"""Least room under a tongue at any season, for dust and finish. [mm] Common practice, no source."""

STEP = 0.1
"""Tongues lengthened for movement are rounded up to this. [mm]"""


@dataclass(frozen=True, eq=False)
class SideChange:
    """Change of size of one side's boards since cutting, as parts of it, (n,): 0.01 is 1 %.

    ``across`` and ``deep`` are the directions of ``Work``.
    """

    across: Floats
    deep: Floats

    def since(self, earlier: SideChange) -> SideChange:
        """The change from an earlier moment to this one."""
        return SideChange(
            (1 + self.across) / (1 + earlier.across) - 1, (1 + self.deep) / (1 + earlier.deep) - 1
        )


@dataclass(frozen=True, eq=False)
class Moment:
    """Both sides at one moment, and the moisture of their wood in percent of dry mass, (n,)."""

    name: str
    grooved: SideChange
    tongued: SideChange
    moisture: Floats


@dataclass(frozen=True, kw_only=True, eq=False)
class Moving:
    """The moments that count for a joint after it is cut.

    ``rates`` are the changes of the grooved and the tongued side for one percent of moisture.
    ``drift`` is by how much the moisture may differ, either way, between cutting the groove and
    cutting the tongue. ``engagement`` is how much tongue shall stay in the groove. [mm]
    """

    assembly: Moment
    seasons: tuple[Moment, ...]
    rates: tuple[SideChange, SideChange]
    drift: float
    engagement: float = ENGAGEMENT

    def play_changes(self, width: float, thickness: float) -> tuple[float, tuple[float, ...]]:
        """What moisture adds to the play: from cutting to assembly, and on to each season. [mm]

        ``width`` and ``thickness`` are of groove and tongue; boards count with their mean.
        """

        def play(moment: Moment) -> float:
            return float(
                width * moment.grooved.across.mean() - thickness * moment.tongued.across.mean()
            )

        start = play(self.assembly)
        return start, tuple(play(season) - start for season in self.seasons)

    def bottom_loss(self, depth: float, length: float) -> float:
        """Most that moisture takes off the room under the tongue, with closed shoulders. [mm]"""
        lost = [0.0]
        for moment in (self.assembly, *self.seasons):
            change = depth * moment.grooved.deep.min() - length * moment.tongued.deep.max()
            lost.append(-float(change))
        return max(lost)

    def faces(self) -> Iterator[SideChange]:
        """Every season's change of the grooved boards since assembly; in a row they are all."""
        for season in self.seasons:
            yield season.grooved.since(self.assembly.grooved)

    @property
    def swells(self) -> float:
        """Most that a board's face grows after assembly, as a part of it; at least 0."""
        return max(0.0, *(float(each.deep.max()) for each in self.faces()))

    @property
    def shrinks(self) -> float:
        """Most that a board's face shrinks after assembly, as a part of it; at least 0."""
        return max(0.0, *(-float(each.deep.min()) for each in self.faces()))

    def laying_gap(self, face: float) -> float:
        """Gap to leave at each joint, so that boards of that face just close when wettest. [mm]"""
        return MARGIN * face * self.swells

    def widest_opening(self, face: float) -> float:
        """How far each joint stands open at the driest, laid with that gap. [mm]"""
        return self.laying_gap(face) + MARGIN * face * self.shrinks

    def least_length(self, width: float, *, from_face: bool) -> float:
        """Least tongue that keeps its engagement at the driest, on boards ``width`` wide. [mm]

        ``from_face`` says that the tongue is cut from the same board: the face that moves is then
        the width less the tongue, and length = engagement + (width - length) * share.
        """
        share = MARGIN * (self.swells + self.shrinks)
        least = self.engagement + width * share
        if from_face:
            least /= 1 + share
        return float(np.ceil(least / STEP - 1e-9) * STEP)
