"""Settings by groups: how few, for which boards, and what their errors reach."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from faywright.fit.bands import Fit
from faywright.fit.chance import Effect
from faywright.fit.forms import Quantity
from faywright.fit.order import worst_misfit
from faywright.joints import grooves, tongues
from faywright.joints.gaps import simulate
from faywright.joints.solution import ENOUGH, Solution, effects_on, solve
from faywright.joints.task import Instruments, JointTask
from faywright.shop import CutSize, Gauge, Machine, StraightCutter
from tests.joints.builders import (
    GAUGE,
    exactly,
    groove_by,
    joint,
    matched_pair,
    slot,
    solved,
    straight,
    tongue_by,
)

STEADY_FEED = Machine(mark="table", speeds_rpm=(10000,), work_lift=0.0)
PERFECT = Gauge(mark="p", uses=("height",), resolution=1e-9, repeatability=0.0)
DEAD_ON = Instruments(height=PERFECT, fence=PERFECT, calipers=PERFECT)

SPREAD = [18.70, 18.80, 18.90, 19.00, 19.05, 19.10, 19.20, 19.30]


def both_faces(task: JointTask, *, trials: int = 400) -> Solution:
    """Groove and tongue both from both faces: both follow the thickness."""
    groove = groove_by(task, grooves.BOTH_FACES, straight(4.7))
    tongue = tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2"))
    return solved(task, groove, tongue, trials=trials)


def flat_tongue(task: JointTask, *, trials: int = 400) -> Solution:
    """A groove of the cutter's width, the tongue from both faces."""
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    tongue = tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2"))
    return solved(task, groove, tongue, trials=trials)


def effect(solution: Solution, source: str) -> Effect:
    (found,) = [e for e in solution.effects if e.source == source]
    return found


# How few settings


def test_an_even_pile_needs_one_setting() -> None:
    solution = flat_tongue(joint([19.0] * 6, [19.0, 19.02, 18.98, 19.01, 19.0, 18.99]))
    assert len(solution.tongue_groups) == 1
    assert solution.tested.all_fit >= ENOUGH


def test_settings_are_the_fewest_that_reach_enough() -> None:
    task = joint([19.0] * 8, SPREAD, groove_width=6.35, scatter=0.02)
    solution = flat_tongue(task)
    assert solution.tested.all_fit >= ENOUGH
    fewer = len(solution.tongue_groups) - 1
    assert fewer >= 1
    limited = replace(task, wanted=replace(task.wanted, most_settings=fewer))
    assert flat_tongue(limited).tested.all_fit < ENOUGH


def dead_on(tongued: list[float], aim: float, **wishes: Any) -> JointTask:
    """A joint without errors, for a band from 0.10 to 0.30 a side and an aim within it."""
    fit = Fit(name="own", aim=aim, low=0.10, high=0.30)
    exact: dict[str, Any] = {"fit": fit, "machine": STEADY_FEED, "instruments": DEAD_ON}
    return joint([19.0] * len(tongued), tongued, groove_width=6.35, **exact, **wishes)


OFF_CENTRE = [0.10, 0.13, 0.20, 0.28, 0.30]


@pytest.mark.parametrize("aim", OFF_CENTRE)
def test_no_board_is_put_outside_the_band_by_an_aim_off_its_middle(aim: float) -> None:
    clearance = flat_tongue(dead_on(SPREAD, aim)).clearance
    assert clearance.min() >= 0.10 - 1e-9
    assert clearance.max() <= 0.30 + 1e-9


@pytest.mark.parametrize("aim", OFF_CENTRE)
def test_boards_all_alike_are_cut_to_the_aim_itself(aim: float) -> None:
    assert flat_tongue(dead_on([19.2] * 4, aim)).clearance == exactly(np.full(4, aim))


def test_an_aim_off_the_middle_costs_no_more_settings() -> None:
    used = {len(flat_tongue(dead_on(SPREAD, aim)).tongue_groups) for aim in OFF_CENTRE}
    assert len(used) == 1


@pytest.mark.parametrize("aim", OFF_CENTRE)
def test_one_setting_for_too_wide_a_pile_serves_as_many_as_can_be_whatever_the_aim(
    aim: float,
) -> None:
    """The band has room for 0.40 mm of thickness: the six boards from 18.92 to 19.30 mm."""
    thick = [18.50, 18.92, 19.00, 19.05, 19.10, 19.20, 19.30]
    clearance = flat_tongue(dead_on(thick, aim, most_settings=1)).clearance
    assert ((clearance > 0.10 - 1e-9) & (clearance < 0.30 + 1e-9)).sum() == 6


@pytest.mark.parametrize("aim", OFF_CENTRE)
def test_a_groove_cut_to_suit_strips_keeps_to_the_band_too(aim: float) -> None:
    task = dead_on([6.0, 6.1, 6.2, 6.3], aim, strips=True)
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.7))
    clearance = solved(task, groove, tongue_by(task, groove, tongues.STRIP)).clearance
    assert clearance.min() >= 0.10 - 1e-9
    assert clearance.max() <= 0.30 + 1e-9


def test_where_nothing_is_enough_another_setting_must_be_worth_it() -> None:
    task = joint([19.0] * 8, SPREAD, groove_width=6.35, scatter=0.12)
    solution = flat_tongue(task)
    assert solution.tested.all_fit < ENOUGH
    groove, tongue = solution.groove, solution.tongue
    alone = replace(task, wanted=replace(task.wanted, most_settings=1))
    one = solved(alone, groove, tongue, trials=400)
    assert solution.settings_used > one.settings_used
    assert solution.tested.all_fit > one.tested.all_fit


@pytest.mark.parametrize("most", [1, 2, 3])
def test_no_side_has_more_settings_than_asked(most: int) -> None:
    wide = [18.0, 18.4, 18.8, 19.2, 19.6, 20.0]
    solution = both_faces(joint(wide, wide, groove_width=7.0, most_settings=most))
    assert len(solution.groove_groups) <= most
    assert len(solution.tongue_groups) <= most
    served = np.concatenate([group.members for group in solution.tongue_groups])
    assert sorted(served.tolist()) == list(range(len(wide)))


def test_every_board_is_in_the_group_whose_setting_is_nearest_its_own() -> None:
    solution = flat_tongue(joint([19.0] * 8, SPREAD, groove_width=6.35, scatter=0.02))
    height = Quantity("height", "tongue")
    settings = [group.settings[height] for group in solution.tongue_groups]
    wanted = (np.array(SPREAD) - (6.35 - 0.36)) / 2
    for k, group in enumerate(solution.tongue_groups):
        for member in group.members:
            off = [abs(wanted[member] - setting) for setting in settings]
            assert off[k] == min(off)


def test_a_method_that_does_not_follow_the_thickness_needs_one_setting_for_any_pile() -> None:
    task = joint([17.5, 19.0, 20.5], [17.0, 19.0, 21.0], groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    tongue = tongue_by(task, groove, tongues.FACE_A, slot(12.0))
    solution = solved(task, groove, tongue)
    assert solution.settings_used == 2
    assert solution.room is None
    assert solution.clearance.tolist() == exactly([0.18] * 3)


def test_the_room_is_the_range_of_thickness_one_setting_serves() -> None:
    task = joint(
        [19.0] * 2, [18.95, 19.05], groove_width=6.35, machine=STEADY_FEED, instruments=DEAD_ON
    )
    solution = flat_tongue(task)
    assert solution.room is not None
    low, high = task.target.band
    assert solution.room <= high - low + 1e-9


# What errors reach


def test_one_height_error_shifts_the_whole_group_together() -> None:
    solution = flat_tongue(joint([19.0] * 8, SPREAD, groove_width=6.35, scatter=0.02))
    height = effect(solution, "tongue height as set")
    ((share, index),) = height.terms
    assert share == exactly(1.0)  # t = T - 2h, and half of it is on each side
    assert height.count == len(solution.tongue_groups)
    for k, group in enumerate(solution.tongue_groups):
        joints = np.isin(solution.second, group.members)
        assert set(index[joints].tolist()) == {k}


def test_a_height_off_by_a_tenth_moves_every_clearance_of_its_group_by_a_tenth() -> None:
    solution = flat_tongue(joint([19.0] * 8, SPREAD, groove_width=6.35, scatter=0.02))
    first = solution.tongue_groups[0]
    height = Quantity("height", "tongue")
    moved = replace(first, settings={**first.settings, height: first.settings[height] + 0.1})
    wrong = replace(solution, tongue_groups=(moved, *solution.tongue_groups[1:]))
    before, after = (simulate(each).gaps for each in (solution, wrong))
    play = sum(after[name] - before[name] for name in ("face-A cheek", "face-B cheek"))
    here = np.isin(solution.second, first.members)
    assert np.where(here, 0.2, 0.0).tolist() == exactly(np.asarray(play).tolist())


def test_the_same_boards_thickness_error_reaches_both_their_joints() -> None:
    solution = both_faces(joint(SPREAD, groove_width=7.0))
    thickness = effect(solution, "thickness between readings")
    assert thickness.count == len(SPREAD)
    (on_groove, boards), (on_tongue, others) = thickness.terms
    assert (on_groove, on_tongue) == (-0.5, -0.5)
    assert boards.tolist() == solution.first.tolist()
    assert others.tolist() == solution.second.tolist()
    assert solution.row is not None
    inner = int(solution.row[1])
    assert inner in boards
    assert inner in others


def test_different_boards_have_thickness_errors_of_their_own() -> None:
    solution = both_faces(joint(SPREAD, SPREAD, groove_width=7.0))
    sources = [e for e in solution.effects if e.source == "thickness between readings"]
    assert [len(e.terms) for e in sources] == [1, 1]


def test_a_thicker_board_takes_from_the_play_on_both_sides_of_it() -> None:
    solution = both_faces(joint([19.0] * 3, groove_width=7.0))
    form = solution.groove.size - solution.tongue.size
    assert form.coefficient(Quantity("thickness", "groove")) == -1
    assert form.coefficient(Quantity("thickness", "tongue")) == -1


def test_the_effects_on_the_clearance_are_those_of_the_solution() -> None:
    solution = both_faces(joint(SPREAD, groove_width=7.0))
    found = effects_on(solution, 0.5 * solution.groove.size, -0.5 * solution.tongue.size)
    gaps = len(solution.first)
    assert [e.source for e in found] == [e.source for e in solution.effects]
    for one, other in zip(found, solution.effects, strict=True):
        assert one.variance(gaps).tolist() == exactly(other.variance(gaps).tolist())


@pytest.mark.parametrize(
    ("size", "shape"),
    [(CutSize(marked=6.35, measured=6.33), "normal"), (CutSize(marked=6.35), "rectangular")],
)
def test_a_cutter_never_measured_may_be_anywhere_about_its_mark(size: CutSize, shape: str) -> None:
    task = joint([19.0] * 3, [19.0] * 3, groove_width=6.35)
    cutter = StraightCutter(
        mark="C1", flutes=2, reach=40, shank=6, diameter=size, cutting_length=30
    )
    groove = groove_by(task, grooves.ON_EDGE, cutter)
    tongue = tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2"))
    spread = effect(solved(task, groove, tongue), "cut width of C1").spread
    assert spread.shape == shape
    if shape == "rectangular":
        assert spread.limit == 0.1


def test_nothing_is_left_to_chance_by_perfect_gauges_boards_and_feed() -> None:
    task = joint(
        [19.0] * 3, [19.0] * 3, groove_width=6.35, machine=STEADY_FEED, instruments=DEAD_ON
    )
    solution = flat_tongue(task)
    assert solution.tested.all_fit == 1.0
    assert solution.budget.expanded.max() < 1e-6


def test_a_trial_cut_measured_and_corrected_leaves_less_than_setting_by_scale() -> None:
    coarse = Gauge(mark="scale", uses=("height",), resolution=0.5, repeatability=0.2)
    rough = Instruments(height=coarse, fence=coarse, calipers=GAUGE)
    solution = flat_tongue(joint([19.0] * 3, [19.0] * 3, groove_width=6.35, instruments=rough))
    untested, tested = solution.sampled(trials=2000, seed=1)
    assert tested.all_fit >= untested.all_fit
    assert (
        tested.all_fit
        == solve(
            solution.task, solution.groove, solution.tongue, trials=2000, seed=1
        ).tested.all_fit
    )


# The order of boards

UNEVEN = [18.5, 19.5, 18.6, 19.4, 18.7, 19.3]


def test_thin_tongues_meet_the_grooves_of_thick_boards_where_the_order_is_free() -> None:
    listed = sorted(UNEVEN)
    task = joint(listed, groove_width=7.0, most_settings=1)
    solution = both_faces(task)
    assert solution.row is not None
    thick = task.grooved.across[solution.row]
    sums = thick[1:] + thick[:-1]
    assert np.ptp(sums) < np.ptp(np.array(listed)[1:] + np.array(listed)[:-1])
    widths = solution.sizes(solution.groove, solution.groove.size)
    tongue = solution.sizes(solution.tongue, solution.tongue.size)
    play = task.target.play
    assert worst_misfit(widths, tongue, play, solution.row) < worst_misfit(
        widths, tongue, play, np.arange(len(listed))
    )


def test_the_listed_order_stays_where_it_is_not_free() -> None:
    listed = sorted(UNEVEN)
    solution = both_faces(joint(listed, groove_width=7.0, most_settings=1, free_order=False))
    assert solution.row is not None
    assert solution.row.tolist() == list(range(6))
    assert solution.first.tolist() == [1, 2, 3, 4, 5]
    assert solution.second.tolist() == [0, 1, 2, 3, 4]


def test_the_listed_order_stays_where_no_order_is_better() -> None:
    solution = flat_tongue(joint(UNEVEN, groove_width=6.35))
    assert solution.row is not None
    assert solution.row.tolist() == list(range(6))


@pytest.mark.parametrize("free", [True, False])
def test_pairs_are_matched_wide_to_thick_only_where_the_order_is_free(free: bool) -> None:
    grooved, tongued = [18.6, 19.0, 19.4], [18.6, 19.0, 19.4]
    solution = both_faces(
        joint(grooved, tongued, groove_width=7.0, most_settings=1, free_order=free)
    )
    pairs = dict(zip(solution.first.tolist(), solution.second.tolist(), strict=True))
    assert pairs == ({0: 2, 1: 1, 2: 0} if free else {0: 0, 1: 1, 2: 2})


# Strips and fixed tongues

STRIPS = [6.0, 6.3, 6.6]


def test_grooves_are_made_to_suit_the_strips_as_measured() -> None:
    task = joint([19.0] * 3, STRIPS, strips=True, free_order=False)
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.5))
    solution = solved(task, groove, tongue_by(task, groove, tongues.STRIP))
    widths = solution.sizes(groove, groove.size)
    assert np.abs(widths[solution.first] - np.array(STRIPS)[solution.second] - 0.36).max() <= 0.2
    assert len(solution.groove_groups) >= 2
    assert solution.settings_used == len(solution.groove_groups)


def test_a_pair_of_strip_and_groove_stays_together_however_free_the_order() -> None:
    task = joint([19.0] * 3, [6.6, 6.0, 6.3], strips=True)
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.5))
    solution = solved(task, groove, tongue_by(task, groove, tongues.STRIP))
    assert solution.first.tolist() == solution.second.tolist() == [0, 1, 2]


def test_the_groove_suits_a_matched_pair_that_cannot_be_set() -> None:
    task = joint([19.0, 19.1], [19.0, 19.1])
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.7))
    solution = solved(task, groove, tongue_by(task, groove, tongues.PAIR, matched_pair(6.0)))
    assert solution.sizes(groove, groove.size).tolist() == exactly([6.36] * 2)


def test_the_first_groove_of_a_row_is_cut_like_the_others_though_nothing_enters_it() -> None:
    task = joint([19.0, 19.0, 19.0])
    groove = groove_by(task, grooves.BOTH_FACES, straight(4.7))
    solution = solved(task, groove, tongue_by(task, groove, tongues.PAIR, matched_pair(6.0)))
    assert solution.sizes(groove, groove.size).tolist() == exactly([6.36] * 3)
    assert len(solution.groove_groups) == 1


def test_a_matched_pair_stands_in_the_middle_of_a_groove_that_widens_both_ways() -> None:
    task = joint([19.0, 19.0], [19.0, 19.0])
    groove = groove_by(task, grooves.BOTH_FACES, straight(4.7))
    pair = tongue_by(task, groove, tongues.PAIR, matched_pair(6.0))
    found = simulate(solved(task, groove, pair)).gaps
    assert found["face-A cheek"].tolist() == exactly([0.18] * 2)
    assert found["face-B cheek"].tolist() == exactly([0.18] * 2)
