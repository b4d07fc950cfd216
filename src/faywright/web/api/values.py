"""Values of a document as JSON has them: the same, but for dates, which JSON does not know."""

from __future__ import annotations

import datetime
from typing import Annotated

from pydantic import Field
from typing_extensions import TypeAliasType

from faywright.piece import amending
from faywright.web.api.strict import GREATEST_NUMBER, SOUND, Request


class Day(Request):
    """A date in a document, which TOML writes without quotes."""

    date: Annotated[datetime.date, Field(strict=False, description="Year-month-day.")]


Plain = Annotated[str, Field(max_length=10_000, pattern=SOUND)]
Whole = Annotated[int, Field(ge=-GREATEST_NUMBER, le=GREATEST_NUMBER)]
Finite = Annotated[float, Field(ge=-1e15, le=1e15)]
Key = Annotated[str, Field(min_length=1, max_length=200, pattern=SOUND)]

VALUE = 'A value of a document; a date is {"date": "2026-09-14"}.'

# The first that fits: a date is a table, too.
Value = TypeAliasType(
    "Value",
    "Annotated[Plain | bool | Whole | Finite | Day | Values | Table, "
    "Field(union_mode='left_to_right', description=VALUE)]",
)
Values = TypeAliasType("Values", "Annotated[list[Value], Field(max_length=1000)]")
Table = TypeAliasType("Table", "Annotated[dict[Key, Value], Field(max_length=100)]")

Step = Key | Annotated[int, Field(ge=0, le=100_000)]
NamedPath = Annotated[
    list[Step],
    Field(
        min_length=1,
        max_length=8,
        description="Way to a field: keys, and in lists the mark or name of an entry, or its "
        'place counted from 0, as ["board", "B02", "width"].',
    ),
]


def in_toml(value: Value) -> amending.Value:
    """A value as a document can have it."""
    if isinstance(value, Day):
        return value.date
    if isinstance(value, list):
        return [in_toml(each) for each in value]
    if isinstance(value, dict):
        return {key: in_toml(each) for key, each in value.items()}
    return value


def in_json(value: object) -> object:
    """A value of a document as JSON; the other way round from ``in_toml``."""
    if isinstance(value, datetime.date):
        return {"date": value.isoformat()}
    if isinstance(value, dict):
        return {str(key): in_json(each) for key, each in value.items()}
    if isinstance(value, list):
        return [in_json(each) for each in value]
    return value if isinstance(value, str | int | float | None) else str(value)
