from __future__ import annotations

import math
from dataclasses import replace

import pytest

from faywright.shop import Cutter, Timber
from faywright.shop.practice import (
    RIM_SPEED_LIMIT,
    deepest_bite,
    greatest_speeds,
    largest_bite,
    least_shank,
    rim_speed,
    slow_start,
    slow_starts,
    speed_limit,
    spindle_speed,
)
from tests.shop.owned import ROUTER, pair, slot, straight, v_shape

MARKED, TABLE = "marked on the cutter", "rule of thumb for its diameter, for it has no marking"
RIM = "its rim would pass 70 m/s"


@pytest.mark.parametrize(("diameter", "speed"), [(6.0, 7.5), (12.7, 16.0), (25.4, 32.0)])
def test_rims_at_24000_run_as_trade_safety_text_says(diameter: float, speed: float) -> None:
    """Common practice, no source; the last two are printed in whole metres a second."""
    digit = 0.05 if diameter == 6.0 else 0.5
    assert rim_speed(diameter, 24000) == pytest.approx(speed, abs=digit)


def test_a_rim_a_metre_round_runs_a_metre_a_turn() -> None:
    assert rim_speed(1000 / math.pi, 60) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize("marked", [8000, 18000, 24000, 30000])
def test_the_speed_marked_on_a_cutter_comes_first(marked: int) -> None:
    assert speed_limit(straight(12.7, max_speed_rpm=marked)) == (marked, MARKED)


@pytest.mark.parametrize(
    ("cutter", "limit"),
    [
        (straight(6.0), 24000),
        (straight(25.4), 24000),
        (straight(25.43), 24000),  # an inch with runout
        (straight(26.0), 18000),
        (slot(50.8), 18000),
        (slot(51.4), 16000),
        (slot(63.5), 16000),
        (slot(64.1), 12000),
        (slot(90.0), 12000),
        (slot(91.0), 8000),
    ],
)
def test_without_a_marking_the_table_gives_the_limit(cutter: Cutter, limit: int) -> None:
    assert speed_limit(cutter) == (limit, TABLE)


def test_a_larger_cutter_is_never_allowed_to_turn_faster() -> None:
    limits = [speed_limit(slot(float(diameter)))[0] for diameter in range(25, 150)]
    assert limits == sorted(limits, reverse=True)
    assert all(
        rim_speed(diameter, limit) <= RIM_SPEED_LIMIT
        for diameter, limit in zip(range(25, 150), limits, strict=True)
    )


def test_the_table_alone_keeps_rims_below_the_limit() -> None:
    assert all(rim_speed(up_to, speed) < 70 for up_to, speed in greatest_speeds().items())


@pytest.mark.parametrize("diameter", [80.0, 120.0])
def test_a_marking_that_takes_the_rim_past_70_is_not_followed(diameter: float) -> None:
    limit, source = speed_limit(replace(slot(diameter), max_speed_rpm=24000))
    assert source == RIM
    assert rim_speed(diameter, limit) <= 70 < rim_speed(diameter, limit + 1)


@pytest.mark.parametrize(
    ("limit", "speed"), [(24000, 24000), (20000, 18000), (18000, 18000), (8000, 8000)]
)
def test_the_fastest_speed_within_the_limit_is_set(limit: int, speed: int) -> None:
    found = spindle_speed(ROUTER, straight(max_speed_rpm=limit))
    assert (found.speed_rpm, found.limit_rpm, found.source) == (speed, limit, MARKED)


def test_a_machine_that_is_too_fast_for_a_cutter_has_no_speed_for_it() -> None:
    found = spindle_speed(ROUTER, straight(max_speed_rpm=7999))
    assert (found.speed_rpm, found.limit_rpm) == (None, 7999)


def test_speeds_may_be_listed_in_any_order() -> None:
    machine = replace(ROUTER, speeds_rpm=(16000, 8000, 24000, 12000))
    assert spindle_speed(machine, straight(60.0)).speed_rpm == 16000


# Wings without a marking start slower, common practice: the cautious one of the tables seen
STARTS = [
    (slot(25.4), 16000, 16000),
    (slot(48.0), 10000, 8000),
    (slot(60.0), 9000, 8000),
    (slot(75.0), 8000, 8000),
    (slot(120.0), 6000, 8000),  # the slowest this machine turns, and no faster than 8000 at all
    (pair(), 10000, 8000),
]


@pytest.mark.parametrize(("cutter", "start", "speed"), STARTS)
def test_a_wing_without_a_marking_starts_slow(cutter: Cutter, start: int, speed: int) -> None:
    assert slow_start(cutter) == start
    assert spindle_speed(ROUTER, cutter).speed_rpm == speed


@pytest.mark.parametrize("cutter", [straight(), v_shape(), replace(slot(), max_speed_rpm=18000)])
def test_other_cutters_run_as_fast_as_they_may(cutter: Cutter) -> None:
    assert slow_start(cutter) is None
    assert spindle_speed(ROUTER, cutter).speed_rpm == min(24000, speed_limit(cutter)[0])


def test_a_start_is_never_faster_than_the_limit() -> None:
    assert all(slow_starts()[up_to] < limit for up_to, limit in greatest_speeds().items())


def test_a_machine_too_fast_even_for_the_limit_has_no_speed_for_an_unmarked_wing() -> None:
    machine = replace(ROUTER, speeds_rpm=(24000,))
    assert spindle_speed(machine, slot(60.0)).speed_rpm is None


def test_packaged_speeds_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        greatest_speeds()[25.4] = 30000  # type: ignore[index] # on purpose


@pytest.mark.parametrize(
    ("cutter", "timber", "most"),
    [
        (straight(6.35), "softwood", 3.0),
        (straight(6.35), "hardwood", 3.0),
        (straight(3.0), "hardwood", 1.5),
        (straight(8.0), "softwood", 4.0),
        (straight(20.0), "softwood", 8.0),
        (straight(8.0), "hardwood", 4.0),
        (straight(20.0), "hardwood", 6.0),
        (straight(20.0), "sheet", 6.0),
        (v_shape(), "softwood", 8.0),
        (slot(), "softwood", 13.0),
        (slot(), "sheet", 6.0),
        (pair(), "hardwood", 6.0),
    ],
)
def test_a_bite_is_kept_by_cutter_and_timber(cutter: Cutter, timber: Timber, most: float) -> None:
    assert deepest_bite(cutter, timber) == pytest.approx(most)


@pytest.mark.parametrize(
    ("timber", "area"), [("softwood", 121.0), ("hardwood", 81.0), ("sheet", 81.0)]
)
def test_the_most_wood_in_one_pass_is_a_square_bar(timber: Timber, area: float) -> None:
    """Half an inch wide and a quarter deep is 80.6 mm2, common practice in hardwood."""
    assert largest_bite(timber) ** 2 == area
    assert area >= 12.7 * 6.35


@pytest.mark.parametrize(
    ("cutter", "shank"),
    [(straight(25.4), 0.0), (straight(25.43), 0.0), (straight(26.0), 12.0), (slot(40.0), 12.0)],
)
def test_cutters_over_an_inch_want_a_thick_shank(cutter: Cutter, shank: float) -> None:
    assert least_shank(cutter) == shank
