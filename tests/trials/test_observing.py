"""Readings of trial pieces become observations whose rows are what cutting again shows."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faywright.errors import InputError
from faywright.fit.forms import Quantity
from faywright.joints import grooves, tongues
from faywright.joints.details import with_detail
from faywright.joints.method import Method, Side
from faywright.joints.task import Instruments
from faywright.joints.wanted import EdgeDetail
from faywright.shop import CutSize, Gauge, Machine, VCutter
from faywright.trials.belief import Belief, Unknown
from faywright.trials.observing import (
    LASTING_RIDE,
    TrialPiece,
    datums,
    dimensions,
    first_belief,
    measurable,
    observed,
    with_settings,
)
from faywright.trials.update import updated
from tests.joints.builders import (
    INSTRUMENTS,
    TABLE,
    cut_by,
    groove_by,
    joint,
    matched_pair,
    measured,
    of_group,
    slot,
    solved,
    straight,
    tongue_by,
)
from tests.joints.cases import GROOVES, TONGUES, Drawn, drawn_joints
from tests.joints.test_method import STEP
from tests.strategies import STEADY, lengths
from tests.trials.cutting import (
    RoughShop,
    by_calipers,
    cut_with,
    everything,
    flat_joint,
    moved_by,
    piece_of,
)

FEW = settings(STEADY, max_examples=6)
CUT_TONGUES = sorted(set(TONGUES) - {"strip"})
HEIGHT, FENCE = Quantity("height", "tongue"), Quantity("fence", "tongue")

DIAL = Gauge(
    mark="dial", uses=("height", "fence"), resolution=0.01, repeatability=0.02, zero_error=0.07
)
CALIPERS = Gauge(
    mark="calipers", uses=("thickness",), resolution=0.01, repeatability=0.03, zero_error=-0.05
)
RULE = Gauge(mark="rule", uses=("fence",), resolution=0.5, repeatability=0.1, zero_error=-0.2)
OFF_ZERO = Instruments(height=DIAL, fence=RULE, calipers=CALIPERS)


# Rows against the kernel


def check_rows(drawn: Drawn, side: Side) -> None:
    """Every dimension moves with every unknown as its observation's row says."""
    solution = drawn.solved()
    piece = piece_of(solution, side)
    method, thickness = piece.method, float(np.mean(piece.thickness))
    names = measurable(solution, side)
    before = measured(method, cut_by(method, dict(piece.as_set), thickness))
    readings = by_calipers(before, thickness, names)
    seen = observed(piece, {name: [value] for name, value in readings.items()})
    for each in seen:
        assert each.read == pytest.approx(each.expected, abs=1e-6)
    for unknown in everything(piece).unknowns:
        slopes = dict.fromkeys(names, 0.0)
        for quantity in moved_by(piece, unknown):
            after = by_calipers(cut_with(piece, quantity, thickness), thickness, names)
            for name in names:
                slopes[name] += (after[name] - readings[name]) / STEP
        for name, each in zip(names, seen, strict=True):
            row = each.row.get(unknown, 0.0)
            assert row == pytest.approx(slopes[name], abs=1e-6), (name, str(unknown))


@pytest.mark.parametrize("case", GROOVES)
@FEW
@given(data=st.data())
def test_every_row_of_a_groove_is_what_cutting_it_again_shows(
    data: st.DataObject, case: str
) -> None:
    check_rows(data.draw(drawn_joints(case, "flat")), "groove")


@pytest.mark.parametrize("case", CUT_TONGUES)
@FEW
@given(data=st.data())
def test_every_row_of_a_tongue_is_what_cutting_it_again_shows(
    data: st.DataObject, case: str
) -> None:
    check_rows(data.draw(drawn_joints("one pass", case)), "tongue")


@pytest.mark.parametrize("case", CUT_TONGUES)
@FEW
@given(data=st.data(), zero=lengths(-0.05, 0.05), own=lengths(-0.05, 0.05))
def test_a_piece_cut_in_a_shop_that_is_off_reads_as_its_rows_foretell(
    data: st.DataObject, case: str, zero: float, own: float
) -> None:
    drawn = data.draw(drawn_joints("one pass", case))
    piece = piece_of(drawn.solved(), "tongue")
    thickness = float(np.mean(piece.thickness))
    belief = everything(piece)
    truth = {
        u: zero if u.kind == "height zero" else own * (k + 1) if u.kind == "setting" else 0.0
        for k, u in enumerate(belief.unknowns)
    }
    really = {
        q: value + truth[piece.setting(q)] + (zero if q.kind == "height" else 0.0)
        for q, value in piece.as_set.items()
    }
    cut = measured(piece.method, cut_by(piece.method, really, thickness))
    names = measurable(piece.solution, "tongue")
    for each in observed(piece, {n: [v] for n, v in by_calipers(cut, thickness, names).items()}):
        foretold = each.expected + sum(c * truth[u] for u, c in each.row.items())
        assert each.read == pytest.approx(foretold, abs=1e-6)


@pytest.mark.parametrize("size", [-1.0, 0.05])
def test_a_higher_cutter_than_the_gauge_says_makes_a_thinner_tongue(size: float) -> None:
    piece = piece_of(flat_joint(), "tongue")
    (seen,) = observed(piece, {"tongue thickness": [6.0]})
    row = {str(unknown): coefficient for unknown, coefficient in seen.row.items()}
    assert size * row["height zero of dial"] == -2 * size
    assert row["setting of back, tongue, height for the tongue, group 1"] == -2
    assert row["lift of table"] == 2
    assert seen.row.keys().isdisjoint({Unknown("fence zero", "dial")})


def test_what_is_learned_of_the_gauge_from_a_thin_tongue_points_upwards() -> None:
    piece = piece_of(flat_joint(), "tongue")
    expected = observed(piece, {"tongue thickness": [6.0]})[0].expected
    seen = observed(piece, {"tongue thickness": [expected - 0.1]})
    after = updated(everything(piece), seen)
    assert after.of(Unknown("height zero", "dial"))[0] > 0
    assert after.of(Unknown("lift", "table"))[0] < 0.01


# What can be measured

NAMES: dict[str, tuple[str, ...]] = {
    "one pass": ("groove width", "wall beside face A", "groove depth", "wall beside face B"),
    "both faces": ("groove width", "groove depth", "wall beside face A", "wall beside face B"),
    "flat": (
        "tongue thickness",
        "depth of the face-A cheek",
        "tongue length",
        "depth of the face-B cheek",
    ),
    "half, flat": ("tongue thickness", "tongue length", "depth of the face-B cheek"),
    "matched pair": (
        "tongue thickness",
        "depth of the face-A cheek",
        "tongue length",
        "depth of the face-B cheek",
    ),
    "strip": (),
}


@pytest.mark.parametrize("case", NAMES)
@settings(FEW, max_examples=2)
@given(data=st.data())
def test_what_can_be_measured(data: st.DataObject, case: str) -> None:
    side: Side = "groove" if case in GROOVES else "tongue"
    drawn = data.draw(
        drawn_joints(case, "flat") if side == "groove" else drawn_joints("one pass", case)
    )
    assert sorted(measurable(drawn.solved(), side)) == sorted(NAMES[case])


@pytest.mark.parametrize("case", GROOVES)
@settings(FEW, max_examples=2)
@given(data=st.data())
def test_a_check_reading_of_the_sheet_is_one_of_the_dimensions(
    data: st.DataObject, case: str
) -> None:
    solution = data.draw(drawn_joints(case, "flat")).solved()
    for method, side in ((solution.groove, "groove"), (solution.tongue, "tongue")):
        found = dimensions(solution, "groove" if side == "groove" else "tongue")
        for reading in method.readings:
            assert found[reading.what] == reading.form


def test_walls_and_wall_readings_are_called_by_what_they_are_on_this_part() -> None:
    task = joint([19.0] * 2, [6.2] * 2, groove_edge="face A", groove_width=6.5, groove_depth=8.0)
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.5))
    tongue = tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2"))
    names = measurable(replace(flat_joint(), task=task, groove=groove, tongue=tongue), "groove")
    assert {"wall beside reference edge", "wall beside opposite edge"} <= set(names)


def detailed(detail: EdgeDetail, *cutters: VCutter) -> TrialPiece:
    """A trial piece with a detail along its face-A shoulder."""
    solution = flat_joint()
    made = with_detail(
        solution.tongue, detail, [*solution.tongue.cutters, *cutters], shoulder=9.0, cheek=6.0
    )
    assert isinstance(made, Method)
    (group,) = solution.tongue_groups
    group = replace(group, settings={**made.fixed, **group.settings})
    return piece_of(replace(solution, tongue=made, tongue_groups=(group,)), "tongue")


def test_the_height_of_a_detail_is_learned_from_like_any_other() -> None:
    v = VCutter(mark="V1", flutes=2, reach=30, diameter=16, angle_deg=90)
    piece = detailed(EdgeDetail(kind="V", size=2.0), v)
    (seen,) = observed(piece, {"width of the V on the face": [2.1]})
    assert seen.expected == pytest.approx(2.0)
    own = piece.setting(Quantity("height", "detail"))
    assert seen.row[own] == pytest.approx(1.0)
    assert seen.row[Unknown("height zero", "dial")] == pytest.approx(1.0)
    assert seen.row[Unknown("fence zero", "dial")] == pytest.approx(1.0)


def test_the_depth_of_a_reveal_can_be_measured_though_no_sheet_asks_for_it() -> None:
    piece = detailed(EdgeDetail(kind="square reveal", size=3.0))
    (seen,) = observed(piece, {"depth of reveal": [3.0]})
    assert seen.expected == pytest.approx(3.0)
    assert seen.row[Unknown("height zero", "dial")] == 1.0


# Readings


def test_readings_are_averaged_and_the_zero_error_is_taken_off() -> None:
    piece = piece_of(flat_joint(instruments=OFF_ZERO), "tongue")
    (seen,) = observed(piece, {"tongue length": [9.0, 9.1, 9.2, 9.3]})
    assert seen.read == pytest.approx(9.15 + 0.05)
    assert seen.uncertainty == pytest.approx(math.hypot(0.01 / math.sqrt(12), 0.03 / 2))
    assert seen.expected == pytest.approx(piece.as_set[FENCE])


def test_the_trial_pieces_own_thickness_is_put_in_with_its_zero_error_off() -> None:
    solution = flat_joint(instruments=OFF_ZERO)
    piece = piece_of(solution, "tongue", thickness=(19.4, 19.5))
    (seen,) = observed(piece, {"tongue thickness": [6.0]})
    assert seen.expected == pytest.approx(19.45 + 0.05 - 2 * piece.as_set[HEIGHT])
    assert seen.shared["thickness of T1"] == pytest.approx(CALIPERS.of_mean(2))


def test_an_error_of_thickness_counts_by_how_much_the_dimension_follows_it() -> None:
    task = joint([19.0] * 2, [19.0] * 2, groove_width=6.5)
    groove = groove_by(task, grooves.BOTH_FACES, straight(4.5))
    tongue = tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2"))
    seen = observed(
        piece_of(solved(task, groove, tongue), "groove"),
        {"groove width": [6.5], "wall beside face A": [6.2], "groove depth": [9.0]},
    )
    of_mean = task.instruments.calipers.of_mean(3)
    errors = [each.shared.get("thickness of T1", 0.0) for each in seen]
    assert errors == pytest.approx([-of_mean, of_mean, 0.0])


def test_two_dimensions_of_one_piece_share_the_ride_of_their_pass() -> None:
    piece = piece_of(flat_joint(), "tongue")
    thickness, cheek = observed(
        piece, {"tongue thickness": [6.1], "depth of the face-A cheek": [6.4]}
    )
    ride = "face-A cheek off the table, T1"
    one = math.sqrt(1 - LASTING_RIDE) * TABLE.work_lift / math.sqrt(12)
    assert thickness.shared[ride] == pytest.approx(one)
    assert cheek.shared[ride] == pytest.approx(-one)
    (other,) = observed(replace(piece, mark="T2"), {"tongue thickness": [6.1]})
    assert other.shared.keys().isdisjoint(thickness.shared)


def test_a_steady_feed_shares_no_ride() -> None:
    machine = Machine(mark="steady", speeds_rpm=(10000,), work_lift=0.0)
    piece = piece_of(flat_joint(machine=machine), "tongue")
    (seen,) = observed(piece, {"tongue thickness": [6.1]})
    assert set(seen.shared) == {"thickness of T1"}
    assert everything(piece).of(Unknown("lift", "steady")) == (0.0, 0.0)
    assert updated(everything(piece), [seen]).of(Unknown("lift", "steady")) == (0.0, 0.0)


def test_the_piece_is_expected_as_it_was_really_set_and_not_as_planned() -> None:
    piece = piece_of(flat_joint(), "tongue")
    lower = replace(piece, settings={HEIGHT: piece.as_set[HEIGHT] - 0.02})
    expected = [observed(each, {"tongue thickness": [6.0]})[0].expected for each in (piece, lower)]
    assert expected[1] - expected[0] == pytest.approx(0.04)


def test_a_setting_made_again_is_off_by_something_else_and_the_others_are_not() -> None:
    piece = piece_of(flat_joint(), "tongue")
    again = piece.again("T2", {HEIGHT: 6.3}, [19.0])
    assert again.as_set == {**piece.as_set, HEIGHT: 6.3}
    assert again.setting(HEIGHT) != piece.setting(HEIGHT)
    assert again.setting(FENCE) == piece.setting(FENCE)
    third = again.again("T3", {HEIGHT: 6.3}, [19.0])
    assert len({each.setting(HEIGHT) for each in (piece, again, third)}) == 3


def test_only_the_setting_that_decides_the_size_is_made_for_each_group() -> None:
    spread = [18.6, 18.8, 19.0, 19.2, 19.4]
    task = joint([19.0] * 5, spread, groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    solution = solved(task, groove, tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2")))
    assert len(solution.tongue_groups) > 1
    one, two = (piece_of(solution, "tongue", group=group) for group in (0, 1))
    assert one.setting(HEIGHT) != two.setting(HEIGHT)
    assert one.setting(FENCE) == two.setting(FENCE)
    assert one.as_set[HEIGHT] == of_group(solution, "tongue", 0).settings[HEIGHT]
    assert two.as_set[HEIGHT] == of_group(solution, "tongue", 1).settings[HEIGHT]


# Refusals


def test_a_dimension_there_is_not_is_refused_with_those_there_are() -> None:
    piece = piece_of(flat_joint(), "tongue")
    with pytest.raises(InputError, match=r"no 'groove width'.*Measure: tongue thickness, tongue"):
        observed(piece, {"groove width": [6.5]})


def test_on_a_strip_nothing_is_cut_to_be_measured() -> None:
    task = joint([19.0] * 2, [6.1] * 2, strips=True)
    groove = groove_by(task, grooves.TWO_PLACES, straight(4.5))
    solution = solved(task, groove, tongue_by(task, groove, tongues.STRIP))
    with pytest.raises(InputError, match=r"strip as it is has no .* Nothing is cut here"):
        observed(TrialPiece(mark="T1", solution=solution, side="tongue"), {"thickness": [6.0]})


@pytest.mark.parametrize(
    ("readings", "message"),
    [([], "no readings"), ([6.0, 0.0], "a reading of 0 mm"), ([math.nan], "a reading of nan mm")],
)
def test_readings_that_cannot_be_are_refused(readings: list[float], message: str) -> None:
    piece = piece_of(flat_joint(), "tongue")
    with pytest.raises(InputError, match=f"tongue thickness of trial piece T1: {message}"):
        observed(piece, {"tongue thickness": readings})


def test_a_thickness_is_asked_for_only_where_something_follows_it() -> None:
    piece = piece_of(flat_joint(), "tongue", thickness=())
    assert observed(piece, {"tongue length": [9.0]})
    with pytest.raises(InputError, match="Measure the thickness of the trial piece too"):
        observed(piece, {"tongue thickness": [6.0]})


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"group": 7}, "there is no group 8 of the tongue. Give a group from 1 to 1"),
        ({"group": -1}, "there is no group 0"),
        ({"settings": {Quantity("height", "groove"): 6.0}}, "no setting 'height for the groove'"),
        ({"times": {Quantity("fence", "x"): 1}}, "Its settings are: .*height for the tongue"),
        ({"settings": {HEIGHT: math.nan}}, "a setting is not a number"),
        ({"thickness": (19.0, -1.0)}, "thickness of trial piece T1: a reading of -1 mm"),
    ],
)
def test_a_trial_piece_that_cannot_be_is_refused(wrong: dict[str, object], message: str) -> None:
    solution = flat_joint()
    with pytest.raises(InputError, match=message):
        piece_of(solution, "tongue", **wrong)


# The first belief


@pytest.mark.parametrize(
    ("kind", "quantity", "gauge"), [("height zero", HEIGHT, DIAL), ("fence zero", FENCE, RULE)]
)
def test_a_zero_and_a_setting_are_as_sure_as_the_gauge_they_are_made_by(
    kind: Literal["height zero", "fence zero"], quantity: Quantity, gauge: Gauge
) -> None:
    piece = piece_of(flat_joint(instruments=OFF_ZERO), "tongue")
    for unknown in (Unknown(kind, gauge.mark), piece.setting(quantity)):
        assert everything(piece).of(unknown) == pytest.approx((0.0, gauge.standard_uncertainty))


def test_the_fence_is_off_by_the_zero_of_its_own_gauge() -> None:
    piece = piece_of(flat_joint(instruments=OFF_ZERO), "tongue")
    (seen,) = observed(piece, {"tongue length": [9.0]})
    assert seen.row == {Unknown("fence zero", "rule"): 1.0, piece.setting(FENCE): 1.0}


@pytest.mark.parametrize(
    ("size", "deviation"),
    [
        (CutSize(marked=6.35, measured=6.33), INSTRUMENTS.calipers.standard_uncertainty),
        (CutSize(marked=6.35), 0.10 / math.sqrt(3)),
    ],
)
def test_a_cutter_is_as_sure_as_its_measurement_or_its_mark(
    size: CutSize, deviation: float
) -> None:
    cutter = replace(straight(6.35), diameter=size)
    belief = first_belief(INSTRUMENTS, TABLE, [cutter])
    assert belief.of(Unknown("cutter", "C1")) == pytest.approx((0.0, deviation))


def test_a_cutter_that_decides_no_fit_is_no_unknown() -> None:
    v = VCutter(mark="V1", flutes=2, reach=30, diameter=16, angle_deg=90)
    belief = first_belief(INSTRUMENTS, TABLE, [v, slot(4.0), matched_pair(6.0)])
    owners = [unknown.owner for unknown in belief.unknowns if unknown.kind == "cutter"]
    assert owners == ["S1", "P1"]


def test_the_ride_of_a_machine_and_of_a_pass_together_are_what_the_plan_takes() -> None:
    mean, lasting = first_belief(INSTRUMENTS, TABLE, []).of(Unknown("lift", "table"))
    (seen,) = observed(piece_of(flat_joint(), "tongue"), {"depth of the face-A cheek": [6.3]})
    passing = seen.shared["face-A cheek off the table, T1"]
    assert mean == TABLE.work_lift / 2
    assert math.hypot(lasting, passing) == pytest.approx(TABLE.work_lift / math.sqrt(12))


def test_settings_already_spoken_of_are_left_as_they_are() -> None:
    piece = piece_of(flat_joint(), "tongue")
    known = Belief.independent({piece.setting(HEIGHT): (0.03, 0.001)})
    belief = with_settings(known, piece, piece.again("T2", {HEIGHT: 6.3}))
    assert belief.of(piece.setting(HEIGHT)) == pytest.approx((0.03, 0.001))
    assert len(belief.unknowns) == 3


@pytest.mark.parametrize(("kind", "gauge"), [("height zero", DIAL), ("fence zero", RULE)])
def test_unknown_and_datum_together_are_the_truth_whatever_the_shop_file_says(
    kind: Literal["height zero", "fence zero"], gauge: Gauge
) -> None:
    found = datums(OFF_ZERO, [straight(6.35)])
    assert found[Unknown("cutter", "C1")] == 6.35
    shown, truth = 10.0, 9.98
    zero = truth - (shown - gauge.zero_error)
    assert shown + zero + found[Unknown(kind, gauge.mark)] == pytest.approx(truth)


# Whole shops


def test_intervals_hold_the_truth_where_errors_are_as_the_documents_say() -> None:
    """Rectangles are taken for normal here, so that few intervals hold exactly 90 percent."""
    shop = RoughShop(flat_joint(), replace(straight(4.5), diameter=CutSize(marked=4.5)))
    shops = 500
    held = np.zeros(len(shop.first.unknowns))
    for _ in range(shops):
        truth, seen = shop.drawn()
        after = updated(shop.first, seen)
        held += np.abs(after.mean - truth) <= 1.6449 * after.deviation
    held /= shops
    assert held.min() >= 0.86
    assert held.max() <= 0.97
    assert held.mean() == pytest.approx(0.91, abs=0.02)
