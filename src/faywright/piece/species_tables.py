"""A maker's own figures for timber: the ``[[species]]`` tables of a shop file."""

from __future__ import annotations

from typing import get_args

from faywright.piece.fields import Table
from faywright.piece.values import Reader, number, one_of, text
from faywright.timber.finding import find_species
from faywright.timber.measures import MEASURES
from faywright.timber.species import Group, Species, own_species


def read_species(table: Table) -> Species | None:
    """One species; None after a fault. Strengths are in MPa, hardness in N, movement in shares."""
    values: dict[str, float] = {
        value: found
        for value in MEASURES
        if (found := table.optional(value, number, None)) is not None
    }
    return table.build(
        own_species,
        table.required("name", text),
        values,
        group=table.optional("group", one_of(get_args(Group)), None),
        like=table.optional("like", _PUBLISHED, None),
        botanical=table.optional("botanical", text, ""),
    )


def _published(value: object) -> Species | None:
    return find_species(text.read(value))


_PUBLISHED: Reader[Species | None] = Reader(_published, None)
