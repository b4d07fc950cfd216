"""Pages plan a joint once, and again only when something it rests on has changed."""

from __future__ import annotations

import datetime
from pathlib import Path
from threading import Thread

import pytest

from faywright.app.bench import Ground
from faywright.app.memory import Memory
from faywright.app.planner import Planner
from faywright.joints.task import JointTask
from faywright.piece.boards_inside import with_boards_inside
from faywright.piece.climate_table import PieceClimate
from faywright.piece.plan import JointPlan, joint_plan, plan
from faywright.setups.choice import Recipe
from faywright.shop.inventory import Shop

FOLDER = Path("examples/hall-bench")
SHOP = (FOLDER / "shop.toml").read_text(encoding="utf-8")
PIECE = with_boards_inside(
    (FOLDER / "piece.toml").read_text(encoding="utf-8"),
    (FOLDER / "boards.csv").read_text(encoding="utf-8"),
    file="boards.csv",
)
TODAY = datetime.date(2026, 11, 25)
RUNNER = 1


def ground(planner: Planner, piece: str = PIECE, shop: str = SHOP) -> Ground:
    return planner.ground(piece, shop, lambda _: Memory(), today=TODAY)


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the joints that were planned, one for each time."""
    names: list[str] = []

    def counted(
        task: JointTask, shop: Shop, climate: PieceClimate | None, *, like: Recipe | None = None
    ) -> JointPlan:
        names.append(task.wanted.name)
        return joint_plan(task, shop, climate, like=like)

    monkeypatch.setattr("faywright.app.planner.joint_plan", counted)
    return names


def test_the_plan_is_the_one_of_the_command_line() -> None:
    planner = Planner()
    at = ground(planner)
    ours, usual = planner.plan(at).plan, plan(at.piece, at.known.shop)
    assert [s.height.true for s in ours.setups] == [s.height.true for s in usual.setups]
    assert [s.number for s in ours.setups] == [s.number for s in usual.setups]
    assert [j.tested.all_fit for j in ours.joints] == [j.tested.all_fit for j in usual.joints]


def test_a_joint_is_planned_once(made: list[str]) -> None:
    planner = Planner()
    for _ in range(3):
        at = ground(planner)
        planner.joint(at, at.piece.joints[RUNNER])
    assert made == ["drawer runner"]


def test_a_change_of_one_joint_plans_that_one_again(made: list[str]) -> None:
    planner = Planner()
    planner.plan(ground(planner))
    made.clear()
    planner.plan(ground(planner, PIECE.replace("groove_depth = 6.5", "groove_depth = 6.4")))
    assert made == ["drawer runner"]
    planner.plan(ground(planner))  # back again
    assert made == ["drawer runner"]


def test_other_joints_are_not_planned_again_in_whatever_order_one_looked_at_them(
    made: list[str],
) -> None:
    planner = Planner()
    planner.joint(ground(planner), ground(planner).piece.joints[RUNNER])
    at = ground(planner, PIECE.replace('order = "free"', 'order = "free"\nfilm = 0.02'))
    planner.joint(at, at.piece.joints[RUNNER])
    assert made == ["drawer runner"]


@pytest.mark.parametrize(
    "change",
    [
        ("diameter = 47.6", "diameter = 47.2"),
        ("repeatability = 0.03", "repeatability = 0.04"),
        ("work_lift = 0.02", "work_lift = 0.05"),
        ("table_opening = 64", "table_opening = 60"),
    ],
)
def test_a_change_of_the_shop_plans_anew(made: list[str], change: tuple[str, str]) -> None:
    planner = Planner()
    planner.plan(ground(planner))
    made.clear()
    planner.plan(ground(planner, shop=SHOP.replace(*change)))
    assert sorted(made) == ["back", "drawer runner"]


def test_a_quick_answer_keeps_to_the_way_chosen_before() -> None:
    planner = Planner()
    before = planner.joint(ground(planner), ground(planner).piece.joints[RUNNER])
    at = ground(planner, PIECE.replace("groove_depth = 6.5", "groove_depth = 6.0"))
    quick = planner.joint(at, at.piece.joints[RUNNER], quick=True)
    assert len(quick.choice.ways) == 1
    assert quick.solution.groove.name == before.solution.groove.name
    assert len(planner.joint(at, at.piece.joints[RUNNER]).choice.ways) > 1


def test_a_quick_answer_takes_the_next_way_where_the_last_is_gone(made: list[str]) -> None:
    planner = Planner()
    planner.joint(ground(planner), ground(planner).piece.joints[0])
    deeper = PIECE.replace('order = "free"', 'order = "free"\ngroove_depth = 12.0')
    fewer = SHOP.replace("slot_depth = 12.7", "slot_depth = 5")
    at = ground(planner, deeper, fewer)
    made.clear()
    quick = planner.joint(at, at.piece.joints[0], quick=True)
    assert "C3" not in {cutter.mark for cutter in quick.choice.chosen.tongue.cutters}
    assert len(made) >= 2  # the last way was tried before


def test_a_quick_answer_looks_at_all_ways_where_none_of_the_old_is_left() -> None:
    planner = Planner()
    planner.joint(ground(planner), ground(planner).piece.joints[RUNNER])
    others = SHOP.replace('mark = "C', 'mark = "D')
    at = ground(planner, shop=others)
    quick = planner.joint(at, at.piece.joints[RUNNER], quick=True)
    assert len(quick.choice.ways) > 1


def test_threads_that_ask_for_the_same_wait_for_one_answer(made: list[str]) -> None:
    planner = Planner()
    at = ground(planner)
    found: list[JointPlan] = []
    threads = [
        Thread(target=lambda: found.append(planner.joint(at, at.piece.joints[RUNNER])))
        for _ in range(4)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert made == ["drawer runner"]
    assert len({id(each) for each in found}) == 1
