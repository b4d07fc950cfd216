from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from faywright.drawing.along_feed import along_feed
from faywright.drawing.inking import HEAVY, WASTE
from faywright.drawing.model import Drawing, Outline, Polyline, Text
from faywright.drawing.svg import svg
from faywright.joints import grooves, tongues
from faywright.lengths import LengthStyle, write_length
from faywright.section import Posture
from faywright.shop import Gauge
from faywright.shop.inventory import Reference
from faywright.shop.machines import Fence, FenceSide, Rotation
from tests.drawing.paper import legible
from tests.drawing.setups_to_draw import (
    PILES,
    REFERENCES,
    Pile,
    SetupToDraw,
    boards,
    drawer_side,
    machine,
    setups,
    to_draw,
    with_posture,
    with_v,
)
from tests.joints.builders import (
    INSTRUMENTS,
    at,
    cut_by,
    groove_by,
    joint,
    slot,
    solved,
    tongue_by,
)
from tests.strategies import STEADY

TONGUE = to_draw(boards())[-1]
GROOVE = to_draw(boards())[0]
BOTH = to_draw(boards("both faces"))[0]
WING = to_draw(boards("slot cutter, two heights"))[1]
RUNNER = to_draw(drawer_side())[-1]
KINDS = {"tongue": TONGUE, "groove": GROOVE, "both": BOTH, "wing": WING, "runner": RUNNER}


@pytest.fixture(params=KINDS)
def drawn(request: pytest.FixtureRequest) -> SetupToDraw:
    return KINDS[request.param]


def told(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def named(drawing: Drawing, words: str) -> Text:
    (text,) = [text for text in drawing.texts if text.text == words]
    return text


def accent(drawing: Drawing) -> Text:
    (text,) = [text for text in drawing.texts if text.emphasis == "accent"]
    return text


def out_of(drawing: Drawing) -> int:
    """Which way along x leads out from the fence, from where the fence is named."""
    return -1 if named(drawing, "fence").at[0] > 0 else 1


def heads(drawing: Drawing) -> set[tuple[float, float]]:
    """Where arrow heads point."""
    solids = [mark for mark in drawing.marks if isinstance(mark, Outline) and mark.solid]
    return {
        (round(mark.points[0][0], 6), round(mark.points[0][1], 6))
        for mark in solids
        if len(mark.points) == 3
    }


def shapes(drawing: Drawing, angle: float) -> list[shapely.Polygon]:
    """What is hatched at an angle, the swatch of the legend left out."""
    found = [
        shapely.Polygon(mark.points)
        for mark in drawing.marks
        if isinstance(mark, Outline) and mark.hatch is not None and mark.hatch.angle == angle
    ]
    return found[:-1]


def heavy_lines(drawing: Drawing) -> list[shapely.Polygon]:
    """Fresh walls: solid strips as wide as no line is."""
    solids = [mark for mark in drawing.marks if isinstance(mark, Outline) and mark.solid]
    return [shapely.Polygon(mark.points) for mark in solids if len(mark.points) == 4]


def lines(drawing: Drawing, weight: str) -> list[shapely.LineString]:
    return [
        shapely.LineString(mark.points)
        for mark in drawing.marks
        if isinstance(mark, Polyline) and mark.weight == weight
    ]


def test_the_bold_number_is_the_one_that_decides_the_fit(drawn: SetupToDraw) -> None:
    drawing = drawn.along()
    setup = drawn.setup
    decides = setup.fence if setup.height.start is None else setup.height
    assert accent(drawing).text == f"{decides.true:.2f} mm"


def test_a_bold_height_spans_what_the_kernel_cuts() -> None:
    drawing = TONGUE.along()
    solution = boards()
    group = solution.tongue_groups[0]
    section = cut_by(solution.tongue, dict(group.settings), 19.02)
    cheek, shoulder = at(section, "face-A cheek", 0), at(section, "face-A shoulder", 1)
    assert accent(drawing).text == f"{cheek:.2f} mm"
    level = -drawing.scale * cheek
    ends = {head for head in heads(drawing) if head[1] == pytest.approx(level, abs=1e-6)}
    (end,) = ends
    assert (end[0], 0.0) in heads(drawing)
    assert any(
        head[0] == pytest.approx(out_of(drawing) * drawing.scale * shoulder, abs=1e-6)
        for head in heads(drawing)
    )


@pytest.mark.parametrize("reference", REFERENCES)
def test_fence_dimensions_span_what_they_say(drawn: SetupToDraw, reference: Reference) -> None:
    drawing = drawn.along(reference)
    places = drawn.setup.places
    for each in REFERENCES:
        x = out_of(drawing) * drawing.scale * places.to(each)
        levels = {y for at_x, y in heads(drawing) if at_x == pytest.approx(x, abs=1e-5)}
        assert any((0.0, level) in heads(drawing) for level in levels if level > 0)


def test_a_bold_fence_spans_to_the_wall_the_kernel_cuts() -> None:
    solution = boards("both faces")
    section = cut_by(solution.groove, dict(solution.groove_groups[0].settings), 19.06)
    drawing = to_draw(solution)[3].along()
    far = at(section, "face-B wall", 0)
    assert accent(drawing).text == f"{far:.2f} mm"
    x = round(out_of(drawing) * drawing.scale * far, 6)
    assert [y for at_x, y in heads(drawing) if at_x == pytest.approx(x, abs=1e-6)]


@pytest.mark.parametrize("reference", REFERENCES)
def test_the_makers_own_edge_is_the_large_one(reference: Reference) -> None:
    texts = GROOVE.along(reference).texts
    (words,) = [text for text in texts if text.text.startswith("fence to")]
    assert words.text == f"fence to {reference}"
    value = f"{GROOVE.setup.places.to(reference):.2f} mm"
    assert accent(GROOVE.along(reference)).text == value
    assert sum(text.text.endswith(each) for text in texts for each in REFERENCES) == 3


def test_a_wing_is_measured_to_its_lower_edge() -> None:
    setup = next(
        each
        for each in to_draw(boards(tongue_edge="opposite edge"))
        if each.setup.measured_to == "cutter top"
    )
    assert "table to cutter top" in told(setup.along())
    assert WING.setup.measured_to in " ".join(told(WING.along()))


def test_the_cutter_stands_as_high_and_is_as_wide_as_it_is(drawn: SetupToDraw) -> None:
    drawing = drawn.along()
    scale, setup = drawing.scale, drawn.setup
    run = setup.report.station.run
    cutter = [
        line
        for line in [*lines(drawing, "hidden"), *lines(drawing, "frame")]
        if line.bounds[1] == pytest.approx(-scale * setup.cutter_top)
    ]
    assert cutter
    left, _, right, _ = shapely.union_all(
        [*cutter, *(x for x in lines(drawing, "hidden") if x.bounds[3] > 0)]
    ).bounds
    out = out_of(drawing)
    ends = sorted(out * scale * place for place in (setup.places.near_edge, setup.places.far_edge))
    assert (left, right) == pytest.approx(ends, abs=1e-3)
    assert right - left == pytest.approx(scale * run.cutter.swept_diameter, abs=1e-3)


def test_what_is_behind_the_fence_or_below_the_table_is_dashed(drawn: SetupToDraw) -> None:
    drawing = drawn.along()
    out = out_of(drawing)
    hidden = shapely.union_all(lines(drawing, "hidden"))
    ends = sorted((out * 1e-3, out * 500.0))
    open_air = shapely.box(ends[0], -500, ends[1], -1e-3)
    assert not hidden.is_empty
    assert shapely.intersection(hidden, open_air).length < 1e-6
    axis = out * drawing.scale * drawn.setup.places.axis
    dashes = [x for x in lines(drawing, "dimension") if x.bounds[0] == x.bounds[2] == axis]
    assert len(dashes) > 4


def test_waste_is_as_large_as_what_the_pass_takes(drawn: SetupToDraw) -> None:
    drawing = drawn.along()
    taken = sum(shape.area for shape in shapes(drawing, WASTE[0].angle))
    area = drawn.setup.report.results[0].area
    assert taken / drawing.scale**2 == pytest.approx(area, rel=1e-9)
    assert len(shapes(drawing, WASTE[1].angle)) == len(shapes(drawing, WASTE[0].angle))


def test_wood_and_waste_do_not_overlap(drawn: SetupToDraw) -> None:
    drawing = drawn.along()
    wood = shapely.union_all(shapes(drawing, 45.0))
    waste = shapely.union_all(shapes(drawing, WASTE[0].angle))
    assert shapely.intersection(wood, waste).area < 1e-6
    assert wood.area > waste.area


def test_fresh_walls_are_the_heaviest_lines_and_named() -> None:
    drawing = GROOVE.along()
    walls = sorted(wall.centroid.x for wall in heavy_lines(drawing))
    places = GROOVE.setup.places
    expected = sorted(-drawing.scale * y for y in (places.near_edge, places.far_edge))
    assert walls == pytest.approx(expected)
    for wall in heavy_lines(drawing):
        assert wall.bounds[2] - wall.bounds[0] == pytest.approx(HEAVY)
    tip = (-drawing.scale * places.far_edge, -drawing.scale * GROOVE.setup.cutter_top / 2)
    assert any(math.dist(tip, head) < 1e-3 for head in heads(drawing))
    assert "fresh wall" in told(drawing)


@pytest.mark.parametrize(
    ("rotation", "fence_side", "right"),
    [
        ("anticlockwise", "behind the cutter", True),
        ("clockwise", "behind the cutter", False),
        ("anticlockwise", "before the cutter", True),
        ("clockwise", "before the cutter", False),
    ],
)
def test_who_looks_along_the_feed_has_the_fence_on_the_side_it_is(
    rotation: Rotation, fence_side: FenceSide, right: bool
) -> None:
    """The work meets the teeth on the outer side, so the way the spindle turns decides."""
    drawing = to_draw(boards(), machine(rotation, fence_side))[-1].along()
    assert (named(drawing, "fence").at[0] > 0) is right
    wood = shapely.union_all(shapes(drawing, 45.0)).bounds
    assert (wood[2] <= 1e-6) if right else (wood[0] >= -1e-6)


@pytest.mark.parametrize(
    ("drawn_setup", "face"),
    [
        (TONGUE, "foot"),
        (GROOVE, "fence"),
        (RUNNER, "top"),
        (to_draw(drawer_side("face A"))[-1], "foot"),
    ],
)
def test_the_letter_a_is_on_face_a(drawn_setup: SetupToDraw, face: str) -> None:
    drawing = drawn_setup.along()
    letter = named(drawing, "A")
    ticks = [
        line
        for line in lines(drawing, "frame")
        if line.length < 3 and line.distance(shapely.Polygon(letter.corners)) < 1.0
    ]
    (tick,) = ticks
    x, y = tick.coords[1]
    place = {"foot": (y, 0.0), "fence": (x, 0.0), "top": (y, -drawing.scale * 13.0)}[face]
    assert place[0] == pytest.approx(place[1], abs=1e-6)


@pytest.mark.parametrize(
    ("posture", "lies"),
    [
        (Posture.ON_EDGE_A, ("against the fence", 0.0)),
        (Posture.ON_EDGE_B, ("away from the fence", 19.02)),
        (Posture.FLAT_A, ("down", 0.0)),
        (Posture.FLAT_B, ("up", 19.02)),
    ],
)
def test_face_a_is_marked_whichever_way_the_board_lies(
    posture: Posture, lies: tuple[str, float]
) -> None:
    setup = with_posture(TONGUE, posture)
    assert setup.at_work.face_a == lies
    drawing = setup.along()
    letter = shapely.Polygon(named(drawing, "A").corners).centroid
    off_face = -letter.y if posture.flat else out_of(drawing) * letter.x
    depth = abs(off_face - drawing.scale * lies[1])
    assert 2.0 < depth < 8.0
    assert legible(drawing)


def test_the_thickness_told_is_that_of_the_board_not_of_the_drawn_side() -> None:
    assert any("13.00 mm thick" in words for words in told(RUNNER.along()))
    assert any("19.06 mm thick" in words for words in told(GROOVE.along()))


def test_a_v_has_its_flank_as_the_fresh_wall_and_its_point_as_the_height() -> None:
    drawing = with_v().along()
    scale = drawing.scale
    (flank,) = heavy_lines(drawing)
    left, top, right, foot = flank.bounds
    assert right - left == pytest.approx(3.0 * scale, abs=HEAVY)
    assert foot - top == pytest.approx(3.0 * scale, abs=HEAVY)
    point = shapely.Point(out_of(drawing) * scale * -0.5, -3.5 * scale)
    level = [x for x in lines(drawing, "dimension") if x.bounds[1] == x.bounds[3] == point.y]
    assert any(x.distance(point) == pytest.approx(0.8, abs=0.01) for x in level)


def test_both_faces_in_turn_are_told_in_words() -> None:
    assert "then turn end for end: face B against the fence" in told(BOTH.along())
    assert "then turn end for end: face B on the table" in told(TONGUE.along())
    assert not any("then turn" in words for words in told(GROOVE.along()))


def test_the_scale_is_stated_and_the_largest_that_fits() -> None:
    for pile in PILES:
        for drawn_setup in to_draw(pile.solution()):
            drawing = drawn_setup.along()
            ratio = {2.0: "2:1", 1.0: "1:1", 0.5: "1:2"}[drawing.scale]
            assert told(drawing)[0].endswith(f"seen along the feed, {ratio}")
            assert drawing.size[0] <= 142.001
            assert drawing.size[1] <= 106.001
    assert GROOVE.along().scale == 2.0


def test_tall_work_is_broken_off_and_short_work_is_not() -> None:
    wood = shapely.union_all(shapes(GROOVE.along(), 45.0)).bounds
    assert wood[3] - wood[1] < 60
    assert wood[2] - wood[0] == pytest.approx(2 * 19.06, abs=0.01)
    runner = shapely.union_all(shapes(RUNNER.along(), 45.0)).bounds
    assert runner[3] - runner[1] == pytest.approx(13.0 * RUNNER.along().scale, abs=1e-6)


def test_a_thick_board_grooved_in_its_face_is_shown_as_thick_as_it_is() -> None:
    task = joint([52.0], [14.0], strips=True, groove_edge="face B", width=180.0, groove_depth=9.0)
    made = groove_by(task, grooves.FLAT, slot(task.target.width, diameter=80, reach=150))
    solution = solved(task, made, tongue_by(task, made, tongues.STRIP))
    drawn_setup = to_draw(solution)[-1]
    assert drawn_setup.at_work.lying == "reference edge on the table, face B against the fence"
    drawing = drawn_setup.along()
    wood = shapely.union_all(shapes(drawing, 45.0)).bounds
    assert wood[2] - wood[0] == pytest.approx(52.0 * drawing.scale, abs=1e-6)
    assert "A" in told(drawing)


def test_a_fence_lower_than_the_cutter_is_named_beside_it() -> None:
    low = replace(machine("anticlockwise", "behind the cutter"), fence=Fence(height=8.0))
    drawing = to_draw(boards("slot cutter, two heights"), low)[1].along()
    name = named(drawing, "fence")
    assert legible(drawing)
    assert out_of(drawing) * name.at[0] < -14.0


def test_a_gauge_with_a_zero_error_is_told_beside_the_lengths() -> None:
    zero = Gauge(mark="z", uses=("height",), resolution=0.01, repeatability=0.02, zero_error=0.05)
    off = type(INSTRUMENTS)(height=zero, fence=zero, calipers=INSTRUMENTS.calipers)
    setup = to_draw(boards(instruments=off))[-1]
    shown = [words for words in told(setup.along()) if words.startswith("the gauge shows")]
    heights = (setup.setup.height.shows, setup.setup.fence.shows)
    assert sorted(shown) == sorted(f"the gauge shows {value:.2f} mm" for value in heights)
    assert not any("gauge" in words for words in told(TONGUE.along()))


def test_a_pass_that_takes_nothing_says_so() -> None:
    report = GROOVE.setup.report
    (result,) = report.results
    idle = replace(result, run=replace(result.run, height=-1.0), fresh="nothing", area=0.0)
    setup = replace(GROOVE.setup, report=replace(report, results=(idle,)))
    drawing = replace(GROOVE, setup=setup).along()
    assert "this first pass takes nothing of this board" in told(drawing)
    assert shapes(drawing, WASTE[0].angle) == []
    assert not any("takes nothing" in words for words in told(GROOVE.along()))


def test_lengths_in_fractions_of_an_inch_find_room() -> None:
    style = LengthStyle(style="fraction inch", denominator=64)
    for one in KINDS.values():
        drawing = along_feed(
            one.setup, one.work, one.machine, write=partial(write_length, style=style)
        )
        assert legible(drawing)
        assert " in" in accent(drawing).text


@pytest.mark.parametrize("pile", PILES, ids=lambda pile: f"{pile.thickness:g}")
def test_thin_and_thick_boards_are_drawn_legibly(pile: Pile) -> None:
    for setup in to_draw(pile.solution()):
        drawing = setup.along()
        assert legible(drawing)
        assert {"fresh wall", "fence", "table"} <= set(told(drawing))
        assert {"A", "face A"} & set(told(drawing))


@STEADY
@given(setups(), st.sampled_from(REFERENCES))
def test_no_lettering_runs_over_anything(setup: SetupToDraw, reference: Reference) -> None:
    drawing = setup.along(reference)
    assert legible(drawing)
    left, top = drawing.origin
    sheet = shapely.box(left, top, left + drawing.size[0], top + drawing.size[1])
    assert all(sheet.covers(shapely.box(*mark.bounds)) for mark in drawing.marks)


@STEADY
@given(setups())
def test_every_drawing_has_one_bold_number_a_face_and_the_waste(setup: SetupToDraw) -> None:
    drawing = setup.along()
    assert accent(drawing)
    taken = sum(shape.area for shape in shapes(drawing, WASTE[0].angle)) / drawing.scale**2
    assert np.isclose(taken, setup.setup.report.results[0].area, atol=1e-4)
    if setup.at_work.face_a is not None:
        assert {"A", "face A"} & set(told(drawing))


def test_the_same_setup_is_always_the_same_drawing(drawn: SetupToDraw) -> None:
    assert svg(drawn.along()) == svg(drawn.along())
