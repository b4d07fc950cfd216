"""The drawing of a solved joint takes its names from the boards and where the groove is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faywright.drawing.joint import joint_drawing
from faywright.drawing.model import Drawing
from faywright.drawing.small_section import small_section
from faywright.joints.gaps import simulate
from faywright.joints.task import JointTask, both_edges, joint_task, strips_for
from faywright.joints.tongues import STRIP
from faywright.joints.wanted import EdgeName, Place, WantedJoint
from faywright.joints.work import work_of
from tests.drawing.joints_to_draw import in_mm
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


def drawn(task: JointTask, diameter: float) -> Drawing:
    groove = groove_by(task, "groove on edge, one pass", straight(diameter))
    solution = solved(task, groove, tongue_by(task, groove, STRIP))
    return joint_drawing(solution, simulate(solution), write=in_mm)


def loose_tongue() -> JointTask:
    """Three boards in a row and a strip for each of their two joints."""
    edges = Place("backs", "reference edge"), Place("backs", "opposite edge")
    wanted = WantedJoint(
        name="panel",
        family="loose tongue",
        groove=edges[0],
        second_groove=edges[1],
        strip="strip",
        fit=SNUG,
        free_order=False,
    )
    boards = pile([19.0, 19.2, 19.1])
    first, second = (work_of(boards, edge, "softwood", GAUGE) for edge in edges)
    strips = [
        replace(strip, mark=mark)
        for strip, mark in zip(pile([6.0, 6.05], width=17.0), ("S1", "S2"), strict=True)
    ]
    work = work_of(strips, Place("strip", "reference edge"), "hardwood", GAUGE)
    return joint_task(
        wanted,
        both_edges(first, second),
        strips_for(work, 2),
        machine=TABLE,
        instruments=INSTRUMENTS,
    )


@pytest.mark.parametrize("face", ["face A", "face B"])
def test_a_groove_in_a_face_is_drawn_with_the_reference_edge_up(face: EdgeName) -> None:
    task = joint(
        [13.0],
        [7.2],
        strips=True,
        groove_edge=face,
        width=96.0,
        groove_depth=6.5,
        timber="hardwood",
    )
    drawing = drawn(task, 7.55)
    told = [text.text for text in drawing.texts]
    assert f"section across the joint, reference edge up, groove in {face}" in told
    assert "96.00 mm in all" in told
    assert "A" not in told


def test_a_loose_tongue_is_drawn_with_both_boards_of_its_joint() -> None:
    """The tighter of the two strips is the thicker one, between the second and third board."""
    drawing = drawn(loose_tongue(), 6.36)
    told = [text.text for text in drawing.texts]
    assert drawing.title == "panel: S2 in B02 and B03"
    assert {"B02", "B03", "19.20 mm", "19.10 mm", "S2 6.05 mm"} <= set(told)


@pytest.mark.parametrize(
    ("task", "diameter", "boards"),
    [(loose_tongue(), 6.36, "S2 in B02 and B03"), (joint([19.0], [7.2], strips=True), 7.55, "in")],
)
def test_a_small_section_shows_the_boards_and_is_not_lettered(
    task: JointTask, diameter: float, boards: str
) -> None:
    groove = groove_by(task, "groove on edge, one pass", straight(diameter))
    solution = solved(task, groove, tongue_by(task, groove, STRIP))
    small = small_section(solution, simulate(solution))
    assert not small.texts
    assert boards in small.description
    assert max(small.size) < 60
