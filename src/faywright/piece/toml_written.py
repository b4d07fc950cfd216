"""Values as TOML writes them."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from datetime import date, datetime, time

from faywright.errors import InputError
from faywright.piece.toml_lines import BARE_KEY
from faywright.piece.values import shown

DEEPEST = 20
"""Lists and tables further inside each other than this are refused."""

_BARE = re.compile(BARE_KEY)
_HALVES = re.compile("[\ud800-\udfff]")


def written(value: object, *, depth: int = 0) -> str:
    """A value on one line, tables as inline ones.

    Raises
    ------
    InputError
        TOML has no such value.

    >>> print(written({"marked": "1/4 in", "measured": 6.29, "sound": True}))
    { marked = "1/4 in", measured = 6.29, sound = true }
    """
    if depth > DEEPEST:
        raise _refused("lists and tables stand too deep inside each other")
    if isinstance(value, list):
        return f"[{', '.join(written(each, depth=depth + 1) for each in value)}]"
    if isinstance(value, Mapping):
        inner = (
            f"{written_key(key)} = {written(each, depth=depth + 1)}" for key, each in value.items()
        )
        return f"{{ {', '.join(inner)} }}" if value else "{}"
    return _single(value)


def written_key(key: object) -> str:
    """A key, in quotes where it needs them."""
    if not isinstance(key, str):
        raise _refused(f"{shown(key)} is no key")
    return key if _BARE.fullmatch(key) else _text(key)


def _single(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, datetime | date | time):
        return _moment(value)
    if isinstance(value, float) or (isinstance(value, int) and abs(value) < 2**63):
        return repr(value)
    raise _refused(f"{shown(value)} has no form in TOML")


def _text(value: str) -> str:
    if _HALVES.search(value):
        raise _refused("half a character cannot be written")
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _moment(value: datetime | date | time) -> str:
    text = value.isoformat()
    try:
        tomllib.loads(f"at = {text}")
    except ValueError:
        raise _refused(f"{text} has no form in TOML") from None
    return text


def _refused(what: str) -> InputError:
    remedy = "Give text, a number, true or false, a date, or a list or table of these"
    return InputError(what, where="value", remedy=remedy)
