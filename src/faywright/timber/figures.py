"""A species' published values as the formulas of movement and strength take them."""

from __future__ import annotations

from collections.abc import Iterable

from faywright.errors import InputError
from faywright.timber.measures import Value
from faywright.timber.movement import Shrinkage
from faywright.timber.species import Species
from faywright.timber.strength import ClearWood


def shrinkage_of(species: Species) -> Shrinkage:
    """What is published of its movement.

    Raises
    ------
    InputError
        Neither coefficients nor total shrinkages are known of it.
    """
    if species.c_tangential is None and species.shrink_tangential is None:
        raise InputError(
            "neither its movement nor its shrinkage is known",
            where=f"species {species.name}",
            remedy="Give your own c_radial and c_tangential for it in the shop file",
        )
    return Shrinkage(
        radial_coefficient=species.c_radial,
        tangential_coefficient=species.c_tangential,
        radial_total=species.shrink_radial,
        tangential_total=species.shrink_tangential,
        fibre_saturation=species.start_of_shrinkage,
    )


def clear_wood_of(species: Species, needed: Iterable[Value]) -> ClearWood:
    """Its published mean strengths, as means of small clear pieces, None where there is none.

    Raises
    ------
    InputError
        One of the values ``needed`` is not published; the message says which, and how to give
        them.
    """
    species.require(*needed)
    return ClearWood(
        kind=species.botanical_kind,
        bending=species.mor,
        elasticity=species.moe,
        compression_perp=species.compression_perp,
        shear_parallel=species.shear_par,
        tension_perp=species.tension_perp,
        name=species.name,
    )
