"""What the trade works out for a centred tongue and groove. Common practice, no source.

The stock is 1.500 in. thick, the cutter 0.500 in.; the tongue is cut flat from both faces, the
groove on edge in one pass. The figures must come out of the cut sections to the last digit.
"""

import pytest

from faywright.fit import fit_called
from faywright.section import Sections, cut
from tests.section.cuts import (
    WIDTH,
    exactly,
    groove_in_one_pass,
    mated,
    tongue_passes_flat,
)

INCH = 25.4
STOCK, CUTTER, HEIGHT = 1.5 * INCH, 0.5 * INCH, 0.507 * INCH
FAR_EDGE = 1.0 * INCH
TONGUE_LENGTH = 0.5 * INCH

# Proportions and settings, on the cut sections


def at(section: Sections, surface: str, axis: int = 0) -> float:
    return float(section.position(surface, axis)[0])


def grooved() -> Sections:
    return groove_in_one_pass(STOCK, CUTTER, FAR_EDGE, HEIGHT)


def tongued() -> Sections:
    return cut(STOCK, WIDTH, tongue_passes_flat(CUTTER, HEIGHT, TONGUE_LENGTH))


def test_a_height_of_0507_from_both_faces_leaves_a_tongue_of_0486() -> None:
    board = tongued()
    assert at(board, "cheek B") - at(board, "cheek A") == exactly(0.486 * INCH)


def test_that_tongue_has_0007_a_side_and_0014_in_all_in_a_groove_of_0500() -> None:
    groove = grooved()
    assert at(groove, "wall B") - at(groove, "wall A") == exactly(0.500 * INCH)
    found = mated(groove, tongued())
    assert found["cheek A"] == exactly(0.007 * INCH)
    assert found["cheek B"] == exactly(0.007 * INCH)
    assert found["cheek A"] + found["cheek B"] == exactly(0.014 * INCH)


def test_the_same_0507_as_groove_depth_leaves_0007_below_a_tongue_of_0500() -> None:
    board = tongued()
    assert at(board, "shoulder A", 1) - at(board, "edge", 1) == exactly(0.500 * INCH)
    assert mated(grooved(), board)["bottom"] == exactly(0.007 * INCH)


def test_a_fence_1000_from_the_far_edge_of_the_cutter_centres_the_groove() -> None:
    groove = grooved()
    walls = [at(groove, "wall A"), STOCK - at(groove, "wall B")]
    assert walls == [exactly(0.500 * INCH)] * 2


@pytest.mark.parametrize("stock", [0.75 * INCH, 1.5 * INCH, 18.0, 20.37])
def test_thirds_make_the_tongue_and_both_walls_of_the_groove_equal(stock: float) -> None:
    third = stock / 3
    groove = groove_in_one_pass(stock, third, 2 * third, third)
    tongue = cut(stock, WIDTH, tongue_passes_flat(third, third, third))
    walls = [at(groove, "wall A"), stock - at(groove, "wall B")]
    assert [*walls, at(tongue, "cheek B") - at(tongue, "cheek A")] == [exactly(third)] * 3


# Fits and gauges: how much clearance slides or holds, and how finely a gauge must be set

THOU = 0.001 * INCH


@pytest.mark.parametrize(("name", "a_side"), [("snug", 7 * THOU), ("sliding", 15 * THOU)])
def test_0007_a_side_is_snug_and_0015_slides_in_softwood(name: str, a_side: float) -> None:
    fit = fit_called(name, "softwood")
    assert fit.low < a_side < fit.high
    assert round(fit.aim, 2) == round(a_side, 2)


def test_what_is_snug_does_not_slide_and_what_slides_is_not_snug() -> None:
    snug, sliding = fit_called("snug", "softwood"), fit_called("sliding", "softwood")
    assert not sliding.low <= 7 * THOU <= sliding.high
    assert not snug.low <= 15 * THOU <= snug.high


@pytest.mark.parametrize("error", [-THOU, THOU])
def test_a_height_set_to_within_0001_keeps_0007_a_side_snug(error: float) -> None:
    board = cut(STOCK, WIDTH, tongue_passes_flat(CUTTER, HEIGHT + error, TONGUE_LENGTH))
    found = mated(grooved(), board)
    snug = fit_called("snug", "softwood")
    for cheek in ("cheek A", "cheek B"):
        assert found[cheek] == exactly(7 * THOU + error)
        assert snug.low < found[cheek] < snug.high
