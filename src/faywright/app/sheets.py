"""The store as flat sheets of rows, the form that JSON and CSV share.

A sheet is a list of rows, and a row a mapping from the names of columns to texts, numbers, lists
or None; measurements and what was learned name their trial.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

from faywright.app import sheet_rows
from faywright.app.cells import Cells, Kind, Row
from faywright.app.records import Contents
from faywright.errors import InputError

FORMAT, VERSION = "faywright store", 1

Sheets = Mapping[str, Sequence[Row]]
T = TypeVar("T")

COLUMNS: Mapping[str, Mapping[str, Kind]] = {
    "trials": {
        "id": "value",
        "shop": "text",
        "piece": "text",
        "joint": "text",
        "side": "text",
        "setup": "text",
        "group": "text",
        "machine": "text",
        "cutter": "text",
        "gauge": "text",
        "at": "moment",
        "metres": "value",
        "note": "text",
        "forgotten": "moment",
    },
    "measurements": {
        "trial": "value",
        "place": "value",
        "what": "text",
        "readings": "value",
        "read": "value",
        "expected": "value",
        "uncertainty": "value",
        "row": "value",
        "shared": "value",
    },
    "learned": {
        "trial": "value",
        "place": "value",
        "kind": "text",
        "owner": "text",
        "mean": "value",
        "sd": "value",
        "datum": "value",
        "covariance": "value",
    },
    "feels": {
        "id": "value",
        "shop": "text",
        "timber": "text",
        "word": "text",
        "mean": "value",
        "sd": "value",
        "at": "moment",
        "trial": "value",
        "joint": "text",
    },
    "sharpenings": {
        "id": "value",
        "shop": "text",
        "cutter": "text",
        "at": "moment",
        "size": "value",
        "sd": "value",
        "listed": "value",
        "note": "text",
    },
}
"""Every sheet with its columns, in order."""


def check_version(form: object, version: object, *, where: str) -> None:
    """Refuse what is not an export, or one of a later version.

    Raises
    ------
    InputError
        It is.
    """
    if form != FORMAT:
        what = f"its format is {form!r}, not {FORMAT!r}"
        raise InputError(what, where=where, remedy="Give what the store exported")
    if version != VERSION:
        what = f"it is version {version!r} of the export, where only {VERSION} is known"
        raise InputError(what, where=where, remedy="Install the version that exported it, or later")


def sheets_of(contents: Contents) -> dict[str, list[Row]]:
    """The sheets that hold the contents."""
    return {
        "trials": [sheet_rows.trial_row(each) for each in contents.trials],
        "measurements": [
            sheet_rows.measurement_row(trial.id, place, each)
            for trial in contents.trials
            for place, each in enumerate(trial.record.measurements, start=1)
        ],
        "learned": [row for trial in contents.trials for row in sheet_rows.learned_rows(trial)],
        "feels": [sheet_rows.feel_row(each) for each in contents.feels],
        "sharpenings": [sheet_rows.sharpened_row(each) for each in contents.sharpenings],
    }


def contents_of(sheets: Sheets, *, where: str) -> Contents:
    """What the sheets hold.

    Raises
    ------
    InputError
        A sheet, row or cell is not as it should be; says which.
    """
    for name in COLUMNS:
        if name not in sheets:
            raise InputError(f"{name} are missing", where=where, remedy="Give the whole export")
    cells = {
        name: [
            Cells(row, COLUMNS[name], where=f"{where}: {name}, row {number}")
            for number, row in enumerate(sheets[name], start=1)
        ]
        for name in COLUMNS
    }
    measurements = _by_trial(cells["measurements"], sheet_rows.measurement)
    learned = _by_trial(cells["learned"], sheet_rows.learned)
    trials = _numbered(
        cells["trials"],
        lambda row, number: sheet_rows.trial(
            row, number, measurements.pop(number, ()), learned.pop(number, ())
        ),
    )
    for name, left in (("measurements", measurements), ("learned", learned)):
        for number in left:
            what = f"trial {number} is not among the trials"
            raise InputError(what, where=f"{where}: {name}", remedy="Give the whole export")
    feels = _numbered(cells["feels"], sheet_rows.feel)
    return Contents(trials, feels, _numbered(cells["sharpenings"], sheet_rows.sharpened))


def _numbered(rows: Sequence[Cells], read: Callable[[Cells, int], T]) -> tuple[T, ...]:
    """What the rows hold, by rising number."""
    found: dict[int, T] = {}
    for row in rows:
        number = row.whole("id")
        if number in found:
            row.refuse("id", f"number {number} is there twice", "Give each a number of its own")
        with row.named():
            found[number] = read(row, number)
    return tuple(found[number] for number in sorted(found))


def _by_trial(rows: Sequence[Cells], read: Callable[[Cells], T]) -> dict[int, tuple[T, ...]]:
    """What the rows hold for each trial, by rising place."""
    found: dict[int, dict[int, T]] = defaultdict(dict)
    for row in rows:
        trial, place = row.whole("trial"), row.whole("place")
        if place in found[trial]:
            row.refuse("place", f"place {place} of trial {trial} is taken", "Number them from 1 on")
        with row.named():
            found[trial][place] = read(row)
    return {
        trial: tuple(each for _, each in sorted(places.items())) for trial, places in found.items()
    }
