"""What is published of a timber: the measures, their units, and where a figure was printed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Kind = Literal["movement", "shrinkage", "strength"]
"""Values that stand in one table; specific gravities are printed with the strengths."""

Value = Literal[
    "c_radial",
    "c_tangential",
    "shrink_radial",
    "shrink_tangential",
    "sg_green",
    "sg_12",
    "mor",
    "moe",
    "compression_perp",
    "shear_par",
    "tension_perp",
    "hardness",
]

YOUR_OWN = "your own"

SOURCES = {
    "wood-handbook": "Wood Handbook, FPL-GTR-190 (2010)",
    "differential-shrinkage": "German timber-trade association",
    "parquet-movement": "Swiss parquet manufacturer",
    YOUR_OWN: "your own figure",
}
"""Keys of the references, in words."""

SEEN = {
    "page": "page seen",
    "secondary": "secondary copy seen",
    "memory": "from memory",
    YOUR_OWN: "",
}
"""How a printed figure was read."""


@dataclass(frozen=True, slots=True)
class Measure:
    """What a value is, its unit, and what wood can have; beyond that a unit was mistaken."""

    words: str
    unit: str
    low: float
    high: float
    kind: Kind


_C = "parts of the size for each 1 % of moisture"
_SHRINKS = "% of the green size, green to ovendry"

MEASURES: Mapping[Value, Measure] = MappingProxyType(
    {
        "c_radial": Measure("radial movement", _C, 0.0002, 0.008, "movement"),
        "c_tangential": Measure("tangential movement", _C, 0.0002, 0.008, "movement"),
        "shrink_radial": Measure("radial shrinkage", _SHRINKS, 0.5, 20, "shrinkage"),
        "shrink_tangential": Measure("tangential shrinkage", _SHRINKS, 0.5, 20, "shrinkage"),
        "sg_green": Measure("specific gravity, green", "on green volume", 0.05, 1.3, "strength"),
        "sg_12": Measure("specific gravity at 12 %", "on volume at 12 %", 0.05, 1.4, "strength"),
        "mor": Measure("bending strength", "MPa", 10, 350, "strength"),
        "moe": Measure("stiffness in bending", "MPa", 1000, 40000, "strength"),
        "compression_perp": Measure("compression across the grain", "MPa", 0.5, 60, "strength"),
        "shear_par": Measure("shear along the grain", "MPa", 1, 50, "strength"),
        "tension_perp": Measure("tension across the grain", "MPa", 0.3, 30, "strength"),
        "hardness": Measure("side hardness", "N", 100, 25000, "strength"),
    }
)


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a value was printed, and how the print was read: keys of SOURCES and SEEN."""

    source: str
    table: str
    seen: str

    @property
    def place(self) -> str:
        """Source and table."""
        return ", ".join(filter(None, [SOURCES[self.source], self.table]))

    def __str__(self) -> str:
        """Source, table, and how it was read."""
        return "; ".join(filter(None, [self.place, SEEN[self.seen]]))
