from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import RangeError
from faywright.timber.climate import Air, Climate, winter_and_summer
from faywright.timber.drawers import DrawerFit
from faywright.timber.movement import Shrinkage, across_width
from faywright.timber.year import Swing, swing
from tests.strategies import STEADY, lengths

INCH = 25.4

CHERRY = Shrinkage(0.00126, 0.00248, 3.7, 7.1)
WALNUT = Shrinkage(0.00190, 0.00274, 5.5, 7.8)
"""Wood Handbook, FPL-GTR-190 (2010), tables 13-5 and 4-3."""

shares = st.integers(0, 60).map(lambda number: number / 1000)


def swinging(swelling: float, shrinkage: float) -> Swing:
    return Swing(swelling=swelling, shrinkage=shrinkage, months=(-shrinkage,) * 6 + (swelling,) * 6)


def drawer_of(swelling: float, shrinkage: float) -> DrawerFit:
    return DrawerFit(
        opening_width=400, opening_height=103.3, swing=swinging(swelling, shrinkage), least_gap=0.8
    )


drawers = st.builds(
    DrawerFit,
    opening_width=lengths(100, 1200),
    opening_height=lengths(30, 400),
    swing=st.builds(swinging, shares, shares),
    least_gap=lengths(0, 3),
)


def test_a_drawer_leaves_the_least_gap_and_its_swelling_with_the_margin() -> None:
    drawer = drawer_of(swelling=0.02, shrinkage=0.01)
    assert drawer.height == pytest.approx(102.5 / 1.026)
    assert drawer.gap == pytest.approx(0.8 + 0.026 * drawer.height)


def test_side_play_is_the_same_all_year() -> None:
    assert drawer_of(0.02, 0.01).width == pytest.approx(400 - 2 * 0.6)


@STEADY
@given(drawers, st.floats(0, 1))
def test_a_drawer_never_binds_within_the_margin(drawer: DrawerFit, part: float) -> None:
    swollen = drawer.height * (1 + part * drawer.margin * drawer.swing.swelling)
    assert drawer.opening_height - swollen >= drawer.least_gap - 1e-9


@STEADY
@given(drawers, lengths(0, 1))
def test_a_higher_drawer_would_bind(drawer: DrawerFit, more: float) -> None:
    swollen = (drawer.height + more) * (1 + drawer.margin * drawer.swing.swelling)
    assert drawer.opening_height - swollen <= drawer.least_gap + 1e-9


@STEADY
@given(drawers, st.floats(-0.06, 0.06))
def test_gap_and_drawer_always_make_up_the_opening(drawer: DrawerFit, change: float) -> None:
    grown = drawer.height * (1 + change)
    assert drawer.at(change).size + grown == pytest.approx(drawer.opening_height)


def test_the_gap_closes_to_its_least_for_the_liveliest_boards_in_the_wettest_month() -> None:
    drawer = drawer_of(swelling=0.02, shrinkage=0.01)
    january, july = drawer.by_month[0], drawer.by_month[6]
    assert (january, july) == (drawer.driest, drawer.wettest)
    assert july.low == pytest.approx(0.8)
    assert january.size == pytest.approx(drawer.gap + 0.01 * drawer.height)
    assert january.standard_uncertainty == pytest.approx(0.15 * 0.01 * drawer.height)


@pytest.mark.parametrize("wood", [CHERRY, WALNUT], ids=["cherry", "walnut"])
def test_a_four_inch_front_grows_by_about_three_thirty_seconds(wood: Shrinkage) -> None:
    """A trade article on drawers, 2012: flatsawn, 35 to 80 % RH; told to the nearest 1/32 in."""
    dry, damp = Air(21.1, 35), Air(21.1, 80)
    climate = Climate(machining=dry, assembly=dry, room=winter_and_summer("shop", dry, damp))
    moves = swing(across_width(wood, "flat"), climate)
    drawer = DrawerFit(opening_width=400, opening_height=4.25 * INCH, swing=moves)
    at_four = replace(drawer, opening_height=4 * INCH * (1 + drawer.ready) + drawer.least_gap)
    assert at_four.height == pytest.approx(4 * INCH)
    grown = (at_four.gap - at_four.wettest.size) / INCH
    assert grown == pytest.approx(3 / 32, abs=1 / 64)


def test_a_drawer_made_at_its_driest_only_loses_gap() -> None:
    drawer = drawer_of(swelling=0.02, shrinkage=0.0)
    assert drawer.driest.size == drawer.gap > drawer.wettest.size


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"opening_height": 0.0}, r"opening height is 0"),
        ({"opening_width": -3.0}, r"opening width is -3"),
        ({"least_gap": -0.1}, r"least gap -0.1 mm is not between 0 and 51.65 mm"),
        ({"least_gap": 60.0}, r"least gap 60 mm is not between 0 and 51.65 mm"),
        ({"play": 100.0}, r"play 100 mm is not between 0 and 100 mm"),
        ({"margin": 4.0}, r"margin of 4 is outside 1 to 3"),
    ],
)
def test_a_drawer_that_cannot_be_is_refused(change: dict[str, float], message: str) -> None:
    with pytest.raises(RangeError, match=message):
        replace(drawer_of(0.0, 0.0), **change)  # type: ignore[arg-type]  # a field other than swing
