"""The strips of a solved joint show the groups and bands its settings were worked out with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from faywright.drawing.joint_strips import NONE_OUT, joint_strips
from faywright.drawing.model import Drawing, Outline
from faywright.joints.solution import Solution
from faywright.joints.task import both_edges, joint_task, strips_for
from faywright.joints.tongues import STRIP
from faywright.joints.wanted import Place, WantedJoint
from faywright.joints.work import work_of
from faywright.lengths import LengthStyle
from faywright.setups.sheet import setups_of
from tests.joints.builders import (
    GAUGE,
    INSTRUMENTS,
    SNUG,
    TABLE,
    groove_by,
    joint,
    pile,
    solved,
    straight,
    tongue_by,
)

MM = LengthStyle("mm")
THIN_AND_THICK = [18.6, 18.64, 18.7, 19.2, 19.24, 19.3]


def in_a_row(groove: str, tongue: str, thicknesses: list[float], diameter: float) -> Solution:
    task = joint(thicknesses, groove_width=6.5, scatter=0.02)
    method = groove_by(task, groove, straight(diameter))
    return solved(task, method, tongue_by(task, method, tongue, straight(15.0, "C2")))


FROM_BOTH = in_a_row(
    "groove on edge, one pass", "tongue flat, from both faces", THIN_AND_THICK, 6.5
)


def drawn(solution: Solution, over: Mapping[str, float] = NONE_OUT) -> tuple[Drawing, ...]:
    return joint_strips(solution, setups_of(solution, TABLE), style=MM, over=over)


def written(drawing: Drawing) -> list[str]:
    return [text.text for text in drawing.texts]


def bands_of(drawing: Drawing) -> list[tuple[float, float]]:
    """Open bars read off against the axis, without the sample in the legend. [mm]"""
    numbers = {float(t.text): t.at[0] for t in drawing.texts if t.text.replace(".", "").isdigit()}
    (low, x0), (high, x1) = min(numbers.items()), max(numbers.items())
    bars = [m.bounds for m in drawing.marks if isinstance(m, Outline) and m.weight == "frame"]
    ends = [(bar[0], bar[2]) for bar in sorted(bars, key=lambda bar: bar[1])[:-1]]
    return [
        (low + (a - x0) * (high - low) / (x1 - x0), low + (b - x0) * (high - low) / (x1 - x0))
        for a, b in ends
    ]


def test_groups_carry_the_numbers_of_the_setups_that_decide_the_fit() -> None:
    (drawing,) = drawn(FROM_BOTH)
    numbers = [setup.number for setup in setups_of(FROM_BOTH, TABLE) if setup.side == "tongue"]
    for letter, number in zip("AB", numbers, strict=True):
        assert f"{letter}, setup {number}" in written(drawing)


def test_a_band_ends_where_the_joint_leaves_its_fit() -> None:
    """A tongue as thick as at either end of the bar has the least or most clearance allowed."""
    (drawing,) = drawn(FROM_BOTH)
    groove = float(FROM_BOTH.sizes(FROM_BOTH.groove, FROM_BOTH.groove.size).mean())
    for group, band in zip(FROM_BOTH.tongue_groups, bands_of(drawing), strict=True):
        height = group.settings[FROM_BOTH.tongue.control]  # type: ignore[index]  # it is set
        plays = [groove - (thickness - 2 * height) for thickness in band]
        assert sorted(plays) == pytest.approx(FROM_BOTH.task.target.band, abs=1e-6)


def test_where_both_boards_count_each_has_half_the_band() -> None:
    solution = in_a_row(
        "groove on edge, from both faces", "tongue flat, from both faces", THIN_AND_THICK, 5.0
    )
    (drawing,) = drawn(solution)
    low, high = solution.task.target.band
    assert {round(b - a, 6) for a, b in bands_of(drawing)} == {round((high - low) / 2, 6)}
    assert {"grooves", "tongues"} <= set(written(drawing))


def test_a_way_that_does_not_follow_thickness_has_no_groups() -> None:
    solution = in_a_row(
        "groove on edge, one pass",
        "tongue on edge, face A to the fence throughout",
        THIN_AND_THICK,
        6.5,
    )
    (drawing,) = drawn(solution)
    assert "6 boards, the thinnest at the top; thickness does not decide the fit" in written(
        drawing
    )
    assert not [text for text in written(drawing) if "setup" in text]


def test_a_board_the_plan_finds_too_thick_is_named() -> None:
    (drawing,) = drawn(FROM_BOTH, over={"B06": 0.12})
    assert "B06: 0.12 mm too thick for the setting." in written(drawing)


def test_the_readings_shown_are_those_of_the_edge_that_is_cut() -> None:
    """Two readings across a board: the tongue is on the far one."""
    task = joint([19.0, 19.1], groove_width=6.5)
    boards = tuple(
        replace(board, readings=np.array([[18.0, t - 0.03], [18.0, t + 0.03]]))
        for board, t in zip(task.tongued.boards, (19.0, 19.1), strict=True)
    )
    task = replace(task, tongued=replace(task.tongued, boards=boards))
    groove = groove_by(task, "groove on edge, one pass", straight(6.5))
    tongue = tongue_by(task, groove, "tongue flat, from both faces", straight(15.0, "C2"))
    (drawing,) = drawn(solved(task, groove, tongue))
    assert "18.0" not in " ".join(written(drawing))


def test_two_parts_have_a_chart_each_and_a_face_has_none() -> None:
    rails = joint([19.0, 19.1], [19.02, 19.05], groove_width=6.5)
    groove = groove_by(rails, "groove on edge, one pass", straight(6.5))
    tongue = tongue_by(rails, groove, "tongue flat, from both faces", straight(15.0, "C2"))
    assert len(drawn(solved(rails, groove, tongue))) == 2
    runner = joint([19.0], [7.2], strips=True, groove_edge="face B", tongue_edge="reference edge")
    groove = groove_by(runner, "groove on edge, one pass", straight(7.5))
    (drawing,) = drawn(solved(runner, groove, tongue_by(runner, groove, STRIP)))
    assert drawing.title == "back: sides by thickness"


def test_strips_go_by_the_setting_of_the_grooves_they_enter() -> None:
    """Grooves are cut in two settings for strips of two thicknesses, which are used as they are."""
    task = joint([19.0] * 4, [6.0, 6.02, 6.6, 6.62], strips=True, free_order=False)
    groove = groove_by(task, "groove on edge, from both faces", straight(5.0))
    solution = solved(task, groove, tongue_by(task, groove, STRIP))
    assert len(solution.groove_groups) == 2
    strips = next(d for d in drawn(solution) if d.title == "back: sides by thickness")
    numbers = [setup.number for setup in setups_of(solution, TABLE) if setup.final]
    assert {f"A, setup {numbers[0]}", f"B, setup {numbers[1]}"} <= set(written(strips))
    for sizes, band in zip(((6.0, 6.02), (6.6, 6.62)), sorted(bands_of(strips)), strict=True):
        assert band[0] < min(sizes) < max(sizes) < band[1]


def test_the_two_edges_of_a_board_are_told_apart() -> None:
    boards = pile([19.0, 19.2, 19.1])
    edges = Place("backs", "reference edge"), Place("backs", "opposite edge")
    first, second = (work_of(boards, edge, "softwood", GAUGE) for edge in edges)
    strips = work_of(pile([6.0], width=17.0), Place("strip", "reference edge"), "hardwood", GAUGE)
    wanted = WantedJoint(
        name="panel",
        family="loose tongue",
        groove=edges[0],
        second_groove=edges[1],
        strip="strip",
        fit=SNUG,
    )
    task = joint_task(
        wanted,
        both_edges(first, second),
        strips_for(strips, 2),
        machine=TABLE,
        instruments=INSTRUMENTS,
    )
    groove = groove_by(task, "groove on edge, one pass", straight(6.35))
    grooves, strip = drawn(solved(task, groove, tongue_by(task, groove, STRIP)))
    names = {text for text in written(grooves) if text.startswith("B0")}
    assert names == {
        "B01 (reference edge)",
        "B02 (reference edge)",
        "B02 (opposite edge)",
        "B03 (opposite edge)",
    }
    assert "1 board" in written(strip)
