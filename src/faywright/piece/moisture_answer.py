"""How moist is this wood? From the air it has rested in, or from what a meter with pins shows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from faywright.errors import InputError, RangeError
from faywright.piece.climate_table import METER, USUAL_C
from faywright.piece.values import Reader, UnreadError
from faywright.piece.wood_values import HUMIDITY, TEMPERATURE
from faywright.timber.climate import Air
from faywright.timber.moisture import MeterReading

T = TypeVar("T")

Faults = dict[str, InputError]
"""What is wrong with which field."""


def wood_in_air(given: Mapping[str, str]) -> Air | Faults:
    """Wood at rest in air of a ``temperature`` and a ``humidity``, as typed.

    >>> found = wood_in_air({"temperature": "68 F", "humidity": "50 %"})
    >>> isinstance(found, Air) and round(found.moisture, 1)
    9.3
    """
    faults: Faults = {}
    temperature = _read(TEMPERATURE, given, "temperature", faults)
    humidity = _read(HUMIDITY, given, "humidity", faults)
    return faults or Air(temperature, humidity)


def wood_by_meter(given: Mapping[str, str]) -> MeterReading | Faults:
    """Wood that a ``meter`` was read in, with temperatures of ``wood`` and calibration, as typed.

    >>> found = wood_by_meter({"meter": "9", "wood": "8.8 C"})
    >>> isinstance(found, MeterReading) and found.moisture
    10.0
    """
    faults: Faults = {}
    shown = _read(METER, given, "meter", faults)
    wood = _read(TEMPERATURE, given, "wood", faults, USUAL_C)
    calibrated = _read(TEMPERATURE, given, "calibrated", faults, USUAL_C)
    if faults:
        return faults
    try:
        return MeterReading(shown=shown, wood_c=wood, calibrated_c=calibrated)
    except RangeError as error:
        return {_meant(error): error}


def _meant(error: RangeError) -> str:
    """The field a refused reading speaks of."""
    if error.what.startswith("wood temperature"):
        return "wood"
    return "calibrated" if error.what.startswith("calibration") else "meter"


def _read(
    reader: Reader[T],
    given: Mapping[str, str],
    name: str,
    faults: Faults,
    otherwise: T | None = None,
) -> T:
    text = given.get(name, "").strip()
    if not text and otherwise is not None:
        return otherwise
    try:
        return reader.read(text)
    except UnreadError as unread:
        faults[name] = InputError(unread.what, where=name, remedy=unread.remedy)
        return reader.stand_in
