"""How zeros and cutters drifted, from trial to trial."""

from __future__ import annotations

import difflib
import os
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.drift_chart import MOST, REACH, Drifted, Event, drift_chart
from faywright.drawing.model import Drawing, Outline, Polyline, Text
from faywright.drawing.svg import svg
from faywright.errors import InputError
from faywright.lengths import LengthStyle, Style
from faywright.trials.memory import DriftPoint
from tests.drawing.paper import legible, normalised
from tests.drawing.test_golden import ACCEPT, KEPT
from tests.strategies import STEADY, lengths

MM = LengthStyle("mm")
FIRST = date(2026, 3, 2)
TITLE = "Lean-to shop: what its trial cuts have taught"

EVENTS = (
    Event(FIRST, 1),
    Event(FIRST, 2),
    Event(FIRST + timedelta(days=20), None),
    Event(FIRST + timedelta(days=31), 3),
)


def point(mean: float, sd: float, at: int = 0) -> DriftPoint:
    return DriftPoint(EVENTS[at].on, 0.0, mean, sd)


CUTTER = Drifted(
    "cutter C1",
    "more than listed",
    ((0, point(-0.03, 0.02)), (2, point(-0.12, 0.02, 2)), (3, point(-0.11, 0.012, 3))),
)
ZERO = Drifted(
    "height by the depth gauge",
    "higher than it shows",
    ((0, point(0.03, 0.02)), (1, point(0.045, 0.015, 1)), (3, point(0.04, 0.018, 3))),
)


def drawn(*drifted: Drifted, events: tuple[Event, ...] = EVENTS, style: Style = "mm") -> Drawing:
    return drift_chart(drifted or (CUTTER, ZERO), events, title=TITLE, style=LengthStyle(style))


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def stands(drawing: Drawing, words: str) -> Text:
    return next(text for text in drawing.texts if text.text == words)


def dots(drawing: Drawing) -> list[Outline]:
    return [mark for mark in drawing.marks if isinstance(mark, Outline)]


def bars(drawing: Drawing) -> list[Polyline]:
    """Both halves of every bar."""
    return [
        mark
        for mark in drawing.marks
        if isinstance(mark, Polyline)
        and mark.weight == "outline"
        and mark.points[0][0] == mark.points[1][0]
    ]


def centre(dot: Outline) -> tuple[float, float]:
    xs, ys = zip(*dot.points, strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def within(drawing: Drawing) -> bool:
    """Whether everything stands on a sheet of the width that was agreed."""
    (left, top), (wide, high) = drawing.origin, drawing.size
    sheet = shapely.box(left, top, left + wide, top + high)
    assert all(sheet.covers(shapely.box(*mark.bounds)) for mark in drawing.marks)
    return wide <= 165.0 + 1e-6


def test_each_unknown_has_a_panel_of_its_own_name() -> None:
    told = written(drawn())
    assert "cutter C1; up: more than listed" in told
    assert "height by the depth gauge; up: higher than it shows" in told
    assert told.count("listed") == 2


def test_each_event_stands_once_under_all_panels() -> None:
    told = written(drawn())
    assert [each for each in told if each in ("1", "2", "S", "3")] == ["1", "2", "S", "3"]
    assert told.count("2026-03-02") == 1
    assert "2026-04-02" in told


def test_dots_stand_over_their_events() -> None:
    drawing = drawn(CUTTER)
    places = [stands(drawing, label).at[0] for label in ("1", "S", "3")]
    assert [centre(dot)[0] for dot in dots(drawing)] == pytest.approx(places)


def test_what_lies_above_nought_is_drawn_higher() -> None:
    drawing = drawn(ZERO)
    (nought,) = [
        mark.points[0][1]
        for mark in drawing.marks
        if isinstance(mark, Polyline) and mark.weight == "hidden"
    ]
    heights = [nought - centre(dot)[1] for dot in dots(drawing)]
    assert heights[0] > 0
    assert [h / heights[0] for h in heights] == pytest.approx([1.0, 1.5, 4 / 3])


def test_a_bar_holds_it_nine_times_in_ten() -> None:
    drawing = drawn(ZERO)
    heights = [centre(dot)[1] for dot in dots(drawing)]
    per_mm = (heights[0] - heights[1]) / 0.015
    (low, high), *_ = zip(bars(drawing)[::2], bars(drawing)[1::2], strict=True)
    ends = low.points[0][1] - high.points[1][1]
    assert ends / per_mm == pytest.approx(2 * REACH * 0.02)


def test_a_cutter_measured_anew_has_an_open_dot() -> None:
    assert [dot.solid for dot in dots(drawn(CUTTER))] == [True, False, True]
    assert written(drawn(CUTTER))[1].endswith("; S: sharpened")
    alone = drawn(ZERO, events=tuple(replace(each, trial=k) for k, each in enumerate(EVENTS)))
    assert "sharpened" not in " ".join(written(alone))


def test_it_is_told_in_words() -> None:
    told = drawn().description
    assert "Cutter C1, from what is listed: trial 1 on 2026-03-02 -0.03 mm more than listed" in told
    assert "sharpened on 2026-03-22 -0.12 mm" in told
    assert "9 times in 10 from -0.06 mm to 0.00 mm" in told


def test_lengths_are_told_in_the_makers_units() -> None:
    assert any(
        "in from what the shop file lists" in each for each in written(drawn(style="decimal inch"))
    )


def test_only_the_last_events_find_room() -> None:
    events = tuple(Event(FIRST + timedelta(days=k), k + 1) for k in range(MOST + 7))
    points = tuple((k, DriftPoint(each.on, 0.0, 0.01, 0.01)) for k, each in enumerate(events))
    early = Drifted("cutter C2", "more than listed", points[:5])
    drawing = drawn(Drifted("cutter C1", "more than listed", points), early, events=events)
    assert len(dots(drawing)) == MOST
    assert legible(drawing)
    assert "The first 7 trials and sharpenings are left out." in drawing.description
    assert "C2" not in " ".join(written(drawing))


means = st.lists(lengths(-0.5, 0.5), min_size=1, max_size=12)


@STEADY
@given(
    means=means,
    sd=lengths(0.001, 0.1),
    style=st.sampled_from(["mm", "decimal inch", "fraction inch"]),
    days=st.integers(0, 40),
)
def test_no_lettering_runs_into_anything(
    means: list[float], sd: float, style: Style, days: int
) -> None:
    events = tuple(
        Event(FIRST + timedelta(days=days * k), None if k % 4 == 3 else 95 + k)
        for k in range(len(means))
    )
    points = tuple(
        (k, DriftPoint(each.on, 0.0, mean, sd))
        for k, (each, mean) in enumerate(zip(events, means, strict=True))
    )
    long = Drifted("fence by the long gauge " * 6, "further out than it shows", points)
    drawing = drawn(
        Drifted("cutter C1", "more than listed", points), long, events=events, style=style
    )
    assert legible(drawing)
    assert within(drawing)


# What is refused


def test_nothing_learned_cannot_be_drawn() -> None:
    with pytest.raises(InputError, match="nothing has been learned yet"):
        drift_chart((), EVENTS, title=TITLE, style=MM)
    with pytest.raises(InputError, match="nothing has been learned yet"):
        drift_chart((replace(CUTTER, points=()),), EVENTS, title=TITLE, style=MM)


def test_a_point_has_an_event() -> None:
    with pytest.raises(InputError, match="a point is of no event"):
        drift_chart((CUTTER,), EVENTS[:2], title=TITLE, style=MM)


def test_the_chart_is_as_it_was_accepted() -> None:
    file = KEPT.with_name("drift-chart.svg")
    now = normalised(svg(drawn()))
    if os.environ.get(ACCEPT):
        file.write_text(now, encoding="utf-8")
        pytest.skip(f"accepted {file.name}")
    kept = file.read_text(encoding="utf-8")
    changes = difflib.unified_diff(kept.splitlines(), now.splitlines(), "kept", "now", n=0)
    assert now == kept, (
        f"{file.name} has changed. Look at it; if it is meant to, accept it with\n"
        f"  {ACCEPT}=1 pytest {Path(__file__).name}\n" + "\n".join(changes)
    )
