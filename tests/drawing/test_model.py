import math

import pytest
import shapely

from faywright.drawing.hatching import Hatch
from faywright.drawing.model import (
    LINE_WIDTHS,
    Drawing,
    Outline,
    Polyline,
    Text,
    drawing_around,
    line,
)
from faywright.errors import InputError, RangeError
from tests.drawing.paper import box

TRIANGLE = ((0.0, 0.0), (8.0, 0.0), (0.0, 8.0))


def test_surfaces_are_drawn_heaviest_and_hatching_lightest() -> None:
    widths = list(LINE_WIDTHS.values())
    assert max(widths) == LINE_WIDTHS["outline"]
    assert min(widths) == LINE_WIDTHS["hatch"]
    assert LINE_WIDTHS["outline"] >= 2 * LINE_WIDTHS["dimension"]


def test_an_anchor_is_the_start_the_middle_or_the_end_of_the_lettering() -> None:
    start, middle, end = (
        Text("0.18 mm", (20.0, 5.0), 3.0, anchor="start"),
        Text("0.18 mm", (20.0, 5.0), 3.0, anchor="middle"),
        Text("0.18 mm", (20.0, 5.0), 3.0, anchor="end"),
    )
    assert start.bounds[0] == end.bounds[2] == 20.0
    assert box(middle).centroid.x == pytest.approx(20.0)
    assert box(start).area == pytest.approx(box(end).area)


def test_lettering_turned_upright_is_as_high_as_it_was_wide() -> None:
    flat = Text("bottom", (3.0, 4.0), 3.0)
    upright = Text("bottom", (3.0, 4.0), 3.0, rotation=-90.0)
    left, top, right, foot = upright.bounds
    assert foot - top == pytest.approx(flat.width)
    assert right - left == pytest.approx(3.0)
    assert (foot, left) == pytest.approx((4.0, 3.0 - 0.76 * 3.0))


def test_a_drawing_holds_all_its_marks_and_its_margin() -> None:
    marks = (line((0, 0), (50, 0), "outline"), Text("A", (60.0, 20.0), 3.0))
    drawing = drawing_around(marks, title="t", description="d", margin=4.0)
    (x, y), (width, height) = drawing.origin, drawing.size
    sheet = shapely.box(x + 4, y + 4, x + width - 4, y + height - 4).buffer(1e-9)
    assert all(sheet.covers(shapely.box(*mark.bounds)) for mark in marks)


def test_an_outline_without_hatch_has_no_strokes() -> None:
    assert Outline(TRIANGLE, "outline").strokes == ()
    assert len(Outline(TRIANGLE, None, Hatch(0.0, 2.0)).strokes) >= 3


@pytest.mark.parametrize("text", ["", "  ", "two\nlines", "bell\x07"])
def test_lettering_that_would_not_print_on_one_line_is_refused(text: str) -> None:
    with pytest.raises(InputError, match=r"is blank or holds characters that do not print"):
        Text(text, (0.0, 0.0), 3.0)


@pytest.mark.parametrize("size", [0.0, 1.4, math.nan])
def test_lettering_too_small_to_read_is_refused(size: float) -> None:
    with pytest.raises(RangeError, match=r"not between 1.5 and 100 mm"):
        Text("0.18 mm", (0.0, 0.0), size)


def test_points_that_are_no_numbers_are_refused() -> None:
    with pytest.raises(InputError, match="not a number"):
        Polyline(((0.0, 0.0), (math.nan, 1.0)), "outline")
    with pytest.raises(InputError, match="at least 3 points"):
        Outline(((0.0, 0.0), (1.0, 1.0)), "outline")


def test_a_drawing_without_extent_is_refused() -> None:
    with pytest.raises(RangeError, match="is no sheet"):
        Drawing("t", "d", (0.0, 0.0), (0.0, 10.0), ())
