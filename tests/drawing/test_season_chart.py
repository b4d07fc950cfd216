"""What the seasons do to boards and panels, month by month."""

from __future__ import annotations

import difflib
import math
import os
import re
from dataclasses import replace
from pathlib import Path
from statistics import fmean

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.model import Drawing, Outline, Polyline, Text
from faywright.drawing.season_chart import season_chart
from faywright.drawing.season_year import Course, Joints, Year, listed
from faywright.drawing.svg import svg
from faywright.errors import InputError, RangeError
from faywright.lengths import LengthStyle, Style
from faywright.timber.climate import MONTHS
from tests.drawing.paper import box, hatched, legible, normalised
from tests.drawing.test_golden import ACCEPT, KEPT
from tests.strategies import STEADY, lengths

MM = LengthStyle("mm")
STYLES: tuple[Style, ...] = ("mm", "decimal inch", "fraction inch")
DRIEST, WETTEST = 1, 7
EXTREME = re.compile(r"(wettest|driest|widest|narrowest) (in|from) |.* all year$")


def wave(middle: float, amplitude: float) -> tuple[float, ...]:
    """Twelve months, least in February and greatest in August where ``amplitude`` is above 0."""
    return tuple(middle - amplitude * math.cos(math.tau * (k - DRIEST) / 12) for k in range(12))


def about(mean: tuple[float, ...], half: float) -> Course:
    low = tuple(value - half for value in mean)
    return Course(mean, low, tuple(value + half for value in mean))


PANEL = Year(
    title="Door panel over the year",
    moisture=wave(9.0, 2.5),
    assembly_moisture=8.2,
    assembly_month_index=3,
    width=about(wave(362.0, 2.0), 0.6),
    made=361.5,
)
JOINTS = Joints(about(wave(1.4, -1.2), 0.4), laid=1.7, limit=4.5)
ROW = replace(PANEL, title="Back of the dresser over the year", joints=JOINTS)


def drawn(year: Year, style: Style = "mm") -> Drawing:
    return season_chart(year, style=LengthStyle(style))


def opening(course: Course, *, laid: float = 1.0, limit: float | None = 4.0) -> Year:
    return replace(ROW, joints=Joints(course, laid, limit))


def stands(drawing: Drawing, words: str) -> Text:
    (found,) = [text for text in drawing.texts if text.text == words]
    return found


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def curves(drawing: Drawing) -> list[Polyline]:
    """Moisture, then what moves."""
    return [m for m in drawing.marks if isinstance(m, Polyline) and m.weight == "outline"]


def levels(drawing: Drawing) -> list[Polyline]:
    """Dashed lines, those of the day of assembly."""
    return [m for m in drawing.marks if isinstance(m, Polyline) and m.weight == "hidden"]


def diamonds(drawing: Drawing) -> list[tuple[float, float]]:
    """The middles of what marks the day of assembly."""
    marks = [m for m in drawing.marks if isinstance(m, Outline) and m.weight == "frame"]
    return [(fmean(mark.bounds[::2]), fmean(mark.bounds[1::2])) for mark in marks]


def within(drawing: Drawing) -> bool:
    """Whether everything stands on the sheet, and the sheet is as large as was agreed."""
    (left, top), (wide, high) = drawing.origin, drawing.size
    sheet = shapely.box(left, top, left + wide, top + high)
    assert all(sheet.covers(shapely.box(*mark.bounds)) for mark in drawing.marks)
    assert wide <= 165.0 + 1e-6
    return high <= 90.0


# Random years: nothing moves, a little, or as much as can be drawn.

moving = st.sampled_from([0.0, 0.004, 0.3, 8.0, 200.0])


@st.composite
def courses(draw: st.DrawFn, least: float, most: float) -> Course:
    scale, middle = draw(moving), draw(lengths(least, most))
    steps = st.integers(-8, 8)
    mean = tuple(middle + scale * draw(steps) / 8 for _ in range(12))
    wide = draw(st.sampled_from([0.0, 0.02, 0.2])) * scale
    low = tuple(value - wide * draw(st.integers(0, 3)) / 3 for value in mean)
    return Course(mean, low, tuple(v + wide * draw(st.integers(0, 3)) / 3 for v in mean))


@st.composite
def years(draw: st.DrawFn) -> Year:
    swing, middle = draw(st.sampled_from([0, 1, 12])), draw(st.integers(12, 20))
    moisture = tuple(middle + swing * draw(st.integers(-10, 10)) / 10 for _ in range(12))
    width = draw(courses(300, 20_000))
    none_or_limit = st.none() | lengths(0.01, 12)
    joints = st.builds(Joints, courses(-1, 5), lengths(0, 5), none_or_limit)
    return Year(
        title=draw(st.text("abc WW", min_size=1, max_size=90).filter(lambda text: text.strip())),
        moisture=moisture,
        assembly_moisture=draw(st.integers(4, 28)),
        assembly_month_index=draw(st.none() | st.integers(0, 11)),
        width=width,
        made=width.mean[0] + draw(lengths(-20, 20)),
        joints=draw(st.none() | joints),
    )


@STEADY
@given(years(), st.sampled_from(STYLES))
def test_any_year_is_legible_and_fits_its_place(year: Year, style: Style) -> None:
    drawing = drawn(year, style)
    assert legible(drawing)
    assert within(drawing)


@STEADY
@given(years(), st.sampled_from(STYLES))
def test_all_lettering_of_the_extremes_stands_inside_the_panels(year: Year, style: Style) -> None:
    drawing = drawn(year, style)
    left, right = levels(drawing)[0].bounds[::2]
    said = [text for text in drawing.texts if EXTREME.match(text.text)]
    assert 2 <= len(said) <= 4
    assert all(left < text.bounds[0] and text.bounds[2] < right for text in said)


@STEADY
@given(years(), st.sampled_from(STYLES))
def test_both_panels_have_numbers_to_read_other_months_by(year: Year, style: Style) -> None:
    drawing = drawn(year, style)
    left = levels(drawing)[0].bounds[0]
    numbers = [text.at[1] for text in drawing.texts if text.anchor == "end" and text.at[0] < left]
    caption = next(text for text in drawing.texts if re.match("opening of|width if", text.text))
    assert sum(y < caption.at[1] for y in numbers) >= 2
    assert sum(y > caption.at[1] for y in numbers) >= 2


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("half", [0.0, 0.4, 3.0])
@pytest.mark.parametrize("month", [DRIEST, WETTEST])
def test_usual_years_are_legible_whatever_the_band(style: Style, half: float, month: int) -> None:
    row = replace(ROW, joints=Joints(about(JOINTS.opening.mean, half), 1.7, 4.5))
    panel = replace(PANEL, width=about(PANEL.width.mean, half))
    for year in (row, panel):
        drawing = drawn(replace(year, assembly_month_index=month), style)
        assert legible(drawing)
        assert within(drawing)


def test_an_axis_keeps_two_numbers_where_steps_are_awkward() -> None:
    moisture = (*(12.0,) * 11, 10.6)
    told = written(drawn(replace(ROW, moisture=moisture, assembly_moisture=19.4)))
    assert {"12", "16"} <= set(told)
    assert not {"14", "15", "18"} & set(told)


def test_months_stand_in_order_under_their_points() -> None:
    drawing = drawn(ROW)
    names = [stands(drawing, name[:3]).at[0] for name in MONTHS]
    for curve in curves(drawing):
        assert [x for x, _ in curve.points] == pytest.approx(names)
    assert names == sorted(names)


def test_curves_rise_as_the_values_do() -> None:
    moisture, joints = curves(drawn(ROW))
    heights = [-y for _, y in moisture.points]
    assert heights.index(max(heights)) == WETTEST
    assert heights.index(min(heights)) == DRIEST
    share = [(h - heights[DRIEST]) / (heights[WETTEST] - heights[DRIEST]) for h in heights]
    assert share == pytest.approx([(value - 6.5) / 5.0 for value in ROW.moisture])
    assert max(range(12), key=lambda k: -joints.points[k][1]) == DRIEST


def test_the_driest_month_opens_the_joints_most() -> None:
    told = written(drawn(ROW))
    assert {"wettest in August: 11.5 %", "driest in February: 6.5 %"} <= set(told)
    assert {"widest in February: 2.60 mm", "narrowest in August: 0.20 mm"} <= set(told)


def test_a_panel_is_widest_when_it_is_wettest() -> None:
    told = written(drawn(PANEL))
    assert {"widest in August: 364.00 mm", "narrowest in February: 360.00 mm"} <= set(told)
    assert {"as made today", "361.50 mm"} <= set(told)
    assert "width if free to move, mm; hatched: 19 panels in 20" in told
    assert not {"closed", "laid today", "tongue leaves"} & set(told)


def test_lengths_are_told_in_the_makers_units() -> None:
    told = written(drawn(PANEL, "fraction inch"))
    assert "widest in August: 14-21/64 + .003 in" in told
    assert "width if free to move, in; hatched: 19 panels in 20" in told


def test_the_day_of_assembly_is_marked_on_its_level_in_both_panels() -> None:
    drawing = drawn(ROW)
    april = stands(drawing, "Apr").at[0]
    heights = [level.points[0][1] for level in levels(drawing)]
    assert len(heights) == 2
    marks = diamonds(drawing)
    assert [x for x, _ in marks] == pytest.approx([april, april])
    assert [y for _, y in marks] == pytest.approx(heights)
    assert {"assembled", "at 8.2 %", "laid today", "1.70 mm"} <= set(written(drawing))


def test_no_month_is_marked_where_the_day_is_not_known() -> None:
    drawing = drawn(replace(ROW, assembly_month_index=None))
    assert diamonds(drawing) == []
    assert len(levels(drawing)) == 2
    assert "Assembled at 8.2 %." in drawing.description


def test_levels_lie_where_the_curve_has_their_value() -> None:
    drawing = drawn(opening(about(wave(2.0, -2.0), 0.5), laid=2.0))
    dashed = levels(drawing)[1].points[0][1]
    curve = curves(drawing)[1].points
    assert (curve[DRIEST][1] + curve[WETTEST][1]) / 2 == pytest.approx(dashed)


def test_a_row_without_a_limit_has_no_such_line() -> None:
    drawing = drawn(opening(JOINTS.opening, limit=None))
    assert "tongue leaves" not in written(drawing)
    assert "leave" not in drawing.description


def test_the_band_is_as_wide_as_its_range() -> None:
    band = shapely.union_all(hatched(drawn(PANEL)))
    curve = shapely.LineString(curves(drawn(PANEL))[1].points)
    per_mm = (curve.bounds[3] - curve.bounds[1]) / 4.0
    assert band.bounds[3] - band.bounds[1] == pytest.approx((4.0 + 1.2) * per_mm)
    assert band.area == pytest.approx(1.2 * per_mm * (curve.bounds[2] - curve.bounds[0]))


def test_where_nothing_is_uncertain_no_band_is_drawn_or_told() -> None:
    drawing = drawn(opening(about(wave(2.0, 1.0), 0.0)))
    assert hatched(drawing) == []
    assert sum(isinstance(m, Polyline) and len(m.points) == 12 for m in drawing.marks) == 2
    assert "opening of each joint, mm" in written(drawing)
    assert "19 in 20" not in drawing.description


def test_a_band_may_close_up_in_some_months() -> None:
    mean = wave(2.0, 1.0)
    high = tuple(value + (0.5 if month in (2, 3, 8) else 0.0) for month, value in enumerate(mean))
    assert len(hatched(drawn(opening(Course(mean, mean, high))))) == 2


def test_a_flat_year_says_so_once_in_each_panel() -> None:
    flat = replace(opening(about((1.0,) * 12, 0.2)), moisture=(9.0,) * 12)
    drawing = drawn(flat)
    assert {"9.0 % all year", "1.00 mm all year"} <= set(written(drawing))
    assert "Moisture of the wood: 9.0 % all year." in drawing.description


def test_joints_below_closed_are_too_tight() -> None:
    drawing = drawn(opening(about(wave(0.2, -0.5), 0.1)))
    assert "narrowest in August: 0.30 mm too tight" in written(drawing)
    assert "below: too tight" in written(drawing)
    assert "Some may be too tight from June to October." in drawing.description


def test_joints_that_never_close_are_not_called_tight() -> None:
    drawing = drawn(opening(about(wave(2.0, 1.0), 0.1)))
    assert "closed" in written(drawing)
    assert "tight" not in " ".join((*written(drawing), drawing.description))


@pytest.mark.parametrize(
    ("limit", "words"),
    [
        (4.5, "None comes so far."),
        (2.95, "Some may come so far in February."),
        (2.8, "Some may come so far from January to March."),
        (0.1, "Some may come so far in every month."),
    ],
)
def test_months_in_which_a_tongue_may_leave_are_told(limit: float, words: str) -> None:
    drawing = drawn(opening(JOINTS.opening, limit=limit))
    assert f"The tongue leaves its groove at {limit:.2f} mm. {words}" in drawing.description


def test_every_month_is_told_in_words() -> None:
    told = drawn(ROW).description
    for name, moisture, size in zip(MONTHS, ROW.moisture, JOINTS.opening.mean, strict=True):
        assert f"{name} {moisture:.1f} %" in told
        assert f"{name} {size:.2f} mm" in told
    assert "Assembled in April at 8.2 %." in told
    assert "19 in 20 lie between 0.20 mm too tight and 3.00 mm." in told


def test_months_written_alike_are_told_together() -> None:
    halves = (7.0,) * 3 + (11.0,) * 6 + (7.0,) * 3
    told = written(drawn(replace(ROW, moisture=halves)))
    assert "wettest from April to September: 11.0 %" in told
    assert "driest from October to March: 7.0 %" in told


def test_months_that_are_no_run_are_not_called_one() -> None:
    moisture = tuple(7.0 if month in (0, 4, 5) else 9.0 for month in range(12))
    assert "driest in January and other months: 7.0 %" in written(
        drawn(replace(ROW, moisture=moisture))
    )
    assert listed([0, 4, 5]) == "in January, May, June"
    assert listed([11, 0]) == "in December and January"


def test_lettering_keeps_near_its_month_where_there_is_room() -> None:
    drawing = drawn(ROW)
    august = stands(drawing, "Aug").at[0]
    assert stands(drawing, "wettest in August: 11.5 %").at[0] == pytest.approx(august)
    (left, _, right, _) = box(stands(drawing, "widest in February: 2.60 mm")).bounds
    assert left < stands(drawing, "Feb").at[0] < right


def test_a_long_title_is_shortened_on_paper_and_whole_for_listeners() -> None:
    title = "Panel of the middle door of the tall dresser " * 3
    drawing = drawn(replace(PANEL, title=title))
    assert drawing.title == title
    assert "..." in drawing.texts[0].text
    assert within(drawing)


# What is refused.


@pytest.mark.parametrize("values", [(1.0,) * 11, (*(1.0,) * 11, math.nan)])
def test_a_course_has_twelve_numbers(values: tuple[float, ...]) -> None:
    with pytest.raises(InputError, match="Give twelve numbers, January first"):
        Course(values, values, values)


def test_a_mean_lies_in_its_range() -> None:
    with pytest.raises(RangeError, match="3 mm in January is not between 1 and 2 mm"):
        Course((3.0,) * 12, (1.0,) * 12, (2.0,) * 12)


@pytest.mark.parametrize(("laid", "limit"), [(-0.1, None), (math.nan, None), (1.0, 0.0)])
def test_a_gap_is_no_less_than_nothing(laid: float, limit: float | None) -> None:
    with pytest.raises(RangeError, match="Give a gap of 0 or more"):
        Joints(JOINTS.opening, laid, limit)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"moisture": (9.0,) * 13}, "13 months"),
        ({"moisture": (-1.0, *(9.0,) * 11)}, "a moisture outside 0 to 100 %"),
        ({"assembly_moisture": math.nan}, "a moisture outside 0 to 100 %"),
        ({"assembly_month_index": 12}, "no month has the index 12"),
        ({"made": 0.0}, "a width outside 0 to"),
        ({"made": 900.0}, r"sizes from 359\.4 to 900 mm within a year"),
    ],
)
def test_a_year_that_cannot_be_is_refused(change: dict[str, object], words: str) -> None:
    with pytest.raises(InputError, match=words):
        replace(PANEL, **change)  # type: ignore[arg-type]  # wrong on purpose


def golden() -> str:
    return normalised(svg(season_chart(ROW, style=MM)))


def test_the_chart_is_as_it_was_accepted() -> None:
    file = KEPT.with_name("season-chart.svg")
    now = golden()
    if os.environ.get(ACCEPT):
        file.write_text(now, encoding="utf-8")
        pytest.skip(f"accepted {file.name}")
    kept = file.read_text(encoding="utf-8")
    changes = difflib.unified_diff(kept.splitlines(), now.splitlines(), "kept", "now", n=0)
    assert now == kept, (
        f"{file.name} has changed. Look at it; if it is meant to, accept it with\n"
        f"  {ACCEPT}=1 pytest {Path(__file__).name}\n" + "\n".join(changes)
    )
