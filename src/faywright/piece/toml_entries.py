"""A change inside one list or inline table, which keeps the layout and comments around it."""

from __future__ import annotations

import tomllib
from typing import cast

import tomlkit
from tomlkit.exceptions import TOMLKitError

from faywright.piece.toml_lines import FieldPath
from faywright.piece.toml_written import written

Nest = dict[str | int, object] | list[object]


def with_entry(raw: str, path: FieldPath, value: object | None) -> str:
    """A list or inline table as written, with what stands at ``path`` in it set or taken out.

    A place just after the end of a list adds to it. The path leads somewhere.

    >>> with_entry('{ marked = "1/4 in" }', ("measured",), 6.29)
    '{ marked = "1/4 in", measured = 6.29 }'
    """
    wanted = _read(raw)
    _put(wanted, path, value)
    try:
        laid_out = _laid_out(raw, path, value)
        if repr(_read(laid_out)) == repr(wanted):
            return laid_out
    except (TOMLKitError, tomllib.TOMLDecodeError, RecursionError):
        pass  # it is at a loss with some dots in the keys of inline tables, and great depths
    return written(wanted)


def _laid_out(raw: str, path: FieldPath, value: object | None) -> str:
    item = tomlkit.value(raw)
    _put(item, path, None if value is None else tomlkit.value(written(value)))
    changed = item.as_string()
    return f"{{ {changed[1:-1].strip(' ')} }}" if raw.startswith("{ ") else changed


def _put(node: object, path: FieldPath, value: object | None) -> None:
    for step in path[:-1]:
        node = cast("Nest", node)[cast("int", step)]
    nest, last = cast("Nest", node), cast("int", path[-1])
    if value is None:
        del nest[last]
    elif isinstance(nest, list) and last == len(nest):
        nest.append(value)
    else:
        nest[last] = value


def _read(raw: str) -> object:
    return tomllib.loads(f"value = {raw}")["value"]
