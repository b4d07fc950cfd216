"""Strength in words."""

from __future__ import annotations

from faywright.piece.strengths import Strength
from faywright.piece.words import Write
from faywright.timber.verdict import used_share


def strength_lines(strength: Strength, write: Write) -> list[str]:
    """Each verdict with its sums and factors; the caution once, at the end."""
    found: list[str] = []
    for verdict in strength.verdicts:
        found += [each for each in verdict.words(write) if each != verdict.caution]
    if strength.proportion is not None:
        found += [each for each in strength.proportion.words(write) if each not in found]
    caution = strength.verdicts[0].caution
    return [each for each in found if each != caution] + [caution]


def strength_decisions(strength: Strength | None) -> list[str]:
    """What will not hold."""
    if strength is None:
        return []
    return [
        f"{verdict.member}: {verdict.deciding.failure} uses {used_share(verdict.utilisation)} of "
        "what is allowed. Make it thicker, or load it less"
        for verdict in strength.verdicts
        if verdict.likely == "no"
    ]
