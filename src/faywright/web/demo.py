"""The demo that a new store begins with: a piece and the shop it is made in."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from faywright.app.documents import Documents, Kind
from faywright.web.pieces.taking_in import taken_in

TITLE = "the demo that comes with Faywright"


def put_demo(documents: Documents) -> None:
    """Put the demo's shop and piece into a store that has never held any."""
    kinds: tuple[Kind, ...] = ("shop", "piece")
    if any(documents.listed(kind, discarded=gone) for kind in kinds for gone in (False, True)):
        return
    folder = _folder()
    texts = {
        name: folder.joinpath(name).read_text(encoding="utf-8")
        for name in ("shop.toml", "piece.toml", "boards.csv")
    }
    taken_in(documents, texts, what=TITLE)


def _folder() -> Traversable:
    """Where the demo is: in the package as it is installed, else beside its source."""
    packaged = files("faywright.web").joinpath("hall-bench")
    if packaged.is_dir():
        return packaged
    return Path(__file__).parents[3] / "examples" / "hall-bench"
