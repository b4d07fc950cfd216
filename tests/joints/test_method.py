"""Closed forms against the kernel: every coefficient is what cutting again shows."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faywright.fit.forms import Quantity
from faywright.joints import grooves, tongues
from faywright.joints.method import OVERLAP, Method, shares, wing_of
from faywright.joints.side_groups import SideGroup
from faywright.joints.solution import Solution
from faywright.section.cutting import Pass
from faywright.section.posture import Posture
from faywright.shop import CutSize, Cutter, SlotCutter, StraightCutter, TonguePairCutter
from tests.joints.builders import (
    cut_by,
    exactly,
    groove_by,
    joint,
    matched_pair,
    measured,
    of_group,
    shifted,
    slot,
    straight,
    tongue_by,
)
from tests.joints.cases import GROOVES, TONGUES, Drawn, drawn_joints
from tests.strategies import STEADY, lengths

FEW = settings(STEADY, max_examples=10)
STEP = 0.02

# What each lift is: runs and postures it belongs to (ten times the run, plus the posture), and
# whether the work rides off the table or strays from the fence.

ALL = frozenset({0, 1, 10, 11})
LIFTS = {
    (grooves.ON_EDGE, "groove off the table"): (ALL, "ride"),
    (grooves.ON_EDGE, "groove off the fence"): (ALL, "stray"),
    (grooves.BOTH_FACES, "groove off the table"): (ALL, "ride"),
    (grooves.BOTH_FACES, "groove off the fence"): ({0}, "stray"),
    (grooves.BOTH_FACES, "groove off the fence, turned"): ({1}, "stray"),
    (grooves.BOTH_FACES_INWARD, "groove off the table"): (ALL, "ride"),
    (grooves.BOTH_FACES_INWARD, "groove off the fence"): ({0}, "stray"),
    (grooves.BOTH_FACES_INWARD, "groove off the fence, turned"): ({1}, "stray"),
    (grooves.TWO_PLACES, "groove off the table"): (ALL, "ride"),
    (grooves.TWO_PLACES, "groove off the fence"): ({0}, "stray"),
    (grooves.TWO_PLACES, "groove off the fence, turned"): ({10}, "stray"),
    (grooves.FLAT, "groove off the table"): ({0}, "ride"),
    (grooves.FLAT, "groove off the table, far wall"): ({10}, "ride"),
    (grooves.FLAT, "groove off the fence"): (ALL, "stray"),
    (tongues.FLAT, "face-A cheek off the table"): ({0}, "ride"),
    (tongues.FLAT, "face-B cheek off the table"): ({1}, "ride"),
    (tongues.HALF_FLAT, "face-B cheek off the table"): ({0}, "ride"),
    (tongues.ON_EDGE, "face-A cheek off the fence"): ({0}, "stray"),
    (tongues.ON_EDGE, "face-B cheek off the fence"): ({1}, "stray"),
    (tongues.HALF_ON_EDGE, "face-B cheek off the fence"): ({0}, "stray"),
    (tongues.ON_EDGE_ONE_FACE, "face-A cheek off the fence"): ({0}, "stray"),
    (tongues.ON_EDGE_ONE_FACE, "face-B cheek off the fence"): ({10}, "stray"),
    (tongues.FACE_A, "face-A cheek off the table"): ({0}, "ride"),
    (tongues.FACE_A, "face-B cheek off the table"): ({10}, "ride"),
    (tongues.HALF_FACE_A, "face-B cheek off the table"): ({0}, "ride"),
    (tongues.PAIR, "face-A cheek off the table"): (ALL, "ride"),
}


def bigger(cutter: Cutter, by: float) -> Cutter:
    """The same cutter measured ``by`` bigger."""
    size = cutter.fit_size
    assert size is not None
    grown = CutSize(marked=size.marked, measured=(size.measured or size.marked) + by)
    if isinstance(cutter, StraightCutter):
        return replace(cutter, diameter=grown)
    if isinstance(cutter, SlotCutter):
        return replace(cutter, thickness=grown)
    assert isinstance(cutter, TonguePairCutter)
    return replace(cutter, tongue=grown)


def with_bigger_cutter(method: Method, mark: str, by: float) -> Method:
    """The same runs with one cutter bigger; a wing is set to its own lower edge or top."""
    runs = []
    for run in method.runs:
        if run.cutter.mark != mark:
            runs.append(run)
            continue
        grown = bigger(run.cutter, by)
        top_over = run.top_over + by if run.reference != "cutter top" else 0.0
        runs.append(replace(run, cutter=grown, top_over=top_over))
    return replace(method, runs=tuple(runs))


def cut_again(
    method: Method, group: SideGroup, thickness: float, moved: Quantity
) -> dict[str, float]:
    """Surfaces with one quantity ``STEP`` more than it should be."""
    values = dict(group.settings)
    if moved.kind == "thickness":
        return measured(method, cut_by(method, values, thickness + STEP))
    if moved.kind == "cutter":
        grown = with_bigger_cutter(method, moved.key, STEP)
        return measured(grown, cut_by(grown, values, thickness))
    if moved.kind == "lift":
        places, how = LIFTS[method.name, moved.key]

        def ride(number: int, run: Pass) -> Pass:
            if number not in places:
                return run
            return shifted(run, lift=STEP) if how == "ride" else shifted(run, stray=STEP)

        return measured(method, cut_by(method, values, thickness, move=ride))
    values[moved] += STEP
    return measured(method, cut_by(method, values, thickness))


def size_of(method: Method, surfaces: dict[str, float]) -> float:
    """Width of groove or thickness of tongue, from surfaces."""
    low, high = ("wall", "wall") if method.side == "groove" else ("cheek", "cheek")
    return surfaces[f"face-B {high}"] - surfaces[f"face-A {low}"]


def check_sensitivities(solution: Solution, method: Method) -> None:
    """Each quantity that could move a surface moves all of them by its coefficient."""
    group = of_group(solution, method.side)
    work = solution.task.grooved if method.side == "groove" else solution.task.tongued
    thickness = float(work.across[group.members].max())
    before = measured(method, cut_by(method, dict(group.settings), thickness))
    lifts = {key for name, key in LIFTS if name == method.name}
    quantities = [
        method.thickness,
        *(q for q in group.settings if q.kind in ("height", "fence")),
        *method.cutter_sizes,
        *(Quantity("lift", key) for key in lifts),
    ]
    for moved in quantities:
        after = cut_again(method, group, thickness, moved)
        for name, (_, form) in method.surfaces.items():
            slope = (after[name] - before[name]) / STEP
            assert slope == pytest.approx(form.coefficient(moved), abs=1e-6), (name, moved)
        slope = (size_of(method, after) - size_of(method, before)) / STEP
        assert slope == pytest.approx(method.size.coefficient(moved), abs=1e-6), moved


@pytest.mark.parametrize("case", GROOVES)
@FEW
@given(data=st.data())
def test_every_coefficient_of_a_groove_is_what_cutting_it_again_shows(
    data: st.DataObject, case: str
) -> None:
    drawn: Drawn = data.draw(drawn_joints(case, "flat"))
    check_sensitivities(drawn.solved(), drawn.groove)


@pytest.mark.parametrize("case", sorted(set(TONGUES) - {"strip"}))
@FEW
@given(data=st.data())
def test_every_coefficient_of_a_tongue_is_what_cutting_it_again_shows(
    data: st.DataObject, case: str
) -> None:
    drawn: Drawn = data.draw(drawn_joints("one pass", case))
    check_sensitivities(drawn.solved(), drawn.tongue)


FOLLOWS = [
    (grooves.ON_EDGE, 0.0),
    (grooves.BOTH_FACES, -1.0),
    (grooves.TWO_PLACES, 0.0),
    (grooves.FLAT, 0.0),
    (tongues.FLAT, 1.0),
    (tongues.ON_EDGE, 1.0),
    (tongues.FACE_A, 0.0),
    (tongues.PAIR, 0.0),
    (tongues.STRIP, 1.0),
]


@pytest.mark.parametrize(("name", "follows"), FOLLOWS)
def test_only_methods_that_turn_the_work_hand_on_its_thickness(name: str, follows: float) -> None:
    task = joint([19.0, 19.2], [19.0, 19.2], groove_width=6.5)
    wing = name == grooves.FLAT
    one = grooves.ON_EDGE if name not in grooves.GROOVE_METHODS else name
    size = 6.5 if one == grooves.ON_EDGE else 4.5
    groove = groove_by(task, one, slot(size) if wing else straight(size))
    cutters: dict[str, tuple[Cutter, ...]] = {
        tongues.FACE_A: (slot(12.0),),
        tongues.PAIR: (matched_pair(6.14),),
        tongues.STRIP: (),
    }
    if name in grooves.GROOVE_METHODS:
        assert groove.follows == follows
        return
    made = tongue_by(task, groove, name, *cutters.get(name, (straight(18.0, "C2"),)))
    assert made.follows == follows


def test_a_groove_by_two_heights_rides_off_the_table_twice() -> None:
    task = joint([19.0, 19.2], [19.0, 19.2], groove_width=6.5)
    two = groove_by(task, grooves.FLAT, slot(4.5))
    lifts = [q for q in two.size.coefficients if q.kind == "lift"]
    assert len(lifts) == 2
    one = groove_by(task, grooves.FLAT, slot(6.5))
    assert not [q for q in one.size.coefficients if q.kind == "lift"]


# Settings


@given(joined=drawn_joints("two fence positions", "face A, slot cutter alone"), size=lengths(4, 8))
@FEW
def test_the_control_is_the_setting_that_gives_the_size(joined: Drawn, size: float) -> None:
    for method in (joined.groove, joined.tongue):
        assert method.control is not None
        values = {**method.known(), method.thickness: 20.0}
        values[method.control] = method.control_for(size, 20.0)
        assert method.size.value(values) == exactly(size)


def test_a_method_without_a_control_cannot_be_solved_for_one() -> None:
    task = joint([19.0, 19.2], [19.0, 19.2], groove_width=6.5)
    with pytest.raises(TypeError, match="has no setting that decides its size"):
        groove_by(task, grooves.ON_EDGE, straight(6.5)).control_for(6.0, 19.0)


@given(whole=lengths(0.1, 60), most=lengths(0.3, 13))
@STEADY
def test_shares_reach_the_whole_in_equal_steps_no_bigger_than_the_most(
    whole: float, most: float
) -> None:
    steps = np.diff([0.0, *shares(whole, most)])
    assert shares(whole, most)[-1] == exactly(whole)
    assert steps.max() <= most + 1e-6
    assert np.ptp(steps) == exactly(0.0)


@given(lower=lengths(8, 14), wing=lengths(1.5, 12), thickest=lengths(16, 40))
@STEADY
def test_a_wing_from_above_clears_all_that_stands_over_the_cheek(
    lower: float, wing: float, thickest: float
) -> None:
    task = joint([thickest], [thickest], groove_width=round(thickest / 3, 3))
    groove = groove_by(task, grooves.ON_EDGE, straight(round(thickest / 3, 3)))
    made = tongue_by(task, groove, tongues.FACE_A, slot(wing, reach=150))
    tops = made.runs[-1].heights({made.runs[-1].height: lower}, thickest, "softwood")
    assert tops[-1] == exactly(lower + wing)
    assert tops[0] >= thickest
    assert all(0 < high - low <= wing - OVERLAP + 1e-9 for high, low in pairwise(tops))
    assert tops[0] - (wing - OVERLAP) < thickest + OVERLAP


def test_a_station_stands_by_its_far_edge_axis_and_near_edge() -> None:
    task = joint([19.0, 19.2], [19.0, 19.2], groove_width=6.5)
    method = groove_by(task, grooves.ON_EDGE, straight(6.5))
    station = method.stations(dict(method.fixed), 19.2, "softwood")[-1]
    assert station.far - station.axis == exactly(station.radius) == exactly(3.25)
    assert station.near == exactly((19.1 - 6.5) / 2)
    assert station.passes()[0].posture is Posture.ON_EDGE_A


def test_only_wing_cutters_have_a_wing() -> None:
    assert (wing_of(slot(4.78)), wing_of(straight(6.35))) == (4.78, 0.0)


def test_a_method_lists_each_of_its_cutters_once() -> None:
    task = joint([19.0, 19.2], [19.0, 19.2], groove_width=6.5)
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.5))
    assert [cutter.mark for cutter in groove.cutters] == ["C1"]
