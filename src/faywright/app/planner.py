"""Planning for pages: a joint is planned again only when something it rests on has changed."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import replace
from functools import partial

from faywright.app.bench import Ground, Informed, ground_of
from faywright.app.kept import TURN, Kept, fingerprint
from faywright.app.memory import Memory
from faywright.errors import InfeasibleError
from faywright.joints.task import JointTask
from faywright.joints.wanted import WantedJoint
from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import JointPlan, assembled, joint_plan, task_of, tasks_of
from faywright.piece.shop_file import shop_from_text
from faywright.setups.choice import Choice, Recipe

JOINTS_KEPT, JOINTS_FOLDED = 64, 1000
"""Joints kept as they are, of some 0.4 MB each, and folded up to some 25 kB."""

GROUNDS_KEPT, TASKS_KEPT, PLANS_KEPT, QUICK_KEPT, RECIPES_KEPT = 48, 160, 6, 16, 1000
"""Of each the latest used are kept."""

QUICK_TRIES = 4
"""Ways that are tried one by one, the best of last time first, before all are looked at."""


class Planner:
    """Plans pieces from the texts of their documents. Many threads may ask at once."""

    def __init__(self) -> None:
        """Nothing is planned yet."""
        self._joints = Kept[JointPlan](JOINTS_KEPT, folded=JOINTS_FOLDED)
        self._quick = Kept[JointPlan](QUICK_KEPT)
        self._tasks = Kept[tuple[JointTask, bytes]](TASKS_KEPT)
        self._grounds = Kept[Ground](GROUNDS_KEPT)
        self._plans = Kept[Informed](PLANS_KEPT)
        self._recipes = Kept[tuple[Recipe, ...]](RECIPES_KEPT)

    def ground(
        self, piece: str, shop: str, memory: Callable[[str], Memory], *, today: datetime.date
    ) -> Ground:
        """What the texts say of piece and shop, with what is remembered of the shop.

        ``memory`` tells that by the title of the shop.

        Raises
        ------
        DocumentError
            A text has faults.
        """
        found = shop_from_text(shop, file="shop")
        known = memory(found.title)
        key = fingerprint(piece, shop, known, today)

        def make() -> Ground:
            read = piece_from_text(piece, file="piece", folder=None).piece
            return replace(ground_of(read, found, known, today=today), mark=key)

        return self._grounds.get(key, make)

    def joint(self, ground: Ground, wanted: WantedJoint, *, quick: bool = False) -> JointPlan:
        """The plan of one joint, its setups numbered from 1.

        A ``quick`` one is made the best of the ways that were safe last time for the joint of this
        name, if any still is; it is not asked whether another way is better now.

        Raises
        ------
        InfeasibleError
            It cannot be made safely with what is on hand.
        InputError
            The documents do not go together.
        """
        task, key = self._tasks.get((ground, wanted), lambda: self._task(ground, wanted))
        made = self._joints.peek(key)
        if made is None and quick:
            made = self._quickly(task, ground, key)
        return made or self._joints.get(key, lambda: self._thoroughly(task, ground, key))

    def _task(self, ground: Ground, wanted: WantedJoint) -> tuple[JointTask, bytes]:
        """A task, and what stands for all that its plan rests on."""
        shop = ground.known.shop
        task = task_of(ground.piece, shop, wanted)
        return task, fingerprint(task, shop.cutters, shop.species, ground.piece.climate)

    def _quickly(self, task: JointTask, ground: Ground, key: bytes) -> JointPlan | None:
        """A plan made as last time; None where none of those ways can be gone any more."""
        name = (ground.piece.title, task.wanted.name)
        for recipe in (self._recipes.peek(name) or ())[:QUICK_TRIES]:
            # What was looked at while it was typed is kept in a moment.
            make = partial(joint_plan, task, ground.known.shop, ground.piece.climate, like=recipe)
            try:
                return self._quick.get((key, recipe), make)
            except InfeasibleError:
                continue
        return None

    def _thoroughly(self, task: JointTask, ground: Ground, key: bytes) -> JointPlan:
        """A plan for which all ways are looked at."""
        with TURN:
            made = joint_plan(task, ground.known.shop, ground.piece.climate)
        name = (ground.piece.title, task.wanted.name)
        self._recipes.put(name, _recipes(made.choice))
        return replace(made, mark=key)

    def plan(self, ground: Ground) -> Informed:
        """The whole plan, made of joints that are kept where they are.

        Raises
        ------
        InfeasibleError
            A joint cannot be made safely with what is on hand.
        InputError
            The documents do not go together.
        """

        def make() -> Informed:
            tasks = tasks_of(ground.piece, ground.known.shop)
            joints = [self.joint(ground, task.wanted) for task in tasks]
            return ground.informed(assembled(ground.piece, ground.known.shop, joints))

        return self._plans.get(ground, make)


def _recipes(choice: Choice) -> tuple[Recipe, ...]:
    """The chosen way, then the other allowed ones in order of rank."""
    ways = [choice.chosen, *choice.allowed]
    return tuple(dict.fromkeys(way.recipe for way in ways))
