"""An axis has ticks where a rule or the digits of a gauge would have them."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.axis import BETWEEN, SIZE, Axis
from faywright.drawing.lettering import text_width
from faywright.drawing.model import Text
from faywright.errors import RangeError
from faywright.lengths import LengthStyle
from tests.strategies import STEADY, lengths

MM, INCH, FRACTION = (LengthStyle(s) for s in ("mm", "decimal inch", "fraction inch"))
styles = st.sampled_from([MM, INCH, FRACTION, LengthStyle("mm", 1), LengthStyle("decimal inch", 4)])


def labels(low: float, high: float, style: LengthStyle, room: float = 140.0) -> list[str]:
    return [tick.label for tick in Axis(low, high, 0.0, room, style).ticks]


def test_millimetres_are_counted_in_ones_twos_and_fives() -> None:
    assert labels(18.6, 19.3, MM) == [
        "18.6",
        "18.7",
        "18.8",
        "18.9",
        "19.0",
        "19.1",
        "19.2",
        "19.3",
    ]
    assert labels(18.99, 19.05, MM) == [
        "18.99",
        "19.00",
        "19.01",
        "19.02",
        "19.03",
        "19.04",
        "19.05",
    ]


def test_decimal_inches_are_counted_in_thousandths() -> None:
    assert labels(18.9, 19.2, INCH, 80.0) == ["0.746", "0.748", "0.750", "0.752", "0.754"]


def test_fractions_are_those_of_a_rule_where_the_axis_is_long() -> None:
    assert labels(12.0, 26.0, FRACTION, 60.0) == ["1/2", "5/8", "3/4", "7/8", "1"]


def test_a_short_axis_in_fractions_counts_thousandths_from_the_plainest() -> None:
    assert labels(18.8, 19.2, FRACTION, 60.0) == ["less .005", "3/4", "+ .005"]


def test_thousandths_from_nothing_need_no_words() -> None:
    assert labels(-0.1, 0.4, FRACTION, 50.0) == ["0", ".005", ".010", ".015"]


def test_no_tick_asks_for_a_digit_the_maker_does_not_read() -> None:
    axis = Axis(18.9, 19.1, 0.0, 140.0, LengthStyle("mm", 1))
    assert [tick.label for tick in axis.ticks] == ["18.9", "19.0", "19.1"]
    assert axis.small_ticks == ()


@STEADY
@given(lengths(-1, 60), lengths(0.2, 40), lengths(40, 160), styles)
def test_ticks_are_on_the_axis_and_their_numbers_keep_apart(
    low: float, span: float, room: float, style: LengthStyle
) -> None:
    axis = Axis(low, low + span, 10.0, 10.0 + room, style)
    for tick in axis.ticks:
        assert low - 1e-6 <= tick.value <= low + span + 1e-6
    for one, two in pairwise(axis.ticks):
        wide = (text_width(one.label, SIZE) + text_width(two.label, SIZE)) / 2
        assert axis.at(two.value) - axis.at(one.value) >= wide + BETWEEN - 1e-6
    assert len({tick.label for tick in axis.ticks}) == len(axis.ticks)


@STEADY
@given(lengths(-1, 60), lengths(0.2, 40), styles)
def test_small_ticks_part_the_steps_evenly(low: float, span: float, style: LengthStyle) -> None:
    axis = Axis(low, low + span, 0.0, 140.0, style)
    steps = {round(b - a, 6) for a, b in pairwise(axis.small_ticks)}
    assert len(steps) <= 1
    numbered = {round(tick.value, 6) for tick in axis.ticks}
    if axis.small_ticks:
        assert numbered <= {round(value, 6) for value in axis.small_ticks}


@pytest.mark.parametrize(("low", "high", "right"), [(19.0, 19.0, 140.0), (18.0, 19.0, 10.0)])
def test_an_axis_without_extent_is_refused(low: float, high: float, right: float) -> None:
    with pytest.raises(RangeError, match="axis of a drawing"):
        Axis(low, high, 0.0, right, MM)


@pytest.mark.parametrize(
    ("low", "high", "style", "told"),
    [
        (27.1, 27.5, LengthStyle("fraction inch", denominator=16), "thickness, in from 1-1/16"),
        (18.8, 19.2, FRACTION, "thickness, in"),
        (-0.1, 0.2, FRACTION, "thickness, in"),
        (26.6, 27.0, MM, "thickness, mm"),
    ],
)
def test_the_fraction_that_thousandths_count_from_is_told(
    low: float, high: float, style: LengthStyle, told: str
) -> None:
    marks = Axis(low, high, 0.0, 60.0, style).marks(0.0, "thickness")
    texts = [mark.text for mark in marks if isinstance(mark, Text)]
    assert texts[-1] == told
