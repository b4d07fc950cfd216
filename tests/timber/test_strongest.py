"""The proportion at which tongue and groove wall give way together."""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from faywright.errors import RangeError
from faywright.timber.allowable import GUIDE
from faywright.timber.members import LineLoad, groove_wall, tongue
from faywright.timber.strength import Service
from faywright.timber.strongest import Proportion, Side, strongest_proportion
from tests.strategies import STEADY, lengths
from tests.timber.strips import DRY, PINE, WALNUT, services, timbers

LOAD = LineLoad(force=200, along=300)

sides = st.builds(
    Side,
    wood=timbers(),
    arm=lengths(0.3, 20),
    grain=st.sampled_from(["along the edge", "out of the edge"]),
)
boards = lengths(6, 60)


def strongest(
    one: Side, two: Side, board: float = 18, play: float = 0.0, load: LineLoad = LOAD
) -> Proportion:
    return strongest_proportion(DRY, load, board=board, tongue_side=one, wall_side=two, play=play)


def used(service: Service, one: Side, two: Side, thickness: float, wood_left: float) -> float:
    """Share of the allowable at another tongue thickness, worked out by the members alone."""
    strip, wall = one.strip(thickness), two.strip((wood_left - thickness) / 2)
    return max(
        tongue(one.wood, service, LOAD, strip).utilisation,
        groove_wall(two.wood, service, LOAD, wall).utilisation,
    )


@STEADY
@given(services, sides, sides, boards, lengths(0, 1), lengths(0.001, 0.999))
def test_no_other_thickness_uses_less(
    service: Service, one: Side, two: Side, board: float, play: float, share: float
) -> None:
    found = strongest_proportion(
        service, LOAD, board=board, tongue_side=one, wall_side=two, play=play
    )
    other = share * (board - play)
    assume(abs(other - found.tongue_thickness) > 1e-6 * board)
    assert used(service, one, two, other, board - play) > found.utilisation


@STEADY
@given(sides, sides, boards)
def test_a_hair_either_way_is_weaker(one: Side, two: Side, board: float) -> None:
    found = strongest(one, two, board)
    for change in (-1e-5, 1e-5):
        other = found.tongue_thickness * (1 + change)
        assert used(DRY, one, two, other, board) > found.utilisation


@STEADY
@given(sides, sides, boards, lengths(0, 1))
def test_tongue_and_wall_give_way_at_the_same_load_and_fill_the_board(
    one: Side, two: Side, board: float, play: float
) -> None:
    found = strongest(one, two, board, play)
    assert found.tongue.utilisation == pytest.approx(found.wall.utilisation, rel=1e-9)
    filled = found.tongue_thickness + 2 * found.wall_thickness + play
    assert filled == pytest.approx(board, rel=1e-12)
    assert 0 < found.tongue_thickness < board


@STEADY
@given(sides, boards, lengths(0, 1))
def test_thirds_are_exact_for_one_timber_grain_and_lever(
    side: Side, board: float, play: float
) -> None:
    found = strongest(side, side, board, play)
    assert found.tongue_thickness == pytest.approx((board - play) / 3, rel=1e-9)
    assert found.wall_thickness == pytest.approx((board - play) / 3, rel=1e-9)
    assert found.gain == pytest.approx(0, abs=1e-9)
    assert "the rule of thirds is right here" in found.words(str)[2]


def test_where_both_split_the_walls_go_by_the_root_of_the_levers() -> None:
    """By hand: equal stress means wall over tongue is the root of 16 over 4, so T/(1 + 2 x 2)."""
    found = strongest(Side(wood=WALNUT, arm=4), Side(wood=WALNUT, arm=16), board=20)
    assert found.tongue_thickness == pytest.approx(4)
    assert found.wall_thickness == pytest.approx(8)


def test_where_both_shear_the_levers_do_not_matter() -> None:
    found = strongest(Side(wood=WALNUT, arm=0.3), Side(wood=WALNUT, arm=0.6), board=30)
    assert found.tongue.deciding.failure == "shearing off at the root"
    assert found.wall.deciding.failure == "shearing off at the root"
    assert found.tongue_thickness == pytest.approx(10)


def test_a_tongue_that_shears_beside_walls_that_split_balances_both() -> None:
    found = strongest(Side(wood=WALNUT, arm=0.5), Side(wood=WALNUT, arm=9), board=18)
    assert found.tongue.deciding.failure == "shearing off at the root"
    assert found.wall.deciding.failure == "splitting at the root"
    assert found.tongue.utilisation == pytest.approx(found.wall.utilisation)


@STEADY
@given(sides, sides, boards, lengths(0.1, 50))
def test_the_proportion_does_not_hang_on_the_load(
    one: Side, two: Side, board: float, more: float
) -> None:
    heavier = replace(LOAD, force=more * LOAD.force)
    found, other = strongest(one, two, board), strongest(one, two, board, load=heavier)
    assert other.tongue_thickness == found.tongue_thickness
    assert other.utilisation == pytest.approx(more * found.utilisation)


def test_without_a_load_there_is_a_proportion_and_nothing_used() -> None:
    side = Side(wood=PINE, arm=4)
    found = strongest(side, side, load=replace(LOAD, force=0))
    assert found.tongue_thickness == pytest.approx(6)
    assert (found.utilisation, found.gain) == (0, 0)


@STEADY
@given(sides, sides, boards)
def test_the_strongest_carries_no_less_than_thirds(one: Side, two: Side, board: float) -> None:
    assert strongest(one, two, board).gain >= -1e-9


def test_a_longer_lever_on_the_wall_wants_a_thinner_tongue() -> None:
    near, far = Side(wood=PINE, arm=4), Side(wood=PINE, arm=8)
    assert strongest(near, far).tongue_thickness < strongest(near, near).tongue_thickness
    assert strongest(far, near).tongue_thickness > strongest(near, near).tongue_thickness


def test_a_tongue_out_of_end_grain_may_be_thin() -> None:
    end = Side(wood=WALNUT, arm=5, grain="out of the edge")
    assert strongest(end, Side(wood=WALNUT, arm=5)).share < 0.15


def test_words_tell_the_proportion_why_and_what_thirds_would_do() -> None:
    found = strongest(Side(wood=WALNUT, arm=3), Side(wood=WALNUT, arm=12), board=20)
    first, second, third, caution = found.words("{:.1f} mm".format)
    assert first == (
        "strongest: tongue 4.0 mm, each wall 8.0 mm, in a board 20.0 mm thick; "
        "the tongue is 20 % of it"
    )
    assert second.startswith(
        "there tongue (splitting at the root) and wall (splitting at the root)"
    )
    assert third.startswith(
        "by the rule of thirds the wall would give way first, and the joint carry 31 % less"
    )
    assert third.endswith("here the arms are 3.0 mm and 12.0 mm")
    assert caution == GUIDE == found.caution


def test_boards_and_plays_that_cannot_be_are_refused() -> None:
    side = Side(wood=PINE, arm=4)
    with pytest.raises(RangeError, match="board thickness is 0"):
        strongest(side, side, board=0)
    for play in (-0.1, 18):
        with pytest.raises(RangeError, match="groove width less tongue thickness"):
            strongest(side, side, play=play)
    with pytest.raises(RangeError, match="lever arm is 0"):
        strongest(replace(side, arm=0), side)
