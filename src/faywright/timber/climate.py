"""Where a piece is made and where it will live: moisture of its wood over the year.

Wood indoors follows the air late and less: thin boards take weeks, and a finish makes it longer.
A season's equilibrium is what the wood would come to if the season lasted, so wettest and driest
here are bounds that real boards come near to and do not pass. Single days and open windows are
no season.
"""

from __future__ import annotations

import calendar
import csv
import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

import numpy as np

from faywright.errors import InputError, RangeError
from faywright.timber.moisture import (
    EQUILIBRIUM_LIMIT,
    Floats,
    MeterReading,
    equilibrium_moisture,
    require_air,
)

FILE = "timber/data/rooms.csv"

MONTHS = tuple(calendar.month_name[number] for number in range(1, 13))
SUMMER_HALF = (4, 5, 6, 7, 8, 9)
WINTER_HALF = (10, 11, 12, 1, 2, 3)
"""Halves of the year north of the equator, by the numbers of their months."""


@dataclass(frozen=True, slots=True)
class Air:
    """Air that wood has come to rest in, or would: deg C and percent of relative humidity."""

    temperature_c: float
    humidity_pct: float

    def __post_init__(self) -> None:
        """Only air whose effect on wood is known."""
        require_air(np.asarray(self.temperature_c), np.asarray(self.humidity_pct), where="air")

    @property
    def moisture(self) -> float:
        """Moisture content of wood at rest in it. [%]"""
        return equilibrium_moisture(self.temperature_c, self.humidity_pct)

    @property
    def standard_uncertainty(self) -> float:
        """Of ``moisture``: anywhere within ``EQUILIBRIUM_LIMIT`` (JCGM 100:2008, 4.3.7). [%]"""
        return EQUILIBRIUM_LIMIT / math.sqrt(3)


@dataclass(frozen=True, slots=True)
class StatedMoisture:
    """A moisture content that the maker gives, and how well it is known. [% of oven-dry mass]"""

    moisture: float
    standard_uncertainty: float = 0.0

    def __post_init__(self) -> None:
        """Wood that is worked lies between oven-dry and fibre saturation."""
        if not 0 <= self.moisture <= 30:
            raise RangeError(
                f"a moisture of {self.moisture:g} % is outside 0 to 30 %, fibre saturation",
                where="stated moisture",
                remedy="Give percent of the oven-dry mass, 30 for wood that has still to dry",
            )
        if not 0 <= self.standard_uncertainty <= 10:
            raise RangeError(
                f"an uncertainty of {self.standard_uncertainty:g} % is outside 0 to 10 %",
                where="stated moisture",
                remedy="Give one standard deviation in percent of moisture",
            )


Moisture = Air | StatedMoisture | MeterReading
"""Any way to know how moist wood is; each has ``moisture`` and ``standard_uncertainty``."""


@dataclass(frozen=True, slots=True)
class Season:
    """A part of the year, by the numbers of its months, and what wood comes to in it."""

    name: str
    state: Air | StatedMoisture
    months: tuple[int, ...]

    @property
    def moisture(self) -> float:
        """Moisture content that wood would come to if the season lasted. [%]"""
        return self.state.moisture


@dataclass(frozen=True, slots=True)
class Room:
    """A place over the year, as seasons that share out its months."""

    name: str
    seasons: tuple[Season, ...]
    about: str = ""

    def __post_init__(self) -> None:
        """Every month belongs to one season."""
        counted = Counter(month for season in self.seasons for month in season.months)
        for month in counted:
            if month not in range(1, 13):
                raise self._wrong(f"there is no month {month}")
        for number, name in enumerate(MONTHS, start=1):
            if counted[number] != 1:
                seasons = "more than one season" if counted[number] else "no season"
                raise self._wrong(f"{name} is in {seasons}")

    def _wrong(self, what: str) -> InputError:
        remedy = "Give each month from 1 to 12 to one season"
        return InputError(what, where=f"room {self.name!r}", remedy=remedy)

    @property
    def moisture_by_month(self) -> Floats:
        """Moisture content that each month, January first, would bring wood to. [%]"""
        by_month = np.empty(12)
        for season in self.seasons:
            by_month[[month - 1 for month in season.months]] = season.moisture
        return by_month

    @property
    def driest(self) -> Season:
        """The season that dries wood most, the first of equals."""
        return min(self.seasons, key=lambda season: season.moisture)

    @property
    def wettest(self) -> Season:
        """The season that wets wood most, the first of equals."""
        return max(self.seasons, key=lambda season: season.moisture)


def monthly(name: str, states: Sequence[Air | StatedMoisture], *, about: str = "") -> Room:
    """Make a room from a table of twelve months, January first.

    Raises
    ------
    InputError
        There are not twelve.
    """
    if len(states) != len(MONTHS):
        raise InputError(
            f"{len(states)} months are given",
            where=f"room {name!r}",
            remedy="Give twelve, January first, or give seasons with their months",
        )
    seasons = (
        Season(month, state, (number,))
        for number, (month, state) in enumerate(zip(MONTHS, states, strict=True), start=1)
    )
    return Room(name, tuple(seasons), about)


def winter_and_summer(
    name: str, winter: Air | StatedMoisture, summer: Air | StatedMoisture
) -> Room:
    """Make a room from two halves of the year, north of the equator: winter from October.

    Examples
    --------
    >>> room = winter_and_summer("parlour", winter=Air(20, 35), summer=Air(22, 60))
    >>> room.driest.name, round(room.driest.moisture, 1), round(room.wettest.moisture, 1)
    ('winter', 7.0, 10.9)
    """
    return Room(
        name, (Season("winter", winter, WINTER_HALF), Season("summer", summer, SUMMER_HALF))
    )


@dataclass(frozen=True, slots=True)
class Extreme:
    """The moisture at an end of what wood goes through, and when. [%]"""

    when: str
    moisture: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """Moisture of a piece's wood when machined, when assembled, and where it will live."""

    machining: Moisture
    assembly: Moisture
    room: Room

    @property
    def driest(self) -> Extreme:
        """Driest that assembled joints get: the room's driest season, or assembly itself."""
        return min(self._assembled, key=lambda extreme: extreme.moisture)

    @property
    def wettest(self) -> Extreme:
        """Wettest that assembled joints get: the room's wettest season, or assembly itself."""
        return max(self._assembled, key=lambda extreme: extreme.moisture)

    @property
    def _assembled(self) -> list[Extreme]:
        seasons = [Extreme(season.name, season.moisture) for season in self.room.seasons]
        return [*seasons, Extreme("assembly", self.assembly.moisture)]


@cache
def rooms() -> Mapping[str, Room]:
    """Rooms to start from, by name; invented, so that a maker's own readings come first.

    Months are those north of the equator. Read once, and not to be changed.
    """
    text = files("faywright").joinpath(FILE).read_text(encoding="utf-8")
    return MappingProxyType(parse_rooms(text.splitlines(), where=FILE))


def room_called(name: str) -> Room:
    """One of ``rooms``.

    Raises
    ------
    InputError
        There is none of that name; the message lists the names there are.
    """
    if name not in rooms():
        raise InputError(
            f"no room called {name!r}",
            where="room",
            remedy=f"Use one of {', '.join(rooms())}, or give its seasons yourself",
        )
    return rooms()[name]


def parse_rooms(lines: Iterable[str], *, where: str) -> dict[str, Room]:
    """Read rooms from CSV ``lines``, one a row; ``where`` names them in messages.

    Columns ``t01`` to ``t12`` hold the temperature of each month [deg C], ``h01`` to ``h12`` its
    relative humidity [%].

    Raises
    ------
    InputError
        A cell is blank or not a number, air is out of range, or a room is listed twice.
    """
    table: dict[str, Room] = {}
    reader = csv.DictReader(lines)
    for cells in reader:
        place = f"{where} line {reader.line_num}"
        for column in ("name", "about", "source"):
            if not cells.get(column):
                raise InputError(f"{column} is blank", where=place, remedy="Fill every column")
        if cells["name"] in table:
            what = f"{cells['name']} is listed twice"
            raise InputError(what, where=place, remedy="Keep one")
        states = [_air(cells, number, place) for number in range(1, 13)]
        table[cells["name"]] = monthly(cells["name"], states, about=cells["about"])
    return table


def _air(cells: Mapping[str, str | None], month: int, place: str) -> Air:
    numbers = []
    for column in (f"t{month:02d}", f"h{month:02d}"):
        cell = cells.get(column)
        try:
            numbers.append(float(cell or ""))
        except ValueError:
            what = f"{column} is {cell!r}"
            raise InputError(what, where=place, remedy="Write a plain number") from None
    try:
        return Air(*numbers)
    except RangeError as fault:
        raise RangeError(
            f"{MONTHS[month - 1]}: {fault.what}", where=place, remedy=fault.remedy
        ) from None
