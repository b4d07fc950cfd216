"""The documents of a plan, opened together."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from faywright.errors import DocumentError, Fault
from faywright.piece.model import Piece
from faywright.piece.piece_file import read_piece
from faywright.piece.shop_file import read_shop
from faywright.shop.inventory import Shop


@dataclass(frozen=True, eq=False)
class Documents:
    """A piece and the shop it is to be made in."""

    piece: Piece
    shop: Shop


def open_documents(piece_path: Path, shop_path: Path | None = None) -> Documents:
    """Read a piece file and its shop file; ``shop_path`` stands in for the one it names.

    Raises
    ------
    DocumentError
        A file cannot be read, has faults, or no shop file is named anywhere.
    """
    faults: list[Fault] = []
    if shop_path is not None:
        faults = _faults_of(shop_path)
    try:
        found = read_piece(piece_path)
    except DocumentError as error:
        raise DocumentError([*error.faults, *faults]) from None
    path = shop_path or found.shop_path
    if path is None:
        raise DocumentError(
            [
                Fault(
                    file=str(piece_path),
                    line=None,
                    field="shop",
                    what="no shop file is named",
                    remedy='Write shop = "shop.toml" at the top, or give --shop SHOP.toml',
                )
            ]
        )
    return Documents(found.piece, read_shop(path))


def _faults_of(shop_path: Path) -> list[Fault]:
    """Faults of a shop file, so that those of the piece file can be told along with them."""
    try:
        read_shop(shop_path)
    except DocumentError as error:
        return list(error.faults)
    return []
