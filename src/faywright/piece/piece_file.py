"""The piece file: parts, the boards on hand for them, and the joints that are wanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import TypeVar, get_args

from faywright.joints.wanted import WantedJoint
from faywright.piece.board_tables import read_boards
from faywright.piece.climate_table import read_climate
from faywright.piece.document import open_document, read_text
from faywright.piece.fields import Table, each_once
from faywright.piece.joint_tables import read_joint
from faywright.piece.load_tables import read_shelf
from faywright.piece.model import Part, Piece
from faywright.piece.panel_tables import read_drawer, read_framed, read_panel
from faywright.piece.values import one_of, text
from faywright.piece.wood_values import MOISTURE, RINGS
from faywright.shop.boards import Timber

T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class PieceFile:
    """What a piece file says: the piece, and where its shop file is, if it names one."""

    piece: Piece
    shop_path: Path | None


def read_piece(path: Path) -> PieceFile:
    """The piece in the file at ``path``, with the boards of the list it names.

    Raises
    ------
    DocumentError
        A file cannot be opened, or has faults; all are listed.
    """
    return piece_from_text(read_text(path), file=str(path), folder=path.parent)


def piece_from_text(content: str, *, file: str, folder: Path | None) -> PieceFile:
    r"""The piece that ``content`` describes; ``file`` names it in messages.

    Paths in it start from ``folder``. Without one, no list of boards can be opened.

    Raises
    ------
    DocumentError
        There are faults; all are listed.

    Examples
    --------
    >>> found = piece_from_text(
    ...     'faywright = "piece 1"\ntitle = "Garden door"\nunits = "in"\n'
    ...     '[[part]]\nname = "ledge"\ntimber = "softwood"\n'
    ...     '[[board]]\nmark = "L1"\npart = "ledge"\nwidth = 5\nlength = 32\nthickness = ["7/8"]\n',
    ...     file="door.toml",
    ...     folder=None,
    ... )
    >>> found.piece.part("ledge").boards[0].thickness
    22.225
    """
    if folder is None:
        return _kept(content, file)
    return _read(content, file, folder)


@lru_cache(maxsize=16)
def _kept(content: str, file: str) -> PieceFile:
    """The piece in a text that is all there is: whoever reads the same text again gets the same."""
    return _read(content, file, None)


def _read(content: str, file: str, folder: Path | None) -> PieceFile:
    top = open_document(content, file=file, kind="piece")
    title = top.required("title", text)
    shop = top.optional("shop", text, None)
    parts = _parts(top)
    pile = read_boards(top, parts, folder)
    tables = top.tables("joint")
    each_once(tables, "name")
    joints = tuple(read_joint(table, parts, pile.parts_listed) for table in tables)
    climate = read_climate(top)
    known: dict[str, WantedJoint | None] = dict.fromkeys(
        name for table in tables if (name := table.named())
    )
    known |= {joint.name: joint for joint in joints if joint is not None}
    moving = top.holds("climate")
    piece = top.build(
        Piece,
        title=title,
        units=top.document.units,
        parts=tuple(replace(part, boards=pile.boards_of(name)) for name, part in parts.items()),
        joints=tuple(joint for joint in joints if joint is not None),
        climate=climate,
        shelves=_each(top, "shelf", read_shelf),
        panels=_each(
            top, "panel", lambda each: read_panel(each, known), moving=moving, once=("joint",)
        ),
        framed=_each(top, "framed", lambda each: read_framed(each, RINGS), moving=moving),
        drawers=_each(top, "drawer", lambda each: read_drawer(each, RINGS), moving=moving),
    )
    shop_path = None if shop is None else (folder or Path()) / shop
    return PieceFile(top.document.finish(piece), shop_path)


def _each(
    top: Table,
    key: str,
    read: Callable[[Table], T | None],
    *,
    moving: bool = True,
    once: tuple[str, ...] = (),
) -> tuple[T, ...]:
    """What the tables of a list give; ``moving`` says whether there is a climate to move in.

    ``once`` are keys beside the name whose value no two of them may share.
    """
    tables = top.tables(key)
    for unlike in ("name", *once):
        each_once(tables, unlike)
    for table in () if moving else tables:
        what = "how wide it is through the year cannot be told without a climate"
        table.fault(what, "Add a [climate] table")
    return tuple(found for table in tables if (found := read(table)) is not None)


def _parts(top: Table) -> Mapping[str, Part]:
    """The parts by name, without boards; one with a fault is kept, so that it can be named."""
    tables = top.tables("part")
    each_once(tables, "name")
    parts = [_part(table) for table in tables]
    return {part.name: part for part in parts if part.name}


def _part(table: Table) -> Part:
    name = table.required("name", text)
    timber: Timber = table.required("timber", one_of(get_args(Timber)))
    part = table.build(
        Part,
        name=name,
        timber=timber,
        boards=(),
        species=table.optional("species", text, ""),
        rings=table.optional("rings", RINGS, None),
        moisture=table.optional("moisture", MOISTURE, None),
    )
    return part or Part(name=name, timber=timber, boards=())
