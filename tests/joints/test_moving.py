"""Room for movement: gaps to lay, tongues that stay in, play and bottom, by plain arithmetic."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.joints.moving import STEP, SideChange
from faywright.timber.movement import MARGIN
from tests.joints.builders import exactly
from tests.joints.moves import STILL, change, moment, moving, row_moving
from tests.strategies import STEADY, lengths

shares = st.integers(0, 400).map(lambda number: number / 100)
"""Movement in percent, up to 4."""


def test_nineteen_boards_in_twenty_move_less_than_is_made_ready_for() -> None:
    assert exactly(1.3) == MARGIN


def test_boards_that_do_not_move_ask_for_nothing() -> None:
    still = moving()
    assert still.play_changes(7.36, 7.0) == (0.0, (0.0, 0.0))
    assert still.bottom_loss(11.0, 10.0) == 0.0
    assert (still.swells, still.shrinks, still.tongue_shrinks) == (0.0, 0.0, 0.0)
    assert still.laying_gap(120.0) == 0.0
    assert still.least_length(120.0, from_face=True) == exactly(3.0)


# Play


def test_play_grows_by_what_the_groove_gains_less_what_the_tongue_gains() -> None:
    found = moving(
        moment("driest", (-1.0, 0.0), (-2.0, 0.0)),
        moment("wettest", (3.0, 0.0), (1.0, 0.0)),
        assembly=moment("assembly", (1.0, 0.0), (0.5, 0.0)),
    ).play_changes(8.0, 7.0)
    # groove 8.08, 7.92, 8.24; tongue 7.035, 6.86, 7.07; play 1.045, 1.06, 1.17 after 1
    assert found == (exactly(0.045), exactly((0.015, 0.125)))


def test_one_timber_for_both_moves_only_the_play_itself() -> None:
    start, later = moving(
        moment("driest", (-2.0, 0.0)), moment("wettest", (2.0, 0.0))
    ).play_changes(7.36, 7.0)
    assert (start, later) == (0.0, exactly((-0.0072, 0.0072)))


def test_a_pile_counts_with_its_mean() -> None:
    season = moment("wettest", STILL, boards=2)
    season.grooved.across[:] = (0.01, 0.03)
    assert moving(season).play_changes(10.0, 9.0)[1] == exactly((0.2,))


def test_a_tongue_that_swells_takes_play_and_one_that_dries_gives_it() -> None:
    _, (dry, wet) = moving(
        moment("driest", STILL, (-1.0, 0.0)), moment("wettest", STILL, (1.0, 0.0))
    ).play_changes(8.0, 7.0)
    assert (dry, wet) == exactly((0.07, -0.07))


# Room under the tongue


def test_room_under_the_tongue_is_lost_where_the_tongue_gains_more() -> None:
    found = moving(moment("driest", (0.0, -1.0)), moment("wettest", (0.0, 1.0), (0.0, 4.0)))
    assert found.bottom_loss(11.0, 10.0) == exactly(10.4 - 10 - (11.11 - 11))


def test_the_day_of_assembly_counts_for_the_room_under_the_tongue() -> None:
    found = moving(assembly=moment("assembly", STILL, (0.0, 3.0)))
    assert found.bottom_loss(11.0, 10.0) == exactly(0.3)


def test_the_worst_pair_of_boards_decides_the_room_under_the_tongue() -> None:
    season = moment("wettest", STILL, boards=2)
    season.grooved.deep[:] = (0.01, -0.01)
    season.tongued.deep[:] = (0.0, 0.02)
    assert moving(season).bottom_loss(11.0, 10.0) == exactly(0.11 + 0.2)


def test_room_that_only_grows_is_no_loss() -> None:
    assert moving(moment("wettest", (0.0, 2.0))).bottom_loss(11.0, 10.0) == 0.0


# Gaps between faces


@given(face=lengths(40, 300), driest=shares, wettest=shares, assembly=st.integers(-200, 200))
@STEADY
def test_a_row_laid_with_its_gap_just_closes_when_wettest_and_boards_move_more(
    face: float, driest: float, wettest: float, assembly: int
) -> None:
    start = assembly / 100
    found = row_moving(start - driest, start + wettest, assembly=start)
    grown = face * (1 + (start + wettest) / 100) - face * (1 + start / 100)
    assert found.laying_gap(face) - 1.3 * grown == exactly(0.0)


def test_a_row_assembled_at_its_wettest_is_laid_close() -> None:
    found = row_moving(-3.0, 0.5, assembly=1.0)
    assert found.laying_gap(120.0) == 0.0
    assert (found.swells, found.shrinks) == (0.0, exactly(0.04))


def test_a_row_assembled_at_its_driest_only_closes() -> None:
    found = row_moving(-1.0, 2.0, assembly=-2.0)
    assert (found.swells, found.shrinks) == (exactly(0.04), 0.0)


def test_the_board_that_moves_most_decides_for_the_row() -> None:
    season = moment("driest", STILL, boards=3)
    season.grooved.deep[:] = (-0.01, -0.03, 0.02)
    found = moving(season, assembly=moment("assembly", STILL, boards=3))
    assert (found.swells, found.shrinks) == exactly((0.02, 0.03))


# Length of the tongue


def left_in(
    length: float,
    width: float,
    driest: float,
    wettest: float,
    assembly: float,
    *,
    own: bool,
) -> float:
    """Tongue in its last groove at the driest, every board moving 1.3 times as told. [mm]

    Percents since cutting. The widest face, that of the last board, is laid so that it closes
    when wettest. Boards are driest on the day they are laid, or in a season.
    """
    before = width - length if own else width
    swollen, shrunk = max(wettest - assembly, 0), max(assembly - driest, 0)
    opening = 1.3 * (width * swollen + (before + width) / 2 * shrunk) / 100
    return length * (1 - 1.3 * max(-driest, -assembly, 0) / 100) - opening


@given(
    width=lengths(60, 300),
    driest=shares,
    wettest=shares,
    assembly=st.integers(-100, 100),
    own=st.booleans(),
)
@STEADY
def test_the_least_tongue_stays_in_and_a_step_less_would_not(
    width: float, driest: float, wettest: float, assembly: int, own: bool
) -> None:
    start = assembly / 100
    moves = (start - driest, start + wettest, start)
    length = row_moving(*moves[:2], assembly=start).least_length(width, from_face=own)
    assert left_in(length, width, *moves, own=own) >= 3.0 - 1e-6
    assert left_in(length - STEP, width, *moves, own=own) < 3.0


def test_a_tongue_that_dries_before_it_is_laid_is_longer_when_cut() -> None:
    found = row_moving(-1.0, 2.0, assembly=-4.0)  # the gap: 120 x 1.3 x 6 %; the tongue 5.2 % less
    assert found.least_length(120.0, from_face=True) == exactly(13.1)  # 12.36 / 0.948 = 13.038


def test_lengths_are_whole_tenths() -> None:
    length = row_moving(-2.0, 2.0).least_length(117.3, from_face=True)
    assert length / STEP == exactly(round(length / STEP))
    # (3 + 117.3 x 0.052) / (1 + 0.013 - 0.026) = 9.219
    assert length == exactly(9.3)


def test_more_engagement_asks_for_a_longer_tongue() -> None:
    seasons = (moment("driest", (0.0, -2.0)), moment("wettest", (0.0, 2.0)))
    short, long = (moving(*seasons, engagement=e) for e in (3.0, 6.0))
    more = long.least_length(120.0, from_face=False) - short.least_length(120.0, from_face=False)
    assert more == pytest.approx(3.0 / (1 - 0.026), abs=STEP)


def test_a_loose_tongue_is_longer_by_what_it_may_slide_away() -> None:
    found = row_moving(-2.0, 2.0)
    # (3 + 1.2 + 120 x 0.052) / (1 - 2 x 0.026) = 11.013
    assert found.least_length(120.0, from_face=False, slides=1.2) == exactly(11.1)


def test_laid_wet_or_dry_the_whole_swing_of_the_year_is_to_be_bridged() -> None:
    found = [
        row_moving(-3.0, 0.0, assembly=at).least_length(120.0, from_face=False)
        for at in (0.0, -1.5, -3.0)
    ]
    assert len(set(found)) == 1


def test_a_change_is_told_for_each_board() -> None:
    assert isinstance(change((1.0, 2.0), 3), SideChange)
    assert change((1.0, 2.0), 3).deep.tolist() == [0.02] * 3
