"""Proportions: thirds, lengths, allowances, and figures that contradict each other."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from faywright.errors import InfeasibleError
from faywright.joints.proportion import BOTTOM_GAP, Target
from tests.joints.builders import exactly, joint
from tests.strategies import STEADY, lengths


def target(thickness: float = 21.0, **wishes: Any) -> Target:
    return joint([thickness] * 3, [thickness] * 3, **wishes).target


@given(thickness=lengths(12, 60))
@STEADY
def test_a_tongue_is_a_third_of_the_thickness_and_the_groove_wider_by_the_play(
    thickness: float,
) -> None:
    found = target(thickness)
    assert found.thickness == exactly(thickness / 3)
    assert found.width == exactly(thickness / 3 + 0.36)
    assert (found.play, found.band) == (0.36, (0.16, 0.56))
    assert not found.given


def test_the_middle_board_decides_the_proportions() -> None:
    assert joint([30.0] * 3, [18.0, 21.0, 30.0]).target.thickness == exactly(7.0)


@pytest.mark.parametrize(
    ("thickness", "length"), [(10.0, 6.0), (12.0, 6.0), (19.0, 9.5), (24.0, 12.0), (40.0, 12.0)]
)
def test_a_tongue_is_half_the_thickness_long_from_6_to_12(thickness: float, length: float) -> None:
    found = target(thickness)
    assert found.length == exactly(length)
    assert found.depth == exactly(length + BOTTOM_GAP)


@pytest.mark.parametrize(("width", "length"), [(74.9, 7.0), (75.0, 10.5)])
def test_narrow_boards_take_a_tongue_as_long_as_thick(width: float, length: float) -> None:
    assert target(21.0, width=width).length == exactly(length)


def test_a_tongue_on_a_narrow_thin_board_is_still_5_long() -> None:
    assert target(12.0, width=60.0).length == exactly(5.0)


FIGURES: list[tuple[dict[str, float], dict[str, float]]] = [
    ({"tongue_thickness": 8.0}, {"thickness": 8.0, "width": 8.36}),
    ({"groove_width": 8.0}, {"thickness": 7.64, "width": 8.0}),
    ({"groove_width": 8.0, "tongue_thickness": 7.7}, {"thickness": 7.7, "width": 8.0}),
    ({"tongue_length": 8.0}, {"length": 8.0, "depth": 9.0}),
    ({"groove_depth": 8.0}, {"length": 7.0, "depth": 8.0}),
    ({"groove_depth": 8.0, "bottom_gap": 0.2}, {"length": 7.8, "depth": 8.0}),
    ({"tongue_length": 8.0, "bottom_gap": 2.0}, {"length": 8.0, "depth": 10.0}),
    ({"tongue_length": 7.5, "groove_depth": 8.0}, {"length": 7.5, "depth": 8.0}),
]


@pytest.mark.parametrize(("wishes", "wanted"), FIGURES)
def test_the_makers_own_figures_come_first(
    wishes: dict[str, Any], wanted: dict[str, float]
) -> None:
    found = target(21.0, **wishes)
    assert {name: getattr(found, name) for name in wanted} == exactly(wanted)


@pytest.mark.parametrize("wish", [{"groove_width": 8.0}, {"tongue_thickness": 8.0}])
def test_a_width_given_or_following_from_a_thickness_given_is_kept_to(
    wish: dict[str, Any],
) -> None:
    assert target(21.0, **wish).given


def test_length_depth_and_gap_are_not_all_to_be_given() -> None:
    with pytest.raises(InfeasibleError, match="are all given, and two decide the third"):
        target(21.0, tongue_length=8.0, groove_depth=9.0, bottom_gap=1.0)


def test_a_groove_without_room_under_its_tongue_is_refused() -> None:
    with pytest.raises(InfeasibleError, match="8 mm deep leaves no room under a tongue 8 mm") as e:
        target(21.0, tongue_length=8.0, groove_depth=8.0)
    assert "at most 7 mm" in e.value.remedy


@pytest.mark.parametrize("wish", [{"groove_depth": 0.8}, {"groove_depth": 3, "bottom_gap": 4}])
def test_a_groove_that_its_bottom_gap_uses_up_is_refused(wish: dict[str, Any]) -> None:
    with pytest.raises(InfeasibleError, match="leaves no tongue to speak of") as caught:
        target(21.0, **wish)
    assert "smaller bottom_gap" in caught.value.remedy


@pytest.mark.parametrize("width", [7.65, 8.1])
def test_a_groove_and_a_tongue_that_miss_the_fit_contradict_each_other(width: float) -> None:
    with pytest.raises(InfeasibleError, match=r"and the fit wants 0\.16 to 0\.56 mm"):
        target(21.0, groove_width=width, tongue_thickness=7.5)


@pytest.mark.parametrize(
    ("wish", "more"), [({"film": 0.05}, 0.2), ({"sanding": 0.1}, -0.2), ({"film": 0.1}, 0.4)]
)
def test_film_on_four_surfaces_and_sanding_of_two_cheeks_are_cut_for(
    wish: dict[str, Any], more: float
) -> None:
    found = target(21.0, **wish)
    assert found.play == exactly(0.36 + more)
    assert found.band == exactly((0.16 + more, 0.56 + more))
    assert found.width == exactly(7.0 + 0.36 + more)


def test_a_strip_decides_the_width_of_its_groove() -> None:
    found = joint([21.0] * 3, [6.0, 6.1, 6.2], strips=True).target
    assert (found.thickness, found.width) == exactly((6.1, 6.46))
    assert found.length == exactly(6.1 * 1.5)


def test_a_strip_in_a_face_goes_no_deeper_than_half_of_it() -> None:
    found = joint([21.0] * 3, [6.0] * 3, strips=True, groove_edge="face A").target
    assert found.depth == exactly(10.5)
    assert found.length == exactly(10.5 - BOTTOM_GAP)


def test_a_centred_groove_has_no_offset_of_its_own() -> None:
    assert target(21.0).offset is None
    assert target(21.0, offset=5.0).offset == 5.0
