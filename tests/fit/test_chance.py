"""Chances of fitting, against what is known exactly and against sums over a dense matrix."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from numpy.typing import NDArray
from scipy.integrate import quad  # type: ignore[import-untyped] # it comes without types
from scipy.stats import norm  # type: ignore[import-untyped] # it comes without types

from faywright.errors import RangeError
from faywright.fit import Chance, Effect, Spread, budget, chance, sampled
from tests.strategies import STEADY, gaps_and_effects

Floats = NDArray[np.float64]
TRIALS = 200_000
FAR_OUT = 4
"""How many standard errors a sample may be off."""

BAND = (0.08, 0.28)


def at(*numbers: int) -> NDArray[np.int64]:
    return np.array(numbers, dtype=np.int64)


def own(spread: Spread, gaps: int, source: str = "board") -> Effect:
    """An error of its own for every gap."""
    return Effect(source, spread, gaps, ((1.0, np.arange(gaps)),))


def shared(spread: Spread, gaps: int, source: str = "height") -> Effect:
    """One error for all gaps."""
    return Effect(source, spread, 1, ((1.0, np.zeros(gaps, dtype=np.int64)),))


def far_off(found: float, exact: float, trials: int = TRIALS) -> bool:
    return abs(found - exact) > FAR_OUT * math.sqrt(exact * (1 - exact) / trials)


def within(nominal: Floats | float, deviation: float, band: tuple[float, float]) -> Floats:
    """Chance of normal gaps to land in the band."""
    low, high = ((limit - np.asarray(nominal)) / deviation for limit in band)
    return np.asarray(norm.cdf(high) - norm.cdf(low))


def dense(effect: Effect, gaps: int) -> Floats:
    """How far each gap (rows) moves for each 1 of every error (columns)."""
    jacobian = np.zeros((gaps, effect.count))
    for coefficient, index in effect.terms:
        for gap, error in enumerate(index):
            if error >= 0:
                scale = 1.0 if effect.scale is None else effect.scale[error]
                jacobian[gap, error] += coefficient * scale
    return jacobian


def drawn(effect: Effect, gaps: int, trials: int, seed: int = 5) -> Floats:
    """Gaps about 0 as sampling makes them, (trials, gaps)."""
    found = np.tile(effect.start(gaps), (trials, 1))
    room = np.empty(trials * max(effect.count, gaps))
    effect.add_to(found, np.random.default_rng(seed), room)
    return found


# Chances that are known exactly


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize(("nominal", "deviation"), [(0.18, 0.05), (0.10, 0.04), (0.35, 0.08)])
def test_one_gap_fits_as_often_as_the_normal_law_says(
    nominal: float, deviation: float, seed: int
) -> None:
    effect = own(Spread("normal", deviation), 1)
    found = sampled(np.array([nominal]), BAND, [effect], trials=TRIALS, seed=seed)
    exact = float(within(nominal, deviation, BAND))
    assert not far_off(found.each[0], exact)
    assert found.all_fit == found.each[0]


@pytest.mark.parametrize(("nominal", "half", "exact"), [(0.18, 0.2, 0.5), (0.08, 0.1, 0.5)])
def test_a_rectangular_error_fits_by_the_share_of_it_in_the_band(
    nominal: float, half: float, exact: float
) -> None:
    effect = own(Spread("rectangular", half), 1)
    found = sampled(np.array([nominal]), BAND, [effect], trials=TRIALS, seed=4)
    assert not far_off(found.each[0], exact)


def test_an_error_that_is_off_on_average_shifts_the_chance() -> None:
    effect = own(Spread("normal", 0.05, 0.06), 1)
    found = sampled(np.array([0.18]), BAND, [effect], trials=TRIALS, seed=4)
    assert found.mean[0] == pytest.approx(0.24, abs=1e-12)
    assert not far_off(found.each[0], float(within(0.24, 0.05, BAND)))


def test_gaps_with_errors_of_their_own_all_fit_by_the_product_of_their_chances() -> None:
    nominal = np.array([0.12, 0.16, 0.18, 0.25])
    found = sampled(nominal, BAND, [own(Spread("normal", 0.05), 4)], trials=TRIALS, seed=4)
    exact = within(nominal, 0.05, BAND)
    assert not any(far_off(one, float(other)) for one, other in zip(found.each, exact, strict=True))
    assert not far_off(found.all_fit, float(exact.prod()))


@pytest.mark.parametrize("together", [0.04, 0.06])
def test_gaps_that_share_an_error_all_fit_as_the_integral_over_it_says(together: float) -> None:
    nominal = np.array([0.14, 0.18, 0.20, 0.22])
    effects = [own(Spread("normal", 0.03), 4), shared(Spread("normal", together), 4)]
    found = sampled(nominal, BAND, effects, trials=TRIALS, seed=4)

    def fit_at(error: float) -> float:
        return float(within(nominal + together * error, 0.03, BAND).prod() * norm.pdf(error))

    exact = float(quad(fit_at, -8, 8, limit=200)[0])
    assert not far_off(found.all_fit, exact)
    apart = float(within(nominal, math.hypot(0.03, together), BAND).prod())
    assert found.all_fit > apart + 0.01


def test_the_middle_of_the_sample_is_that_of_the_normal_law() -> None:
    found = sampled(np.array([0.18]), BAND, [own(Spread("normal", 0.05), 1)], trials=TRIALS)
    error = math.sqrt(0.025 * 0.975 / chance.KEPT_TRIALS) * 0.05 / float(norm.pdf(1.96))
    assert abs(found.low[0] - (0.18 - 1.95996 * 0.05)) < FAR_OUT * error
    assert abs(found.high[0] - (0.18 + 1.95996 * 0.05)) < FAR_OUT * error


# What boards share, and what they do not


def test_one_shared_error_shifts_all_gaps_together() -> None:
    gaps = drawn(shared(Spread("normal", 0.05), 4), 4, 500)
    assert gaps.std() > 0.04
    assert np.corrcoef(gaps.T) == pytest.approx(np.ones((4, 4)), abs=1e-12)


def test_equal_gaps_that_share_every_error_fit_all_or_none() -> None:
    effect = shared(Spread("normal", 0.08), 5)
    found = sampled(np.full(5, 0.18), BAND, [effect], trials=20_000)
    assert set(found.each) == {found.all_fit}
    assert 0.5 < found.all_fit < 0.9


def test_errors_of_their_own_leave_gaps_unrelated() -> None:
    gaps = drawn(own(Spread("normal", 0.05), 3), 3, TRIALS)
    across = np.asarray(np.corrcoef(gaps.T))[~np.eye(3, dtype=bool)]
    assert np.abs(across).max() < FAR_OUT / math.sqrt(TRIALS)


def test_an_error_that_reaches_two_joints_with_opposite_signs_is_drawn_once() -> None:
    ring = Effect("board", Spread("normal", 0.1), 3, ((0.5, at(0, 1, 2)), (-0.5, at(1, 2, 0))))
    gaps = drawn(ring, 3, 500)
    assert gaps.std() > 0.05
    assert np.abs(gaps.sum(axis=1)).max() < 1e-12
    assert np.asarray(np.corrcoef(gaps.T))[0, 1] < -0.3


def test_an_error_that_meets_itself_with_opposite_sign_is_gone() -> None:
    both = Effect("cutter", Spread("normal", 0.1, 0.03), 1, ((1.0, at(0, 0)), (-1.0, at(0, -1))))
    found = sampled(np.array([0.18, 0.18]), BAND, [both], trials=20_000)
    assert found.deviation.tolist() == [0.0, pytest.approx(0.1, rel=1e-12)]
    assert found.mean.tolist() == [pytest.approx(0.18), pytest.approx(0.21)]
    assert found.each[0] == 1.0
    assert found.each[1] < 0.9


def test_an_index_below_nought_leaves_a_gap_untouched() -> None:
    first = Effect("strip", Spread("rectangular", 0.1, 0.2), 2, ((1.0, at(1, -1, 0)),))
    gaps = drawn(first, 3, 100)
    assert (gaps[:, 1] == 0).all()
    assert (gaps[:, [0, 2]] > 0.09).all()


# Sums over the different errors, against a dense matrix


@given(gaps_and_effects())
@STEADY
def test_shift_variance_and_worst_are_those_of_the_dense_matrix(
    case: tuple[Floats, list[Effect]],
) -> None:
    for effect in case[1]:
        gaps, spread = len(case[0]), effect.spread
        jacobian = dense(effect, gaps)
        square = (jacobian**2).sum(axis=1) * spread.standard_uncertainty**2
        assert effect.shift(gaps) == pytest.approx(jacobian.sum(axis=1) * spread.mean, abs=1e-12)
        assert effect.variance(gaps) == pytest.approx(square, abs=1e-12)
        worst = np.abs(jacobian).sum(axis=1) * spread.limit
        assert effect.worst(gaps) == pytest.approx(worst, abs=1e-12)


@given(gaps_and_effects())
@STEADY
def test_draws_reach_the_gaps_as_the_dense_matrix_says(
    case: tuple[Floats, list[Effect]],
) -> None:
    for effect in case[1]:
        gaps = len(case[0])
        errors = effect.spread.draw(np.random.default_rng(5), (20, effect.count))
        found = drawn(effect, gaps, 20)
        assert found == pytest.approx(errors @ dense(effect, gaps).T, abs=1e-9)


@given(gaps_and_effects())
@STEADY
def test_mean_and_deviation_need_no_sampling(case: tuple[Floats, list[Effect]]) -> None:
    nominal, effects = case
    found = sampled(nominal, BAND, effects, trials=2)
    parts = [dense(effect, len(nominal)) for effect in effects]
    mean = nominal + sum(
        part.sum(axis=1) * e.spread.mean for part, e in zip(parts, effects, strict=True)
    )
    variance = sum(
        (part**2).sum(axis=1) * e.spread.standard_uncertainty**2
        for part, e in zip(parts, effects, strict=True)
    )
    assert found.mean == pytest.approx(mean, abs=1e-12)
    assert found.deviation**2 == pytest.approx(variance, abs=1e-12)


@given(gaps_and_effects())
@STEADY
def test_the_sample_has_the_mean_and_deviation_it_says(case: tuple[Floats, list[Effect]]) -> None:
    nominal, effects = case
    trials = 2000
    found = sampled(nominal, BAND, effects, trials=trials)
    gaps = nominal + sum(drawn(e, len(nominal), trials, seed=k) for k, e in enumerate(effects))
    error = found.deviation / math.sqrt(trials)
    assert (np.abs(gaps.mean(axis=0) - found.mean) <= 5 * error + 1e-12).all()
    assert (np.abs(gaps.std(axis=0) - found.deviation) <= 5 * error + 1e-12).all()


# The budget


@given(gaps_and_effects())
@STEADY
def test_the_shares_of_a_budget_sum_to_one(case: tuple[Floats, list[Effect]]) -> None:
    nominal, effects = case
    found = budget(nominal, effects)
    if (found.expanded > 1e-6).any():
        assert sum(share for _, share in found.shares) == pytest.approx(1, abs=1e-9)
    shares = [share for _, share in found.shares]
    assert shares == sorted(shares, reverse=True)
    assert {source for source, _ in found.shares} == {effect.source for effect in effects}


@given(gaps_and_effects())
@STEADY
def test_a_budget_adds_up_what_each_effect_brings(case: tuple[Floats, list[Effect]]) -> None:
    nominal, effects = case
    found, gaps = budget(nominal, effects), len(nominal)
    variance = sum(e.variance(gaps) for e in effects)
    assert found.mean == pytest.approx(nominal + sum(e.shift(gaps) for e in effects), abs=1e-12)
    assert found.expanded**2 == pytest.approx(4 * variance, abs=1e-12)
    assert found.worst == pytest.approx(sum(e.worst(gaps) for e in effects), abs=1e-12)
    assert (found.expanded <= 2 * found.worst + 1e-12).all()


def test_sources_of_one_name_share_one_line_of_the_budget() -> None:
    effects = [
        own(Spread("normal", 0.03), 2, "height"),
        shared(Spread("normal", 0.04), 2, "height"),
        own(Spread("normal", 0.05), 2, "boards"),
    ]
    shares = dict(budget(np.zeros(2), effects).shares)
    assert shares == pytest.approx({"height": 0.5, "boards": 0.5})


def test_a_budget_without_errors_has_shares_of_nought() -> None:
    found = budget(np.array([0.18]), [own(Spread("normal", 0.0), 1, "boards")])
    assert found.shares == (("boards", 0.0),)
    assert found.worst.tolist() == found.expanded.tolist() == [0.0]


def test_a_budget_leaves_the_gaps_it_is_given_as_they_were() -> None:
    nominal = np.array([0.18])
    budget(nominal, [own(Spread("normal", 0.1, 0.05), 1)])
    sampled(nominal, BAND, [own(Spread("normal", 0.1, 0.05), 1)], trials=10)
    assert nominal.tolist() == [0.18]


# The sample


def case_of_twelve() -> tuple[Floats, list[Effect]]:
    nominal = np.linspace(0.12, 0.24, 12)
    neighbours = Effect(
        "boards",
        Spread("normal", 1.0),
        13,
        ((0.5, np.arange(12)), (0.5, np.arange(1, 13))),
        np.linspace(0.01, 0.05, 13),
    )
    return nominal, [
        neighbours,
        shared(Spread("normal", 0.02), 12),
        own(Spread("rectangular", 0.02, 0.02), 12, "lift"),
    ]


def same(one: Chance, other: Chance) -> bool:
    return all(
        np.array_equal(getattr(one, name), getattr(other, name), equal_nan=True)
        for name in Chance.__dataclass_fields__
    )


def test_the_same_seed_gives_the_same_chances_and_another_seed_others() -> None:
    nominal, effects = case_of_twelve()
    one, again, other = (
        sampled(nominal, BAND, effects, trials=5000, seed=seed) for seed in (8, 8, 9)
    )
    assert same(one, again)
    assert not same(one, other)


@pytest.mark.parametrize("chunk", [1, 100, 12_345, 1 << 30])
def test_the_size_of_a_chunk_changes_chances_within_sampling_only(
    monkeypatch: pytest.MonkeyPatch, chunk: int
) -> None:
    nominal, effects = case_of_twelve()
    trials = 4000 if chunk < 100 else 40_000
    usual = sampled(nominal, BAND, effects, trials=trials)
    monkeypatch.setattr(chance, "CHUNK", chunk)
    found = sampled(nominal, BAND, effects, trials=trials)
    error = math.hypot(found.all_fit_error, usual.all_fit_error)
    assert abs(found.all_fit - usual.all_fit) < FAR_OUT * error
    errors = np.hypot(found.each_error, usual.each_error)
    assert (np.abs(found.each - usual.each) <= FAR_OUT * errors).all()
    assert found.low == pytest.approx(usual.low, abs=0.01)
    assert found.high == pytest.approx(usual.high, abs=0.01)


@pytest.mark.parametrize("trials", [1, 9, 10, 11, 29])
def test_every_trial_counts_once_whatever_the_chunk(
    monkeypatch: pytest.MonkeyPatch, trials: int
) -> None:
    monkeypatch.setattr(chance, "CHUNK", 10)
    monkeypatch.setattr(chance, "KEPT", 15)
    sure = sampled(np.array([0.18]), BAND, [own(Spread("normal", 1e-6), 1)], trials=trials)
    assert sure.each[0] == sure.all_fit == 1.0
    assert [sure.low[0], sure.high[0]] == [pytest.approx(0.18, abs=1e-4)] * 2
    half = sampled(np.array([0.18]), BAND, [own(Spread("normal", 0.1), 1)], trials=trials)
    assert half.all_fit * trials == pytest.approx(round(half.all_fit * trials), abs=1e-9)


def test_without_keeping_the_chances_are_the_same_and_the_middle_is_not_read() -> None:
    nominal, effects = case_of_twelve()
    kept, quick = (
        sampled(nominal, BAND, effects, trials=5000, keep=keep) for keep in (True, False)
    )
    assert quick.all_fit == kept.all_fit
    assert (quick.each == kept.each).all()
    assert np.isnan([*quick.low, *quick.high]).all()
    assert (kept.low < kept.high).all()


def test_without_errors_a_gap_fits_or_it_does_not() -> None:
    nominal = np.array([0.08, 0.18, 0.28, 0.2801, 0.0799])
    found = sampled(nominal, BAND, [], trials=10)
    assert found.each[1:].tolist() == [1.0, 1.0, 0.0, 0.0]
    assert found.all_fit == 0.0
    assert (found.low == found.high).all()


@pytest.mark.parametrize(
    ("gaps", "trials", "band", "said"),
    [
        (0, 100, BAND, "100 trials of 0 gaps in a band of 0.08 to 0.28 mm"),
        (3, 0, BAND, "0 trials of 3 gaps"),
        (3, 100, (0.28, 0.08), "band of 0.28 to 0.08 mm say nothing. Give at least one"),
        (3, 100, (math.nan, 0.28), "band of nan to 0.28 mm"),
    ],
)
def test_a_sample_of_nothing_is_refused(
    gaps: int, trials: int, band: tuple[float, float], said: str
) -> None:
    with pytest.raises(RangeError, match=f"^chance of fitting: .*{said}"):
        sampled(np.full(gaps, 0.18), band, [], trials=trials)


@pytest.mark.parametrize(("share", "trials"), [(0.5, 100), (0.9, 900), (1.0, 50), (0.0, 50)])
def test_a_chance_has_the_standard_error_of_a_share(share: float, trials: int) -> None:
    each = np.array([share, 0.5])
    none = np.zeros(2)
    found = Chance(trials, each, share, none, none, none, none)
    likely = (share * trials + 2) / (trials + 4)  # Agresti and Coull, 1998
    error = math.sqrt(likely * (1 - likely) / (trials + 4))
    assert found.all_fit_error == pytest.approx(error)
    assert found.each_error.tolist() == [
        pytest.approx(error),
        pytest.approx(0.5 / math.sqrt(trials + 4)),
    ]


def test_none_or_all_of_some_trials_is_no_certainty() -> None:
    none = np.zeros(1)
    found = Chance(50, np.ones(1), 1.0, none, none, none, none)
    assert 0.02 < found.all_fit_error < 0.03


def test_chances_of_many_seeds_scatter_by_their_standard_error() -> None:
    effect = own(Spread("normal", 0.08), 1)
    found = [sampled(np.array([0.18]), BAND, [effect], trials=2000, seed=k) for k in range(200)]
    scatter = np.std([each.all_fit for each in found])
    assert scatter == pytest.approx(found[0].all_fit_error, rel=0.2)
