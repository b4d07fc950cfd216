"""The ``[climate]`` of a piece file: the air at the machine, at assembly, and over the year."""

from __future__ import annotations

from dataclasses import dataclass

from faywright.errors import InputError
from faywright.piece.fields import Table
from faywright.piece.values import list_of, name_in, text, whole
from faywright.piece.wood_values import HUMIDITY, MOISTURE, TEMPERATURE, percent
from faywright.timber.climate import (
    Air,
    Climate,
    Moisture,
    Room,
    Season,
    StatedMoisture,
    monthly,
    rooms,
)
from faywright.timber.moisture import MeterReading

DRIFT = 0.5
"""Moisture that boards may gain or lose between cutting grooves and tongues. [%] Common practice,
no source: a day or two in a workshop whose air changes by a tenth."""

MONTHS = 12
State = Moisture

_NO_ROOM = Room("", (Season("", StatedMoisture(10.0), tuple(range(1, MONTHS + 1))),))
_DRIFT = percent(0.0, 5.0, "drift of moisture")
_WHERE_ROOM = (
    'Name one, room = "heated room with cold winters", or give [[climate.season]] tables, or '
    "monthly = { temperature = [ ... ], humidity = [ ... ] }"
)


@dataclass(frozen=True, slots=True)
class PieceClimate:
    """What a piece file says of moisture: the climate, and how far boards drift between cuts.

    ``assembly_stated`` is False where boards are put together as moist as they were cut. [%]
    """

    climate: Climate
    drift: float
    assembly_stated: bool


def read_climate(top: Table) -> PieceClimate | None:
    """The climate of a piece file; None where it has none, or a fault."""
    table = top.table("climate")
    if table is None:
        return None
    cutting = _state(table.table("cutting", needed=_STATE_REMEDY))
    assembly = _state(table.table("assembly"))
    room = _room(table)
    drift = table.optional("drift", _DRIFT, DRIFT)
    return table.build(_climate, cutting or StatedMoisture(10.0), assembly, room or _NO_ROOM, drift)


def _climate(cutting: State, assembly: State | None, room: Room, drift: float) -> PieceClimate:
    climate = Climate(machining=cutting, assembly=assembly or cutting, room=room)
    return PieceClimate(climate, drift, assembly_stated=assembly is not None)


_STATE_REMEDY = "Write cutting = { temperature = 19, humidity = 50 }, or { moisture = 9.5 }"
METER = percent(0.0, 100.0, "what a moisture meter shows")
"""Reads what a meter shows; the reading itself knows which of its scale can be trusted."""

USUAL_C = 20.0
"""Temperature a meter is taken to be calibrated for, and the wood to have. [deg C]"""


def _state(table: Table | None) -> State | None:
    """Air, or the moisture that wood has."""
    if table is None:
        return None
    moisture = table.optional("moisture", MOISTURE, None)
    temperature = table.optional("temperature", TEMPERATURE, None)
    humidity = table.optional("humidity", HUMIDITY, None)
    shown = table.optional("meter", METER, None)
    wood = table.optional("wood", TEMPERATURE, USUAL_C)
    calibrated = table.optional("calibrated", TEMPERATURE, USUAL_C)

    def state() -> State:
        if shown is None:
            if table.holds("wood") or table.holds("calibrated"):
                raise InputError(
                    "temperatures of wood and calibration go with a meter's reading",
                    where="climate",
                    remedy="Write { meter = 9.0, wood = 8, calibrated = 20 }, or leave them out",
                )
            return _moist(moisture, temperature, humidity)
        if (moisture, temperature, humidity) != (None, None, None):
            raise InputError(
                "a meter's reading is given beside a moisture or the air",
                where="climate",
                remedy="Give one of them",
            )
        return MeterReading(shown=shown, wood_c=wood, calibrated_c=calibrated)

    return table.build(state)


def _moist(
    moisture: float | None, temperature: float | None, humidity: float | None
) -> Air | StatedMoisture:
    if moisture is not None:
        if temperature is not None or humidity is not None:
            raise InputError(
                "both a moisture and the air are given", where="climate", remedy="Give one of them"
            )
        return StatedMoisture(moisture)
    if temperature is None or humidity is None:
        raise InputError(
            "neither a moisture nor temperature and humidity are given",
            where="climate",
            remedy="Write { temperature = 19, humidity = 50 }, or { moisture = 9.5 }",
        )
    return Air(temperature, humidity)


def _room(table: Table) -> Room | None:
    """The room by its name, as seasons, or month by month."""
    ways = [key for key in ("room", "season", "monthly") if table.holds(key)]
    named = table.optional("room", name_in(rooms(), kind="room", stand_in=_NO_ROOM), None)
    seasons = [_season(each) for each in table.tables("season")]
    by_month = table.table("monthly")
    if len(ways) != 1:
        found = f"{' and '.join(ways)} say" if ways else "nothing says"
        table.fault(f"{found} what the year is like in the room", _WHERE_ROOM)
        return None
    if named is not None:
        return named if named.name else None
    if by_month is not None:
        return _monthly(by_month)
    read = tuple(season for season in seasons if season is not None)
    if len(read) < len(seasons) or not table.holds("season", list):
        return None
    try:
        return Room("the room", read)
    except InputError as error:
        table.fault(error.what, error.remedy, "season")
        return None


def _season(table: Table) -> Season | None:
    name = table.required("name", text)
    months = table.required("months", list_of(whole))
    moisture = table.optional("moisture", MOISTURE, None)
    temperature = table.optional("temperature", TEMPERATURE, None)
    humidity = table.optional("humidity", HUMIDITY, None)
    return table.build(lambda: Season(name, _moist(moisture, temperature, humidity), tuple(months)))


def _monthly(table: Table) -> Room | None:
    moistures = table.optional("moisture", list_of(MOISTURE), None)
    temperatures = table.optional("temperature", list_of(TEMPERATURE), None)
    humidities = table.optional("humidity", list_of(HUMIDITY), None)

    def room() -> Room:
        lists = {"temperature": temperatures, "humidity": humidities, "moisture": moistures}
        given = {key: len(values) for key, values in lists.items() if values is not None}
        wrong = {key: count for key, count in given.items() if count != MONTHS}
        if wrong or not given:
            counted = " and ".join(f"{key} has {count} values" for key, count in wrong.items())
            raise InputError(
                counted or "no list of months is given",
                where="climate",
                remedy="Give twelve values, January first",
            )
        states = [
            _moist(
                moistures[k] if moistures else None,
                temperatures[k] if temperatures else None,
                humidities[k] if humidities else None,
            )
            for k in range(MONTHS)
        ]
        return monthly("the room", states)

    return table.build(room)
