"""One mated pair, and where in it each named gap lies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from faywright.drawing.naming import Naming
from faywright.errors import InputError
from faywright.section.cutting import Sections
from faywright.section.mating import Meeting, Placing, place

Floats = NDArray[np.float64]
Kind = Literal["cheek", "bottom", "shoulder", "step"]

TONGUE_AND_GROOVE = (
    Meeting("face-A cheek", "face-A wall", "face-A cheek", 0, 1),
    Meeting("face-B cheek", "face-B wall", "face-B cheek", 0, -1),
    Meeting("bottom", "bottom", "edge", 1, -1),
    Meeting("face-A shoulder", "edge", "face-A shoulder", 1, -1),
    Meeting("face-B shoulder", "edge", "face-B shoulder", 1, -1),
    Meeting("face-B step", "face B", "face B", 0, -1),
)
"""The gaps of a tongue in a groove, by the names of the surfaces that meet there."""


@dataclass(frozen=True, slots=True)
class GapPlace:
    """Where a named gap lies, in the joint frame of the grooved part. [mm]

    ``fixed`` and ``moved`` are where the two surfaces stand on the axis of the gap, ``low`` and
    ``high`` the stretch of the other axis along which they face each other.
    """

    name: str
    value: float
    kind: Kind
    fixed: float
    moved: float
    low: float
    high: float
    sign: Literal[1, -1]


@dataclass(frozen=True)
class Facing:
    """Board number ``board`` of ``sections``, whose groove takes the other half of a strip."""

    sections: Sections
    board: int
    naming: Naming


@dataclass(frozen=True)
class MatedPair:
    """Two parts where they stand when put together, in the joint frame of the grooved one.

    ``facing`` is the board that closes the joint from the other side, if there is one.
    """

    grooved: shapely.Polygon
    tongued: shapely.Polygon
    gaps: tuple[GapPlace, ...]
    facing: shapely.Polygon | None = None

    @property
    def parts(self) -> tuple[shapely.Polygon, ...]:
        """The grooved part, the tongued one, and the one that faces it if there is one."""
        return (self.grooved, self.tongued, *([] if self.facing is None else [self.facing]))

    def of_kind(self, *kinds: Kind) -> tuple[GapPlace, ...]:
        """The gaps of these kinds, from face A to face B."""
        found = (gap for gap in self.gaps if gap.kind in kinds)
        return tuple(sorted(found, key=lambda gap: (gap.fixed, gap.low)))


def mated_pair(
    grooved: Sections,
    tongued: Sections,
    placing: Placing,
    pair: int,
    gaps: Mapping[str, float],
    meetings: Sequence[Meeting],
    facing: Facing | None = None,
) -> MatedPair:
    """Pair number ``pair`` of ``placing``, with each of ``gaps`` found in it.

    Raises
    ------
    InputError
        There is no such pair, a gap has no meeting, or its surfaces are missing or not square.
    """
    if not 0 <= pair < len(placing.first):
        raise InputError(
            f"there is no pair {pair}",
            where="drawing of a joint",
            remedy=f"Give a number from 0 to {len(placing.first) - 1}",
        )
    known = {meeting.gap: meeting for meeting in meetings}
    for name in gaps:
        if name not in known:
            raise InputError(
                f"no surfaces are known to meet at gap {name!r}",
                where="drawing of a joint",
                remedy=f"Use one of: {', '.join(known)}",
            )
    one, two = int(placing.first[pair]), int(placing.second[pair])
    corners = tongued.points[tongued.starts[two] : tongued.starts[two + 1]]
    found = []
    for name, value in gaps.items():
        meeting = known[name]
        fixed = _edges(grooved, meeting.first, one, name)
        moved = place(_edges(tongued, meeting.second, two, name), placing, pair)
        found.append(_gap_place(meeting, value, fixed, moved))
    moved_part = shapely.Polygon(place(corners, placing, pair))
    return MatedPair(
        grooved=grooved.polygons[one],
        tongued=moved_part,
        gaps=tuple(found),
        facing=None if facing is None else _faced(facing, moved_part),
    )


def _faced(facing: Facing, strip: shapely.Polygon) -> shapely.Polygon:
    """The facing board, edge to edge with the grooved one, its groove centred on the strip."""
    walls = [
        _edges(facing.sections, wall, facing.board, "facing groove")[..., 0].mean()
        for wall in ("face-A wall", "face-B wall")
    ]
    low, high = strip.bounds[0], strip.bounds[2]
    lift = (low + high - sum(walls)) / 2
    outline = shapely.get_coordinates(facing.sections.polygons[facing.board])
    return shapely.Polygon(outline * (1, -1) + (lift, 0))


def _edges(sections: Sections, surface: str, board: int, gap: str) -> Floats:
    edges = sections.edges(surface, board)
    if len(edges) == 0:
        raise InputError(
            f"a part has no surface {surface!r}",
            where=f"drawing of gap {gap!r}",
            remedy=f"It has: {', '.join(sections.surfaces(board))}",
        )
    return edges


def _gap_place(meeting: Meeting, value: float, fixed: Floats, moved: Floats) -> GapPlace:
    axis, other = meeting.axis, 1 - meeting.axis
    for edges in (fixed, moved):
        if np.ptp(edges[..., axis]) > 1e-6:
            raise InputError(
                "a surface is not square to the axis the gap is measured along",
                where=f"drawing of gap {meeting.gap!r}",
                remedy="Draw only gaps between square surfaces by name",
            )
    low = float(max(fixed[..., other].min(), moved[..., other].min()))
    high = float(min(fixed[..., other].max(), moved[..., other].max()))
    at = float(fixed[0, 0, axis])
    kind: Kind = "shoulder"
    if axis == 0:
        kind = "cheek" if high - low > 1e-9 else "step"
    elif at > 1e-9:
        kind = "bottom"
    return GapPlace(meeting.gap, value, kind, at, float(moved[0, 0, axis]), low, high, meeting.sign)
