"""Strength in words."""

from __future__ import annotations

from faywright.piece.strengths import ShelfStrength, Strength
from faywright.piece.words import Write
from faywright.timber.allowable import GUIDE
from faywright.timber.verdict import Verdict, used_share


def strength_lines(strength: Strength, write: Write) -> list[str]:
    """Each verdict with its sums and factors; the caution once, at the end."""
    found: list[str] = []
    for verdict in strength.verdicts:
        found += [each for each in verdict.words(write) if each != GUIDE]
    if strength.proportion is not None:
        found += [each for each in strength.proportion.words(write) if each not in found]
    told = [each for each in found if each != GUIDE]
    return [*told, GUIDE] if told else []


def strength_decisions(strength: Strength | None) -> list[str]:
    """What will not hold, or cannot be judged."""
    if strength is None:
        return []
    if strength.unjudged:
        return [_unjudged(strength.unjudged)]
    return [_too_much(verdict) for verdict in strength.verdicts if verdict.likely == "no"]


def shelf_lines(shelf: ShelfStrength, write: Write) -> list[str]:
    """A shelf: what is to be decided with a sign before it, then its verdict."""
    if shelf.verdict is None:
        return [f"! {_unjudged(shelf.unjudged)}"]
    decide = [f"! {_too_much(shelf.verdict)}."] if not shelf.holds else []
    return [*decide, *shelf.verdict.words(write)]


def _too_much(verdict: Verdict) -> str:
    return (
        f"{verdict.member}: {verdict.deciding.failure} uses {used_share(verdict.utilisation)} of "
        "what is allowed. Make it thicker, or load it less"
    )


def _unjudged(why: str) -> str:
    return f"Whether it holds its load is not told: {why}. Keep it drier, or try it out"
