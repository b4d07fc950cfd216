"""A list of boards put into its piece file, so that one text says all there is to say.

Every figure stays as it was written; where the list has a unit of its own, that goes with it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence

from faywright.errors import InputError
from faywright.lengths import Unit
from faywright.piece.amending import Value, amended, with_table, without_table
from faywright.piece.csv_table import Columns, Row, columns, rows
from faywright.piece.toml_tables import TomlText

_BOM = "\ufeff"
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_HAS_UNIT = re.compile(r"[A-Za-z\"'\u2032\u2033]")


def with_boards_inside(text: str, content: str, *, file: str) -> str:
    r"""The piece file ``text`` with the boards of the list ``content`` in it, and no list named.

    Both must have been read without faults before. ``file`` names the list in messages.

    Raises
    ------
    InputError
        The text names no list.
    DocumentError
        The list has no header that can be read.

    Examples
    --------
    >>> text = 'units = "mm"\n[boards]\ncsv = "b.csv"\npart = "lid"\n'
    >>> table = "mark;width;length;t1;t2\nL1;121;900;18,75;3/4 in"
    >>> print(with_boards_inside(text, table, file="b.csv"), end="")
    units = "mm"
    <BLANKLINE>
    [[board]]
    mark = "L1"
    part = "lid"
    width = 121
    length = 900
    thickness = [18.75, "3/4 in"]
    """
    if text.startswith(_BOM):
        return _BOM + with_boards_inside(text.removeprefix(_BOM), content, file=file)
    data = tomllib.loads(text)
    named = data.get("boards")
    if not isinstance(named, dict):
        remedy = "Name one, [boards] with csv, or list the boards under [[board]]"
        raise InputError("it names no list of boards", where="boards", remedy=remedy)
    own: Unit = data.get("units", "mm")
    boards = board_tables(
        content, file=file, units=named.get("units", own), own=own, part=named.get("part", "")
    )
    return with_boards(without_table(text, ("boards",)), boards)


def board_tables(
    content: str, *, file: str, units: Unit, own: Unit, part: str = ""
) -> tuple[Mapping[str, Value], ...]:
    """The rows of a list as ``[[board]]`` tables of a piece file.

    Bare numbers of the list are ``units``, those of the piece file ``own``. ``part`` is that of
    boards whose row names none.

    Raises
    ------
    DocumentError
        The list has no header that can be read.
    """
    table = rows(content.removeprefix(_BOM), file=file)
    header = next(table, Row(1, ()))
    where = columns(header, file=file, part_known=bool(part))
    return tuple(_board(row, where, units, own, part) for row in table)


def with_boards(text: str, boards: Sequence[Mapping[str, Value]]) -> str:
    """The piece file with ``[[board]]`` tables more, after those that are there."""
    if not boards:
        return text
    first, *others = boards
    text = with_table(text, "board", first)
    toml = TomlText(text)
    tables = toml.under(("board",))
    if not tables:  # they stand in a list on one line
        there = tomllib.loads(text)["board"]
        return amended(text, ("board",), [*there, *map(dict, others)])
    at = toml.close(tables[-1])
    more = "".join("\n" + with_table("", "board", each) for each in others)
    return text[:at] + more.replace("\n", toml.line_end) + text[at:]


def _board(row: Row, where: Columns, units: Unit, own: Unit, part: str) -> Mapping[str, Value]:
    def cell(name: str) -> str:
        index = where.at.get(name)
        return "" if index is None or index >= len(row.cells) else row.cells[index]

    def length(name: str) -> Value:
        return length_written(cell(name), units, own)

    found: dict[str, Value] = {"mark": cell("mark"), "part": cell("part") or part}
    found |= {"width": length("width"), "length": length("length")}
    across = [_filled([cell(name) for name in names]) for names in where.readings]
    across = [column for column in across if column]
    read = [[length_written(each, units, own) for each in column] for column in across]
    if len(read) == 1:
        found["thickness"] = read[0]
    else:
        found["thickness"] = [list(place) for place in zip(*read, strict=True)]
    if cell("species"):
        found["species"] = cell("species")
    found |= {name: _figure(cell(name)) for name in ("rings", "moisture") if cell(name)}
    return found


def _filled(cells: list[str]) -> list[str]:
    while cells and not cells[-1]:
        cells.pop()
    return cells


def length_written(cell: str, units: Unit, own: Unit) -> Value:
    """A length whose bare numbers are ``units``, for a document whose own are ``own``.

    >>> length_written("3/4", "in", "mm"), length_written("18,5", "mm", "mm")
    ('3/4 in', 18.5)
    """
    if units != own and not _HAS_UNIT.search(cell):
        return f"{cell} {units}"
    return _figure(cell)


def _figure(cell: str) -> Value:
    """A plain number as one, all else as text."""
    if not _NUMBER.fullmatch(cell) or len(cell) > 15:
        return cell
    return int(cell) if cell.isdigit() else float(cell.replace(",", "."))
