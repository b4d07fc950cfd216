"""All documents of a store at once, and those of another put beside them.

Within a transaction that the caller begins.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from django.db.models import QuerySet

from faywright.app import models
from faywright.app.document_records import DocumentRecord, RevisionRecord
from faywright.app.document_rows import DocumentRows, kind_of
from faywright.app.merging import Imported
from faywright.app.sheet import Draft
from faywright.errors import InputError


def records(alias: str) -> Iterator[tuple[int, DocumentRecord]]:
    """Every document of a store with its number, shops first."""
    rows = models.Document.objects.using(alias).order_by("-kind", "id")
    for row in rows:
        yield row.id, _record(alias, row)


def merged(alias: str, told: Mapping[int, DocumentRecord]) -> Imported:
    """Put in what is not there yet, under new numbers.

    A document is there already if one here has all its revisions, and maybe more since.

    Raises
    ------
    InputError
        A piece names a shop that is not among them.
    """
    numbers: dict[int, int] = {}
    added = 0
    for number in sorted(told, key=lambda number: (told[number].kind != "shop", number)):
        record = told[number]
        if record.shop is not None:
            if record.shop not in numbers or told[record.shop].kind != "shop":
                what = f"{record.shop} is not the number of a shop that is given"
                where = f"document {number}: shop"
                raise InputError(what, where=where, remedy="Give the whole archive")
            record = replace(record, shop=numbers[record.shop])
        known = _known(alias, record)
        added += known is None
        numbers[number] = _put(alias, record) if known is None else known
    return Imported(added, known=len(told) - added)


def _known(alias: str, record: DocumentRecord) -> int | None:
    """The number of the document here that has all of its revisions."""
    first = record.revisions[0].draft
    alike = _revisions(alias).filter(number=1, at=first.at, title=first.title)
    for found in alike.select_related("document").defer("text").order_by("document_id"):
        row = found.document
        if kind_of(row) == record.kind and row.shop_id == record.shop:
            here = _record(alias, row).revisions[: len(record.revisions)]
            if [(each.draft, each.parent) for each in here] == [
                (each.draft, each.parent) for each in record.revisions
            ]:
                return row.id
    return None


def _put(alias: str, record: DocumentRecord) -> int:
    rows = DocumentRows(alias)
    first = rows.begin(record.kind, record.shop, record.revisions[0].draft)
    row = first.document
    for number, each in enumerate(record.revisions[1:], start=2):
        rows.add(row, each.draft, number=number, parent=each.parent)
    for number, each in enumerate(record.revisions, start=1):
        if each.undone is not None:
            _revisions(alias).filter(document=row, number=number).update(undone=each.undone)
    row.head, row.revisions = record.head, len(record.revisions)
    row.changed, row.author, row.discarded = record.changed, record.author, record.discarded
    row.save(using=alias, force_update=True)
    return row.id


def _record(alias: str, row: models.Document) -> DocumentRecord:
    return DocumentRecord(
        kind=kind_of(row),
        shop=row.shop_id,
        head=row.head,
        changed=row.changed,
        author=row.author,
        discarded=row.discarded,
        revisions=tuple(
            RevisionRecord(
                Draft(
                    title=each.title,
                    text=each.text,
                    what=each.what,
                    author=each.author,
                    at=each.at,
                ),
                each.parent,
                each.undone,
            )
            for each in _revisions(alias).filter(document=row).order_by("number")
        ),
    )


def _revisions(alias: str) -> QuerySet[models.Revision]:
    return models.Revision.objects.using(alias)
