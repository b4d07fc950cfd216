from __future__ import annotations

import math
from typing import Literal

import numpy as np
import pytest

from faywright.errors import RangeError
from faywright.shop import Board, scatter_along
from tests.shop.owned import board

TAPERED = board([20.0, 21.0], [20.2, 21.2], [20.1, 21.6])


def test_a_thickness_is_the_mean_of_all_readings() -> None:
    assert TAPERED.thickness == pytest.approx((20.0 + 20.2 + 20.1 + 21.0 + 21.2 + 21.6) / 6)


@pytest.mark.parametrize(
    ("side", "mean"), [("reference edge", 20.1), ("opposite edge", (21.0 + 21.2 + 21.6) / 3)]
)
def test_a_thickness_at_an_edge_is_that_of_its_own_column(
    side: Literal["reference edge", "opposite edge"], mean: float
) -> None:
    assert TAPERED.thickness_at(side) == pytest.approx(mean)


def test_a_board_read_in_one_column_is_the_same_at_both_edges() -> None:
    single = board([20.0], [20.2])
    assert single.thickness_at("reference edge") == single.thickness_at("opposite edge") == 20.1


def test_the_range_along_a_board_is_that_of_its_worst_column() -> None:
    assert TAPERED.along == pytest.approx(0.6)
    assert board([20.0, 25.0]).along == 0.0


# Scatter along the boards


def test_scatter_is_the_standard_deviation_of_the_readings_of_one_board() -> None:
    readings = [20.0, 20.3, 20.1, 20.2]
    found = scatter_along((board(*([each] for each in readings)),))
    assert found == pytest.approx(np.std(readings, ddof=1))


def test_scatter_is_pooled_by_degrees_of_freedom() -> None:
    few, many = [20.0, 20.2], [23.0, 23.1, 23.3, 23.0, 23.6]
    boards = tuple(board(*([each] for each in readings)) for readings in (few, many))
    pooled = math.sqrt((np.var(few, ddof=1) + 4 * np.var(many, ddof=1)) / 5)
    assert scatter_along(boards) == pytest.approx(pooled)


def test_differences_between_boards_and_across_them_are_no_scatter() -> None:
    boards = (board([18.0, 19.0], [18.0, 19.0]), board([22.0, 25.0], [22.0, 25.0]))
    assert scatter_along(boards) == 0.0


@pytest.mark.parametrize("boards", [(), (board([20.0, 20.3]),), (board([20.0]), board([21.0]))])
def test_boards_read_once_along_their_length_say_nothing_of_scatter(
    boards: tuple[Board, ...],
) -> None:
    assert scatter_along(boards) is None


def test_a_board_read_once_leaves_the_scatter_of_the_others_as_it_is() -> None:
    read = board([20.0], [20.4])
    assert scatter_along((read, board([25.0]))) == scatter_along((read,))


def test_scatter_of_many_boards_is_that_they_were_made_with() -> None:
    rng = np.random.default_rng(5)
    made = [rng.uniform(18, 24) + rng.normal(0, 0.07, (3, 2)) for _ in range(2000)]
    boards = tuple(board(*readings.tolist()) for readings in made)
    assert scatter_along(boards) == pytest.approx(0.07, rel=4 / math.sqrt(2 * 8000))


# What is refused


@pytest.mark.parametrize("reading", [math.nan, math.inf])
def test_a_missing_reading_is_refused(reading: float) -> None:
    with pytest.raises(RangeError, match=r"^board B01: a thickness reading is missing\. Measure"):
        board([20.0], [reading])


def test_a_board_without_readings_is_refused() -> None:
    with pytest.raises(RangeError, match=r"a thickness reading is missing"):
        board()


@pytest.mark.parametrize("odd", [0.0, 0.787, -20.0, 200.5])
def test_a_reading_no_board_has_is_refused(odd: float) -> None:
    said = f"^board B01: a thickness of {odd:g} mm is not between 1 and 200 mm. Check the decimal"
    with pytest.raises(RangeError, match=said):
        board([20.0], [odd])


@pytest.mark.parametrize("odd", [0.0, -5.0, 20001.0, math.nan])
def test_a_board_without_width_or_length_is_refused(odd: float) -> None:
    with pytest.raises(RangeError, match=f"^board B01: a width of {odd:g} mm is not between 0 and"):
        board([20.0], width=odd)
    with pytest.raises(RangeError, match=f"^board B01: a length of {odd:g} mm is not between 0"):
        board([20.0], length=odd)
