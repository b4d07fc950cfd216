"""The forms about the climate of a piece: its keys go together, and one way of saying replaces
another."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.urls import reverse

from faywright.app.documents import Sheet
from faywright.errors import Fault
from faywright.lengths import LengthStyle
from faywright.piece.amending import Value
from faywright.piece.document import tables_of
from faywright.web.changing import Edit, NamedPath, Put, value_at
from faywright.web.fields import Field, Spec, fields_of
from faywright.web.forms import Form, MakeEdits, faults_at, group_edits
from faywright.web.pieces.specs_of_pieces import AIR, MONTHLY, ROOM, SEASON

AT: NamedPath = ("climate",)
SEASONS: NamedPath = ("climate", "season")
BLANK_SEASONS = 2
"""Rows for seasons that are not there yet."""

WAYS = ("room", "season", "monthly")
"""Keys that say what the year is like in the room; one of them stands."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A form with what it does, and where its faults belong."""

    form: Form
    make: MakeEdits
    at: Callable[[Sequence[Fault]], Iterable[tuple[str, str]]]


def climate_form(sheet: Sheet, name: str, style: LengthStyle) -> Asked:
    """One of ``CLIMATE_FORMS`` for a piece."""
    return CLIMATE_FORMS[name](sheet, name, style)


def _begin(sheet: Sheet, name: str, style: LengthStyle) -> Asked:
    fields = (
        *_fields(sheet, AIR, style, (*AT, "cutting")),
        *_fields(sheet, (ROOM,), style, AT),
    )
    note = "Give the air at the machine, or the moisture of the wood, and where it will stand."
    form = _form(sheet, name, "Reckon with the climate", fields, note)
    return Asked(form, group_edits(tables_of(sheet.revision.text), AT, fields), _at(fields))


def _state(sheet: Sheet, name: str, style: LengthStyle) -> Asked:
    at = (*AT, name)
    title = {"cutting": "When it is cut", "assembly": "When it is put together"}[name]
    note = {
        "cutting": "The air at the machine, or the moisture of the wood, or a meter's reading.",
        "assembly": "Left out, the boards are as moist as they were cut.",
    }[name]
    fields = _fields(sheet, AIR, style, at)
    make = group_edits(tables_of(sheet.revision.text), at, fields)
    return Asked(_form(sheet, name, title, fields, note), make, _at(fields))


def _room(sheet: Sheet, name: str, style: LengthStyle) -> Asked:
    fields = _fields(sheet, (ROOM,), style, AT)
    form = _form(sheet, name, "A room as there are many", fields, "Your own readings are better.")
    return Asked(
        form, _instead("room", group_edits(_tables(sheet), AT, fields), sheet), _at(fields)
    )


def _monthly(sheet: Sheet, name: str, style: LengthStyle) -> Asked:
    at = (*AT, "monthly")
    fields = _fields(sheet, MONTHLY, style, at)
    note = "Twelve numbers each, January first: temperatures with humidities, or moistures."
    form = _form(sheet, name, "Month by month", fields, note)
    return Asked(
        form, _instead("monthly", group_edits(_tables(sheet), at, fields), sheet), _at(fields)
    )


def _seasons(sheet: Sheet, name: str, style: LengthStyle) -> Asked:
    tables = _tables(sheet)
    there = value_at(tables, SEASONS)
    count = len(there) if isinstance(there, list) else 0
    rows = [_fields(sheet, SEASON, style, (*SEASONS, row)) for row in range(count + BLANK_SEASONS)]
    fields = tuple(field for row in rows for field in row)
    note = "Each month in one season. A season without a name is left out."
    form = _form(sheet, name, "Seasons of your own", fields, note)

    def make(values: Mapping[str, Value | None]) -> tuple[Sequence[Edit], str]:
        found = [_season(tables, row, values) for row in rows]
        kept: list[Value] = [dict(season) for season in found if season]
        return [Put(SEASONS, kept or None)], f"seasons of climate: {len(kept)}"

    return Asked(form, _instead("season", make, sheet), _at(fields))


def _season(
    tables: Mapping[str, object], row: Sequence[Field], values: Mapping[str, Value | None]
) -> Mapping[str, Value]:
    """The table of a row, with what was typed in place of what was there; empty without a name."""
    found: dict[str, Value] = {}
    for field in row:
        value = values[field.name] if field.name in values else value_at(tables, field.path)
        if value is not None:
            found[str(field.path[-1])] = value  # type: ignore[assignment] # it is a value of TOML
    return found if found.get("name") else {}


def _instead(way: str, make: MakeEdits, sheet: Sheet) -> MakeEdits:
    """Edits with those that take away the other ways of saying what the year is like."""
    others = [key for key in WAYS if key != way and value_at(_tables(sheet), (*AT, key))]

    def made(values: Mapping[str, Value | None]) -> tuple[Sequence[Edit], str]:
        edits, what = make(values)
        return [*edits, *(Put((*AT, key), None) for key in others if edits)], what

    return made


def _at(fields: Sequence[Field]) -> Callable[[Sequence[Fault]], Iterable[tuple[str, str]]]:
    return faults_at({field.path: field.name for field in fields})


def _tables(sheet: Sheet) -> Mapping[str, object]:
    return tables_of(sheet.revision.text)


def _fields(
    sheet: Sheet, specs: Iterable[Spec], style: LengthStyle, at: NamedPath
) -> tuple[Field, ...]:
    return fields_of(specs, _tables(sheet), style, at)


def _form(sheet: Sheet, name: str, title: str, fields: tuple[Field, ...], note: str) -> Form:
    return Form(
        id=f"climate-{name}",
        title=title,
        url=reverse("piece-climate", kwargs={"piece": sheet.id, "form": name}),
        base=sheet.revision.number,
        fields=fields,
        button="Keep",
        note=note,
    )


CLIMATE_FORMS: Mapping[str, Callable[[Sheet, str, LengthStyle], Asked]] = {
    "begin": _begin,
    "cutting": _state,
    "assembly": _state,
    "room": _room,
    "seasons": _seasons,
    "monthly": _monthly,
}
"""Each form about the climate, by the name it has in addresses."""
