"""The rows of documents and their revisions, within a transaction that the caller begins."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import get_args

from django.db.models import F, QuerySet

from faywright.app import models
from faywright.app.sheet import Draft, Kind, Listed, Overtaken, Revision, Sheet
from faywright.app.values import check_text
from faywright.errors import InputError, MissingError


class DocumentRows:
    """What stands in the tables of one store."""

    def __init__(self, alias: str) -> None:
        """``alias`` is the store's name with Django."""
        self._alias = alias

    def heads(self) -> QuerySet[models.Revision]:
        """Of every document, the revision it stands at."""
        found = self.revisions().filter(number=F("document__head"))
        return found.select_related("document")

    def revisions(self) -> QuerySet[models.Revision]:
        """All revisions."""
        return models.Revision.objects.using(self._alias)

    def head(self, document: int) -> models.Revision:
        """The revision that a document stands at."""
        row = self.heads().filter(document__id=document).first()
        if row is None:
            raise _missing(f"there is no document {document}", "document")
        return row

    def found(self, document: int, number: int) -> models.Revision:
        """One revision of a document."""
        row = self.revisions().filter(document__id=document, number=number).first()
        if row is None:
            self.head(document)
            raise _missing(f"it has no revision {number}", f"document {document}")
        return row

    def locked(self, document: int) -> models.Document:
        """A document's row, held against others who would change it."""
        rows = models.Document.objects.using(self._alias).select_for_update()
        row = rows.filter(id=document).first()
        if row is None:
            raise _missing(f"there is no document {document}", "document")
        return row

    def held(self, document: int, base: int) -> models.Document:
        """A document's row, held, of which it is known that it stands at ``base``."""
        row = self.locked(document)
        if row.discarded is not None:
            raise InputError(
                "it was discarded", where=self.head(document).title, remedy="Bring it back first"
            )
        if row.head != base:
            raise Overtaken(sheet_of(self.head(document)), base)
        return row

    def begin(self, kind: Kind, shop: int | None, draft: Draft) -> models.Revision:
        """A new document, and its first revision."""
        row = models.Document(
            kind=kind, shop_id=shop, head=1, revisions=1, changed=draft.at, author=draft.author
        )
        row.save(using=self._alias, force_insert=True)
        return self.add(row, draft, number=1, parent=None)

    def add(
        self, row: models.Document, draft: Draft, *, number: int, parent: int | None
    ) -> models.Revision:
        """A new revision of a document."""
        revision = models.Revision(
            document=row,
            number=number,
            parent=parent,
            at=draft.at,
            author=draft.author,
            what=draft.what,
            title=draft.title,
            text=draft.text,
        )
        revision.save(using=self._alias, force_insert=True)
        return revision

    def stand(
        self,
        row: models.Document,
        revision: models.Revision,
        author: str,
        at: datetime | None = None,
    ) -> Sheet:
        """Have a document stand at a revision, since ``at`` or now."""
        check_text(author, "document: author", empty=True)
        row.head, row.changed, row.author = revision.number, at or datetime.now(UTC), author
        row.save(using=self._alias, force_update=True)
        revision.document = row
        return sheet_of(revision)

    def discard(self, document: int, moment: datetime | None) -> None:
        """Note since when a document is discarded, or that it is not."""
        row = self.locked(document)
        if moment is None or row.discarded is None:  # the first moment stays
            row.discarded = moment
            row.save(using=self._alias, update_fields=["discarded"])

    def back(self, document: int, parent: int, child: int) -> models.Revision:
        """The parent of a revision, which remembers that this was undone."""
        revision = self.found(document, parent)
        revision.undone = child
        revision.save(using=self._alias, update_fields=["undone"])
        return revision

    def way_back(self, document: int, head: int, number: int) -> list[tuple[int, int]]:
        """Parents and children on the way by undoing; none if it does not lead to ``number``."""
        rows = self.revisions().filter(document__id=document)
        parents = dict(rows.values_list("number", "parent"))
        way: list[tuple[int, int]] = []
        while head > number and (parent := parents[head]) is not None:
            way.append((parent, head))
            head = parent
        return way if head == number else []

    def check_shop(self, kind: Kind, shop: int | None) -> None:
        """Refuse a kind that there is not, a shop that is none, and the shop of a shop."""
        if kind not in get_args(Kind):
            what = f"{kind!r} is no kind of document"
            raise InputError(what, where="document", remedy="Give shop or piece")
        if shop is None:
            return
        shops = models.Document.objects.using(self._alias).filter(id=shop, kind="shop")
        if kind != "piece" or not shops.exists():
            what = f"document {shop} is not a shop that a {kind} can be made in"
            raise InputError(what, where="shop", remedy="Give the number of a shop, for a piece")


def kind_of(row: models.Document) -> Kind:
    """What kind of document a row is of."""
    return "shop" if row.kind == "shop" else "piece"


def sheet_of(row: models.Revision) -> Sheet:
    """A document as it stands, from the revision it stands at."""
    document = row.document
    return Sheet(
        id=document.id,
        kind=kind_of(document),
        title=row.title,
        shop=document.shop_id,
        revision=revision_of(row),
        can_undo=row.parent is not None,
        can_redo=row.undone is not None,
        discarded=document.discarded,
    )


def listed_of(row: models.Revision) -> Listed:
    """A document in a list, from the revision it stands at."""
    document = row.document
    return Listed(
        document.id,
        row.title,
        document.shop_id,
        document.changed,
        document.author,
        document.revisions,
    )


def revision_of(row: models.Revision) -> Revision:
    """A revision, with its text."""
    return Revision(row.number, row.at, row.author, row.what, row.text)


def _missing(what: str, where: str) -> MissingError:
    return MissingError(what, where=where, remedy="Give the number of one that is listed")
