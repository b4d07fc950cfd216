from __future__ import annotations

from math import radians, sqrt, tan
from typing import Literal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import InputError
from faywright.section import (
    Meeting,
    Pass,
    Placing,
    Posture,
    Sections,
    core_profile,
    cut,
    cut_boards,
    dovetail_profile,
    gaps,
    narrowest_gap,
    overlap_area,
    place,
    seats,
)
from faywright.section.profile import CHORD_TOLERANCE
from tests.section.cuts import (
    MEETINGS,
    SHOULDERS,
    WIDTH,
    FaceATongue,
    exactly,
    groove_in_one_pass,
    groove_pass,
    mated,
    plain,
    seated,
    tongue_passes_flat,
)
from tests.strategies import STEADY, Mates, lengths, mates

CHEEK_A, CHEEK_B, BOTTOM, STEP = MEETINGS


def grooved_edge(sizes: Mates) -> Sections:
    far = sizes.wall + sizes.width
    return groove_in_one_pass(sizes.grooved_thickness, sizes.width, far, sizes.depth)


def tongued_edge(sizes: Mates) -> Sections:
    wanted = FaceATongue(sizes.cheek, sizes.tongue, sizes.length)
    above = sizes.tongued_thickness - sizes.cheek - sizes.tongue
    return cut(sizes.tongued_thickness, WIDTH, wanted.passes(above + 2.0))


def overlap(sizes: Mates) -> float:
    """What of the tongue lies outside the groove, by arithmetic. [mm2]"""
    high = min(sizes.wall + sizes.width, sizes.cheek + sizes.tongue)
    inside = max(0.0, high - max(sizes.wall, sizes.cheek)) * min(sizes.depth, sizes.length)
    return sizes.tongue * sizes.length - inside


@given(mates())
@STEADY
def test_gaps_are_the_differences_of_what_was_cut(sizes: Mates) -> None:
    found = mated(grooved_edge(sizes), tongued_edge(sizes))
    far_wall, far_cheek = sizes.wall + sizes.width, sizes.cheek + sizes.tongue
    assert found["cheek A"] == exactly(sizes.cheek - sizes.wall)
    assert found["cheek B"] == exactly(far_wall - far_cheek)
    assert found["cheek A"] + found["cheek B"] == exactly(sizes.width - sizes.tongue)
    assert found["bottom"] == exactly(sizes.depth - sizes.length)
    assert found["step on face B"] == exactly(sizes.grooved_thickness - sizes.tongued_thickness)


@given(mates())
@STEADY
def test_parts_overlap_by_what_of_the_tongue_is_outside_the_groove(sizes: Mates) -> None:
    tongued = tongued_edge(sizes)
    (area,) = overlap_area(grooved_edge(sizes), tongued, seated(tongued, *SHOULDERS))
    assert area == exactly(overlap(sizes))


@given(mates())
@STEADY
def test_parts_overlap_just_when_a_gap_is_below_nought(sizes: Mates) -> None:
    grooved, tongued = grooved_edge(sizes), tongued_edge(sizes)
    found = mated(grooved, tongued)
    tightest = min(found[name] for name in ("cheek A", "cheek B", "bottom"))
    (area,) = overlap_area(grooved, tongued, seated(tongued, *SHOULDERS))
    assert (area > 1e-6) == (tightest < -1e-6)


@given(mates(), lengths(-0.5, 0.5))
@STEADY
def test_lifting_the_tongue_gives_one_cheek_what_it_takes_from_the_other(
    sizes: Mates, lift: float
) -> None:
    grooved, tongued = grooved_edge(sizes), tongued_edge(sizes)
    flush = seated(tongued, *SHOULDERS)
    lifted = Placing(flush.first, flush.second, flush.seat, np.array([lift]))
    before, after = (gaps(grooved, tongued, MEETINGS, way) for way in (flush, lifted))
    changes = {name: float((after[name] - before[name])[0]) for name in before}
    assert changes == pytest.approx(
        {"cheek A": lift, "cheek B": -lift, "bottom": 0, "step on face B": -lift}, abs=1e-9
    )


@given(mates(), lengths(0, 3))
@STEADY
def test_an_open_shoulder_adds_to_the_bottom(sizes: Mates, open_by: float) -> None:
    grooved, tongued = grooved_edge(sizes), tongued_edge(sizes)
    closed = seated(tongued, *SHOULDERS)
    apart = Placing(closed.first, closed.second, closed.seat - open_by, closed.lift)
    (before,), (after,) = (
        gaps(grooved, tongued, [BOTTOM], way)["bottom"] for way in (closed, apart)
    )
    assert after - before == exactly(open_by)


@pytest.mark.parametrize(("near", "far"), [(8.0, 9.0), (9.0, 8.0), (8.0, 8.0)])
def test_the_shoulder_nearest_the_nose_closes_first(near: float, far: float) -> None:
    low, _ = tongue_passes_flat(20.0, 6.0, near)
    _, high = tongue_passes_flat(20.0, 6.0, far)
    tongued = cut(20.0, WIDTH, [low, high])
    (seat,) = seats(tongued, SHOULDERS)
    assert seat == exactly(8.0)
    grooved = groove_in_one_pass(20.0, 8.0, 14.0, 10.0)
    shoulder_b = Meeting("shoulder B", "edge", "shoulder B", axis=1, sign=-1)
    (gap,) = gaps(grooved, tongued, [shoulder_b], seated(tongued, *SHOULDERS))["shoulder B"]
    assert gap == exactly(far - 8.0)


def test_seats_follow_each_board() -> None:
    widths = np.array([90.0, 80.0, 70.0])
    pile = cut_boards(np.full(3, 20.0), widths, tongue_passes_flat(20.0, 6.0, 8.0))
    assert seats(pile, SHOULDERS).tolist() == [8.0] * 3
    assert seats(pile, ["back"]).tolist() == widths.tolist()


def test_a_loose_strip_is_seated_at_its_own_edge() -> None:
    strips = cut_boards(np.array([5.9, 6.0]), np.array([20.0, 20.0]), [])
    assert seats(strips, ()).tolist() == [0.0, 0.0]


def test_every_pair_of_a_pile_is_as_that_pair_alone() -> None:
    thicknesses = {"grooved": [20.0, 20.4], "tongued": [19.5, 20.0, 20.8]}
    groove = [groove_pass(8.0, 14.0, 9.0, Posture.ON_EDGE_B)]
    tongue = tongue_passes_flat(20.0, 6.0, 8.5)
    grooved, tongued = (
        cut_boards(np.array(pile), np.full(len(pile), WIDTH), passes)
        for pile, passes in zip(thicknesses.values(), (groove, tongue), strict=True)
    )
    first, second = (index.ravel() for index in np.indices((2, 3)))
    placing = Placing(first, second, seats(tongued, SHOULDERS)[second], np.linspace(0, 0.5, 6))
    together = gaps(grooved, tongued, MEETINGS, placing)
    areas = overlap_area(grooved, tongued, placing)
    assert areas.max() > 5
    for k in range(6):
        fixed = cut(thicknesses["grooved"][first[k]], WIDTH, groove)
        moved = cut(thicknesses["tongued"][second[k]], WIDTH, tongue)
        closed = seated(moved, *SHOULDERS)
        alone = Placing(closed.first, closed.second, closed.seat, placing.lift[k : k + 1])
        assert overlap_area(fixed, moved, alone)[0] == exactly(areas[k])
        for meeting in MEETINGS:
            value = gaps(fixed, moved, [meeting], alone)[meeting.gap][0]
            assert together[meeting.gap][k] == exactly(value)
            assert narrowest_gap(grooved, tongued, meeting, placing, k) == exactly(value)


@pytest.mark.parametrize(
    ("meeting", "posture"), [(CHEEK_A, Posture.ON_EDGE_A), (CHEEK_B, Posture.ON_EDGE_B)]
)
@pytest.mark.parametrize("parts", [("top",), ("top", "side near")])
def test_a_ledge_counts_by_its_nearest_corner(
    meeting: Meeting, posture: Posture, parts: tuple[str, ...]
) -> None:
    wide = Pass(plain(9.0), 4.0, 8.5, posture, dict.fromkeys(parts, meeting.first))
    deep = Pass(plain(6.0), 9.0, 10.0, posture)
    grooved = cut(20.0, WIDTH, [wide, deep])
    tongued = cut(20.0, WIDTH, tongue_passes_flat(20.0, 8.0, 4.0))
    assert narrowest_gap(grooved, tongued, meeting, seated(tongued, *SHOULDERS)) == exactly(1.0)


@given(mates(), st.sampled_from([CHEEK_A, CHEEK_B, BOTTOM]))
@STEADY
def test_the_narrowest_gap_between_straight_surfaces_is_the_gap(
    sizes: Mates, meeting: Meeting
) -> None:
    grooved, tongued = grooved_edge(sizes), tongued_edge(sizes)
    narrowest = narrowest_gap(grooved, tongued, meeting, seated(tongued, *SHOULDERS))
    assert narrowest == exactly(mated(grooved, tongued)[meeting.gap])


def socket(thickness: float, depth: float, angle_deg: int) -> Sections:
    """A centred socket cut on edge with a dovetail cutter of 18 mm."""
    makes = {"flank near": "wall A", "flank far": "wall B", "top": "bottom"}
    profile = dovetail_profile(9.0, 12.0, angle_deg)
    return cut(thickness, WIDTH, [Pass(profile, depth, thickness / 2, Posture.ON_EDGE_A, makes)])


def tail(thickness: float, length: float, angle_deg: int, exposure: float) -> Sections:
    """A tail cut on edge from both faces; the far edge of the cutter stands at ``exposure``."""
    profile = dovetail_profile(9.0, 12.0, angle_deg)
    passes = [
        Pass(
            profile,
            length,
            exposure - 9.0,
            posture,
            {"flank far": f"cheek {face}", "top": f"shoulder {face}"},
        )
        for face, posture in (("A", Posture.ON_EDGE_A), ("B", Posture.ON_EDGE_B))
    ]
    return cut(thickness, WIDTH, passes)


@given(
    thickness=lengths(24, 40),
    depth=lengths(5, 11),
    length=lengths(5, 11),
    exposure=lengths(4.5, 9),
    angles=st.tuples(st.integers(5, 18), st.integers(5, 18)),
)
@STEADY
def test_a_dovetail_is_narrowest_where_its_flanks_come_closest_along_u(
    thickness: float,
    depth: float,
    length: float,
    exposure: float,
    angles: tuple[int, int],
) -> None:
    tailed = tail(thickness, length, angles[1], exposure)
    found = [
        narrowest_gap(
            socket(thickness, depth, angles[0]), tailed, meeting, seated(tailed, *SHOULDERS)
        )
        for meeting in (CHEEK_A, CHEEK_B)
    ]
    lean, own_lean = (tan(radians(angle)) for angle in angles)
    engaged = min(depth, length)
    exact = min(
        (exposure - v * own_lean) - (thickness / 2 - 9.0 + (depth - v) * lean)
        for v in (0.0, engaged)
    )
    assert found == [exactly(exact)] * 2


@given(
    radius=lengths(4, 8),
    share=st.integers(10, 75),
    depth=lengths(9, 12),
    length=lengths(3, 12),
    aside=lengths(-0.2, 0.2),
)
@STEADY
def test_a_square_tongue_meets_a_round_bottom_at_its_arris(
    radius: float, share: int, depth: float, length: float, aside: float
) -> None:
    makes = {"nose near": "bottom", "nose far": "bottom"}
    grooved = cut(
        30.0, WIDTH, [Pass(core_profile(radius, 20), depth, 15.0, Posture.ON_EDGE_A, makes)]
    )
    half = radius * share / 100
    wanted = FaceATongue(15.0 - half + aside, 2 * half, length)
    tongued = cut(30.0, WIDTH, wanted.passes(16.0))
    found = narrowest_gap(grooved, tongued, BOTTOM, seated(tongued, *SHOULDERS))
    drop = sqrt(radius**2 - (half + abs(aside)) ** 2)
    exact = depth - radius + drop - length
    assert exact - CHORD_TOLERANCE * radius / drop - 1e-9 <= found <= exact + 1e-9


def test_placing_turns_the_second_part_to_face_the_first() -> None:
    index = np.zeros(1, dtype=np.int64)
    placing = Placing(index, index, seat=np.array([8.0]), lift=np.array([0.5]))
    marks = np.array([[3.0, 0.0], [3.0, 8.0], [20.0, 90.0]])
    placed = place(marks, placing, 0)
    assert placed.tolist() == [[3.5, 8.0], [3.5, 0.0], [20.5, -82.0]]
    assert marks.tolist() == [[3.0, 0.0], [3.0, 8.0], [20.0, 90.0]]


def test_placing_by_the_same_seat_twice_changes_nothing() -> None:
    index = np.zeros(1, dtype=np.int64)
    placing = Placing(index, index, seat=np.array([8.25]), lift=np.array([0.0]))
    marks = np.array([[3.0, 0.0], [17.5, 8.0]])
    assert place(place(marks, placing, 0), placing, 0).tolist() == marks.tolist()


def example_pair() -> tuple[Sections, Sections, Placing]:
    grooved = groove_in_one_pass(20.0, 8.0, 14.0, 9.0)
    tongued = cut(20.0, WIDTH, tongue_passes_flat(20.0, 6.0, 8.0))
    return grooved, tongued, seated(tongued, *SHOULDERS)


@pytest.mark.parametrize(
    ("meeting", "message"),
    [
        (Meeting("play", "wall C", "cheek A", 0, 1), "board 0 has no surface 'wall C'"),
        (Meeting("play", "wall A", "cheek C", 0, 1), "board 0 has no surface 'cheek C'"),
        (Meeting("play", "wall A", "cheek A", 1, 1), "'wall A' is not square to the axis"),
        (Meeting("play", "bottom", "cheek A", 1, 1), "'cheek A' is not square to the axis"),
    ],
)
def test_a_gap_needs_two_surfaces_square_to_its_axis(meeting: Meeting, message: str) -> None:
    grooved, tongued, placing = example_pair()
    with pytest.raises(InputError, match=message):
        gaps(grooved, tongued, [meeting], placing)


@pytest.mark.parametrize(
    ("first", "second", "axis"),
    [("wall C", "cheek A", 0), ("wall A", "cheek C", 0), ("wall B", "cheek A", 1)],
)
def test_surfaces_that_do_not_face_each_other_have_no_narrowest_gap(
    first: str, second: str, axis: Literal[0, 1]
) -> None:
    grooved, tongued, placing = example_pair()
    meeting = Meeting("play", first, second, axis, 1)
    with pytest.raises(
        InputError, match=f"gap 'play': '{first}' and '{second}' do not lie opposite each other"
    ):
        narrowest_gap(grooved, tongued, meeting, placing)


def test_a_seat_needs_its_shoulders() -> None:
    with pytest.raises(InputError, match="board 0 has no surface 'shoulder A'"):
        seats(example_pair()[0], SHOULDERS)
