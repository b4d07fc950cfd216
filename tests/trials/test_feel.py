"""How joints feel: against brute force and numerical integration, in simulation, and in general."""

import math
import re
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import dblquad  # type: ignore[import-untyped] # it comes without types
from scipy.special import ndtr  # type: ignore[import-untyped] # it comes without types
from scipy.stats import norm  # type: ignore[import-untyped] # it comes without types

from faywright.errors import InputError, RangeError
from faywright.fit.bands import fit_called, fits
from faywright.trials.feel import LAPSE, WORDS, Between, Feel, Report, common_practice, learned
from faywright.trials.ordinal import Draws, Prior, Reports, chances, normal_below, posterior
from tests.strategies import STEADY, lengths

Floats = NDArray[np.float64]
TIMBERS = ("softwood", "hardwood", "sheet")

reports = st.lists(
    st.builds(Report, st.sampled_from(WORDS), lengths(-0.3, 0.9), lengths(0.0, 0.05)), max_size=6
)

# The words and their chances


def test_the_normal_distribution_is_right_to_1e_7() -> None:
    z = np.linspace(-9, 9, 100_001)
    assert np.abs(normal_below(z) - ndtr(z)).max() < 1e-7


def test_chances_are_areas_under_the_bell_between_thresholds() -> None:
    found = chances(np.array([0.2]), np.array([0.0, 0.1, 0.3, 0.5]), np.array([0.1]))
    areas = np.diff([0.0, *norm.cdf([0.0, 0.1, 0.3, 0.5], loc=0.2, scale=0.1), 1.0])
    assert found[0] == pytest.approx(areas, abs=1e-7)


@given(lengths(-1, 1), st.lists(lengths(-1, 1), min_size=4, max_size=4), lengths(0.01, 0.2))
@STEADY
def test_the_model_is_the_same_seen_from_either_end(
    at: float, thresholds: list[float], spread: float
) -> None:
    rising = np.sort(thresholds)
    here = chances(np.array([at]), rising, np.array([spread]))
    mirrored = chances(np.array([-at]), -rising[::-1], np.array([spread]))
    assert here[0] == pytest.approx(mirrored[0][::-1], abs=1e-9)


# The posterior, against references that share no code with it


def reported(said: Sequence[Report]) -> Reports:
    return Reports(
        np.array([WORDS.index(each.word) for each in said], dtype=np.int64),
        np.array([each.clearance for each in said]),
        np.array([each.uncertainty for each in said]),
    )


FEW = [
    Report("hand push", 0.07, 0.02),
    Report("slides", 0.21, 0.01),
    Report("mallet", 0.10, 0.03),
    Report("rattles", 0.45, 0.02),
]


@pytest.mark.parametrize("timber", TIMBERS)
def test_a_posterior_of_five_is_that_of_weighted_draws_from_the_prior(timber: str) -> None:
    prior = common_practice(timber)
    generator = np.random.default_rng(5)
    drawn = generator.multivariate_normal(prior.mean, prior.covariance, size=400_000)
    drawn = drawn[(np.diff(drawn[:, :4], axis=1) > 0).all(axis=1)]
    weights = np.ones(len(drawn))
    for each in FEW:
        word = WORDS.index(each.word)
        spread = np.hypot(np.exp(drawn[:, 4]), each.uncertainty)
        ends = np.column_stack([np.full(len(drawn), -9), drawn[:, :4], np.full(len(drawn), 9)])
        below, above = (norm.cdf((ends[:, word + k] - each.clearance) / spread) for k in (0, 1))
        weights *= LAPSE / 5 + (1 - LAPSE) * (above - below)
    exact = Draws(drawn, weights / weights.sum())
    found = posterior(prior, reported(FEW), seed=1)
    assert found.mean()[:4] == pytest.approx(exact.mean()[:4], abs=0.004)
    for k in range(4):
        ends_found = found.quantiles(found.parameters[:, k], (0.05, 0.95))
        ends_exact = exact.quantiles(exact.parameters[:, k], (0.05, 0.95))
        assert ends_found == pytest.approx(ends_exact, abs=0.012)


def test_a_posterior_of_one_threshold_is_that_of_numerical_integration() -> None:
    prior = Prior(np.array([0.2, math.log(0.03)]), np.diag([0.1**2, 0.5**2]), LAPSE)
    said = [(0, 0.10, 0.01), (1, 0.19, 0.02), (0, 0.22, 0.03), (1, 0.31, 0.01)]
    words, at, by = zip(*said, strict=True)
    found = posterior(prior, Reports(np.array(words), np.array(at), np.array(by)), seed=1)

    def density(threshold: float, log_sigma: float, power: int) -> float:
        total = norm.pdf(threshold, 0.2, 0.1) * norm.pdf(log_sigma, math.log(0.03), 0.5)
        for word, clearance, uncertainty in said:
            spread = math.hypot(math.exp(log_sigma), uncertainty)
            below = float(ndtr((threshold - clearance) / spread))
            total *= LAPSE / 2 + (1 - LAPSE) * (1 - below if word else below)
        return float(total * threshold**power)

    whole, first, second = (
        dblquad(density, -6.0, -1.0, -0.2, 0.6, args=(power,), epsabs=1e-7)[0]
        for power in (0, 1, 2)
    )
    mean = first / whole
    assert found.mean()[0] == pytest.approx(mean, abs=0.001)
    deviation = math.sqrt(found.weights @ (found.parameters[:, 0] - mean) ** 2)
    assert deviation == pytest.approx(math.sqrt(second / whole - mean**2), rel=0.04)


# Makers drawn at random, each with boundaries of their own


def a_maker(prior: Prior, generator: np.random.Generator) -> Floats:
    while True:
        drawn: Floats = generator.multivariate_normal(prior.mean, prior.covariance)
        if (np.diff(drawn[:4]) > 0).all():
            return drawn


def dry_fits(maker: Floats, count: int, generator: np.random.Generator) -> list[Report]:
    true = generator.uniform(-0.1, 0.6, count)
    uncertainty = generator.choice([0.01, 0.02, 0.03], count)
    measured = true + uncertainty * generator.standard_normal(count)
    felt = true + math.exp(maker[4]) * generator.standard_normal(count)
    words = np.searchsorted(maker[:4], felt)
    wrong = generator.random(count) < LAPSE
    words[wrong] = generator.integers(0, 5, int(wrong.sum()))
    return [
        Report(WORDS[word], float(c), float(u))
        for word, c, u in zip(words, measured, uncertainty, strict=True)
    ]


def test_intervals_of_90_percent_hold_the_truth_of_90_percent_of_makers() -> None:
    """A thousand makers, so that 88 to 92 in 100 is two standard errors; four boundaries each."""
    generator = np.random.default_rng(8)
    held = []
    for k in range(1000):
        timber = TIMBERS[k % 3]
        maker = a_maker(common_practice(timber), generator)
        feel = learned(timber, dry_fits(maker, int(generator.integers(1, 30)), generator))
        held.append(
            [each.low <= true for each, true in zip(feel.boundaries(), maker[:4], strict=True)]
            + [true <= each.high for each, true in zip(feel.boundaries(), maker[:4], strict=True)]
        )
    inside = np.array(held)[:, :4] & np.array(held)[:, 4:]
    assert (np.abs(inside.mean(axis=0) - 0.90) < 0.025).all(), inside.mean(axis=0)
    assert 0.88 < inside.mean() < 0.92
    assert (np.abs(np.array(held).mean(axis=0) - 0.95) < 0.02).all()  # neither end favoured


def test_many_reports_find_the_maker() -> None:
    generator = np.random.default_rng(9)
    maker = a_maker(common_practice("softwood"), generator)
    feel = learned("softwood", dry_fits(maker, 500, generator))
    for each, true in zip(feel.boundaries(), maker[:4], strict=True):
        assert each.at == pytest.approx(true, abs=0.03)
    middle = feel.middle("hand push")
    assert middle.high - middle.low < 0.04


ABSURD = [Report("mallet", -0.5, 0.01)] * 60


@pytest.mark.parametrize("timber", TIMBERS)
def test_reports_far_from_practice_are_still_learned_from(timber: str) -> None:
    """The draws about the mode are worth 1 here: the proposal has to find its place."""
    feel = learned(timber, ABSURD)
    assert feel.draws.effective > 50
    assert feel.said(-0.5)["mallet"] > 0.8


def test_draws_that_are_worth_too_little_are_not_passed_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("faywright.trials.ordinal.TRIES", 1)
    with pytest.raises(RangeError, match="Check their clearances, in mm a side, against their"):
        learned("softwood", ABSURD)


# What becomes of the bands


@pytest.mark.parametrize(("name", "timber"), list(fits()))
def test_without_reports_every_band_is_that_of_common_practice(name: str, timber: str) -> None:
    feel = learned(timber, [])
    assert feel.band(name) == fit_called(name, timber)
    assert feel.here(0.123) == pytest.approx(0.123, abs=1e-12)


def test_before_any_report_snug_goes_in_by_hand_and_sliding_slides() -> None:
    for timber in TIMBERS:
        feel = learned(timber, [])
        for word, name in (("hand push", "snug"), ("slides", "sliding")):
            said = feel.said(fit_called(name, timber).aim)
            assert max(said, key=lambda each: said[each]) == word, (timber, said)


def test_a_maker_who_pushes_gently_gets_a_wider_snug_band() -> None:
    said = [Report("mallet", 0.15, 0.01)] * 3 + [Report("hand push", 0.24, 0.01)] * 3
    feel = learned("softwood", said)
    assert feel.band("snug").aim > fit_called("snug", "softwood").aim
    assert feel.band("snug").low > fit_called("snug", "softwood").low
    assert feel.band("snug").locator == "6 dry joints in softwood"
    assert feel.band("snug").source == "the maker"


@pytest.mark.parametrize("ends", [(-0.9, -0.4), (0.8, 1.4)])
def test_beyond_the_outermost_boundaries_distances_are_kept(ends: tuple[float, float]) -> None:
    feel = learned("softwood", [Report("rattles", 0.40, 0.01), Report("mallet", -0.05, 0.01)] * 3)
    tight, loose = (feel.here(each) for each in ends)
    assert loose - tight == pytest.approx(ends[1] - ends[0])
    assert tight != pytest.approx(ends[0], abs=0.005)


def test_a_maker_strong_at_one_boundary_is_taken_for_strong_at_the_others() -> None:
    feel = learned("softwood", [Report("rattles", 0.40, 0.01), Report("slides", 0.32, 0.01)] * 3)
    moves = feel.draws.mean()[:4] - feel.practice.mean()[:4]
    assert (moves < -0.003).all()


def test_strength_of_glue_does_not_follow_the_feel() -> None:
    feel = learned("hardwood", [Report("slides", 0.05, 0.01)] * 5)
    assert feel.band("glued") == fit_called("glued", "hardwood")


@given(
    st.sampled_from(TIMBERS),
    st.builds(Report, st.sampled_from(WORDS), lengths(-0.5, 1.0), lengths(0.01, 0.05)),
)
@STEADY
def test_one_report_never_throws_a_snug_aim_out_of_the_band_of_common_practice(
    timber: str, report: Report
) -> None:
    practice = fit_called("snug", timber)
    assert practice.low < learned(timber, [report]).band("snug").aim < practice.high


def test_one_absurd_word_among_many_hardly_counts() -> None:
    sound = [Report("hand push", 0.16, 0.01), Report("slides", 0.35, 0.01)] * 5
    before = learned("softwood", sound).band("snug")
    after = learned("softwood", [*sound, Report("will not go", 0.60, 0.01)]).band("snug")
    assert after.aim == pytest.approx(before.aim, abs=0.01)


# What must always hold


@given(st.sampled_from(TIMBERS), reports, st.lists(lengths(-0.3, 0.9), min_size=2, max_size=2))
@STEADY
def test_more_clearance_is_never_felt_as_tighter(
    timber: str, said: list[Report], two: list[float]
) -> None:
    feel = learned(timber, said)
    tight, loose = (np.cumsum(list(feel.said(each).values())) for each in sorted(two))
    assert (tight >= loose - 1e-9).all()
    assert tight[-1] == pytest.approx(1.0)


@given(st.sampled_from(TIMBERS), reports)
@STEADY
def test_boundaries_and_bands_keep_their_order(timber: str, said: list[Report]) -> None:
    feel = learned(timber, said)
    assert (np.diff(feel.draws.parameters[:, :4], axis=1) > 0).all()
    at = [each.at for each in feel.boundaries()]
    assert at == sorted(at)
    assert all(each.low < each.at < each.high for each in feel.boundaries())
    assert feel.middle("mallet").at < feel.middle("hand push").at < feel.middle("slides").at
    assert feel.band("snug").aim < feel.band("sliding").aim


@given(st.sampled_from(TIMBERS), reports)
@STEADY
def test_the_order_of_reports_does_not_matter(timber: str, said: list[Report]) -> None:
    one, other = learned(timber, said), learned(timber, said[::-1])
    assert one.band("snug").aim == pytest.approx(other.band("snug").aim, abs=1e-3)


@pytest.mark.parametrize("timber", TIMBERS)
def test_the_same_reports_tell_the_same_twice(timber: str) -> None:
    one, other = (learned(timber, FEW).boundaries() for _ in range(2))
    assert one == other


def test_a_clearance_known_badly_teaches_less() -> None:
    def width(uncertainty: float) -> float:
        said = [Report("hand push", 0.24, uncertainty), Report("slides", 0.29, uncertainty)] * 3
        found = learned("softwood", said).boundaries()[2]
        return found.high - found.low

    assert width(0.005) < width(0.1)


def test_scatter_grows_where_like_joints_feel_unlike() -> None:
    like = [Report("hand push", 0.17, 0.005), Report("slides", 0.30, 0.005)] * 6
    unlike = [Report("hand push", 0.30, 0.005), Report("slides", 0.17, 0.005)] * 3 + like[:6]
    scatters = [learned("softwood", said).scatter().at for said in (like, unlike)]
    assert scatters[0] < 0.034 < scatters[1]


# What is refused


def test_a_word_of_ones_own_is_refused() -> None:
    with pytest.raises(InputError, match=re.escape("'tight' is not one of its words")):
        Report("tight", 0.1)  # type: ignore[arg-type]  # what a form could send


@pytest.mark.parametrize(
    ("clearance", "uncertainty"), [(6.0, 0.0), (math.nan, 0.0), (0.1, -0.01), (0.1, 2.0)]
)
def test_clearances_that_cannot_be_are_refused(clearance: float, uncertainty: float) -> None:
    with pytest.raises(RangeError, match="Give a clearance of -5 to 5 mm a side"):
        Report("slides", clearance, uncertainty)


def test_a_timber_without_bands_is_refused() -> None:
    with pytest.raises(InputError, match="Use one of hardwood, sheet, softwood"):
        learned("bamboo", [])


@pytest.mark.parametrize("word", ["rattles", "will not go"])
def test_words_open_to_one_side_have_no_middle(word: Between) -> None:
    with pytest.raises(InputError, match=f"'{word}' has no middle"):
        learned("softwood", []).middle(word)


def test_a_fit_that_is_not_there_is_refused() -> None:
    feel: Feel = learned("sheet", FEW)
    with pytest.raises(InputError, match="no fit called 'lining' for sheet"):
        feel.band("lining")


@pytest.mark.parametrize("lapse", [0.0, 1.0])
def test_a_word_is_neither_always_nor_never_wrong(lapse: float) -> None:
    with pytest.raises(RangeError, match="Give a chance above 0 and below 1"):
        Prior(np.zeros(2), np.eye(2), lapse)
