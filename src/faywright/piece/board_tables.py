"""The boards of a piece file: its ``[[board]]`` tables, and the list that ``[boards]`` names."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import get_args

import numpy as np

from faywright.errors import DocumentError, InputError
from faywright.lengths import Unit
from faywright.piece.boards_csv import ListedBoard, boards_from_csv
from faywright.piece.document import read_text
from faywright.piece.fields import Table, each_once
from faywright.piece.model import Part
from faywright.piece.readings import readings
from faywright.piece.values import Reader, UnreadError, name_in, one_of, short, shown, text
from faywright.piece.wood_values import MOISTURE, RINGS
from faywright.shop.boards import Board

NO_PART = Part(name="", timber="softwood", boards=())
"""Stands in for a part with a fault while a document is read; no document keeps it."""

MOST_KEPT = 4096
"""Boards kept as they were read: a document that is being changed has the same ones each time."""

_KEPT: dict[tuple[object, ...], Board] = {}


@dataclass(frozen=True)
class Pile:
    """The boards read, and the parts for which any were listed, readable or not."""

    boards: Mapping[str, tuple[Board, ...]]
    parts_listed: Collection[str]

    def boards_of(self, part: str) -> tuple[Board, ...]:
        """The boards of a part, those in the piece file first."""
        return self.boards.get(part, ())


def read_boards(top: Table, parts: Mapping[str, Part], folder: Path | None) -> Pile:
    """All boards of a piece file; its faults and those of its list are kept by the document."""
    tables = top.tables("board")
    each_once(tables, "mark")
    found = [board for table in tables if (board := _board(table, parts))]
    listed = _board_list(top, parts, folder)
    if listed is None:  # which parts it has boards for cannot be known
        return Pile({}, parts)
    _refuse_twice(tables, listed)
    found += [(each.part, each.board) for each in listed]
    named = {name for table in tables if (name := table.named("part"))}
    return Pile(_by_part(found), named | {part for part, _ in found})


def _by_part(boards: Iterable[tuple[str, Board]]) -> Mapping[str, tuple[Board, ...]]:
    piles: dict[str, list[Board]] = {}
    for part, board in boards:
        piles.setdefault(part, []).append(board)
    return {part: tuple(pile) for part, pile in piles.items()}


def _board(table: Table, parts: Mapping[str, Part]) -> tuple[str, Board] | None:
    """A board; one whose table says the same of a part that says the same is not read again."""
    part = parts.get(table.named("part") or "", NO_PART)
    said = (part.name, part.timber, part.species, part.rings, part.moisture)
    key = (table.content, table.document.units, *said)
    board = _KEPT.get(key)
    if board is None:
        board = _read_board(table, parts)
        if board is None:
            return None
        if len(_KEPT) >= MOST_KEPT:
            _KEPT.clear()
        _KEPT[key] = board
    return part.name, board


def _read_board(table: Table, parts: Mapping[str, Part]) -> Board | None:
    part = table.required("part", name_in(parts, kind="part", stand_in=NO_PART))
    thickness = table.required("thickness", readings(table.document.units))
    table.optional("reference_face", _FACE, None)
    return table.build(
        Board,
        mark=table.required("mark", text),
        readings=np.array(thickness),
        width=table.required("width", table.length),
        length=table.required("length", table.length),
        species=table.optional("species", text, part.species),
        timber=part.timber,
        rings=table.optional("rings", RINGS, part.rings),
        moisture=table.optional("moisture", MOISTURE, part.moisture),
    )


def _face(value: object) -> None:
    if value == "A":
        return
    remedy = "Mark the face that was planed true as A, read across from its reference edge"
    raise UnreadError(f"the reference face is {shown(value)}, and is always A here", remedy)


_FACE = Reader(_face, None)


def _board_list(
    top: Table, parts: Mapping[str, Part], folder: Path | None
) -> tuple[ListedBoard, ...] | None:
    """The boards of the list that is named; none without one, None after a fault."""
    table = top.table("boards")
    if table is None:
        return None if top.holds("boards") else ()
    name = table.required("csv", text)
    units: Unit = table.optional("units", one_of(get_args(Unit)), top.document.units)
    part = table.optional("part", name_in(parts, kind="part", stand_in=NO_PART), None)
    path = table.build(_path, folder, name)
    if path is None:
        return None
    try:
        content = read_text(path)
    except DocumentError as error:
        fault = error.faults[0]
        table.fault(f"{fault.file}: {fault.what}", fault.remedy, "csv")
        return None
    try:
        return boards_from_csv(content, file=str(path), units=units, parts=parts, part=part)
    except DocumentError as error:
        table.take(error.faults)
        return None


def _refuse_twice(tables: Iterable[Table], listed: Iterable[ListedBoard]) -> None:
    lines = {each.board.mark: each.line for each in listed}
    for table in tables:
        mark = table.named("mark")
        if mark in lines:
            what = f'"{short(mark)}" is in the list of boards already, line {lines[mark]}'
            table.fault(what, "Give each its own", "mark")


def _path(folder: Path | None, name: str) -> Path:
    if folder is None:
        raise InputError(
            "no list of boards can be opened without a folder to start from",
            where="boards",
            remedy="List the boards under [[board]]",
        )
    return folder / name
