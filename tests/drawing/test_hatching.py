import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.hatching import Hatch, hatch_strokes
from faywright.errors import RangeError

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
ANGLED = ((0.0, 0.0), (12.0, 0.0), (12.0, 4.0), (4.0, 4.0), (4.0, 9.0), (0.0, 9.0))


def test_level_hatching_of_a_square_is_evenly_spaced() -> None:
    strokes = hatch_strokes(SQUARE, Hatch(0.0, 2.0))
    inside = [start[1] for start, _ in strokes if 0 < start[1] < 10]
    assert inside == pytest.approx([2.0, 4.0, 6.0, 8.0])


@given(st.floats(0, 180), st.floats(0.5, 3))
def test_no_stroke_leaves_the_outline(angle: float, spacing: float) -> None:
    area = shapely.Polygon(ANGLED).buffer(1e-6)
    for stroke in hatch_strokes(ANGLED, Hatch(angle, spacing)):
        assert area.covers(shapely.LineString(stroke))


@given(st.floats(0, 180), st.floats(0.5, 1.5))
def test_hatching_is_as_dense_as_its_spacing_says(angle: float, spacing: float) -> None:
    length = sum(math.dist(*stroke) for stroke in hatch_strokes(SQUARE, Hatch(angle, spacing)))
    assert length * spacing == pytest.approx(100.0, rel=0.25)


def test_two_pieces_of_one_part_are_hatched_as_one() -> None:
    hatch = Hatch(45.0, 1.7)
    halves = [((x, 0.0), (x + 5, 0.0), (x + 5, 10.0), (x, 10.0)) for x in (0.0, 5.0)]
    pieces = [shapely.LineString(s) for half in halves for s in hatch_strokes(half, hatch)]
    whole = shapely.MultiLineString(list(hatch_strokes(SQUARE, hatch)))
    assert whole.buffer(1e-6).covers(shapely.union_all(pieces))


@pytest.mark.parametrize("spacing", [0.0, 0.29, 51.0, math.nan])
def test_hatching_that_would_print_as_a_block_is_refused(spacing: float) -> None:
    with pytest.raises(RangeError, match=r"not between 0.3 and 50 mm"):
        Hatch(45.0, spacing)
