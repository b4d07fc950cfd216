"""What is typed into a field is what the document has, and is shown as it was written."""

from __future__ import annotations

from datetime import date
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.lengths import LengthStyle, Style, Unit, millimetres
from faywright.web.fields import Field, Kind, Spec, blank_fields, edit_said, fields_of, shown, typed

MM = LengthStyle("mm")
INCH = LengthStyle("decimal inch")
styles = st.sampled_from([LengthStyle(style) for style in get_args(Style)])
units = st.sampled_from(get_args(Unit))


@given(st.floats(1, 2000).map(lambda x: round(x, 2)), styles, units)
def test_a_length_that_is_typed_means_what_the_page_is_in(
    number: float, style: LengthStyle, unit: Unit
) -> None:
    own: Unit = "mm" if style.style == "mm" else "in"
    value = typed("length", f"{number}", style, unit)
    assert isinstance(value, str | int | float)
    assert millimetres(value, bare=unit) == pytest.approx(millimetres(number, bare=own))


@given(st.floats(1, 999).map(lambda x: round(x, 2)), st.sampled_from(["mm", "in"]))
def test_a_length_in_the_unit_of_the_page_is_shown_as_it_was_written(
    number: float, unit: Unit
) -> None:
    style = MM if unit == "mm" else INCH
    assert float(shown("length", number, style, unit)) == number


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        ("length", "3/8 in", "3/8 in"),
        ("length", " ", None),
        ("text", "  oak ", "oak"),
        ("whole", "12", 12),
        ("whole", "twelve", "twelve"),
        ("number", "9,5", 9.5),
        ("number", "68 F", "68 F"),
        ("number", "1e400", "1e400"),
        ("numbers", "12 1 2", [12, 1, 2]),
        ("numbers", "10,000; 18,000", [10000, 18000]),
        ("flag", "true", True),
        ("many", "height; fence", ["height", "fence"]),
        ("date", "2026-09-14", date(2026, 9, 14)),
        ("date", "tomorrow", "tomorrow"),
        ("readings", "18.85 18.81", [18.85, 18.81]),
        ("readings", "19 | 18.9; 3/4 in | 18.8", [[19, 18.9], ["3/4 in", 18.8]]),
        ("readings", "18,85; 18,81", ["18,85 mm", "18,81 mm"]),
    ],
)
def test_what_is_typed_becomes_a_value(kind: Kind, text: str, value: object) -> None:
    assert typed(kind, text, MM, "mm") == value


@pytest.mark.parametrize(
    ("kind", "value"),
    [
        ("readings", [18.85, 18.81, "3/4 in"]),
        ("readings", [[19.02, 18.95], [19, 18.96]]),
        ("numbers", [1, 2.5, 3]),
        ("many", ["height", "fence"]),
        ("number", "9.5 %"),
        ("flag", True),
    ],
)
def test_what_is_shown_means_the_same_when_typed_again(kind: Kind, value: object) -> None:
    again = typed(kind, shown(kind, value, MM, "mm"), MM, "mm")
    if kind == "readings":
        assert isinstance(again, list)
        assert len(again) == len(value)  # type: ignore[arg-type]
    else:
        assert again == value


def test_fields_are_found_by_names_and_have_ids_of_their_own() -> None:
    specs = [Spec(key="name", label="Name", kind="text"), Spec(key="w", label="W", kind="length")]
    tables = {"units": "in", "part": [{"name": "a b", "w": 2}, {"name": "a-b", "w": 3}]}
    one = fields_of(specs, tables, INCH, ("part", "a b"))
    other = fields_of(specs, tables, INCH, ("part", "a-b"))
    assert [field.shown for field in one] == ["a b", "2"]
    assert one[1].unit == "in"
    assert len({field.id for field in (*one, *other)}) == 4
    assert all(field.id.replace("-", "").isalnum() for field in one)


def test_a_form_for_something_new_keeps_what_was_typed() -> None:
    specs = [Spec(key="w", label="W", kind="length")]
    (field,) = blank_fields(specs, MM, {"w": "wide"}, {"w": "no length"})
    assert (field.shown, field.fault) == ("wide", "no length")
    assert field.described_by == f"{field.id}-fault"


def test_a_change_is_said_in_one_sentence() -> None:
    path = ("joint", "drawer runner", "load", "drawer_kg")
    assert (
        edit_said(path, "number", 5, None, "mm")
        == "drawer kg of load of joint drawer runner: left out, was 5"
    )
    assert edit_said(("joint", "back", "half"), "flag", None, True, "mm").endswith(
        "yes, was left out"
    )


def test_a_long_list_is_cut_in_a_sentence() -> None:
    said = edit_said(("board", "B01", "thickness"), "readings", [18.0] * 99, [19.0], "mm")
    assert said.startswith("thickness of board B01: 19 mm, was 18 mm, 18 mm")
    assert len(said) < 200


def test_a_unit_is_said_only_where_it_was_not_typed() -> None:
    field = Field(label="M", path=("m",), kind="number", shown="9", unit="%")
    assert field.said == "9 %"
    typed_with = Field(label="M", path=("m",), kind="number", shown="9 %", unit="%")
    assert typed_with.said == "9 %"
