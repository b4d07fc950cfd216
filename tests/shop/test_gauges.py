from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given

from faywright.errors import RangeError
from tests.shop.owned import gauge
from tests.strategies import STEADY, lengths


@given(lengths(0.001, 2), lengths(0, 2))
@STEADY
def test_a_reading_is_worth_its_step_and_its_scatter(step: float, scatter: float) -> None:
    found = gauge(resolution=step, repeatability=scatter).standard_uncertainty
    assert found == pytest.approx(math.sqrt(step**2 / 12 + scatter**2), rel=1e-12)
    assert max(step / math.sqrt(12), scatter) <= found * (1 + 1e-12)


@given(lengths(-5, 5), lengths(0, 100))
@STEADY
def test_a_gauge_shows_its_zero_error_on_top(zero: float, true: float) -> None:
    assert gauge(zero_error=zero).shows(true) == pytest.approx(true + zero, abs=1e-12)


def test_a_zero_error_that_is_known_makes_a_reading_no_worse() -> None:
    assert gauge(zero_error=0.4).standard_uncertainty == gauge().standard_uncertainty


@pytest.mark.parametrize(
    ("step", "scatter"),
    [(0.0, 0.02), (-0.01, 0.02), (2.1, 0.02), (0.01, -0.01), (0.01, 2.1), (math.nan, 0.0)],
)
def test_a_gauge_without_steps_or_with_odd_scatter_is_refused(step: float, scatter: float) -> None:
    said = f"^gauge G1: resolution {step:g} mm and repeatability {scatter:g} mm cannot both be"
    with pytest.raises(RangeError, match=said):
        gauge(resolution=step, repeatability=scatter)


@pytest.mark.parametrize("zero", [5.1, -5.1, math.nan])
def test_a_gauge_far_from_nought_is_refused(zero: float) -> None:
    said = f"^gauge G1: a zero error of {zero:g} mm is beyond 5 mm. Zero the gauge"
    with pytest.raises(RangeError, match=said):
        gauge(zero_error=zero)


def test_a_gauge_that_is_used_for_nothing_is_refused() -> None:
    with pytest.raises(RangeError, match=r"^gauge G1: it is used for nothing\. Give its uses"):
        replace(gauge(), uses=())
