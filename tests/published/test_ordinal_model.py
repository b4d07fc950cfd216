"""An ordered probit as published: satisfaction with rented homes in Copenhagen.

W. N. Venables and B. D. Ripley, Modern Applied Statistics with S, 4th edition (2002), section
7.3: table after M. Madsen (1976), 1681 tenants in 24 groups, low, medium or high satisfaction.
Table and fitted values (the probit variant of that section's proportional-odds model) are from
memory; that they agree with each other to the last digit is the check on that.
"""

import numpy as np
import pytest
from numpy.typing import NDArray

from faywright.trials.ordinal import chances

Floats = NDArray[np.float64]

COUNTS = np.array(
    [  # low, medium, high satisfaction
        # little contact: tower, apartment, atrium, terrace; each by low, medium, high influence
        [21, 21, 28], [34, 22, 36], [10, 11, 36],
        [61, 23, 17], [43, 35, 40], [26, 18, 54],
        [13, 9, 10], [8, 8, 12], [6, 7, 9],
        [18, 6, 7], [15, 13, 13], [7, 5, 11],
        # much contact
        [14, 19, 37], [17, 23, 40], [3, 5, 23],
        [78, 46, 43], [48, 45, 86], [15, 25, 62],
        [20, 23, 20], [10, 22, 24], [7, 10, 21],
        [57, 23, 13], [31, 21, 13], [5, 6, 13],
    ]
)  # fmt: skip
INFLUENCE = (0.0, 0.3464, 0.7829)
HOME = (0.0, -0.3475, -0.2179, -0.6642)
CONTACT = (0.0, 0.2224)
CUTS = np.array([-0.2998, 0.4267])
DEVIANCE = 3479.689


def predictor() -> Floats:
    return np.array([c + h + i for c in CONTACT for h in HOME for i in INFLUENCE])


def deviance(cuts: Floats) -> float:
    found = chances(predictor(), cuts, np.ones(24))
    return -2 * float((COUNTS * np.log(found)).sum())


def test_the_table_is_whole() -> None:
    assert COUNTS.sum() == 1681


def test_the_published_fit_has_its_published_deviance() -> None:
    assert deviance(CUTS) == pytest.approx(DEVIANCE, abs=0.0005)


@pytest.mark.parametrize("cut", [0, 1])
@pytest.mark.parametrize("by", [-0.005, 0.005])
def test_no_cut_points_beside_the_published_ones_do_better(cut: int, by: float) -> None:
    """Chosen 100 times the last printed digit away, so that rounding cannot decide."""
    moved = CUTS.copy()
    moved[cut] += by
    assert deviance(moved) > deviance(CUTS)
