"""What a single pass does to the board: what it takes, leaves and touches."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from faywright.section.cutting import Pass, cut
from faywright.section.posture import Posture
from faywright.setups.simulate import run_passes
from tests.joints.builders import exactly, slot, straight
from tests.strategies import STEADY, lengths

THICK, WIDE = 19.0, 120.0
EDGE_A, EDGE_B, FLAT_A, FLAT_B = (
    Posture.ON_EDGE_A,
    Posture.ON_EDGE_B,
    Posture.FLAT_A,
    Posture.FLAT_B,
)


def plain(posture: Posture, height: float, far: float, diameter: float = 6.0) -> Pass:
    return Pass(straight(diameter).profile, height, far - diameter / 2, posture)


def wing(posture: Posture, height: float, far: float) -> Pass:
    return Pass(slot(4.0).profile, height, far - 30.0, posture)


# Passes, area taken, bite upwards, bite across, by hand

BY_HAND = [
    ([plain(EDGE_A, 5.0, 12.0)], 30.0, 5.0, 6.0),
    ([plain(EDGE_A, 5.0, 12.0), plain(EDGE_A, 5.0, 14.0)], 10.0, 5.0, 2.0),
    ([plain(EDGE_A, 5.0, 12.0), plain(EDGE_A, 8.0, 12.0)], 18.0, 3.0, 6.0),
    ([plain(EDGE_A, 5.0, 13.0), plain(EDGE_B, 5.0, 13.0)], 5.0, 5.0, 1.0),
    ([plain(FLAT_A, 4.0, 3.0)], 12.0, 4.0, 3.0),
    ([plain(FLAT_A, 4.0, 3.0), plain(FLAT_B, 4.0, 3.0)], 12.0, 4.0, 3.0),
    ([wing(FLAT_A, 11.0, 7.0)], 28.0, 4.0, 7.0),
    ([plain(EDGE_A, 5.0, -1.0)], 0.0, 0.0, 0.0),
]


@pytest.mark.parametrize(("passes", "area", "up", "across"), BY_HAND)
def test_area_and_bites_are_those_of_the_fresh_wood(
    passes: list[Pass], area: float, up: float, across: float
) -> None:
    last = run_passes(THICK, WIDE, passes)[-1]
    bites = (last.area, last.bite_up, last.bite_across)
    assert bites == pytest.approx((area, up, across), abs=1e-6)


@st.composite
def several(draw: st.DrawFn) -> list[Pass]:
    found = []
    for _ in range(draw(st.integers(1, 4))):
        posture = draw(st.sampled_from(Posture))
        height, far = draw(lengths(1, 12)), draw(lengths(1, 18))
        made = draw(st.sampled_from([plain, wing]))
        found.append(made(posture, height, far))
    return found


@given(passes=several(), thickness=lengths(14, 40))
@STEADY
def test_wood_is_neither_made_nor_lost(passes: list[Pass], thickness: float) -> None:
    results = run_passes(thickness, WIDE, passes)
    gone = sum(result.area + result.offcut for result in results)
    left = shapely.area(results[-1].after)
    assert gone + left == pytest.approx(thickness * WIDE, abs=1e-6)
    assert left == pytest.approx(cut(thickness, WIDE, passes).area[0], abs=1e-6)


@given(passes=several(), thickness=lengths(14, 40))
@STEADY
def test_a_pass_run_again_takes_nothing(passes: list[Pass], thickness: float) -> None:
    again = run_passes(thickness, WIDE, [*passes, passes[-1]])[-1]
    assert (again.fresh, again.area) == ("nothing", 0.0)
    assert again.after is again.before


def test_what_is_seen_on_the_machine_is_turned_with_the_work() -> None:
    seen = run_passes(THICK, WIDE, [plain(FLAT_B, 4.0, 3.0)])[-1].seen
    assert shapely.bounds(seen.before).tolist() == exactly([0.0, 0.0, WIDE, THICK])
    assert shapely.bounds(seen.taken).tolist() == exactly([0.0, 0.0, 3.0, 4.0])
    assert shapely.area(seen.left) == exactly(THICK * WIDE - 12.0)


@pytest.mark.parametrize(("length", "rubs"), [(8.0, 0.0), (3.0, 4.0)])
def test_a_shank_as_thick_as_the_cutter_rubs_on_both_walls(length: float, rubs: float) -> None:
    profile = straight(6.0, cutting_length=length, shank=6.0).profile
    result = run_passes(THICK, WIDE, [Pass(profile, 5.0, 9.0, EDGE_A)])[-1]
    assert result.rubs == pytest.approx(rubs, abs=1e-6)


def test_work_beyond_the_cutter_is_what_keeps_it_from_being_thrown() -> None:
    inside = run_passes(THICK, WIDE, [plain(EDGE_A, 5.0, 12.0)])[-1]
    outside = run_passes(THICK, WIDE, [plain(EDGE_A, 5.0, 22.0)])[-1]
    assert inside.wood_beyond
    assert not outside.wood_beyond


def test_only_the_board_itself_goes_on_to_the_next_pass() -> None:
    frees = [plain(EDGE_A, 8.0, 14.0), Pass(straight(3.0).profile, 5.5, 6.5, FLAT_B)]
    last = run_passes(THICK, WIDE, frees)[-1]
    assert last.offcut == pytest.approx(25.0, abs=1e-6)
    assert np.isclose(shapely.area(last.after) + last.area + last.offcut, shapely.area(last.before))
