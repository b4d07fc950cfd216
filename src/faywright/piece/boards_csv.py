"""Boards as read off calipers into a spreadsheet, and kept as CSV.

A header row names the columns: ``mark``, ``width``, ``length``, and ``part``, ``species``,
``rings`` and ``moisture`` where wanted. Readings along a board are ``t1``, ``t2`` ...; where both
edges were read they are ``r1`` ... along the reference edge and ``o1`` ... along the opposite one,
with or without ``t1`` ... between. A board with fewer readings leaves its last cells blank.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from faywright.errors import DocumentError, Fault, InputError
from faywright.lengths import Unit
from faywright.piece.csv_table import Columns, Row, columns, rows
from faywright.piece.model import Part
from faywright.piece.readings import reading
from faywright.piece.values import T, UnreadError, length, name_in, short, shown, text
from faywright.piece.wood_values import MOISTURE, RINGS, Rings
from faywright.shop.boards import Board

_NO_PART = Part(name="", timber="softwood", boards=())  # only where no part was given at all


@dataclass(frozen=True, eq=False)
class ListedBoard:
    """A board of a list, the name of the part it is for, and the line it stands on."""

    part: str
    board: Board
    line: int


def boards_from_csv(
    content: str, *, file: str, units: Unit, parts: Mapping[str, Part], part: Part | None = None
) -> tuple[ListedBoard, ...]:
    r"""The boards of a CSV table; ``file`` names it in messages, ``units`` is of bare numbers.

    ``part`` is that of boards whose row names none.

    Raises
    ------
    DocumentError
        The table has faults; those of all rows are listed.

    Examples
    --------
    >>> ledge = Part(name="ledge", timber="softwood", boards=())
    >>> table = "mark;width;length;t1;t2\nL1;121;640;22,25;22,75"
    >>> found = boards_from_csv(table, file="boards.csv", units="mm", parts={}, part=ledge)
    >>> found[0].board.thickness
    22.5
    """
    table = rows(content.removeprefix("\ufeff"), file=file)
    header = next(table, None)
    if header is None:
        remedy = "Begin with a header: mark, width, length, t1, t2 and so on"
        raise DocumentError([Fault(file, 1, "header", "the list is empty", remedy)])
    where = columns(header, file=file, part_known=part is not None)
    reader = _BoardReader(where, file=file, units=units, parts=parts, part=part)
    boards = []
    try:
        boards = [board for row in table if (board := reader.board(row))]
    except DocumentError as error:  # from here on the rows cannot be told apart
        reader.faults += error.faults
    if reader.faults:
        raise DocumentError(reader.faults)
    return tuple(boards)


class _BoardReader:
    """Reads row after row, and keeps the faults of all."""

    def __init__(
        self,
        where: Columns,
        *,
        file: str,
        units: Unit,
        parts: Mapping[str, Part],
        part: Part | None,
    ) -> None:
        self.faults: list[Fault] = []
        self._where = where
        self._file = file
        # The same figures come again and again in a list from calipers.
        self._length = cache(length(units).read)
        self._thickness = cache(reading(units).read)
        self._part_called = cache(name_in(parts, kind="part", stand_in=_NO_PART).read)
        self._part = part
        self._lines: dict[str, int] = {}

    def board(self, row: Row) -> ListedBoard | None:
        """The board of a row; None after a fault."""
        before = len(self.faults)
        mark = self._read(row, "mark", text.read)
        part = self._read(row, "part", self._part_called, default=self._part) or _NO_PART
        species = self._read(row, "species", text.read, default=part.species)
        width = self._read(row, "width", self._length)
        long = self._read(row, "length", self._length)
        rings: Rings | None = self._optional(row, "rings", RINGS.read, part.rings)
        moisture = self._optional(row, "moisture", MOISTURE.read, part.moisture)
        readings = self._readings(row)
        self._refuse_surplus(row)
        if mark is not None and self._lines.setdefault(mark, row.line) != row.line:
            what = f"the mark is that of line {self._lines[mark]} already"
            self._fault(row, "mark", what, "Give each board its own")
        if mark is None or width is None or long is None or len(self.faults) > before:
            return None
        try:
            board = Board(
                mark=mark,
                readings=np.array(readings).T,
                width=width,
                length=long,
                species=species or "",
                timber=part.timber,
                rings=rings,
                moisture=moisture,
            )
        except InputError as error:
            self._fault(row, None, error.what, error.remedy)
            return None
        return ListedBoard(part.name, board, row.line)

    def _read(
        self, row: Row, column: str, read: Callable[[str], T], *, default: T | None = None
    ) -> T | None:
        """The value of a cell; ``default`` where it is blank, and None after a fault."""
        cell = self._cell(row, column)
        if cell:
            try:
                return read(cell)
            except UnreadError as unread:
                self._fault(row, column, unread.what, unread.remedy)
        elif default is not None:
            return default
        else:
            self._fault(row, column, "the cell is blank", "Fill it in")
        return None

    def _optional(
        self, row: Row, column: str, read: Callable[[str], T], default: T | None
    ) -> T | None:
        """The value of a cell that may be blank, or ``default``."""
        return self._read(row, column, read) if self._cell(row, column) else default

    def _readings(self, row: Row) -> list[list[float]]:
        """Thicknesses, a list for each place across the board."""
        before = len(self.faults)
        across = [self._along(row, names) for names in self._where.readings]
        firsts = [names[0] for names in self._where.readings]
        counts = dict(zip(firsts, map(len, across), strict=True))
        if len(set(counts.values())) > 1 and len(self.faults) == before:
            counted = ", ".join(f"{count} in {name} ..." for name, count in counts.items())
            remedy = "Read as many along each edge"
            self._fault(row, None, f"unequal numbers of readings: {counted}", remedy)
        return across

    def _along(self, row: Row, names: tuple[str, ...]) -> list[float]:
        cells = [self._cell(row, name) for name in names]
        while cells and not cells[-1]:
            cells.pop()
        if not cells:
            self._fault(row, names[0], "no reading", "Measure the board, or leave out its row")
        found: list[float] = []
        for name, cell in zip(names, cells, strict=False):
            if not cell:
                remedy = "Measure it again, or move the later readings up"
                self._fault(row, name, "a reading is missing before others", remedy)
                break
            thickness = self._read(row, name, self._thickness)
            if thickness is None:
                break  # a row in the wrong unit has one fault, not one a reading
            found.append(thickness)
        return found

    def _refuse_surplus(self, row: Row) -> None:
        named = set(self._where.at.values())
        for index, cell in enumerate(row.cells):
            if cell and index not in named:
                what = f"{shown(cell)} stands in cell {index + 1}, which has no column"
                remedy = "Name its column; if a decimal comma made two cells of one, write a point"
                self._fault(row, None, what, remedy)

    def _cell(self, row: Row, column: str) -> str:
        index = self._where.at.get(column)
        return "" if index is None or index >= len(row.cells) else row.cells[index]

    def _fault(self, row: Row, column: str | None, what: str, remedy: str) -> None:
        mark = self._cell(row, "mark")
        field = f"board {short(mark)}" if mark else "board"
        if column is not None:
            field += f": column {column}"
        self.faults.append(Fault(self._file, row.line, field, what, remedy))
