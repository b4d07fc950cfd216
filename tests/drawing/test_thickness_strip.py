"""Boards by thickness: everyone is found, every group lettered, and nothing runs over another."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from hypothesis import given

from faywright.drawing.model import Drawing, Outline, Polyline
from faywright.drawing.pile import StripBoard, StripGroup
from faywright.drawing.thickness_strip import ALL_NAMED, thickness_strip
from faywright.errors import InputError, RangeError
from faywright.lengths import LengthStyle
from tests.drawing.paper import legible
from tests.drawing.piles_to_draw import board, in_groups, piles
from tests.strategies import STEADY

MM = LengthStyle("mm")
FOUR = [board("B01", 19.1), board("B02", 18.8), board("B03", 19.3), board("B04", 18.9)]
PAIRS = in_groups(FOUR, 2, first=5)


def strip(boards: list[StripBoard], groups: list[StripGroup], style: LengthStyle = MM) -> Drawing:
    return thickness_strip(boards, groups, title="Pile", style=style)


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def height_of(drawing: Drawing, name: str) -> float:
    return next(text.at[1] for text in drawing.texts if text.text == name)


def marks_of(drawing: Drawing) -> list[float]:
    """Places of the boards' marks along the axis, from the top down; the legend has the last."""
    upright = [
        mark.points
        for mark in drawing.marks
        if isinstance(mark, Polyline) and mark.weight == "outline"
    ]
    return [points[0][0] for points in sorted(upright, key=lambda points: points[0][1])][:-1]


def bars_of(drawing: Drawing, weight: str = "frame") -> list[tuple[float, float, float, float]]:
    """Open bars, without the sample in the legend."""
    bars = [m.bounds for m in drawing.marks if isinstance(m, Outline) and m.weight == weight]
    return sorted(bars, key=lambda bounds: bounds[1])[:-1]


def test_boards_stand_from_thin_to_thick() -> None:
    drawing = strip(FOUR, PAIRS)
    heights = [height_of(drawing, name) for name in ("B02", "B04", "B01", "B03")]
    assert heights == sorted(heights)
    assert marks_of(drawing) == sorted(marks_of(drawing))


def test_marks_stand_true_to_the_axis() -> None:
    drawing = strip(FOUR, PAIRS)
    places = ("18.80", "18.90", "19.10", "19.30")
    ticks = {text.text: text.at[0] for text in drawing.texts}
    assert marks_of(drawing) == pytest.approx([ticks[place] for place in places])


def test_readings_are_a_bar_from_the_least_to_the_greatest() -> None:
    drawing = strip([StripBoard(name="B1", thickness=19.0, low=18.9, high=19.2)], [])
    ticks = {t.text: t.at[0] for t in drawing.texts if t.text in ("18.90", "19.20")}
    (bar, _) = [m.bounds for m in drawing.marks if isinstance(m, Outline) and m.solid]
    assert (bar[0], bar[2]) == pytest.approx((ticks["18.90"], ticks["19.20"]))


def test_groups_are_lettered_from_the_thinnest_with_their_setups() -> None:
    drawing = strip(FOUR, PAIRS[::-1])
    assert {"A, setup 5", "B, setup 6"} <= set(written(drawing))
    assert height_of(drawing, "A, setup 5") < height_of(drawing, "B, setup 6")


def test_an_open_bar_reaches_as_far_as_its_setting_serves() -> None:
    group = StripGroup(members=(0, 1, 2, 3), setting="setup 5", band=(18.8, 19.3))
    drawing = strip(FOUR, [group])
    (bar,) = bars_of(drawing)
    assert (bar[0], bar[2]) == pytest.approx((marks_of(drawing)[0], marks_of(drawing)[-1]))


def test_an_open_bar_has_the_rows_of_its_own_boards() -> None:
    drawing = strip(FOUR, PAIRS)
    (thin, thick) = bars_of(drawing)
    assert thin[1] < height_of(drawing, "B02") < height_of(drawing, "B04") < thin[3]
    assert thick[1] < height_of(drawing, "B01") < height_of(drawing, "B03") < thick[3]


def test_the_bars_of_two_sides_differ_in_their_lines_and_are_explained() -> None:
    groups = in_groups(FOUR, 2, side="groove") + in_groups(FOUR, 4, side="tongue", first=3)
    drawing = strip(FOUR, groups)
    assert (len(bars_of(drawing)), len(bars_of(drawing, "hidden"))) == (2, 1)
    assert {"served by one groove setting", "served by one tongue setting"} <= set(written(drawing))
    assert {"grooves", "tongues", "A, setup 1", "A, setup 3"} <= set(written(drawing))


def test_bars_of_two_sides_that_would_hide_each_other_are_drawn_once() -> None:
    groups = in_groups(FOUR, 2, side="groove") + in_groups(FOUR, 2, side="tongue", first=3)
    drawing = strip(FOUR, groups)
    assert len(bars_of(drawing)) == 2
    assert "served by one groove and one tongue setting" in written(drawing)
    assert not [m for m in drawing.marks if isinstance(m, Outline) and m.weight == "hidden"]


@pytest.mark.parametrize(
    ("over", "words"),
    [
        (0.21, "B03: 0.21 mm too thick for the setting."),
        (-0.07, "B03: 0.07 mm too thin for the setting."),
        (0.001, "B03: at the very end of what the setting serves."),
    ],
)
def test_a_board_outside_is_named_in_words(over: float, words: str) -> None:
    boards = [*FOUR[:2], replace(FOUR[2], over=over), FOUR[3]]
    drawing = strip(boards, PAIRS)
    assert words in written(drawing)
    assert words in drawing.description


def test_a_board_outside_its_bar_that_fits_all_the_same_is_explained() -> None:
    groups = [replace(PAIRS[0], band=(18.7, 18.85)), PAIRS[1]]
    told = "B04: outside the open bar; the board it meets makes up for it."
    assert told in written(strip(FOUR, groups))


def test_where_every_board_is_within_its_bar_nothing_is_said() -> None:
    assert not [text for text in written(strip(FOUR, PAIRS)) if ":" in text]


def test_thickness_that_plays_no_part_has_no_bars_and_says_so() -> None:
    drawing = strip(FOUR, [])
    told = "4 boards, the thinnest at the top; thickness does not decide the fit"
    assert told in written(drawing)
    assert not [m for m in drawing.marks if isinstance(m, Outline) and m.weight == "frame"]


@pytest.mark.parametrize(
    ("boards", "groups", "told"),
    [
        (FOUR, PAIRS, "All 4 boards lie within what their settings serve."),
        (
            [*FOUR[:3], replace(FOUR[3], over=0.1)],
            PAIRS,
            "3 of 4 boards lie within what their settings serve.",
        ),
        (FOUR, [], "Thickness does not decide the fit."),
        (FOUR[:1], in_groups(FOUR[:1], 1), "The board lies within what its setting serves."),
    ],
)
def test_the_description_begins_with_the_result(
    boards: list[StripBoard], groups: list[StripGroup], told: str
) -> None:
    assert strip(boards, groups).description.startswith(told)


def test_the_description_tells_the_whole_chart() -> None:
    told = strip(FOUR, PAIRS).description
    assert "4 boards by thickness, from B02 at 18.80 mm to B03 at 19.30 mm." in told
    assert "Group A, setup 5: B02, B04." in told


@pytest.mark.parametrize(("count", "shown"), [(ALL_NAMED, ALL_NAMED), (60, 30)])
def test_names_are_thinned_only_beyond_24_boards_and_that_is_noted(count: int, shown: int) -> None:
    boards = [board(f"B{k:02}", 19.0 + 0.01 * k) for k in range(count)]
    told = written(strip(boards, in_groups(boards, 10)))
    assert sum(mark.name in told for mark in boards) == shown
    assert {"B00", f"B{count - 1}"} <= set(told)
    noted = [text for text in told if text.startswith(f"{shown} of {count} boards are named")]
    assert len(noted) == (count > ALL_NAMED)


def test_a_group_whose_boards_are_not_neighbours_is_bracketed_in_pieces() -> None:
    groups = [
        StripGroup(members=(1, 2), setting="setup 1"),
        StripGroup(members=(0, 3), setting="setup 2"),
    ]
    told = written(strip(FOUR, groups))
    assert told.count("A, setup 1") == 2
    assert told.count("B, setup 2") == 1


@STEADY
@given(piles())
def test_any_pile_is_legible_and_fits_a_sheet(
    pile: tuple[list[StripBoard], list[StripGroup]],
) -> None:
    drawing = strip(*pile)
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= 190.0 + 1e-6
    (x, y), (width, height) = drawing.origin, drawing.size
    sheet = shapely.box(x, y, x + width, y + height)
    assert all(sheet.covers(shapely.box(*mark.bounds)) for mark in drawing.marks)


@STEADY
@given(piles())
def test_every_board_has_its_mark_and_every_group_its_bracket(
    pile: tuple[list[StripBoard], list[StripGroup]],
) -> None:
    boards, groups = pile
    for style in (MM, LengthStyle("decimal inch"), LengthStyle("fraction inch")):
        drawing = strip(boards, groups, style)
        assert len(marks_of(drawing)) == len(boards)
        labels = [text for text in written(drawing) if ", setup " in text]
        assert len(set(labels)) == len(groups)


def test_no_boards_are_refused() -> None:
    with pytest.raises(InputError, match="0 boards, or a group"):
        strip([], [])


def test_a_group_of_boards_that_are_not_there_is_refused() -> None:
    with pytest.raises(InputError, match="4 boards, or a group with one that is not there"):
        strip(FOUR, [StripGroup(members=(0, 4))])


def test_a_board_outside_its_own_readings_is_refused() -> None:
    with pytest.raises(RangeError, match=r"19 mm is not between its readings, 19\.1 to 19\.2 mm"):
        StripBoard(name="B1", thickness=19.0, low=19.1, high=19.2)


@pytest.mark.parametrize(("members", "band"), [((), None), ((0,), (19.2, 19.1))])
def test_a_group_that_cannot_be_is_refused(
    members: tuple[int, ...], band: tuple[float, float] | None
) -> None:
    with pytest.raises(InputError, match="group of boards"):
        StripGroup(members=members, band=band)
