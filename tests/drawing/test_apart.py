"""Lettering is moved apart and broken into lines, and nothing of it is lost."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.apart import paragraph, shortened, spread_apart
from faywright.drawing.lettering import text_width
from tests.strategies import STEADY, lengths

places = st.lists(lengths(0, 100), min_size=1, max_size=20)
texts = st.text("abcW .-", min_size=1, max_size=120)


@STEADY
@given(places, lengths(0.1, 8))
def test_places_keep_apart_and_in_order(wanted: list[float], gap: float) -> None:
    spread = spread_apart(wanted, gap)
    assert all(b - a > gap - 1e-9 for a, b in pairwise(sorted(spread)))
    pairs = sorted(zip(wanted, spread, strict=True))
    assert [s for _, s in pairs] == sorted(spread)


@STEADY
@given(places)
def test_places_that_are_apart_stay_where_they_are(wanted: list[float]) -> None:
    apart = sorted(set(wanted))
    least = min((b - a for a, b in pairwise(apart)), default=1.0)
    assert spread_apart(apart, least) == pytest.approx(apart)


@STEADY
@given(places, lengths(1, 4))
def test_places_stay_within_their_ends(wanted: list[float], gap: float) -> None:
    least, most = 0.0, max(100.0, gap * len(wanted))
    spread = spread_apart(wanted, gap, (least, most))
    assert least - 1e-9 <= min(spread)
    assert max(spread) <= most + 1e-9
    assert all(b - a > gap - 1e-9 for a, b in pairwise(sorted(spread)))


@STEADY
@given(texts)
def test_a_paragraph_keeps_every_letter_and_fits_its_width(text: str) -> None:
    lines = paragraph(text, 30.0, 2.6)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(text_width(line, 2.6) <= 30.0 for line in lines)


@STEADY
@given(texts)
def test_a_name_is_shortened_only_where_it_has_to_be(text: str) -> None:
    short = shortened(text, 30.0, 2.6)
    assert text_width(short, 2.6) <= 30.0
    assert (short == text) == (text_width(text, 2.6) <= 30.0)
    assert (short[0], short[-1]) == (text[0], text[-1])
