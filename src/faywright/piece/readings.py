"""Thickness readings as written, in a list or a cell, and a guess at those no board can have."""

from __future__ import annotations

from faywright.lengths import Unit
from faywright.piece.values import Reader, UnreadError, length, list_of, shown
from faywright.shop.boards import THICKEST, THINNEST

Readings = tuple[tuple[float, ...], ...]
"""A row for each place along a board, a column for each across it. [mm]"""

_LIKELY = (3.0, 150.0)  # thicknesses worth a guess at the unit that was meant [mm]
_GUESSES: dict[Unit, str] = {"mm": "millimetres", "in": "inches"}


def reading(units: Unit) -> Reader[float]:
    """Reads one thickness; refuses what no board can have, and says what may have been meant."""
    size = length(units)

    def read(value: object) -> float:
        thickness = size.read(value)
        if THINNEST <= thickness <= THICKEST:
            return thickness
        if thickness == 0:
            remedy = "Measure it again; leave out a place you cannot reach, do not write 0"
            raise UnreadError("a reading of 0", remedy)
        raise UnreadError(
            f"{shown(value)} is a thickness of {thickness:g} mm, not between "
            f"{THINNEST:g} and {THICKEST:g} mm",
            _unit_meant(value) or "Check the decimal point and the units",
        )

    return Reader(read, THINNEST)


def readings(units: Unit) -> Reader[Readings]:
    """Reads one thickness, a list of them along the board, or of lists across it."""
    one = reading(units)
    along = list_of(one)

    def read(value: object) -> Readings:
        if not isinstance(value, list):
            return ((one.read(value),),)
        if not any(isinstance(entry, list) for entry in value):
            return tuple((thickness,) for thickness in along.read(value))
        rows = list_of(along).read(value)
        for index, row in enumerate(rows):
            if len(row) != len(rows[0]):
                what = f"{len(row)} across, where the first place has {len(rows[0])}"
                raise UnreadError(what, "Read as many across at each place", (index,))
        return rows

    return Reader(read, ((THINNEST,),))


def _unit_meant(value: object) -> str | None:
    """What to write if a bare number would be a likely thickness in mm or inches."""
    written = str(value).strip().replace(",", ".")
    for unit, called in _GUESSES.items():
        try:
            meant = length(unit).read(written)
        except UnreadError:
            continue
        if _LIKELY[0] <= meant <= _LIKELY[1]:
            return f'If {called} were meant, write "{written} {unit}" or units = "{unit}"'
    return None
