"""On which line of a TOML text a field stands, so that a fault can point at it.

``tomllib`` gives values without positions. The text has been accepted by it before, so that
this scanner need only find its way, not judge; it runs only when there is a fault to show.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from functools import cached_property

FieldPath = tuple[str | int, ...]
"""Keys, and places in lists counted from 0: ``("board", 3, "thickness", 1)``."""

DEEPEST = 8
"""Fields further inside than this have the line of what encloses them; no document is as deep."""

_BLANK = re.compile(r"(?:[ \t\n]+|#[^\n]*)*")
_GAP = re.compile(r"(?:[ \t\n,]+|#[^\n]*)*")  # between the values of a list or inline table
_SPACE = re.compile(r"[ \t]*")
STRING = (
    r'''(?:"""(?:[^"\\]++|\\[\s\S]|"(?!""))*+"{3,5}'''
    r"""|'''(?:[^']++|'(?!''))*+'{3,5}"""
    r'''|"(?:[^"\\\n]++|\\.)*+"'''
    r"""|'[^'\n]*+')"""
)
"""Matches text in quotes of any of the four kinds."""
BARE_KEY = "[A-Za-z0-9_-]+"
_STRING = re.compile(STRING)
_BARE_KEY = re.compile(BARE_KEY)
_BARE_VALUE = re.compile(r"[^,\]}#\n]+")
_ESCAPE = re.compile(r"\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|(.))")
_ESCAPED = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


def line_of(text: str, path: FieldPath) -> int:
    """Line of the field at ``path``, counted from 1; of what encloses it where it is missing.

    >>> line_of('title = "Door"\\n[[board]]\\nmark = "B01"\\n', ("board", 0, "mark"))
    3
    >>> line_of('title = "Door"\\n[[board]]\\nmark = "B01"\\n', ("board", 0, "width"))
    2
    """
    return Lines(text).of(path)


class Lines:
    """The lines of all fields of one text, found once when first asked for."""

    def __init__(self, text: str) -> None:
        """``text`` is TOML that ``tomllib`` has accepted."""
        self._text = text

    def of(self, path: FieldPath) -> int:
        """Line of the field at ``path``, or of the nearest table or list around it."""
        for length in range(min(len(path), DEEPEST), 0, -1):
            if path[:length] in self._index:
                return self._index[path[:length]]
        return 1

    @cached_property
    def _index(self) -> dict[FieldPath, int]:
        return _Scanner(self._text.replace("\r\n", "\n")).index()


class _Open:
    """A list or inline table whose end has not been met; lists count their values."""

    def __init__(self, path: FieldPath, *, is_list: bool) -> None:
        self.path = path
        self.is_list = is_list
        self.count = 0


class _Scanner:
    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._ends = [found.start() for found in re.finditer("\n", text)]
        self._found: dict[FieldPath, int] = {}
        self._entries: dict[FieldPath, int] = {}  # of each list made of [[...]] tables

    def index(self) -> dict[FieldPath, int]:
        """Read header by header and key by key to the end."""
        table: FieldPath = ()
        self._skip(_BLANK)
        while self._at < len(self._text):
            if self._text[self._at] == "[":
                table = self._header()
            else:
                self._values(self._key_into(table))
            self._skip(_BLANK)
        return self._found

    def _header(self) -> FieldPath:
        line = self._line()
        double = self._text.startswith("[[", self._at)
        self._at += 2 if double else 1
        *outer, last = self._keys()
        self._at += 2 if double else 1
        path: FieldPath = ()
        for key in outer:
            path = self._note((*path, key), line)
            if path in self._entries:  # a table inside the newest of them
                path = (*path, self._entries[path] - 1)
        path = (*path, last)
        if double:
            count = self._entries.get(path, 0)
            self._entries[path] = count + 1
            path = (*self._note(path, line), count)
        elif len(path) <= DEEPEST:
            self._found[path] = line  # and not where a table inside it first named it
        return self._note(path, line)

    def _key_into(self, table: FieldPath) -> FieldPath:
        """Read a key and its equals sign; the path it gives its value."""
        line = self._line()
        path = table
        for key in self._keys():
            path = self._note((*path, key), line)
        self._skip(_SPACE)
        self._at += 1
        self._skip(_SPACE)
        return path

    def _keys(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            if self._text[self._at] in "\"'":
                keys.append(unquoted(self._skip(_STRING)))
            else:
                keys.append(self._skip(_BARE_KEY))
            self._skip(_SPACE)
            if not self._text.startswith(".", self._at):
                return keys[:DEEPEST]
            self._at += 1

    def _values(self, path: FieldPath | None) -> None:
        """Pass over a value and all values inside it."""
        unclosed: list[_Open] = []
        while path is not None:
            path = self._note(path, self._line())
            start = self._text[self._at]
            if start in "[{":
                self._at += 1
                unclosed.append(_Open(path, is_list=start == "["))
            else:
                self._skip(_STRING if start in "\"'" else _BARE_VALUE)
            path = self._next_inside(unclosed)

    def _next_inside(self, unclosed: list[_Open]) -> FieldPath | None:
        while unclosed:
            self._skip(_GAP)
            innermost = unclosed[-1]
            if self._text[self._at] in "]}":
                self._at += 1
                unclosed.pop()
            elif innermost.is_list:
                innermost.count += 1
                return (*innermost.path, innermost.count - 1)
            else:
                return self._key_into(innermost.path)
        return None

    def _note(self, path: FieldPath, line: int) -> FieldPath:
        """Remember the first line of ``path``, and give it back cut to the depth kept."""
        if len(path) > DEEPEST:
            return path[: DEEPEST + 1]
        self._found.setdefault(path, line)
        return path

    def _line(self) -> int:
        return bisect_right(self._ends, self._at) + 1

    def _skip(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self._text, self._at)
        if found is None:
            raise AssertionError("text that tomllib has not accepted")
        self._at = found.end()
        return found[0]


def unquoted(key: str) -> str:
    """A key in quotes on one line, as it is meant."""
    if key.startswith("'"):
        return key[1:-1]
    return _ESCAPE.sub(_unescaped, key[1:-1])


def _unescaped(found: re.Match[str]) -> str:
    code = found[1] or found[2]
    return chr(int(code, 16)) if code else _ESCAPED[found[3]]
