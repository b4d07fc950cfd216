"""What trial cuts have taught of the shop a plan is made for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from faywright.piece.rounded import mm
from faywright.piece.words import Write
from faywright.trials.belief import Unknown, UnknownKind


@dataclass(frozen=True, slots=True)
class Lesson:
    """What is now believed of one unknown: its mean from the listed figure, and how well. [mm]"""

    unknown: Unknown
    mean: float
    deviation: float

    def said(self, write: Write) -> str:
        """In words."""
        _, more, less = _WORDS[self.unknown.kind]
        return (
            f"{called(self.unknown)}: {write(abs(self.mean))} "
            f"{more if self.mean >= 0 else less}, known to {write(self.deviation)}"
        )

    def json(self) -> dict[str, Any]:
        """For programs."""
        return {
            "kind": self.unknown.kind,
            "of": self.unknown.owner,
            "mean_mm": mm(self.mean),
            "deviation_mm": mm(self.deviation),
        }


def called(unknown: Unknown) -> str:
    """An unknown by what a maker calls it."""
    return f"{_WORDS[unknown.kind][0]} {unknown.owner}"


def where_more(unknown: Unknown) -> str:
    """What an unknown is where it is above nought."""
    return _WORDS[unknown.kind][1]


_WORDS: dict[UnknownKind, tuple[str, str, str]] = {
    "height zero": ("height by the", "higher than it shows", "lower than it shows"),
    "fence zero": ("fence by the", "further out than it shows", "less far out than it shows"),
    "cutter": ("cutter", "more than listed", "less than listed"),
    "lift": ("work on the", "off table or fence on average", "closer than it can be"),
    "setting": ("setting", "over", "under"),
}
"""What an unknown is called, and what it is where it is more or less than listed."""
