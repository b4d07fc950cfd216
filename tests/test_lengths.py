import random
import sys
import unicodedata
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import InputError, LengthError, RangeError
from faywright.lengths import (
    LONGEST,
    MILLIMETRES_IN,
    LengthStyle,
    Style,
    Unit,
    millimetres,
    read_length,
    write_length,
)

INCH = Fraction("25.4")
UNITS: list[Unit] = ["mm", "cm", "m", "in", "ft", "thou"]
STYLES = [
    *(LengthStyle("decimal inch", places) for places in (3, 4)),
    *(LengthStyle("mm", places) for places in (1, 2, 3)),
    *(LengthStyle("fraction inch", denominator=parts) for parts in (16, 32, 64)),
]
VAST = 10**5000  # more digits than str() will give
VULGAR_FRACTIONS = [
    chr(code)
    for code in range(sys.maxunicode + 1)
    if unicodedata.name(chr(code), "").startswith("VULGAR FRACTION")
]

units = st.sampled_from(UNITS)
styles = st.sampled_from(STYLES)
lengths = st.floats(min_value=-10_000, max_value=10_000)

ACCEPTED_INCHES = [
    # as written, inches
    ("1/2", "1/2"),
    ("1-1/2", "3/2"),
    ("1 1/2 in", "3/2"),
    ("1\N{HYPHEN}1/2", "3/2"),
    ("1\N{NON-BREAKING HYPHEN}1/2", "3/2"),
    ("1\N{EN DASH}1/2", "3/2"),
    ("1 1 / 2", "3/2"),
    ('1.5"', "3/2"),
    ("0.25 in", "1/4"),
    ('.007"', "7/1000"),
    ("7 thou", "7/1000"),
    ("7.5thou", "75/10000"),
    ("1 1/2\N{DOUBLE PRIME}", "3/2"),
    ("1 1/2\N{RIGHT DOUBLE QUOTATION MARK}", "3/2"),
    ("1/2''", "1/2"),
    ("1\N{FRACTION SLASH}2", "1/2"),
    ("1½", "3/2"),
    ("1-½", "3/2"),
    ('¾"', "3/4"),
    ("1⅛ in", "9/8"),
    ("5'-6 1/4\"", "265/4"),
    ("5' 6\"", "66"),
    ("5'6\"", "66"),
    ("5'", "60"),
    ("5 ft 6-1/4 in", "265/4"),
    ("5 FEET 6 Inches", "66"),
    ("1 ft. 2 in.", "14"),
    ("5\N{PRIME} 6\N{DOUBLE PRIME}", "66"),
    ("5\N{RIGHT SINGLE QUOTATION MARK} 6½\N{RIGHT DOUBLE QUOTATION MARK}", "133/2"),
    ("5' 1/2\"", "121/2"),
    ("1/2 + .007", "507/1000"),
    ("1/4 less .003", "247/1000"),
    ("1/2 + .007 in", "507/1000"),
    ('1/4 less .003"', "247/1000"),
    ('1/2" + 7 thou', "507/1000"),
    ("2 + .007 in", "2007/1000"),
    ("1-1/2 LESS 0.003 in", "1497/1000"),
    ("-(1/2 + .007) in", "-507/1000"),
    ('-(1/4" less .003")', "-247/1000"),
    ("-1/4", "-1/4"),
    ("\N{MINUS SIGN}1-1/4 in", "-5/4"),
    ("- 1/4", "-1/4"),
    ("+1/4", "1/4"),
    ("-5'-6\"", "-66"),
    ("  1/4\t", "1/4"),
    ("1\N{NO-BREAK SPACE}1/4\N{THIN SPACE}in", "5/4"),
    ("1/3 in", "1/3"),
    ("-0", "0"),
]

ACCEPTED_MILLIMETRES = [
    # as written, millimetres
    ("38.1 mm", "38.1"),
    ("3.81 cm", "38.1"),
    ("0.0381 m", "38.1"),
    ("18,3 mm", "18.3"),
    ("18,3", "18.3"),
    (",5", "0.5"),
    ("0,125", "0.125"),
    ("1,2345", "1.2345"),
    ("1.234", "1.234"),
    ("-0,2", "-0.2"),
    ("38.1MM", "38.1"),
    ("2 millimetres", "2"),
    ("1 Millimeter", "1"),
    ("1,5 metres", "1500"),
    ("2 centimeters", "20"),
    ("1/2 mm", "0.5"),
    ("3/4 in", "19.05"),
    ("1/2 + .007 in", "12.8778"),
    ('1/2" + 7 thou', "12.8778"),
    ("0018.30", "18.3"),
]

REFUSED = [
    # as written, default unit, character of the fault from 0, part of the message
    ("", "in", 0, "nothing written. Write a length such as 1-1/2 in"),
    ("   ", "in", 3, "nothing written"),
    ("-", "in", 1, "no number"),
    ("in", "in", 0, "'in' where a number belongs"),
    ("3/4", "mm", 0, "where bare numbers are mm. Write '3/4 in', or a decimal number of mm"),
    ("-1 1/2", "cm", 1, "where bare numbers are cm. Write '-1 1/2 in'"),
    ("½", "thou", 0, "where bare numbers are thou"),
    ("1/2 + .007", "mm", 4, "where bare numbers are mm. Write 1/2 + .007 in"),
    ('1/2" + .007', "mm", 5, "a remainder to something other than inches"),
    ("1/2/3", "mm", 3, "'/' after the end of the length"),
    ("1,234 mm", "mm", 1, "part thousands or decimals. Write 1.234 mm or 1234 mm"),
    ("12,500", "mm", 2, "Write 12.500 mm or 12500 mm"),
    ("1,234,567 mm", "mm", 5, "a second decimal mark"),
    ("1,234.5 mm", "mm", 5, "a second decimal mark"),
    ("1.2.3", "mm", 3, "a second decimal mark"),
    ("1,5 in", "mm", 1, "a comma with the unit in. Write a decimal point"),
    ("1,5", "in", 1, "a comma with the unit in"),
    ("7,5 thou", "mm", 1, "a comma with the unit thou"),
    ("1/2 + ,007", "in", 6, "a comma with the unit in"),
    ("1/0", "in", 2, "a fraction over zero"),
    ("1 1/00 in", "in", 4, "a fraction over zero"),
    ("1 3/2", "in", 2, "a fraction of one or more"),
    ("11/2", "in", 0, "which a lost space can make. Write the whole number apart, 1-1/2"),
    ("4/4", "in", 0, "a fraction of one or more"),
    ("1.5/2", "in", 3, "'/' after the end of the length"),
    ("1/2.5", "in", 2, "a fraction not made of whole numbers"),
    ("1 1/", "in", 4, "a fraction not made of whole numbers"),
    ("1/½", "in", 2, "a fraction not made of whole numbers"),
    ("1.5½", "in", 3, "'½' after the end of the length"),
    ("½½", "in", 1, "'½' after the end of the length"),
    ("5' 6 mm", "in", 5, "mm after feet. Write feet and inches"),
    ("5' 6'", "in", 4, "ft after feet"),
    ("5' 6", "in", 4, "no unit after the number that follows feet"),
    ("5' 12\"", "in", 3, "12 inches or more after feet"),
    ("5.5' 6\"", "in", 0, "broken feet before inches"),
    ("5' - 6\"", "in", 3, "a hyphen that could join or take away"),
    ("6\" 5'", "in", 3, "a second number, 5,"),
    ("1 m 20 cm", "mm", 4, "a second number, 20,"),
    ("5 mm in", "mm", 5, "a second unit, in,"),
    ("1 2", "in", 2, "a second number, 2,"),
    ("1 234 mm", "mm", 2, "a second number, 234,"),
    ("--1", "in", 1, "a second sign. Write one sign"),
    ("-\N{MINUS SIGN}1", "in", 1, "a second sign"),
    ("+-1", "in", 1, "a second sign"),
    ("\N{EN DASH}1", "in", 0, "as a sign. Write -"),
    (
        "1 - 1/2",
        "in",
        2,
        "could join or take away. Close it up to join, as in 1-1/2, or write less",
    ),
    ("1- 1/2", "in", 1, "could join or take away"),
    ("1 -1/2", "in", 2, "could join or take away"),
    ("1\N{MINUS SIGN}1/2", "in", 1, "could join or take away"),
    ("1/4-.003", "in", 3, "could join or take away"),
    ("1-2", "in", 1, "a hyphen that joins no fraction"),
    ("1--1/2", "in", 1, "a hyphen that joins no fraction"),
    ("-1/2 + .007", "in", 5, "Write it with brackets: -(1/2 + .007) in"),
    ("-(1/2 + .007", "in", 12, "a bracket that is not closed"),
    ("(1/2) in", "in", 0, "brackets around something other than"),
    ("1/2 + .007)", "in", 10, "')' after the end of the length"),
    ("1/2 + 7", "in", 6, "a remainder that is not a decimal. Write .007 or 7 thou"),
    ("1/2 + 1/64", "in", 6, "a remainder that is not a decimal"),
    ("1/2 + .007 mm", "in", 4, "a remainder to something other than inches"),
    ("12 mm + .5 mm", "mm", 6, "a remainder to something other than inches"),
    ("0.5 + .007", "in", 4, "a remainder to a decimal"),
    ("1/4 less .3", "in", 9, "more taken away than there is"),
    ("1/2 + .007 + .001", "in", 11, "a sum of something other than"),
    ("5' 6\" + .007", "in", 6, "a sum of something other than"),
    ("5 mil", "in", 2, "'mil' is a thousandth of an inch to some and a millimetre to others"),
    ("5 MILS", "mm", 2, "Write thou or mm"),
    ("5 furlongs", "in", 2, "'furlongs' is not a unit. Use mm, cm, m, in, ft or thou"),
    ("5 ft.5 in", "in", 4, "a point that could end the unit or begin the number"),
    ("1e400", "mm", 1, "an exponent in a length. Write the number out in full"),
    ("1e3", "mm", 1, "an exponent in a length"),
    ("nan", "mm", 0, "'nan' is not a unit"),
    ("1.", "mm", 1, "a decimal mark without a digit after it"),
    ("1 in, or so", "in", 4, "a decimal mark without a digit after it"),
    ("5 in!", "in", 4, "'!' is not part of a length"),
    ("1\N{ZERO WIDTH SPACE}2", "in", 1, "is not part of a length"),
    ("\N{ARABIC-INDIC DIGIT FIVE} mm", "mm", 0, "is not part of a length"),
    ("2\N{SUPERSCRIPT TWO} mm", "mm", 1, "is not part of a length"),
    ("1 2000000 ", "mm", 2, "a second number"),
    ("2000000", "mm", 0, "longer than 1 km. Write a length of at most 1 km"),
    ("9" * 60, "m", 0, "longer than 1 km"),
    ("9" * 61, "mm", 60, "more than 60 characters"),
]

REFUSED_VALUES = [
    (True, "True", "bool is not a length"),
    (float("nan"), "nan", "not a finite number"),
    (float("-inf"), "-inf", "not a finite number"),
    (1e300, "1e+300", "longer than 1 km"),
    (2_000_000, "2000000", "longer than 1 km"),
    pytest.param(VAST, "more than 60 digits", "longer than 1 km", id="vast"),
    ([1], "[1]", "list is not a length"),
    (None, "None", "NoneType is not a length"),
]


@pytest.mark.parametrize(("text", "inches"), ACCEPTED_INCHES)
def test_lengths_in_inches_are_read(text: str, inches: str) -> None:
    assert read_length(text, bare="in") == Fraction(inches) * INCH


@pytest.mark.parametrize(("text", "mm"), ACCEPTED_MILLIMETRES)
def test_lengths_in_a_metric_document_are_read(text: str, mm: str) -> None:
    assert read_length(text, bare="mm") == Fraction(mm)


@pytest.mark.parametrize(("text", "bare", "position", "part"), REFUSED)
def test_what_could_be_misread_is_refused(text: str, bare: Unit, position: int, part: str) -> None:
    with pytest.raises(LengthError) as refusal:
        read_length(text, bare=bare)
    assert part in str(refusal.value)
    assert refusal.value.position == position
    assert f"character {position + 1}" in refusal.value.where
    assert refusal.value.text.startswith(text[:60])


@pytest.mark.parametrize(("value", "shown", "part"), REFUSED_VALUES)
def test_values_that_are_no_lengths_are_refused(value: float, shown: str, part: str) -> None:
    with pytest.raises(LengthError) as refusal:
        read_length(value, bare="mm")
    assert part in str(refusal.value)
    assert shown in refusal.value.text


@pytest.mark.parametrize("value", [2, 2.0, "2"])
@pytest.mark.parametrize("unit", UNITS)
def test_a_bare_number_takes_the_unit_of_its_document(value: str | float, unit: Unit) -> None:
    assert read_length(value, bare=unit) == 2 * MILLIMETRES_IN[unit]


@pytest.mark.parametrize("text", ["1/2", "1½"])
def test_a_bare_fraction_is_read_where_feet_are_the_default(text: str) -> None:
    assert read_length(text, bare="ft") == 12 * read_length(text, bare="in")


def test_an_unknown_default_unit_is_refused() -> None:
    with pytest.raises(InputError, match=r"'yd' is not a unit. Use mm, cm, m, in, ft, thou"):
        read_length("1", bare="yd")  # type: ignore[arg-type]  # as a careless caller would


def test_a_float_is_read_at_the_digits_it_was_written_with() -> None:
    assert read_length(0.1, bare="in") == Fraction("2.54")
    assert read_length(1e-5, bare="mm") == Fraction(1, 100_000)
    assert read_length(np.float64(0.1), bare="in") == Fraction("2.54")
    assert write_length(np.float64(0.1), LengthStyle("mm", 1)) == "0.1 mm"


@pytest.mark.parametrize("sign", VULGAR_FRACTIONS)
def test_every_fraction_of_unicode_is_read(sign: str) -> None:
    exact = Fraction(unicodedata.numeric(sign)).limit_denominator(10)
    assert read_length(sign, bare="in") == exact * INCH
    assert read_length(f"3{sign}", bare="in") == (3 + exact) * INCH


def test_unicode_has_the_fractions_it_had() -> None:
    assert len(VULGAR_FRACTIONS) == 19


@given(st.integers(0, 500), st.integers(0, 63), st.sampled_from("- "), units)
def test_a_mixed_number_is_its_whole_and_its_fraction(
    whole: int, over: int, joint: str, bare: Unit
) -> None:
    read = read_length(f"{whole}{joint}{over}/64 in", bare=bare)
    assert read == (whole + Fraction(over, 64)) * INCH


@given(st.integers(0, 500), st.integers(0, 11), st.integers(0, 15), st.sampled_from("- "))
def test_feet_and_inches_add_up(feet: int, whole: int, over: int, joint: str) -> None:
    inches = f"{whole} {over}/16 in"
    both = read_length(f"{feet}'{joint}{inches}", bare="mm")
    assert both == read_length(f"{feet} ft", bare="mm") + read_length(inches, bare="mm")


@given(st.decimals(0, 900, places=4), units, units)
def test_a_unit_written_out_rules_over_the_default(number: object, unit: Unit, bare: Unit) -> None:
    assert read_length(f"{number} {unit}", bare=bare) == read_length(f"{number}", bare=unit)


@given(st.decimals(0, 900, places=2), st.sampled_from(["mm", "cm", "m"]))
def test_a_decimal_comma_reads_as_a_point(number: object, unit: Unit) -> None:
    comma = str(number).replace(".", ",")
    assert read_length(comma, bare=unit) == read_length(str(number), bare=unit)


@given(st.text(max_size=70) | st.text("012346 ./,-+'\"()½eftilmnschou", max_size=16), units)
def test_any_text_is_read_or_refused(text: str, bare: Unit) -> None:
    try:
        assert abs(read_length(text, bare=bare)) <= LONGEST + 1
    except LengthError as refusal:
        assert 0 <= refusal.position <= len(text)  # noqa: PT017 - reading some texts is right, too
        assert refusal.remedy  # noqa: PT017


WRITTEN = [
    # inches, style, as written
    ("0.507", LengthStyle("decimal inch"), "0.507 in"),
    ("0.507", LengthStyle("decimal inch", 4), "0.5070 in"),
    ("-1.25", LengthStyle("decimal inch"), "-1.250 in"),
    ("0.0005", LengthStyle("decimal inch"), "0.001 in"),
    ("-0.0004", LengthStyle("decimal inch"), "0.000 in"),
    ("1/2", LengthStyle("fraction inch"), "1/2 in"),
    ("3/2", LengthStyle("fraction inch"), "1-1/2 in"),
    ("2", LengthStyle("fraction inch"), "2 in"),
    ("0", LengthStyle("fraction inch"), "0 in"),
    ("-0.0004", LengthStyle("fraction inch"), "0 in"),
    ("0.507", LengthStyle("fraction inch"), "1/2 + .007 in"),
    ("0.247", LengthStyle("fraction inch"), "1/4 less .003 in"),
    ("2.007", LengthStyle("fraction inch"), "2 + .007 in"),
    ("1.997", LengthStyle("fraction inch"), "2 less .003 in"),
    ("0.007", LengthStyle("fraction inch"), ".007 in"),
    ("-0.007", LengthStyle("fraction inch"), "-.007 in"),
    ("-3/2", LengthStyle("fraction inch"), "-1-1/2 in"),
    ("-0.507", LengthStyle("fraction inch"), "-(1/2 + .007) in"),
    ("33/64", LengthStyle("fraction inch"), "33/64 in"),
    ("33/64", LengthStyle("fraction inch", denominator=32), "17/32 less .016 in"),
    ("0.03", LengthStyle("fraction inch", denominator=16), ".030 in"),
    ("0.507", LengthStyle("mm"), "12.88 mm"),
    ("0.507", LengthStyle("mm", 1), "12.9 mm"),
    ("0.507", LengthStyle("mm", 3), "12.878 mm"),
    ("-0.0001", LengthStyle("mm"), "0.00 mm"),
    ("-1", LengthStyle("mm"), "-25.40 mm"),
]


@pytest.mark.parametrize(("inches", "style", "text"), WRITTEN)
def test_lengths_are_written_as_the_maker_chose(inches: str, style: LengthStyle, text: str) -> None:
    assert write_length(Fraction(inches) * INCH, style) == text
    assert write_length(float(Fraction(inches) * INCH), style) == text


def test_half_of_the_last_digit_is_rounded_away_from_zero_as_it_reads() -> None:
    assert write_length(12.885, LengthStyle("mm")) == "12.89 mm"  # just below it in binary
    assert write_length(-12.885, LengthStyle("mm")) == "-12.89 mm"


def half_a_last_digit(style: LengthStyle) -> Fraction:
    if style.style == "fraction inch":
        return INCH / 2000
    unit = INCH if style.style == "decimal inch" else Fraction(1)
    usual = 3 if style.style == "decimal inch" else 2
    return Fraction(unit, 2 * 10 ** (style.places or usual))


@given(lengths, styles, units)
def test_what_is_written_reads_back_within_half_a_last_digit(
    mm: float, style: LengthStyle, bare: Unit
) -> None:
    read = read_length(write_length(mm, style), bare=bare)
    assert abs(read - Fraction(repr(mm))) <= half_a_last_digit(style)


@given(st.integers(-99_999, 99_999), styles, units)
def test_a_length_on_the_grid_reads_back_exactly(
    steps: int, style: LengthStyle, bare: Unit
) -> None:
    step = 2 * half_a_last_digit(style)
    if style.style == "fraction inch":
        step = INCH / style.denominator
    assert read_length(write_length(steps * step, style), bare=bare) == steps * step


@given(lengths, styles.filter(lambda style: style.style != "fraction inch"))
def test_a_decimal_that_was_read_is_written_as_it_was(mm: float, style: LengthStyle) -> None:
    text = write_length(mm, style)
    assert write_length(millimetres(text, bare="m"), style) == text


@given(lengths, styles)
def test_no_length_is_written_as_less_than_nothing(mm: float, style: LengthStyle) -> None:
    text = write_length(mm, style)
    assert text.startswith("-") == (read_length(text, bare="m") < 0)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("mm", [0.0, -0.0, 0, LONGEST - 1e-9, 1e-9 - LONGEST])
def test_the_ends_of_the_range_are_written_and_read(mm: float, style: LengthStyle) -> None:
    read = read_length(write_length(mm, style), bare="in")
    assert float(read) == pytest.approx(mm, abs=float(half_a_last_digit(style)) + 1e-9)


@pytest.mark.parametrize(
    "mm", [float("nan"), float("inf"), -1e300, LONGEST, pytest.param(VAST, id="vast")]
)
def test_a_length_that_could_not_be_read_back_is_not_written(mm: float) -> None:
    with pytest.raises(RangeError, match=r"mm cannot be written. Give a finite length below 1 km"):
        write_length(mm, LengthStyle("mm"))


@pytest.mark.parametrize(
    ("style", "places", "denominator", "message"),
    [
        ("decimal inch", 2, 64, "places 2 of 'decimal inch' lengths. Leave it out, or use 3 or 4"),
        ("mm", 4, 64, "places 4 of 'mm' lengths. Leave it out, or use 1 or 2 or 3"),
        ("mm", 0, 64, "places 0 of 'mm' lengths"),
        ("fraction inch", 3, 64, "places 3 of 'fraction inch' lengths. Leave it out"),
        ("fraction inch", None, 10, "denominator 10 of 'fraction inch' lengths. Use 16 or 32"),
        ("cubits", None, 64, "style 'cubits' of 'cubits' lengths. Use decimal inch or"),
    ],
)
def test_a_style_no_gauge_can_hold_is_refused(
    style: Style, places: int | None, denominator: int, message: str
) -> None:
    with pytest.raises(InputError, match=message):
        LengthStyle(style, places, denominator)


def random_text(source: random.Random) -> str:
    """Unicode at random, or an accepted length with a few characters changed."""
    if source.random() < 0.3:
        points = [source.choice((0x80, 0x3000, 0x110000)) for _ in range(source.randrange(70))]
        return "".join(chr(source.randrange(point)) for point in points)
    characters = list(source.choice(ACCEPTED_INCHES + ACCEPTED_MILLIMETRES)[0])
    for _ in range(source.randrange(1, 4)):
        at = source.randrange(len(characters) + 1)
        new = source.choice(["", "", *"0129/-+.,'\"( )½emin", chr(source.randrange(0x110000))])
        characters[at : at + source.randrange(2)] = new
    return "".join(characters)


@pytest.mark.soak
def test_a_hundred_thousand_random_texts_are_read_or_refused() -> None:
    source = random.Random(254)  # noqa: S311 - repeatable texts, no secret
    read = 0
    for _ in range(100_000):
        text = random_text(source)
        try:
            assert abs(read_length(text, bare=source.choice(UNITS))) <= LONGEST + 1
            read += 1
        except LengthError as refusal:
            assert 0 <= refusal.position <= len(text)  # noqa: PT017 - some texts are read
    assert 1_000 < read < 99_000  # the mutations reach both outcomes
