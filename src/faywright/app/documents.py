"""Documents and their revisions: nothing that was ever written is lost.

A revision is made from its parent. Undo moves the head to the parent, redo back to the child.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime

from django.db.transaction import atomic

from faywright.app import models
from faywright.app.connecting import database_told, snapshot
from faywright.app.document_rows import DocumentRows, listed_of, revision_of, sheet_of
from faywright.app.sheet import Draft, Kind, Listed, Overtaken, Revision, Sheet, Step
from faywright.errors import InputError

__all__ = ["Documents", "Kind", "Listed", "Overtaken", "Revision", "Sheet", "Step"]


class Documents:
    """The documents of one store.

    What a method has changed is on the disk when it returns, or, inside a transaction of the
    caller's, when that ends.

    Every method raises an InputError for a database that is locked, full, away or broken, and a
    MissingError for a number that no document, or no revision, has.
    """

    def __init__(self, alias: str, where: str) -> None:
        """``alias`` is the store's name with Django, ``where`` names it in messages."""
        self._alias = alias
        self._where = where
        self._rows = DocumentRows(alias)

    # What is asked of them.

    def listed(self, kind: Kind, *, discarded: bool = False) -> tuple[Listed, ...]:
        """Documents of a kind, the latest changed first; those that were discarded, if asked."""
        with self._reading():
            heads = self._rows.heads().filter(
                document__kind=kind, document__discarded__isnull=not discarded
            )
            rows = heads.defer("text").order_by("-document__changed", "-document__id")
            return tuple(listed_of(row) for row in rows)

    def sheet(self, document: int) -> Sheet:
        """A document as it stands."""
        with self._reading():
            return sheet_of(self._rows.head(document))

    def revision(self, document: int, number: int) -> Revision:
        """A document as it was."""
        with self._reading():
            return revision_of(self._rows.found(document, number))

    def history(self, document: int) -> tuple[Step, ...]:
        """Every revision there was, newest first."""
        with self._reading():
            head = self._rows.head(document).number
            rows = (
                self._rows.revisions()
                .filter(document__id=document)
                .defer("text")
                .order_by("-number")
            )
            return tuple(
                Step(row.number, row.at, row.author, row.what, row.parent, row.number == head)
                for row in rows
            )

    # What is told to them.

    def begin(
        self,
        kind: Kind,
        text: str,
        *,
        title: str,
        shop: int | None = None,
        author: str = "",
        what: str,
    ) -> Sheet:
        """A new document; ``shop`` is the number of a piece's shop document.

        Raises
        ------
        InputError
            A text cannot be stored, or ``shop`` is not the number of a shop.
        """
        draft = Draft(title=title, text=text, what=what, author=author, at=datetime.now(UTC))
        with self._writing():
            self._rows.check_shop(kind, shop)
            return sheet_of(self._rows.begin(kind, shop, draft))

    def revise(
        self, document: int, base: int, text: str, *, title: str, author: str = "", what: str
    ) -> Sheet:
        """A new revision, made from ``base``, which must be how the document stands.

        Raises
        ------
        Overtaken
            The document stands at another revision by now.
        InputError
            A text cannot be stored, or the document was discarded.
        """
        draft = Draft(title=title, text=text, what=what, author=author, at=datetime.now(UTC))
        with self._writing():
            row = self._rows.held(document, base)
            row.revisions += 1
            added = self._rows.add(row, draft, number=row.revisions, parent=base)
            return self._rows.stand(row, added, author, draft.at)

    def undo(self, document: int, base: int, *, author: str = "") -> Sheet:
        """Back to the revision that the one it stands at was made from.

        Raises
        ------
        Overtaken
            The document does not stand at ``base`` any more.
        InputError
            It is the first, or the document was discarded.
        """
        with self._writing():
            row = self._rows.held(document, base)
            head = self._rows.found(document, base)
            if head.parent is None:
                raise _nothing(head, "undo", "It stands as it was begun")
            return self._rows.stand(row, self._rows.back(document, head.parent, base), author)

    def redo(self, document: int, base: int, *, author: str = "") -> Sheet:
        """On to the revision that was undone last.

        Raises
        ------
        Overtaken
            The document does not stand at ``base`` any more.
        InputError
            None was undone, or the document was discarded.
        """
        with self._writing():
            row = self._rows.held(document, base)
            head = self._rows.found(document, base)
            if head.undone is None:
                raise _nothing(head, "redo", "Choose a revision from its history")
            return self._rows.stand(row, self._rows.found(document, head.undone), author)

    def go_to(self, document: int, base: int, number: int, *, author: str = "") -> Sheet:
        """To any revision; where undoing leads there, all that is undone so can be redone.

        Raises
        ------
        Overtaken
            The document does not stand at ``base`` any more.
        InputError
            The document was discarded.
        """
        with self._writing():
            row = self._rows.held(document, base)
            target = self._rows.found(document, number)
            for parent, child in self._rows.way_back(document, base, number):
                target = self._rows.back(document, parent, child)
            return self._rows.stand(row, target, author)

    def discard(self, document: int) -> Sheet:
        """Lay a document aside: it is not listed any more, and cannot be changed."""
        return self._discarded(document, datetime.now(UTC))

    def bring_back(self, document: int) -> Sheet:
        """List a document again that was discarded."""
        return self._discarded(document, None)

    def _discarded(self, document: int, moment: datetime | None) -> Sheet:
        with self._writing():
            self._rows.discard(document, moment)
            return sheet_of(self._rows.head(document))

    @contextmanager
    def _reading(self) -> Iterator[None]:
        with database_told(self._where), snapshot(self._alias):
            yield

    @contextmanager
    def _writing(self) -> Iterator[None]:
        with database_told(self._where), atomic(using=self._alias):
            yield


def _nothing(head: models.Revision, what: str, remedy: str) -> InputError:
    return InputError(f"there is nothing to {what}", where=head.title, remedy=remedy)
