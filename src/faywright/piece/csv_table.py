"""A CSV table of boards as spreadsheets and people write it: its rows, and its header."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from faywright.errors import DocumentError, Fault
from faywright.piece.values import nearest, short

DELIMITERS = ";\t,"
"""The first of these that stands in the header parts the cells of the whole table."""

WORDS = ("mark", "part", "species", "width", "length", "rings", "moisture")
ACROSS = "rto"
"""First letters of the columns of readings, from the reference edge across."""

_EXAMPLES = (*WORDS, "t1", "r1", "o1")
_READING = re.compile(rf"([{ACROSS}])([1-9][0-9]{{0,2}})")


@dataclass(frozen=True)
class Row:
    """One row: the line it begins on, and its cells without the space around them."""

    line: int
    cells: tuple[str, ...]


def rows(content: str, *, file: str) -> Iterator[Row]:
    """The rows that hold anything, header first.

    Raises
    ------
    DocumentError
        A quotation mark is not closed.
    """
    lines = io.StringIO(content, newline="")
    reader = csv.reader(lines, delimiter=_delimiter(content), strict=True, skipinitialspace=True)
    line = 1
    while True:
        try:
            cells = next(reader, None)
        except csv.Error as error:
            remedy = 'Close each quotation mark, and write inches as in rather than "'
            fault = Fault(file, line, "row", f"it cannot be read: {error}", remedy)
            raise DocumentError([fault]) from None
        if cells is None:
            return
        stripped = tuple(cell.strip() for cell in cells)
        if any(stripped):
            yield Row(line, stripped)
        line = reader.line_num + 1


def _delimiter(content: str) -> str:
    header = next((line for line in io.StringIO(content) if line.strip()), "")
    return next((sign for sign in DELIMITERS if sign in header), ",")


@dataclass(frozen=True)
class Columns:
    """Where the columns of a table stand.

    ``readings`` has a tuple of columns for each place read across a board, in order along it.
    """

    at: dict[str, int]
    readings: tuple[tuple[str, ...], ...]


def columns(header: Row, *, file: str, part_known: bool) -> Columns:
    """The columns a header names; a part column is needed unless the part is known.

    Raises
    ------
    DocumentError
        Columns are unknown, missing, or there twice; all are listed.
    """
    names = [cell.lower() for cell in header.cells]
    at = {name: index for index, name in enumerate(names) if name and _is_known(name)}
    along = tuple(group for letter in ACROSS if (group := _numbered(letter, at)))
    refused = {
        name: ("it is there twice", "Keep one of them") for name in at if names.count(name) > 1
    }
    refused |= _unknown(names) | _missing(names, at, part_known=part_known) | _gaps(along)
    if refused:
        raise DocumentError(
            [
                Fault(file, header.line, f"column {short(name)}", what, remedy)
                for name, (what, remedy) in refused.items()
            ]
        )
    return Columns(at, along)


_Refused = dict[str, tuple[str, str]]


def _is_known(name: str) -> bool:
    return name in WORDS or _READING.fullmatch(name) is not None


def _numbered(letter: str, names: Iterable[str]) -> tuple[str, ...]:
    """The reading columns of a letter, in the order of their numbers."""
    found = [name for name in names if name[0] == letter and _READING.fullmatch(name)]
    return tuple(sorted(found, key=lambda name: int(name[1:])))


def _unknown(names: Iterable[str]) -> _Refused:
    refused = {}
    for name in names:
        if name and not _is_known(name):
            near = nearest(name, _EXAMPLES)
            known = f"Known are {', '.join(WORDS)}, t1 and so on, or r1 and so on with o1"
            remedy = f"Write {near}, if you meant that" if near else known
            refused[name] = ("it is not a known column", remedy)
    return refused


def _missing(names: Iterable[str], at: Collection[str], *, part_known: bool) -> _Refused:
    needed = dict.fromkeys(("mark", "width", "length"), "Add it")
    if not part_known:
        needed["part"] = 'Add it, or write part = "..." under [boards] if all are for one part'
    meant = {nearest(name, _EXAMPLES) for name in names if not _is_known(name)}
    return {
        word: ("it is missing", remedy)
        for word, remedy in needed.items()
        if word not in at and word not in meant
    }


def _gaps(along: tuple[tuple[str, ...], ...]) -> _Refused:
    letters = {group[0][0] for group in along}
    if not letters:
        return {"t1": ("it is missing", "Add t1, t2 and so on for the readings along a board")}
    refused = {}
    for one, other in ("ro", "or"):
        if one in letters and other not in letters:
            remedy = "Read along both edges, or call the only readings t1, t2 and so on"
            refused[f"{other}1"] = (f"it is missing, where {one}1 is there", remedy)
    for group in along:
        for number, name in enumerate(group, start=1):
            if int(name[1:]) != number:
                what = f"it is missing, where {name} is there"
                refused[f"{name[0]}{number}"] = (what, "Number the readings from 1 on")
                break
    return refused
