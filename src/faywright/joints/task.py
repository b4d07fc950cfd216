"""A joint ready to be solved: both sides as work, what meets what, and how well things are set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from faywright.errors import InfeasibleError, InputError
from faywright.fit.forms import Quantity
from faywright.joints.method import Side
from faywright.joints.moving import Moving
from faywright.joints.proportion import Target, target_of
from faywright.joints.wanted import WantedJoint
from faywright.joints.work import Work
from faywright.shop.gauges import Gauge
from faywright.shop.machines import Machine

Index = NDArray[np.int64]
Meets = Literal["in a row", "one to one", "many to one"]


@dataclass(frozen=True, kw_only=True)
class Instruments:
    """The gauges that set height and fence and measure the work."""

    height: Gauge
    fence: Gauge
    calipers: Gauge

    def gauge_for(self, setting: Quantity) -> Gauge:
        """The gauge that makes a setting: a height, or else a place of the fence."""
        return self.height if setting.kind == "height" else self.fence


@dataclass(frozen=True, kw_only=True, eq=False)
class JointTask:
    """One joint with its boards.

    ``meets`` tells how grooves and tongues are paired: boards of one part in a row, each tongue
    in the groove of the next; one tongue to one groove; or one part that meets all of the other.
    ``moving`` tells how its timber moves, None where no climate is given.
    """

    wanted: WantedJoint
    grooved: Work
    tongued: Work
    target: Target
    machine: Machine
    instruments: Instruments
    meets: Meets
    moving: Moving | None = None

    def work(self, side: Side) -> Work:
        """The boards of one side."""
        return self.grooved if side == "groove" else self.tongued

    @property
    def opens(self) -> bool:
        """Whether faces open and close with the seasons: boards in a row that are not glued."""
        return self.wanted.opens

    @property
    def strip(self) -> bool:
        """Whether a strip enters the groove as it is."""
        return self.wanted.tongue is None

    @property
    def offset_faces(self) -> bool:
        """Whether faces A are not meant to be flush: a half tongue, or a groove in a face."""
        return self.wanted.half or self.grooved.on_face

    @property
    def same_boards(self) -> bool:
        """Whether the same boards have both the groove and the tongue."""
        return self.meets == "in a row"

    @property
    def strip_width(self) -> float | None:
        """Width to rip a loose tongue to, so that it enters both grooves; None elsewhere. [mm]"""
        return None if self.wanted.second_groove is None else 2 * self.target.length

    def pairs(self, row: Index | None = None) -> tuple[Index, Index]:
        """Numbers of grooved and tongued boards that meet; ``row`` is the order of boards."""
        grooves, tongues = len(self.grooved), len(self.tongued)
        if self.meets == "in a row":
            row = np.arange(grooves) if row is None else row
            return row[1:], row[:-1]
        if self.meets == "one to one":
            return np.arange(grooves), np.arange(tongues)
        count = max(grooves, tongues)
        return np.arange(count) % grooves, np.arange(count) % tongues


def joint_task(
    wanted: WantedJoint,
    grooved: Work,
    tongued: Work,
    *,
    machine: Machine,
    instruments: Instruments,
    moving: Moving | None = None,
) -> JointTask:
    """Work out proportions and pairing.

    Raises
    ------
    InputError
        The numbers of boards do not go together.
    InfeasibleError
        A loose tongue is too narrow for its grooves, or the figures contradict each other.
    """
    strip = wanted.tongue is None
    target = target_of(wanted, grooved, tongued, strip=strip, moving=moving, opens=wanted.opens)
    needed = 2 * target.length
    if wanted.second_groove is not None and float(tongued.deep.min()) < needed:
        raise InfeasibleError(
            f"a strip {tongued.deep.min():.1f} mm wide does not reach {needed:.1f} mm into both "
            "grooves",
            where=f"joint {wanted.name!r}",
            remedy="Use wider stock for it, or give a smaller tongue_length",
        )
    grooves, tongues = len(grooved), len(tongued)
    meets: Meets
    if wanted.tongue is not None and wanted.tongue.part == wanted.groove.part:
        meets = "in a row"
        if grooves < 2:
            raise InputError(
                "one board cannot be joined to itself",
                where=f"joint {wanted.name!r}",
                remedy="List at least two boards for the part",
            )
    elif grooves == tongues:
        meets = "one to one"
    elif 1 in (grooves, tongues):
        meets = "many to one"
    else:
        raise InputError(
            f"{grooves} grooved and {tongues} tongued pieces do not pair off",
            where=f"joint {wanted.name!r}",
            remedy="List as many of one as of the other, or one that meets all",
        )
    return JointTask(
        wanted=wanted,
        grooved=grooved,
        tongued=tongued,
        target=target,
        machine=machine,
        instruments=instruments,
        meets=meets,
        moving=moving,
    )


def both_edges(first: Work, second: Work) -> Work:
    """The grooves of a loose tongue as one pile: all edges of ``first``, then of ``second``.

    Where both are the same boards in a row, the last board's first edge and the first board's
    second edge stay plain.
    """
    if first.place.part == second.place.part:
        count = len(first)
        first, second = _some(first, range(count - 1)), _some(second, range(1, count))
    return replace(
        first,
        words={**first.words, "jointed edge": "edge to be grooved"},
        boards=(*first.boards, *second.boards),
        across=np.concatenate([first.across, second.across]),
        deep=np.concatenate([first.deep, second.deep]),
        along=np.concatenate([first.along, second.along]),
        deviation=np.concatenate([first.deviation, second.deviation]),
        edges=(*first.edges, *second.edges),
    )


def _some(work: Work, numbers: Sequence[int]) -> Work:
    chosen = list(numbers)
    return replace(
        work,
        boards=tuple(work.boards[k] for k in chosen),
        across=work.across[chosen],
        deep=work.deep[chosen],
        along=work.along[chosen],
        deviation=work.deviation[chosen],
        edges=tuple(work.edges[k] for k in chosen),
    )


def strips_for(strips: Work, joints: int) -> Work:
    """As many strips as there are joints between boards, one to each groove of a pair."""
    if len(strips) == 1:
        return strips
    if len(strips) != joints:
        raise InputError(
            f"{len(strips)} strips for {joints} joints",
            where=f"part {strips.place.part!r}",
            remedy=f"List {joints} strips, or one that all are cut from",
        )
    return _some(strips, [*range(joints), *range(joints)])
