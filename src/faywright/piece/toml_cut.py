"""A TOML text cut at the headers of its tables, and what its values are.

``tomllib`` judges the text: the lines of each table apart, which are remembered, and the whole
where it is not plain from the headers alone that the tables go together.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from faywright.errors import InputError
from faywright.piece.toml_lines import BARE_KEY, STRING, FieldPath, unquoted

Node = dict[str, object]

_SHALLOW = re.compile(rf"(?:[^\[\]{{}}\"'#\n]++|{STRING})*+")
_DEEP = re.compile(rf"(?:[^\[\]{{}}\"'#]++|{STRING}|#[^\n]*+)*+")
_KEY = re.compile(rf"[ \t]*({BARE_KEY}|{STRING})[ \t]*")
_PLAIN_HEADER = re.compile(
    rf"\[(\[?)[ \t]*({BARE_KEY}(?:\.{BARE_KEY})*)[ \t]*\](\]?)"
    r"[ \t]*(?:#[^\x00-\x08\x0a-\x1f\x7f]*)?(?:\r?\n|\Z)"
)
_HEADER = re.compile(rf"\[(\[?)((?:{BARE_KEY}|{STRING}|[ \t.])++)\](\]?)[^\n]*(?:\n|\Z)")


class LostError(Exception):
    """The text is not laid out as TOML is."""


@dataclass(frozen=True, slots=True)
class Section:
    """A header with the lines under it, as places in the text; the first has no header."""

    path: FieldPath
    start: int
    body: int
    end: int


class Cut:
    """The sections of a text and its values."""

    def __init__(self, text: str) -> None:
        """Cut the text.

        Raises
        ------
        InputError
            It is not TOML.
        """
        self._text = text
        self._plain = True
        self._lists: dict[FieldPath, int] = {}  # those made of [[...]] tables, with their counts
        self.sections: tuple[Section, ...] = ()
        self.data: Mapping[str, object] = self._read()

    def _read(self) -> Mapping[str, object]:
        try:
            self.sections = tuple(self._cut())
            data = self._joined() if self._plain else None
        except (LostError, ValueError, RecursionError):
            judged(self._text)
            raise
        return judged(self._text) if data is None else data

    def _cut(self) -> list[Section]:
        text, found = self._text, []
        path: FieldPath = ()
        start = body = at = 0
        while (at := passed(_DEEP, text, at)) < len(text):
            line = text.rfind("\n", 0, at) + 1
            if text[at] == "[" and not text[line:at].strip(" \t"):
                found.append(Section(path, start, body, line))
                path, body = self._header(at)
                start, at = line, body
            else:
                at = closed(text, at)
        return [*found, Section(path, start, body, len(text))]

    def _header(self, at: int) -> tuple[FieldPath, int]:
        """The table that a header begins, and where its lines begin."""
        header = _PLAIN_HEADER.match(self._text, at)
        if header is None:
            self._plain = False
            header = _HEADER.match(self._text, at)
        if header is None or header[1] + header[3] not in ("", "[]"):
            raise LostError
        keys = header[2].split(".") if self._plain else keys_at(self._text, header.start(2))[0]
        path: FieldPath = ()
        for key in keys[:-1]:
            path = (*path, key)
            if path in self._lists:  # a table inside the newest of them
                path = (*path, self._lists[path] - 1)
        path = (*path, keys[-1])
        if header[1]:
            count = self._lists.get(path, 0)
            self._lists[path] = count + 1
            path = (*path, count)
        return path, header.end()

    def _joined(self) -> Node | None:
        """The values of all sections; None if headers alone do not tell that they go together."""
        made: dict[FieldPath, Node] = {(): {}}
        headed: set[FieldPath] = set()
        for section in self.sections:
            table = self._table(section.path, made)
            values = _values(self._text[section.body : section.end])
            if table is None or section.path in headed or not table.keys().isdisjoint(values):
                return None
            headed.add(section.path)
            table.update(values)
        return made[()]

    def _table(self, path: FieldPath, made: dict[FieldPath, Node]) -> Node | None:
        """The table for a header, made if need be; None if its place is taken otherwise."""
        if path in made:
            return made[path]
        *outer, last = path
        key = outer.pop() if isinstance(last, int) else last
        around = self._table(tuple(outer), made)
        if around is None or not isinstance(key, str):
            return None
        table: Node = {}
        made[path] = table
        if not isinstance(last, int):
            return table if around.setdefault(key, table) is table else None
        if (last == 0) == (key in around):
            return None
        entries = around.setdefault(key, [])
        if not isinstance(entries, list) or len(entries) != last:
            return None
        entries.append(table)
        return table


def judged(text: str) -> Mapping[str, object]:
    """The values of a text.

    Raises
    ------
    InputError
        It is not TOML.
    """
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        remedy = "Give a text that can be read, and mend its faults as text first"
        raise InputError(f"it is not TOML ({error})", where="document", remedy=remedy) from None


@lru_cache(maxsize=4096)
def _values(lines: str) -> Mapping[str, object]:
    return tomllib.loads(lines)


def passed(pattern: re.Pattern[str], text: str, at: int) -> int:
    """Where what ``pattern`` matches at a place ends; patterns here match nothing, too."""
    found = pattern.match(text, at)
    return at if found is None else found.end()


def keys_at(text: str, at: int) -> tuple[list[str], int]:
    """The keys with dots between that stand at a place, and where they end."""
    keys: list[str] = []
    while found := _KEY.match(text, at):
        keys.append(unquoted(found[1]) if found[1][0] in "\"'" else found[1])
        at = found.end()
        if not text.startswith(".", at):
            return keys, at
        at += 1
    raise LostError


def closed(text: str, at: int) -> int:
    """Where the list or inline table that opens at a place ends."""
    depth = 0
    while at < len(text):
        if text[at] in "[{":
            depth += 1
        elif text[at] in "]}":
            depth -= 1
        else:
            break
        at += 1
        if depth <= 0:
            return at
        at = passed(_DEEP, text, at)
    raise LostError


def after_value(text: str, at: int) -> int:
    """Where the rest of a line of values ends: at its comment or its end."""
    while (at := passed(_SHALLOW, text, at)) < len(text) and text[at] in "[{":
        at = closed(text, at)
    return at
