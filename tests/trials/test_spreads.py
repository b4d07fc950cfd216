"""Clearances of several joints taken together, against what sampling shows."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.trials.spreads import FINE_ENOUGH, Spreads
from tests.strategies import STEADY, lengths

joints = st.lists(st.tuples(lengths(-0.3, 0.6), lengths(0, 0.2)), min_size=1, max_size=6).map(
    lambda pairs: Spreads(np.array([m for m, _ in pairs]), np.array([s for _, s in pairs]))
)


@STEADY
@given(spreads=joints, low=lengths(-0.5, 0.5), width=lengths(0, 0.5))
def test_a_chance_is_between_nought_and_one_and_grows_with_the_band(
    spreads: Spreads, low: float, width: float
) -> None:
    inner, outer = spreads.chance((low, low + width)), spreads.chance((low - 0.1, low + width))
    assert 0 <= inner <= outer <= 1


@STEADY
@given(spreads=joints)
def test_the_middle_90_percent_hold_90_percent(spreads: Spreads) -> None:
    low, high = spreads.quantile(0.05), spreads.quantile(0.95)
    assert low <= high
    assert spreads.below(low - FINE_ENOUGH) <= 0.05 <= spreads.below(low + FINE_ENOUGH)
    assert spreads.below(high - FINE_ENOUGH) <= 0.95 <= spreads.below(high + FINE_ENOUGH)


def test_one_joint_is_a_normal_distribution() -> None:
    one = Spreads(np.array([0.18]), np.array([0.04]))
    assert one.chance((0.18 - 0.04, 0.18 + 0.04)) == pytest.approx(math.erf(math.sqrt(0.5)))
    assert one.quantile(0.95) == pytest.approx(0.18 + 1.6449 * 0.04, abs=FINE_ENOUGH)


def test_joints_of_two_kinds_are_not_taken_for_one_kind_between_them() -> None:
    two = Spreads(np.array([0.0, 0.4]), np.array([0.01, 0.01]))
    assert two.chance((0.1, 0.3)) == pytest.approx(0.0, abs=1e-12)
    assert two.chance((-0.1, 0.1)) == pytest.approx(0.5)


def test_what_is_known_exactly_is_in_its_band_or_not() -> None:
    exact = Spreads(np.array([0.18, 0.30]), np.zeros(2))
    assert exact.chance((0.08, 0.28)) == pytest.approx(0.5)


def test_the_chance_is_what_sampling_shows() -> None:
    spreads = Spreads(np.array([0.1, 0.18, 0.3]), np.array([0.02, 0.05, 0.04]))
    generator = np.random.Generator(np.random.SFC64(3))
    drawn = spreads.centres + spreads.deviations * generator.standard_normal((40_000, 3))
    inside = float(((drawn > 0.08) & (drawn < 0.28)).mean())
    assert spreads.chance((0.08, 0.28)) == pytest.approx(inside, abs=0.006)
    ends = np.quantile(drawn, [0.05, 0.95])
    assert [spreads.quantile(0.05), spreads.quantile(0.95)] == pytest.approx(ends, abs=0.002)
