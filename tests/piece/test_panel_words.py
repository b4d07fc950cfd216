import re

import pytest

from faywright.lengths import LengthStyle
from faywright.piece.panel_words import (
    SCATTER,
    drawer_words,
    framed_words,
    row_decisions,
    row_words,
    seasons,
    short_words,
)
from faywright.piece.panels import RowPlan
from faywright.piece.words import finer, writer
from faywright.timber.drawers import DrawerFit
from faywright.timber.framed import Frame, framed_panel
from faywright.timber.rows import Laid, Row, RowTask, ShortPile, equal_row, given_row
from faywright.timber.year import Swing

STYLE = LengthStyle("mm")
WRITE, FINE = writer(STYLE), finer(STYLE)

WINTER = (10, 11, 12, 1, 2, 3)


def swinging(swelling: float, shrinkage: float) -> Swing:
    months = tuple(-shrinkage if month in WINTER else swelling for month in range(1, 13))
    return Swing(swelling=swelling, shrinkage=shrinkage, months=months)


def ten_boards(laid: Laid = "between sides", tongue: float = 8.0) -> Row:
    task = RowTask(width=1013, swing=swinging(0.01, 0.02), tongue=tongue, laid=laid)
    return equal_row(task, 10)


def given_boards(width: float, widths: list[float]) -> Row:
    row = given_row(RowTask(width=width, swing=swinging(0.0, 0.0), tongue=8), widths)
    assert isinstance(row, Row)
    return row


def test_a_row_of_equal_boards_is_told_from_the_saw_to_the_seasons() -> None:
    assert row_words(ten_boards(), WRITE, fine=FINE) == [
        "Rip 9 boards 108.00 mm wide and the last, which needs no tongue, 100.00 mm: faces of "
        "100.00 mm, tongues of 8.00 mm.",
        "Leave 1.30 mm at each joint today, 0.65 mm at each side.",
        "Fix each board on one line, at its middle, so that it moves to both sides.",
        "Laid close, the row would be 10.13 mm too wide for its place when wettest.",
        "Working: face (1013.000 mm - 10 x 1.300 mm) / 10 = 100.000 mm; gap 1.3 x 1.000 % x "
        "100.000 mm = 1.300 mm.",
        "April to September: 1010.00 mm (1007.00 mm to 1013.00 mm) of wood, joints open 0.30 mm "
        "(0.00 mm to 0.60 mm).",
        "October to March: 980.00 mm (974.00 mm to 986.00 mm) of wood, joints open 3.30 mm "
        "(2.70 mm to 3.90 mm).",
        SCATTER,
        "At the driest at least 3.89 mm of each tongue stays in its groove.",
    ]


def test_free_sides_have_no_gap_and_the_row_grows_over_all() -> None:
    told = " ".join(row_words(ten_boards("free sides"), WRITE))
    assert "at each side" not in told
    assert "over all" in told


def test_a_glued_row_is_told_by_its_width_alone() -> None:
    told = row_words(ten_boards("glued", 0.0), WRITE, fine=FINE)
    assert told[:3] == [
        "Rip 10 boards 101.30 mm wide.",
        "Glued up it is 1013.00 mm wide today; fix it so that it can move across.",
        "Working: face 1013.000 mm / 10 = 101.300 mm.",
    ]
    assert told[4].startswith("October to March: 992.74 mm (986.66 mm to 998.82 mm) wide")
    assert not any("joint" in line for line in told)


@pytest.mark.parametrize("laid", ["between sides", "free sides"])
def test_the_sums_of_a_row_come_out_when_worked_again(laid: Laid) -> None:
    (line,) = [line for line in row_words(ten_boards(laid), WRITE, fine=FINE) if "Working" in line]
    width, gaps, gap, count, face = map(
        float,
        re.findall(r"face \(([\d.]+) mm - (\d+) x ([\d.]+) mm\) / (\d+) = ([\d.]+) mm", line)[0],
    )
    assert (width - gaps * gap) / count == pytest.approx(face, abs=0.001)
    assert 1.3 * 0.01 * face == pytest.approx(gap, abs=0.001)


def test_given_boards_are_named_in_order_with_the_one_to_rip() -> None:
    told = row_words(given_boards(370, [108.0] * 5), WRITE, marks=["B3", "B1", "B4", "B2", "B5"])
    assert told[:3] == [
        "Lay B3 B1 B4 B2 in this order; all but those named below keep their width.",
        "Rip B2 to 70.00 mm for a face of 70.00 mm.",
        "Left over: B5.",
    ]
    assert "Working: face 370.00 mm - 300.00 mm = 70.00 mm." in told


def test_ends_cut_alike_say_why() -> None:
    told = row_words(given_boards(320, [108.0] * 4), WRITE)
    assert told[1:4] == [
        "Rip board 1 to 68.00 mm, tongue included, for a face of 60.00 mm.",
        "Rip board 4 to 60.00 mm for a face of 60.00 mm.",
        "First and last are cut alike, so that neither end is a sliver.",
    ]


def test_a_first_board_cut_alone_says_why() -> None:
    told = row_words(given_boards(430, [208.0, 208.0, 60.0]), WRITE)
    assert told[1] == "Rip board 1 to 178.00 mm, tongue included, for a face of 170.00 mm."
    assert told[2] == "The first is cut, so that neither end is a sliver."


def test_a_row_that_will_not_swell_is_closed_up() -> None:
    told = row_words(given_boards(370, [108.0] * 4), WRITE)
    assert "Close the joints: the wood is as wet today as it will get." in told
    assert SCATTER not in told


def planned_row(row: Row | ShortPile, widths: list[float], *, equal_ends: bool = False) -> RowPlan:
    marks = tuple(f"B{k}" for k in range(1, len(widths) + 1))
    return RowPlan(
        "back", "boards", row, marks, tuple(widths), assembled=10.0, equal_ends=equal_ends
    )


@pytest.mark.parametrize(
    ("tongue", "said"),
    [
        (5.0, "At the driest only 0.97 mm of a tongue stays in its groove, where 3.00 mm is to"),
        (3.0, "At the driest a tongue comes out, where 3.00 mm is to stay"),
    ],
)
def test_a_tongue_that_may_come_out_is_to_be_decided(tongue: float, said: str) -> None:
    row = planned_row(ten_boards(tongue=tongue), [120.0] * 10)
    (told,) = row_decisions(row, WRITE)
    assert told.startswith(said)
    assert not row.settled


def test_a_row_that_holds_leaves_nothing_to_decide() -> None:
    row = planned_row(ten_boards(), [120.0] * 10)
    assert row_decisions(row, WRITE) == []
    assert row.settled


def test_equal_boards_are_ripped_from_boards_that_are_there_and_wide_enough() -> None:
    row = planned_row(ten_boards(), [120.0, 107.9, *[120.0] * 5, 104.0])
    assert row_decisions(row, WRITE) == [
        "10 boards are to be ripped, and joint boards lists 8: list them all, so that each is "
        "measured.",
        "B2 B8: too narrow to rip 108.00 mm wide. Use more boards.",
    ]
    assert not row.settled


def test_the_last_board_needs_no_tongue_and_may_be_narrower() -> None:
    assert planned_row(ten_boards(), [*[120.0] * 9, 104.0]).settled


def test_ends_that_cannot_be_alike_are_to_be_decided() -> None:
    task = RowTask(width=300, swing=swinging(0.0, 0.0), tongue=8)
    row = given_row(task, [80.0, 128.0, 128.0], "equal ends")
    assert isinstance(row, Row)
    (told,) = row_decisions(planned_row(row, [80.0, 128.0, 128.0], equal_ends=True), WRITE)
    assert "the first face is 72.00 mm wide and the last 108.00 mm" in told
    assert row_decisions(planned_row(row, [80.0, 128.0, 128.0]), WRITE) == []


def test_a_pile_that_lacks_much_asks_for_several_boards() -> None:
    pile = given_row(RowTask(width=1000, swing=swinging(0, 0), tongue=8), [108, 108, 108])
    assert isinstance(pile, ShortPile)
    assert short_words(pile, WRITE)[1] == "7 more as wide as the widest of them fill it."


def test_a_short_pile_says_how_much_and_what_would_do() -> None:
    pile = given_row(RowTask(width=400, swing=swinging(0, 0), tongue=8), [108, 108, 108])
    assert isinstance(pile, ShortPile)
    assert short_words(pile, WRITE) == [
        "3 boards do not fill 400.00 mm: 92.00 mm is missing.",
        "One more board at least 100.00 mm wide fills it.",
    ]


def test_a_framed_panel_is_told_with_its_room_and_its_pins() -> None:
    frame = Frame(opening_width=306, opening_height=600, groove_depth=10)
    told = framed_words(framed_panel(frame, swinging(0.02, 0.0)), WRITE, fine=FINE)
    assert told == [
        "Cut the panel 316.76 mm wide and 619.00 mm high, grain upright; down to 312.00 mm wide "
        "will do.",
        "Leave 4.62 mm today between each long edge and the bottom of its groove, 0.50 mm at each "
        "end of the grain.",
        "Working: (306.000 mm + 2 x 10.000 mm - 2 x 0.500 mm) / (1 + 1.3 x 2.000 %) = 316.764 mm.",
        "April to September: panel 323.10 mm (321.20 mm to 325.00 mm) wide, 8.55 mm (7.60 mm to "
        "9.50 mm) of it in each groove.",
        "October to March: panel 316.76 mm wide, 5.38 mm of it in each groove.",
        SCATTER,
        "Pin it at the middle of each end, one pin at either, so that it moves both ways. No glue "
        "in the grooves: only a sheet panel is glued. It needs the pins: pushed into one groove, "
        "only 0.76 mm of it would stay in the other at the driest.",
    ]


def test_a_level_panel_is_told_by_its_height() -> None:
    frame = Frame(opening_width=600, opening_height=306, groove_depth=10)
    told = framed_words(framed_panel(frame, swinging(0.02, 0.0), grain="level"), WRITE)
    assert "619.00 mm wide and 316.76 mm high, grain level; down to 312.00 mm high" in told[0]


def test_a_drawer_is_told_with_its_gap_play_and_bottom() -> None:
    drawer = DrawerFit(opening_width=400, opening_height=103.4, swing=swinging(0.02, 0.01))
    assert drawer_words(drawer, WRITE, fine=FINE) == [
        "Make sides, front and back 100.00 mm high today: that leaves a gap of 3.40 mm in the "
        "opening.",
        "Make the drawer 398.80 mm wide, sides included: 0.60 mm of play a side (0.40 mm to "
        "0.80 mm is common practice); along its front nothing moves.",
        "Working: (103.400 mm - 0.800 mm) / (1 + 1.3 x 2.000 %) = 100.000 mm.",
        "April to September: gap 1.40 mm (0.80 mm to 2.00 mm).",
        "October to March: gap 4.40 mm (4.10 mm to 4.70 mm).",
        SCATTER,
        "A solid bottom of this wood swells from front to back: hold it in the front's groove "
        "only, and leave 2.6 % of its depth free behind it.",
    ]


def test_a_drawer_that_will_not_swell_needs_no_room_behind_its_bottom() -> None:
    drawer = DrawerFit(opening_width=400, opening_height=100, swing=swinging(0.0, 0.0))
    assert not any("bottom" in line for line in drawer_words(drawer, WRITE))


def test_months_that_are_all_alike_are_told_once() -> None:
    assert seasons(swinging(0.0, 0.0)) == [("All year", 0.0)]


def test_a_month_by_itself_is_named_alone() -> None:
    months = (0.0,) * 6 + (0.01,) + (0.0,) * 5
    told = seasons(Swing(swelling=0.01, shrinkage=0.0, months=months))
    assert told == [("July", 0.01), ("August to June", 0.0)]
