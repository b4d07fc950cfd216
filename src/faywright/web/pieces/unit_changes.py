"""Another unit for bare numbers of a document: those that are there get the old one, in words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from faywright.piece.amending import Value
from faywright.web.changing import NamedPath, Put
from faywright.web.fields import units_of
from faywright.web.pieces.renaming import named_tables

_HAS_UNIT = re.compile(r"[A-Za-z\"'\u2032\u2033]")

_SIZES = ("diameter", "thickness", "tongue")
"""Sizes of cutters: a length alone, or a table."""

LENGTHS: Mapping[str, tuple[str, ...]] = {
    "board": ("width", "length", "thickness"),
    "joint": (
        "tongue_thickness",
        "tongue_length",
        "groove_width",
        "groove_depth",
        "bottom_gap",
        "offset",
        "film",
        "sanding",
        "engagement",
        "fit.aim",
        "fit.low",
        "fit.high",
        "detail.size",
        "load.along",
        "load.pulled_out",
        "load.projection",
    ),
    "shelf": ("span", "width", "thickness"),
    "panel": ("width",),
    "framed": ("opening_width", "opening_height", "groove_depth", "engagement"),
    "drawer": ("opening_width", "opening_height"),
    "machine": (
        "lift_pitch",
        "table_opening",
        "work_lift",
        "fence.length",
        "fence.height",
        "fence.pivot_to_end",
        "fence.pivot_to_cutter",
    ),
    "cutter": (
        *(f"{size}{inner}" for size in _SIZES for inner in ("", ".marked", ".measured")),
        "cutting_length",
        "slot_depth",
        "wing",
        "tongue_length",
        "radius",
        "point",
        "height",
        "reach",
        "runout",
        "shank",
    ),
    "gauge": ("resolution", "repeatability", "zero_error"),
}
"""Keys of the tables of pieces and shops that are lengths."""


def in_units(tables: Mapping[str, object], units: str) -> Sequence[Put]:
    """What it takes to read bare numbers as ``units`` from now on, with every length as it was."""
    old = units_of(tables)
    if units == old:
        return []
    found = [
        Put(path, _with_unit(value, old), along=True)
        for key, names in LENGTHS.items()
        for name, table in named_tables(tables, key)
        for path, value in _lengths(table, (key, name), names)
    ]
    return [*found, Put(("units",), units)]


def _lengths(
    table: Mapping[str, object], at: NamedPath, names: Sequence[str]
) -> Iterator[tuple[NamedPath, object]]:
    for name in names:
        steps = name.split(".")
        value: object = table
        for step in steps:
            value = value.get(step) if isinstance(value, dict) else None
        if value is not None and not isinstance(value, dict) and _is_bare(value):
            yield (*at, *steps), value


def _is_bare(value: object) -> bool:
    if isinstance(value, list):
        return any(_is_bare(each) for each in value)
    return not isinstance(value, str) or not _HAS_UNIT.search(value)


def _with_unit(value: object, unit: str) -> Value:
    if isinstance(value, list):
        return [_with_unit(each, unit) for each in value]
    text = value if isinstance(value, str) else repr(value)
    return f"{text} {unit}" if _is_bare(value) else text
