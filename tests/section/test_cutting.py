from __future__ import annotations

from itertools import pairwise
from math import inf, nan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faywright.errors import DisagreementError, InputError, RangeError
from faywright.section import (
    Pass,
    Posture,
    Sections,
    core_profile,
    cut,
    cut_boards,
    cutting,
    dovetail_profile,
    slot_profile,
    straight_profile,
    tongue_pair_profile,
    v_profile,
)
from tests.section.cuts import WIDTH, exactly, groove_pass, plain, tongue_passes_flat
from tests.strategies import STEADY, lengths, passes, thicknesses

LEFT_AS_THEY_WERE = ("edge", "face B", "back", "face A")
ROUNDING = 1e-6
"""What the kernel's grid of 1e-9 mm may add along a whole outline. [mm2]"""

GROOVE = groove_pass(8.0, 14.0, 10.0, Posture.ON_EDGE_A)


def test_a_board_without_passes_stays_as_it_is() -> None:
    board = cut(20.0, WIDTH, [])
    assert board.surfaces() == LEFT_AS_THEY_WERE
    assert board.area[0] == exactly(20.0 * WIDTH)
    assert board.span("face B", 0)[0][0] == 20.0


@pytest.mark.parametrize(
    "run",
    [
        Pass(plain(12.0), -1.0, 10.0, Posture.ON_EDGE_A),
        Pass(plain(12.0), 0.0, 10.0, Posture.ON_EDGE_A),
        Pass(plain(12.0), 10.0, -6.0, Posture.FLAT_B),
        Pass(plain(12.0), 10.0, 26.0, Posture.ON_EDGE_B),
    ],
)
def test_a_cutter_that_only_touches_the_board_cuts_nothing(run: Pass) -> None:
    board = cut(20.0, WIDTH, [run])
    assert board.area[0] == exactly(20.0 * WIDTH)
    assert set(board.surfaces()) == set(LEFT_AS_THEY_WERE)


@pytest.mark.parametrize(
    ("run", "made"),
    [
        (
            Pass(straight_profile(6, 8, 4), 12.0, 10.0, Posture.ON_EDGE_A),
            {"top", "side far", "side near", "shoulder far", "shoulder near"}
            | {"shank far", "shank near"},
        ),
        (
            Pass(slot_profile(20, 5, 4), 12.0, -8.0, Posture.FLAT_A),
            {"top", "rim far", "underside far"},
        ),
        (
            Pass(tongue_pair_profile(20, 6, 6, 12, 4), 19.0, -10.0, Posture.FLAT_A),
            {"top", "upper rim far", "upper underside far", "hub far"}
            | {"lower top far", "lower rim far", "underside far"},
        ),
        (
            Pass(dovetail_profile(7, 10, 14), 9.0, 10.0, Posture.ON_EDGE_B),
            {"top", "flank far", "flank near"},
        ),
        (Pass(v_profile(9, 90), 5.0, 0.0, Posture.FLAT_B), {"flank far"}),
        (
            Pass(core_profile(5, 20), 9.0, 10.0, Posture.ON_EDGE_A),
            {"nose far", "nose near", "side far", "side near"},
        ),
    ],
    ids=["straight", "slot", "pair", "dovetail", "V", "round nose"],
)
def test_every_fresh_surface_is_named_for_what_cut_it(run: Pass, made: set[str]) -> None:
    fresh = set(cut(24.0, WIDTH, [run]).surfaces()) - set(LEFT_AS_THEY_WERE)
    assert fresh == {f"{part}, pass 1" for part in made}


def test_trade_names_replace_parts_and_the_rest_keeps_its_own() -> None:
    run = Pass(plain(8.0), 10.0, 10.0, Posture.ON_EDGE_A, {"top": "bottom"})
    fresh = set(cut(20.0, WIDTH, [GROOVE, run]).surfaces()) - set(LEFT_AS_THEY_WERE)
    assert fresh == {"wall A", "wall B", "bottom"}
    alone = set(cut(20.0, WIDTH, [run]).surfaces()) - set(LEFT_AS_THEY_WERE)
    assert alone == {"side near, pass 1", "bottom", "side far, pass 1"}


def test_surfaces_are_listed_as_they_are_met_around_the_board() -> None:
    names = cut(20.0, WIDTH, [GROOVE]).surfaces()
    at = names.index("wall A")
    around = [*names[at:], *names[:at]]
    assert around == ["wall A", "bottom", "wall B", "face B", "back", "face A", "edge"]


def test_a_source_tells_the_pass_and_the_part() -> None:
    board = cut(20.0, WIDTH, [GROOVE, Pass(plain(8.0), 4.0, 14.0, Posture.ON_EDGE_A)])
    found = {source.surface: source for source in board.sources}
    assert (found["wall A"].run, found["wall A"].part) == (0, "side near")
    assert found["side far, pass 2"].run == 1
    assert found["face A"].run is None


@pytest.mark.parametrize("depth", [10.0, 7.0])
def test_a_surface_that_is_there_already_keeps_its_name(depth: float) -> None:
    again = Pass(plain(8.0), depth, GROOVE.axis, Posture.ON_EDGE_A)
    assert set(cut(20.0, WIDTH, [GROOVE, again]).surfaces()) == {
        *LEFT_AS_THEY_WERE,
        "wall A",
        "wall B",
        "bottom",
    }


def test_a_deeper_run_renames_only_what_it_cuts_afresh() -> None:
    deeper = Pass(plain(8.0), 12.0, GROOVE.axis, Posture.ON_EDGE_A)
    board = cut(20.0, WIDTH, [GROOVE, deeper])
    assert "bottom" not in board.surfaces()
    assert board.span("wall A", 1)[1][0] == exactly(10.0)
    assert board.span("side near, pass 2", 1)[1][0] == exactly(12.0)


def test_the_first_of_two_equal_passes_gives_the_names() -> None:
    second = groove_pass(8.0, 14.0, 10.0, Posture.ON_EDGE_B)
    board = cut(20.0, WIDTH, [GROOVE, second])
    assert {board.sources[k].run for k in board.source} == {None, 0}
    assert board.position("wall A", 0)[0] == exactly(6.0)


def test_a_cut_flush_with_a_face_leaves_the_face_its_name() -> None:
    run = Pass(plain(8.0), 5.0, 16.0, Posture.ON_EDGE_A)
    board = cut(20.0, WIDTH, [run])
    assert board.span("face B", 1)[0][0] == exactly(5.0)
    assert board.position("side near, pass 1", 0)[0] == exactly(12.0)


@pytest.mark.parametrize("depth", [9.0, 10.0])
def test_two_rabbets_that_meet_leave_no_edge(depth: float) -> None:
    board = cut(20.0, WIDTH, tongue_passes_flat(20.0, 10.0, depth))
    assert "edge" not in board.surfaces()
    assert board.area[0] == exactly(20.0 * (WIDTH - depth))


def test_what_falls_off_is_left_out() -> None:
    through = Pass(plain(10.0), 25.0, 20.0, Posture.FLAT_A)
    board = cut(20.0, 100.0, [through])
    assert board.area[0] == exactly(20.0 * 75.0)
    assert board.position("side far, pass 1", 1)[0] == exactly(25.0)


def test_the_part_that_reaches_the_back_is_kept_even_if_it_is_the_smaller() -> None:
    through = Pass(plain(10.0), 25.0, 60.0, Posture.FLAT_A)
    board = cut(20.0, 100.0, [through])
    assert board.area[0] == exactly(20.0 * 35.0)
    assert "back" in board.surfaces()
    assert "edge" not in board.surfaces()


def test_passes_one_cutter_apart_make_one_clear_groove() -> None:
    makes = {"side near": "wall A", "side far": "wall B", "top": "bottom"}
    passes = [
        Pass(plain(8.196), 8.0, axis, Posture.ON_EDGE_A, makes)
        for axis in (9.69 - 4.098, 9.69 + 4.098)
    ]
    groove = cut(40.0, WIDTH, passes)
    assert groove.position("wall B", 0)[0] == exactly(9.69 + 8.196)


@given(thicknesses, lengths(2, 8), lengths(6, 20), st.integers(2, 4))
@settings(STEADY, max_examples=150)
def test_passes_side_by_side_leave_nothing_between_them(
    thickness: float, diameter: float, first: float, count: int
) -> None:
    makes = {"side near": "wall A", "side far": "wall B", "top": "bottom"}
    axes = [first + (0.5 + k) * diameter for k in range(count)]
    runs = [Pass(plain(diameter), 8.0, axis, Posture.ON_EDGE_A, makes) for axis in axes]
    groove = cut(thickness + 60, WIDTH, runs)
    assert groove.position("wall B", 0)[0] == exactly(first + count * diameter)
    assert groove.position("bottom", 1)[0] == exactly(8.0)


@given(thicknesses, st.lists(passes(), min_size=1, max_size=3))
@STEADY
def test_a_cleaning_pass_changes_nothing(thickness: float, runs: list[Pass]) -> None:
    once, twice = cut(thickness, WIDTH, runs), cut(thickness, WIDTH, [*runs, runs[-1]])
    assert twice.area[0] == pytest.approx(once.area[0], rel=1e-12)
    assert set(twice.surfaces()) == set(once.surfaces())


@given(thicknesses, st.lists(passes(), min_size=2, max_size=3))
@STEADY
def test_the_order_of_the_passes_changes_names_but_no_wood(
    thickness: float, runs: list[Pass]
) -> None:
    forwards, backwards = cut(thickness, WIDTH, runs), cut(thickness, WIDTH, runs[::-1])
    assert backwards.area[0] == pytest.approx(forwards.area[0], rel=1e-9)


@given(thicknesses, st.lists(passes(), min_size=1, max_size=3))
@STEADY
def test_another_pass_never_adds_wood(thickness: float, runs: list[Pass]) -> None:
    left = [float(cut(thickness, WIDTH, runs[:k]).area[0]) for k in range(len(runs) + 1)]
    assert all(after <= before + ROUNDING for before, after in pairwise(left))


@given(thicknesses, st.lists(passes(), max_size=3))
@STEADY
def test_outlines_run_anticlockwise_in_closed_rings(thickness: float, runs: list[Pass]) -> None:
    board = cut(thickness, WIDTH, runs)
    assert board.area[0] > 0
    assert board.ends.tolist() == np.roll(board.points, -1, axis=0).tolist()
    assert board.polygons[0].area == pytest.approx(board.area[0], rel=1e-12)


def assert_same_board(many: Sections, board: int, alone: Sections) -> None:
    here = slice(many.starts[board], many.starts[board + 1])
    assert (many.points[here] == alone.points).all()
    assert (many.ends[here] == alone.ends).all()
    assert (many.source[here] == alone.source).all()
    assert many.area[board] == pytest.approx(alone.area[0], rel=1e-12)


def test_a_thousand_boards_at_once_are_as_each_alone() -> None:
    rng = np.random.default_rng(1)
    thickness, width = rng.uniform(18, 22, 1000), rng.uniform(60, 140, 1000)
    runs = [*tongue_passes_flat(20.0, 7.0, 8.0), Pass(v_profile(9, 90), 2.0, 0.0, Posture.FLAT_B)]
    pile = cut_boards(thickness, width, runs)
    assert len(pile) == 1000
    for k in range(1000):
        assert_same_board(pile, k, cut(float(thickness[k]), float(width[k]), runs))


def test_boards_on_which_cuts_just_meet_are_as_each_alone() -> None:
    thickness = np.linspace(24.588, 32.747, 200)  # on the thinnest the two cuts just meet
    halves = [
        groove_pass(8.196, 20.49, 8.0, posture)
        for posture in (Posture.ON_EDGE_A, Posture.ON_EDGE_B)
    ]
    pile = cut_boards(thickness, np.full(200, WIDTH), halves)
    for k, size in enumerate(thickness):
        assert_same_board(pile, k, cut(float(size), WIDTH, halves))


@given(st.lists(thicknesses, min_size=2, max_size=6), st.lists(passes(), max_size=3))
@settings(STEADY, max_examples=25)
def test_a_mixed_pile_is_as_each_board_alone(sizes: list[float], runs: list[Pass]) -> None:
    pile = cut_boards(np.array(sizes), np.full(len(sizes), WIDTH), runs)
    for k, thickness in enumerate(sizes):
        alone = cut(thickness, WIDTH, runs)
        assert_same_board(pile, k, alone)
        assert pile.surfaces(k) == alone.surfaces()


def test_edges_of_a_surface_are_those_that_bear_its_name() -> None:
    pile = cut_boards(np.array([12.0, 24.0]), np.array([90.0, 80.0]), [GROOVE])
    for board, back in enumerate((90.0, 80.0)):
        ((start, end),) = pile.edges("back", board)
        assert start[1] == end[1] == back
    assert pile.edges("wall B", 1).tolist() == [[[14.0, 10.0], [14.0, 0.0]]]
    assert pile.edges("wall B", 0).shape == (0, 2, 2)


def test_the_span_of_a_missing_surface_is_not_a_number() -> None:
    pile = cut_boards(np.array([12.0, 24.0]), np.array([90.0, 90.0]), [GROOVE])
    low, high = pile.span("wall B", 0)
    assert np.isnan([low[0], high[0]]).all()
    assert [low[1], high[1]] == [exactly(14.0)] * 2


@pytest.mark.parametrize("surface", ["flank far, pass 1", "flank near, pass 1"])
def test_the_span_of_a_leaning_surface_has_two_ends(surface: str) -> None:
    board = cut(20.0, WIDTH, [Pass(v_profile(9, 90), 4.0, 10.0, Posture.ON_EDGE_A)])
    low, high = board.span(surface, 0)
    assert high[0] - low[0] == exactly(4.0)


@pytest.mark.parametrize(
    ("thickness", "width"), [(0.0, 90.0), (-20.0, 90.0), (20.0, 0.0), (20.0, -1.0), (np.nan, 90.0)]
)
def test_a_board_without_size_is_refused(thickness: float, width: float) -> None:
    with pytest.raises(RangeError, match="board to cut: thickness and width must be above 0"):
        cut(thickness, width, [])


@pytest.mark.parametrize("size", [nan, inf])
def test_a_board_of_no_finite_size_is_refused(size: float) -> None:
    with pytest.raises(RangeError, match="above 0, for at least one board"):
        cut(20.0, size, [])


def test_a_pile_of_no_boards_is_refused() -> None:
    with pytest.raises(RangeError, match="above 0, for at least one board"):
        cut_boards(np.empty(0), np.empty(0), [GROOVE])


@pytest.mark.parametrize(
    ("height", "axis", "said"),
    [
        (nan, 5.0, "height nan mm and axis 5 mm"),
        (8.0, nan, "height 8 mm and axis nan mm"),
        (inf, 5.0, "height inf mm and axis 5 mm"),
        (8.0, -inf, "height 8 mm and axis -inf mm"),
        (500.1, 5.0, "height 500.1 mm and axis 5 mm"),
        (8.0, -500.1, "height 8 mm and axis -500.1 mm"),
    ],
)
def test_a_cutter_that_stands_nowhere_on_a_machine_is_refused(
    height: float, axis: float, said: str
) -> None:
    with pytest.raises(RangeError, match=f"^pass: {said} are not both within 500 mm"):
        Pass(plain(8.0), height, axis, Posture.ON_EDGE_A)


def test_the_highest_cutter_cuts_all_the_way_down() -> None:
    groove = cut(20.0, 3000.0, [Pass(plain(8.0), 500.0, 10.0, Posture.ON_EDGE_A)])
    assert groove.area[0] == exactly(20.0 * 3000.0 - 8.0 * 500.0)


def test_a_surface_can_only_be_made_by_a_part_the_cutter_has() -> None:
    with pytest.raises(
        InputError, match=r"has no part 'rim'\. Name surfaces by its parts: side far"
    ):
        Pass(plain(8.0), 8.0, 5.0, Posture.ON_EDGE_A, {"rim": "bottom"})


def test_one_board_without_size_spoils_the_pile() -> None:
    with pytest.raises(RangeError, match="must be above 0"):
        cut_boards(np.array([20.0, 0.0]), np.array([90.0, 90.0]), [])


@pytest.mark.parametrize("thicknesses", [[20.0], [90.0, 20.0]])
def test_passes_that_leave_nothing_are_refused(thicknesses: list[float]) -> None:
    over_all = Pass(plain(60.0), 50.0, 10.0, Posture.ON_EDGE_A)
    with pytest.raises(
        RangeError, match="section: the passes leave nothing at the back of the board"
    ):
        cut_boards(np.array(thicknesses), np.full(len(thicknesses), 40.0), [over_all])


def test_a_surface_that_is_not_there_has_no_position() -> None:
    board = cut(20.0, WIDTH, [GROOVE])
    with pytest.raises(
        InputError, match=r"board 0 has no surface 'walls'\. Ask for one of: "
    ) as no:
        board.position("walls", 0)
    assert all(name in str(no.value) for name in board.surfaces())


def test_the_board_that_lacks_a_surface_is_named() -> None:
    pile = cut_boards(np.array([24.0, 12.0]), np.array([90.0, 90.0]), [GROOVE])
    with pytest.raises(InputError, match="board 1 has no surface 'wall B'"):
        pile.position("wall B", 0)


def test_the_surfaces_offered_are_those_of_the_board_that_lacks_one() -> None:
    run = Pass(plain(8.0), 8.0, 12.0, Posture.ON_EDGE_A, {"side near": "wall A"})
    pile = cut_boards(np.array([20.0, 5.0]), np.full(2, WIDTH), [run])
    with pytest.raises(InputError, match="board 1 has no surface") as refused:
        pile.position("wall A", 0)
    assert "wall A" not in refused.value.remedy


@pytest.mark.parametrize(("surface", "axis"), [("flank far, pass 1", 0), ("edge", 0)])
def test_a_surface_that_is_not_square_to_the_axis_has_no_position(surface: str, axis: int) -> None:
    board = cut(20.0, WIDTH, [Pass(v_profile(9, 90), 4.0, 10.0, Posture.ON_EDGE_A)])
    with pytest.raises(
        InputError, match=f"section: '{surface}' is not square to the axis .*narrowest_gap"
    ):
        board.position(surface, axis)


def test_an_edge_that_nothing_could_have_made_stops_the_plan(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(cutting, "ON_SURFACE", -1.0)
    with pytest.raises(
        DisagreementError, match=r"an edge from \(\d+\.\d{6}, \d+\.\d{6}\) to .* lies on no surface"
    ):
        cut(20.0, WIDTH, [GROOVE])
