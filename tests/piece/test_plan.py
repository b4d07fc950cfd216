"""A plan is its joints, planned one by one and put together."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from faywright.errors import DocumentError, InfeasibleError
from faywright.piece.opened import Documents, open_documents
from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import JointPlan, assembled, joint_plan, plan, tasks_of

DEMO = Path("examples/hall-bench/piece.toml")


@pytest.fixture(scope="module")
def demo() -> Documents:
    return open_documents(DEMO)


@pytest.fixture(scope="module")
def joints(demo: Documents) -> list[JointPlan]:
    tasks = tasks_of(demo.piece, demo.shop)
    return [joint_plan(task, demo.shop, demo.piece.climate) for task in tasks]


def test_joints_planned_alone_make_the_whole_plan(demo: Documents, joints: list[JointPlan]) -> None:
    whole = plan(demo.piece, demo.shop)
    ours = assembled(demo.piece, demo.shop, joints)
    assert [s.number for s in ours.setups] == list(range(1, 1 + len(whole.setups)))
    assert [s.height.true for s in ours.setups] == [s.height.true for s in whole.setups]
    assert [j.tested.all_fit for j in ours.joints] == [j.tested.all_fit for j in whole.joints]


def test_a_joint_made_like_before_has_the_settings_it_had(
    demo: Documents, joints: list[JointPlan]
) -> None:
    for task, before in zip(tasks_of(demo.piece, demo.shop), joints, strict=True):
        again = joint_plan(task, demo.shop, demo.piece.climate, like=before.choice.chosen.recipe)
        assert [way.groove.name for way in again.choice.ways] == [before.solution.groove.name]
        assert [(s.height.true, s.fence.true) for s in again.setups] == [
            (s.height.true, s.fence.true) for s in before.setups
        ]
        assert np.array_equal(again.solution.clearance, before.solution.clearance)
        assert [(v.mark, v.verdict, v.over) for v in again.verdicts] == [
            (v.mark, v.verdict, v.over) for v in before.verdicts
        ]
        assert again.tested.all_fit == pytest.approx(before.tested.all_fit, abs=0.01)


def test_a_joint_that_cannot_be_made_like_before_says_so(
    demo: Documents, joints: list[JointPlan]
) -> None:
    wanted = replace(joints[0].wanted, groove_depth=18.0)
    piece = replace(demo.piece, joints=(wanted,))
    with pytest.raises(InfeasibleError, match="no cutter on hand makes it this way"):
        joint_plan(
            tasks_of(piece, demo.shop)[0],
            demo.shop,
            piece.climate,
            like=joints[0].choice.chosen.recipe,
        )


def test_a_fault_names_the_path_of_its_field() -> None:
    text = 'faywright = "piece 1"\ntitle = "Door"\n[[part]]\nname = "ledge"\ntimber = "oak"\n'
    with pytest.raises(DocumentError) as found:
        piece_from_text(text, file="door.toml", folder=None)
    assert found.value.faults[0].path == ("part", 0, "timber")
