"""Boards on hand, over all pieces of a shop: what was measured of each, and where to change it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from faywright.app.documents import Documents
from faywright.errors import DocumentError
from faywright.piece.model import Piece
from faywright.piece.piece_file import piece_from_text
from faywright.piece.words import Write
from faywright.shop.boards import Board
from faywright.web.readings_typed import ACROSS

PIECES_KEPT = 64


@dataclass(frozen=True, slots=True)
class OnHand:
    """One board, lengths written; ``piece`` is the number of its piece."""

    mark: str
    piece: int
    title: str
    part: str
    size: str
    readings: str
    mean: str


@dataclass(frozen=True, slots=True)
class PieceBoards:
    """Boards of one piece; ``fault`` says why there are none to be shown, where it has faults."""

    piece: int
    title: str
    boards: tuple[OnHand, ...] = ()
    fault: str = ""


def boards_on_hand(documents: Documents, shop: int, write: Write) -> tuple[PieceBoards, ...]:
    """Those of every piece of a shop, the piece that was changed last first."""
    return tuple(
        _of_piece(each.id, each.title, documents.sheet(each.id).revision.text, write)
        for each in documents.listed("piece")
        if each.shop == shop
    )


def _of_piece(number: int, title: str, text: str, write: Write) -> PieceBoards:
    try:
        piece = _read(text)
    except DocumentError as error:
        return PieceBoards(number, title, fault=f"{error.where}: {error.what}. {error.remedy}.")
    return PieceBoards(number, title, tuple(_boards(number, piece, write)))


@lru_cache(PIECES_KEPT)
def _read(text: str) -> Piece:
    return piece_from_text(text, file="piece", folder=None).piece


def _boards(number: int, piece: Piece, write: Write) -> Iterator[OnHand]:
    for part in piece.parts:
        for board in part.boards:
            yield OnHand(
                mark=board.mark,
                piece=number,
                title=piece.title,
                part=part.name,
                size=f"{write(board.width)} by {write(board.length)}",
                readings=_readings(board, write),
                mean=write(board.thickness),
            )


def _readings(board: Board, write: Write) -> str:
    """Places along the board, and at each those across it; their unit is told above them."""
    return "; ".join(
        f" {ACROSS} ".join(write(each).rpartition(" ")[0] for each in place)
        for place in board.readings.tolist()
    )
