"""A form of one thing of a shop: its fields, the changes that were typed, where faults belong."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from django.http import QueryDict

from faywright.errors import MissingError
from faywright.lengths import LengthStyle, Unit
from faywright.piece.amending import Value
from faywright.web.changing import Add, Drop, Edit, NamedPath, Put, value_at
from faywright.web.fields import MANY, Field, edit_said, path_said, shown, typed, units_of
from faywright.web.pieces.unit_changes import in_units
from faywright.web.shop.shop_keys import TABLES, Key, keys_of
from faywright.web.typed import unit_of

NAMED = {"species": "name"}
"""Key that a thing is known by, where it is not its mark."""

WAS = "was."
"""Begins the names of inputs that tell what a field showed."""


@dataclass(frozen=True)
class Thing:
    """A thing of a shop, or one that is still to be added: what its form is about.

    ``name`` is the mark it is found by, empty for what stands there once; ``stored`` its table.
    """

    table: str
    name: str = ""
    kind: str = ""
    stored: Mapping[str, object] = field(default_factory=dict)
    units: Unit = "mm"

    @property
    def at(self) -> NamedPath:
        """Where it stands in the document."""
        if self.table == "shop":
            return ()
        return (self.table, self.name) if self.table in TABLES else (self.table,)

    @property
    def keys(self) -> tuple[Key, ...]:
        """What may be set of it."""
        return keys_of(self.table, self.kind)

    def value(self, key: Key) -> object:
        """What the document has of a key; a size written as a length alone is the marked one."""
        first = self.stored.get(key.steps[0])
        if len(key.steps) == 1:
            return None if isinstance(first, dict) else first
        if isinstance(first, dict):
            return first.get(key.steps[1])
        return first if key.steps[1] == "marked" else None


def thing_in(tables: Mapping[str, object], table: str, name: str) -> Thing:
    """A thing of the shop with these tables.

    Raises
    ------
    MissingError
        There is none of that name (any more).
    """
    at = Thing(table, name).at
    stored = value_at(tables, at) if at else tables
    if stored is None and table == "habits":
        stored = {}
    if not isinstance(stored, dict):
        raise MissingError(
            f"there is no {table} {name!r}",
            where="shop",
            remedy="Look at the shop as it is now; someone may have removed or renamed it",
        )
    return Thing(table, name, str(stored.get("kind", "")), stored, units_of(tables))


def typed_texts(keys: Sequence[Key], given: QueryDict) -> dict[str, str]:
    """What was typed into the fields that were sent, by key."""
    return {
        key.key: MANY.join(given.getlist(key.key)) if key.kind == "many" else given.get(key.key, "")
        for key in keys
        if key.key in given or f"{WAS}{key.key}" in given
    }


@dataclass(frozen=True)
class Typed:
    """What came with a form and was not kept: texts, what fields showed, and faults, by key."""

    texts: Mapping[str, str] = field(default_factory=dict)
    was: Mapping[str, str] = field(default_factory=dict)
    faults: Mapping[str, str] = field(default_factory=dict)


def sent(keys: Sequence[Key], given: QueryDict, faults: Mapping[str, str]) -> Typed:
    """All that came with a form, to be shown as it was."""
    was = {key.key: given.get(f"{WAS}{key.key}", "") for key in keys if f"{WAS}{key.key}" in given}
    return Typed(typed_texts(keys, given), was, faults)


@dataclass(frozen=True, slots=True)
class Shown:
    """A field, and the name by which its form sends it."""

    name: str
    field: Field


def fields(thing: Thing, style: LengthStyle, typed_: Typed) -> tuple[Shown, ...]:
    """Fields as stored, or as typed and not kept."""
    found = []
    for key in thing.keys:
        stored = shown(key.kind, thing.value(key), style, thing.units)
        one = Field(
            label=key.label,
            path=(*thing.at, *key.steps),
            kind=key.kind,
            shown=typed_.texts.get(key.key, stored),
            unit=key.unit or (unit_of(style) if key.kind == "length" else ""),
            choices=key.choices,
            help=key.help,
            fault=typed_.faults.get(key.key, ""),
            left_out=key.left_out,
            needed=key.needed,
            suggests=key.suggests,
            was=typed_.was.get(key.key, stored),
        )
        found.append(Shown(key.key, one))
    return tuple(found)


@dataclass(frozen=True)
class Wanted:
    """Changes to make, what they are in words, and the keys they are of."""

    edits: tuple[Edit, ...] = ()
    what: str = ""
    keys: tuple[Key, ...] = ()


def changes(thing: Thing, given: QueryDict, style: LengthStyle) -> Wanted:
    """What was changed in the form of a thing that is there; what was left alone is not written."""
    keys = keys_of(thing.table, given.get("kind", thing.kind))
    texts = typed_texts(keys, given)
    changed = [key for key in keys if _is_changed(key, texts, given)]
    values = {key: typed(key.kind, texts[key.key], style, thing.units) for key in changed}
    edits = [*_put(thing, values), *_outlived(thing, keys)]
    if thing.table == "shop":
        edits = _shop_put(thing, edits)
    said = [
        edit_said((*thing.at, *key.steps), key.kind, thing.value(key), values[key], thing.units)
        for key in changed
    ]
    # What a thing is found by changes last, so that all else of it is still found.
    named = (*thing.at, NAMED.get(thing.table, "mark"))
    edits.sort(key=lambda edit: isinstance(edit, Put) and edit.path == named)
    return Wanted(tuple(edits), "; ".join(said)[:500], tuple(changed))


def _is_changed(key: Key, texts: Mapping[str, str], given: QueryDict) -> bool:
    """Whether a field was typed into, and is not to be as someone else has put it."""
    if key.key not in texts or key.key in given.getlist("theirs"):
        return False
    return texts[key.key].strip() != given.get(f"{WAS}{key.key}", "").strip()


def _shop_put(thing: Thing, edits: Sequence[Put]) -> list[Put]:
    """With another unit of bare numbers, those that are there get the old one."""
    found: list[Put] = []
    for edit in edits:
        if edit.path == ("units",):
            unit = "mm" if edit.value is None else str(edit.value)
            found += [each for each in in_units(thing.stored, unit) if each.path != ("units",)]
        found.append(edit)
    return found


def _put(thing: Thing, values: Mapping[Key, Value | None]) -> Iterator[Put]:
    """One change a field; a table inside that is written as one value is put as a whole."""
    whole: dict[str, dict[str, Value]] = {}
    for key, value in values.items():
        first = thing.stored.get(key.steps[0])
        if len(key.steps) == 1:
            if value is not None or first is not None:
                yield Put((*thing.at, *key.steps), value)
        elif isinstance(first, dict) and not _emptied(first, key.steps[0], values):
            if value is not None or first.get(key.steps[1]) is not None:
                yield Put((*thing.at, *key.steps), value)
        else:
            whole.setdefault(
                key.steps[0],
                {} if first is None or isinstance(first, dict) else {"marked": _value(first)},
            )
            if value is None:
                whole[key.steps[0]].pop(key.steps[1], None)
            else:
                whole[key.steps[0]][key.steps[1]] = value
    for name, table in whole.items():
        if table or thing.stored.get(name) is not None:
            yield Put((*thing.at, name), _alone(table, thing.stored.get(name)))


def _alone(table: dict[str, Value], before: object) -> Value | None:
    """A table to write; a size that was a length alone stays one where nothing else is known."""
    if not table:
        return None
    if set(table) == {"marked"} and not isinstance(before, dict):
        return table["marked"]
    return dict(table)


def _emptied(stored: Mapping[str, object], name: str, values: Mapping[Key, Value | None]) -> bool:
    """Whether nothing of an inner table would be left."""
    gone = {key.steps[1] for key, value in values.items() if key.steps[0] == name and value is None}
    kept = {
        key.steps[1] for key, value in values.items() if key.steps[0] == name and value is not None
    }
    return not kept and gone >= set(stored)


def _outlived(thing: Thing, keys: Sequence[Key]) -> Iterator[Put]:
    """What a cutter has no more after its kind was changed."""
    if thing.table != "cutter":
        return
    known = {key.steps[0] for key in keys}
    for name in thing.stored:
        if name not in known:
            yield Put((*thing.at, name), None)


def _value(stored: object) -> Value:
    """A length as a document has it."""
    return stored if isinstance(stored, (str, int, float)) else str(stored)


def addition(table: str, kind: str, given: QueryDict, style: LengthStyle, units: Unit) -> Wanted:
    """A thing more, from the form of a new one."""
    keys = keys_of(table, kind)
    values: dict[str, Value] = {}
    for key in keys:
        text = typed_texts((key,), given).get(key.key, "")
        value = typed(key.kind, text, style, units)
        if value is None:
            continue
        if len(key.steps) == 1:
            values[key.steps[0]] = value
            continue
        inner = values.setdefault(key.steps[0], {})
        if isinstance(inner, dict):
            inner[key.steps[1]] = value
    name = str(values.get(NAMED.get(table, "mark"), ""))
    return Wanted((Add(table, values),), f"{table} {name} added".replace("  ", " "), keys)


def removal(thing: Thing) -> Wanted:
    """A thing less."""
    return Wanted((Drop(thing.at),), f"{path_said(thing.at)} removed")
