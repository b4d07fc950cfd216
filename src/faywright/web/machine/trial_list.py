"""Trials that there were, a line each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from faywright.app.records import KeptTrial
from faywright.lengths import LengthStyle
from faywright.piece.words import writer


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialLine:
    """One trial: its number, when it was, what was read, and whether it counts."""

    number: int
    at: datetime
    group: str
    readings: tuple[tuple[str, str], ...]
    note: str
    forgotten: bool


def listed(trials: Iterable[KeptTrial], style: LengthStyle) -> tuple[TrialLine, ...]:
    """A line for each."""
    write = writer(style)
    return tuple(
        TrialLine(
            number=each.id,
            at=each.record.at,
            group=each.record.group,
            readings=tuple(
                (measured.what, ", ".join(write(reading) for reading in measured.readings))
                for measured in each.record.measurements
            ),
            note=each.record.note,
            forgotten=each.forgotten is not None,
        )
        for each in trials
    )
