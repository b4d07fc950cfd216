"""What moisture adds to the errors of a gap, against boards that swell before they are cut."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from faywright.fit.chance import Effect
from faywright.joints import grooves, tongues
from faywright.joints.gaps import BOTTOM, CHEEK_B, gap_forms, simulate
from faywright.joints.moving import Moving
from faywright.joints.seasonal import seasonal
from faywright.joints.solution import Solution, effects_on
from faywright.joints.task import JointTask
from tests.joints.builders import (
    exactly,
    groove_by,
    joint,
    matched_pair,
    slot,
    solved,
    straight,
    tongue_by,
)
from tests.joints.moves import STILL, moment, moving

DRIFT, MOVEMENT = "moisture between groove and tongue", "movement until assembly"

RATE, DEEP_RATE = 0.3, 0.2
"""Percent that boards move for each percent of moisture, across and deep."""

LITTLE = 0.02
"""Percent of moisture: little enough for what is left out, its square, not to show."""

SWOLLEN = 1 + RATE / 100 * LITTLE

WAYS = {
    "flat": (tongues.FLAT, straight(18.0, "C2")),
    "on edge": (tongues.ON_EDGE, straight(18.0, "C2")),
    "face A down": (tongues.FACE_A, slot(14.0, "S2", reach=150)),
    "matched pair": (tongues.PAIR, matched_pair(6.64, wing=30, reach=150)),
}
"""The tongue by its two faces, from one, or left by the cutter whatever the thickness is."""


def drifting(drift: float = 0.5) -> Moving:
    rate = (RATE, DEEP_RATE)
    return moving(rates=(rate, rate), boards=2, drift=drift)


def cut(way: str, moves: Moving | None, *, strips: bool = False) -> Solution:
    """Two alike joints of boards 21 mm thick, or with strips."""
    tongued = [6.64] * 2 if strips else [21.0] * 2
    task: JointTask = joint(
        [21.0] * 2, tongued, strips=strips, moving=moves, groove_width=7.0, tongue_length=8.0
    )
    groove = groove_by(task, grooves.ON_EDGE, straight(7.0))
    if strips:
        return solved(task, groove, tongue_by(task, groove, tongues.STRIP))
    name, cutter = WAYS[way]
    return solved(task, groove, tongue_by(task, groove, name, cutter))


def called(source: str, effects: tuple[Effect, ...]) -> list[Effect]:
    return [effect for effect in effects if effect.source == source]


def swollen(solution: Solution) -> Solution:
    """The same settings, with tongue boards that took up moisture after the groove was cut."""
    work = solution.task.tongued
    thicker = replace(work, across=work.across * SWOLLEN)
    return replace(solution, task=replace(solution.task, tongued=thicker))


@pytest.mark.parametrize("way", WAYS)
def test_a_swollen_board_gives_the_tongue_that_is_reckoned_with(way: str) -> None:
    solution = cut(way, drifting())
    (tongues_cut,) = simulate(swollen(solution)).tongued
    cheeks = [tongues_cut.position(f"face-{face} cheek", 0) for face in "AB"]
    thickness = (cheeks[1] - cheeks[0]) / SWOLLEN
    widths = solution.sizes(solution.groove, solution.groove.size)
    lost = (widths - thickness) / 2 - solution.clearance
    (effect,) = called(DRIFT, solution.effects)
    ((coefficient, _),) = effect.terms
    assert lost == pytest.approx([coefficient * LITTLE] * 2, abs=1e-6)
    assert abs(lost[0]) > 1e-4


def test_a_tongue_cut_from_both_faces_gains_what_the_waste_gains() -> None:
    # Settings keep the walls of waste: 14.36 of 21 mm, and half of it counts a side
    (effect,) = called(DRIFT, cut("flat", drifting()).effects)
    assert effect.terms[0][0] == exactly(-0.5 * (21.0 - 6.64) * RATE / 100)


def test_a_tongue_of_the_cutters_own_width_shrinks_below_it_once_dry() -> None:
    (effect,) = called(DRIFT, cut("matched pair", drifting()).effects)
    assert effect.terms[0][0] == exactly(0.5 * 6.64 * RATE / 100)


def test_room_under_the_tongue_is_measured_along_the_depth() -> None:
    task = cut("flat", drifting())
    form = gap_forms(task)[BOTTOM]
    (effect,) = called(DRIFT, effects_on(task, form.groove, form.tongue, deep=True))
    # A tongue of 8 mm on a swollen board is that much shorter when the board is dry again.
    assert effect.terms[0][0] == exactly(8.0 * DEEP_RATE / 100)


def test_each_cheek_has_a_drift_of_its_own() -> None:
    solution = cut("flat", drifting())
    (cut_swollen,) = simulate(swollen(solution)).tongued
    form = gap_forms(solution)[CHEEK_B]
    (effect,) = called(DRIFT, effects_on(solution, form.groove, form.tongue))
    (before,) = simulate(solution).tongued
    cheek = cut_swollen.position("face-B cheek", 0) / SWOLLEN - before.position("face-B cheek", 0)
    assert -cheek == pytest.approx([effect.terms[0][0] * LITTLE] * 2, abs=1e-6)


def test_moisture_drifts_anywhere_within_what_is_told() -> None:
    (effect,) = called(DRIFT, cut("flat", drifting(drift=0.8)).effects)
    assert effect.spread.standard_uncertainty == exactly(0.8 / math.sqrt(3))
    assert (effect.spread.limit, effect.spread.mean, effect.count) == (0.8, 0.0, 1)


def test_a_strip_is_not_cut_and_does_not_drift() -> None:
    assert called(DRIFT, cut("", drifting(), strips=True).effects) == []


def test_boards_kept_at_one_moisture_do_not_drift() -> None:
    assert called(DRIFT, cut("flat", drifting(drift=0.0)).effects) == []


def test_without_a_climate_moisture_adds_nothing() -> None:
    sources = {effect.source for effect in cut("flat", None).effects}
    assert not sources & {DRIFT, MOVEMENT}


@pytest.mark.parametrize("way", [way for way in WAYS if way != "matched pair"])
def test_movement_until_assembly_is_as_sure_as_shrinkage_is(way: str) -> None:
    at = moment("assembly", (1.0, 0.5), (-2.0, 1.5), boards=2)
    solution = cut(way, moving(at, assembly=at, boards=2))
    found = seasonal(solution)
    assert found is not None
    (effect,) = called(MOVEMENT, solution.effects)
    moved = float(np.mean(found.assembly.clearance - solution.clearance))
    assert moved > 0.05
    assert effect.variance(2) == exactly([(0.15 * moved) ** 2] * 2)


def test_boards_put_together_as_moist_as_they_were_cut_are_sure() -> None:
    same = moment("assembly", STILL, boards=2)
    assert called(MOVEMENT, cut("flat", moving(assembly=same, boards=2)).effects) == []


def test_a_trial_cut_does_not_know_what_moisture_will_do_later() -> None:
    at = moment("assembly", (1.0, 0.0), boards=2)
    moves = replace(moving(at, assembly=at, boards=2), drift=0.5)
    solution = cut("flat", moves)
    for source in (DRIFT, MOVEMENT):
        (untested,), (tested,) = (
            called(source, effects) for effects in (solution.effects, solution.tested_effects)
        )
        assert tested.variance(2) == exactly(untested.variance(2))
