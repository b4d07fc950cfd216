"""Gaps in closed form, gaps measured on the simulated parts, and the guard between them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faywright.errors import DisagreementError
from faywright.fit.forms import Quantity
from faywright.joints import grooves, tongues
from faywright.joints.gaps import BOTTOM, CHEEK_A, CHEEK_B, STEP, formula_gaps, simulate
from faywright.joints.method import Method
from faywright.joints.solution import Solution
from tests.joints.builders import (
    Floats,
    exactly,
    groove_by,
    joint,
    slot,
    solved,
    straight,
    tongue_by,
)
from tests.joints.cases import GROOVES, TONGUES, Drawn, drawn_joints
from tests.strategies import STEADY

FEW = settings(STEADY, max_examples=30)

# The places of walls and cheeks, written by hand from the geometry of each cut: ``t`` the
# board's thickness, ``s`` the settings by kind and key, ``d`` the size of the cutter.

Settings = Mapping[tuple[str, str], float]
Walls = Callable[[float, Settings, float], tuple[float, float, float]]

WALLS: Mapping[str, Walls] = MappingProxyType(
    {
        grooves.ON_EDGE: lambda _t, s, d: (
            s["fence", "groove"] - d,
            s["fence", "groove"],
            s["height", "groove"],
        ),
        grooves.BOTH_FACES: lambda t, s, _d: (
            t - s["fence", "groove"],
            s["fence", "groove"],
            s["height", "groove"],
        ),
        grooves.BOTH_FACES_INWARD: lambda t, s, d: (
            s["fence", "groove"] - d,
            t - s["fence", "groove"] + d,
            s["height", "groove"],
        ),
        grooves.TWO_PLACES: lambda _t, s, d: (
            s["fence", "near wall"] - d,
            s["fence", "far wall"],
            s["height", "groove"],
        ),
        grooves.FLAT: lambda _t, s, d: (
            s["height", "near wall"] - d,
            s.get(("height", "far wall"), s["height", "near wall"]),
            s["fence", "groove"],
        ),
    }
)

CHEEKS: Mapping[str, Walls] = MappingProxyType(
    {
        tongues.FLAT: lambda t, s, _d: (
            s["height", "tongue"],
            t - s["height", "tongue"],
            s["fence", "tongue"],
        ),
        tongues.ON_EDGE: lambda t, s, _d: (
            s["fence", "tongue"],
            t - s["fence", "tongue"],
            s["height", "tongue"],
        ),
        tongues.FACE_A: lambda _t, s, _d: (
            s["height", "face-A cheek"],
            s["height", "face-B cheek"],
            s["fence", "tongue"],
        ),
        tongues.PAIR: lambda _t, s, d: (
            s["height", "tongue"],
            s["height", "tongue"] + d,
            s["fence", "tongue"],
        ),
        tongues.ON_EDGE_ONE_FACE: lambda _t, s, d: (
            s["fence", "face-A cheek"],
            s["fence", "face-B cheek"] - d,
            s["height", "tongue"],
        ),
        tongues.HALF_FLAT: lambda t, s, _d: (
            0.0,
            t - s["height", "tongue"],
            s["fence", "tongue"],
        ),
        tongues.HALF_ON_EDGE: lambda t, s, _d: (
            0.0,
            t - s["fence", "tongue"],
            s["height", "tongue"],
        ),
        tongues.HALF_FACE_A: lambda _t, s, _d: (
            0.0,
            s["height", "face-B cheek"],
            s["fence", "tongue"],
        ),
    }
)


def by_hand(solution: Solution, side: str) -> list[tuple[float, float, float]]:
    """Both walls or cheeks and the depth or length of every board of a side."""
    groove = side == "groove"
    method = solution.groove if groove else solution.tongue
    work = solution.task.grooved if groove else solution.task.tongued
    groups = solution.groove_groups if groove else solution.tongue_groups
    rules: Mapping[str, Walls] = WALLS if groove else CHEEKS
    size = next(iter(method.cutter_sizes.values()), 0.0)
    found: dict[int, tuple[float, float, float]] = {}
    for group in groups:
        named: Settings = {(str(q.kind), q.key): v for q, v in group.settings.items()}
        for k in group.members:
            found[int(k)] = rules[method.name](float(work.across[k]), named, size)
    return [found[k] for k in range(len(work))]


def gaps_by_hand(solution: Solution) -> dict[str, list[float]]:
    """u_A = a_t - a_g, u_B = (a_g + g) - (a_t + t), b = d - l, and the step on face B."""
    walls, cheeks = by_hand(solution, "groove"), by_hand(solution, "tongue")
    first, second = solution.first, solution.second
    lift = 0.0
    flush = not solution.task.wanted.half
    if not flush:
        lift = float(np.median([a for a, _, _ in walls])) + solution.task.target.play / 2
    pairs = list(zip(first.tolist(), second.tolist(), strict=True))
    grooved, tongued = solution.task.grooved.across, solution.task.tongued.across
    found = {
        CHEEK_A: [cheeks[j][0] + lift - walls[i][0] for i, j in pairs],
        CHEEK_B: [walls[i][1] - cheeks[j][1] - lift for i, j in pairs],
        BOTTOM: [walls[i][2] - cheeks[j][2] for i, j in pairs],
        STEP: [float(grooved[i] - tongued[j]) for i, j in pairs],
    }
    return found if flush else {name: gap for name, gap in found.items() if name != STEP}


PAIRS = [
    *((groove, "flat") for groove in GROOVES),
    *(("one pass", tongue) for tongue in TONGUES if tongue not in ("strip", "flat")),
    ("two fence positions", "matched pair"),
    ("slot cutter, two heights", "face A, slot cutter alone"),
    ("both faces", "on edge"),
]


@pytest.mark.parametrize(("groove", "tongue"), PAIRS)
@FEW
@given(data=st.data())
def test_the_kernel_measures_the_gaps_that_geometry_by_hand_foretells(
    data: st.DataObject, groove: str, tongue: str
) -> None:
    solution = data.draw(drawn_joints(groove, tongue)).solved()
    found = simulate(solution).gaps
    wanted = gaps_by_hand(solution)
    shoulders = {name: 0.0 for name in solution.tongue.surfaces if "shoulder" in name}
    assert set(found) == {*wanted, *shoulders}
    assert [np.abs(found[name]).max() for name in shoulders] == exactly([0.0] * len(shoulders))
    for name, values in wanted.items():
        assert found[name].tolist() == exactly(values)


@pytest.mark.parametrize("groove", ["one pass", "both faces", "two fence positions"])
@FEW
@given(data=st.data())
def test_a_strip_has_half_the_play_on_either_side_of_it(data: st.DataObject, groove: str) -> None:
    solution = data.draw(drawn_joints(groove, "strip")).solved()
    found = simulate(solution).gaps
    walls = by_hand(solution, "groove")
    strips = solution.task.tongued.across
    for k, (i, j) in enumerate(zip(solution.first, solution.second, strict=True)):
        side = (walls[i][1] - walls[i][0] - strips[j]) / 2
        assert (found[CHEEK_A][k], found[CHEEK_B][k]) == exactly((side, side))
        assert found[BOTTOM][k] == exactly(walls[i][2] - solution.task.target.length)
    assert STEP not in found


@FEW
@given(
    data=st.data(), groove=st.sampled_from(sorted(GROOVES)), tongue=st.sampled_from(sorted(TONGUES))
)
def test_formula_and_simulation_agree_for_any_two_methods(
    data: st.DataObject, groove: str, tongue: str
) -> None:
    solution = data.draw(drawn_joints(groove, tongue)).solved()
    found = simulate(solution).gaps
    for name, values in formula_gaps(solution).items():
        assert found[name].tolist() == exactly(values.tolist())


@given(joined=drawn_joints("both faces", "flat"))
@FEW
def test_both_faces_on_both_parts_add_both_thicknesses_to_the_play(joined: Drawn) -> None:
    solution = joined.solved()
    found = simulate(solution).gaps
    fence = [g.settings[Quantity("fence", "groove")] for g in solution.groove_groups]
    height = [g.settings[Quantity("height", "tongue")] for g in solution.tongue_groups]
    if len(fence) == len(height) == 1:
        one = solution.task.grooved.across[solution.first]
        two = solution.task.tongued.across[solution.second]
        play = found[CHEEK_A] + found[CHEEK_B]
        assert play.tolist() == exactly((2 * fence[0] + 2 * height[0] - one - two).tolist())


@pytest.mark.parametrize("tongue", [tongues.FLAT, tongues.FACE_A])
def test_a_tongue_in_a_groove_across_a_face_stands_in_the_middle_of_it(tongue: str) -> None:
    task = joint([22.0] * 2, [19.0, 19.0], groove_edge="face A", groove_width=6.35, offset=40.0)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    cutters = (straight(18.0, "C2"),) if tongue == tongues.FLAT else (slot(12.0),)
    found = simulate(solved(task, groove, tongue_by(task, groove, tongue, *cutters))).gaps
    assert found[CHEEK_A].tolist() == exactly([0.18] * 2)
    assert found[CHEEK_B].tolist() == exactly([0.18] * 2)
    assert STEP not in found


# A cutter narrower than the cut


def test_a_tongue_longer_than_the_cutter_is_wide_takes_several_fence_positions() -> None:
    task = joint([19.0, 19.1], [19.0, 19.1], tongue_length=10.0, groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    tongue = tongue_by(task, groove, tongues.FLAT, straight(4.0, "C2"))
    stations = tongue.stations(_settings(tongue, 6.5), 19.1, "softwood")
    fars = sorted({station.far for station in stations})
    assert len(fars) == 3
    assert max(np.diff([0.0, *fars])) <= 4.0 - 0.5 + 1e-9
    assert simulate(solved(task, groove, tongue)).gaps[BOTTOM] == exactly([1.0, 1.0])


def test_a_bite_too_deep_for_one_pass_takes_several_heights_the_final_one_last() -> None:
    task = joint([19.0, 19.1], [19.0, 19.1], timber="hardwood", groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    stations = groove.stations(_settings(groove, None), 19.1, "hardwood")
    heights = [station.height for station in stations]
    assert max(np.diff([0.0, *heights])) <= 3.0
    assert [station.final for station in stations] == [False] * (len(stations) - 1) + [True]
    assert heights[-1] == exactly(task.target.depth)


def _settings(method: Method, control: float | None) -> dict[Quantity, float]:
    found = dict(method.fixed)
    if method.control is not None and control is not None:
        found[method.control] = control
    return found


# The guard


def joined(**wishes: Any) -> Solution:
    task = joint([19.0, 19.2, 18.9], [19.1, 19.0, 18.8], groove_width=6.35, **wishes)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    tongue = tongue_by(task, groove, tongues.FACE_A, straight(12.7, "C2"), slot(12.0))
    return solved(task, groove, tongue)


def with_form_off(solution: Solution, side: str, surface: str, by: float) -> Solution:
    """The same solution whose closed form of one surface is wrong by ``by``."""
    method = solution.groove if side == "groove" else solution.tongue
    axis, form = method.surfaces[surface]
    wrong = replace(method, surfaces={**method.surfaces, surface: (axis, form + by)})
    if side == "groove":
        return replace(solution, groove=wrong)
    return replace(solution, tongue=wrong)


SURFACES = [
    ("groove", "face-A wall"),
    ("groove", "face-B wall"),
    ("groove", "bottom"),
    ("tongue", "face-A cheek"),
    ("tongue", "face-B cheek"),
    ("tongue", "face-A shoulder"),
    ("tongue", "face-B shoulder"),
]


@pytest.mark.parametrize("off", [2e-6, -2e-6])
@pytest.mark.parametrize(("side", "surface"), SURFACES)
def test_a_formula_2_millionths_of_a_mm_off_stops_the_plan_and_names_the_surface(
    side: str, surface: str, off: float
) -> None:
    with pytest.raises(DisagreementError, match=f"surface '{surface}'"):
        simulate(with_form_off(joined(), side, surface, off))


@pytest.mark.parametrize(("side", "surface"), SURFACES)
def test_a_formula_half_a_millionth_of_a_mm_off_passes(side: str, surface: str) -> None:
    simulate(with_form_off(joined(), side, surface, 0.5e-6))


@pytest.mark.parametrize(("off", "stops"), [(2e-6, True), (0.5e-6, False)])
def test_a_cut_that_is_not_where_the_setting_says_stops_the_plan(
    monkeypatch: pytest.MonkeyPatch, off: float, stops: bool
) -> None:
    solution = joined()
    stations = Method.stations

    def crept(method: Method, *arguments: Any) -> object:
        found = stations(method, *arguments)
        return tuple(replace(station, height=station.height + off) for station in found)

    monkeypatch.setattr(Method, "stations", crept)
    if not stops:
        simulate(solution)
        return
    with pytest.raises(DisagreementError, match="surface 'bottom'"):
        simulate(solution)


def test_a_disagreement_says_that_it_must_not_be_cut_and_who_is_at_fault() -> None:
    with pytest.raises(DisagreementError, match=r"error in Faywright: do not cut to this plan"):
        simulate(with_form_off(joined(), "tongue", "face-B cheek", 0.1))


def test_a_rib_left_standing_is_caught_although_every_gap_is_open() -> None:
    task = joint([19.0, 19.2], [19.1, 19.0], tongue_length=10.0, groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    tongue = tongue_by(task, groove, tongues.FLAT, straight(4.0, "C2"))
    clears = solved(task, groove, tongue)
    simulate(clears)
    run = replace(tongue.runs[0], widen="once")
    with pytest.raises(DisagreementError, match=r"overlap by \d+\.\d+ mm2 although every"):
        simulate(replace(clears, tongue=replace(tongue, runs=(run,))))


def test_a_tongue_that_does_not_go_in_shows_interference_and_stops_nothing() -> None:
    task = joint([19.0, 19.0], [19.0, 19.8], groove_width=6.35, most_settings=1)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    tongue = tongue_by(task, groove, tongues.FLAT, straight(12.7, "C2"))
    solution = solved(task, groove, tongue)
    found: Floats = simulate(solution).gaps[CHEEK_B]
    assert found.min() < 0
    assert solution.clearance.min() == exactly(task.target.play / 2 - 0.4)
