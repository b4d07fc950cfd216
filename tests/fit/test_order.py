"""Which board goes beside which, against every order of a small pile."""

from __future__ import annotations

from itertools import pairwise, permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from faywright.fit import chain, matched, worst_misfit
from tests.strategies import STEADY, lengths, piles

Floats = NDArray[np.float64]
PLAY = 0.36
HAIR = 1e-9

widths_and_thicknesses = st.lists(
    st.tuples(lengths(6, 7), lengths(5.6, 6.6)), min_size=1, max_size=6
).map(lambda pairs: tuple(np.array(pairs).T))


def least_of_all(widths: Floats, thicknesses: Floats) -> float:
    rows = permutations(range(len(widths)))
    return min(worst_misfit(widths, thicknesses, PLAY, np.array(row)) for row in rows)


def pile(count: int, seed: int, *, deviation: float = 0.1) -> tuple[Floats, Floats]:
    """Grooves from both faces and tongues from both faces: each follows its board's thickness."""
    thickness = np.random.default_rng(seed).normal(20, deviation, count)
    return 26.3 - thickness, thickness - 14.0


@given(widths_and_thicknesses)
@STEADY
def test_a_small_pile_gets_the_best_of_all_its_rows(boards: tuple[Floats, Floats]) -> None:
    row = chain(*boards, PLAY)
    assert worst_misfit(*boards, PLAY, row) <= least_of_all(*boards) + HAIR


@pytest.mark.parametrize("seed", range(6))
def test_seven_boards_get_the_best_of_all_their_rows(seed: int) -> None:
    boards = pile(7, seed)
    row = chain(*boards, PLAY)
    assert worst_misfit(*boards, PLAY, row) <= least_of_all(*boards) + HAIR


@pytest.mark.parametrize("count", [1, 2, 7, 8, 20, 60, 61, 100])
def test_a_row_holds_every_board_once_and_is_never_worse_than_listed(count: int) -> None:
    boards = pile(count, seed=count)
    row = chain(*boards, PLAY)
    assert sorted(row) == list(range(count))
    assert worst_misfit(*boards, PLAY, row) <= worst_misfit(*boards, PLAY, np.arange(count))


@pytest.mark.parametrize("count", [12, 40, 100])
def test_thin_and_thick_take_turns_where_grooves_follow_thickness(count: int) -> None:
    widths, thicknesses = pile(count, seed=1)
    listed = worst_misfit(widths, thicknesses, PLAY, np.arange(count))
    row = chain(widths, thicknesses, PLAY)
    assert worst_misfit(widths, thicknesses, PLAY, row) < 0.8 * listed
    middle = np.median(thicknesses)
    turns = [
        thicknesses[a] < middle < thicknesses[b] or thicknesses[b] < middle < thicknesses[a]
        for a, b in pairwise(row)
    ]
    assert np.mean(turns) > 0.7


@pytest.mark.parametrize("count", [5, 9])
def test_a_row_that_fits_as_listed_stays_as_listed(count: int) -> None:
    widths, thicknesses = np.full(count, 6.36), np.full(count, 6.0)
    assert chain(widths, thicknesses, PLAY).tolist() == list(range(count))


def test_a_worst_misfit_is_of_a_tongue_in_the_groove_of_the_next() -> None:
    widths, thicknesses = np.array([6.0, 6.5, 7.0]), np.array([6.0, 6.1, 9.0])
    assert worst_misfit(widths, thicknesses, 0.4, np.arange(3)) == pytest.approx(0.5)
    assert worst_misfit(widths, thicknesses, 0.4, np.array([1, 0, 2])) == pytest.approx(0.6)


def test_a_board_alone_misfits_nowhere() -> None:
    alone = np.array([6.0])
    assert worst_misfit(alone, alone, PLAY, np.arange(1)) == 0.0
    assert chain(alone, alone, PLAY).tolist() == [0]


@given(piles, st.data())
@STEADY
def test_no_other_pairs_have_a_smaller_worst_misfit(widths: Floats, data: st.DataObject) -> None:
    count = len(widths)
    thicknesses = np.array(data.draw(st.lists(lengths(17, 23), min_size=count, max_size=count)))
    grooves, tongues = matched(widths, thicknesses)
    found = float(np.abs(widths[grooves] - thicknesses[tongues] - PLAY).max())
    turned = np.array(list(permutations(range(count))))
    least = np.abs(widths - thicknesses[turned] - PLAY).max(axis=1).min()
    assert found <= least + HAIR


@given(piles)
@STEADY
def test_every_groove_gets_a_tongue_of_its_own(widths: Floats) -> None:
    grooves, tongues = matched(widths, widths[::-1].copy())
    assert sorted(grooves) == sorted(tongues) == list(range(len(widths)))
