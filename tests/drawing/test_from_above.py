from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given

from faywright.drawing.model import Drawing, Outline, Polyline
from faywright.drawing.svg import svg
from faywright.section import Posture
from faywright.shop.machines import FenceSide, Rotation
from tests.drawing.paper import box, legible
from tests.drawing.setups_to_draw import (
    FENCE_SIDES,
    PILES,
    ROTATIONS,
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
from tests.strategies import STEADY

Point = tuple[float, float]

TURNS = [(rotation, side) for rotation in ROTATIONS for side in FENCE_SIDES]
KINDS = {
    "tongue": to_draw(boards())[-1],
    "groove": to_draw(boards())[0],
    "runner": to_draw(drawer_side())[-1],
    "wing": to_draw(boards("slot cutter, two heights"))[1],
}


@pytest.fixture(params=KINDS)
def drawn(request: pytest.FixtureRequest) -> SetupToDraw:
    return KINDS[request.param]


@pytest.fixture(params=TURNS, ids=", ".join)
def turned(request: pytest.FixtureRequest) -> SetupToDraw:
    rotation, side = request.param
    return to_draw(boards(), machine(rotation, side))[-1]


def told(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def place(drawing: Drawing, words: str) -> Point:
    (text,) = [text for text in drawing.texts if text.text == words]
    return box(text).centroid.x, box(text).centroid.y


def feed_arrow(drawing: Drawing) -> tuple[Point, Point]:
    """Tail and tip of the long bold arrow."""
    solids = [mark for mark in drawing.marks if isinstance(mark, Outline) and mark.solid]
    longest = max(solids, key=lambda mark: mark.bounds[2] - mark.bounds[0])
    tail, tip = longest.points[0], longest.points[3]
    return (tail[0], tip[1]), tip


def turning(drawing: Drawing) -> tuple[list[Point], Point]:
    """The arc of the rotation arrow, in the direction it points, and where its head is."""
    arcs = [
        mark.points
        for mark in drawing.marks
        if isinstance(mark, Polyline) and mark.weight == "outline" and len(mark.points) > 20
    ]
    (arc,) = arcs
    heads = [
        mark.points[3]
        for mark in drawing.marks
        if isinstance(mark, Outline) and mark.solid and len(mark.points) == 7
    ]
    return list(arc), min(
        heads, key=lambda tip: abs(tip[0] - arc[-1][0]) + abs(tip[1] - arc[-1][1])
    )


def clockwise_on_paper(arc: list[Point]) -> bool:
    """y runs down, so a positive area between arc and chord is clockwise."""
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(arc, [*arc[1:], arc[0]], strict=True))
    return area > 0


def out_of(drawing: Drawing) -> int:
    """+1 where the work lies below the fence on paper."""
    return 1 if place(drawing, "featherboard")[1] > 0 else -1


def wall(drawing: Drawing) -> shapely.Polygon:
    """The heavy line of the fresh wall."""
    strips = [
        shapely.Polygon(mark.points)
        for mark in drawing.marks
        if isinstance(mark, Outline) and mark.solid and len(mark.points) == 4
    ]
    (strip,) = strips
    return strip


def test_the_rotation_arrow_turns_as_the_spindle(turned: SetupToDraw) -> None:
    drawing = turned.above()
    arc, head = turning(drawing)
    assert clockwise_on_paper(arc) is (turned.machine.rotation == "clockwise")
    centre = (0.0, out_of(drawing) * drawing.scale * turned.setup.places.axis)
    assert clockwise_on_paper([centre, arc[-1], head]) is clockwise_on_paper(arc)
    assert f"the cutter turns {turned.machine.rotation}" in " ".join(told(drawing))


def test_the_work_goes_against_the_teeth_on_its_outer_side(turned: SetupToDraw) -> None:
    """Whatever the machine: where the fresh wall is left, teeth and work move oppositely."""
    drawing = turned.above()
    arc, _ = turning(drawing)
    (tail_x, _), (tip_x, _) = feed_arrow(drawing)
    turn = 1 if clockwise_on_paper(arc) else -1
    teeth = -turn * out_of(drawing)  # along x, at the point of the cutter furthest from the fence
    assert (tip_x - tail_x) * teeth < 0
    expected = "right to left" if tip_x < tail_x else "left to right"
    assert f"feed {expected}" in told(drawing)
    assert turned.setup.passes[0].feed == expected


@pytest.mark.parametrize(("rotation", "side"), TURNS)
def test_the_fence_is_on_its_side_and_the_operator_at_the_foot(
    rotation: Rotation, side: FenceSide
) -> None:
    drawing = to_draw(boards(), machine(rotation, side))[-1].above()
    fence = place(drawing, "fence, infeed")[1]
    work = place(drawing, "featherboard")[1]
    you = place(drawing, "edge of the table; you stand here")[1]
    assert (fence < work) is (side == "behind the cutter")
    assert you == max(box(text).centroid.y for text in drawing.texts)


def test_everything_stands_in_the_order_the_work_meets_it(turned: SetupToDraw) -> None:
    drawing = turned.above()
    (tail_x, _), (tip_x, _) = feed_arrow(drawing)
    way = 1 if tip_x > tail_x else -1
    names = ("push block", "fence, infeed", "featherboard", "fresh wall", "fence, outfeed")
    met = [way * place(drawing, name)[0] for name in names]
    assert met == sorted(met)
    assert met[2] < 0 < met[3]


def test_hands_stay_out_of_the_zone(drawn: SetupToDraw) -> None:
    drawing = drawn.above()
    hands = [box(text) for text in drawing.texts if text.text == "hand"]
    arrows = [
        mark.points[0]
        for mark in drawing.marks
        if isinstance(mark, Outline) and mark.solid and len(mark.points) == 3
    ]
    level = min(y for _, y in arrows)
    low, high = sorted(x for x, y in arrows if y == level)
    cutter = drawing.scale * drawn.setup.report.station.radius
    assert low < -cutter
    assert high > cutter
    assert sorted(hand.bounds[0] > high or hand.bounds[2] < low for hand in hands) == [True, True]
    assert "keep hands out of here, 100 mm clear of the cutter" in told(drawing)


def test_the_fresh_wall_is_to_scale_and_behind_the_cutter(turned: SetupToDraw) -> None:
    drawing = turned.above()
    strip = wall(drawing)
    far = drawing.scale * turned.setup.places.far_edge
    assert strip.centroid.y == pytest.approx(out_of(drawing) * far)
    (tail_x, _), (tip_x, _) = feed_arrow(drawing)
    assert strip.centroid.x * (tip_x - tail_x) > 0
    assert min(abs(x) for x, _ in strip.exterior.coords) == pytest.approx(0.0, abs=1e-9)


def test_the_wall_of_a_v_is_drawn_where_it_meets_the_face() -> None:
    drawing = with_v().above()
    assert wall(drawing).centroid.y == pytest.approx(drawing.scale * 3.0, abs=1e-3)


@pytest.mark.parametrize(("posture", "near"), [(Posture.ON_EDGE_A, True), (Posture.FLAT_B, False)])
def test_the_letter_a_is_where_face_a_is_seen(posture: Posture, near: bool) -> None:
    drawing = with_posture(KINDS["tongue"], posture).above()
    assert (0 < place(drawing, "A")[1] < 4.0) is near
    down = with_posture(KINDS["tongue"], Posture.FLAT_A).above()
    assert "A" not in told(down)


def test_work_on_edge_is_shown_in_its_whole_thickness() -> None:
    drawing = with_posture(KINDS["tongue"], Posture.ON_EDGE_A).above()
    outlines = [mark for mark in drawing.marks if isinstance(mark, Polyline)]
    ends = [mark.bounds[3] for mark in outlines if mark.weight == "outline"]
    assert max(ends) == pytest.approx(drawing.scale * 19.02)


def test_the_cutter_is_to_scale_and_dashed_under_the_work(drawn: SetupToDraw) -> None:
    drawing = drawn.above()
    station = drawn.setup.report.station
    scale = drawing.scale
    centre = shapely.Point(0.0, out_of(drawing) * scale * station.axis)
    rim = [
        (mark, shapely.LineString(mark.points))
        for mark in drawing.marks
        if isinstance(mark, Polyline) and mark.weight in ("hidden", "frame")
    ]
    rim = [
        (mark, run)
        for mark, run in rim
        if all(
            shapely.Point(p).distance(centre) == pytest.approx(scale * station.radius, rel=0.01)
            for p in run.coords
        )
    ]
    for mark, run in rim:
        under = out_of(drawing) * run.centroid.y > 0
        assert (mark.weight == "hidden") is under
    assert sum(run.length for _, run in rim) == pytest.approx(
        2 * math.pi * scale * station.radius, rel=0.01
    )


def test_end_grain_is_backed_up_and_long_grain_is_pushed() -> None:
    end = to_draw(boards(groove_edge="head end", tongue_edge="head end"))[-1].above()
    along = KINDS["tongue"].above()
    assert "backing block" in told(end)
    assert "push block" not in told(end)
    assert "push block" in told(along)
    assert "backing block" not in told(along)


def test_both_faces_in_turn_are_told_in_words() -> None:
    assert "then turn end for end: face B on the table" in told(KINDS["tongue"].above())
    assert not any("then turn" in words for words in told(KINDS["groove"].above()))


def test_the_scale_is_said_to_hold_across_the_fence_only(drawn: SetupToDraw) -> None:
    drawing = drawn.above()
    ratio = {2.0: "2:1", 1.0: "1:1", 0.5: "1:2"}[drawing.scale]
    assert f"{ratio} across the fence, not to scale along it" in " ".join(told(drawing))


@pytest.mark.parametrize("pile", PILES, ids=lambda pile: f"{pile.thickness:g}")
def test_thin_and_thick_boards_are_drawn_legibly(pile: Pile) -> None:
    for setup in to_draw(pile.solution()):
        drawing = setup.above()
        assert legible(drawing)
        assert drawing.size[0] <= 180
        assert drawing.size[1] <= 120


@STEADY
@given(setups())
def test_no_lettering_runs_over_anything(setup: SetupToDraw) -> None:
    drawing = setup.above()
    assert legible(drawing)
    left, top = drawing.origin
    sheet = shapely.box(left, top, left + drawing.size[0], top + drawing.size[1])
    assert all(sheet.covers(shapely.box(*mark.bounds)) for mark in drawing.marks)


def test_the_same_setup_is_always_the_same_drawing(drawn: SetupToDraw) -> None:
    assert svg(drawn.above()) == svg(drawn.above())
