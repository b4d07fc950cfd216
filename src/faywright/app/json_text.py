"""The store as one JSON text."""

from __future__ import annotations

import json

from faywright.app.records import Contents
from faywright.app.sheets import COLUMNS, FORMAT, VERSION, check_version, contents_of, sheets_of
from faywright.errors import InputError


def json_of(contents: Contents) -> str:
    """The contents as JSON; ``contents_of_json`` gives them back."""
    parts = [f'"format": {_json(FORMAT)}', f'"version": {_json(VERSION)}']
    for name, rows in sheets_of(contents).items():
        # A row a line: quick to write, and two exports can be compared by eye.
        lines = ",\n ".join(_json(row) for row in rows)
        parts.append(f"{_json(name)}: [\n {lines}\n]")
    return "{\n" + ",\n".join(parts) + "\n}\n"


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def contents_of_json(text: str, *, where: str) -> Contents:
    """The contents that ``json_of`` told.

    Raises
    ------
    InputError
        The text is something else, or of a version that is not known.
    """
    try:
        told = json.loads(text)
    except (ValueError, RecursionError) as error:
        what = f"it is not JSON ({error})"
        raise InputError(what, where=where, remedy="Give what the store exported") from None
    if not isinstance(told, dict):
        raise InputError("it is not an export", where=where, remedy="Give what the store exported")
    check_version(told.pop("format", None), told.pop("version", None), where=where)
    for name, rows in told.items():
        if name not in COLUMNS or not isinstance(rows, list):
            remedy = f"Give lists of rows: {', '.join(COLUMNS)}"
            what = "it is not a list of rows that is known"
            raise InputError(what, where=f"{where}: {name}", remedy=remedy)
    return contents_of(told, where=where)
