"""Writing records to the tables, within a transaction that the caller begins."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.core.management.color import no_style
from django.db import connections

from faywright.app import models
from faywright.app.records import (
    FeelRecord,
    Learning,
    MeasurementRecord,
    SharpenedRecord,
    TrialRecord,
)
from faywright.errors import InputError


class Writer:
    """Writes to one store; measurements and what was learned wait for ``finish``."""

    def __init__(self, alias: str) -> None:
        """``alias`` is the store's name with Django."""
        self._alias = alias
        self._shops: dict[str, models.Shop] = {}
        self._things: dict[tuple[str, str, str], models.Thing] = {}
        self._unknowns: dict[tuple[str, str, str], models.Unknown] = {}
        self._measurements: list[models.Measurement] = []
        self._learned: list[models.Learned] = []

    def add_trial(
        self, record: TrialRecord, *, number: int | None = None, forgotten: datetime | None = None
    ) -> int:
        """Write a trial under a new number, or under ``number`` if that is free."""
        row = models.Trial(id=number, forgotten=forgotten)
        self._describe(row, record)
        row.save(using=self._alias, force_insert=True)
        self._detail(row.id, record)
        return row.id

    def replace_trial(self, row: models.Trial, record: TrialRecord) -> None:
        """Write a trial in the place of one that is there."""
        self._describe(row, record)
        row.save(using=self._alias, force_update=True)
        models.Measurement.objects.using(self._alias).filter(trial=row).delete()
        self.forget_learned(row.id)
        self._detail(row.id, record)

    def replace_learning(self, trial: int, shop: str, learning: Learning) -> None:
        """Write what a trial taught in the place of what it was taken to teach before."""
        self.forget_learned(trial)
        self._learn(trial, shop, learning)

    def forget_learned(self, trial: int) -> None:
        """Take out what a trial taught."""
        models.Learned.objects.using(self._alias).filter(trial_id=trial).delete()

    def add_feel(self, record: FeelRecord, *, number: int | None = None) -> int:
        """Write how a joint felt.

        Raises
        ------
        InputError
            It belongs to a trial that is not in that shop.
        """
        shop = self._shop(record.shop)
        trials = models.Trial.objects.using(self._alias)
        if record.trial and not trials.filter(id=record.trial, shop=shop).exists():
            what = f"{record.shop!r} has no trial {record.trial}"
            raise InputError(what, where="feel: trial", remedy="Give the number of one it has")
        row = models.Feel(
            id=number,
            shop=shop,
            trial_id=record.trial,
            joint=record.joint,
            timber=record.timber,
            word=record.word,
            mean=record.mean,
            sd=record.sd,
            at=record.at,
        )
        row.save(using=self._alias, force_insert=True)
        return row.id

    def add_sharpened(self, record: SharpenedRecord, *, number: int | None = None) -> int:
        """Write that a cutter was sharpened."""
        cutter = self._thing(record.shop, "cutter", record.cutter)
        row = models.Sharpened(
            id=number,
            cutter=cutter,
            at=record.at,
            size=record.size,
            sd=record.sd,
            listed=record.listed,
            note=record.note,
        )
        row.save(using=self._alias, force_insert=True)
        return row.id

    def finish(self) -> None:
        """Write what has waited."""
        models.Measurement.objects.using(self._alias).bulk_create(self._measurements)
        models.Learned.objects.using(self._alias).bulk_create(self._learned)
        self._measurements, self._learned = [], []

    def count_on(self) -> None:
        """Have new numbers begin after those that were given; only a server needs to be told."""
        connection = connections[self._alias]
        numbered = [models.Trial, models.Feel, models.Sharpened]
        with connection.cursor() as cursor:
            for statement in connection.ops.sequence_reset_sql(no_style(), numbered):
                cursor.execute(statement)

    def _describe(self, row: models.Trial, record: TrialRecord) -> None:
        row.shop = self._shop(record.shop)
        row.piece, row.joint, row.side = record.piece, record.joint, record.side
        row.setup, row.group = record.setup, record.group
        row.machine = self._thing(record.shop, "machine", record.machine)
        row.cutter = self._thing(record.shop, "cutter", record.cutter)
        row.gauge = self._thing(record.shop, "gauge", record.gauge)
        row.at, row.metres, row.note = record.at, record.metres, record.note

    def _detail(self, trial: int, record: TrialRecord) -> None:
        self._measurements += _measurements(trial, record.measurements)
        self._learn(trial, record.shop, record.learning)

    def _learn(self, trial: int, shop: str, learning: Learning) -> None:
        rows = zip(learning.values, learning.covariance, strict=True)
        self._learned += [
            models.Learned(
                trial_id=trial,
                unknown=self._unknown(shop, value.kind, value.owner),
                place=place,
                mean=value.mean,
                sd=value.sd,
                datum=value.datum,
                covariance=list(covariance),
            )
            for place, (value, covariance) in enumerate(rows, start=1)
        ]

    def _shop(self, title: str) -> models.Shop:
        if title not in self._shops:
            found, _ = models.Shop.objects.using(self._alias).get_or_create(title=title)
            self._shops[title] = found
        return self._shops[title]

    def _thing(self, shop: str, kind: str, mark: str) -> models.Thing | None:
        if not mark:
            return None
        key = (shop, kind, mark)
        if key not in self._things:
            things = models.Thing.objects.using(self._alias)
            self._things[key], _ = things.get_or_create(shop=self._shop(shop), kind=kind, mark=mark)
        return self._things[key]

    def _unknown(self, shop: str, kind: str, owner: str) -> models.Unknown:
        key = (shop, kind, owner)
        if key not in self._unknowns:
            unknowns = models.Unknown.objects.using(self._alias)
            self._unknowns[key], _ = unknowns.get_or_create(
                shop=self._shop(shop), kind=kind, owner=owner
            )
        return self._unknowns[key]


def _measurements(trial: int, records: Iterable[MeasurementRecord]) -> list[models.Measurement]:
    return [
        models.Measurement(
            trial_id=trial,
            place=place,
            what=record.what,
            readings=list(record.readings),
            read=record.read,
            expected=record.expected,
            uncertainty=record.uncertainty,
            row=[[each.kind, each.owner, each.factor] for each in record.row],
            shared=[[name, sd] for name, sd in record.shared],
        )
        for place, record in enumerate(records, start=1)
    ]
