"""Loads as a piece file gives them: ``load`` of a joint, and ``[[shelf]]`` tables."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import get_args

from faywright.errors import InputError
from faywright.joints.loads import DrawerLoad, Load
from faywright.piece.fields import Table
from faywright.piece.values import number, one_of, text
from faywright.timber.beams import CREEP, Beam, LoadPlace
from faywright.timber.members import LineLoad
from faywright.timber.strength import Duration, Service

_REMEDY = (
    "Write load = { force = 300, along = 400 } for newtons pushing along that length, or "
    "load = { drawer_kg = 8 } for a drawer hanging on runners"
)

_OF_A_DRAWER = ("lean", "pulled_out", "projection")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """A shelf or slat on two supports, under a mass in all [kg], its own included. [mm]"""

    name: str
    species: str
    beam: Beam
    mass_kg: float
    spread: LoadPlace
    creep: float
    service: Service


def read_load(joint: Table) -> Load | None:
    """The load of a joint; None without one, or after a fault."""
    table = joint.table("load")
    if table is None:
        return None
    force = table.optional("force", number, None)
    along = table.optional("along", table.length, None)
    drawer = table.optional("drawer_kg", number, None)
    lean = table.optional("lean", number, 0.0)
    pulled_out = table.optional("pulled_out", table.length, None)
    projection = table.optional("projection", table.length, None)
    service = _service(table)

    def load() -> Load:
        if drawer is not None and force is None and along is None:
            hanging = DrawerLoad(
                mass_kg=drawer, lean=lean, pulled_out=pulled_out, projection=projection
            )
            return Load(carries=hanging, service=service())
        if drawer is None and force is not None and along is not None:
            odd = [key for key in _OF_A_DRAWER if table.holds(key)]
            if odd:
                raise InputError(
                    f"{' and '.join(odd)} belong to a drawer, and a force is given",
                    where="load",
                    remedy=_REMEDY,
                )
            return Load(carries=LineLoad(force=force, along=along), service=service())
        raise InputError("it is not clear what the joint carries", where="load", remedy=_REMEDY)

    return table.build(load)


def read_shelf(table: Table) -> Shelf | None:
    """A ``[[shelf]]`` table; None after a fault."""
    name = table.required("name", text)
    species = table.required("species", text)
    span = table.required("span", table.length)
    width = table.required("width", table.length)
    thickness = table.required("thickness", table.length)
    mass = table.required("load_kg", number)
    spread: LoadPlace = table.optional("spread", one_of(get_args(LoadPlace)), "even")
    creep = table.optional("creep", number, CREEP)
    service = _service(table)

    def shelf() -> Shelf:
        if not 0 <= mass <= MOST_KG:
            raise InputError(
                f"a load of {mass:g} kg", where="shelf", remedy=f"Give 0 to {MOST_KG:g} kg"
            )
        return Shelf(
            name=name,
            species=species,
            beam=Beam(span=span, width=width, thickness=thickness),
            mass_kg=mass,
            spread=spread,
            creep=creep,
            service=service(),
        )

    return table.build(shelf)


MOST_KG = 1000.0
"""More than this is no furniture. [kg]"""


def _service(table: Table) -> Callable[[], Service]:
    """What the wood lives with, made once the table is known to be sound."""
    duration: Duration = table.optional("duration", one_of(get_args(Duration)), "permanent")
    ratio = table.optional("strength_ratio", number, 1.0)
    return lambda: Service(duration=duration, strength_ratio=ratio)
