"""Joints through the seasons, against sections cut by the kernel and grown by plain arithmetic."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faywright.joints import grooves, tongues
from faywright.joints.gaps import BOTTOM, CHEEK_A, CHEEK_B, simulate
from faywright.joints.moving import Moment, Moving
from faywright.joints.seasonal import JointAt, Seasonal, seasonal
from faywright.joints.side_groups import SideGroup
from faywright.joints.solution import Solution
from faywright.joints.task import JointTask, both_edges, joint_task, strips_for
from faywright.joints.wanted import Place, WantedJoint
from faywright.joints.work import work_of
from faywright.section.cutting import Sections
from tests.joints.builders import (
    INSTRUMENTS,
    SNUG,
    TABLE,
    Floats,
    exactly,
    groove_by,
    joint,
    pile,
    solved,
    straight,
    tongue_by,
)
from tests.joints.moves import STILL, Percent, moment, moving, row_moving
from tests.strategies import STEADY

FEW = settings(STEADY, max_examples=20)
percents = st.integers(-300, 300).map(lambda number: number / 100)
both = st.tuples(percents, percents)


def made(task: JointTask, *, half: bool = False, size: float = 7.0) -> Solution:
    """The joint cut in one pass for the groove and flat for the tongue."""
    groove = groove_by(task, grooves.ON_EDGE, straight(size))
    name = tongues.STRIP if task.strip else tongues.HALF_FLAT if half else tongues.FLAT
    cutters = () if task.strip else (straight(18.0, "C2"),)
    return solved(task, groove, tongue_by(task, groove, name, *cutters))


def through(task: JointTask, *, half: bool = False) -> Seasonal:
    """What becomes of the joint."""
    found = seasonal(made(task, half=half))
    assert found is not None
    return found


def place(cut: list[tuple[SideGroup, Sections]], number: int, surface: str, axis: int) -> float:
    """Where a surface of one board stands."""
    (found,) = (
        sections.position(surface, axis)[list(group.members).index(number)]
        for group, sections in cut
        if number in group.members
    )
    return float(found)


def by_arithmetic(solution: Solution, at: Moment) -> dict[str, list[float]]:
    """Cheeks and bottom of each joint, every coordinate of a part grown with it.

    Faces A stay flush and shoulders closed, or the tongue stands in the middle of its groove.
    """
    cut = simulate(solution)
    grooved = list(zip(solution.groove_groups, cut.grooved, strict=True))
    tongued = list(zip(solution.tongue_groups, cut.tongued, strict=True))
    found: dict[str, list[float]] = {CHEEK_A: [], CHEEK_B: [], BOTTOM: []}
    for one, two in zip(solution.first, solution.second, strict=True):
        wide, deep = 1 + at.grooved.across[one], 1 + at.grooved.deep[one]
        thick, long = 1 + at.tongued.across[two], 1 + at.tongued.deep[two]
        near = place(grooved, one, "face-A wall", 0) * wide
        far = place(grooved, one, "face-B wall", 0) * wide
        bottom = place(grooved, one, "bottom", 1) * deep
        if solution.tongue.runs:
            cheek_a = "face A" if solution.task.wanted.half else "face-A cheek"
            low = place(tongued, two, cheek_a, 0) * thick
            high = place(tongued, two, "face-B cheek", 0) * thick
            length = place(tongued, two, "face-B shoulder", 1) * long
        else:
            low, high = 0.0, solution.task.tongued.across[two] * thick
            length = solution.task.target.length * long
        if solution.task.strip or solution.task.wanted.half:
            off = (near + far - low - high) / 2
            low, high = low + off, high + off
        found[CHEEK_A].append(low - near)
        found[CHEEK_B].append(far - high)
        found[BOTTOM].append(bottom - length)
    return found


def agree(found: JointAt, wanted: dict[str, list[float]]) -> bool:
    return all(found.gaps[name] == pytest.approx(wanted[name], abs=1e-6) for name in wanted)


def moments(grooved: Percent, tongued: Percent, boards: int) -> Moving:
    """A season of these changes, and one without any."""
    return moving(
        moment("driest", STILL, boards=boards),
        moment("wettest", grooved, tongued, boards=boards),
        assembly=moment("assembly", STILL, boards=boards),
    )


# Gaps against arithmetic on what the kernel cut


@given(grooved=both, tongued=both)
@FEW
def test_gaps_of_a_flush_joint_are_those_of_parts_that_grew(
    grooved: Percent, tongued: Percent
) -> None:
    moves = moments(grooved, tongued, 2)
    task = joint([21.0, 21.3], [21.1, 20.9], moving=moves, tongue_length=8.0, groove_width=7.0)
    solution = made(task)
    found = seasonal(solution)
    assert found is not None
    for at, when in zip(found.moments, (moves.assembly, *moves.seasons), strict=True):
        assert agree(at, by_arithmetic(solution, when))


@given(grooved=both, tongued=both)
@FEW
def test_gaps_of_a_strip_are_those_of_parts_that_grew(grooved: Percent, tongued: Percent) -> None:
    moves = moments(grooved, tongued, 2)
    task = joint([21.0, 21.2], [6.6, 6.65], strips=True, groove_width=7.0, moving=moves)
    solution = made(task)
    found = seasonal(solution)
    assert found is not None
    assert agree(found.seasons[1], by_arithmetic(solution, moves.seasons[1]))


@given(grooved=both, tongued=both)
@FEW
def test_gaps_of_a_half_tongue_are_those_of_parts_that_grew(
    grooved: Percent, tongued: Percent
) -> None:
    moves = moments(grooved, tongued, 2)
    task = joint([21.0, 21.2], [21.0, 21.1], half=True, groove_width=7.0, moving=moves)
    solution = made(task, half=True)
    found = seasonal(solution)
    assert found is not None
    assert agree(found.seasons[1], by_arithmetic(solution, moves.seasons[1]))


def test_each_board_moves_by_its_own_share() -> None:
    moves = moments((0.0, 0.0), (0.0, 0.0), 2)
    moves.seasons[1].grooved.across[:] = (0.01, 0.03)
    moves.seasons[1].tongued.across[:] = (-0.02, 0.02)
    solution = made(joint([21.0] * 2, [21.0] * 2, moving=moves, groove_width=7.0))
    found = seasonal(solution)
    assert found is not None
    assert agree(found.seasons[1], by_arithmetic(solution, moves.seasons[1]))
    assert found.seasons[1].clearance[0] != pytest.approx(found.seasons[1].clearance[1], abs=0.01)


@pytest.mark.parametrize("wishes", [{}, {"film": 0.05}, {"sanding": 0.03}])
def test_clearance_is_that_of_the_finished_joint(wishes: dict[str, Any]) -> None:
    task = joint([21.0] * 2, [21.0] * 2, moving=moving(boards=2), groove_width=7.0, **wishes)
    film, sanding = wishes.get("film", 0.0), wishes.get("sanding", 0.0)
    cut = made(task).clearance
    assert through(task).assembly.clearance == exactly(cut - 2 * film + sanding)


def test_without_a_climate_there_are_no_seasons() -> None:
    assert seasonal(made(joint([21.0] * 2, [21.0] * 2, groove_width=7.0))) is None


# Rows: faces open and close, each board held at its middle


def in_a_row(moves: Moving, *, boards: int = 3, width: float = 120.0, **wishes: Any) -> JointTask:
    return joint([21.0] * boards, moving=moves, width=width, groove_width=7.0, **wishes)


def test_a_row_opens_by_what_its_faces_lose() -> None:
    task = in_a_row(row_moving(-2.0, 1.0, boards=3), tongue_length=12.0)
    found = through(task)
    # Faces of 108 mm, and of 120 for the last board, which has no tongue: that gains 1.2, which
    # 1.3 times is the gap to lay. The first joint loses 2.16 and gains 1.08, the last 2.28.
    assert (found.face, found.laid) == exactly((120.0, 1.56))
    assert [float(at.opening[0]) for at in found.moments] == exactly([1.56, 3.72, 0.48])
    assert [float(at.engaged[0]) for at in found.moments] == exactly(
        [12.0 - 1.56, 12.0 * 0.98 - 3.72, 12.0 * 1.01 - 0.48]
    )
    assert found.seasons[0].opening[1] == exactly(1.56 + 2.28)
    assert found.seasons[0].gaps[BOTTOM] == exactly([0.98 + 3.72, 0.98 + 3.84])


def test_a_row_counts_from_the_day_it_is_laid() -> None:
    task = in_a_row(row_moving(-3.0, -1.0, assembly=-2.0, boards=3), tongue_length=12.0)
    found = through(task)
    assert found.laid == exactly(1.3 * 1.2)
    assert [float(at.opening[0]) for at in found.moments] == exactly([1.56, 1.56 + 1.08, 0.48])


def test_neighbours_share_a_joint_half_and_half() -> None:
    moves = row_moving(0.0, 0.0, boards=3)
    moves.seasons[0].grooved.deep[:] = (-0.01, -0.02, -0.04)
    task = in_a_row(moves, tongue_length=12.0, free_order=False)
    found = through(task)
    assert found.laid == 0.0
    assert found.seasons[0].opening == exactly([108 * 0.015, 54 * 0.02 + 60 * 0.04])


def test_a_wide_board_opens_its_joints_more() -> None:
    boards = [*pile([21.0] * 2), replace(pile([21.0], width=240.0)[0], mark="wide")]
    work = work_of(boards, Place("backs", "reference edge"), "softwood", INSTRUMENTS.calipers)
    other = work_of(boards, Place("backs", "opposite edge"), "softwood", INSTRUMENTS.calipers)
    wanted = replace(in_a_row(moving()).wanted, tongue_length=12.0, free_order=False)
    moves = row_moving(-2.0, 0.0, boards=3)
    task = joint_task(wanted, work, other, machine=TABLE, instruments=INSTRUMENTS, moving=moves)
    found = through(task)
    assert found.face == 240.0
    assert found.seasons[0].opening == exactly([2.16, (2.16 + 4.8) / 2])


def loose_tongues(moves: Moving, boards: int = 3) -> JointTask:
    """Boards in a row with strips between them."""
    calipers = INSTRUMENTS.calipers
    row = pile([21.0, 21.1, 20.9][:boards])
    first = work_of(row, Place("backs", "reference edge"), "softwood", calipers)
    second = work_of(row, Place("backs", "opposite edge"), "softwood", calipers)
    strips = work_of(
        pile([6.6], width=30.0), Place("strips", "reference edge"), "softwood", calipers
    )
    wanted = WantedJoint(
        name="back",
        family="loose tongue",
        fit=SNUG,
        groove=first.place,
        second_groove=second.place,
        strip="strips",
        groove_width=7.0,
        tongue_length=12.0,
    )
    grooved = both_edges(first, second)
    return joint_task(
        wanted,
        grooved,
        strips_for(strips, len(grooved) // 2),
        machine=TABLE,
        instruments=INSTRUMENTS,
        moving=moves,
    )


def test_a_row_with_loose_tongues_opens_between_neighbours() -> None:
    # Grooves: first edges of boards 1 and 2, then second edges of boards 2 and 3.
    moves = row_moving(0.0, 0.0, boards=4)
    moves.seasons[0].grooved.deep[:] = (-0.01, -0.02, -0.02, -0.04)
    task = loose_tongues(moves)
    assert task.opens
    found = through(task)
    assert found.face == 120.0
    between = [120 * 0.015, 120 * 0.03]
    assert found.seasons[0].opening == exactly([*between, *between])
    # Room at the bottom of the other groove, whose board shrank by its own share
    rooms = [task.target.depth * (1 - each) - 12.0 for each in (0.02, 0.04, 0.01, 0.02)]
    wanted = [12.0 - gap - room for gap, room in zip((*between, *between), rooms, strict=True)]
    assert found.seasons[0].engaged == exactly(wanted)


def test_a_loose_tongue_that_slid_away_is_as_far_in_as_told() -> None:
    """A strip of 24 mm that keeps its width, from the bottom of one groove towards the other."""
    moves = row_moving(-2.0, 1.0, boards=4)
    task = loose_tongues(moves)
    for at in moves.seasons:
        at.tongued.deep[:] = 0.0
    found = through(task)
    dry = found.seasons[0]
    shrunk = task.target.depth * 0.98
    assert dry.opening == exactly([found.laid + 120 * 0.02] * 4)
    assert dry.engaged == exactly([24.0 - shrunk - dry.opening[0]] * 4)


def test_boards_that_are_glued_keep_their_shoulders_closed() -> None:
    moves = row_moving(-3.0, 2.0, boards=3)
    found = through(in_a_row(moves, fit=replace(SNUG, glued=True), tongue_length=8.0))
    assert (found.laid, found.face) == (0.0, 0.0)
    assert all(not at.opening.any() for at in found.moments)


def test_two_parts_keep_their_shoulders_closed() -> None:
    task = joint([21.0] * 2, [21.0] * 2, moving=row_moving(-3.0, 2.0, boards=2), groove_width=7.0)
    assert not any(at.opening.any() for at in through(task).moments)


def test_an_end_grain_tenon_keeps_its_length_in_a_groove_whose_depth_moves() -> None:
    moves = moving(moment("driest", (0.0, -4.0), STILL), moment("wettest", (0.0, 2.0), STILL))
    task = joint(
        [21.0],
        [21.0],
        moving=moves,
        tongue_edge="head end",
        tongue_length=10.0,
        groove_depth=11.0,
        groove_width=7.0,
    )
    assert task.tongued.end_grain
    dry, wet = through(task).seasons
    assert (float(dry.engaged[0]), float(wet.engaged[0])) == exactly((10.0, 10.0))
    assert dry.gaps[BOTTOM] == exactly(11.0 * 0.96 - 10.0)
    assert wet.gaps[BOTTOM] == exactly(11.0 * 1.02 - 10.0)


# Faults


def kinds(task: JointTask) -> list[tuple[str, str]]:
    return [(fault.when, fault.kind) for fault in through(task).faults(task)]


def panel(*seasons: Moment, **wishes: Any) -> JointTask:
    """One groove and one tongue between them of 0.36 mm play."""
    asked: dict[str, Any] = {"groove_width": 7.0, "tongue_length": 8.0} | wishes
    return joint([21.0], [21.0], moving=moving(*seasons), **asked)


CALM = moment("driest", (0.2, 0.2))
WIDE = moment("wettest", (0.5, 0.5))
DRY = moment("driest", (-1.0, 0.0), (-1.5, 0.0))
"""Little by itself; with a wet season it is more than can be taken off the band of the fit."""


def test_a_calm_year_has_no_faults() -> None:
    assert kinds(panel(CALM, WIDE)) == []
    assert kinds(in_a_row(row_moving(-0.5, 0.5, boards=3))) == []


CASES: list[tuple[Percent, Percent, dict[str, Any], str]] = [
    (STILL, (8.0, 0.0), {}, "binds"),  # 6.64 mm grow by 0.53, and 0.36 were there
    (STILL, (4.0, 0.0), {}, "tight"),  # 0.27 of them, and 0.16 were to stay
    (STILL, (-8.0, 0.0), {}, "rattles"),
    ((5.0, 0.0), STILL, {}, "rattles"),
    (STILL, (0.0, 8.0), {"groove_depth": 8.5}, "bottoms"),  # 0.64 longer, and 0.5 were there
    ((0.0, -8.0), STILL, {"groove_depth": 8.5}, "bottoms"),
]


@pytest.mark.parametrize(("grooved", "tongued", "wishes", "kind"), CASES)
def test_a_season_that_spoils_the_joint_is_told_by_what_it_does(
    grooved: Percent, tongued: Percent, wishes: dict[str, Any], kind: str
) -> None:
    task = panel(DRY, moment("wettest", grooved, tongued), **wishes)
    assert kinds(task) == [("wettest", kind)]


@pytest.mark.parametrize(
    ("tongued", "size"),
    [(8.0, 0.18 - 6.64 * 0.04), (4.0, 0.18 - 6.64 * 0.02), (-8.0, 0.18 + 6.64 * 0.04)],
)
def test_a_fault_is_told_by_the_clearance_a_side(tongued: float, size: float) -> None:
    task = panel(DRY, moment("wettest", STILL, (tongued, 0.0)))
    (fault,) = through(task).faults(task)
    assert fault.size == exactly(size)


def test_a_fit_that_may_be_pressed_together_binds_only_beyond_it() -> None:
    pressed = replace(SNUG, low=-0.2)
    season = moment("wettest", STILL, (8.0, 0.0))  # 0.086 a side pressed
    assert kinds(panel(CALM, season, fit=pressed)) == []


@pytest.mark.parametrize("tongued", [(8.0, 0.0), (-8.0, 0.0)])
def test_what_is_glued_neither_binds_nor_rattles(tongued: Percent) -> None:
    season = moment("wettest", STILL, tongued)
    assert kinds(panel(CALM, season, fit=replace(SNUG, glued=True))) == []


@pytest.mark.parametrize(
    ("driest", "kind", "size"),
    [
        (-4.0, "leaves", 6.0 * 0.96 - 117 * 0.04),  # between faces of 114 and 120 mm
        (-6.0, "falls out", 6.0 * 0.94 - 117 * 0.06),
    ],
)
def test_a_short_tongue_leaves_its_groove(driest: float, kind: str, size: float) -> None:
    task = in_a_row(row_moving(driest, 0.0, boards=3), tongue_length=6.0)
    (fault,) = through(task).faults(task)
    assert (fault.when, fault.kind, fault.size) == ("driest", kind, exactly(size))


def test_a_tongue_that_the_gap_to_lay_leaves_outside_is_told_for_the_day_it_is_laid() -> None:
    task = in_a_row(row_moving(0.0, 4.0, boards=3), tongue_length=5.0)  # 1.3 x 4 % of 120 mm
    assert kinds(task) == [("assembly", "falls out"), ("driest", "falls out")]


def test_a_tongue_as_long_as_asked_for_stays_in() -> None:
    assert kinds(in_a_row(row_moving(-6.0, 0.0, boards=3))) == []


def test_less_engagement_may_be_enough() -> None:
    season = moment("driest", (0.0, -4.0), boards=3)
    moves = moving(season, assembly=moment("assembly", STILL, boards=3), engagement=1.0)
    assert kinds(in_a_row(moves, tongue_length=6.0)) == []


def test_a_joint_that_never_fitted_is_no_fault_of_the_seasons() -> None:
    moves = moments(STILL, (1.0, 0.0), 2)
    tight: Floats = np.array([21.0, 21.0])
    task = joint(tight.tolist(), [6.6, 7.2], strips=True, groove_width=7.0, moving=moves)
    found = through(task)
    assert found.assembly.inside(task).tolist() == [True, False]
    assert kinds(task) == []
