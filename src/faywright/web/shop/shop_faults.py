"""Faults of a shop file beside the fields of the form that they belong to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from faywright.errors import DocumentError, Fault
from faywright.web.shop.shop_form import Wanted
from faywright.web.shop.shop_keys import ONCE, Key


@dataclass(frozen=True)
class Beside:
    """Faults by the key of their field, and those that belong to none, for the top of a form."""

    fields: Mapping[str, str]
    rest: tuple[str, ...] = ()


def faults_beside(
    error: DocumentError, at: tuple[str | int, ...], wanted: Wanted, keys: Sequence[Key]
) -> Beside:
    """Each fault of a document beside the field of a form it is of, if it is of one.

    ``at`` is where the thing of the form stands in the document that has the faults.
    """
    found: dict[str, list[str]] = {}
    rest: list[str] = []
    for fault in error.faults:
        said = f"{fault.what[:1].upper()}{fault.what[1:]}. {fault.remedy}."
        key = _key_of(fault, at, wanted, keys)
        if key is None:
            rest.append(f"{fault.field}: {said}")
        else:
            found.setdefault(key.key, []).append(said)
    return Beside({key: " ".join(said) for key, said in found.items()}, tuple(rest))


def _key_of(
    fault: Fault, at: tuple[str | int, ...], wanted: Wanted, keys: Sequence[Key]
) -> Key | None:
    """The key that a fault names, the only one that was changed, or the one it begins with."""
    if fault.path[: len(at)] != at:
        return next((key for key in keys if key.told == ONCE and ONCE[0] in fault.what), None)
    inside = fault.path[len(at) :]
    for length in range(len(inside), 0, -1):
        named = [key for key in keys if key.steps == inside[:length]]
        if named:
            return named[0]
    if len(wanted.keys) == 1:
        return wanted.keys[0]
    changed_first = sorted(keys, key=lambda key: key not in wanted.keys)
    told = [key for key in changed_first if _tells(fault, key)]
    within = [key for key in changed_first if inside and key.steps[0] == inside[0]]
    return next(iter([*told, *within]), None)


def _tells(fault: Fault, key: Key) -> bool:
    """Whether a fault that names only a table is told of this key."""
    if key.told == ONCE:
        return ONCE[0] in fault.what
    return bool(key.told) and fault.what.startswith(key.told)
