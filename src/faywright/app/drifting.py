"""How what is known of a shop went from trial to trial, for its chart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from faywright.app.knowledge import entries_from, figures
from faywright.app.records import Kept, KeptTrial, SharpenedRecord
from faywright.drawing.drift_chart import Drifted, Event
from faywright.piece.learned import called, where_more
from faywright.shop.inventory import Shop
from faywright.trials.belief import Unknown
from faywright.trials.memory import Entry, drift, measured_anew


def drifted(
    shop: Shop, trials: Sequence[KeptTrial], sharpenings: Sequence[Kept[SharpenedRecord]]
) -> tuple[tuple[Drifted, ...], tuple[Event, ...]]:
    """Courses of all that ``trials``, none forgotten, spoke of, from what is listed; and events."""
    happened: list[tuple[datetime, Event, tuple[Entry, ...]]] = [
        (each.record.at, Event(each.record.at.date(), each.id), _spoken_of(each)) for each in trials
    ]
    happened += [
        (each.record.at, Event(each.record.at.date(), None), _anew(each.record))
        for each in sharpenings
    ]
    happened.sort(key=lambda each: each[0])
    courses: dict[Unknown, list[tuple[int, Entry]]] = {}
    for at, (_, _, entries) in enumerate(happened):
        for entry in entries:
            courses.setdefault(entry.unknown, []).append((at, entry))
    listed = figures(shop)
    found = tuple(_course(unknown, courses[unknown], listed) for unknown in sorted(courses))
    return found, tuple(event for _, event, _ in happened)


def _course(
    unknown: Unknown, course: Sequence[tuple[int, Entry]], listed: Mapping[Unknown, float]
) -> Drifted:
    last = course[-1][1].datum
    off = last - listed.get(unknown, last)
    points = drift(entry for _, entry in course)
    moved = [replace(point, mean=point.mean + off) for point in points]
    events = [at for at, _ in course]
    return Drifted(called(unknown), where_more(unknown), tuple(zip(events, moved, strict=True)))


def _spoken_of(trial: KeptTrial) -> tuple[Entry, ...]:
    """Entries of what a trial measured; those of all else it only carried on."""
    spoken = {(share.kind, share.owner) for each in trial.record.measurements for share in each.row}
    learning = trial.record.learning
    values = [(value, trial.record.at, trial.id) for value in learning.values]
    entries = entries_from(values, learning.covariance)
    return tuple(e for e in entries if (e.unknown.kind, e.unknown.owner) in spoken)


def _anew(record: SharpenedRecord) -> tuple[Entry, ...]:
    """The entry of a cutter that was measured after sharpening."""
    if record.size is None or record.sd is None or record.listed is None:
        return ()
    return (
        measured_anew(
            record.cutter,
            measured=record.size,
            listed=record.listed,
            sd=record.sd,
            on=record.at.date(),
            note=record.note,
        ),
    )
