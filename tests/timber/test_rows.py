import math
from dataclasses import replace
from itertools import pairwise
from typing import get_args

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from faywright.errors import InputError, RangeError
from faywright.timber.climate import Climate, StatedMoisture, winter_and_summer
from faywright.timber.movement import MARGIN, Shrinkage, across_width
from faywright.timber.rows import (
    Ends,
    Laid,
    Row,
    RowTask,
    ShortPile,
    equal_row,
    fewest_boards,
    given_row,
)
from faywright.timber.year import Swing, expected, swing, swing_of_all
from tests.strategies import STEADY, lengths

shares = st.integers(0, 50).map(lambda number: number / 1000)
ways = st.sampled_from(get_args(Laid))


def swinging(swelling: float, shrinkage: float) -> Swing:
    """Dry for half of the year, and wet for the other."""
    return Swing(swelling=swelling, shrinkage=shrinkage, months=(-shrinkage,) * 6 + (swelling,) * 6)


swings = st.builds(swinging, shares, shares)
tasks = st.builds(RowTask, width=lengths(200, 3000), swing=swings, tongue=lengths(0, 12), laid=ways)
piles = st.lists(lengths(30, 300), min_size=1, max_size=30)


def closed_at(row: Row, swelling: float) -> list[float]:
    """What is left of every gap once faces have swollen, each board held at its middle."""
    grown = [swelling * face / 2 for face in row.faces]
    joints = [row.gap - one - other for one, other in pairwise(grown)]
    if row.task.laid == "between sides":
        joints += [row.side_gap - grown[0], row.side_gap - grown[-1]]
    return [] if row.task.laid == "glued" else joints


def across(row: Row) -> float:
    gaps = [row.gap] * (len(row.boards) - 1) + [row.side_gap] * 2
    return math.fsum([*row.faces, *gaps])


def ratio(moving: float) -> float:
    return MARGIN * moving


def test_ten_boards_between_sides_share_the_width_with_ten_gaps() -> None:
    row = equal_row(RowTask(width=1013, swing=swinging(0.01, 0.0)), 10)
    assert row.faces == pytest.approx([100.0] * 10)
    assert [row.gap, row.side_gap] == pytest.approx([1.3, 0.65])


def test_boards_with_free_sides_have_one_gap_fewer_than_boards() -> None:
    row = equal_row(RowTask(width=1011.7, swing=swinging(0.01, 0.0), laid="free sides"), 10)
    assert row.faces == pytest.approx([100.0] * 10)
    assert row.faces[0] == pytest.approx((1011.7 - 9 * row.gap) / 10)
    assert row.side_gap == 0


def test_a_glued_row_has_no_gaps_and_moves_as_one() -> None:
    row = equal_row(RowTask(width=900, swing=swinging(0.01, 0.02), laid="glued"), 6)
    assert (row.faces[0], row.gap, row.driest.openings) == (150.0, 0.0, ())
    assert row.wettest.overall.size == pytest.approx(909)
    assert row.driest.wood.size == pytest.approx(882)


def test_every_board_but_the_last_is_ripped_with_its_tongue() -> None:
    row = equal_row(RowTask(width=600, swing=swinging(0, 0), tongue=8), 6)
    assert [board.rip for board in row.boards] == [108.0] * 5 + [100.0]


@STEADY
@given(tasks, st.integers(1, 40))
def test_faces_and_gaps_of_equal_boards_make_up_the_width(task: RowTask, count: int) -> None:
    row = equal_row(task, count)
    assert across(row) == pytest.approx(task.width, rel=1e-12)
    assert len(set(row.faces)) == 1


@STEADY
@given(tasks, piles, st.sampled_from(get_args(Ends)))
def test_faces_and_gaps_of_given_boards_make_up_the_width(
    task: RowTask, widths: list[float], ends: Ends
) -> None:
    row = given_row(task, widths, ends)
    assume(isinstance(row, Row))
    assert isinstance(row, Row)
    assert across(row) == pytest.approx(task.width, rel=1e-12)
    for board, width in zip(row.boards, widths, strict=False):
        assert 0 < board.rip <= width + 1e-8
    assert len(row.boards) + len(row.left_over) == len(widths)


@STEADY
@given(tasks, piles, st.floats(0, 1))
def test_no_joint_pushes_at_any_movement_within_the_margin(
    task: RowTask, widths: list[float], part: float
) -> None:
    row = given_row(task, widths)
    assume(isinstance(row, Row))
    assert isinstance(row, Row)
    for left in closed_at(row, part * ratio(task.swing.swelling)):
        assert -1e-9 <= left <= row.gap + 1e-9


@STEADY
@given(tasks, st.integers(2, 40))
def test_equal_boards_just_touch_at_the_wettest_with_the_margin(task: RowTask, count: int) -> None:
    left = closed_at(equal_row(task, count), ratio(task.swing.swelling))
    assert left == pytest.approx([0.0] * len(left), abs=1e-9)


@STEADY
@given(tasks, lengths(60, 300), st.integers(1, 40))
def test_no_end_of_alike_boards_is_narrower_than_half_of_one(
    task: RowTask, width: float, count: int
) -> None:
    row = given_row(task, [width] * count)
    assume(isinstance(row, Row) and len(row.boards) > 1)
    assert isinstance(row, Row)
    half = (width - task.tongue) / 2
    assert min(row.faces) >= half - row.gap / 2 - 1e-9


@STEADY
@given(tasks, piles)
def test_an_end_is_only_a_sliver_if_its_board_came_as_one(
    task: RowTask, widths: list[float]
) -> None:
    row = given_row(task, widths)
    assume(isinstance(row, Row) and len(row.boards) > 1)
    assert isinstance(row, Row)
    half = (widths[0] - task.tongue - row.gap) / 2 - 1e-9
    assert row.faces[0] >= half
    assert row.faces[-1] >= min(half, widths[len(row.boards) - 1])


def test_what_is_left_for_the_last_board_is_cut_from_it_alone() -> None:
    row = given_row(RowTask(width=370, swing=swinging(0, 0)), [100] * 5)
    assert isinstance(row, Row)
    assert row.faces == pytest.approx([100, 100, 100, 70])
    assert (row.filling, row.left_over) == ((3,), (5,))


def test_a_sliver_is_shared_between_first_and_last() -> None:
    row = given_row(RowTask(width=320, swing=swinging(0, 0)), [100] * 4)
    assert isinstance(row, Row)
    assert row.faces == pytest.approx([60, 100, 100, 60])
    assert row.filling == (0, 3)


def test_equal_ends_are_cut_where_they_are_asked_for() -> None:
    row = given_row(RowTask(width=370, swing=swinging(0, 0)), [100] * 4, "equal ends")
    assert isinstance(row, Row)
    assert row.faces == pytest.approx([85, 100, 100, 85])


def test_a_narrow_last_board_stays_whole_and_the_first_gives_way() -> None:
    row = given_row(RowTask(width=430, swing=swinging(0, 0)), [200, 200, 60])
    assert isinstance(row, Row)
    assert row.faces == pytest.approx([170, 200, 60])
    assert row.filling == (0,)


def test_a_narrow_first_board_stays_whole_when_equal_ends_are_asked_for() -> None:
    row = given_row(RowTask(width=310, swing=swinging(0, 0)), [60, 100, 200], "equal ends")
    assert isinstance(row, Row)
    assert row.faces == pytest.approx([60, 100, 150])


def test_the_last_board_may_use_the_width_its_tongue_would_take() -> None:
    row = given_row(RowTask(width=205, swing=swinging(0, 0), tongue=8), [108, 108])
    assert isinstance(row, Row)
    assert row.faces == pytest.approx([100, 105])


def test_a_short_pile_tells_what_is_missing() -> None:
    pile = given_row(RowTask(width=400, swing=swinging(0, 0), tongue=8), [108, 108, 108])
    assert isinstance(pile, ShortPile)
    assert pile.short == pytest.approx(92)  # 100 + 100 + 108 wide as it is
    assert pile.another == pytest.approx(100)


@STEADY
@given(tasks, piles)
def test_one_board_more_of_the_width_told_completes_a_short_pile(
    task: RowTask, widths: list[float]
) -> None:
    pile = given_row(task, widths)
    assume(isinstance(pile, ShortPile) and pile.another > task.tongue + 1)
    assert isinstance(pile, ShortPile)
    assert pile.short > 0
    assert isinstance(given_row(task, [*widths, pile.another + 1e-6]), Row)
    assert isinstance(given_row(task, [*widths, pile.another - 0.01]), ShortPile)


@STEADY
@given(tasks, lengths(60, 300))
def test_one_board_fewer_would_have_to_be_wider_than_they_come(
    task: RowTask, widest: float
) -> None:
    count = fewest_boards(task, widest)
    assert max(board.rip for board in equal_row(task, count).boards) <= widest + 1e-6
    if count > 1:
        assert max(board.rip for board in equal_row(task, count - 1).boards) > widest - 1e-6


@pytest.mark.parametrize(
    ("laid", "width", "count"),
    [
        ("free sides", 1011.7, 10),  # 10 x 100 and 9 gaps of 1.3
        ("free sides", 1011.8, 11),
        ("between sides", 1013.0, 10),
        ("between sides", 1013.1, 11),
        ("glued", 1000.0, 10),
        ("glued", 1000.1, 11),
    ],
)
def test_another_board_is_needed_just_where_full_ones_and_their_gaps_end(
    laid: Laid, width: float, count: int
) -> None:
    task = RowTask(width=width, swing=swinging(0.01, 0.0), laid=laid)
    assert fewest_boards(task, 100) == count


def test_months_tell_wood_and_openings_with_the_scatter_of_boards() -> None:
    row = equal_row(RowTask(width=1013, swing=swinging(0.01, 0.02)), 10)
    january, july = row.by_month[0], row.by_month[6]
    assert january.wood.size == pytest.approx(980)
    assert january.wood.standard_uncertainty == pytest.approx(0.15 * 20)
    assert january.wood.low == pytest.approx(974)
    assert january.openings[3].size == pytest.approx(1.3 + 2)
    assert july.openings[3].size == pytest.approx(0.3)
    assert july.openings[3].low == pytest.approx(0.0, abs=1e-12)
    assert july.sides[0].size == pytest.approx(0.65 - 0.5)
    assert january.overall == expected(1013, 0.0)


@STEADY
@given(tasks, st.integers(1, 40), st.floats(-0.05, 0.05))
def test_wood_and_openings_always_add_up_to_the_whole(
    task: RowTask, count: int, change: float
) -> None:
    state = equal_row(task, count).at(change)
    gaps = [each.size for each in (*state.openings, *state.sides)]
    assert state.wood.size + math.fsum(gaps) == pytest.approx(state.overall.size, rel=1e-12)


def test_today_the_wood_is_known() -> None:
    row = equal_row(RowTask(width=1013, swing=swinging(0.01, 0.0)), 10)
    assert row.at(0.0).wood == expected(row.wood, 0.0)
    assert row.wood == pytest.approx(1000)


def test_a_tongue_keeps_what_gap_and_shrinkage_leave_of_it() -> None:
    row = equal_row(RowTask(width=1013, swing=swinging(0.01, 0.02), tongue=8), 10)
    tongue = 8 * (1 - 1.3 * 0.02)
    assert row.engagement == pytest.approx(tongue - 1.3 - 1.3 * 2)


def test_a_loose_tongue_keeps_what_is_left_where_it_slid_away() -> None:
    """Of 9 mm in each groove, 1 mm is lost to the bottom of the other one."""
    task = RowTask(width=1013, swing=swinging(0.01, 0.02), held=8)
    assert equal_row(task, 10).engagement == pytest.approx(8 - 1.3 - 1.3 * 2)


@pytest.mark.parametrize(("engagement", "keeps"), [(3.8, True), (4.0, False)])
def test_a_row_holds_as_much_of_its_tongues_as_it_was_asked_to(
    engagement: float, keeps: bool
) -> None:
    task = RowTask(width=1013, swing=swinging(0.01, 0.02), tongue=8, engagement=engagement)
    assert equal_row(task, 10).keeps_hold is keeps


@pytest.mark.parametrize("change", [{"tongue": 0.0}, {"laid": "glued"}])
def test_only_a_dry_tongue_can_come_out(change: dict[str, object]) -> None:
    task = RowTask(width=1013, swing=swinging(0.01, 0.02), tongue=8)
    assert equal_row(replace(task, **change), 10).engagement is None  # type: ignore[arg-type]


def test_boards_that_swing_unlike_are_ready_for_the_worst_and_expected_as_they_are() -> None:
    found = swing_of_all([(swinging(0.01, 0.0), 100), (swinging(0.0, 0.02), 300)])
    assert (found.swelling, found.shrinkage) == (0.01, 0.02)
    assert found.months[0] == pytest.approx(-0.75 * 0.02)
    assert found.months[-1] == pytest.approx(0.25 * 0.01)


@given(tasks, piles)
@STEADY
def test_as_many_more_boards_as_told_complete_a_short_pile(
    task: RowTask, widths: list[float]
) -> None:
    pile = given_row(task, widths) if min(widths) > task.tongue else None
    assume(isinstance(pile, ShortPile))
    assert isinstance(pile, ShortPile)
    assume(pile.more is not None and pile.more < 60)
    assert pile.more is not None
    full = [*widths, *[max(widths)] * pile.more]
    assert isinstance(given_row(task, full), Row)
    assert isinstance(given_row(task, full[:-1]), ShortPile)


def test_wood_above_fibre_saturation_swings_no_further() -> None:
    """Western red cedar keeps its size from 22 % up; a porch may be wetter than that."""
    cedar = across_width(Shrinkage(0.00111, 0.00234, 2.4, 5.0, fibre_saturation=22), "flat")
    rooms = [
        winter_and_summer("porch", StatedMoisture(wet), StatedMoisture(12)) for wet in (22, 26)
    ]
    swings = [
        swing(cedar, Climate(machining=StatedMoisture(12), assembly=StatedMoisture(12), room=room))
        for room in rooms
    ]
    assert swings[0] == swings[1]


def test_a_swing_follows_wood_and_climate() -> None:
    pine = across_width(Shrinkage(None, 0.002, None, None), 0)
    room = winter_and_summer("hall", StatedMoisture(7), StatedMoisture(12))
    climate = Climate(machining=StatedMoisture(10), assembly=StatedMoisture(10), room=room)
    moves = swing(pine, climate)
    assert moves.swelling == pytest.approx(0.004)
    assert moves.shrinkage == pytest.approx(0.006)
    assert np.array(moves.months) == pytest.approx([-0.006] * 3 + [0.004] * 6 + [-0.006] * 3)


def test_wood_assembled_at_its_wettest_has_nothing_to_swell() -> None:
    pine = across_width(Shrinkage(None, 0.002, None, None), 0)
    room = winter_and_summer("hall", StatedMoisture(7), StatedMoisture(9))
    climate = Climate(machining=StatedMoisture(12), assembly=StatedMoisture(12), room=room)
    assert swing(pine, climate).swelling == 0


@pytest.mark.parametrize(
    ("swelling", "shrinkage", "months", "message"),
    [
        (1.2, 0.0, (0.0,) * 12, r"a swelling of 1.2 is outside 0 to 0.25.*0.012 for 1.2 %"),
        (0.0, -0.01, (0.0,) * 12, r"a shrinkage of -0.01 is outside 0 to 0.25"),
        (0.0, math.nan, (0.0,) * 12, r"a shrinkage of nan is outside 0 to 0.25"),
        (0.01, 0.0, (0.0,) * 11, r"11 months are given"),
        (0.01, 0.0, (0.0, 0.02) + (0.0,) * 10, r"a change of 0.02 in February is outside -?0 to"),
    ],
)
def test_a_swing_that_cannot_be_is_refused(
    swelling: float, shrinkage: float, months: tuple[float, ...], message: str
) -> None:
    with pytest.raises(InputError, match=message):
        Swing(swelling=swelling, shrinkage=shrinkage, months=months)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"width": 0.0}, r"width is 0"),
        ({"width": math.inf}, r"width is inf"),
        ({"tongue": -1.0}, r"tongue -1 mm long"),
        ({"tongue": 900.0}, r"tongue 900 mm long"),
        ({"margin": 0.9}, r"margin of 0.9 is outside 1 to 3"),
        ({"laid": "loose"}, r"'loose' is no way to lay boards. Use between sides, free sides"),
    ],
)
def test_a_row_that_cannot_be_is_refused(change: dict[str, object], message: str) -> None:
    task = RowTask(width=900, swing=swinging(0.01, 0.01))
    with pytest.raises(RangeError, match=message):
        replace(task, **change)  # type: ignore[arg-type]  # what is wrong is the point


@pytest.mark.parametrize(
    ("widths", "message"),
    [
        ([], r"no boards are given"),
        ([100, 8], r"a board of 8 mm.*above 8 mm, the length of the tongue"),
        ([100, math.nan], r"a board of nan mm"),
    ],
)
def test_boards_without_a_face_are_refused(widths: list[float], message: str) -> None:
    with pytest.raises(InputError, match=message):
        given_row(RowTask(width=900, swing=swinging(0, 0), tongue=8), widths)


@pytest.mark.parametrize("count", [0, -1, 201])
def test_a_row_of_no_boards_or_a_forest_is_refused(count: int) -> None:
    with pytest.raises(RangeError, match=f"count {count} boards is not between 1 and 200"):
        equal_row(RowTask(width=900, swing=swinging(0, 0)), count)


@pytest.mark.parametrize("widest", [5, 8, 12])
def test_boards_that_are_nearly_all_tongue_fill_no_row(widest: float) -> None:
    with pytest.raises(RangeError, match=f"boards {widest} mm wide with tongues of 8 mm"):
        fewest_boards(RowTask(width=900, swing=swinging(0, 0), tongue=8), widest)
