"""Fits: how much clearance a side a joint shall have, and what for."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from faywright.errors import InputError, RangeError

FILE = "fit/data/fits.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A band of clearance per side, with the clearance to aim for. [mm]

    What is ``glued`` stays as it is assembled; what is not has to fit in every season.
    """

    name: str
    aim: float
    low: float
    high: float
    purpose: str = "the maker's own figures"
    source: str = "the maker"
    locator: str = ""
    glued: bool = False

    def __post_init__(self) -> None:
        """The aim lies inside the band."""
        if not -1 <= self.low <= self.aim <= self.high <= 5 or self.low == self.high:
            raise RangeError(
                f"clearances per side of {self.low:g} to {self.high:g} mm, aiming for "
                f"{self.aim:g} mm, do not make a band",
                where=f"fit {self.name!r}",
                remedy="Give low, aim and high in that order, between -1 and 5 mm a side",
            )


@cache
def fits() -> Mapping[tuple[str, str], Fit]:
    """The packaged fits by name and timber; read once, and not to be changed."""
    text = files("faywright").joinpath(FILE).read_text(encoding="utf-8")
    return MappingProxyType(parse_fits(text.splitlines(), where=FILE))


def parse_fits(lines: Iterable[str], *, where: str) -> dict[tuple[str, str], Fit]:
    """Read rows of fits from CSV ``lines``; ``where`` names them in messages.

    Raises
    ------
    InputError
        A cell is blank or not a number, a row makes no band, or a fit is listed twice for a
        timber.
    """
    table: dict[tuple[str, str], Fit] = {}
    reader = csv.DictReader(lines)
    for cells in reader:
        place = f"{where} line {reader.line_num}"
        numbers = []
        for column in ("aim", "low", "high"):
            try:
                numbers.append(float(cells[column]))
            except (TypeError, ValueError):
                what = f"{column} is {cells[column]!r}"
                raise InputError(what, where=place, remedy="Write a plain number") from None
        for column in ("name", "timber", "purpose", "source"):
            if not cells[column]:
                raise InputError(f"{column} is blank", where=place, remedy="Fill every column")
        key = (cells["name"], cells["timber"])
        if key in table:
            raise InputError(f"{' for '.join(key)} is listed twice", where=place, remedy="Keep one")
        aim, low, high = numbers
        words = {column: cells[column] for column in ("name", "purpose", "source", "locator")}
        try:
            glued = cells["name"] == "glued"
            table[key] = Fit(aim=aim, low=low, high=high, glued=glued, **words)
        except RangeError as fault:
            raise RangeError(fault.what, where=place, remedy=fault.remedy) from None
    return table


def fit_called(name: str, timber: str) -> Fit:
    """The packaged fit of that name for a timber.

    Raises
    ------
    InputError
        There is none; the message lists the names there are.
    """
    if (name, timber) not in fits():
        names = sorted({n for n, t in fits() if t == timber})
        raise InputError(
            f"no fit called {name!r} for {timber}",
            where="fit",
            remedy=f"Use one of {', '.join(names)}, or give aim, low and high yourself",
        )
    return fits()[name, timber]
