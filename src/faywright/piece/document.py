"""Opening a document: the file, its TOML, and the two keys that say how to read the rest."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Literal, get_args

from faywright.errors import DocumentError, Fault
from faywright.lengths import Unit
from faywright.piece.fields import Document, Table
from faywright.piece.values import Reader, UnreadError, one_of, shown

Kind = Literal["shop", "piece"]

VERSION = 1
"""Of both kinds of document, as their first key names it."""

_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_LONG_NUMBER = re.compile(r"[0-9][0-9_]{4000,}")
_REMEDIES = (
    (r"character '\n'", "Close the quotation marks on the same line"),
    ("date", "Write a day that there is, like 2026-09-14"),
    ("escape", r"Write paths with /, or put the text in 'single quotes', where \ is plain"),
    ("overwrite", "Keep one of the two"),
    ("twice", "Keep one of the two, or write [[...]] with two brackets for each of several"),
)
_DECIMAL_COMMA = re.compile(r"[0-9],[0-9]")
_CURLY = "\u201c\u201d\u2018\u2019"
_USUAL_REMEDY = (
    'Write one key = value a line, with text and lengths that have a unit in quotes, as "1/4 in"'
)


def read_text(path: Path) -> str:
    """Text of a file in UTF-8; a byte order mark is left to whoever reads the text.

    Raises
    ------
    DocumentError
        The file cannot be opened, or is not text in UTF-8.
    """
    try:
        return path.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        what = f"byte {error.start + 1} is not text in UTF-8"
        remedy = "Save it as plain text in UTF-8"
    except OSError as error:
        what = f"it cannot be opened: {(error.strerror or str(error)).lower()}"
        remedy = "Check its name and the folder it is in"
    except ValueError:  # a null character in the name
        what, remedy = "no file can have this name", "Check its name"
    fault = Fault(file=str(path), line=None, field="the file", what=what, remedy=remedy)
    raise DocumentError([fault])


def open_document(text: str, *, file: str, kind: Kind) -> Table:
    """The outermost table of a document whose head says that it is of this kind.

    Raises
    ------
    DocumentError
        The text is not TOML, of another kind or version, or its unit is unknown: nothing after
        that could be read as it was meant.
    """
    text = text.removeprefix("\ufeff")
    document = Document(text, file=file)
    table = Table(_toml(text, file), document)
    if table.holds("faywright"):
        table.required("faywright", _head(kind))
    else:
        table.fault("it is missing", f"Begin a {kind} file with {_written(kind)}", "faywright")
    document.units = table.optional("units", one_of(get_args(Unit)), "mm")
    document.stop_at_faults()
    return table


def _written(kind: Kind) -> str:
    return f'faywright = "{kind} {VERSION}"'


def _head(kind: Kind) -> Reader[str]:
    def read(value: object) -> str:
        if value == f"{kind} {VERSION}":
            return kind
        found, _, version = value.partition(" ") if isinstance(value, str) else ("", "", "")
        remedy = f"Begin a {kind} file with {_written(kind)}"
        if found == kind and version.isdecimal():
            what = f"{shown(value)} is of a version that is not known here"
            remedy = f"Use a program of that version, or write it anew as version {VERSION}"
        elif found in get_args(Kind) and found != kind:
            what = f"{shown(value)}: a {found} file where a {kind} file is wanted"
            remedy = f"Name a {kind} file, which begins with {_written(kind)}"
        else:
            what = f"{shown(value)} is not a kind of document"
        raise UnreadError(what, remedy)

    return Reader(read, kind)


@lru_cache(maxsize=8)
def tables_of(text: str) -> Mapping[str, object]:
    """What ``tomllib`` makes of a text, kept for those who read the same again; not to be changed.

    Raises
    ------
    tomllib.TOMLDecodeError
        It is not TOML.
    """
    return tomllib.loads(text)


def _toml(text: str, file: str) -> Mapping[str, object]:
    line: int | None = None
    try:
        return tables_of(text)
    except RecursionError:
        what, remedy = "lists or tables stand too deep inside each other", "Lay them out flat"
    except tomllib.TOMLDecodeError as error:
        line, what = _syntax(str(error), text)
        remedy = next((each for word, each in _REMEDIES if word in what.lower()), _USUAL_REMEDY)
        if _DECIMAL_COMMA.search(what):
            remedy += '; a number with a decimal comma needs quotes, as in "13,06"'
        if any(sign in what for sign in _CURLY):
            remedy += "; write straight quotes"
    except ValueError:  # int() refuses numbers of thousands of digits
        long = _LONG_NUMBER.search(text)
        line = text.count("\n", 0, long.start()) + 1 if long else None
        what, remedy = "a number of thousands of digits", "Write a length that a board can have"
    raise DocumentError([Fault(file=file, line=line, field="TOML", what=what, remedy=remedy)])


def _syntax(message: str, text: str) -> tuple[int, str]:
    """Line of a syntax error, and what is wrong there with the start of that line."""
    place = _PLACE.search(message)
    lines = text.replace("\r\n", "\n").rstrip("\n").split("\n")
    what = _PLACE.sub("", message)
    what = what[:1].lower() + what[1:]
    if place is None or place[1] is None:
        return len(lines), f"{what}, at the end of the file"
    line = int(place[1])
    written = lines[line - 1].strip() if line <= len(lines) else ""
    return line, f"{what}, at column {place[2]} of {shown(written)}"
