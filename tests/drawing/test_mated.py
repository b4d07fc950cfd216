from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.mated import mated_drawing
from faywright.drawing.model import Drawing, Outline
from faywright.drawing.naming import Naming
from faywright.drawing.pairing import TONGUE_AND_GROOVE
from faywright.drawing.svg import svg
from faywright.errors import InputError, RangeError
from faywright.section import Meeting
from tests.drawing.joints_to_draw import SNUG_19, JointToDraw, in_mm, plain_joint
from tests.drawing.paper import box, hatched, legible, outline_runs, strokes
from tests.strategies import STEADY, lengths

SIZES = [6.0, 12.0, 19.0, 25.4, 38.1, 60.0]
PRINTABLE = 190.0
"""Width of an A4 sheet with 10 mm left bare on either side. [mm]"""


@st.composite
def joints(draw: st.DrawFn) -> JointToDraw:
    thickness = draw(lengths(6, 60))
    groove = draw(lengths(thickness / 5, thickness / 2))
    return JointToDraw(
        thickness,
        groove,
        length=draw(lengths(min(2, groove), 20)),
        side=draw(lengths(-0.3, min(0.6, groove / 4))),
        bottom=draw(lengths(-0.5, 3)),
        other_thickness=thickness + draw(lengths(-0.5, 0.5)),
        open_by=draw(lengths(0, 0.5)),
    )


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


@pytest.mark.parametrize("thickness", SIZES)
def test_board_thickness_can_be_measured_on_the_print(thickness: float) -> None:
    runs = outline_runs(svg(plain_joint(thickness).drawing()))
    left = min(x for run in runs for x, _ in run)
    ends = [y for run in runs for x, y in run if x < left + 3]
    assert max(ends) - min(ends) == pytest.approx(thickness, abs=1e-3)


def test_the_groove_and_the_tongue_are_true_to_size() -> None:
    points = {point for run in outline_runs(svg(SNUG_19.drawing())) for point in run}
    groove = {(-7.0, 6.35), (-7.0, 12.65), (0.0, 6.35), (0.0, 12.65)}
    tongue = {(-6.0, 6.53), (-6.0, 12.27), (0.0, 6.53), (0.0, 12.27), (0.0, 18.8)}
    assert groove | tongue <= points


@pytest.mark.parametrize("thickness", SIZES)
def test_every_gap_is_named_once_with_its_value(thickness: float) -> None:
    joint = plain_joint(thickness)
    told = " | ".join(written(joint.drawing()))
    for name, value in joint.gaps.items():
        assert len(re.findall(rf"{name}(?: \|)? {re.escape(in_mm(value))}", told)) == 1


def test_gaps_are_printed_as_given() -> None:
    joint = SNUG_19
    drawing = mated_drawing(
        joint.grooved, joint.tongued, joint.placing, 0, {"bottom": 1.23}, title="t", write=in_mm
    )
    assert "bottom 1.23 mm" in written(drawing)
    assert drawing.description.endswith("Gaps: bottom 1.23 mm.")


def test_a_drawing_without_gaps_shows_the_parts_alone() -> None:
    joint = SNUG_19
    drawing = mated_drawing(
        joint.grooved, joint.tongued, joint.placing, 0, {}, title="t", write=in_mm
    )
    assert not any("nose" in text for text in written(drawing))
    assert len(hatched(drawing)) == 2


@pytest.mark.parametrize(
    ("side", "bottom", "scale"),
    [
        (0.08, 0.6, "20:1"),
        (0.18, 1.0, "10:1"),
        (0.38, 2.0, "5:1"),
        (0.1, 6.0, "5:1"),
        (0.5, 6.0, "2:1"),
    ],
)
def test_the_lens_says_how_much_it_enlarges_and_does(
    side: float, bottom: float, scale: str
) -> None:
    drawing = replace(SNUG_19, side=side, bottom=bottom, other_thickness=19.0).drawing()
    assert f"nose of the tongue, {scale}" in written(drawing)
    times = float(scale.removesuffix(":1"))
    edge = max(box(text).bounds[2] for text in drawing.texts if text.text == "19.00 mm")
    runs = [run for run in outline_runs(svg(drawing)) if min(x for x, _ in run) > edge]
    levels = sorted({y for run in runs for _, y in run})
    assert any(b - a == pytest.approx(side * times, abs=2e-4) for a, b in combinations(levels, 2))


@pytest.mark.parametrize(
    ("joint", "words"),
    [
        (replace(SNUG_19, side=-0.12), "interference"),
        (replace(SNUG_19, other_thickness=19.4), "tongued part proud"),
        (replace(SNUG_19, other_thickness=18.6), "grooved part proud"),
    ],
)
def test_what_will_not_go_is_written_out(joint: JointToDraw, words: str) -> None:
    assert words in written(joint.drawing())
    assert words in joint.drawing().description


def test_a_gap_of_nothing_has_no_sign_and_no_verdict() -> None:
    told = " ".join(written(replace(SNUG_19, other_thickness=19.0).drawing()))
    assert "face-B step 0.00 mm" in told
    assert "proud" not in told
    assert "-0.00" not in told


def test_the_two_parts_are_hatched_in_two_directions() -> None:
    outlines = [mark for mark in SNUG_19.drawing().marks if isinstance(mark, Outline)]
    assert {mark.hatch.angle for mark in outlines if mark.hatch} == {45.0, 135.0}


def test_parts_are_called_what_the_maker_calls_them() -> None:
    joint = replace(SNUG_19, other_thickness=19.4)
    drawing = mated_drawing(
        joint.grooved,
        joint.tongued,
        joint.placing,
        0,
        joint.gaps,
        title="t",
        write=in_mm,
        parts=(Naming("board 3"), Naming("board 4")),
    )
    assert {"board 3", "board 4", "board 4 proud"} <= set(written(drawing))


@STEADY
@given(joints())
def test_no_lettering_runs_over_other_lettering_the_work_or_a_line(joint: JointToDraw) -> None:
    assert legible(joint.drawing())


@STEADY
@given(joints())
def test_everything_fits_across_a_sheet(joint: JointToDraw) -> None:
    drawing = joint.drawing()
    assert drawing.size[0] - 12.0 <= PRINTABLE + 1e-6
    (x, y), (width, height) = drawing.origin, drawing.size
    sheet = shapely.box(x, y, x + width, y + height)
    assert all(sheet.covers(shapely.box(*mark.bounds)) for mark in drawing.marks)


def test_boards_with_a_long_tongue_are_broken_off_sooner_to_fit_the_sheet() -> None:
    long = JointToDraw(31.4, 13.6, 18.6, 0.13, 2.9, 31.4)
    assert long.drawing().size[0] - 12.0 == pytest.approx(PRINTABLE)
    wide = mated_drawing(
        long.grooved, long.tongued, long.placing, 0, long.gaps, title="t", write=in_mm, reach=28.0
    )
    assert wide.size[0] - 12.0 > PRINTABLE


def test_the_check_line_is_as_long_as_it_says() -> None:
    drawing = SNUG_19.drawing()
    assert "1:1, this line is 50 mm" in written(drawing)
    (line,) = [run for run in strokes(drawing) if run.length == pytest.approx(50.0, abs=1e-9)]
    assert line.coords[0][1] == line.coords[1][1]


def test_faces_a_are_up_and_marked_on_both_parts() -> None:
    marks = [text for text in SNUG_19.drawing().texts if text.text == "A"]
    assert len(marks) == 2
    assert all(-5 < text.at[1] < 0 for text in marks)


def test_long_names_are_shortened_and_keep_clear_of_the_gaps() -> None:
    joint = replace(SNUG_19, thickness=7.0, groove=2.3, length=2.5, other_thickness=7.1)
    name = "the third plank from the left of the loft"
    drawing = mated_drawing(
        joint.grooved,
        joint.tongued,
        joint.placing,
        0,
        joint.gaps,
        title=f"{name} in {name}, {'and so on ' * 12}",
        write=in_mm,
        parts=(Naming(name), Naming(f"{name}, 2")),
    )
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= PRINTABLE + 1e-6
    assert sum("..." in text for text in written(drawing)) == 3  # two names, one proud


def refused(pair: int = 0, gap: str = "bottom", reach: float | None = None) -> None:
    joint = SNUG_19
    mated_drawing(
        joint.grooved,
        joint.tongued,
        joint.placing,
        pair,
        {gap: 0.1},
        title="t",
        write=in_mm,
        reach=reach,
        meetings=[*TONGUE_AND_GROOVE, Meeting("neck", "neck", "edge", 0, 1)],
    )


def test_a_pair_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputError, match="there is no pair 1"):
        refused(pair=1)


def test_a_gap_nobody_knows_is_refused() -> None:
    with pytest.raises(InputError, match="no surfaces are known to meet at gap 'side'"):
        refused(gap="side")


def test_a_gap_without_its_surface_is_refused() -> None:
    with pytest.raises(InputError, match="a part has no surface 'neck'"):
        refused(gap="neck")


@pytest.mark.parametrize("reach", [0.5, 501.0])
def test_a_reach_off_the_sheet_is_refused(reach: float) -> None:
    with pytest.raises(RangeError, match="is not between 1 and 500 mm"):
        refused(reach=reach)
