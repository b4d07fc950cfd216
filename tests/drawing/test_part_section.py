"""A part alone in section, true to scale, with the sizes that its setups have to make."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.model import Drawing, Polyline
from faywright.drawing.naming import Naming
from faywright.drawing.part_section import LARGEST_DOUBLED, Scale, part_section
from faywright.errors import InputError
from faywright.section import Pass, Posture, Sections, cut, v_profile
from tests.drawing.joints_to_draw import (
    CUTTER,
    LOOSE_TONGUE,
    RUNNER,
    SNUG_19,
    JointToDraw,
    StripToDraw,
    in_mm,
    plain_joint,
)
from tests.drawing.paper import break_lines, hatched, legible, strokes
from tests.strategies import STEADY, lengths

B01 = Naming("B01")


def drawn(
    sections: Sections, naming: Naming = B01, scale: Scale | None = None, board: int = 0
) -> Drawing:
    return part_section(sections, board, naming=naming, write=in_mm, scale=scale)


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def beside(drawing: Drawing, told: str) -> str:
    """The size written under some words."""
    (words,) = [text for text in drawing.texts if text.text == told]
    under = [t for t in drawing.texts if t.at[0] == words.at[0] and t.at[1] > words.at[1]]
    return min(under, key=lambda text: text.at[1]).text


@st.composite
def joints(draw: st.DrawFn) -> JointToDraw:
    thickness = draw(lengths(12, 60))
    groove = draw(lengths(thickness / 5, thickness / 2))
    length = draw(lengths(4, 20))
    return JointToDraw(
        thickness, groove, length, draw(lengths(0, 0.4)), draw(lengths(0, 3)), thickness
    )


@st.composite
def drawer_sides(draw: st.DrawFn) -> StripToDraw:
    across, deep, strip = draw(lengths(40, 400)), draw(lengths(8, 40)), draw(lengths(4, 12))
    wall = draw(lengths(3, across - strip - 4))
    return replace(
        RUNNER, across=across, deep=deep, strip=strip, wall=wall, entry=draw(lengths(2, deep / 2))
    )


def test_a_groove_is_dimensioned_as_its_setups_make_it() -> None:
    drawing = drawn(SNUG_19.grooved)
    assert beside(drawing, "wall beside face A") == "6.35 mm"
    assert beside(drawing, "groove width") == "6.30 mm"
    assert "groove depth 7.00 mm" in written(drawing)
    assert beside(drawing, "B01") == "19.00 mm"


def test_a_tongue_is_dimensioned_as_its_setups_make_it() -> None:
    drawing = drawn(SNUG_19.tongued)
    assert beside(drawing, "cheek depth on face A") == "6.53 mm"
    assert beside(drawing, "tongue thickness") == "5.74 mm"
    assert "tongue length 6.00 mm" in written(drawing)
    assert drawing.description.startswith("section, face A up, 2:1. cheek depth on face A 6.53 mm;")


def test_the_sizes_to_measure_are_bold() -> None:
    bold = {text.text for text in drawn(SNUG_19.grooved).texts if text.emphasis == "strong"}
    assert {"6.35 mm", "6.30 mm"} <= bold


@pytest.mark.parametrize("scale", [1, 2])
def test_the_section_is_true_to_its_scale(scale: Scale) -> None:
    drawing = drawn(SNUG_19.grooved, scale=scale)
    corners = {
        (x / scale, y / scale)
        for mark in drawing.marks
        if isinstance(mark, Polyline) and mark.weight == "outline"
        for x, y in mark.points
    }
    groove = [(-7.0, 6.35), (-7.0, 12.65), (0.0, 6.35), (0.0, 12.65), (0.0, 0.0), (0.0, 19.0)]
    for corner in groove:
        assert any(corner == pytest.approx(each) for each in corners)
    assert drawing.scale == scale
    assert f"section, face A up, {scale}:1" in written(drawing)


@pytest.mark.parametrize(("thickness", "scale"), [(LARGEST_DOUBLED, 2), (LARGEST_DOUBLED + 1, 1)])
def test_thick_parts_are_not_doubled(thickness: float, scale: float) -> None:
    assert drawn(plain_joint(thickness).grooved).scale == scale


@pytest.mark.parametrize(
    ("scale", "words"),
    [
        (1, "1:1, this line is 50 mm"),
        (2, "2:1, this line is 50 mm on paper, 25 mm of the work"),
    ],
)
def test_the_check_line_is_as_long_as_it_says(scale: Scale, words: str) -> None:
    drawing = drawn(SNUG_19.grooved, scale=scale)
    assert words in written(drawing)
    assert [run for run in strokes(drawing) if run.length == pytest.approx(50.0, abs=1e-9)]


def test_a_groove_opens_to_the_right_and_a_tongue_points_to_the_left() -> None:
    groove, tongue = drawn(SNUG_19.grooved), drawn(SNUG_19.tongued)
    assert max(part.bounds[2] for part in hatched(groove)) == pytest.approx(0.0)
    assert min(part.bounds[0] for part in hatched(tongue)) == pytest.approx(0.0)


def test_face_a_is_up_and_marked() -> None:
    (mark,) = [text for text in drawn(SNUG_19.tongued).texts if text.text == "A"]
    assert -6 < mark.at[1] < 0


def test_a_drawer_side_is_shown_from_the_edge_it_is_measured_from() -> None:
    drawing = drawn(RUNNER.grooved, RUNNER.naming)
    assert beside(drawing, "wall beside reference edge") == "44.00 mm"
    assert {"reference edge", "in all 96.00 mm", "13.00 mm"} <= set(written(drawing))
    (wave,) = break_lines(drawing)
    assert wave.bounds[1] > 52


def test_a_wall_too_long_for_the_sheet_is_told_in_words() -> None:
    drawing = drawn(replace(RUNNER, across=600.0, wall=300.0).grooved, RUNNER.naming)
    assert "wall beside reference edge 300.00 mm" in written(drawing)
    assert "to reference edge" in written(drawing)
    assert len(break_lines(drawing)) == 2


def test_a_half_tongue_has_its_cheek_on_face_b() -> None:
    makes = {"top": "face-B cheek", "side far": "face-B shoulder"}
    run = Pass(CUTTER, 13.0, 6.0 - CUTTER.radius, Posture.FLAT_B, makes)
    drawing = drawn(cut(19.0, 200.0, [run]))
    assert beside(drawing, "tongue thickness") == "6.00 mm"
    assert beside(drawing, "cheek depth on face B") == "13.00 mm"
    assert "cheek depth on face A" not in written(drawing)


def test_a_thick_half_tongue_is_shown_with_all_of_its_cheek() -> None:
    makes = {"top": "face-B cheek", "side far": "face-B shoulder"}
    run = Pass(CUTTER, 34.0, 12.0 - CUTTER.radius, Posture.FLAT_B, makes)
    drawing = drawn(cut(51.0, 200.0, [run]))
    assert beside(drawing, "cheek depth on face B") == "34.00 mm"
    assert beside(drawing, "B01") == "51.00 mm"


def test_a_strip_has_its_two_sizes_and_nothing_up() -> None:
    drawing = drawn(cut(7.2, 18.0, []), Naming("R1", None))
    assert beside(drawing, "R1") == "7.20 mm"
    assert "18.00 mm" in written(drawing)
    assert "A" not in written(drawing)
    assert drawing.title == "R1: strip in section"


def test_a_long_name_is_shortened() -> None:
    name = "the third board from the left of the loft"
    told = written(drawn(LOOSE_TONGUE.grooved, Naming(name)))
    assert name not in told
    assert any("..." in text for text in told)


@STEADY
@given(joints())
def test_a_groove_of_any_size_is_legible_and_fits_a_sheet(joint: JointToDraw) -> None:
    drawing = drawn(joint.grooved)
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= 190.0 + 1e-6


@STEADY
@given(joints())
def test_a_tongue_of_any_size_is_legible_and_fits_a_sheet(joint: JointToDraw) -> None:
    drawing = drawn(joint.tongued)
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= 190.0 + 1e-6


@STEADY
@given(drawer_sides())
def test_a_drawer_side_of_any_size_is_legible_and_fits_a_sheet(side: StripToDraw) -> None:
    drawing = drawn(side.grooved, side.naming)
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= 190.0 + 1e-6
    assert drawing.size[1] - 12.0 <= 277.0 + 1e-6


def test_a_board_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputError, match="there is no board 1"):
        drawn(SNUG_19.grooved, board=1)


def test_a_sloping_cheek_is_refused() -> None:
    makes = dict.fromkeys(v_profile(6.0, 90).silhouette[1], "bottom")
    vee = cut(19.0, 200.0, [Pass(v_profile(6.0, 90), 5.0, 9.5, Posture.ON_EDGE_A, makes)])
    with pytest.raises(InputError, match="'bottom' is not square"):
        drawn(vee)
