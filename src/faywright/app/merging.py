"""Putting what one store held into another."""

from __future__ import annotations

from dataclasses import dataclass, replace

from faywright.app.records import Contents
from faywright.app.writing import Writer
from faywright.errors import InputError


@dataclass(frozen=True, slots=True)
class Imported:
    """How much was added, and how much was there already and left alone."""

    added: int
    known: int


def restored(writer: Writer, contents: Contents) -> Imported:
    """Write everything to an empty store, under its own numbers."""
    for trial in contents.trials:
        writer.add_trial(trial.record, number=trial.id, forgotten=trial.forgotten)
    for feel in contents.feels:
        writer.add_feel(feel.record, number=feel.id)
    for sharpening in contents.sharpenings:
        writer.add_sharpened(sharpening.record, number=sharpening.id)
    writer.count_on()
    return Imported(_count(contents), known=0)


def merged(writer: Writer, contents: Contents, here: Contents) -> Imported:
    """Write what is not ``here`` to a store, under new numbers.

    Raises
    ------
    InputError
        A feel belongs to a trial that is not among the contents.
    """
    added = 0
    numbers: dict[int, int] = {}
    known_trials = {each.record: each.id for each in here.trials}
    for trial in contents.trials:
        if trial.record in known_trials:
            numbers[trial.id] = known_trials[trial.record]
        else:
            numbers[trial.id] = writer.add_trial(trial.record, forgotten=trial.forgotten)
            added += 1
    known_feels = {each.record for each in here.feels}
    for feel in contents.feels:
        record = feel.record
        if record.trial is not None:
            if record.trial not in numbers:
                what = f"trial {record.trial} is not among the trials"
                remedy = "Give the whole export"
                raise InputError(what, where=f"feel {feel.id}", remedy=remedy)
            record = replace(record, trial=numbers[record.trial])
        if record not in known_feels:
            writer.add_feel(record)
            added += 1
    known_sharpenings = {each.record for each in here.sharpenings}
    for sharpening in contents.sharpenings:
        if sharpening.record not in known_sharpenings:
            writer.add_sharpened(sharpening.record)
            added += 1
    return Imported(added, known=_count(contents) - added)


def _count(contents: Contents) -> int:
    return len(contents.trials) + len(contents.feels) + len(contents.sharpenings)
