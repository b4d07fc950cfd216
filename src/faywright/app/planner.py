"""Planning for pages: a joint is planned again only when something it rests on has changed."""

from __future__ import annotations

import copyreg
import datetime
import pickle
from collections import OrderedDict
from collections.abc import Callable, Hashable
from functools import partial
from hashlib import sha256
from io import BytesIO
from threading import Lock
from types import MappingProxyType
from typing import Any, Generic, TypeVar

from faywright.app.bench import Ground, Informed, ground_of
from faywright.app.memory import Memory
from faywright.errors import InfeasibleError
from faywright.joints.task import JointTask
from faywright.joints.wanted import WantedJoint
from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import JointPlan, assembled, joint_plan, task_of, tasks_of
from faywright.piece.shop_file import shop_from_text
from faywright.setups.choice import Choice, Recipe

T = TypeVar("T")

JOINTS_KEPT, GROUNDS_KEPT, PLANS_KEPT, QUICK_KEPT, RECIPES_KEPT = 110, 24, 6, 16, 500
"""Of each the latest used are kept; a joint takes some 0.4 MB."""

QUICK_TRIES = 4
"""Ways that are tried one by one, the best of last time first, before all are looked at."""


class Planner:
    """Plans pieces from the texts of their documents. Many threads may ask at once."""

    def __init__(self) -> None:
        """Nothing is planned yet."""
        self._joints = _Kept[JointPlan](JOINTS_KEPT)
        self._quick = _Kept[JointPlan](QUICK_KEPT)
        self._grounds = _Kept[Ground](GROUNDS_KEPT)
        self._plans = _Kept[Informed](PLANS_KEPT)
        self._recipes = _Kept[tuple[Recipe, ...]](RECIPES_KEPT)
        self._thorough = Lock()

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
        key = _fingerprint(piece, shop, known, today)

        def make() -> Ground:
            read = piece_from_text(piece, file="piece", folder=None).piece
            return ground_of(read, found, known, today=today)

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
        task = task_of(ground.piece, ground.known.shop, wanted)
        key = self._key(task, ground)
        made = self._joints.peek(key)
        if made is None and quick:
            made = self._quickly(task, ground, key)
        return made or self._joints.get(key, lambda: self._thoroughly(task, ground))

    def _key(self, task: JointTask, ground: Ground) -> bytes:
        """What a joint's plan rests on."""
        shop = ground.known.shop
        return _fingerprint(task, shop.cutters, shop.species, ground.piece.climate)

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

    def _thoroughly(self, task: JointTask, ground: Ground) -> JointPlan:
        """A plan for which all ways are looked at: one at a time, or quick answers would wait."""
        with self._thorough:
            made = joint_plan(task, ground.known.shop, ground.piece.climate)
        name = (ground.piece.title, task.wanted.name)
        self._recipes.put(name, _recipes(made.choice))
        return made

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


class _Kept(Generic[T]):
    """The latest used values by their keys; what is being made is waited for, not made twice."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._values: OrderedDict[Hashable, T] = OrderedDict()
        self._making: dict[Hashable, Lock] = {}
        self._lock = Lock()

    def peek(self, key: Hashable) -> T | None:
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
            return self._values.get(key)

    def put(self, key: Hashable, value: T) -> None:
        with self._lock:
            self._values[key] = value
            self._values.move_to_end(key)
            while len(self._values) > self._most:
                self._values.popitem(last=False)

    def get(self, key: Hashable, make: Callable[[], T]) -> T:
        found = self.peek(key)
        if found is not None:
            return found
        with self._lock:
            making = self._making.setdefault(key, Lock())
        with making:
            found = self.peek(key)
            if found is None:
                try:
                    found = make()
                finally:
                    with self._lock:
                        self._making.pop(key, None)
                self.put(key, found)
        return found


def _fingerprint(*values: object) -> bytes:
    """What stands for ``values`` as a key: equal texts of documents give equal ones."""
    written = BytesIO()
    pickler = pickle.Pickler(written, protocol=pickle.HIGHEST_PROTOCOL)  # never read again
    pickler.dispatch_table = _REDUCED
    pickler.dump(values)
    return sha256(written.getvalue()).digest()


def _plain(mapping: MappingProxyType[object, object]) -> tuple[type, tuple[object]]:
    return dict, (dict(mapping),)


_REDUCED: dict[type, Callable[[Any], Any]] = {
    **copyreg.dispatch_table,
    MappingProxyType: _plain,
}
"""Mappings that cannot be changed are not pickled otherwise."""
