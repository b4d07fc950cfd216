"""Setups as a maker reads them: references, limits, readings and what to do about them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest

from faywright.fit import Fit
from faywright.fit.forms import Quantity
from faywright.joints import gaps as gaps_of
from faywright.joints import grooves, tongues
from faywright.joints.gaps import BOTTOM, CHEEK_A, CHEEK_B, simulate
from faywright.joints.method import Method
from faywright.joints.side_groups import SideGroup
from faywright.joints.solution import Solution
from faywright.joints.task import Instruments
from faywright.setups.hazards import THIN
from faywright.setups.setup import CheckReading, Setting, Setup
from faywright.setups.sheet import LEAST_BOTTOM_GAP, setups_of
from faywright.shop import Cutter, Fence, Gauge, Machine
from tests.joints.builders import (
    GAUGE,
    INSTRUMENTS,
    TABLE,
    cut_by,
    exactly,
    groove_by,
    joint,
    matched_pair,
    measured,
    slot,
    solved,
    straight,
    tongue_by,
)

INCH = 25.4


@dataclass(frozen=True)
class Pair:
    """A groove method and a tongue method with their cutters."""

    groove: str
    groove_cutter: Cutter
    tongue: str
    tongue_cutters: tuple[Cutter, ...]

    def solution(self, **wishes: Any) -> Solution:
        """Settings for a small pile."""
        strips = self.tongue == tongues.STRIP
        one = [19.0, 19.06, 18.96]
        two = [6.0, 6.04, 5.96] if strips else [19.02, 18.98, 19.04]
        asked: dict[str, Any] = {"strips": strips, "half": "half" in self.tongue}
        if not strips:
            asked["groove_width"] = 6.5
        task = joint(one, two, **(asked | wishes))
        groove = groove_by(task, self.groove, self.groove_cutter)
        tongue = tongue_by(task, groove, self.tongue, *self.tongue_cutters)
        return solved(task, groove, tongue)


WIDE = straight(18.0, "C2")
PAIRS = {
    "one pass and flat": Pair(grooves.ON_EDGE, straight(6.5), tongues.FLAT, (WIDE,)),
    "both faces and on edge": Pair(grooves.BOTH_FACES, straight(4.6), tongues.ON_EDGE, (WIDE,)),
    "two positions and face A": Pair(
        grooves.TWO_PLACES, straight(4.6), tongues.FACE_A, (WIDE, slot(8.0))
    ),
    "slot cutter throughout": Pair(grooves.FLAT, slot(4.6), tongues.FACE_A, (slot(8.0, "S2"),)),
    "slot cutter once and a narrow cutter": Pair(
        grooves.FLAT, slot(6.5), tongues.FLAT, (straight(4.0, "C2"),)
    ),
    "two positions and matched pair": Pair(
        grooves.TWO_PLACES, straight(4.6), tongues.PAIR, (matched_pair(6.14),)
    ),
    "two positions and strip": Pair(grooves.TWO_PLACES, straight(4.6), tongues.STRIP, ()),
    "both faces and strip": Pair(grooves.BOTH_FACES, straight(4.6), tongues.STRIP, ()),
    "half, flat": Pair(grooves.ON_EDGE, straight(6.5), tongues.HALF_FLAT, (WIDE,)),
    "half, on edge": Pair(grooves.ON_EDGE, straight(6.5), tongues.HALF_ON_EDGE, (WIDE,)),
    "half, face A down": Pair(grooves.ON_EDGE, straight(6.5), tongues.HALF_FACE_A, (slot(8.0),)),
}


@pytest.fixture(params=PAIRS)
def solution(request: pytest.FixtureRequest) -> Solution:
    return PAIRS[request.param].solution()


def all_settings(solution: Solution) -> Iterator[tuple[Setup, Setting, Quantity]]:
    """Every setting of every final setup, with the quantity it is."""
    for setup in setups_of(solution, TABLE):
        if setup.final:
            for setting in (setup.height, setup.fence):
                yield setup, setting, quantity_of(setup, setting)


def method_of(solution: Solution, setup: Setup) -> Method:
    return solution.groove if setup.side == "groove" else solution.tongue


def quantity_of(setup: Setup, setting: Setting) -> Quantity:
    run = setup.report.station.run
    return run.height if setting.quantity == "height" else run.far


def groups_of(solution: Solution, setup: Setup) -> list[SideGroup]:
    """The groups of boards that a setup is for."""
    work = solution.task.grooved if setup.side == "groove" else solution.task.tongued
    groups = solution.groove_groups if setup.side == "groove" else solution.tongue_groups
    return [g for g in groups if {work.marks[k] for k in g.members} <= set(setup.marks)]


def moved(solution: Solution, setup: Setup, what: Quantity, by: float) -> Solution:
    """The same solution with one setting of a setup off by ``by``."""
    here = groups_of(solution, setup)

    def with_it(groups: tuple[SideGroup, ...]) -> tuple[SideGroup, ...]:
        return tuple(
            replace(g, settings={**g.settings, what: g.settings[what] + by}) if g in here else g
            for g in groups
        )

    if setup.side == "groove":
        return replace(solution, groove_groups=with_it(solution.groove_groups))
    return replace(solution, tongue_groups=with_it(solution.tongue_groups))


# The trade's own example: common practice, no source


def common_practice() -> tuple[Setup, ...]:
    fit = Fit(name="pine", aim=0.007 * INCH, low=0.003 * INCH, high=0.011 * INCH)
    task = joint(
        [1.5 * INCH] * 2,
        [1.5 * INCH] * 2,
        fit=fit,
        tongue_thickness=0.486 * INCH,
        tongue_length=0.5 * INCH,
        groove_depth=0.507 * INCH,
    )
    groove = groove_by(task, grooves.ON_EDGE, straight(0.5 * INCH))
    found = solved(task, groove, tongue_by(task, groove, tongues.FLAT, straight(0.75 * INCH, "C2")))
    gaps = simulate(found).gaps
    assert gaps[CHEEK_A].tolist() == exactly([0.007 * INCH] * 2)
    assert gaps[CHEEK_B].tolist() == exactly([0.007 * INCH] * 2)
    assert gaps[BOTTOM].tolist() == exactly([0.007 * INCH] * 2)
    return setups_of(found, TABLE)


def test_a_tongue_of_0486_in_stock_of_1500_is_cut_at_a_height_of_0507() -> None:
    tongue = common_practice()[-1]
    assert tongue.height.true == exactly(0.507 * INCH)
    assert tongue.readings[0].reads == exactly(0.486 * INCH)


def test_the_fence_stands_1000_from_the_far_edge_for_a_centred_groove() -> None:
    groove = [setup for setup in common_practice() if setup.side == "groove"][-1]
    assert groove.places.far_edge == exactly(1.0 * INCH)
    assert groove.places.axis == exactly(0.75 * INCH)
    assert groove.places.near_edge == exactly(0.5 * INCH)
    assert groove.height.true == exactly(0.507 * INCH)


def test_the_working_of_the_tongue_is_stock_less_tongue_halved() -> None:
    working = common_practice()[-1].height.working
    assert working is not None
    assert dict(working.terms) == exactly({"board": 1.5 * INCH, "tongue thickness": -0.486 * INCH})
    assert working.divisor == 2.0


# Every method


def test_far_edge_axis_and_near_edge_are_a_radius_apart(solution: Solution) -> None:
    for setup in setups_of(solution, TABLE):
        radius = setup.report.station.run.cutter.swept_diameter / 2
        assert setup.places.far_edge == exactly(setup.places.axis + radius)
        assert setup.places.far_edge == exactly(setup.places.near_edge + 2 * radius)
        assert setup.fence.true == setup.places.far_edge


def test_the_height_is_measured_to_what_the_sheet_says(solution: Solution) -> None:
    for setup in setups_of(solution, TABLE):
        run = setup.report.station.run
        assert setup.cutter_top == exactly(setup.height.true + run.top_over)
        assert (setup.measured_to == "cutter top") == (run.top_over == 0)


def test_grooves_come_before_the_tongues_made_to_suit_them(solution: Solution) -> None:
    sides = [setup.side for setup in setups_of(solution, TABLE)]
    assert sides == sorted(sides)
    numbers = [setup.number for setup in setups_of(solution, TABLE)]
    assert numbers == list(range(1, 1 + len(sides)))


def test_working_added_up_and_divided_is_the_setting(solution: Solution) -> None:
    for setup in setups_of(solution, TABLE):
        for setting in (setup.height, setup.fence):
            if setting.working is not None:
                total = sum(value for _, value in setting.working.terms)
                assert total / setting.working.divisor == exactly(setting.true)


def test_every_final_setting_shows_its_working(solution: Solution) -> None:
    controls = {solution.groove.control, solution.tongue.control}
    for _, setting, quantity in all_settings(solution):
        assert quantity not in controls or setting.working is not None


DEEP = 5.0


def margin(solution: Solution) -> float:
    """How far the worst joint is inside its bounds, by the kernel; below 0 it is out."""
    found = simulate(solution).gaps
    low, high = solution.band
    side = (found[CHEEK_A] + found[CHEEK_B]) / 2
    margins = [side - low, high - side, found[BOTTOM] - LEAST_BOTTOM_GAP]
    if not solution.task.strip:
        margins += [found[CHEEK_A], found[CHEEK_B]]
    return float(min(each.min() for each in margins))


def test_at_the_tolerance_the_tightest_board_is_on_the_edge_and_beyond_it_out(
    solution: Solution, monkeypatch: pytest.MonkeyPatch
) -> None:
    offset = gaps_of.lift_of(solution)
    monkeypatch.setattr(gaps_of, "lift_of", lambda _: offset)  # it is wanted, and does not move
    assert margin(solution) > 0
    for setup, setting, quantity in all_settings(solution):
        assert setting.tolerance is not None
        for limit in (setting.tolerance.low, setting.tolerance.high):
            if np.isinf(limit):
                continue
            if limit > DEEP:
                continue  # the cutter's own length, or the wood under the groove
            off = [moved(solution, setup, quantity, limit * k) for k in (0.99, 1, 1.01)]
            within, edge, beyond = (margin(each) for each in off)
            assert edge == exactly(0.0)
            assert beyond < 0 < within


DEPTHS = [
    ("one pass and flat", {}, "height", 50.0),
    ("slot cutter throughout", {}, "fence", 20.0),
    ("one pass and flat", {"width": 45.0, "groove_depth": 12.0}, "height", 45.0 - THIN),
]


@pytest.mark.parametrize(("pair", "wishes", "which", "deepest"), DEPTHS)
def test_a_groove_goes_no_deeper_than_the_cutter_cuts_or_the_wood_allows(
    pair: str, wishes: dict[str, Any], which: str, deepest: float
) -> None:
    setups = [s for s in setups_of(PAIRS[pair].solution(**wishes), TABLE) if s.side == "groove"]
    setting = setups[-1].height if which == "height" else setups[-1].fence
    assert setting.tolerance is not None
    assert setting.true + setting.tolerance.high == exactly(deepest)


def test_boards_that_are_out_already_leave_no_tolerance() -> None:
    task = joint([19.0] * 2, [19.0, 20.0], groove_width=6.5, most_settings=1)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.5))
    wild = solved(task, groove, tongue_by(task, groove, tongues.FLAT, WIDE))
    tolerance = setups_of(wild, TABLE)[-1].height.tolerance
    assert tolerance is not None
    assert (tolerance.low, tolerance.high) == (0.0, 0.0)


def test_the_first_trial_cut_errs_on_the_side_that_can_be_cured(solution: Solution) -> None:
    for setup, setting, quantity in all_settings(solution):
        method = method_of(solution, setup)
        if quantity != method.control:
            assert setting.start is None
            continue
        assert setting.start is not None
        off = setting.start - setting.true
        assert abs(off) == exactly(GAUGE.standard_uncertainty)
        size = method.size.coefficient(quantity) * off
        assert size > 0 if setup.side == "tongue" else size < 0
        never = "a thin one cannot" if setup.side == "tongue" else "too wide cannot be closed"
        assert never in setup.cure
        for group in groups_of(solution, setup):
            assert group.settings[quantity] == exactly(setting.true)


# Readings on a trial piece


def reading_of(name: str, surfaces: dict[str, float]) -> float:
    """What calipers find on a cut piece, from where its surfaces are."""
    return {
        "groove width": lambda: surfaces["face-B wall"] - surfaces["face-A wall"],
        "wall beside face A": lambda: surfaces["face-A wall"],
        "groove depth": lambda: surfaces["bottom"],
        "tongue thickness": lambda: surfaces["face-B cheek"] - surfaces["face-A cheek"],
        "depth of the face-A cheek": lambda: surfaces["face-A cheek"],
        "tongue length": lambda: surfaces["face-B shoulder"],
    }[name]()


def trial(
    solution: Solution, setup: Setup, reading: CheckReading, **off: float
) -> tuple[float, Quantity]:
    """What a trial piece reads with the corrected setting off, and which setting that is."""
    method, group = method_of(solution, setup), groups_of(solution, setup)[0]
    run = setup.report.station.run
    kind = reading.correction.quantity if reading.correction is not None else "height"
    quantity = run.height if kind == "height" else run.far
    settings = dict(group.settings)
    settings[quantity] += off.get("by", 0.0)
    surfaces = measured(method, cut_by(method, settings, reading.thickness))
    return reading_of(reading.what, surfaces), quantity


def test_check_readings_are_what_the_kernel_measures_on_the_trial_piece(
    solution: Solution,
) -> None:
    for setup in setups_of(solution, TABLE):
        assert setup.final or not setup.readings
        for reading in setup.readings:
            assert trial(solution, setup, reading)[0] == exactly(reading.reads)


def test_a_thicker_trial_piece_reads_more_by_what_the_sheet_says(solution: Solution) -> None:
    for setup in setups_of(solution, TABLE):
        for reading in setup.readings:
            thicker = replace(reading, thickness=reading.thickness + 0.1)
            grown = trial(solution, setup, thicker)[0] - reading.reads
            assert grown == exactly(0.1 * reading.per_thickness)


@pytest.mark.parametrize("error", [0.07, -0.04])
def test_following_the_printed_correction_restores_the_setting_exactly(
    solution: Solution, error: float
) -> None:
    followed = 0
    for setup in setups_of(solution, TABLE):
        for reading in setup.readings:
            if reading.correction is None:
                continue
            found, _ = trial(solution, setup, reading, by=error)
            over = found - reading.reads
            assert abs(over) > 1e-3
            move = reading.correction.share * over
            if reading.correction.more in ("lower", "forward"):
                move = -move
            assert trial(solution, setup, reading, by=error + move)[0] == exactly(reading.reads)
            assert error + move == exactly(0.0)
            followed += 1
    assert followed >= 2


def test_who_turns_the_work_moves_by_half() -> None:
    both = setups_of(PAIRS["both faces and on edge"].solution(), TABLE)
    halves = [
        (reading.what, reading.correction.share, reading.correction.more)
        for setup in both
        for reading in setup.readings
        if reading.correction is not None and reading.per_thickness
    ]
    assert set(halves) == {
        ("groove width", 0.5, "forward"),
        ("tongue thickness", 0.5, "back"),
    }


def test_what_a_cutter_alone_decides_has_no_correction() -> None:
    setups = setups_of(PAIRS["one pass and flat"].solution(), TABLE)
    (width,) = [r for s in setups for r in s.readings if r.what == "groove width"]
    assert width.correction is None


# Gauges and changes

ZERO = {
    kind: Gauge(mark=kind, uses=("height",), resolution=0.01, repeatability=0.02, zero_error=zero)
    for kind, zero in (("height", 0.05), ("fence", -0.12), ("calipers", 0.03))
}


def test_the_gauges_show_their_own_zero_errors() -> None:
    instruments = Instruments(**ZERO)
    solution = PAIRS["one pass and flat"].solution(instruments=instruments)
    for setup in setups_of(solution, TABLE):
        start = setup.height.start
        assert setup.height.start_shows == (None if start is None else exactly(start + 0.05))
        assert setup.height.shows == exactly(setup.height.true + 0.05)
        assert setup.fence.shows == exactly(setup.fence.true - 0.12)
        for reading in setup.readings:
            assert reading.shows == exactly(reading.reads + 0.03)


def test_a_zero_error_of_the_calipers_is_taken_off_the_boards() -> None:
    instruments = Instruments(**ZERO)
    solution = PAIRS["one pass and flat"].solution(instruments=instruments)
    assert solution.task.grooved.across.tolist() == exactly([18.97, 19.03, 18.93])


def test_the_change_is_told_in_turns_of_the_lift() -> None:
    setups = setups_of(PAIRS["one pass and flat"].solution(timber="hardwood"), TABLE)
    changes = [setup.change for setup in setups if setup.change is not None]
    assert len(changes) >= 2
    for change in changes:
        assert change.turns == exactly(change.raised / 1.5)
    after = [setup.cutter_top for setup in setups if setup.side == "groove"]
    raised = [change.raised for change in changes[: len(after) - 1]]
    assert np.diff(after).tolist() == exactly(raised)


def test_a_change_of_cutter_has_no_change_to_tell() -> None:
    setups = setups_of(PAIRS["one pass and flat"].solution(), TABLE)
    first = {setup.cutter: setup for setup in reversed(setups)}
    assert all(setup.change is None for setup in first.values())


def test_turns_are_left_out_where_the_pitch_is_not_known() -> None:
    plain = Machine(mark="table", speeds_rpm=(10000,))
    setups = setups_of(PAIRS["slot cutter throughout"].solution(), plain)
    changes = [setup.change for setup in setups if setup.change is not None]
    assert changes
    assert all(change.turns is None and change.fence_end is None for change in changes)


def test_the_free_end_of_a_pivoted_fence_moves_further_by_its_ratio() -> None:
    fence = Fence(kind="pivoted", pivot_to_end=900.0, pivot_to_cutter=400.0)
    swings = Machine(mark="table", speeds_rpm=(10000,), fence=fence)
    setups = setups_of(PAIRS["two positions and strip"].solution(), swings)
    moves = [s.change for s in setups if s.change is not None and s.change.fence != 0]
    assert moves
    for change in moves:
        assert change.fence_end == exactly(change.fence * 2.25)


def test_a_sheet_says_what_lies_down_and_what_runs_along_the_fence() -> None:
    setups = setups_of(PAIRS["both faces and on edge"].solution(), TABLE)
    groove, tongue = setups[0].passes, setups[-1].passes
    assert [(p.down, p.against) for p in groove] == [
        ("reference edge", "face A"),
        ("reference edge", "face B"),
    ]
    assert [(p.down, p.against) for p in tongue] == [
        ("opposite edge", "face A"),
        ("opposite edge", "face B"),
    ]
    assert {p.feed for s in setups for p in s.passes} == {"right to left"}


def test_no_setup_is_needed_for_a_strip_used_as_it_is() -> None:
    setups = setups_of(PAIRS["two positions and strip"].solution(), TABLE)
    assert {setup.side for setup in setups} == {"groove"}


def test_only_the_last_setup_of_a_run_is_final() -> None:
    setups = setups_of(PAIRS["one pass and flat"].solution(timber="hardwood"), TABLE)
    grooved = [setup for setup in setups if setup.side == "groove"]
    assert [setup.final for setup in grooved] == [False] * (len(grooved) - 1) + [True]
    assert [s.height.tolerance is None for s in grooved] == [not s.final for s in grooved]
    assert all(setup.cure == "" for setup in grooved[:-1])


def test_the_sheet_carries_the_joint_and_the_marks_of_its_boards() -> None:
    solution = PAIRS["one pass and flat"].solution()
    setup = setups_of(solution, TABLE)[0]
    assert (setup.joint, setup.marks) == ("back", ("B01", "B02", "B03"))
    assert setup.speed.speed_rpm == 22000
    assert INSTRUMENTS.height.zero_error == 0


# Groups, fences and edges


def test_what_does_not_differ_from_group_to_group_is_set_once_for_all_boards() -> None:
    task = joint([19.0] * 3, [6.0, 6.3, 6.6], strips=True)
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.6))
    solution = solved(task, groove, tongue_by(task, groove, tongues.STRIP))
    assert len(solution.groove_groups) > 1
    setups = [setup for setup in setups_of(solution, TABLE) if setup.final]
    near = [setup.marks for setup in setups if setup.stage == "near wall"]
    far = [setup.marks for setup in setups if setup.stage == "far wall"]
    assert near == [("B01", "B02", "B03")]
    assert sorted(mark for marks in far for mark in marks) == ["B01", "B02", "B03"]
    assert len(far) == len(solution.groove_groups)
    assert [setup.stage for setup in setups] == ["near wall"] + ["far wall"] * len(far)


def test_boards_at_the_end_of_a_row_that_meet_nothing_need_no_setup() -> None:
    task = joint([20.0, 19.0, 19.0, 19.0], groove_width=6.5, free_order=False)
    groove = groove_by(task, grooves.BOTH_FACES, straight(4.6))
    solution = solved(task, groove, tongue_by(task, groove, tongues.FLAT, WIDE))
    assert len(solution.groove_groups) == 2
    setups = setups_of(solution, TABLE)
    grooved = {mark for s in setups if s.side == "groove" for mark in s.marks}
    tongued = {mark for s in setups if s.side == "tongue" for mark in s.marks}
    assert grooved == {"B02", "B03", "B04"}
    assert "B01" in tongued


def test_a_fence_before_the_cutter_is_corrected_the_other_way() -> None:
    solution = PAIRS["both faces and on edge"].solution()
    turned = Machine(mark="t", speeds_rpm=(10000,), fence_side="before the cutter")

    def fences(machine: Machine) -> list[str]:
        readings = [r for setup in setups_of(solution, machine) for r in setup.readings]
        moves = [r.correction for r in readings if r.correction is not None]
        return [move.more for move in moves if move.quantity == "fence"]

    swapped = {"forward": "back", "back": "forward"}
    assert fences(turned) == [swapped[more] for more in fences(TABLE)]
    assert set(fences(TABLE)) == {"forward", "back"}


def test_an_edge_behind_the_fence_face_is_not_measured_to() -> None:
    setups = setups_of(PAIRS["one pass and flat"].solution(), TABLE)
    groove, tongue = setups[0].places, setups[-1].places
    assert tongue.near_edge < 0
    assert [groove.measurable(edge) for edge in ("far edge", "axis", "near edge")] == [
        "far edge",
        "axis",
        "near edge",
    ]
    assert tongue.measurable("near edge") == "far edge"
    assert tongue.measurable("far edge", pointed=True) == "axis"
    assert [groove.to(edge) for edge in ("far edge", "axis", "near edge")] == [
        groove.far_edge,
        groove.axis,
        groove.near_edge,
    ]


def test_differences_that_readings_scatter_by_are_left_alone() -> None:
    reading = setups_of(PAIRS["one pass and flat"].solution(), TABLE)[-1].readings[0]
    of_three = (0.01**2 / 12 + 0.02**2 / 3) ** 0.5
    assert reading.leave == exactly(2 * of_three)
