"""Which groove meets which tongue, and piles that do not go together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest

from faywright.errors import InfeasibleError, InputError
from faywright.joints.task import JointTask, both_edges, joint_task, strips_for
from faywright.joints.wanted import EdgeName, Place, WantedJoint
from faywright.joints.work import Work, work_of
from tests.joints.builders import GAUGE, INSTRUMENTS, SNUG, TABLE, joint, pile


def pairs(task: JointTask, row: Sequence[int] | None = None) -> list[tuple[int, int]]:
    first, second = task.pairs(None if row is None else np.array(row))
    return list(zip(first.tolist(), second.tolist(), strict=True))


def side(part: str, thicknesses: Sequence[float], edge: EdgeName = "reference edge") -> Work:
    return work_of(pile(thicknesses), Place(part, edge), "softwood", GAUGE)


def test_boards_in_a_row_put_each_tongue_into_the_groove_of_the_next() -> None:
    task = joint([19.0, 19.1, 19.2, 19.3])
    assert task.meets == "in a row"
    assert task.same_boards
    assert pairs(task) == [(1, 0), (2, 1), (3, 2)]


def test_another_order_of_boards_makes_other_pairs() -> None:
    assert pairs(joint([19.0, 19.1, 19.2]), [2, 0, 1]) == [(0, 2), (1, 0)]


def test_as_many_tongues_as_grooves_meet_one_to_one() -> None:
    task = joint([19.0, 19.1], [18.9, 19.2])
    assert task.meets == "one to one"
    assert not task.same_boards
    assert pairs(task) == [(0, 0), (1, 1)]


@pytest.mark.parametrize(
    ("grooved", "tongued", "wanted"),
    [
        ([19.0], [18.0] * 3, [(0, 0), (0, 1), (0, 2)]),
        ([19.0] * 3, [18.0], [(0, 0), (1, 0), (2, 0)]),
    ],
)
def test_one_part_may_meet_all_of_the_other(
    grooved: list[float], tongued: list[float], wanted: list[tuple[int, int]]
) -> None:
    task = joint(grooved, tongued)
    assert task.meets == "many to one"
    assert pairs(task) == wanted


@pytest.mark.parametrize(("grooved", "tongued"), [(2, 3), (3, 2), (4, 2)])
def test_piles_that_do_not_pair_off_are_refused(grooved: int, tongued: int) -> None:
    with pytest.raises(InputError, match=f"{grooved} grooved and {tongued} tongued pieces"):
        joint([19.0] * grooved, [19.0] * tongued)


def test_one_board_is_not_joined_to_itself() -> None:
    with pytest.raises(InputError, match="one board cannot be joined to itself"):
        joint([19.0])


@pytest.mark.parametrize(("strips", "strip"), [(True, True), (False, False)])
def test_a_task_knows_whether_a_strip_enters_the_groove(strips: bool, strip: bool) -> None:
    thick = [6.0, 6.0] if strips else [19.0, 19.0]
    assert joint([19.0, 19.0], thick, strips=strips).strip is strip


# Loose tongues


def loose(
    first: Work, second: Work, strips: Sequence[float], *, width: float = 20.0, **wishes: Any
) -> JointTask:
    grooved = both_edges(first, second)
    wanted = WantedJoint(
        name="top",
        family="loose tongue",
        groove=first.place,
        second_groove=second.place,
        strip="strips",
        fit=SNUG,
        **wishes,
    )
    boards = pile(strips, width=width)
    strip = strips_for(
        work_of(boards, Place("strips", "reference edge"), "softwood", GAUGE), len(grooved) // 2
    )
    return joint_task(wanted, grooved, strip, machine=TABLE, instruments=INSTRUMENTS)


def test_the_outer_edges_of_a_row_stay_plain() -> None:
    first = side("tops", [19.0, 19.1, 19.2])
    both = both_edges(first, side("tops", [19.0, 19.1, 19.2], "opposite edge"))
    assert both.marks == ("B01", "B02", "B02", "B03")
    assert both.edges == ("reference edge",) * 2 + ("opposite edge",) * 2
    assert both.across.tolist() == [19.0, 19.1, 19.1, 19.2]
    assert len(both.deep) == len(both.along) == len(both.deviation) == 4


def test_two_parts_have_all_their_edges_grooved() -> None:
    both = both_edges(side("left", [19.0, 19.1]), side("right", [20.0, 20.1]))
    assert both.across.tolist() == [19.0, 19.1, 20.0, 20.1]


def test_a_strip_enters_both_grooves_of_its_joint() -> None:
    first = side("tops", [19.0, 19.1, 19.2])
    task = loose(first, side("tops", [19.0, 19.1, 19.2], "opposite edge"), [6.0, 6.2])
    assert task.meets == "one to one"
    assert task.tongued.across.tolist() == [6.0, 6.2, 6.0, 6.2]
    assert task.strip_width == 2 * task.target.length


@pytest.mark.parametrize(("width", "length"), [(30.0, 9.0), (18.0, 9.0), (14.0, 7.0)])
def test_a_strip_enters_either_groove_by_no_more_than_half_of_it(
    width: float, length: float
) -> None:
    task = loose(side("left", [19.0]), side("right", [19.0]), [6.0], width=width)
    assert task.target.length == length
    assert task.strip_width == 2 * length


def test_a_strip_too_narrow_for_the_length_asked_for_is_refused() -> None:
    with pytest.raises(InfeasibleError, match=r"14\.0 mm wide does not reach 16\.0 mm into both"):
        loose(side("left", [19.0]), side("right", [19.0]), [6.0], width=14.0, tongue_length=8.0)


def test_boards_grooved_on_both_edges_are_told_apart_by_the_edge() -> None:
    first = side("tops", [19.0, 19.1, 19.2])
    both = both_edges(first, side("tops", [19.0, 19.1, 19.2], "opposite edge"))
    assert both.labels[1:3] == ("B02 (reference edge)", "B02 (opposite edge)")
    assert first.labels == first.marks


def test_one_strip_is_what_all_strips_are_cut_from() -> None:
    first = side("tops", [19.0, 19.1, 19.2])
    task = loose(first, side("tops", [19.0, 19.1, 19.2], "opposite edge"), [6.0])
    assert task.meets == "many to one"
    assert joint([19.0, 19.0]).strip_width is None


@pytest.mark.parametrize("count", [2, 4])
def test_strips_must_be_as_many_as_the_joints(count: int) -> None:
    with pytest.raises(InputError, match=f"{count} strips for 3 joints") as error:
        strips_for(side("strips", [6.0] * count), 3)
    assert "List 3 strips" in error.value.remedy
