"""Reading records from the tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import cast

from django.db.models import Q

from faywright.app import models
from faywright.app.records import (
    Contents,
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


def contents(alias: str) -> Contents:
    """All that is in the store."""
    return Contents(trials(alias, Q())[::-1], feels(alias, Q()), sharpenings(alias, Q()))


def trials(alias: str, chosen: Q, *, limit: int | None = None) -> tuple[KeptTrial, ...]:
    """The trials that are chosen, the latest number first."""
    query = models.Trial.objects.using(alias).filter(chosen).order_by("-id")
    rows = list(query.select_related("shop", "machine", "cutter", "gauge")[:limit])
    if not rows:
        return ()
    # By range, not by list: a database takes only so many values in one question.
    between = Q(trial_id__gte=rows[-1].id, trial_id__lte=rows[0].id)
    measurements: dict[int, list[MeasurementRecord]] = defaultdict(list)
    for each in models.Measurement.objects.using(alias).filter(between).order_by("place"):
        measurements[each.trial_id].append(_measurement(each))
    unknowns = {each.id: each for each in models.Unknown.objects.using(alias).all()}
    taught: dict[int, list[Taught]] = defaultdict(list)
    for found in models.Learned.objects.using(alias).filter(between).order_by("place"):
        value = _learned(found, unknowns[found.unknown_id])
        taught[found.trial_id].append((value, _floats(found.covariance)))
    return tuple(_trial(row, measurements[row.id], taught[row.id]) for row in rows)


def feels(alias: str, chosen: Q) -> tuple[Kept[FeelRecord], ...]:
    """The feels that are chosen, in order."""
    query = models.Feel.objects.using(alias).filter(chosen).order_by("id")
    return tuple(
        Kept(
            row.id,
            FeelRecord(
                shop=row.shop.title,
                timber=row.timber,
                word=row.word,
                mean=row.mean,
                sd=row.sd,
                at=row.at,
                trial=row.trial_id,
                joint=row.joint,
            ),
        )
        for row in query.select_related("shop")
    )


def standing(shop: str, timber: str | None) -> Q:
    """Feels of a shop that no forgotten trial takes with it."""
    chosen = Q(shop__title=shop, trial__forgotten__isnull=True)
    return chosen if timber is None else chosen & Q(timber=timber)


def sharpenings(alias: str, chosen: Q) -> tuple[Kept[SharpenedRecord], ...]:
    """The sharpenings that are chosen, in order."""
    query = models.Sharpened.objects.using(alias).filter(chosen).order_by("id")
    return tuple(
        Kept(
            row.id,
            SharpenedRecord(
                shop=row.cutter.shop.title,
                cutter=row.cutter.mark,
                at=row.at,
                size=row.size,
                sd=row.sd,
                listed=row.listed,
                note=row.note,
            ),
        )
        for row in query.select_related("cutter__shop")
    )


def _trial(
    row: models.Trial, measurements: Iterable[MeasurementRecord], taught: Sequence[Taught]
) -> KeptTrial:
    record = TrialRecord(
        shop=row.shop.title,
        piece=row.piece,
        joint=row.joint,
        at=row.at,
        side=row.side,
        setup=row.setup,
        group=row.group,
        machine=_mark(row.machine),
        cutter=_mark(row.cutter),
        gauge=_mark(row.gauge),
        metres=row.metres,
        note=row.note,
        measurements=tuple(measurements),
        learning=learning_of(taught),
    )
    return KeptTrial(row.id, record, row.forgotten)


def _mark(thing: models.Thing | None) -> str:
    return "" if thing is None else thing.mark


def _measurement(row: models.Measurement) -> MeasurementRecord:
    shares = cast("list[tuple[str, str, float]]", row.row)
    shared = cast("list[tuple[str, float]]", row.shared)
    return MeasurementRecord(
        what=row.what,
        readings=_floats(row.readings),
        read=row.read,
        expected=row.expected,
        uncertainty=row.uncertainty,
        row=tuple(Share(kind=kind, owner=owner, factor=float(f)) for kind, owner, f in shares),
        shared=tuple((name, float(sd)) for name, sd in shared),
    )


def _learned(row: models.Learned, unknown: models.Unknown) -> Learned:
    return Learned(
        kind=unknown.kind, owner=unknown.owner, mean=row.mean, sd=row.sd, datum=row.datum
    )


def _floats(value: object) -> tuple[float, ...]:
    """Numbers from JSON, where a server writes whole ones without a point."""
    return tuple(float(each) for each in cast("list[float]", value))
