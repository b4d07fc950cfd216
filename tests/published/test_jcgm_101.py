"""JCGM 101:2008, clause 9: worked examples of propagation; values from memory of the document.

Intervals are symmetric in probability unless said otherwise. Tolerance: half of the last printed
digit. JCGM 100:2008 facts used beside it stand at the end, from memory as well.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from faywright.fit import Effect, Spread, budget, sampled
from faywright.shop import ASSUMED_GAUGE, Gauge

Floats = NDArray[np.float64]
TRIALS = 10_000_000
"""So many that sampling moves a printed end by less than half of its last digit."""

ROOT_3 = math.sqrt(3)

NORMAL = (Spread("normal", 1.0),) * 4
RECTANGULAR = (Spread("rectangular", ROOT_3),) * 4
ONE_WIDER = (*RECTANGULAR[:3], Spread("rectangular", 10 * ROOT_3))

CLAUSE_9_2 = [
    # clause and table, inputs, standard uncertainty and its digits, end of the 95 % interval
    pytest.param(NORMAL, 2.00, 0.005, 3.92, 0.005, id="9.2.2, table 2"),
    pytest.param(RECTANGULAR, 2.00, 0.005, 3.88, 0.005, id="9.2.3, table 3"),
    pytest.param(ONE_WIDER, 10.1, 0.05, 17.0, 0.05, id="9.2.4, table 4"),
]
Spreads = tuple[Spread, ...]


def middle(drawn: Floats) -> list[float]:
    """Ends of the middle 95 %."""
    at = [round(0.025 * drawn.size), round(0.975 * drawn.size)]
    return [float(end) for end in np.partition(drawn, at)[at]]


def effects(inputs: Spreads) -> list[Effect]:
    """Each input on one output."""
    one = np.zeros(1, dtype=np.int64)
    return [Effect(f"X{k + 1}", spread, 1, ((1.0, one),)) for k, spread in enumerate(inputs)]


@pytest.mark.parametrize(("inputs", "u", "u_digit", "end", "digit"), CLAUSE_9_2)
def test_the_additive_model(
    inputs: Spreads, u: float, u_digit: float, end: float, digit: float
) -> None:
    generator = np.random.Generator(np.random.SFC64(101))
    total = np.zeros(TRIALS)
    for spread in inputs:
        total += spread.draw(generator, (TRIALS,))
    assert total.mean() == pytest.approx(0.0, abs=digit)
    assert total.std() == pytest.approx(u, abs=u_digit)
    assert middle(total) == [pytest.approx(-end, abs=digit), pytest.approx(end, abs=digit)]


@pytest.mark.parametrize(("inputs", "u", "u_digit", "end", "digit"), CLAUSE_9_2)
def test_the_additive_model_as_gaps_are_sampled(
    inputs: Spreads, u: float, u_digit: float, end: float, digit: float
) -> None:
    chances = [
        sampled(np.zeros(1), (-limit, limit), effects(inputs), trials=4_000_000, keep=False)
        for limit in (end - digit, end + digit)
    ]
    assert chances[0].deviation[0] == pytest.approx(u, abs=u_digit)
    assert chances[0].mean[0] == 0.0
    assert chances[0].all_fit < 0.95 < chances[1].all_fit


@pytest.mark.parametrize(
    ("inputs", "expanded"),
    [
        pytest.param(NORMAL, 3.92, id="9.2.2, table 2"),
        pytest.param(RECTANGULAR, 3.92, id="9.2.3, table 3"),
        pytest.param(ONE_WIDER, 19.9, id="9.2.4, table 4"),
    ],
)
def test_the_additive_model_without_sampling(inputs: Spreads, expanded: float) -> None:
    found = budget(np.zeros(1), effects(inputs))
    normal = float(found.expanded[0]) / 2 * 1.96  # the document's factor for 95 %, not our 2
    assert normal == pytest.approx(expanded, abs=0.05 if expanded > 10 else 0.005)


# 9.3, mass calibration, in milligrams and kilograms a cubic metre (table 5 for the inputs)

MASS, ADDED = Spread("normal", 0.050, 100_000.000), Spread("normal", 0.020, 1.234)
AIR = Spread("rectangular", 0.10, 1.20)
WEIGHT, STANDARD = Spread("rectangular", 1000.0, 8000.0), Spread("rectangular", 50.0, 8000.0)


@pytest.fixture(scope="module")
def calibrated() -> Floats:
    """Deviation of the mass from 100 g, formula of 9.3.1."""
    generator = np.random.Generator(np.random.SFC64(101))
    mass, added, air, weight, standard = (
        spread.draw(generator, (TRIALS // 5,)) for spread in (MASS, ADDED, AIR, WEIGHT, STANDARD)
    )
    return (mass + added) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000.0


def test_mass_calibration_table_6_sampled(calibrated: Floats) -> None:
    assert calibrated.mean() == pytest.approx(1.234, abs=0.0005)
    assert calibrated.std() == pytest.approx(0.0754, abs=0.0005)


def test_mass_calibration_table_6_shortest_interval(calibrated: Floats) -> None:
    """Printed as 1.083 4 to 1.382 5; so flat that sampling moves it, so only to 0.002 here."""
    ordered = np.sort(calibrated)
    inside = round(0.95 * ordered.size)
    lengths = ordered[inside:] - ordered[:-inside]
    least = int(lengths.argmin())
    assert lengths[least] == pytest.approx(1.3825 - 1.0834, abs=0.001)
    assert ordered[least] == pytest.approx(1.0834, abs=0.002)
    assert ordered[least + inside] == pytest.approx(1.3825, abs=0.002)


def test_mass_calibration_table_6_first_order() -> None:
    """Densities of weight and standard cancel to first order, and with them that of the air."""
    found = budget(np.zeros(1), effects((MASS, ADDED)))
    assert found.expanded[0] / 2 == pytest.approx(0.0539, abs=0.00005)
    assert found.mean[0] - 100_000.0 == pytest.approx(1.234, abs=0.0005)


# 9.4, comparison loss: Y is the sum of two squares, without correlation (9.4.2, in millionths)


@pytest.mark.parametrize(("x1", "y", "u"), [(0.000, 50, 50), (0.010, 150, 112), (0.050, 2550, 502)])
def test_comparison_loss(x1: float, y: float, u: float) -> None:
    """The mean of the third is worked out by 9.4.2's own formula, x1 squared and 2 u squared."""
    generator = np.random.Generator(np.random.SFC64(101))
    squares = (Spread("normal", 0.005, mean).draw(generator, (TRIALS // 2,)) for mean in (x1, 0.0))
    loss = 1e6 * sum((each**2 for each in squares), np.zeros(TRIALS // 2))
    sampling = 4 * u / math.sqrt(loss.size)
    assert loss.mean() == pytest.approx(y, abs=0.5 + sampling)
    assert loss.std() == pytest.approx(u, abs=0.5 + sampling)


def test_comparison_loss_of_two_noughts_has_its_shortest_interval_from_0_to_150() -> None:
    generator = np.random.Generator(np.random.SFC64(101))
    spread = Spread("normal", 0.005)
    loss = spread.draw(generator, (TRIALS // 5,)) ** 2 + spread.draw(generator, (TRIALS // 5,)) ** 2
    assert 1e6 * float(np.quantile(loss, 0.95)) == pytest.approx(150, abs=0.5)


# JCGM 100:2008


@pytest.mark.parametrize("half", [0.02, 1.0, 5.0])
def test_4_3_7_a_rectangular_error_has_the_variance_of_its_half_width_squared_by_3(
    half: float,
) -> None:
    assert Spread("rectangular", half).standard_uncertainty ** 2 == pytest.approx(half**2 / 3)


@pytest.mark.parametrize("resolution", [0.01, 0.02, 0.1, 0.0254])
def test_f_2_2_1_a_display_adds_029_of_its_step(resolution: float) -> None:
    gauge = Gauge(mark="G", uses=("height",), resolution=resolution, repeatability=0.0)
    assert gauge.standard_uncertainty / resolution == pytest.approx(0.29, abs=0.005)
    half_step = Spread("rectangular", resolution / 2)
    assert gauge.standard_uncertainty == pytest.approx(half_step.standard_uncertainty, rel=1e-12)


@pytest.mark.parametrize("repeatability", [0.0, 0.01, 0.03])
def test_5_1_2_unrelated_uncertainties_add_as_squares(repeatability: float) -> None:
    gauge = Gauge(mark="G", uses=("height",), resolution=0.02, repeatability=repeatability)
    squares = repeatability**2 + 0.02**2 / 12
    assert gauge.standard_uncertainty**2 == pytest.approx(squares, rel=1e-12)


def test_the_reading_of_a_gauge_scatters_by_its_standard_uncertainty() -> None:
    generator = np.random.Generator(np.random.SFC64(101))
    gauge, true = ASSUMED_GAUGE, 12.3456
    felt = true + Spread("normal", gauge.repeatability).draw(generator, (1_000_000,))
    shown = gauge.resolution * np.round(felt / gauge.resolution)
    assert (shown - true).std() == pytest.approx(gauge.standard_uncertainty, rel=0.005)
