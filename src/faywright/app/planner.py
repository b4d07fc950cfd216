"""Planning for pages: a joint is planned again only when something it rests on has changed."""

from __future__ import annotations

import copyreg
import datetime
import pickle
from collections import OrderedDict
from collections.abc import Callable, Hashable
from hashlib import sha256
from io import BytesIO
from threading import Lock
from types import MappingProxyType
from typing import Any, Generic, TypeVar

from faywright.app.bench import Ground, Informed, ground_of
from faywright.app.memory import Memory
from faywright.errors import InfeasibleError
from faywright.joints.wanted import WantedJoint
from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import JointPlan, assembled, joint_plan, task_of, tasks_of
from faywright.piece.shop_file import shop_from_text
from faywright.setups.choice import Way

T = TypeVar("T")

JOINTS_KEPT, GROUNDS_KEPT, PLANS_KEPT, QUICK_KEPT = 160, 24, 8, 16
"""Of each the latest used are kept; a joint takes some 0.4 MB."""


class Planner:
    """Plans pieces from the texts of their documents. Many threads may ask at once."""

    def __init__(self) -> None:
        """Nothing is planned yet."""
        self._joints = _Kept[JointPlan](JOINTS_KEPT)
        self._quick = _Kept[JointPlan](QUICK_KEPT)
        self._grounds = _Kept[Ground](GROUNDS_KEPT)
        self._plans = _Kept[Informed](PLANS_KEPT)
        self._ways = _Kept[Way](JOINTS_KEPT)

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

        A ``quick`` one is made the way that was chosen last for the joint of this name, where
        that still can be; it is not asked whether another way is better now.

        Raises
        ------
        InfeasibleError
            It cannot be made safely with what is on hand.
        InputError
            The documents do not go together.
        """
        shop, climate = ground.known.shop, ground.piece.climate
        task = task_of(ground.piece, shop, wanted)
        key = _fingerprint(task, shop.cutters, shop.species, climate)
        name = (ground.piece.title, wanted.name)
        before = self._ways.peek(name)
        if quick and before is not None and self._joints.peek(key) is None:
            made_so = (before.groove.name, before.tongue.name, _marks(before))
            try:
                # What was looked at while it was typed is kept in a moment.
                return self._quick.get(
                    (key, made_so), lambda: joint_plan(task, shop, climate, like=before)
                )
            except InfeasibleError:
                pass  # not that way any more; all ways are asked below
        made = self._joints.get(key, lambda: joint_plan(task, shop, climate))
        self._ways.put(name, made.choice.chosen)
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


def _marks(way: Way) -> tuple[str, ...]:
    return tuple(cutter.mark for cutter in (*way.groove.cutters, *way.tongue.cutters))


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
