from __future__ import annotations

import math
from typing import Literal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import RangeError
from faywright.fit import COVERAGE, Spread, one_sided
from tests.strategies import STEADY, lengths

Shape = Literal["normal", "rectangular"]
SHAPES: tuple[Shape, ...] = ("normal", "rectangular")
TRIALS = 200_000
FAR_OUT = 4
"""How many standard errors a sample may be off."""

spreads = st.builds(Spread, st.sampled_from(SHAPES), lengths(0, 2), lengths(-1, 1))


def drawn(spread: Spread) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return spread.draw(np.random.default_rng(7), (TRIALS,))


@pytest.mark.parametrize(("shape", "kurtosis"), [("normal", 3.0), ("rectangular", 1.8)])
@pytest.mark.parametrize("mean", [0.0, -0.3])
def test_draws_have_the_mean_and_deviation_they_say(
    shape: Shape, kurtosis: float, mean: float
) -> None:
    spread = Spread(shape, 0.25, mean)
    sample, sd = drawn(spread), spread.standard_uncertainty
    assert abs(sample.mean() - mean) < FAR_OUT * sd / math.sqrt(TRIALS)
    error = sd * math.sqrt((kurtosis - 1) / (4 * TRIALS))
    assert abs(sample.std() - sd) < FAR_OUT * error


def test_a_rectangular_error_has_the_same_chance_all_over_and_none_beyond() -> None:
    sample = drawn(Spread("rectangular", 0.5, 2.0))
    assert 1.5 <= sample.min() < 1.5001
    assert 2.4999 < sample.max() <= 2.5
    shares = np.histogram(sample, bins=10, range=(1.5, 2.5))[0] / TRIALS
    assert np.abs(shares - 0.1).max() < FAR_OUT * math.sqrt(0.1 * 0.9 / TRIALS)


@pytest.mark.parametrize(("within", "chance"), [(1, 0.682689), (2, 0.954500), (3, 0.997300)])
def test_a_normal_error_stays_within_its_deviations_as_often_as_any(
    within: float, chance: float
) -> None:
    share = float((np.abs(drawn(Spread("normal", 0.1))) <= 0.1 * within).mean())
    assert abs(share - chance) < FAR_OUT * math.sqrt(chance * (1 - chance) / TRIALS)


def test_draws_come_in_the_shape_asked_for_and_are_the_same_for_the_same_seed() -> None:
    spread = Spread("normal", 0.1, 0.05)
    one, other = (spread.draw(np.random.default_rng(3), (4, 5)) for _ in range(2))
    assert one.shape == (4, 5)
    assert (one == other).all()


@given(spreads)
@STEADY
def test_a_limit_is_beyond_the_standard_uncertainty(spread: Spread) -> None:
    assert spread.limit >= spread.standard_uncertainty
    factor = {"normal": COVERAGE, "rectangular": math.sqrt(3)}[spread.shape]
    assert spread.limit == pytest.approx(factor * spread.standard_uncertainty, rel=1e-12)


@pytest.mark.parametrize("shape", SHAPES)
def test_an_error_of_no_size_is_its_mean(shape: Shape) -> None:
    assert (drawn(Spread(shape, 0.0, 0.4)) == 0.4).all()


@given(lengths(0, 2))
@STEADY
def test_a_one_sided_error_is_half_its_most_on_average(most: float) -> None:
    spread = one_sided(most)
    assert spread.mean == most / 2
    assert spread.standard_uncertainty == pytest.approx(most / math.sqrt(12), rel=1e-12)


def test_a_one_sided_error_is_never_below_nought() -> None:
    sample = drawn(one_sided(0.02))
    assert 0 <= sample.min() < 1e-6
    assert 0.02 - 1e-6 < sample.max() <= 0.02


@pytest.mark.parametrize(
    ("size", "mean", "said"),
    [
        (-0.1, 0.0, "-0.1 about 0"),
        (math.nan, 0.0, "nan about 0"),
        (math.inf, 0.0, "inf about 0"),
        (0.1, math.nan, "0.1 about nan"),
        (0.1, -math.inf, "0.1 about -inf"),
    ],
)
def test_a_spread_below_nought_or_without_end_is_refused(
    size: float, mean: float, said: str
) -> None:
    with pytest.raises(RangeError, match=f"^uncertainty: a spread of {said} cannot be"):
        Spread("normal", size, mean)
