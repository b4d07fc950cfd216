"""What becomes of a solved joint's gaps from cutting to assembly, and in every season after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from faywright.joints.gaps import BOTTOM, CHEEK_A, CHEEK_B, GapForm, gap_forms
from faywright.joints.moving import Moment, Moving, SideChange
from faywright.joints.proportion import cut_allowance
from faywright.joints.solution import Solution
from faywright.joints.task import JointTask

Floats = NDArray[np.float64]
Index = NDArray[np.int64]

READABLE = 0.0025
"""What is this little out of its bounds is on them. [mm]"""


@dataclass(frozen=True, kw_only=True, eq=False)
class JointAt:
    """A joint's row of gaps at one moment. [mm; (m,) for m joints]

    ``clearance`` is that of a side, with finish and sanding done. ``opening`` is how far the
    shoulders stand apart, ``engaged`` how much tongue is in the groove; of a loose tongue between
    boards that stand apart, how much is while it lies at the bottom of its other groove.
    ``moisture`` is the least and the most of its boards. [%]
    """

    name: str
    moisture: tuple[float, float]
    gaps: dict[str, Floats]
    clearance: Floats
    opening: Floats
    engaged: Floats

    def inside(self, task: JointTask) -> NDArray[np.bool_]:
        """Which joints lie in the band of their fit, (m,)."""
        fit = task.wanted.fit
        inside: NDArray[np.bool_] = (self.clearance >= fit.low - READABLE) & (
            self.clearance <= fit.high + READABLE
        )
        return inside


FaultKind = Literal["binds", "tight", "rattles", "bottoms", "leaves", "falls out"]


@dataclass(frozen=True, slots=True)
class SeasonFault:
    """What goes wrong when, and by how much: clearance a side, or length of tongue. [mm]"""

    when: str
    kind: FaultKind
    size: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Seasonal:
    """A joint when it is assembled, and through the seasons. [mm]

    ``laid`` is the gap to leave between faces when boards of a row are laid, 0 where shoulders
    stay closed; ``face`` is the widest face it is reckoned for.
    """

    assembly: JointAt
    seasons: tuple[JointAt, ...]
    laid: float
    face: float

    def faults(self, task: JointTask) -> tuple[SeasonFault, ...]:
        """What goes wrong at assembly or in a season; clearances only of joints that fitted."""
        fits = self.assembly.inside(task)
        return tuple(fault for at in self.moments for fault in _faults(at, task, fits))

    @property
    def moments(self) -> tuple[JointAt, ...]:
        """Assembly and all seasons."""
        return (self.assembly, *self.seasons)


def seasonal(solution: Solution) -> Seasonal | None:
    """The gaps of ``solution`` at every moment its climate names; None without a climate.

    Each part keeps its shape and changes its size: what a part adds to a gap grows with that
    part, across its thickness for cheeks and along its depth for the bottom. Dry boards in a row
    are each held at their middle, so that their faces open and close; all else keeps its
    shoulders closed.
    """
    moving = solution.task.moving
    if moving is None:
        return None
    face = float(_faces(solution).max()) if solution.task.opens else 0.0
    laid = moving.laying_gap(face)
    return Seasonal(
        assembly=_at(solution, moving, moving.assembly, laid),
        seasons=tuple(_at(solution, moving, season, laid) for season in moving.seasons),
        laid=laid,
        face=face,
    )


def _faults(at: JointAt, task: JointTask, fits: NDArray[np.bool_]) -> Iterator[SeasonFault]:
    fit, moving = task.wanted.fit, task.moving
    bottom, engaged = float(at.gaps[BOTTOM].min()), float(at.engaged.min())
    if not fit.glued and fits.any():
        tight, loose = float(at.clearance[fits].min()), float(at.clearance[fits].max())
        if tight < min(fit.low, 0.0) - READABLE:
            yield SeasonFault(at.name, "binds", tight)
        elif tight < fit.low - READABLE:
            yield SeasonFault(at.name, "tight", tight)
        if loose > fit.high + READABLE:
            yield SeasonFault(at.name, "rattles", loose)
    if bottom < -READABLE:
        yield SeasonFault(at.name, "bottoms", bottom)
    if moving is not None and task.opens and engaged < moving.engagement - READABLE:
        yield SeasonFault(at.name, "leaves" if engaged > 0 else "falls out", engaged)


def _at(solution: Solution, moving: Moving, moment: Moment, laid: float) -> JointAt:
    first, second = solution.first, solution.second
    grooved, tongued = moment.grooved, moment.tongued
    gaps = {
        name: _gap(solution, name, form, grooved, tongued)
        for name, form in gap_forms(solution).items()
    }
    if solution.task.strip or solution.task.offset_faces:
        _share_change(gaps)
    length = solution.task.target.length * (1 + tongued.deep[second])
    opening, slid = np.zeros(len(first)), np.zeros(len(first))
    if solution.task.opens:
        slid = _slid(solution, gaps[BOTTOM])
        moved = _faces(solution) * (grooved.deep - moving.assembly.grooved.deep)
        opening = laid - (moved[first] + moved[_neighbours(solution)]) / 2
        gaps[BOTTOM] = gaps[BOTTOM] + np.maximum(opening, 0.0)
    return JointAt(
        name=moment.name,
        moisture=(float(moment.moisture.min()), float(moment.moisture.max())),
        gaps=gaps,
        clearance=(gaps[CHEEK_A] + gaps[CHEEK_B] - cut_allowance(solution.task.wanted)) / 2,
        opening=opening,
        engaged=length - np.maximum(opening, 0.0) - slid,
    )


def _slid(solution: Solution, bottom: Floats) -> Floats:
    """How far a loose tongue can slide out of each groove, into the room of its other one. [mm]

    ``bottom`` is that room with the joint closed. Joints at first edges come before those of the
    same strips at second edges.
    """
    if solution.task.wanted.second_groove is None:
        return np.zeros(len(bottom))
    return np.maximum(np.roll(bottom, len(bottom) // 2), 0.0)


def _gap(
    solution: Solution, name: str, form: GapForm, grooved: SideChange, tongued: SideChange
) -> Floats:
    """One gap with each part's share of it grown."""
    along = (grooved.deep, tongued.deep) if name == BOTTOM else (grooved.across, tongued.across)
    parts = (
        solution.sizes(solution.groove, form.groove) * (1 + along[0]),
        solution.sizes(solution.tongue, form.tongue) * (1 + along[1]),
    )
    return parts[0][solution.first] + parts[1][solution.second]


def _share_change(gaps: dict[str, Floats]) -> None:
    """Where faces are not flush the tongue lies free: both cheeks share what the play gains."""
    play = gaps[CHEEK_A] + gaps[CHEEK_B]
    gaps[CHEEK_A] = gaps[CHEEK_B] = play / 2


def _faces(solution: Solution) -> Floats:
    """Width of each board's face, without its own tongue: the last of a row has none. [mm]"""
    task = solution.task
    faces = task.grooved.deep.copy()
    if not task.strip:
        faces[solution.second] -= task.target.length
    return faces


def _neighbours(solution: Solution) -> Index:
    """Number of the board on the other side of each joint of a row.

    The two grooves of a loose tongue stand in one pile: first edges, then second edges.
    """
    if not solution.task.strip:
        return solution.second
    grooves = len(solution.task.grooved)
    neighbours: Index = (solution.first + grooves // 2) % grooves
    return neighbours
