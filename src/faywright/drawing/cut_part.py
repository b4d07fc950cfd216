"""A part after its cuts: whether it has a groove or a tongue, and where its surfaces stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely

from faywright.errors import InputError
from faywright.section.cutting import EDGE, Sections

AXES = {"bottom": 1, EDGE: 1, "face-A shoulder": 1, "face-B shoulder": 1}
SURFACES = ("face-A wall", "face-B wall", "face-A cheek", "face-B cheek", *AXES)


@dataclass(frozen=True)
class CutPart:
    """One board in the joint frame, and where its surfaces stand. [mm]"""

    outline: shapely.Polygon
    places: dict[str, float]

    @property
    def kind(self) -> Literal["groove", "tongue", "strip"]:
        """What was cut; a strip is used as it is."""
        if "bottom" in self.places:
            return "groove"
        return "tongue" if {"face-A cheek", "face-B cheek"} & self.places.keys() else "strip"

    @property
    def thickness(self) -> float:
        """Its size along u."""
        return float(self.outline.bounds[2] - self.outline.bounds[0])

    @property
    def cut(self) -> tuple[float, float]:
        """Groove or tongue, from its side at face A to that at face B."""
        if self.kind == "groove":
            return self.places["face-A wall"], self.places["face-B wall"]
        return self.places.get("face-A cheek", 0.0), self.places.get("face-B cheek", self.thickness)

    def begins(self, at: float) -> float:
        """How far behind the cut's end the part first reaches ``at`` across it."""
        points = shapely.get_coordinates(self.outline)
        return float(points[np.abs(points[:, 0] - at) < 1e-6, 1].min())

    @property
    def depth(self) -> float:
        """Depth of the groove, or length of the tongue; 0 for a strip."""
        if self.kind == "groove":
            return self.places["bottom"] - self.places[EDGE]
        shoulders = [at for name, at in self.places.items() if name.endswith("shoulder")]
        return min(shoulders) - self.places[EDGE] if shoulders else 0.0


def cut_part(sections: Sections, board: int) -> CutPart:
    """Board number ``board`` with every surface of a groove or a tongue that it has.

    Raises
    ------
    InputError
        There is no such board, or one of these surfaces is not square.
    """
    if not 0 <= board < len(sections):
        raise InputError(
            f"there is no board {board}",
            where="drawing of a part",
            remedy=f"Give a number from 0 to {len(sections) - 1}",
        )
    there = sections.surfaces(board)
    return CutPart(
        sections.polygons[board],
        {
            name: _place(sections, board, name, AXES.get(name, 0))
            for name in SURFACES
            if name in there
        },
    )


def _place(sections: Sections, board: int, surface: str, axis: int) -> float:
    along = sections.edges(surface, board)[..., axis]
    if np.ptp(along) > 1e-6:
        raise InputError(
            f"{surface!r} is not square to the axis it is measured along",
            where="drawing of a part",
            remedy="Draw only parts with square grooves and tongues",
        )
    return float(along.mean())
