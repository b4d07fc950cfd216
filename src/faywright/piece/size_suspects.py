"""What to ask about widths and lengths that stand out among those of their part."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from faywright.piece.model import Part
from faywright.piece.suspect import Suspect, Written

TIMES_OFF = 3.0
"""A size this many times larger or smaller than is usual in its part is asked about."""

LEAST_BOARDS = 3
"""Boards it takes to say what is usual."""


def size_suspects(part: Part, written: Written) -> Iterator[Suspect]:
    """A question for each board whose width or length is many times off the others'."""
    if len(part.boards) < LEAST_BOARDS:
        return
    for name in ("width", "length"):
        sizes = [float(getattr(board, name)) for board in part.boards]
        usual = median(sizes)
        for board, size in zip(part.boards, sizes, strict=True):
            if not usual / TIMES_OFF < size < usual * TIMES_OFF:
                what = f"its {name} is {written(size)}, where {written(usual)} is usual"
                ask = "Are the decimal point and the units right?"
                yield Suspect(f"board {board.mark}", what, ask)
