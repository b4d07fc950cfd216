"""Parts of other shapes than boards edge to edge: drawer sides, strips, half tongues."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.model import Drawing
from faywright.drawing.naming import Naming, what_is_up
from faywright.drawing.svg import svg
from tests.drawing.joints_to_draw import (
    LOOSE_TONGUE,
    RUNNER,
    SNUG_19,
    HalfTongueToDraw,
    StripToDraw,
    half_tongue,
)
from tests.drawing.paper import box, break_lines, hatched, legible, strokes, surfaces
from tests.strategies import STEADY, lengths

PRINTABLE = 190.0


@st.composite
def face_grooves(draw: st.DrawFn) -> StripToDraw:
    across, deep = draw(lengths(40, 200)), draw(lengths(8, 30))
    strip = draw(lengths(3, min(16, across / 3)))
    entry = draw(lengths(2, deep / 2))
    return StripToDraw(
        across,
        deep,
        strip,
        entry + draw(lengths(3, 60)),
        wall=draw(lengths(3, across - strip - 4)),
        entry=entry,
        side=draw(lengths(-0.3, 0.6)),
        bottom=draw(lengths(-0.5, 2)),
    )


@st.composite
def loose_tongues(draw: st.DrawFn) -> StripToDraw:
    thickness = draw(lengths(6, 60))
    strip = draw(lengths(thickness / 5, thickness / 2))
    entry = draw(lengths(4, 20))
    return replace(
        LOOSE_TONGUE,
        across=thickness,
        strip=strip,
        strip_width=2 * entry,
        wall=(thickness - strip) / 2,
        entry=entry,
        side=draw(lengths(-0.2, min(0.3, strip / 8))),
        bottom=draw(lengths(0, 2)),
    )


def half_tongues() -> st.SearchStrategy[HalfTongueToDraw]:
    return st.builds(half_tongue, lengths(8, 60), lengths(1, 30))


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def edge_of_section(drawing: Drawing) -> float:
    """Left of this x nothing of the lens stands."""
    return min(box(text).bounds[0] for text in drawing.texts if text.text.startswith("nose"))


def test_a_part_within_reach_is_drawn_whole_and_has_no_break_line_at_its_end() -> None:
    drawing = replace(RUNNER, across=40.0, wall=16.0).drawing()
    right = edge_of_section(drawing)
    assert break_lines(drawing, right=right) == []
    corners = {point for run in surfaces(drawing, right=right) for point in run.coords}
    assert {(-13.0, 0.0), (-13.0, 40.0), (0.0, 0.0), (0.0, 40.0)} <= corners
    assert max(x for x, _ in corners) == pytest.approx(18.0 - 5.5)


def test_only_the_end_out_of_reach_is_broken_off() -> None:
    drawing = replace(RUNNER, across=40.0, wall=16.0, strip_width=80.0).drawing()
    (wave,) = break_lines(drawing, right=edge_of_section(drawing))
    assert wave.bounds[0] > 20
    assert wave.bounds[3] - wave.bounds[1] < 12


def test_a_drawer_side_is_broken_off_above_and_below_its_runner() -> None:
    drawing = RUNNER.drawing()
    waves = break_lines(drawing, right=edge_of_section(drawing))
    assert len(waves) == 2
    assert all(wave.bounds[0] < -13 and wave.bounds[2] > 0 for wave in waves)
    assert drawing.size[1] < 115
    for part in hatched(drawing):
        assert part.bounds[3] - part.bounds[1] < 60


def test_a_groove_near_one_edge_leaves_that_edge_in_the_drawing() -> None:
    drawing = replace(RUNNER, wall=10.0).drawing()
    (wave,) = break_lines(drawing, right=edge_of_section(drawing))
    assert wave.bounds[1] > 17.2
    assert "reference edge" in written(drawing)


def test_a_broken_height_is_told_in_words_and_has_no_arrows() -> None:
    told = written(RUNNER.drawing())
    assert "96.00 mm in all" in told
    assert "96.00 mm" not in told
    assert "13.00 mm" in told


def test_break_lines_keep_off_the_faces_that_meet() -> None:
    """Both faces of the drawer side run straight on to the break, on either side of the strip."""
    drawing = RUNNER.drawing()
    waves = break_lines(drawing, right=edge_of_section(drawing))
    low, high = (wave.centroid.y for wave in waves)
    for x in (-13.0, 0.0):
        runs = [run for run in surfaces(drawing, right=1.0) if x in {p[0] for p in run.coords}]
        ends = [y for run in runs for at, y in run.coords if at == x]
        assert min(ends) == pytest.approx(low, abs=1.0)
        assert max(ends) == pytest.approx(high, abs=1.0)


def test_a_drawer_side_says_which_edge_is_up_and_has_no_letter_a() -> None:
    drawing = RUNNER.drawing()
    told = written(drawing)
    assert "section across the joint, reference edge up, groove in face B" in told
    assert "to reference edge" in told
    assert "A" not in told
    assert "reference edge up, groove in face B. Gaps:" in drawing.description


def test_parts_that_lie_differently_are_told_apart() -> None:
    parts = [Naming("D2", "reference edge", "face B"), Naming("B01")]
    assert what_is_up(parts) == "reference edge of D2 and face A of B01 up, groove in face B"


def test_a_strip_alone_has_nothing_up() -> None:
    assert what_is_up([Naming("R1", None)]) == ""


def test_the_line_to_the_lens_runs_clear_of_a_strip() -> None:
    drawing = RUNNER.drawing()
    right = edge_of_section(drawing)
    (strip,) = [part for part in hatched(drawing) if 1 < part.bounds[2] < right]
    lines = [run for run in strokes(drawing) if run.bounds[0] < right - 1 < run.bounds[2]]
    assert lines
    assert not any(run.intersects(strip) for run in lines if run.bounds[0] < 0)


def test_a_loose_tongue_is_drawn_between_both_its_boards() -> None:
    drawing = LOOSE_TONGUE.drawing()
    right = edge_of_section(drawing)
    assert len([part for part in hatched(drawing) if part.bounds[2] < right]) == 3
    assert {"D2", "D3", "R1 6.00 mm"} <= set(written(drawing))
    assert written(drawing).count("A") == 2
    assert "section across the joint, faces A up" in written(drawing)


def test_boards_on_a_loose_tongue_stand_edge_to_edge_and_flush() -> None:
    drawing = LOOSE_TONGUE.drawing()
    right = edge_of_section(drawing)
    corners = {
        (round(x, 9), round(y, 9)) for run in surfaces(drawing, right=right) for x, y in run.coords
    }
    assert {(0.0, 0.0), (0.0, 19.0), (10.0, 5.85 + 0.15), (10.0, 12.3)} <= corners


def test_the_three_parts_of_a_loose_tongue_are_hatched_in_three_directions() -> None:
    text = svg(LOOSE_TONGUE.drawing())
    assert text == svg(LOOSE_TONGUE.drawing())
    leans = {
        mark.hatch.angle
        for mark in LOOSE_TONGUE.drawing().marks
        if hasattr(mark, "hatch") and mark.hatch is not None
    }
    assert len(leans) == 3


def test_a_half_tongue_is_drawn_where_it_lies() -> None:
    """Cheek A of a half tongue is face A itself; the part stands off by its groove's wall."""
    joint = HalfTongueToDraw(SNUG_19.grooved, 6.35, 6.3, 6.0, 10.0)
    drawing = joint.drawing()
    corners = {(round(x, 9), round(y, 9)) for run in surfaces(drawing) for x, y in run.coords}
    assert {(-6.0, 6.53), (-6.0, 12.47)} <= corners
    assert written(drawing).count("0.18 mm") == 2


def test_a_part_that_stands_off_its_partner_keeps_its_faces_up_to_its_break() -> None:
    """Board and half tongue stand at different heights: each is broken off by itself."""
    drawing = half_tongue(40.0, 20.0).drawing()
    right = edge_of_section(drawing)
    ends = [run.bounds for run in surfaces(drawing, right=right)]
    grooved, tongued = min(e[0] for e in ends), max(e[2] for e in ends)
    waves = sorted(break_lines(drawing, right=right), key=lambda run: run.bounds[0])
    assert grooved == pytest.approx(waves[0].centroid.x, abs=2.0)
    assert tongued == pytest.approx(waves[1].centroid.x, abs=2.0)
    across = [part.bounds[3] - part.bounds[1] for part in hatched(drawing)][:2]
    assert across[0] == pytest.approx(40.0)


def test_interference_of_a_strip_is_written_out() -> None:
    assert written(replace(RUNNER, side=-0.1).drawing()).count("interference") == 2


@STEADY
@given(face_grooves())
def test_a_drawer_side_of_any_size_is_legible_and_fits_a_sheet(joint: StripToDraw) -> None:
    drawing = joint.drawing()
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= PRINTABLE + 1e-6
    for part in hatched(drawing):
        assert part.bounds[3] - part.bounds[1] < 2 * 28 + 16 + 3


@STEADY
@given(loose_tongues())
def test_a_loose_tongue_of_any_size_is_legible_and_fits_a_sheet(joint: StripToDraw) -> None:
    drawing = joint.drawing()
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= PRINTABLE + 1e-6


@STEADY
@given(half_tongues())
def test_a_half_tongue_of_any_size_is_legible_and_fits_a_sheet(joint: HalfTongueToDraw) -> None:
    drawing = joint.drawing()
    assert legible(drawing)
    assert drawing.size[0] - 12.0 <= PRINTABLE + 1e-6
