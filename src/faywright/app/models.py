"""The tables of the store. Values in them have been checked by the records they come from."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from django.db import models

from faywright.app import bench_models  # noqa: F401 - so that Django knows its tables, too
from faywright.app.opening import set_up_django

if TYPE_CHECKING:
    from datetime import datetime

    # What a field takes and gives; JSON comes back as whatever stands in the database.
    Text = models.TextField[str, str]
    Number = models.FloatField[float, float]
    Perhaps = models.FloatField[float | None, float | None]
    Whole = models.PositiveIntegerField[int, int]
    PerhapsWhole = models.PositiveIntegerField[int | None, int | None]
    Moment = models.DateTimeField[datetime, datetime]
    PerhapsMoment = models.DateTimeField[datetime | None, datetime | None]
    Json = models.JSONField[object, object]

set_up_django()


class Shop(models.Model):
    """A shop, by the title in its file."""

    id: int
    title: Text = models.TextField(unique=True)


class Thing(models.Model):
    """A machine, cutter or gauge, by its mark."""

    id: int
    shop: models.ForeignKey[Shop, Shop] = models.ForeignKey(Shop, models.CASCADE, db_index=False)
    kind: Text = models.TextField()
    mark: Text = models.TextField()

    class Meta:
        """A mark belongs to one thing of its kind."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["shop", "kind", "mark"], name="thing_once")
        ]


class Unknown(models.Model):
    """What trials learn about; a row of its own, so that the latest of each is found at once."""

    id: int
    shop: models.ForeignKey[Shop, Shop] = models.ForeignKey(Shop, models.CASCADE, db_index=False)
    kind: Text = models.TextField()
    owner: Text = models.TextField()

    class Meta:
        """A shop has each unknown once."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["shop", "kind", "owner"], name="unknown_once")
        ]


class Trial(models.Model):
    """One trial cut; ``forgotten`` since a moment, or not at all."""

    id: int
    shop: models.ForeignKey[Shop, Shop] = models.ForeignKey(Shop, models.PROTECT)
    piece: Text = models.TextField()
    joint: Text = models.TextField()
    side: Text = models.TextField()
    setup: Text = models.TextField()
    group: Text = models.TextField()
    machine: models.ForeignKey[Thing | None, Thing | None] = models.ForeignKey(
        Thing, models.PROTECT, null=True, related_name="+"
    )
    cutter: models.ForeignKey[Thing | None, Thing | None] = models.ForeignKey(
        Thing, models.PROTECT, null=True, related_name="+"
    )
    gauge: models.ForeignKey[Thing | None, Thing | None] = models.ForeignKey(
        Thing, models.PROTECT, null=True, related_name="+"
    )
    at: Moment = models.DateTimeField()
    metres: Number = models.FloatField()
    note: Text = models.TextField()
    forgotten: PerhapsMoment = models.DateTimeField(null=True)


class Measurement(models.Model):
    """What was measured on a trial piece; ``place`` counts from 1 within the trial. [mm]"""

    id: int
    trial_id: int
    trial: models.ForeignKey[Trial, Trial] = models.ForeignKey(
        Trial, models.CASCADE, db_index=False
    )
    place: Whole = models.PositiveIntegerField()
    what: Text = models.TextField()
    readings: Json = models.JSONField()
    read: Number = models.FloatField()
    expected: Number = models.FloatField()
    uncertainty: Number = models.FloatField()
    row: Json = models.JSONField()
    shared: Json = models.JSONField()

    class Meta:
        """A trial's measurements stand in order."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["trial", "place"], name="measurement_once")
        ]


class Learned(models.Model):
    """What was known of an unknown after a trial. [mm]

    ``covariance`` is its row of the trial's covariance, in the order of the places. [mm^2]
    """

    id: int
    trial_id: int
    unknown_id: int
    trial: models.ForeignKey[Trial, Trial] = models.ForeignKey(Trial, models.CASCADE)
    unknown: models.ForeignKey[Unknown, Unknown] = models.ForeignKey(
        Unknown, models.PROTECT, db_index=False
    )
    place: Whole = models.PositiveIntegerField()
    mean: Number = models.FloatField()
    sd: Number = models.FloatField()
    datum: Number = models.FloatField()
    covariance: Json = models.JSONField()

    class Meta:
        """Its index finds the latest trial that taught something of an unknown."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["unknown", "trial"], name="learned_once")
        ]


class Feel(models.Model):
    """How a joint felt in the hand. [mm]"""

    id: int
    shop: models.ForeignKey[Shop, Shop] = models.ForeignKey(Shop, models.PROTECT, db_index=False)
    trial_id: int | None
    trial: models.ForeignKey[Trial | None, Trial | None] = models.ForeignKey(
        Trial, models.PROTECT, null=True
    )
    joint: Text = models.TextField()
    timber: Text = models.TextField()
    word: Text = models.TextField()
    mean: Number = models.FloatField()
    sd: Number = models.FloatField()
    at: Moment = models.DateTimeField()

    class Meta:
        """Feels are asked for by timber."""

        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["shop", "timber"], name="feel_by_timber")
        ]


class Sharpened(models.Model):
    """A cutter came back from sharpening; its new size, if measured. [mm]"""

    id: int
    cutter: models.ForeignKey[Thing, Thing] = models.ForeignKey(
        Thing, models.PROTECT, db_index=False
    )
    at: Moment = models.DateTimeField()
    size: Perhaps = models.FloatField(null=True)
    sd: Perhaps = models.FloatField(null=True)
    listed: Perhaps = models.FloatField(null=True)
    note: Text = models.TextField()

    class Meta:
        """The latest of a cutter is asked for."""

        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["cutter", "at"], name="sharpened_by_cutter")
        ]


class Document(models.Model):
    """A shop file or a piece file; ``head`` is the number of the revision that stands.

    ``changed`` is when and ``author`` who last moved the head; ``revisions`` counts them all.
    """

    id: int
    shop_id: int | None
    kind: Text = models.TextField()
    shop: models.ForeignKey[Document | None, Document | None] = models.ForeignKey(
        "self", models.PROTECT, null=True, related_name="+"
    )
    head: Whole = models.PositiveIntegerField()
    revisions: Whole = models.PositiveIntegerField()
    changed: Moment = models.DateTimeField()
    author: Text = models.TextField()
    discarded: PerhapsMoment = models.DateTimeField(null=True)

    class Meta:
        """The head is one of the revisions."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=models.Q(head__gte=1, head__lte=models.F("revisions")),
                name="head_among_revisions",
            )
        ]


class Revision(models.Model):
    """A document as it was; ``number`` counts from 1 within it.

    ``parent`` is the number of the one it was made from, and ``undone`` of the one that was last
    undone to come back to it.
    """

    id: int
    document_id: int
    document: models.ForeignKey[Document, Document] = models.ForeignKey(
        Document, models.PROTECT, db_index=False
    )
    number: Whole = models.PositiveIntegerField()
    parent: PerhapsWhole = models.PositiveIntegerField(null=True)
    undone: PerhapsWhole = models.PositiveIntegerField(null=True)
    at: Moment = models.DateTimeField()
    author: Text = models.TextField()
    what: Text = models.TextField()
    title: Text = models.TextField()
    text: Text = models.TextField()

    class Meta:
        """A document has each number once, and a revision is made from an earlier one."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["document", "number"], name="revision_once"),
            models.CheckConstraint(
                condition=models.Q(number__gte=1, parent=None)
                | models.Q(parent__lt=models.F("number")),
                name="parent_before_revision",
            ),
        ]
