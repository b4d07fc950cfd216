"""Strength in words and as JSON."""

from __future__ import annotations

from typing import Any

from faywright.piece.strengths import Strength
from faywright.piece.words import Write
from faywright.timber.verdict import Verdict, used_share


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


def verdict_json(verdict: Verdict) -> dict[str, Any]:
    """One verdict: how much of what is allowed each failure uses."""
    return {
        "member": verdict.member,
        "load_case": verdict.load_case,
        "verdict": verdict.likely,
        "decided_by": verdict.deciding.failure,
        "used_share": round(verdict.utilisation, 4),
        "checks": [
            {
                "failure": check.failure,
                "found": round(check.found, 4),
                "allowed": round(check.most, 4),
                "unit": check.working.unit,
                "used_share": round(check.utilisation, 4),
            }
            for check in verdict.checks
        ],
        "caution": verdict.caution,
    }
