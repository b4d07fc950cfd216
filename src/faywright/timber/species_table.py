"""Published species, read from ``data/species.csv``: printed units in, SI out."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import cast, get_args

from faywright.errors import InputError
from faywright.timber.measures import MEASURES, SEEN, SOURCES, Origin, Value
from faywright.timber.species import Disagreement, Group, Species

FILE = "timber/data/species.csv"

PSI = 0.00689475729
"""Pound-force to the square inch. [MPa] NIST SP 811 (2008), Appendix B.8, from memory."""

POUND_FORCE = 4.4482216152605
"""[N] NIST SP 811 (2008), Appendix B.8, from memory."""

COLUMNS: Mapping[str, tuple[Value, float]] = MappingProxyType(
    {
        "c_radial": ("c_radial", 1.0),
        "c_tangential": ("c_tangential", 1.0),
        "c_radial_percent": ("c_radial", 0.01),
        "c_tangential_percent": ("c_tangential", 0.01),
        "shrink_radial_percent": ("shrink_radial", 1.0),
        "shrink_tangential_percent": ("shrink_tangential", 1.0),
        "sg_green": ("sg_green", 1.0),
        "sg_12": ("sg_12", 1.0),
        "mor_psi": ("mor", PSI),
        "moe_million_psi": ("moe", 1e6 * PSI),
        "compression_perp_psi": ("compression_perp", PSI),
        "shear_par_psi": ("shear_par", PSI),
        "tension_perp_psi": ("tension_perp", PSI),
        "hardness_lbf": ("hardness", POUND_FORCE),
    }
)
"""What a column of printed figures becomes, and by which factor.

Movement is printed either as a share of the size or in percent of it, one of the two in a row.
"""


@cache
def species_table() -> Mapping[str, Species]:
    """The packaged species by name; read once, and not to be changed."""
    text = files("faywright").joinpath(FILE).read_text(encoding="utf-8")
    return MappingProxyType(parse_species(text.splitlines(), where=FILE))


def parse_species(lines: Iterable[str], *, where: str) -> dict[str, Species]:
    """Read species from CSV ``lines``; ``where`` names them in messages.

    Raises
    ------
    InputError
        A cell cannot be used, a figure has no table or no word on how it was read, or a species
        is listed twice.
    RangeError
        A figure is none that wood can have.
    """
    table: dict[str, Species] = {}
    reader = csv.DictReader(lines, restval="")
    for cells in reader:
        place = f"{where} line {reader.line_num}"
        try:
            one = _species(cells)
            if one.name in table:
                raise _fault(f"{one.name} is listed twice", "Keep one")
        except InputError as fault:
            raise type(fault)(fault.what, where=place, remedy=fault.remedy) from None
        table[one.name] = one
    return table


def _fault(what: str, remedy: str) -> InputError:
    """A fault in a row; the reader of rows adds the place."""
    return InputError(what, where="", remedy=remedy)


def _species(cells: Mapping[str, str]) -> Species:
    values: dict[Value, float] = {}
    for column, (value, factor) in COLUMNS.items():
        if cells[column]:
            if value in values:
                raise _fault(f"{column} gives {value} a second time", "Fill one column of it")
            values[value] = factor * _number(cells, column)
    start = cells["start_of_shrinkage_percent"]
    return Species(
        name=cells["name"],
        botanical=cells["botanical"],
        group=cast("Group", cells["group"]),  # checked by the species
        start_of_shrinkage=_number(cells, "start_of_shrinkage_percent") if start else 30.0,
        origins=_origins(cells, values),
        disagreement=_disagreement(cells["disagreement"]),
        note=cells["note"],
        **values,
    )


def _number(cells: Mapping[str, str], column: str) -> float:
    try:
        return float(cells[column])
    except ValueError:
        raise _fault(f"{column} is {cells[column]!r}", "Write a plain number") from None


def _disagreement(cell: str) -> Disagreement | None:
    if cell and cell not in get_args(Disagreement):
        raise _fault(f"disagreement is {cell!r}", f"Use {', '.join(get_args(Disagreement))}")
    return cast("Disagreement", cell) if cell else None


def _origins(cells: Mapping[str, str], values: Mapping[Value, float]) -> Mapping[Value, Origin]:
    """Where each value stands, or would stand if it were printed."""
    origins = _places(cells["source"], cells["locator"], cells["seen"])
    for value in values:
        if value not in origins or origins[value].seen not in SEEN:
            raise _fault(f"{value} has no table, or not how it was read", "Fill locator and seen")
    return origins


@cache
def _places(source: str, locator: str, seen: str) -> Mapping[Value, Origin]:
    """Origins as a row tells them: "movement Table 13-5; ..." and "strength memory; moe page"."""
    if source not in SOURCES:
        raise _fault(f"source is {source!r}", f"Use one of {', '.join(SOURCES)}")
    tables = dict(part.partition(" ")[::2] for part in locator.split("; "))
    read: dict[str, str] = {}
    for part in seen.split("; "):
        keys, _, how = part.rpartition(" ")
        read |= dict.fromkeys(keys.split(), how)
    return MappingProxyType(
        {
            value: Origin(source, tables[measure.kind], read.get(value, read.get(measure.kind, "")))
            for value, measure in MEASURES.items()
            if tables.get(measure.kind)
        }
    )
