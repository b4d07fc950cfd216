"""Names of timber to choose from while one types."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from faywright.shop.inventory import Shop
from faywright.timber.species_table import species_table


def timbers(shop: Shop) -> Sequence[str]:
    """The maker's own timbers, then the published ones by name."""
    own = [each.name for each in shop.species]
    return (*own, *(name for name in _published() if name not in own))


@cache
def _published() -> tuple[str, ...]:
    return tuple(sorted(each.name for each in species_table().values()))
