"""A method run on one board: every station, its feeds, and the wood it leaves."""

from __future__ import annotations

import pytest

from faywright.joints import grooves, tongues
from faywright.setups.report import station_reports, wood_left
from faywright.shop import Timber
from tests.joints.builders import (
    TABLE,
    exactly,
    groove_by,
    joint,
    of_group,
    solved,
    straight,
    tongue_by,
)

PILE = [18.9, 19.2, 19.0]


def both(groove: str, diameter: float) -> tuple[dict[str, float], dict[str, float]]:
    """Wood left by a groove and by its tongue, by name."""
    task = joint(PILE, PILE, groove_width=6.5, free_order=False)
    one = groove_by(task, groove, straight(diameter))
    two = tongue_by(task, one, tongues.FLAT, straight(18.0, "C2"))
    solution = solved(task, one, two)
    return (
        dict(wood_left(one, of_group(solution, "groove"), task.grooved)),
        dict(wood_left(two, of_group(solution, "tongue"), task.tongued)),
    )


def test_the_thinnest_board_decides_what_is_left_beside_a_groove() -> None:
    left, _ = both(grooves.ON_EDGE, 6.5)
    assert left == exactly(
        {
            "the wall at face A": 6.25,
            "the wall at face B": 18.9 - 12.75,
            "the wood under the groove": 109.5,
        }
    )


def test_a_groove_from_both_faces_leaves_both_walls_alike() -> None:
    left, _ = both(grooves.BOTH_FACES, 4.6)
    assert left["the wall at face A"] == exactly(left["the wall at face B"])


def test_the_tongue_is_what_is_left_of_a_tongued_board() -> None:
    _, left = both(grooves.ON_EDGE, 6.5)
    assert set(left) == {"the tongue"}


def test_the_thickest_board_of_a_group_is_run() -> None:
    task = joint(PILE, PILE, groove_width=6.5)
    method = groove_by(task, grooves.ON_EDGE, straight(6.5))
    tongue = tongue_by(task, method, tongues.FLAT, straight(18.0, "C2"))
    group = of_group(solved(task, method, tongue), "groove")
    reports = station_reports(TABLE, method, task.grooved, group)
    assert {report.board for report in reports} == {1}
    assert all(result.thickness == 19.2 for r in reports for result in r.results)


TIMBERS: list[Timber] = ["softwood", "hardwood"]


@pytest.mark.parametrize("timber", TIMBERS)
def test_every_posture_of_every_station_has_a_result_and_a_feed(timber: Timber) -> None:
    task = joint(PILE, PILE, groove_width=6.5, timber=timber)
    method = groove_by(task, grooves.BOTH_FACES, straight(4.6))
    tongue = tongue_by(task, method, tongues.FLAT, straight(18.0, "C2"))
    group = of_group(solved(task, method, tongue), "groove")
    for report in station_reports(TABLE, method, task.grooved, group):
        assert len(report.results) == len(report.feeds) == 2
        assert set(report.feeds) == {"right to left"}
