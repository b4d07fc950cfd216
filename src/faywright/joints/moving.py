"""How both sides of a joint change size with moisture, and the room that this asks for.

Only ratios come in here; species, ring angles and the air of a room stay in ``timber``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faywright.timber.movement import MARGIN
from faywright.timber.rows import LEAST_ENGAGEMENT

Floats = NDArray[np.float64]

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
    cutting the tongue. ``engagement`` is how much tongue shall stay in the groove. [mm] ``remarks``
    tell what to know of the figures behind the movement.
    """

    assembly: Moment
    seasons: tuple[Moment, ...]
    rates: tuple[SideChange, SideChange]
    drift: float
    engagement: float = LEAST_ENGAGEMENT
    remarks: tuple[str, ...] = ()

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

    def faces(self) -> Iterator[Floats]:
        """What faces gain from assembly to each season, as parts of what they are when cut.

        They are those of the grooved boards; in a row they are all.
        """
        for season in self.seasons:
            yield season.grooved.deep - self.assembly.grooved.deep

    @property
    def swells(self) -> float:
        """Most that a board's face grows after assembly, as a part of it; at least 0."""
        return max(0.0, *(float(each.max()) for each in self.faces()))

    @property
    def shrinks(self) -> float:
        """Most that a board's face shrinks after assembly, as a part of it; at least 0."""
        return max(0.0, *(-float(each.min()) for each in self.faces()))

    @property
    def tongue_shrinks(self) -> float:
        """Most that a tongue is ever shorter than it was cut, as a part of it; at least 0."""
        moments = (self.assembly, *self.seasons)
        return max(0.0, *(-float(moment.tongued.deep.min()) for moment in moments))

    def laying_gap(self, face: float) -> float:
        """Gap to leave at each joint, so that boards of that face just close when wettest. [mm]"""
        return MARGIN * face * self.swells

    def least_length(self, width: float, *, from_face: bool, slides: float | None = None) -> float:
        """Least tongue that keeps its engagement at the driest, on boards ``width`` wide. [mm]

        ``from_face`` says that tongues are cut from the boards: a face is then the width less the
        tongue, save that of the last board of a row, which has none. The gap is laid for that
        one, and in the last joint half of each moves. The tongue gets shorter, too: length *
        (1 - its own share) = engagement + width * share - length / 2 * share that shrinks.

        ``slides`` is the room at the bottom of each groove of a loose tongue: one that has slid
        to the bottom of the other groove reaches that much less far, and all of it shrinks.
        """
        share = MARGIN * (self.swells + self.shrinks)
        left = 1 - MARGIN * self.tongue_shrinks * (1 if slides is None else 2)
        if from_face:
            left += MARGIN * self.shrinks / 2
        least = (self.engagement + (slides or 0.0) + width * share) / left
        return float(np.ceil(least / STEP - 1e-9) * STEP)
