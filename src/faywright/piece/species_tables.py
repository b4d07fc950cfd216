"""A maker's own figures for timber: the ``[[species]]`` tables of a shop file."""

from __future__ import annotations

from typing import get_args

from faywright.piece.fields import Table
from faywright.piece.values import Reader, UnreadError, number, one_of, text
from faywright.timber.finding import find_species
from faywright.timber.measures import MEASURES, Measure
from faywright.timber.species import Group, Species, own_species


def read_species(table: Table) -> Species | None:
    """One species; None after a fault. Strengths are in MPa, hardness in N, movement in shares."""
    values: dict[str, float] = {
        value: found
        for value, measure in MEASURES.items()
        if (found := table.optional(value, _measured(measure), None)) is not None
    }
    return table.build(
        own_species,
        table.required("name", text),
        values,
        group=table.optional("group", one_of(get_args(Group)), None),
        like=table.optional("like", _PUBLISHED, None),
        botanical=table.optional("botanical", text, ""),
    )


def _measured(measure: Measure) -> Reader[float]:
    """Reads a value that wood can have, so that a slip is told at its own line."""

    def read(value: object) -> float:
        found = number.read(value)
        if not measure.low <= found <= measure.high:
            raise UnreadError(
                f"{measure.words} of {found:g} is not between {measure.low:g} and {measure.high:g}",
                f"Check the decimal point and the unit: {measure.unit}",
            )
        return found

    return Reader(read, measure.low)


def _published(value: object) -> Species | None:
    return find_species(text.read(value))


_PUBLISHED: Reader[Species | None] = Reader(_published, None)
