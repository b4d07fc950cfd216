"""The board of a simulated pass as it lies on the machine."""

from __future__ import annotations

from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from faywright.section import Pass, Posture, straight_profile
from faywright.setups.simulate import PassResult, run_passes
from tests.strategies import STEADY, lengths

CUTTER = straight_profile(4.0, 30.0, 3.0)
THICKNESS, WIDTH = 19.0, 80.0


@st.composite
def passes(draw: st.DrawFn) -> list[Pass]:
    posture = st.sampled_from(Posture)
    return [
        Pass(CUTTER, draw(lengths(1, 12)), draw(lengths(-2, 14)), draw(posture))
        for _ in range(draw(st.integers(1, 4)))
    ]


def results(*runs: Pass) -> tuple[PassResult, ...]:
    return run_passes(THICKNESS, WIDTH, runs)


@STEADY
@given(passes())
def test_what_comes_is_what_is_taken_left_and_thrown_off(runs: list[Pass]) -> None:
    for result in results(*runs):
        seen = result.seen
        whole = seen.taken.area + seen.left.area + result.offcut
        assert whole == pytest.approx(seen.before.area, abs=1e-5)
        assert seen.taken.area == pytest.approx(result.area, abs=1e-9)


@STEADY
@given(passes())
def test_every_pass_meets_what_the_one_before_has_left(runs: list[Pass]) -> None:
    found = results(*runs)
    assert found[0].before.equals(shapely.box(0, 0, THICKNESS, WIDTH))
    assert all(one.after.equals(two.before) for one, two in pairwise(found))


@STEADY
@given(passes())
def test_work_lies_on_the_table_and_against_the_fence(runs: list[Pass]) -> None:
    for result in results(*runs):
        left, low, _, _ = result.seen.before.bounds
        assert left >= -1e-9
        assert low >= -1e-9
        cutter = shapely.Polygon(result.run.silhouette)
        assert shapely.difference(result.seen.taken, cutter).area < 1e-6


@pytest.mark.parametrize(
    ("posture", "size"),
    [
        (Posture.ON_EDGE_A, (THICKNESS, WIDTH)),
        (Posture.ON_EDGE_B, (THICKNESS, WIDTH)),
        (Posture.FLAT_A, (WIDTH, THICKNESS)),
        (Posture.FLAT_B, (WIDTH, THICKNESS)),
    ],
)
def test_a_board_lies_flat_or_stands_on_edge(posture: Posture, size: tuple[float, float]) -> None:
    (result,) = results(Pass(CUTTER, 5.0, 6.0, posture))
    assert result.seen.before.bounds == (0.0, 0.0, *size)


def test_a_pass_in_the_air_takes_nothing() -> None:
    (result,) = results(Pass(CUTTER, 5.0, -30.0, Posture.FLAT_A))
    assert result.seen.taken.is_empty
    assert result.seen.left.equals(result.seen.before)
