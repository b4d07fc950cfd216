from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given

from faywright.errors import RangeError
from faywright.section import (
    Arc,
    Line,
    Profile,
    bead_profile,
    core_profile,
    dovetail_profile,
    profile_of,
    slot_profile,
    straight_profile,
    tongue_pair_profile,
    v_profile,
)
from faywright.section.profile import CHORD_TOLERANCE
from tests.strategies import STEADY, core_cutters, cutters, lengths

TOP = Line(6, 0, "top")


@pytest.mark.parametrize(
    ("profile", "radius"),
    [
        (straight_profile(6, 25, 4), 6),
        (straight_profile(3, 25, 4), 4),
        (slot_profile(24, 5, 6), 24),
        (tongue_pair_profile(20, 6, 5, 10, 6), 20),
        (dovetail_profile(7, 10, 14), 7),
        (v_profile(9, 90), 9),
        (bead_profile(4, 1), 5),
        (core_profile(6, 20), 6),
    ],
)
def test_the_radius_of_a_cutter_is_its_greatest(profile: Profile, radius: float) -> None:
    assert profile.radius == pytest.approx(radius, abs=1e-12)


@pytest.mark.parametrize(
    ("profile", "corners"),
    [
        (straight_profile(6, 25, 4), [(0, 0), (6, 0), (6, -25), (4, -25)]),
        (slot_profile(24, 5, 6), [(0, 0), (24, 0), (24, -5), (6, -5)]),
        (
            tongue_pair_profile(20, 6, 5, 10, 4),
            [(0, 0), (20, 0), (20, -6), (10, -6), (10, -11), (20, -11), (20, -17), (4, -17)],
        ),
        (dovetail_profile(8, 6, 45), [(0, 0), (8, 0), (2, -6)]),
        (v_profile(9, 90), [(0, 0), (9, -9)]),
    ],
)
def test_the_half_profile_runs_from_the_top_outwards_and_down(
    profile: Profile, corners: list[tuple[float, float]]
) -> None:
    assert profile.half[0] == pytest.approx(np.array(corners), abs=1e-12)


@pytest.mark.parametrize(
    ("profile", "parts"),
    [
        (straight_profile(6, 25, 4), ("top", "side", "shoulder")),
        (slot_profile(24, 5, 6), ("top", "rim", "underside")),
        (dovetail_profile(7, 10, 14), ("top", "flank")),
        (v_profile(9, 90), ("flank",)),
        (bead_profile(4, 1), ("point", "hollow")),
        (core_profile(6, 20), ("nose", "side")),
    ],
)
def test_every_stretch_is_named_for_its_part_of_the_cutter(
    profile: Profile, parts: tuple[str, ...]
) -> None:
    assert tuple(dict.fromkeys(profile.half[1])) == parts


def test_a_flat_top_has_no_side_and_all_else_has_two() -> None:
    assert straight_profile(6, 25, 4).silhouette[1] == (
        "side far",
        "shoulder far",
        "shank far",
        "foot",
        "shank near",
        "shoulder near",
        "side near",
        "top",
    )


def test_a_pointed_top_has_two_flanks() -> None:
    flanks = ("flank far", "shank far", "foot", "shank near", "flank near")
    assert v_profile(9, 90).silhouette[1] == flanks


@given(cutters)
@STEADY
def test_a_silhouette_is_the_half_profile_on_both_sides_of_the_axis(profile: Profile) -> None:
    outline, names = profile.silhouette
    assert len(outline) == len(names)
    sides = [{(y, z) for y, z in outline * (sign, 1) if y >= 0} for sign in (1, -1)]
    assert sides[0] == sides[1]
    drawn = {(y, z) for y, z in profile.half[0] if (y, z) != (0, 0)}
    assert drawn <= sides[0]


@given(cutters)
@STEADY
def test_far_parts_lie_away_from_the_fence_and_near_parts_towards_it(profile: Profile) -> None:
    outline, names = profile.silhouette
    middles = (outline + np.roll(outline, -1, axis=0)) / 2
    for name, (y, _) in zip(names, middles, strict=True):
        side = name.rpartition(" ")[2]
        assert np.sign(y) == {"far": 1, "near": -1}.get(side, 0)


@given(lengths(0.5, 30))
@STEADY
def test_chords_stay_within_their_tolerance_of_the_arc(radius: float) -> None:
    corners = core_profile(radius, radius).half[0]
    from_centre = np.hypot(corners[:, 0], corners[:, 1] + radius)
    middles = (corners[1:] + corners[:-1]) / 2
    sag = radius - np.hypot(middles[:, 0], middles[:, 1] + radius)
    assert from_centre == pytest.approx(np.full(len(corners), radius), abs=1e-9)
    assert 0 < sag.max() <= CHORD_TOLERANCE * (1 + 1e-6)


@given(core_cutters)
@STEADY
def test_a_round_nose_ends_where_its_side_begins(profile: Profile) -> None:
    corners, parts = profile.half
    last = parts.count("nose")
    assert corners[last] == pytest.approx(np.array([profile.radius, -profile.radius]), abs=1e-12)


def test_a_hollow_is_cut_from_outside_and_a_nose_from_inside() -> None:
    hollow = bead_profile(4, 1).half[0]
    nose = core_profile(4, 4).half[0]
    middle_of_hollow, middle_of_nose = hollow[len(hollow) // 2], nose[len(nose) // 2]
    assert middle_of_hollow[0] < 1 - middle_of_hollow[1]
    assert middle_of_nose[0] > -middle_of_nose[1]


@pytest.mark.parametrize("stretches", [(Line(-0.5, 0, "top"),), (TOP, Line(-1, -5, "side"))])
def test_a_radius_below_nought_is_refused(stretches: tuple[Line, ...]) -> None:
    with pytest.raises(RangeError, match=r"^cutter profile: a radius is below 0\. Measure radii"):
        profile_of(stretches)


@pytest.mark.parametrize("odd", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize(
    ("part", "stretch"),
    [
        ("side", lambda odd: Line(odd, -5, "side")),
        ("side", lambda odd: Line(6, odd, "side")),
        ("cove", lambda odd: Arc(10, odd, 10, 0, "cove")),
        ("cove", lambda odd: Arc(10, -4, odd, 0, "cove")),
        ("cove", lambda odd: Arc(10, -4, 10, odd, "cove")),
    ],
)
def test_a_stretch_without_a_number_or_without_end_is_refused(
    part: str, stretch: Callable[[float], Line | Arc], odd: float
) -> None:
    with pytest.raises(RangeError, match=f"profile: '{part}' has a figure that is not finite"):
        profile_of([TOP, stretch(odd)])


@pytest.mark.parametrize(
    "shape",
    [
        lambda: straight_profile(math.nan, 30, 4),
        lambda: slot_profile(20, math.nan, 4),
        lambda: tongue_pair_profile(20, 6, math.nan, 10, 4),
        lambda: dovetail_profile(7, 10, math.nan),
        lambda: core_profile(math.nan, 20),
    ],
)
def test_a_cutter_with_a_missing_size_is_refused(shape: Callable[[], Profile]) -> None:
    with pytest.raises(RangeError, match=r"has a figure that is not finite\. Measure it again"):
        shape()


@pytest.mark.parametrize(
    "shape",
    [
        lambda: slot_profile(4, 3, 0),
        lambda: straight_profile(3, 5, 0),
        lambda: profile_of([Line(0, 0, "top")]),
        lambda: profile_of([TOP, Line(0, -9, "cone")]),
    ],
)
def test_a_cutter_without_a_shank_is_refused(shape: Callable[[], Profile]) -> None:
    with pytest.raises(RangeError, match=r"^cutter profile: the shank has no thickness\. End the"):
        shape()


@pytest.mark.parametrize("angle", [0, -10, 180, 200, math.nan])
def test_a_v_needs_an_angle_between_a_needle_and_a_flat(angle: float) -> None:
    with pytest.raises(RangeError, match=f"an angle of {angle:g} degrees makes no V"):
        v_profile(9, angle)


@pytest.mark.parametrize("ends", [((10, 0), (10, -10)), ((5, -5), (15, -5))])
def test_an_arc_of_half_a_turn_is_refused(ends: tuple[tuple[float, float], ...]) -> None:
    start, end = ends
    with pytest.raises(RangeError, match=r"the arc 'ring' turns half round.*Give it as two arcs"):
        profile_of([Line(*start, "top"), Arc(*end, 10, -5, "ring")])


def test_half_a_turn_given_as_two_arcs_bulges_the_way_it_is_given() -> None:
    end = Arc(6, -6, 6, -3, "ring")
    outwards = profile_of([TOP, Arc(9, -3, 6, -3, "ring"), end])
    inwards = profile_of([TOP, Arc(3, -3, 6, -3, "ring"), end])
    assert outwards.radius == pytest.approx(9, abs=1e-12)
    assert inwards.half[0][1:, 0].min() == pytest.approx(3, abs=1e-12)


@pytest.mark.parametrize(
    "stretches",
    [
        (Line(6, 1, "top"),),
        (TOP, Line(6, -5, "side"), Line(8, -4, "lip")),
        (TOP, Arc(6, 0, 6, -2, "ring"), Arc(2, 4, 2, 0, "horn")),
    ],
)
def test_a_profile_that_climbs_again_is_refused(stretches: tuple[Line | Arc, ...]) -> None:
    with pytest.raises(RangeError, match=r"climbs again after going down\. List it from the top"):
        profile_of(stretches)


def test_a_profile_of_nothing_is_refused() -> None:
    with pytest.raises(RangeError, match=r"no stretch given\. Give at least a top and a side"):
        profile_of([])


@pytest.mark.parametrize(
    ("centre", "said"), [((6, -3), r"\(6, -3\)"), ((4.25, -4), r"\(4\.25, -4\)")]
)
def test_an_arc_about_a_centre_that_does_not_fit_its_ends_is_refused(
    centre: tuple[float, float], said: str
) -> None:
    with pytest.raises(RangeError, match=f"the centre of an arc {said} is not as far from both"):
        profile_of([TOP, Arc(10, -4, *centre, "cove")])


@pytest.mark.parametrize("shape", [lambda: core_profile(0, 20), lambda: bead_profile(0, 1)])
def test_an_arc_without_a_radius_is_refused(shape: Callable[[], Profile]) -> None:
    with pytest.raises(RangeError, match=r"the arc '(nose|hollow)' has no radius\. Give a radius"):
        shape()


@pytest.mark.parametrize(
    "shape",
    [
        lambda: straight_profile(-6, 25, 4),
        lambda: straight_profile(6, -25, 4),
        lambda: slot_profile(24, 5, -1),
        lambda: dovetail_profile(4, 20, 14),  # the neck would be behind the axis
    ],
)
def test_a_cutter_that_cannot_be_made_is_refused(shape: Callable[[], Profile]) -> None:
    with pytest.raises(RangeError, match=r"^cutter profile: "):
        shape()
