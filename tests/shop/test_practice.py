from __future__ import annotations

import math
from dataclasses import replace

import pytest

from faywright.shop import Cutter, Timber
from faywright.shop.practice import (
    RIM_SPEED_LIMIT,
    deepest_bite,
    greatest_speeds,
    rim_speed,
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
    assert spindle_speed(machine, slot(60.0)).speed_rpm == 16000


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
