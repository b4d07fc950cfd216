"""Boards from a column of readings, or from a list with a header, as they are pasted."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from faywright.errors import DocumentError, Fault, InputError
from faywright.lengths import Unit
from faywright.piece.amending import Value
from faywright.piece.boards_csv import boards_from_csv
from faywright.piece.boards_inside import board_tables, length_written, with_boards
from faywright.piece.model import Piece
from faywright.piece.piece_file import piece_from_text
from faywright.piece.readings import reading
from faywright.piece.values import UnreadError
from faywright.shop.boards import Board
from faywright.web.readings_typed import Cell, cells

FILE = "the list"
MOST_READINGS = 60
"""Readings of one board; more are a slip of the keys."""

_NUMBERED = re.compile(r"(.*?)(\d{1,9})")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pasted:
    """What was pasted and what was said of it; bare numbers are ``units``.

    ``readings`` is how many each board has, ``across`` how many of them at each place along it.
    """

    text: str
    units: Unit
    part: str
    mark: str = ""
    width: Value = ""
    length: Value = ""
    readings: int = 3
    across: int = 1

    @property
    def has_header(self) -> bool:
        """Whether the first line names columns."""
        first = next((line for line in self.text.splitlines() if line.strip()), "")
        return "mark" in re.split(r"[;,\t\s]+", first.strip().lower())


@dataclass(frozen=True, slots=True)
class Understood:
    """The boards as tables of the piece file, and as they were read."""

    tables: tuple[Mapping[str, Value], ...]
    boards: tuple[tuple[str, Board], ...]


def understood(pasted: Pasted, text: str, piece: Piece) -> Understood:
    """What a list means for the piece in ``text``.

    Raises
    ------
    DocumentError
        It has faults, which name its lines; or the boards do not go with the piece.
    InputError
        Commas could part readings or be decimal; or it is not said how to part them.
    """
    tables = _listed(pasted, piece) if pasted.has_header else _column(pasted, piece)
    if not tables:
        raise InputError("no boards stand in it", where=FILE, remedy="Paste readings, or a list")
    _refuse_marks(tables, piece)
    read = piece_from_text(with_boards(text, tables), file="the boards", folder=None).piece
    marks = [table["mark"] for table in tables]
    found = {board.mark: (part.name, board) for part in read.parts for board in part.boards}
    return Understood(tables, tuple(found[str(mark)] for mark in marks))


def marks_from(first: str) -> Iterator[str]:
    """Marks numbered on from the first, as wide as that.

    >>> list(islice(marks_from("B09"), 3))
    ['B09', 'B10', 'B11']

    Raises
    ------
    InputError
        It does not end with a number.
    """
    found = _NUMBERED.fullmatch(first.strip())
    if found is None:
        raise InputError(
            f"{first[:40]!r} does not end with a number",
            where="first mark",
            remedy="Give one to number on from, such as B13",
        )
    number, wide = int(found[2]), len(found[2])
    while True:
        yield f"{found[1]}{number:0{wide}d}"
        number += 1


def next_mark(marks: Iterable[str]) -> str:
    """The mark after the last of those that end with a number; B01 without any.

    >>> next_mark(["B11", "B12", "strip"])
    'B13'
    """
    last = next((mark for mark in reversed(list(marks)) if _NUMBERED.fullmatch(mark)), "B00")
    return next(islice(marks_from(last), 1, None))


def _listed(pasted: Pasted, piece: Piece) -> tuple[Mapping[str, Value], ...]:
    parts = {part.name: part for part in piece.parts}
    boards_from_csv(
        pasted.text, file=FILE, units=pasted.units, parts=parts, part=parts.get(pasted.part)
    )
    return board_tables(
        pasted.text, file=FILE, units=pasted.units, own=piece.units, part=pasted.part
    )


def _column(pasted: Pasted, piece: Piece) -> tuple[Mapping[str, Value], ...]:
    if not 1 <= pasted.readings <= MOST_READINGS:
        raise InputError(
            f"{pasted.readings} readings a board cannot be",
            where="readings a board",
            remedy=f"Give how many there are of each, 1 to {MOST_READINGS}",
        )
    if pasted.readings % pasted.across:
        raise InputError(
            f"{pasted.readings} readings a board do not make {pasted.across} at each place",
            where="readings a board",
            remedy="Count those at both edges",
        )
    found = list(cells(pasted.text))
    written = _judged(found, pasted, piece)
    _refuse_rest(found, pasted)
    starts = range(0, len(written), pasted.readings)
    return tuple(
        {
            "mark": mark,
            "part": pasted.part,
            "width": pasted.width,
            "length": pasted.length,
            "thickness": _places(written[start : start + pasted.readings], pasted.across),
        }
        for mark, start in zip(marks_from(pasted.mark), starts, strict=False)
    )


def _judged(found: Sequence[Cell], pasted: Pasted, piece: Piece) -> list[Value]:
    """The readings as the piece file has them; all that cannot be are told with their lines."""
    reader, faults, written = reading(piece.units), [], []
    for cell in found:
        value = length_written(cell.text, pasted.units, piece.units)
        try:
            reader.read(value)
        except UnreadError as unread:
            faults.append(
                Fault(FILE, cell.line, f"reading {cell.text[:40]!r}", unread.what, unread.remedy)
            )
        written.append(value)
    if faults:
        raise DocumentError(faults)
    return written


def _refuse_rest(found: Sequence[Cell], pasted: Pasted) -> None:
    rest = len(found) % pasted.readings
    if rest:
        what = f"{len(found)} readings do not make boards of {pasted.readings}: {rest} are left"
        remedy = "Look whether one was left out or read twice, or say how many each board has"
        raise DocumentError([Fault(FILE, found[-rest].line, "readings", what, remedy)])


def _places(written: Sequence[Value], across: int) -> list[Value]:
    if across == 1:
        return list(written)
    return [list(written[at : at + across]) for at in range(0, len(written), across)]


def _refuse_marks(tables: Sequence[Mapping[str, Value]], piece: Piece) -> None:
    there = {board.mark for part in piece.parts for board in part.boards}
    twice = [str(table["mark"]) for table in tables if table["mark"] in there]
    if twice:
        what = f"mark {twice[0]} is that of a board already"
        remedy = "Number on from another, or remove that board"
        raise DocumentError([Fault(FILE, None, "mark", what, remedy)])
