"""The update against brute force, against conditioning done elsewhere, and as it must behave."""

from __future__ import annotations

import subprocess
import sys
import time
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import (  # type: ignore[import-untyped] # it comes without types
    multivariate_normal,
)

from faywright.errors import InputError
from faywright.trials.belief import Belief, Unknown
from faywright.trials.update import Observation, log_evidence, surprise, updated
from tests.strategies import STEADY, lengths
from tests.trials.shops import (
    CUTTER,
    FENCE,
    HEIGHT,
    UNKNOWNS,
    Floats,
    beliefs,
    observations,
    read,
    rows_of,
    several,
)


def same(one: Belief, other: Belief, within: float = 1e-12) -> None:
    """Two beliefs say the same, in mm and mm2."""
    assert one.unknowns == other.unknowns
    assert one.mean == pytest.approx(other.mean, abs=within, rel=0)
    assert one.covariance == pytest.approx(other.covariance, abs=within, rel=0)


drawn = st.data()


def both(data: st.DataObject, *, shared: bool = True) -> tuple[Belief, list[Observation]]:
    belief = data.draw(beliefs())
    return belief, data.draw(several(belief, shared=shared))


# References


def on_a_grid(belief: Belief, seen: list[Observation], points: int) -> tuple[Floats, Floats, float]:
    """Mean, covariance and log evidence by adding up the joint density on a grid."""
    axes = [
        np.linspace(m - 7 * s, m + 7 * s, points)
        for m, s in zip(belief.mean, belief.deviation, strict=True)
    ]
    grid = np.stack([each.ravel() for each in np.meshgrid(*axes, indexing="ij")], axis=1)
    cell = np.prod([axis[1] - axis[0] for axis in axes])
    rows, _, noise = rows_of(belief, seen)
    off = np.array([each.read - each.expected for each in seen]) - grid @ rows.T
    log = multivariate_normal(belief.mean, belief.covariance).logpdf(grid)
    log += multivariate_normal(np.zeros(len(seen)), noise).logpdf(off)
    weight = np.exp(log - log.max())
    evidence = float(np.log(weight.sum() * cell) + log.max())
    weight /= weight.sum()
    mean = weight @ grid
    return mean, (grid - mean).T @ ((grid - mean) * weight[:, None]), evidence


GRIDS = [
    ((HEIGHT, FENCE), [[1.0, 0.4], [0.4, 1.5]], 401),
    ((HEIGHT, FENCE, CUTTER), [[1.0, 0.3, 0.0], [0.3, 1.2, -0.4], [0.0, -0.4, 0.8]], 91),
]


@pytest.mark.parametrize(("unknowns", "covariance", "points"), GRIDS)
def test_a_grid_of_every_possibility_gives_the_same(
    unknowns: tuple[Unknown, ...], covariance: list[list[float]], points: int
) -> None:
    belief = Belief(unknowns, np.full(len(unknowns), 0.01), 1e-3 * np.array(covariance))
    seen = [
        read({HEIGHT: -2.0, FENCE: 1.0}, 0.05, 0.03, {"thickness": 0.02}),
        read({unknowns[-1]: 1.0}, -0.04, 0.025, {"thickness": -0.02}),
        read({HEIGHT: 1.0}, 0.02, 0.03),
    ]
    mean, spread, evidence = on_a_grid(belief, seen, points)
    after = updated(belief, seen)
    assert after.mean == pytest.approx(mean, abs=1e-9)
    assert after.covariance == pytest.approx(spread, abs=1e-9)
    assert log_evidence(belief, seen) == pytest.approx(evidence, abs=1e-8)


@STEADY
@given(data=drawn)
def test_least_squares_with_the_prior_as_rows_gives_the_same(data: st.DataObject) -> None:
    belief, seen = both(data)
    rows, residual, noise = rows_of(belief, seen)
    prior, weigh = (np.linalg.inv(np.linalg.cholesky(each)) for each in (belief.covariance, noise))
    design = np.concatenate([prior, weigh @ rows])
    target = np.concatenate([np.zeros(len(prior)), weigh @ residual])
    moved = np.linalg.lstsq(design, target, rcond=None)[0]
    after = updated(belief, seen)
    assert after.mean == pytest.approx(belief.mean + moved, abs=1e-9)
    assert after.covariance == pytest.approx(np.linalg.inv(design.T @ design), abs=1e-9)


@STEADY
@given(data=drawn)
def test_the_evidence_is_the_density_of_the_readings_together(data: st.DataObject) -> None:
    belief, seen = both(data)
    rows, residual, noise = rows_of(belief, seen)
    together = rows @ belief.covariance @ rows.T + noise
    elsewhere = multivariate_normal(np.zeros(len(seen)), together).logpdf(residual)
    assert log_evidence(belief, seen) == pytest.approx(float(elsewhere), rel=1e-9, abs=1e-9)


@STEADY
@given(data=drawn)
def test_a_surprise_is_the_residual_from_what_the_other_readings_foretell(
    data: st.DataObject,
) -> None:
    belief, seen = both(data, shared=False)
    for k, (each, found) in enumerate(zip(seen, surprise(belief, seen), strict=True)):
        mean, deviation = updated(belief, [*seen[:k], *seen[k + 1 :]]).predicted(each.row)
        off = each.read - each.expected - mean
        assert found == pytest.approx(
            off / np.hypot(deviation, each.uncertainty), rel=1e-6, abs=1e-6
        )


@STEADY
@given(data=drawn)
def test_shared_noise_is_an_unknown_that_is_forgotten_again(data: st.DataObject) -> None:
    belief, seen = both(data)
    names = {"thickness": Unknown("lift", "thickness"), "ride": Unknown("lift", "ride")}
    wider = belief.joined(Belief.independent(dict.fromkeys(names.values(), (0.0, 1.0))))
    told = [
        replace(e, row={**e.row, **{names[n]: s for n, s in e.shared.items()}}, shared={})
        for e in seen
    ]
    same(updated(belief, seen), updated(wider, told).marginal(belief.unknowns))
    assert log_evidence(belief, seen) == pytest.approx(log_evidence(wider, told), abs=1e-9)
    assert surprise(belief, seen) == pytest.approx(surprise(wider, told), abs=1e-7)


# How it must behave


@STEADY
@given(data=drawn)
def test_the_order_of_observations_does_not_matter(data: st.DataObject) -> None:
    belief, seen = both(data)
    mixed = data.draw(st.permutations(seen))
    same(updated(belief, seen), updated(belief, mixed))
    assert log_evidence(belief, seen) == pytest.approx(log_evidence(belief, mixed), abs=1e-9)


@STEADY
@given(data=drawn)
def test_one_after_the_other_is_the_same_as_all_at_once(data: st.DataObject) -> None:
    belief, seen = both(data, shared=False)
    after, evidence = belief, 0.0
    for each in seen:
        evidence += log_evidence(after, [each])
        after = updated(after, [each])
    same(after, updated(belief, seen))
    assert evidence == pytest.approx(log_evidence(belief, seen), abs=1e-7)


@STEADY
@given(data=drawn, times=st.integers(2, 6))
def test_the_mean_of_repeated_readings_tells_as_much_as_each_in_turn(
    data: st.DataObject, times: int
) -> None:
    belief = data.draw(beliefs())
    one = data.draw(observations(belief, shared=False))
    each = [replace(one, read=one.read + 0.01 * k) for k in range(times)]
    mean = replace(
        one,
        read=sum(e.read for e in each) / times,
        uncertainty=one.uncertainty / np.sqrt(times),
    )
    same(updated(belief, each), updated(belief, [mean]))


@STEADY
@given(data=drawn)
def test_no_variance_grows_by_knowing_more(data: st.DataObject) -> None:
    belief, seen = both(data)
    after = updated(belief, seen)
    lost = belief.covariance - after.covariance
    assert np.linalg.eigvalsh(lost).min() >= -1e-12


@STEADY
@given(data=drawn)
def test_what_is_read_does_not_change_how_sure_one_becomes(data: st.DataObject) -> None:
    belief, seen = both(data)
    other = [replace(each, read=each.read + 1.0) for each in seen]
    one, two = updated(belief, seen), updated(belief, other)
    assert one.covariance == pytest.approx(two.covariance, abs=1e-15)


@STEADY
@given(data=drawn, unit=st.sampled_from([1 / 25.4, 1e-3, 1e3]))
def test_another_unit_of_length_changes_nothing_but_the_figures(
    data: st.DataObject, unit: float
) -> None:
    belief, seen = both(data)
    scaled = Belief(belief.unknowns, belief.mean * unit, belief.covariance * unit**2)
    told = [
        replace(
            e,
            expected=e.expected * unit,
            read=e.read * unit,
            uncertainty=e.uncertainty * unit,
            shared={name: s * unit for name, s in e.shared.items()},
        )
        for e in seen
    ]
    one, two = updated(belief, seen), updated(scaled, told)
    assert two.mean / unit == pytest.approx(one.mean, abs=1e-11)
    assert two.covariance / unit**2 == pytest.approx(one.covariance, abs=1e-12)
    assert surprise(scaled, told) == pytest.approx(surprise(belief, seen), abs=1e-7)


def test_no_observations_change_nothing_at_all() -> None:
    belief = Belief.independent({HEIGHT: (0.01, 0.03)})
    assert updated(belief, []) is belief
    assert surprise(belief, []) == ()
    assert log_evidence(belief, []) == 0.0


@STEADY
@given(belief=beliefs(), off=lengths(-1, 1))
def test_an_observation_that_no_unknown_reaches_changes_nothing(belief: Belief, off: float) -> None:
    same(updated(belief, [read({}, off)]), belief, 1e-15)
    same(updated(belief, [read({HEIGHT: 0.0}, off)]), belief, 1e-15)


def test_an_observation_with_immense_noise_changes_nothing() -> None:
    belief = Belief.independent({HEIGHT: (0.01, 0.03)})
    same(updated(belief, [read({HEIGHT: 1.0}, 0.5, 1e9)]), belief, 1e-15)


def test_what_is_known_exactly_stays_so() -> None:
    belief = Belief.independent({HEIGHT: (0.01, 0.0), FENCE: (0.0, 0.03)})
    after = updated(belief, [read({HEIGHT: 1.0, FENCE: 1.0}, 0.05)])
    assert after.of(HEIGHT) == (0.01, 0.0)
    assert after.of(FENCE) == pytest.approx((0.04 * 9 / 13, 0.03 * np.sqrt(4 / 13)))


def test_a_shop_without_unknowns_is_not_upset_by_readings() -> None:
    nothing = Belief.independent({})
    assert updated(nothing, [read({}, 0.1)]).unknowns == ()
    assert surprise(nothing, [read({}, 0.1)]) == pytest.approx([0.1 / 0.02])


# Tiny noise


def exactly(
    variances: list[Fraction], seen: list[Observation]
) -> tuple[list[Fraction], list[list[Fraction]]]:
    """Mean and covariance of two unknowns after rational updates, one reading at a time."""
    m, p = [Fraction(0), Fraction(0)], [[variances[0], Fraction(0)], [Fraction(0), variances[1]]]
    for each in seen:
        h = [Fraction(each.row.get(u, 0.0)) for u in (HEIGHT, FENCE)]
        gain = [p[i][0] * h[0] + p[i][1] * h[1] for i in (0, 1)]
        total = h[0] * gain[0] + h[1] * gain[1] + Fraction(each.uncertainty) ** 2
        off = Fraction(each.read) - Fraction(each.expected) - h[0] * m[0] - h[1] * m[1]
        m = [m[i] + gain[i] / total * off for i in (0, 1)]
        p = [[p[i][j] - gain[i] * gain[j] / total for j in (0, 1)] for i in (0, 1)]
    return m, p


@pytest.mark.parametrize("noise", [1e-3, 1e-6, 1e-9, 1e-12])
def test_the_finest_noise_does_no_harm(noise: float) -> None:
    belief = Belief.independent({HEIGHT: (0.0, 0.0625), FENCE: (0.0, 0.03125)})
    seen = [
        read({HEIGHT: 1.0, FENCE: 1.0}, 0.02, noise),
        read({HEIGHT: 1.0, FENCE: 1.0}, 0.02, noise),
        read({HEIGHT: 1.0, FENCE: -1.0}, 0.01, 0.02),
    ]
    after = updated(belief, seen)
    mean, covariance = exactly([Fraction(0.0625) ** 2, Fraction(0.03125) ** 2], seen)
    for k, unknown in enumerate((HEIGHT, FENCE)):
        found, deviation = after.of(unknown)
        assert found == pytest.approx(float(mean[k]), abs=1e-9)
        assert deviation**2 == pytest.approx(float(covariance[k][k]), rel=1e-9)
    # What is left of the sum is the noise of two readings, or what rounding of a variance leaves.
    left = after.predicted({HEIGHT: 1.0, FENCE: 1.0})[1]
    assert left == pytest.approx(noise / np.sqrt(2), abs=2e-9, rel=1e-3)


def test_two_exact_readings_that_disagree_are_a_surprise_and_no_breakdown() -> None:
    belief = Belief.independent({HEIGHT: (0.0, 0.05)})
    seen = [read({HEIGHT: 1.0}, off, 1e-9) for off in (0.01, 0.03)]
    after = updated(belief, seen)
    assert after.of(HEIGHT)[0] == pytest.approx(0.02, abs=1e-9)
    assert surprise(belief, seen)[1] == pytest.approx(0.02 / (1e-9 * np.sqrt(2)), rel=1e-6)


# Surprise


def test_a_slip_of_reading_stands_out_among_good_ones() -> None:
    belief = Belief.independent({HEIGHT: (0.0, 0.05)})
    good = [read({HEIGHT: -2.0}, off) for off in (0.05, 0.06, 0.04)]
    found = surprise(belief, [*good, read({HEIGHT: -2.0}, 0.30)])
    assert found[3] > 3
    assert max(found, key=abs) == found[3]


def test_readings_that_agree_surprise_nobody() -> None:
    belief = Belief.independent({HEIGHT: (0.0, 0.05)})
    assert surprise(belief, [read({HEIGHT: -2.0}, 0.0)] * 3) == pytest.approx([0.0] * 3)


# Refusals


@pytest.mark.parametrize("noise", [0.0, -0.01, np.inf, np.nan])
def test_no_reading_is_exact(noise: float) -> None:
    with pytest.raises(InputError, match="tongue thickness: an uncertainty of"):
        read({HEIGHT: 1.0}, 0.0, noise)


def test_a_reading_that_is_not_a_number_is_refused() -> None:
    with pytest.raises(InputError, match="read nan mm"):
        read({HEIGHT: 1.0}, np.nan)


def test_an_observation_of_something_not_believed_in_is_refused() -> None:
    with pytest.raises(InputError, match="nothing is believed of the cutter of C1"):
        updated(Belief.independent({HEIGHT: (0.0, 0.05)}), [read({CUTTER: 1.0}, 0.0)])


# Costs


def test_ten_unknowns_and_ten_observations_take_a_few_milliseconds() -> None:
    unknowns = [Unknown("cutter", f"C{k}") for k in range(10)]
    belief = Belief.independent(dict.fromkeys(unknowns, (0.0, 0.05)))
    seen = [read({unknowns[k]: 1.0, unknowns[k - 1]: -0.5}, 0.02) for k in range(10)]
    times = []
    for _ in range(20):
        start = time.perf_counter()
        updated(belief, seen)
        times.append(time.perf_counter() - start)
    assert min(times) <= 0.005


def test_learning_does_not_wait_for_scipy() -> None:
    ask = "import sys, faywright.trials.memory, faywright.trials.observing; print(*sys.modules)"
    answer = subprocess.run([sys.executable, "-c", ask], check=True, capture_output=True, text=True)  # noqa: S603 - our own words
    loaded = answer.stdout.split()
    assert "faywright.trials.update" in loaded
    assert "scipy" not in loaded


# Calibration


def test_intervals_stated_for_90_percent_hold_the_truth_in_about_90_percent_of_shops() -> None:
    prior = Belief.independent(
        dict(
            zip(
                UNKNOWNS,
                [(0.0, 0.03), (0.0, 0.03), (0.0, 0.06), (0.01, 0.005), (0.0, 0.03)],
                strict=True,
            )
        )
    )
    rows = [
        {HEIGHT: -2.0, UNKNOWNS[4]: -2.0, UNKNOWNS[3]: 2.0},
        {FENCE: 1.0, CUTTER: -1.0},
        {FENCE: 1.0},
    ]
    generator = np.random.Generator(np.random.SFC64(1))
    shops = 2000
    truth = prior.mean + generator.standard_normal((shops, 5)) * prior.deviation
    held = np.zeros(5)
    for true in truth:
        ride, *noise = generator.standard_normal(4) * [0.01, 0.02, 0.02, 0.02]
        seen = [
            read(
                row,
                float(prior.weights(row) @ true + sign * ride + off),
                0.02,
                {"ride": sign * 0.01},
            )
            for row, sign, off in zip(rows, (1.0, 0.0, -1.0), noise, strict=True)
        ]
        after = updated(prior, seen)
        held += np.abs(after.mean - true) <= 1.6449 * after.deviation
    assert (held / shops).tolist() == pytest.approx([0.90] * 5, abs=0.02)
