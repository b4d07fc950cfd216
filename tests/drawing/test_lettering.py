import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.lettering import text_width

# Sums of advance widths of DejaVu Sans and DejaVu Sans Bold 2.37, read from the fonts' own
# horizontal metrics with a font editor. [em]
MEASURED = [
    ("0.18 mm", False, 4.492),
    ("0.18 mm", True, 4.900),
    ("cheek", False, 2.996),
    ("WW", True, 2.206),
]


@pytest.mark.parametrize(("text", "bold", "measured"), MEASURED)
def test_the_model_never_gives_less_room_than_a_wide_face_takes(
    text: str, bold: bool, measured: float
) -> None:
    assert measured <= text_width(text, 1.0, bold=bold) <= 1.1 * measured


@given(st.text(max_size=20), st.text(max_size=20), st.floats(1.5, 20))
def test_room_grows_with_every_letter_and_with_the_size(one: str, two: str, size: float) -> None:
    whole = text_width(one + two, size)
    assert whole == pytest.approx(text_width(one, size) + text_width(two, size))
    assert text_width(one, 2 * size) == pytest.approx(2 * text_width(one, size))


def test_a_letter_the_model_does_not_know_counts_as_the_widest() -> None:
    assert text_width("½", 1.0) == text_width("M", 1.0) == 1.0


@pytest.mark.parametrize(("letter", "measured"), [("Щ", 1.094), ("Ж", 1.077), ("ش", 1.221)])
def test_letters_of_other_scripts_have_room(letter: str, measured: float) -> None:
    assert measured <= text_width(letter, 1.0) <= 1.3 * measured
