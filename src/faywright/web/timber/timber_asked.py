"""What is asked on the timber page, read field by field with the readers of the command line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import cast

from django.http import QueryDict

from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.moisture_answer import Faults, wood_by_meter, wood_in_air
from faywright.piece.timber_answer import Question, question
from faywright.timber.climate import Air, Room, StatedMoisture, room_called
from faywright.timber.moisture import MeterReading
from faywright.timber.names import key_of
from faywright.timber.species import Species
from faywright.timber.species_table import species_table
from faywright.web.typed import length_typed

FIELDS = ("species", "width", "rings", "from", "to", "room")
"""Of the question how much a board moves."""

_SAFE = {"species": "Oak, white", "--width": "100 mm", "--from": "8 %", "--to": "8 %"}
"""Stands in for what cannot be read, so that all faults are told at once; never answered."""

WIDTH = {"mm": "100", "decimal inch": "4", "fraction inch": "4"}
"""Of the board where none is given, in the unit of bare numbers."""


@dataclass(frozen=True)
class AskedTimber:
    """A question that was asked, or what is wrong with its fields; neither where none was."""

    question: Question | None = None
    room: Room | None = None
    faults: Mapping[str, InputError] | None = None
    over_rooms: bool = False
    between: bool = False


def asked_timber(
    given: Mapping[str, str], style: LengthStyle, own: Sequence[Species]
) -> AskedTimber:
    """The question of a board; without ``from`` and ``to`` it goes through the year.

    Without ``from``, a board in a room is taken to be as wide as told in its driest month.
    """
    texts = {name: given.get(name, "").strip() for name in FIELDS}
    if not texts["species"]:
        return AskedTimber()
    faults: Faults = {}
    room = _room(texts["room"], faults)
    start, end = texts["from"], texts["to"]
    over_rooms = not start and not end
    if room is not None:
        start = start or f"{room.driest.moisture:.6f} %"
        end = end or start
    width = str(length_typed(texts["width"] or WIDTH[style.style], style, "mm"))
    asked = {
        "species": texts["species"],
        "--from": start or None,
        "--to": end or None,
        "--width": width,
        "--rings": texts["rings"] or None,
    }
    found = _read(asked, own, faults)
    if faults:
        return AskedTimber(faults=faults)
    return AskedTimber(
        question=found,
        room=room,
        over_rooms=over_rooms and room is None,
        between=bool(texts["from"] and texts["to"]),
    )


def _room(name: str, faults: Faults) -> Room | None:
    if not name:
        return None
    try:
        return room_called(name)
    except InputError as error:
        faults["room"] = error
        return None


def _read(asked: dict[str, str | None], own: Sequence[Species], faults: Faults) -> Question:
    """The question, asked anew with what stands in for a field until no fault is left to tell."""
    while True:
        try:
            return question(
                cast("str", asked["species"]),
                start=asked["--from"],
                end=asked["--to"],
                width=cast("str", asked["--width"]),
                rings=asked["--rings"],
                own=own,
            )
        except InputError as error:
            if error.where not in asked or error.where.removeprefix("--") in faults:
                raise
            faults[error.where.removeprefix("--")] = error
            asked[error.where] = _SAFE.get(error.where)


@dataclass(frozen=True)
class AskedMoisture:
    """How moist wood is by its air or by a meter, or what is wrong with the fields."""

    state: Air | MeterReading | StatedMoisture | None = None
    faults: Mapping[str, InputError] | None = None


def asked_air(given: Mapping[str, str]) -> AskedMoisture:
    """Wood in air, if any is given."""
    if not (given.get("temperature", "").strip() or given.get("humidity", "").strip()):
        return AskedMoisture()
    return _asked(wood_in_air(given))


def asked_meter(given: Mapping[str, str]) -> AskedMoisture:
    """Wood by a meter, if a reading is given."""
    if not any(given.get(name, "").strip() for name in ("meter", "wood", "calibrated")):
        return AskedMoisture()
    return _asked(wood_by_meter(given))


def _asked(found: Air | MeterReading | Faults) -> AskedMoisture:
    return AskedMoisture(faults=found) if isinstance(found, dict) else AskedMoisture(state=found)


def meant(given: QueryDict, faults: Mapping[str, InputError]) -> tuple[tuple[str, str], ...]:
    """Timbers that a name which could not be read may stand for, and the same question of each."""
    words = set(key_of(given.get("species", "")))
    if "species" not in faults or not words:
        return ()
    found = []
    for name in species_table():
        if words <= set(key_of(name)):
            asked = given.copy()
            asked["species"] = name
            found.append((name, asked.urlencode()))
    return tuple(found)
