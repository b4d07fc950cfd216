"""Every named gap of a solved joint: in closed form, and measured on the simulated parts.

Both are always worked out; where they differ the plan stops.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from faywright.errors import DisagreementError
from faywright.fit.forms import Form
from faywright.joints.method import Method
from faywright.joints.side_groups import SideGroup, known_values
from faywright.joints.solution import Solution
from faywright.joints.work import Work
from faywright.section.cutting import Sections, cut_boards
from faywright.section.mating import Meeting, Placing, gaps, overlap_area, seats

Floats = NDArray[np.float64]
Index = NDArray[np.int64]

AGREE = 1e-6
"""Most that closed form and simulated section may differ. [mm]"""

REPORT_IT = (
    "This is an error in Faywright: do not cut to this plan, and report it with the piece and "
    "shop files"
)

CHEEK_A, CHEEK_B, BOTTOM = "face-A cheek", "face-B cheek", "bottom"
SHOULDER_A, SHOULDER_B, STEP = "face-A shoulder", "face-B shoulder", "face-B step"


@dataclass(frozen=True, slots=True)
class GapForm:
    """A gap as what the grooved part adds to it plus what the tongued part adds."""

    groove: Form
    tongue: Form

    def coefficients(self, side: Literal["groove", "tongue"]) -> Form:
        """The part of one side."""
        return self.groove if side == "groove" else self.tongue


def lift_of(solution: Solution) -> float | None:
    """How far face A of the tongued part stands off that of the grooved part. [mm]

    0 where faces A are flush; for a half tongue, or a groove in a face, what the place of the
    groove asks for; None for a strip, which lies in the middle of its groove.
    """
    if solution.task.strip:
        return None
    if not solution.task.offset_faces:
        return 0.0
    wall = solution.sizes(solution.groove, solution.groove.surfaces["face-A wall"][1])
    cheek = solution.sizes(solution.tongue, solution.tongue.surfaces[CHEEK_A][1])
    return float(np.median(wall) - np.median(cheek)) + solution.task.target.play / 2


def gap_forms(solution: Solution) -> dict[str, GapForm]:
    """Closed forms of the named gaps. [mm]"""
    groove, tongue = solution.groove, solution.tongue
    wall_a, wall_b = (groove.surfaces[name][1] for name in ("face-A wall", "face-B wall"))
    cheek_a, cheek_b = (tongue.surfaces[name][1] for name in (CHEEK_A, CHEEK_B))
    lift = lift_of(solution)
    length = Form(solution.task.target.length) if lift is None else tongue.surfaces[SHOULDER_B][1]
    bottom = GapForm(groove.surfaces[BOTTOM][1], -1 * length)
    if lift is None:
        half = GapForm(0.5 * groove.size, -0.5 * tongue.size)
        return {CHEEK_A: half, CHEEK_B: half, BOTTOM: bottom}
    found = {
        CHEEK_A: GapForm(-1 * wall_a, cheek_a + lift),
        CHEEK_B: GapForm(wall_b, -1 * cheek_b - lift),
        BOTTOM: bottom,
    }
    if not solution.task.offset_faces:
        found[STEP] = GapForm(Form.of(groove.thickness), -1 * Form.of(tongue.thickness))
    return found


def formula_gaps(solution: Solution) -> dict[str, Floats]:
    """Every named gap of every joint by closed form, with settings dead on. [mm]"""
    return {
        name: solution.sizes(solution.groove, form.groove)[solution.first]
        + solution.sizes(solution.tongue, form.tongue)[solution.second]
        for name, form in gap_forms(solution).items()
    }


@dataclass(frozen=True, eq=False)
class Simulated:
    """Both sides cut by the kernel, group by group, and the gaps measured on them. [mm]"""

    grooved: tuple[Sections, ...]
    tongued: tuple[Sections, ...]
    placings: Mapping[tuple[int, int], tuple[Index, Placing]]
    gaps: Mapping[str, Floats]


def simulate(solution: Solution) -> Simulated:
    """Cut every board by its passes, put every joint together and measure its gaps.

    Raises
    ------
    DisagreementError
        A surface or a gap differs from its closed form by more than ``AGREE``.
    """
    task = solution.task
    grooved = tuple(_cut(solution.groove, group, task.grooved) for group in solution.groove_groups)
    tongued = tuple(_cut(solution.tongue, group, task.tongued) for group in solution.tongue_groups)
    placings = _placings(solution, grooved, tongued)
    measured: dict[str, Floats] = {}
    for (one, two), (joints, placing) in placings.items():
        found = gaps(grooved[one], tongued[two], gap_meetings(solution), placing)
        for name, values in found.items():
            measured.setdefault(name, np.full(len(solution.first), np.nan))[joints] = values
        _no_overlap(solution, grooved[one], tongued[two], placing, found)
    for name, values in formula_gaps(solution).items():
        _compare(f"gap {name!r}", values, measured[name], solution)
    return Simulated(grooved, tongued, placings, measured)


def _no_overlap(
    solution: Solution,
    grooved: Sections,
    tongued: Sections,
    placing: Placing,
    found: Mapping[str, Floats],
) -> None:
    """A joint with room at every gap must have no wood where the other part is.

    All joints of a pair of groups have the same outline, so the one with most room is looked at.
    It catches what no named gap would show: a rib or a shoulder left standing.
    """
    room = np.stack([found[name] for name in (CHEEK_A, CHEEK_B, BOTTOM)]).min(axis=0)
    best = int(np.argmax(room))
    if room[best] < 0:
        return
    one = Placing(*(each[best : best + 1] for each in vars(placing).values()))
    overlap = float(overlap_area(grooved, tongued, one)[0])
    if overlap > AGREE:
        raise DisagreementError(
            f"the parts overlap by {overlap:.4f} mm2 although every named gap is open",
            where=solution.task.wanted.name,
            remedy=REPORT_IT,
        )


def _cut(method: Method, group: SideGroup, work: Work) -> Sections:
    """One group through all its passes; every surface is held against its closed form."""
    across, deep = work.across[group.members], work.deep[group.members]
    stations = method.stations(group.settings, float(across.max()), work.timber)
    passes = [run for station in stations for run in station.passes()]
    sections = cut_boards(across, deep, passes)
    known = known_values(method, group, across)
    for name, (axis, form) in method.surfaces.items():
        if not stations:
            continue
        wanted = np.broadcast_to(np.asarray(form.value(known)), across.shape)
        surface = _surface(name, method)
        _compare(f"surface {name!r}", wanted, sections.position(surface, axis), method)
    return sections


def _surface(name: str, method: Method) -> str:
    """The surface of the section that plays the part of ``name``: an uncut cheek is a face."""
    form = method.surfaces[name][1]
    if name == CHEEK_A and form == Form():
        return "face A"
    if name == CHEEK_B and form == Form.of(method.thickness):
        return "face B"
    return name


def _compare(what: str, formula: Floats, simulated: Floats, where: Solution | Method) -> None:
    off = np.abs(formula - simulated)
    if not (off <= AGREE).all():
        worst = int(np.nanargmax(np.where(np.isnan(off), np.inf, off)))
        name = where.name if isinstance(where, Method) else where.task.wanted.name
        raise DisagreementError(
            f"the formula puts {what} at {formula[worst]:.7f} mm and the simulated cut at "
            f"{simulated[worst]:.7f} mm",
            where=name,
            remedy=REPORT_IT,
        )


def gap_meetings(solution: Solution) -> tuple[Meeting, ...]:
    """The pairs of surfaces that meet in the joint, and what the gap between them is called."""
    tongue = solution.tongue
    found = [
        Meeting(CHEEK_A, "face-A wall", _surface(CHEEK_A, tongue), 0, 1),
        Meeting(CHEEK_B, "face-B wall", _surface(CHEEK_B, tongue), 0, -1),
        Meeting(BOTTOM, "bottom", "edge", 1, -1),
    ]
    found += [
        Meeting(shoulder, "edge", shoulder, 1, -1)
        for shoulder in (SHOULDER_A, SHOULDER_B)
        if shoulder in tongue.surfaces
    ]
    if not (solution.task.strip or solution.task.offset_faces):
        found.append(Meeting(STEP, "face B", "face B", 0, -1))
    return tuple(found)


def _placings(
    solution: Solution, grooved: tuple[Sections, ...], tongued: tuple[Sections, ...]
) -> dict[tuple[int, int], tuple[Index, Placing]]:
    """Joints by the groups their two boards are in, with how they are put together."""
    one, place_one = _places(solution.groove_groups)
    two, place_two = _places(solution.tongue_groups)
    lift = lift_of(solution)
    shoulders = [s for s in (SHOULDER_A, SHOULDER_B) if s in solution.tongue.surfaces]
    found = {}
    for a, sections in enumerate(grooved):
        for b, tongues in enumerate(tongued):
            joints = np.flatnonzero((one[solution.first] == a) & (two[solution.second] == b))
            if len(joints) == 0:
                continue
            first = place_one[solution.first[joints]]
            second = place_two[solution.second[joints]]
            seat = seats(tongues, shoulders)[second]
            if lift is None:
                seat = np.full(len(joints), solution.task.target.length)
                low = sections.position("face-A wall", 0)[first]
                high = sections.position("face-B wall", 0)[first]
                lifts = (low + high - tongues.thickness[second]) / 2
            else:
                lifts = np.full(len(joints), lift)
            found[a, b] = (joints, Placing(first, second, seat, lifts))
    return found


def _places(groups: tuple[SideGroup, ...]) -> tuple[Index, Index]:
    """For every board its group, and its number within the group."""
    size = 1 + max(int(group.members.max()) for group in groups)
    of, place = np.zeros(size, dtype=np.int64), np.zeros(size, dtype=np.int64)
    for k, group in enumerate(groups):
        of[group.members] = k
        place[group.members] = np.arange(len(group.members))
    return of, place
