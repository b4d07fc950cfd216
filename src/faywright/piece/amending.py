"""Changing one field of a document's text and leaving every other line as it is.

What a change means is judged afterwards, when the text is read; here it is only written down.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NoReturn, TypeVar

from faywright.errors import InputError
from faywright.piece.toml_adding import dotted, with_header, with_line
from faywright.piece.toml_cut import Section, passed
from faywright.piece.toml_entries import with_entry
from faywright.piece.toml_lines import FieldPath
from faywright.piece.toml_tables import Statement, TomlText
from faywright.piece.toml_written import written, written_key
from faywright.piece.values import kind_of, short

Value = str | int | float | bool | date | list["Value"] | dict[str, "Value"]
"""What a field may be given: as ``tomllib`` would give it back."""

Step = TypeVar("Step", str, int)

_EMPTY = re.compile(r"(?:[ \t]*\r?\n)*")


def amended(text: str, path: FieldPath, value: Value | None) -> str:
    r"""The text with one field set, added or, for None, removed.

    Tables on the way to a new field are made if there are none. A table that is left without
    fields stays; a list of ``[[...]]`` tables goes with the last of them.

    Raises
    ------
    InputError
        The text is not TOML, the path leads nowhere, or TOML has no such value.

    Examples
    --------
    >>> print(amended('title = "Door"  # oak\n', ("title",), "Gate"), end="")
    title = "Gate"  # oak
    """
    bom, bare = _parted(text)
    return bom + _amended(bare, path, value)


def _amended(text: str, path: FieldPath, value: Value | None) -> str:
    toml = TomlText(text)
    found, steps = _followed(toml.data, path)
    if steps < len(path):
        if value is None:
            _nowhere(path, "there is no such field to remove")
        return _added(toml, path, steps, found, value)
    held = toml.holding(path)
    if held is not None:
        return _rewritten(toml, held, path, value)
    return _without(toml, path) if value is None else _remade(toml, path, found, value)


def with_table(text: str, key: str | FieldPath, values: Mapping[str, Value]) -> str:
    r"""The text with a ``[[key]]`` table more, after the last of its kind or at the end.

    ``key`` may be the path of a list inside another table, ``("climate", "season")``.

    Raises
    ------
    InputError
        The text is not TOML, there is something else under that key, or TOML has no such value.

    Examples
    --------
    >>> print(with_table('[[joint]]\nname = "back"\n', "joint", {"name": "lid"}), end="")
    [[joint]]
    name = "back"
    <BLANKLINE>
    [[joint]]
    name = "lid"
    """
    bom, bare = _parted(text)
    return bom + _with_table(bare, (key,) if isinstance(key, str) else key, values)


def _with_table(text: str, path: FieldPath, values: Mapping[str, Value]) -> str:
    toml = TomlText(text)
    found, steps = _followed(toml.data, path)
    if not path or not isinstance(path[-1], str) or (steps == len(path) and not _tables(found)):
        _nowhere(path, "it is not a list of tables")
    there = found if steps == len(path) and isinstance(found, list) else []
    if toml.holding(path) or (steps < len(path) and toml.holding(path[:-1])):
        return _amended(text, path, [*there, dict(values)])
    if steps < len(path) and not _takes(found, path[steps]):
        _nowhere(path, f"{named(path[:steps])} is {kind_of(found)}, and has no such place")
    return with_header(toml, f"[[{dotted(path)}]]", values, after=path if there else path[:-1])


def without_table(text: str, path: FieldPath) -> str:
    """The text without the table at ``path``, ``("joint", 1)`` or ``("climate",)``.

    What stands inside it goes with it, and so do comments right above its header and right
    below its last line.

    Raises
    ------
    InputError
        The text is not TOML, or there is no table there.
    """
    bom, bare = _parted(text)
    found, steps = _followed(TomlText(bare).data, path)
    if steps < len(path) or not isinstance(found, dict):
        _nowhere(path, "there is no such table to remove")
    return bom + _amended(bare, path, None)


def _parted(text: str) -> tuple[str, str]:
    """The byte order mark that a text may begin with, and the rest."""
    bare = text.removeprefix("\ufeff")
    return text[: len(text) - len(bare)], bare


def _followed(data: Mapping[str, object], path: FieldPath) -> tuple[object, int]:
    """What stands at ``path``, or as far as it leads, and how many steps that is."""
    if not path:
        _nowhere(path, "no field is named")
    found: object = data
    for number, step in enumerate(path):
        inner: object = None
        if isinstance(found, dict):
            inner = found.get(step)
        elif isinstance(found, list) and isinstance(step, int):
            inner = found[step] if 0 <= step < len(found) else None
        if inner is None:
            return found, number
        found = inner
    return found, len(path)


def _rewritten(toml: TomlText, held: Statement, path: FieldPath, value: Value | None) -> str:
    """With a field that a statement holds set or removed."""
    inner = path[len(held.path) :]
    if inner:
        new = with_entry(toml.text[held.value : held.after], inner, value)
    elif value is None:
        return _with_table_kept(toml, _less(toml.text, [(held.start, held.end)]), path)
    else:
        new = written(value)
    return toml.text[: held.value] + new + toml.text[held.after :]


def _without(toml: TomlText, path: FieldPath) -> str:
    """Without a table or list that is made by headers or by dots in keys."""
    spans = [(each.start, each.end) for each in toml.dotted(path)]
    spans += [_block(toml, each) for each in toml.under(path)]
    spans.sort()
    return _with_table_kept(toml, _less(toml.text, spans), path)


def _block(toml: TomlText, section: Section) -> tuple[int, int]:
    """A table with the comments that are its own, and the empty lines below."""
    return toml.lead(section), passed(_EMPTY, toml.text, toml.close(section))


def _less(text: str, spans: Sequence[tuple[int, int]]) -> str:
    kept, at = "", 0
    for start, end in spans:
        kept += text[at:start]
        at = end
    return kept + text[at:]


def _with_table_kept(before: TomlText, text: str, path: FieldPath) -> str:
    """The table around a field that was removed stays, also where only that field made it."""
    around = path[:-2] if isinstance(path[-1], int) else path[:-1]
    if before.section(around) or _followed(TomlText(text).data, around)[1] == len(around):
        return text
    return _amended(text, around, {})


def _remade(toml: TomlText, path: FieldPath, found: object, value: Value) -> str:
    """With a table or list that is made by headers or by dots in keys set anew."""
    text = toml.text
    if isinstance(found, dict) and isinstance(value, dict):
        for key in found:
            if key not in value:
                text = _amended(text, (*path, key), None)
        return _each_set(text, path, found, value.items())
    if isinstance(found, list) and isinstance(value, list) and value and _tables(value):
        for number in range(len(found) - 1, len(value) - 1, -1):
            text = _amended(text, (*path, number), None)
        return _each_set(text, path, dict(enumerate(found)), enumerate(value))
    if isinstance(path[-1], int):
        _nowhere(path, "an entry of a list of tables can only be a table")
    return _amended(_without(toml, path), path, value)


def _each_set(
    text: str,
    path: FieldPath,
    found: Mapping[Step, object],
    wanted: Iterable[tuple[Step, Value]],
) -> str:
    """With those fields set that are not yet as wanted."""
    for step, value in wanted:
        if step not in found or repr(found[step]) != repr(value):
            text = _amended(text, (*path, step), value)
    return text


def _added(toml: TomlText, path: FieldPath, steps: int, found: object, value: Value) -> str:
    """With a field that is not there, and what is missing on the way to it."""
    parent, key = path[:steps], path[steps]
    for step in reversed(path[steps + 1 :]):
        if not isinstance(step, str):
            _nowhere(path, f"{named(path[: steps + 1])} is not there")
        value = {step: value}
    if not _takes(found, key):
        _nowhere(path, f"{named(parent)} is {kind_of(found)}, and has no such place")
    held = toml.holding(parent)
    if held is not None:
        return _rewritten(toml, held, (*parent, key), value)
    if isinstance(key, int):
        if not isinstance(value, dict):
            _nowhere(path, "an entry of a list of tables can only be a table")
        return _with_table(toml.text, parent, value)
    if not parent and isinstance(value, dict):
        return with_header(toml, f"[{written_key(key)}]", value, after=())
    return with_line(toml, parent, key, value)


def _takes(found: object, key: str | int) -> bool:
    if isinstance(found, list):
        return key == len(found)
    return isinstance(found, dict) and isinstance(key, str)


def _tables(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(each, dict) for each in value)


def named(path: FieldPath) -> str:
    """A field as a maker would point at it, entries of lists counted from 1.

    >>> named(("joint", 0, "groove", "part"))
    'joint 1: groove: part'
    """
    words = ""
    for step in path:
        words += (
            f" {step + 1}" if isinstance(step, int) else f"{': ' if words else ''}{short(step)}"
        )
    return words or "document"


def _nowhere(path: FieldPath, what: str) -> NoReturn:
    remedy = "Give the path of a field that is there, or of one that a table there could have"
    raise InputError(what, where=named(path), remedy=remedy)
