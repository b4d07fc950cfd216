"""Documents with all their revisions as plain values, and as the JSON that archives hold."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import get_args

from faywright.app.cells import Cells, Row
from faywright.app.cells import Kind as Column
from faywright.app.sheet import Draft, Kind
from faywright.app.values import check_text, in_utc
from faywright.errors import InputError

COLUMNS: Mapping[str, Column] = {
    "kind": "text",
    "shop": "value",
    "head": "value",
    "changed": "moment",
    "author": "text",
    "discarded": "moment",
    "revisions": "value",
}
REVISION_COLUMNS: Mapping[str, Column] = {
    "parent": "value",
    "undone": "value",
    "at": "moment",
    "author": "text",
    "what": "text",
    "title": "text",
    "text": "text",
}


@dataclass(frozen=True, slots=True)
class RevisionRecord:
    """A revision, the number of its ``parent``, and of the one ``undone`` to come back to it."""

    draft: Draft
    parent: int | None
    undone: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentRecord:
    """A document; its revisions are numbered from 1, and ``shop`` is the number of its shop."""

    kind: Kind
    shop: int | None
    head: int
    changed: datetime
    author: str
    discarded: datetime | None
    revisions: tuple[RevisionRecord, ...]

    def __post_init__(self) -> None:
        """Parents come before children, and the head is there; moments become ones in UTC."""
        check_text(self.author, "author", empty=True)
        object.__setattr__(self, "changed", in_utc(self.changed, "changed"))
        if self.discarded is not None:
            object.__setattr__(self, "discarded", in_utc(self.discarded, "discarded"))
        if self.shop is not None and self.kind != "piece":
            what = "a shop is not made in a shop"
            raise InputError(what, where="shop", remedy="Give one for pieces only")
        if not 1 <= self.head <= len(self.revisions):
            what = f"there is no revision {self.head} to stand at"
            raise InputError(what, where="head", remedy="Give the number of one that is there")
        for number, each in enumerate(self.revisions, start=1):
            self._check_parent(number, each.parent)
        for number, each in enumerate(self.revisions, start=1):
            self._check_undone(number, each.undone)

    def _check_parent(self, number: int, parent: int | None) -> None:
        if (parent is None) != (number == 1) or (parent is not None and not 1 <= parent < number):
            what = f"revision {number} is not made from an earlier one"
            remedy = "Give the number of an earlier one, and none for the first"
            raise InputError(what, where="parent", remedy=remedy)

    def _check_undone(self, number: int, undone: int | None) -> None:
        if undone is None:
            return
        if not (1 <= undone <= len(self.revisions) and self.revisions[undone - 1].parent == number):
            what = f"revision {undone} was not made from {number}"
            raise InputError(what, where="undone", remedy="Give the number of one that was")


def json_of_document(record: DocumentRecord) -> str:
    """A document as JSON; ``document_of_json`` gives it back."""
    row = {
        "kind": record.kind,
        "shop": record.shop,
        "head": record.head,
        "changed": record.changed.isoformat(),
        "author": record.author,
        "discarded": None if record.discarded is None else record.discarded.isoformat(),
        "revisions": [
            {
                "parent": each.parent,
                "undone": each.undone,
                "at": each.draft.at.isoformat(),
                "author": each.draft.author,
                "what": each.draft.what,
                "title": each.draft.title,
                "text": each.draft.text,
            }
            for each in record.revisions
        ],
    }
    return json.dumps(row, ensure_ascii=False, indent=1)


def document_of_json(told: Row, *, where: str) -> DocumentRecord:
    """The document that ``json_of_document`` told.

    Raises
    ------
    InputError
        It is something else; says where.
    """
    row = Cells(told, COLUMNS, where=where)
    kind = row.text("kind")
    if kind not in get_args(Kind):
        row.refuse("kind", "it is no kind of document", "Give shop or piece")
    with row.named():
        return DocumentRecord(
            kind="shop" if kind == "shop" else "piece",
            shop=row.whole_or_none("shop"),
            head=row.whole("head"),
            changed=row.moment("changed"),
            author=row.text("author"),
            discarded=row.moment_or_none("discarded"),
            revisions=tuple(
                _revision(each, where=f"{where}: revision {number}")
                for number, each in enumerate(row.rows("revisions"), start=1)
            ),
        )


def _revision(told: Row, *, where: str) -> RevisionRecord:
    row = Cells(told, REVISION_COLUMNS, where=where)
    with row.named():
        draft = Draft(
            title=row.text("title"),
            text=row.text("text"),
            what=row.text("what"),
            author=row.text("author"),
            at=row.moment("at"),
        )
    return RevisionRecord(draft, row.whole_or_none("parent"), row.whole_or_none("undone"))
