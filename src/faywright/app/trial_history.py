"""Trials of one joint, the latest first."""

from __future__ import annotations

from django.db.models import Q

from faywright.app import reading
from faywright.app.connecting import database_told, snapshot
from faywright.app.records import KeptTrial

LISTED = 50


def trials_of(
    alias: str, where: str, *, shop: str, piece: str, joint: str
) -> tuple[KeptTrial, ...]:
    """Trials of a joint by the titles of its shop and piece, forgotten ones too.

    ``alias`` is the store's name with Django; ``where`` names it in messages.
    """
    chosen = Q(shop__title=shop, piece=piece, joint=joint)
    with database_told(where), snapshot(alias):
        return reading.trials(alias, chosen, limit=LISTED)
