from __future__ import annotations

import math
from dataclasses import replace

import pytest

from faywright.errors import RangeError
from faywright.shop import Fence, Machine
from faywright.shop.machines import FenceSide, Rotation
from tests.shop.owned import ROUTER


@pytest.mark.parametrize(
    ("rotation", "side", "feed"),
    [
        ("anticlockwise", "behind the cutter", "right to left"),
        ("anticlockwise", "before the cutter", "left to right"),
        ("clockwise", "behind the cutter", "left to right"),
        ("clockwise", "before the cutter", "right to left"),
    ],
)
def test_the_work_goes_against_the_teeth_on_the_outer_side(
    rotation: Rotation, side: FenceSide, feed: str
) -> None:
    machine = replace(ROUTER, rotation=rotation, fence_side=side)
    assert machine.outer_side_feed == feed


@pytest.mark.parametrize("rotation", ["anticlockwise", "clockwise"])
@pytest.mark.parametrize("side", ["behind the cutter", "before the cutter"])
def test_teeth_on_the_outer_side_meet_the_work_head_on(rotation: Rotation, side: FenceSide) -> None:
    """Worked out a second way: velocity of a tooth from above, x to the right, y away."""
    outer_y = -1.0 if side == "behind the cutter" else 1.0
    turning = 1.0 if rotation == "anticlockwise" else -1.0
    tooth = turning * -outer_y  # across the spin axis: vx = -w y
    machine = replace(ROUTER, rotation=rotation, fence_side=side)
    work = {"left to right": 1.0, "right to left": -1.0}[machine.outer_side_feed]
    assert tooth * work < 0


def test_a_sliding_fence_moves_as_much_at_its_end_as_at_the_cutter() -> None:
    assert Fence().ratio == 1.0


@pytest.mark.parametrize(
    ("end", "cutter", "ratio"), [(900.0, 450.0, 2.0), (800.0, 320.0, 2.5), (500.0, 500.0, 1.0)]
)
def test_a_pivoted_fence_moves_more_at_its_end(end: float, cutter: float, ratio: float) -> None:
    fence = Fence(kind="pivoted", pivot_to_end=end, pivot_to_cutter=cutter)
    assert fence.ratio == pytest.approx(ratio)


@pytest.mark.parametrize(("end", "cutter"), [(None, 400.0), (800.0, None), (None, None)])
def test_a_pivoted_fence_needs_both_its_distances(end: float | None, cutter: float | None) -> None:
    with pytest.raises(RangeError, match=r"^fence: the distances of a pivoted fence are missing"):
        Fence(kind="pivoted", pivot_to_end=end, pivot_to_cutter=cutter)


@pytest.mark.parametrize(("end", "cutter"), [(400.0, 401.0), (400.0, 0.0), (400.0, math.nan)])
def test_a_pivoted_fence_ends_beyond_the_cutter(end: float, cutter: float) -> None:
    said = f"^fence: pivot_to_cutter {cutter:g} mm is not between 0 and pivot_to_end 400 mm"
    with pytest.raises(RangeError, match=said):
        Fence(kind="pivoted", pivot_to_end=end, pivot_to_cutter=cutter)


@pytest.mark.parametrize("speeds", [(), (0,), (-8000, 12000), (8000, 60001)])
def test_a_spindle_turns_at_speeds_there_are(speeds: tuple[int, ...]) -> None:
    with pytest.raises(RangeError, match=r"^machine R9: spindle speeds \[.*\] are not all from 1"):
        Machine(mark="R9", speeds_rpm=speeds)


@pytest.mark.parametrize("pitch", [0.0, -1.5, 25.1, math.nan])
def test_a_lift_rises_when_its_key_turns(pitch: float) -> None:
    said = f"^machine R1: a lift of {pitch:g} mm a turn is not between 0 and 25 mm. Give how far"
    with pytest.raises(RangeError, match=said):
        replace(ROUTER, lift_pitch=pitch)


@pytest.mark.parametrize("lift", [-0.01, 1.01, math.nan])
def test_work_rides_off_the_table_a_little_at_most(lift: float) -> None:
    with pytest.raises(RangeError, match=f"^machine R1: work_lift {lift:g} mm is not between 0"):
        replace(ROUTER, work_lift=lift)


@pytest.mark.parametrize(("pitch", "lift"), [(25.0, 1.0), (0.1, 0.0), (None, 0.02)])
def test_figures_at_the_limits_are_taken(pitch: float | None, lift: float) -> None:
    machine = replace(ROUTER, lift_pitch=pitch, work_lift=lift)
    assert (machine.lift_pitch, machine.work_lift) == (pitch, lift)


@pytest.mark.parametrize(
    ("length", "height"),
    [(0.0, 75.0), (-5.0, 75.0), (5001.0, 75.0), (600.0, 0.0), (600.0, 1001.0), (math.nan, 75.0)],
)
def test_a_fence_without_length_or_height_is_refused(length: float, height: float) -> None:
    said = f"^fence: a fence {length:g} mm long and {height:g} mm high cannot be. Give its length"
    with pytest.raises(RangeError, match=said):
        Fence(length=length, height=height)


@pytest.mark.parametrize("opening", [0.0, -3.0, 500.1, math.nan])
def test_a_table_opening_that_no_table_has_is_refused(opening: float) -> None:
    said = f"^machine R1: a table opening of {opening:g} mm is not between 0 and 500 mm. Give the"
    with pytest.raises(RangeError, match=said):
        replace(ROUTER, table_opening=opening)
