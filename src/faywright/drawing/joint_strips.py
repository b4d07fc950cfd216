"""The boards of a solved joint by thickness, with the settings that serve them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from faywright.drawing.model import Drawing
from faywright.drawing.pile import StripBoard, StripGroup
from faywright.drawing.thickness_strip import thickness_strip
from faywright.joints.method import Method
from faywright.joints.side_groups import SideGroup, known_values
from faywright.joints.solution import Solution
from faywright.joints.work import Work
from faywright.lengths import LengthStyle, write_length
from faywright.setups.setup import Setup

Floats = NDArray[np.float64]
Index = NDArray[np.int64]
NONE_OUT: Mapping[str, float] = MappingProxyType({})


def joint_strips(
    solution: Solution,
    setups: Sequence[Setup],
    *,
    style: LengthStyle,
    over: Mapping[str, float] = NONE_OUT,
) -> tuple[Drawing, ...]:
    """One chart where the same edges have groove and tongue, else one for each side.

    A side jointed on a face is left out, for its thickness plays no part. The open bars are the
    thicknesses at which a board goes together, within the band of the fit, with a mate of mean
    size at settings dead on; where both boards' thickness counts, each has half the band.

    Parameters
    ----------
    setups
        Those of the joint, for their numbers.
    over
        By mark: how much too thick (below 0: too thin) a board is for its setting. [mm]
    """
    both = _sides(solution)
    sides = [side for side in both if not side.work.on_face]
    if len(sides) == 2 and _same(sides[0].work, sides[1].work):
        deciding = [side for side in sides if side.method.follows]
        sides = [*deciding, *sides][: max(1, len(deciding))]
        return (_chart(solution, sides, setups, style, over),)
    return tuple(_chart(solution, [side], setups, style, over) for side in sides)


@dataclass(frozen=True, eq=False)
class _Side:
    """One side of a joint; ``boards`` and ``mates`` number those of each joint."""

    name: Literal["groove", "tongue"]
    method: Method
    work: Work
    groups: tuple[SideGroup, ...]
    boards: Index
    mates: Index

    @property
    def numbers(self) -> dict[str, int]:
        """Boards by label, each once and in the order they are listed."""
        return {label: k for k, label in reversed(list(enumerate(self.work.labels)))}


@dataclass(frozen=True, eq=False)
class _Served:
    """Boards (by number) that one setting serves, made at ``cut`` to meet mates of ``size``."""

    members: Index
    cut: tuple[_Side, SideGroup]
    settings: SideGroup
    size: float


def _sides(solution: Solution) -> tuple[_Side, _Side]:
    task, first, second = solution.task, solution.first, solution.second
    return (
        _Side("groove", solution.groove, task.grooved, solution.groove_groups, first, second),
        _Side("tongue", solution.tongue, task.tongued, solution.tongue_groups, second, first),
    )


def _same(one: Work, two: Work) -> bool:
    """Whether both are the same boards, as thick where they are grooved as where tongued."""
    return one.marks == two.marks and bool(np.allclose(one.across, two.across, atol=1e-9))


def _chart(
    solution: Solution,
    sides: Sequence[_Side],
    setups: Sequence[Setup],
    style: LengthStyle,
    over: Mapping[str, float],
) -> Drawing:
    chosen = list(sides[0].numbers.values())[::-1]
    places = {label: k for k, label in enumerate(sides[0].work.labels[n] for n in chosen)}
    groups = [
        StripGroup(
            members=tuple(sorted({places[side.work.labels[k]] for k in served.members})),
            setting=_numbers(served, setups),
            band=_band(solution, side, served),
            side=side.name if len(sides) > 1 else "",
        )
        for side in sides
        if side.method.follows
        for served in _served(solution, side)
    ]
    notes = []
    if solution.room is not None and any(group.band for group in groups):
        notes.append(
            "With the errors of setting allowed for, one setting serves boards within "
            f"{write_length(solution.room, style)} of each other."
        )
    work = sides[0].work
    return thickness_strip(
        [_board(solution, work, number, over) for number in chosen],
        groups,
        title=f"{solution.task.wanted.name}: {work.place.part} by thickness",
        style=style,
        notes=notes,
    )


def _board(solution: Solution, work: Work, number: int, over: Mapping[str, float]) -> StripBoard:
    """A board with the readings that its thickness was taken from."""
    board, edge = work.boards[number], work.edges[number]
    readings = board.readings
    if edge in ("reference edge", "opposite edge"):
        readings = readings[:, [0 if edge == "reference edge" else -1]]
    readings = readings - solution.task.instruments.calipers.zero_error
    thickness = float(work.across[number])
    return StripBoard(
        name=work.labels[number],
        thickness=thickness,
        low=min(float(readings.min()), thickness),
        high=max(float(readings.max()), thickness),
        over=over.get(board.mark, 0.0),
    )


def _served(solution: Solution, side: _Side) -> list[_Served]:
    """The groups of one side; boards that are used as they are go by the setting of their mates."""
    other = next(each for each in _sides(solution) if each.name != side.name)
    sizes = solution.sizes(other.method, other.method.size)
    if side.method.control is None and other.method.control is not None:
        found = [
            _Served(
                np.unique(side.boards[np.isin(side.mates, group.members)]),
                (other, group),
                side.groups[0],
                float(sizes[group.members].mean()),
            )
            for group in other.groups
        ]
        found = [served for served in found if len(served.members)]
        if sum(len(served.members) for served in found) == len(np.unique(side.boards)):
            return found
    mean = float(sizes[side.mates].mean())
    return [_Served(group.members, (side, group), group, mean) for group in side.groups]


def _band(solution: Solution, side: _Side, served: _Served) -> tuple[float, float]:
    """Thicknesses that go together with a mate of mean size. [mm]"""
    target = solution.task.target
    low, high = target.band
    both = bool(solution.groove.follows and solution.tongue.follows)
    half = (high - low) / (4 if both else 2)
    if side.name == "tongue":
        size = served.size - (low + high) / 2
    else:
        # Where both follow, grooves are cut to the width wanted, and tongues to suit them.
        size = target.width if both else served.size + (low + high) / 2
    at_nothing = float(side.method.size.value(known_values(side.method, served.settings, 0.0)))
    one, two = sorted((size + out - at_nothing) / side.method.follows for out in (-half, half))
    return one, two


def _numbers(served: _Served, setups: Sequence[Setup]) -> str:
    """The numbers of the setups that decide the fit of these boards."""
    side, group = served.cut
    marks = tuple(side.work.labels[k] for k in group.members)
    control = side.method.control
    found = [
        str(setup.number)
        for setup in setups
        if setup.final and setup.side == side.name and setup.marks == marks
        if control in (setup.report.station.run.height, setup.report.station.run.far)
    ]
    return f"setup{'s' if len(found) > 1 else ''} {', '.join(found)}" if found else ""
