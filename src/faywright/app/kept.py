"""Values kept by what they rest on: the latest as they are, older ones folded up small."""

from __future__ import annotations

import copyreg
import pickle
import zlib
from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import fields, is_dataclass
from functools import cache
from hashlib import sha256
from io import BytesIO
from threading import Lock
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

T = TypeVar("T")

TURN = Lock()
"""Held by whoever does work that takes long: one at a time, so that quick answers stay quick.

It is taken last: who holds it must not ask for what another may be making meanwhile.
"""


class Kept(Generic[T]):
    """The latest used values by their keys; what is being made is waited for, not made twice.

    Beyond ``most`` of them, ``folded`` more are kept as bytes: a joint's plan takes a tenth of the
    room then, and a hundredth of the time it took to make until it is there again.
    """

    def __init__(self, most: int, *, folded: int = 0) -> None:
        """Nothing is kept yet."""
        self._most, self._most_folded = most, folded
        self._values: OrderedDict[Hashable, T] = OrderedDict()
        self._folded: OrderedDict[Hashable, bytes] = OrderedDict()
        self._making: dict[Hashable, Lock] = {}
        self._lock = Lock()

    def peek(self, key: Hashable) -> T | None:
        """The value, if it is kept."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
                return self._values[key]
            small = self._folded.get(key)
        if small is None:
            return None
        value = cast("T", pickle.loads(zlib.decompress(small)))  # noqa: S301 - folded here
        self.put(key, value)
        return value

    def put(self, key: Hashable, value: T) -> None:
        """Keep a value, and fold up or forget the one that was not used for longest."""
        with self._lock:
            self._values[key] = value
            self._values.move_to_end(key)
            over = len(self._values) > self._most
            old = self._values.popitem(last=False) if over else None
        if old is not None and self._most_folded:
            self._fold(*old)

    def get(self, key: Hashable, make: Callable[[], T]) -> T:
        """The value, made if it is not kept."""
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

    def _fold(self, key: Hashable, value: T) -> None:
        with self._lock:
            known = key in self._folded
        small = b"" if known else zlib.compress(_written(value), level=1)
        with self._lock:
            if not known:
                self._folded[key] = small
            self._folded.move_to_end(key)
            while len(self._folded) > self._most_folded:
                self._folded.popitem(last=False)


def fingerprint(*values: object) -> bytes:
    """What stands for ``values`` as a key: equal texts of documents give equal ones.

    Of a dataclass its fields count, not what it has worked out from them since and keeps.
    """
    out = BytesIO()
    _ByFields(out, protocol=pickle.HIGHEST_PROTOCOL).dump(values)
    return sha256(out.getvalue()).digest()


class _ByFields(pickle.Pickler):
    """Writes what is only ever compared, never read again."""

    def reducer_override(self, value: Any) -> Any:  # noqa: ANN401 - as pickle has it
        kind = type(value)
        if kind is MappingProxyType:
            return dict, (dict(value),)
        if is_dataclass(kind):
            return kind, tuple(getattr(value, each) for each in _names(kind))
        return NotImplemented


@cache
def _names(kind: type[DataclassInstance]) -> tuple[str, ...]:
    return tuple(each.name for each in fields(kind))


def _written(value: object) -> bytes:
    out = BytesIO()
    pickler = pickle.Pickler(out, protocol=pickle.HIGHEST_PROTOCOL)
    pickler.dispatch_table = _REDUCED
    pickler.dump(value)
    return out.getvalue()


Fixed = MappingProxyType[object, object]


def _reduced(mapping: Fixed) -> tuple[Callable[[dict[object, object]], Fixed], tuple[object]]:
    return _fixed, (dict(mapping),)


def _fixed(mapping: dict[object, object]) -> Fixed:
    return MappingProxyType(mapping)  # its class has no name that a pickle could go by


_REDUCED: dict[type, Callable[[Any], Any]] = {
    **copyreg.dispatch_table,
    MappingProxyType: _reduced,
}
"""Mappings that cannot be changed are not pickled otherwise."""
