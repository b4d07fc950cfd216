"""One side of a joint as the machine sees it: the jointed edge comes first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from faywright.joints.wanted import EdgeName, Place
from faywright.shop.boards import Board, Timber, scatter_along
from faywright.shop.gauges import Gauge

Floats = NDArray[np.float64]

ASSUMED_SCATTER = 0.05
"""Scatter of thickness along a board that was read only once. [mm] Common practice, no source."""

_EDGES: Mapping[str, str] = MappingProxyType(
    {"face A": "face A", "face B": "face B", "jointed edge": ""}
)
_FACES: Mapping[str, str] = MappingProxyType(
    {"face A": "reference edge", "face B": "opposite edge", "jointed edge": ""}
)


@dataclass(frozen=True, kw_only=True, eq=False)
class Work:
    """``n`` boards with the same edge to be jointed, in the joint frame. [mm]

    ``across`` is their size along u (the thickness, for a long edge), ``deep`` along v, ``along``
    the length that is fed past the cutter. ``deviation`` is the standard deviation of ``across``
    at a place not measured. ``words`` turns the kernel's faces into what they are on this part.
    ``edges`` is the edge of each board that is jointed.
    """

    place: Place
    boards: tuple[Board, ...]
    across: Floats
    deep: Floats
    along: Floats
    deviation: Floats
    timber: Timber
    end_grain: bool
    words: Mapping[str, str]
    edges: tuple[EdgeName, ...] = ()

    def __len__(self) -> int:
        """Number of boards."""
        return len(self.boards)

    @cached_property
    def labels(self) -> tuple[str, ...]:
        """Marks with the edge to be cut, where that differs from board to board."""
        if len(set(self.edges)) < 2:
            return self.marks
        pairs = zip(self.marks, self.edges, strict=True)
        return tuple(f"{mark} ({edge})" for mark, edge in pairs)

    @property
    def on_face(self) -> bool:
        """Whether a face is jointed, and not an edge or an end."""
        return self.place.edge in ("face A", "face B")

    @cached_property
    def marks(self) -> tuple[str, ...]:
        """Marks of the boards."""
        return tuple(board.mark for board in self.boards)

    @property
    def middle(self) -> float:
        """Median size across: the board that proportions are taken from. [mm]"""
        return float(np.median(self.across))

    def called(self, face: str) -> str:
        """What one of the kernel's faces or edges is called on this part."""
        return self.words.get(face, face)


def work_of(boards: Sequence[Board], place: Place, timber: Timber, calipers: Gauge) -> Work:
    """The boards of a part as they come to the machine for one joint.

    ``calipers`` took the readings: their zero error is taken off, and their uncertainty is all
    that is known of a width, which is read once.
    """
    zero = calipers.zero_error
    edge: EdgeName = place.edge
    width = np.array([board.width for board in boards])
    length = np.array([board.length for board in boards])
    if edge in ("reference edge", "opposite edge"):
        side = edge if edge == "reference edge" else "opposite edge"
        thickness = np.array([board.thickness_at(side) for board in boards]) - zero
        across, deep, along = thickness, width, length
    else:
        thickness = np.array([board.thickness for board in boards]) - zero
        across, deep, along = thickness, length, width
    on_face = edge in ("face A", "face B")
    if on_face:
        across, deep, along = width, thickness, length
        deviation = np.full(len(boards), calipers.standard_uncertainty)
    else:
        deviation = _deviation(boards, calipers)
    words = dict(_FACES if on_face else _EDGES)
    words["jointed edge"] = edge
    return Work(
        place=place,
        boards=tuple(boards),
        across=across,
        deep=deep,
        along=along,
        deviation=deviation,
        timber=timber,
        end_grain=edge in ("head end", "foot end"),
        words=MappingProxyType(words),
        edges=(edge,) * len(boards),
    )


def _deviation(boards: Sequence[Board], calipers: Gauge) -> Floats:
    """Standard deviation of thickness at a place between readings.

    The scatter of readings along the boards, pooled, holds the wood's own and that of the
    calipers. The wood's own is there at any place, and once more in the mean of ``n`` readings
    that the place is compared with; that of the calipers is in the mean alone. Where only single
    readings exist the wood's own is assumed.
    """
    counts = np.array([board.readings.shape[0] for board in boards])
    reading = calipers.standard_uncertainty
    scatter = scatter_along(tuple(boards))
    own = ASSUMED_SCATTER**2 if scatter is None else max(0.0, scatter**2 - reading**2)
    found: Floats = np.sqrt(own * (1 + 1 / counts) + reading**2 / counts)
    return found
