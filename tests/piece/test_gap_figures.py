"""Gaps in figures: what is aimed at, what boards make of it, and what errors do."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from faywright.joints.gaps import BOTTOM, CHEEK_A, CHEEK_B, STEP
from faywright.piece.gap_figures import gap_figures
from faywright.piece.opened import open_documents
from faywright.piece.plan import JointPlan, joint_plan, tasks_of

DEMO = Path("examples/hall-bench/piece.toml")


@pytest.fixture(scope="module")
def joints() -> list[JointPlan]:
    demo = open_documents(DEMO)
    tasks = tasks_of(demo.piece, demo.shop)
    return [joint_plan(task, demo.shop, demo.piece.climate) for task in tasks]


def test_gaps_are_aimed_at_where_errors_would_leave_them_on_the_whole(
    joints: list[JointPlan],
) -> None:
    for joint in joints:
        for gap in gap_figures(joint):
            if gap.name != STEP:  # boards differ in thickness, and no setting cures that
                middle = float(np.mean(joint.simulated.gaps[gap.name]))
                assert middle == pytest.approx(gap.aim, abs=0.03)


def test_errors_spread_a_gap_beyond_what_boards_do(joints: list[JointPlan]) -> None:
    for joint in joints:
        for gap in gap_figures(joint):
            assert gap.low < gap.least <= gap.greatest < gap.high


def test_a_strip_has_no_step_and_boards_in_a_row_have_one(joints: list[JointPlan]) -> None:
    names = {joint.wanted.name: [gap.name for gap in gap_figures(joint)] for joint in joints}
    assert names["back"] == [CHEEK_A, CHEEK_B, BOTTOM, STEP]
    assert names["drawer runner"] == [CHEEK_A, CHEEK_B, BOTTOM]
