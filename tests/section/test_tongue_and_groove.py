"""Tongue and groove as cut, against what the settings say by arithmetic, to 1e-9 mm."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from faywright.section import Pass, Posture, Sections, cut, tongue_pair_profile
from tests.section.cuts import (
    SHOULDERS,
    WIDTH,
    FaceATongue,
    exactly,
    groove_from_both_faces,
    groove_in_one_pass,
    tongue_passes_flat,
    tongue_passes_on_edge,
)
from tests.strategies import STEADY, lengths, thicknesses


def at(section: Sections, surface: str, axis: int = 0) -> float:
    return float(section.position(surface, axis)[0])


@dataclass(frozen=True)
class GrooveSetting:
    thickness: float
    diameter: float
    far: float
    depth: float


@st.composite
def one_pass_settings(draw: DrawFn) -> GrooveSetting:
    thickness = draw(thicknesses)
    diameter = draw(lengths(2, thickness - 2))
    far = draw(lengths(diameter + 1, thickness - 1))
    return GrooveSetting(thickness, diameter, far, draw(lengths(1, 20)))


@st.composite
def both_face_settings(draw: DrawFn) -> GrooveSetting:
    """A cutter no wider than the groove and no narrower than half of it; in whole micrometres."""
    thickness = draw(thicknesses)
    land = draw(lengths(1, thickness / 2 - 1.5))
    width = thickness - 2 * land
    diameter = draw(lengths(width / 2 + 0.001, width - 0.001))
    return GrooveSetting(thickness, diameter, thickness - land, draw(lengths(1, 20)))


@given(one_pass_settings())
@STEADY
def test_a_groove_in_one_pass_is_as_wide_as_the_cutter(setting: GrooveSetting) -> None:
    groove = groove_in_one_pass(setting.thickness, setting.diameter, setting.far, setting.depth)
    assert at(groove, "wall B") - at(groove, "wall A") == exactly(setting.diameter)
    assert at(groove, "wall A") == exactly(setting.far - setting.diameter)
    assert at(groove, "wall B") == exactly(setting.far)
    assert at(groove, "bottom", 1) == exactly(setting.depth)


@given(both_face_settings())
@STEADY
def test_a_groove_from_both_faces_is_centred_and_forgets_the_cutter(
    setting: GrooveSetting,
) -> None:
    groove = groove_from_both_faces(setting.thickness, setting.diameter, setting.far, setting.depth)
    width = 2 * setting.far - setting.thickness
    assert at(groove, "wall B") - at(groove, "wall A") == exactly(width)
    assert at(groove, "wall A") + at(groove, "wall B") == exactly(setting.thickness)
    assert at(groove, "bottom", 1) == exactly(setting.depth)


@given(thicknesses, lengths(2, 6))
@STEADY
def test_two_cutters_at_the_same_far_edge_cut_the_same_groove(
    thickness: float, land: float
) -> None:
    width = thickness - 2 * land
    slim, stout = (
        groove_from_both_faces(thickness, share * width, thickness - land, 9.0)
        for share in (0.6, 0.9)
    )
    assert slim.area[0] == exactly(float(stout.area[0]))
    for wall in ("wall A", "wall B"):
        assert at(slim, wall) == exactly(at(stout, wall))


@given(thicknesses, st.data())
@STEADY
def test_a_cutter_below_half_the_groove_leaves_a_rib(thickness: float, data: st.DataObject) -> None:
    land = data.draw(lengths(1, thickness / 2 - 2))
    width = thickness - 2 * land
    diameter = data.draw(lengths(0.5, width / 2 - 0.01))
    groove = groove_from_both_faces(thickness, diameter, thickness - land, 9.0)
    removed = thickness * WIDTH - float(groove.area[0])
    assert removed == exactly(2 * diameter * 9.0)


@given(thicknesses, st.data())
@STEADY
def test_a_tongue_cut_flat_inherits_the_thickness_of_its_board(
    thickness: float, data: st.DataObject
) -> None:
    height = data.draw(lengths(1, thickness / 2 - 0.5))
    exposure = data.draw(lengths(1, 19))
    tongue = cut(thickness, WIDTH, tongue_passes_flat(20.0, height, exposure))
    assert at(tongue, "cheek B") - at(tongue, "cheek A") == exactly(thickness - 2 * height)
    assert at(tongue, "cheek A") == exactly(height)
    assert [at(tongue, shoulder, 1) for shoulder in SHOULDERS] == [exactly(exposure)] * 2
    assert at(tongue, "edge", 1) == exactly(0)


@given(thicknesses, st.data())
@STEADY
def test_a_tongue_cut_on_edge_is_the_board_less_twice_the_exposure(
    thickness: float, data: st.DataObject
) -> None:
    exposure = data.draw(lengths(1, thickness / 2 - 0.5))
    length = data.draw(lengths(1, 19))
    tongue = cut(thickness, WIDTH, tongue_passes_on_edge(30.0, length, exposure))
    assert at(tongue, "cheek B") - at(tongue, "cheek A") == exactly(thickness - 2 * exposure)
    assert at(tongue, "cheek A") == exactly(exposure)
    assert [at(tongue, shoulder, 1) for shoulder in SHOULDERS] == [exactly(length)] * 2


@given(thicknesses, lengths(0.001, 0.3))
@STEADY
def test_a_thick_board_makes_a_fat_tongue(thickness: float, more: float) -> None:
    passes = tongue_passes_flat(20.0, 4.0, 9.0)
    thin, thick = (cut(size, WIDTH, passes) for size in (thickness, thickness + more))
    grown = [at(board, "cheek B") - at(board, "cheek A") for board in (thin, thick)]
    assert grown[1] - grown[0] == exactly(more)


@st.composite
def face_a_tongues(draw: DrawFn) -> tuple[float, FaceATongue, float]:
    """A board, a tongue in it, and a wing that takes all the wood above the tongue."""
    thickness = draw(thicknesses)
    cheek = draw(lengths(1, thickness / 2 - 1))
    tongue = draw(lengths(1, thickness - cheek - 1))
    wing = draw(lengths(thickness - cheek - tongue, thickness + 4))
    return thickness, FaceATongue(cheek, tongue, draw(lengths(1, 18))), wing


@given(face_a_tongues(), st.sampled_from(["straight and slot", "pair"]))
@STEADY
def test_a_tongue_cut_from_face_a_is_as_the_cutters_say(
    drawn: tuple[float, FaceATongue, float], way: str
) -> None:
    thickness, wanted, wing = drawn
    passes = [wanted.pair_pass(max(wing, wanted.cheek))] if way == "pair" else wanted.passes(wing)
    made = cut(thickness, WIDTH, passes)
    assert at(made, "cheek A") == exactly(wanted.cheek)
    assert at(made, "cheek B") - at(made, "cheek A") == exactly(wanted.tongue)
    assert [at(made, shoulder, 1) for shoulder in SHOULDERS] == [exactly(wanted.length)] * 2


@given(face_a_tongues(), lengths(0.001, 0.3))
@STEADY
def test_a_tongue_cut_from_face_a_leaves_the_error_to_face_b(
    drawn: tuple[float, FaceATongue, float], less: float
) -> None:
    thickness, wanted, wing = drawn
    full, thin = (cut(size, WIDTH, wanted.passes(wing)) for size in (thickness, thickness - less))
    for surface in ("cheek A", "cheek B"):
        assert at(thin, surface) == exactly(at(full, surface))
    assert at(full, "face B") - at(thin, "face B") == exactly(less)


@given(lengths(1, 15))
@STEADY
def test_the_hub_of_a_pair_trims_the_nose_when_it_reaches_it(trim: float) -> None:
    profile = tongue_pair_profile(20.0, 8.0, 6.0, 10.0, 5.0)
    run = Pass(profile, 22.0, trim - 10.0, Posture.FLAT_A, {"hub far": "nose"})
    made = cut(22.0, WIDTH, [run])
    assert at(made, "nose", 1) == exactly(trim)
    assert at(made, "upper rim far, pass 1", 1) - at(made, "nose", 1) == exactly(10.0)


@pytest.mark.parametrize("moves", [2, 3])
def test_a_long_tongue_takes_a_narrow_cutter_several_fence_positions(moves: int) -> None:
    long = [run for k in range(moves) for run in tongue_passes_flat(8.0, 6.0, 7.0 + 6.0 * k)]
    made = cut(20.0, WIDTH, long)
    assert made.span("shoulder A", 1)[1][0] == exactly(7.0 + 6.0 * (moves - 1))
    assert made.area[0] == exactly(20.0 * WIDTH - 12.0 * (7.0 + 6.0 * (moves - 1)))
