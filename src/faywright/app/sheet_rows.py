"""Rows of sheets for each record, and back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from faywright.app.cells import Cells, Row
from faywright.app.records import (
    FeelRecord,
    Kept,
    KeptTrial,
    Learned,
    MeasurementRecord,
    Share,
    SharpenedRecord,
    Taught,
    TrialRecord,
    learning_of,
)


def trial_row(trial: KeptTrial) -> Row:
    """The row of a trial, without what was measured and learned."""
    record = trial.record
    return {
        "id": trial.id,
        "shop": record.shop,
        "piece": record.piece,
        "joint": record.joint,
        "side": record.side,
        "setup": record.setup,
        "group": record.group,
        "machine": record.machine,
        "cutter": record.cutter,
        "gauge": record.gauge,
        "at": record.at.isoformat(),
        "metres": record.metres,
        "note": record.note,
        "forgotten": _moment(trial.forgotten),
    }


def trial(
    row: Cells, number: int, measurements: tuple[MeasurementRecord, ...], taught: tuple[Taught, ...]
) -> KeptTrial:
    """The trial of a row."""
    record = TrialRecord(
        shop=row.text("shop"),
        piece=row.text("piece"),
        joint=row.text("joint"),
        side=row.text("side"),
        setup=row.text("setup"),
        group=row.text("group"),
        machine=row.text("machine"),
        cutter=row.text("cutter"),
        gauge=row.text("gauge"),
        at=row.moment("at"),
        metres=row.number("metres"),
        note=row.text("note"),
        measurements=measurements,
        learning=learning_of(taught),
    )
    return KeptTrial(number, record, row.moment_or_none("forgotten"))


def measurement_row(trial: int, place: int, record: MeasurementRecord) -> Row:
    """The row of a measurement."""
    return {
        "trial": trial,
        "place": place,
        "what": record.what,
        "readings": list(record.readings),
        "read": record.read,
        "expected": record.expected,
        "uncertainty": record.uncertainty,
        "row": [[each.kind, each.owner, each.factor] for each in record.row],
        "shared": [[name, sd] for name, sd in record.shared],
    }


def measurement(row: Cells) -> MeasurementRecord:
    """The measurement of a row."""
    return MeasurementRecord(
        what=row.text("what"),
        readings=row.numbers("readings"),
        read=row.number("read"),
        expected=row.number("expected"),
        uncertainty=row.number("uncertainty"),
        row=tuple(
            Share(kind=kind, owner=owner, factor=factor)
            for (kind, owner), factor in row.named_numbers("row", 2)
        ),
        shared=tuple((name, sd) for (name,), sd in row.named_numbers("shared", 1)),
    )


def learned_rows(trial: KeptTrial) -> Iterator[Row]:
    """The rows of what a trial taught."""
    learning = trial.record.learning
    rows = zip(learning.values, learning.covariance, strict=True)
    for place, (value, covariance) in enumerate(rows, start=1):
        yield {
            "trial": trial.id,
            "place": place,
            "kind": value.kind,
            "owner": value.owner,
            "mean": value.mean,
            "sd": value.sd,
            "datum": value.datum,
            "covariance": list(covariance),
        }


def learned(row: Cells) -> Taught:
    """What was learned, of a row."""
    value = Learned(
        kind=row.text("kind"),
        owner=row.text("owner"),
        mean=row.number("mean"),
        sd=row.number("sd"),
        datum=row.number("datum"),
    )
    return value, row.numbers("covariance")


def feel_row(feel: Kept[FeelRecord]) -> Row:
    """The row of a feel."""
    record = feel.record
    return {
        "id": feel.id,
        "shop": record.shop,
        "timber": record.timber,
        "word": record.word,
        "mean": record.mean,
        "sd": record.sd,
        "at": record.at.isoformat(),
        "trial": record.trial,
        "joint": record.joint,
    }


def feel(row: Cells, number: int) -> Kept[FeelRecord]:
    """The feel of a row."""
    record = FeelRecord(
        shop=row.text("shop"),
        timber=row.text("timber"),
        word=row.text("word"),
        mean=row.number("mean"),
        sd=row.number("sd"),
        at=row.moment("at"),
        trial=row.whole_or_none("trial"),
        joint=row.text("joint"),
    )
    return Kept(number, record)


def sharpened_row(sharpening: Kept[SharpenedRecord]) -> Row:
    """The row of a sharpening."""
    record = sharpening.record
    return {
        "id": sharpening.id,
        "shop": record.shop,
        "cutter": record.cutter,
        "at": record.at.isoformat(),
        "size": record.size,
        "sd": record.sd,
        "listed": record.listed,
        "note": record.note,
    }


def sharpened(row: Cells, number: int) -> Kept[SharpenedRecord]:
    """The sharpening of a row."""
    record = SharpenedRecord(
        shop=row.text("shop"),
        cutter=row.text("cutter"),
        at=row.moment("at"),
        size=row.number_or_none("size"),
        sd=row.number_or_none("sd"),
        listed=row.number_or_none("listed"),
        note=row.text("note"),
    )
    return Kept(number, record)


def _moment(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()
