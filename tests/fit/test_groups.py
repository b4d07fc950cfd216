"""Groups of boards, against every way there is to part a small pile."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from faywright.errors import RangeError
from faywright.fit import Group, fewest_groups, most_served, range_for_one
from tests.strategies import STEADY, lengths, piles

Floats = NDArray[np.float64]
halves = lengths(0, 1.2)
HAIR = 1e-9


@cache
def partitions(count: int) -> NDArray[np.int64]:
    """Every way to part ``count`` boards into groups: a row gives the group of each board."""
    rows = [[0]]
    for _ in range(count - 1):
        rows = [[*row, label] for row in rows for label in range(max(row) + 2)]
    return np.array(rows)


def widest(best: Floats) -> tuple[NDArray[np.int64], Floats]:
    """Number of groups of every partition, and the range of the widest of them."""
    labels = partitions(len(best))
    ranges = np.zeros(len(labels))
    for label in range(len(best)):
        here = labels == label
        high = np.where(here, best, -np.inf).max(axis=1)
        low = np.where(here, best, np.inf).min(axis=1)
        ranges = np.maximum(ranges, np.where(here.any(axis=1), high - low, 0.0))
    return labels.max(axis=1) + 1, ranges


def fewest(best: Floats, half: float) -> int:
    counts, ranges = widest(best)
    return int(counts[ranges <= 2 * half + HAIR].min())


def members(groups: tuple[Group, ...]) -> list[int]:
    return [int(board) for group in groups for board in group.members]


def assert_in_reach(groups: tuple[Group, ...], best: Floats, half: float) -> None:
    for group in groups:
        assert np.abs(best[group.members] - group.setting).max() <= half + HAIR


@given(piles, halves)
@STEADY
def test_no_fewer_settings_would_serve_the_pile(best: Floats, half: float) -> None:
    assert len(fewest_groups(best, half)) == fewest(best, half)


@given(piles, halves)
@STEADY
def test_every_board_is_in_one_group_and_within_its_reach(best: Floats, half: float) -> None:
    groups = fewest_groups(best, half)
    assert sorted(members(groups)) == list(range(len(best)))
    assert_in_reach(groups, best, half)


@given(piles, halves)
@STEADY
def test_the_widest_group_is_as_narrow_as_any_way_with_that_many(best: Floats, half: float) -> None:
    groups = fewest_groups(best, half)
    counts, ranges = widest(best)
    found = max(float(np.ptp(best[group.members])) for group in groups)
    assert found <= ranges[counts == len(groups)].min() + HAIR


@pytest.mark.parametrize("seed", range(12))
def test_eight_boards_are_grouped_as_well_as_any_partition(seed: int) -> None:
    rng = np.random.default_rng(seed)
    best = rng.normal(6.5, 0.15, 8)
    for half in (0.01, 0.05, 0.1, 0.2):
        groups = fewest_groups(best, half)
        counts, ranges = widest(best)
        assert len(groups) == counts[ranges <= 2 * half].min()
        found = max(float(np.ptp(best[group.members])) for group in groups)
        assert found <= ranges[counts == len(groups)].min() + HAIR


@given(piles, halves, halves)
@STEADY
def test_less_room_never_takes_fewer_groups(best: Floats, one: float, other: float) -> None:
    tight, loose = sorted((one, other))
    assert len(fewest_groups(best, tight)) >= len(fewest_groups(best, loose))


@given(piles, halves)
@STEADY
def test_settings_rise_and_stand_in_the_middle_of_their_boards(best: Floats, half: float) -> None:
    groups = fewest_groups(best, half)
    settings = [group.setting for group in groups]
    assert settings == sorted(settings)
    for group in groups:
        served = best[group.members]
        assert group.setting == pytest.approx((served.min() + served.max()) / 2, abs=1e-12)


@given(piles, halves, st.integers(0, 100))
@STEADY
def test_the_order_of_the_pile_changes_no_setting(best: Floats, half: float, seed: int) -> None:
    order = np.random.default_rng(seed).permutation(len(best))
    here, there = fewest_groups(best, half), fewest_groups(best[order], half)
    assert [group.setting for group in there] == [group.setting for group in here]
    for one, other in zip(here, there, strict=True):
        assert sorted(best[order][other.members]) == sorted(best[one.members])


@given(piles, lengths(0, 1.2))
@STEADY
def test_one_setting_serves_just_what_lies_within_its_range(best: Floats, half: float) -> None:
    reach = range_for_one(half)
    assert (len(fewest_groups(best, half)) == 1) == (np.ptp(best) <= reach + HAIR)


def test_boards_just_in_reach_of_one_setting_share_it() -> None:
    assert len(fewest_groups(np.array([6.1, 6.3]), 0.1)) == 1
    assert len(fewest_groups(np.array([6.1, 6.301]), 0.1)) == 2


def test_without_room_only_equal_boards_share_a_setting() -> None:
    groups = fewest_groups(np.array([6.2, 6.1, 6.2, 6.3]), 0.0)
    assert [group.members.tolist() for group in groups] == [[1], [0, 2], [3]]


@given(piles, halves, st.integers(1, 4))
@STEADY
def test_no_other_settings_would_serve_more_boards(
    best: Floats, half: float, settings: int
) -> None:
    windows = [(best >= low - HAIR) & (best <= low + 2 * half + HAIR) for low in best]
    some = min(settings, len(best))
    most = max(int(np.any(each, axis=0).sum()) for each in combinations(windows, some))
    groups = most_served(best, half, settings)
    assert len(members(groups)) == len(set(members(groups))) == most
    assert len(groups) <= settings
    assert_in_reach(groups, best, half)


@given(piles, halves)
@STEADY
def test_as_many_settings_as_are_needed_serve_all(best: Floats, half: float) -> None:
    needed = len(fewest_groups(best, half))
    assert len(members(most_served(best, half, needed))) == len(best)
    if needed > 1:
        assert len(members(most_served(best, half, needed - 1))) < len(best)


def test_no_setting_serves_no_board() -> None:
    assert most_served(np.array([6.1, 6.2]), 0.1, 0) == ()


@pytest.mark.parametrize("group", [fewest_groups, lambda best, half: most_served(best, half, 2)])
@pytest.mark.parametrize(
    ("best", "half"),
    [([], 0.1), ([6.1, np.nan], 0.1), ([6.1, np.inf], 0.1), ([6.1], -0.1), ([6.1], np.nan)],
)
def test_no_boards_or_no_room_is_refused(
    group: Callable[[Floats, float], object], best: list[float], half: float
) -> None:
    with pytest.raises(RangeError, match=r"^groups of boards: no boards, or room that is not 0"):
        group(np.array(best), half)
