"""What a document says of wood and air: moisture, humidity, temperature, the run of the rings."""

from __future__ import annotations

import re

from faywright.piece.values import Reader, UnreadError, number, shown, text
from faywright.timber.climate import Air, StatedMoisture
from faywright.timber.moisture import celsius
from faywright.timber.movement import RING_ANGLES, Grain

Rings = Grain | float
"""How a board was sawn: by name, or the angle of its rings to its width. [deg]"""

_WITH_SIGN = re.compile(r"\s*([-+]?\d+(?:[.,]\d+)?)\s*(%|°?\s*[CF])?\s*", re.IGNORECASE)


def _parted(value: object, wanted: str, remedy: str) -> tuple[float, str]:
    """A number and the sign after it, from a number or from text such as ``"68 F"``."""
    if not isinstance(value, str):
        return number.read(value), ""
    found = _WITH_SIGN.fullmatch(value)
    if found is None:
        raise UnreadError(f"{shown(value)} is not {wanted}", remedy)
    sign = (found[2] or "").replace("°", "").strip().upper()
    return float(found[1].replace(",", ".")), sign


def percent(least: float, most: float, what: str) -> Reader[float]:
    """Reads a percentage within bounds, as a number or as text with a percent sign."""
    remedy = f"Give {what} in percent, from {least:g} to {most:g}"

    def read(value: object) -> float:
        found, sign = _parted(value, "a percentage", remedy)
        if sign not in ("", "%"):
            raise UnreadError(f"{shown(value)} is not a percentage", remedy)
        if not least <= found <= most:
            raise UnreadError(
                f"{what} of {found:g} % is not between {least:g} and {most:g} %", remedy
            )
        return found

    return Reader(read, least)


MOISTURE = percent(4.0, 30.0, "moisture content")
HUMIDITY = percent(0.0, 98.0, "relative humidity")


def _temperature(value: object) -> float:
    remedy = 'Give degrees Celsius as a number, or with a sign: "20 C", "68 F"'
    found, sign = _parted(value, "a temperature", remedy)
    if sign == "%":
        raise UnreadError(f"{shown(value)} is not a temperature", remedy)
    degrees = celsius(found) if sign == "F" else found
    if not -1.2 <= degrees <= 50:
        hint = remedy if sign else f'{remedy}; if Fahrenheit was meant, "{found:g} F"'
        raise UnreadError(f"{degrees:.1f} deg C is not between -1.2 and 50 deg C", hint)
    return degrees


TEMPERATURE = Reader(_temperature, 20.0)


def _rings(value: object) -> Rings:
    named = ", ".join(f'"{name}"' for name in RING_ANGLES)
    remedy = f"Use {named}, or the angle of the rings to the width in degrees, 0 to 90"
    if isinstance(value, str):
        for name in RING_ANGLES:
            if value.strip().lower().removesuffix("sawn").rstrip("- ") == name:
                return name
        try:
            angle = float(text.read(value).replace(",", "."))
        except ValueError:
            raise UnreadError(f"{shown(value)} is not known", remedy) from None
    else:
        angle = number.read(value)
    if not 0 <= angle <= 90:
        raise UnreadError(f"an angle of {angle:g} degrees is not between 0 and 90", remedy)
    return angle


RINGS: Reader[Rings] = Reader(_rings, "flat")


_AIR = re.compile(
    r"\s*([-+]?[\d.,]+)\s*°?\s*([CF])[\s,;/]+(?:at\s+)?([\d.,]+)\s*%\s*", re.IGNORECASE
)


def _state(value: object) -> Air | StatedMoisture:
    remedy = 'Give the air, "20 C 45 %" or "68 F 45 %", or the moisture of the wood, "8 %"'
    if isinstance(value, str) and (found := _AIR.fullmatch(value)):
        temperature = TEMPERATURE.read(f"{found[1]} {found[2]}")
        return Air(temperature, HUMIDITY.read(f"{found[3]} %"))
    try:
        return StatedMoisture(MOISTURE.read(value))
    except UnreadError as unread:
        raise UnreadError(unread.what, remedy) from None


STATE: Reader[Air | StatedMoisture] = Reader(_state, StatedMoisture(10.0))
"""Reads the air that wood has rested in, or its moisture."""
