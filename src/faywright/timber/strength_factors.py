"""Factors between the mean strength of clear wood and an allowable stress, read once."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from faywright.errors import InputError

FILE = "timber/data/strength_factors.csv"

Key = tuple[str, str]
"""Which factor, and what of: a property of wood, or how long a load lasts."""


@dataclass(frozen=True, slots=True)
class Published:
    """One factor as published or remembered, with its place and how well it is known."""

    value: float
    locator: str
    note: str

    @property
    def source(self) -> str:
        """Where it stands, and how it was read."""
        return f"{self.locator}; {self.note}" if self.note else self.locator


@cache
def strength_factors() -> Mapping[Key, Published]:
    """The packaged table; it cannot be changed."""
    text = files("faywright").joinpath(FILE).read_text(encoding="utf-8")
    return MappingProxyType(parse_strength_factors(text.splitlines(), where=FILE))


def parse_strength_factors(lines: Iterable[str], *, where: str) -> dict[Key, Published]:
    """Read factors from CSV ``lines``; ``where`` names them in messages.

    Raises
    ------
    InputError
        A cell is blank, a value is not a number above 0 and at most 3, or a factor stands twice.
    """
    table: dict[Key, Published] = {}
    reader = csv.DictReader(lines)
    for cells in reader:
        place = f"{where} line {reader.line_num}"
        for column in ("factor", "of", "source", "locator"):
            if not cells[column]:
                raise InputError(f"{column} is blank", where=place, remedy="Fill every column")
        key = (cells["factor"], cells["of"])
        if key in table:
            raise InputError(f"{' of '.join(key)} is listed twice", where=place, remedy="Keep one")
        table[key] = Published(_value(cells["value"], place), cells["locator"], cells["note"])
    return table


def _value(cell: str, place: str) -> float:
    try:
        value = float(cell)
    except ValueError:
        value = 0.0
    if not 0 < value <= 3:
        raise InputError(
            f"value is {cell!r}", where=place, remedy="Write a plain number above 0, at most 3"
        )
    return value
