"""A belief is what a joint normal distribution can be, and nothing else."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import InputError
from faywright.trials.belief import Belief, Unknown
from tests.strategies import STEADY
from tests.trials.shops import CUTTER, FENCE, HEIGHT, LIFT, UNKNOWNS, beliefs, coefficients


def two(variance: float = 0.04, shared: float = 0.0, other: float = 0.09) -> Belief:
    covariance = np.array([[variance, shared], [shared, other]])
    return Belief((HEIGHT, FENCE), np.array([0.1, -0.2]), covariance)


def test_mean_and_deviation_of_one_unknown() -> None:
    assert two().of(HEIGHT) == pytest.approx((0.1, 0.2))
    assert two().of(FENCE) == pytest.approx((-0.2, 0.3))


def test_independent_unknowns_share_nothing() -> None:
    belief = Belief.independent({HEIGHT: (0.1, 0.2), FENCE: (-0.2, 0.3)})
    assert belief.covariance.tolist() == pytest.approx(np.diag([0.04, 0.09]))


def test_a_belief_about_nothing_predicts_nought() -> None:
    assert Belief.independent({}).predicted({}) == (0.0, 0.0)


def test_what_is_shared_counts_in_a_prediction() -> None:
    mean, deviation = two(shared=0.05).predicted({HEIGHT: 2.0, FENCE: -1.0})
    assert mean == pytest.approx(0.4)
    assert deviation**2 == pytest.approx(4 * 0.04 + 0.09 - 4 * 0.05)


@STEADY
@given(belief=beliefs(), data=st.data())
def test_a_prediction_is_row_times_mean_and_row_times_covariance_times_row(
    belief: Belief, data: st.DataObject
) -> None:
    row = np.array([data.draw(coefficients) for _ in belief.unknowns])
    mean, deviation = belief.predicted(dict(zip(belief.unknowns, row.tolist(), strict=True)))
    assert mean == pytest.approx(row @ belief.mean, abs=1e-12)
    assert deviation**2 == pytest.approx(row @ belief.covariance @ row, abs=1e-12)


@STEADY
@given(belief=beliefs())
def test_the_root_times_its_transpose_is_the_covariance(belief: Belief) -> None:
    assert belief.root @ belief.root.T == pytest.approx(belief.covariance, abs=1e-14)


@STEADY
@given(belief=beliefs(least=3))
def test_dropping_what_was_joined_gives_back_the_belief(belief: Belief) -> None:
    new = Belief.independent({Unknown("cutter", "new"): (0.0, 0.05)})
    back = belief.joined(new).marginal(belief.unknowns)
    assert back.mean.tolist() == belief.mean.tolist()
    assert back.covariance.tolist() == belief.covariance.tolist()


@STEADY
@given(belief=beliefs(least=3))
def test_a_marginal_says_of_each_what_the_whole_says_in_any_order(belief: Belief) -> None:
    part = belief.marginal([CUTTER, HEIGHT])
    assert part.unknowns == (CUTTER, HEIGHT)
    for unknown in part.unknowns:
        assert part.of(unknown) == belief.of(unknown)
    both = {CUTTER: 1.0, HEIGHT: -2.0}
    assert part.predicted(both) == pytest.approx(belief.predicted(both), abs=1e-12)


def test_joined_unknowns_have_nothing_to_do_with_those_before() -> None:
    joined = two(shared=0.05).joined(Belief.independent({LIFT: (0.01, 0.02)}))
    assert joined.covariance[2].tolist() == pytest.approx([0.0, 0.0, 0.0004])
    assert joined.covariance[0, 1] == 0.05
    assert joined.of(LIFT) == pytest.approx((0.01, 0.02))


def test_a_belief_cannot_be_changed_nor_the_arrays_it_was_made_of_reach_it() -> None:
    mean = np.zeros(1)
    belief = Belief((HEIGHT,), mean, np.eye(1))
    mean[0] = 7.0
    assert belief.of(HEIGHT) == (0.0, 1.0)
    with pytest.raises(ValueError, match="read-only"):
        belief.covariance[0, 0] = 2.0
    with pytest.raises(dataclasses.FrozenInstanceError):
        belief.mean = mean  # type: ignore[misc]  # that it is refused is the point


def test_what_is_known_exactly_may_be_believed() -> None:
    belief = Belief.independent({HEIGHT: (0.1, 0.0), FENCE: (0.0, 0.03)})
    assert belief.predicted({HEIGHT: 3.0}) == pytest.approx((0.3, 0.0))


BAD = [
    ((HEIGHT, HEIGHT), [0.0, 0.0], np.eye(2), "the height zero of dial is in it twice"),
    ((HEIGHT,), [0.0, 0.0], np.eye(1), r"shape \(2,\) and a covariance of shape \(1, 1\)"),
    ((HEIGHT, FENCE), [0.0, 0.0], np.eye(3), r"Give shapes \(2,\) and \(2, 2\)"),
    ((HEIGHT,), [np.nan], np.eye(1), "is not a number"),
    ((HEIGHT,), [0.0], [[np.inf]], "is not a number"),
    ((HEIGHT, FENCE), [0.0, 0.0], [[1.0, 0.5], [0.4, 1.0]], "not symmetric"),
    ((HEIGHT, FENCE), [0.0, 0.0], [[1.0, 1.1], [1.1, 1.0]], "eigenvalue of -0.1 is below 0"),
    ((HEIGHT, FENCE), [0.0, 0.0], [[1e-8, 1.1e-8], [1.1e-8, 1e-8]], "of -0.1 is below 0"),
    ((HEIGHT,), [0.0], [[-1e-4]], "is not positive"),
    ((HEIGHT, FENCE), [0.0, 0.0], [[0.0, 0.1], [0.1, 1.0]], "is not positive"),
]


@pytest.mark.parametrize(("unknowns", "mean", "covariance", "message"), BAD)
def test_what_no_normal_distribution_can_be_is_refused(
    unknowns: tuple[Unknown, ...], mean: list[float], covariance: object, message: str
) -> None:
    with pytest.raises(InputError, match=message):
        Belief(unknowns, np.array(mean), np.array(covariance))


def test_rounding_is_not_taken_for_a_fault() -> None:
    slip = np.array([[1.0, 1.0], [1.0 + 1e-12, 1.0 - 1e-12]]) * 1e-4
    assert two().marginal([HEIGHT]).of(HEIGHT) == pytest.approx((0.1, 0.2))
    belief = Belief((HEIGHT, FENCE), np.zeros(2), slip)
    assert belief.covariance[0, 1] == belief.covariance[1, 0]


def test_a_deviation_below_nought_is_refused() -> None:
    with pytest.raises(InputError, match="standard deviation is below 0"):
        Belief.independent({HEIGHT: (0.0, -0.1)})


@pytest.mark.parametrize("ask", ["of", "predicted", "marginal"])
def test_what_nothing_is_believed_of_is_named_with_what_there_is(ask: str) -> None:
    asked = {"of": CUTTER, "predicted": {CUTTER: 1.0}, "marginal": [CUTTER]}[ask]
    with pytest.raises(InputError, match=r"of the cutter of C1.*height zero of dial, fence zero"):
        getattr(two(), ask)(asked)


@pytest.mark.parametrize(("kind", "owner"), [("hight zero", "dial"), ("cutter", "")])
def test_an_unknown_is_of_a_kind_there_is_and_of_something(kind: str, owner: str) -> None:
    with pytest.raises(InputError, match="height zero, fence zero, cutter, lift, setting"):
        Unknown(kind, owner)  # type: ignore[arg-type]  # as it may come from a stored record


def test_unknowns_are_said_as_a_maker_would() -> None:
    said = [str(unknown) for unknown in UNKNOWNS[:3]]
    assert said == ["height zero of dial", "fence zero of dial", "cutter of C1"]
