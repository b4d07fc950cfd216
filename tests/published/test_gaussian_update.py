"""Box and Tiao, Bayesian Inference in Statistical Analysis (1973), section 1.2: two physicists.

A and B estimate a constant. A expects N(900, 20 squared), B N(800, 80 squared). One observation
of standard deviation 40 gives 850; later the mean of 100 is 870. The printed figures are from
memory of the book; tolerance: half of the last printed digit.
"""

from __future__ import annotations

import pytest

from faywright.trials.belief import Belief, Unknown
from faywright.trials.update import Observation, updated

CONSTANT = Unknown("cutter", "constant")

PHYSICISTS = [
    # who, prior, after one observation with its digits, after a hundred with their digits
    pytest.param((900.0, 20.0), (890.0, 0.5, 17.9, 0.05), (871.2, 0.05, 3.9, 0.05), id="A"),
    pytest.param((800.0, 80.0), (840.0, 0.5, 35.78, 0.005), (869.8, 0.05, 3.995, 0.0005), id="B"),
]
Printed = tuple[float, float, float, float]


def seen(mean: float, number: int) -> Observation:
    return Observation(
        what="observation",
        row={CONSTANT: 1.0},
        expected=0.0,
        read=mean,
        uncertainty=40.0 / number**0.5,
    )


@pytest.mark.parametrize(("prior", "one", "hundred"), PHYSICISTS)
def test_each_physicist_learns_from_one_observation_and_from_a_hundred(
    prior: tuple[float, float], one: Printed, hundred: Printed
) -> None:
    belief = Belief.independent({CONSTANT: prior})
    for observation, printed in ((seen(850.0, 1), one), (seen(870.0, 100), hundred)):
        mean, deviation = updated(belief, [observation]).of(CONSTANT)
        assert mean == pytest.approx(printed[0], abs=printed[1])
        assert deviation == pytest.approx(printed[2], abs=printed[3])


def test_after_a_hundred_observations_the_two_hardly_differ() -> None:
    means = [
        updated(Belief.independent({CONSTANT: prior}), [seen(870.0, 100)]).of(CONSTANT)[0]
        for prior in ((900.0, 20.0), (800.0, 80.0))
    ]
    assert abs(means[0] - means[1]) < 1.5
