"""A species' published values as the formulas of movement and strength take them."""

from __future__ import annotations

from faywright.errors import InputError
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


def clear_wood_of(species: Species) -> ClearWood:
    """Its published mean strengths, as means of small clear pieces.

    Raises
    ------
    InputError
        A value is not published; the message says which, and how to give one.
    """
    return ClearWood(
        kind=species.botanical_kind,
        bending=species.need("mor"),
        elasticity=species.need("moe"),
        compression_perp=species.need("compression_perp"),
        shear_parallel=species.need("shear_par"),
        tension_perp=species.tension_perp,
        name=species.name,
    )
