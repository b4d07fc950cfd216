"""Changing fields of a document: the way that forms go, so that others' changes are kept."""

from __future__ import annotations

from typing import Annotated, Literal

from django.http import HttpRequest
from ninja import Router
from pydantic import Field

from faywright.web.api.documents import Document
from faywright.web.api.refusals_told import Differing
from faywright.web.api.sheets import ChangedTold, sheet_told
from faywright.web.api.strict import Base, Line, Request
from faywright.web.api.values import Key, NamedPath, Value, in_toml
from faywright.web.changing import Add, Drop, Edit, Put, change
from faywright.web.desk import author, desk

router = Router(tags=["documents"])


class PutField(Request):
    """Give a field a value, or take it away."""

    do: Annotated[Literal["put"], Field(description="Give a field a value.")]
    path: NamedPath
    value: Annotated[Value | None, Field(description="Its value; null takes the field away.")]


class AddTable(Request):
    """Add a table, such as one more [[board]], after the last of its kind."""

    do: Annotated[Literal["add"], Field(description="Add a table.")]
    key: Annotated[Key, Field(description="What is added: board, joint, cutter and so on.")]
    values: Annotated[
        dict[Key, Value], Field(max_length=100, description="Its fields and their values.")
    ]


class DropTable(Request):
    """Take a table away."""

    do: Annotated[Literal["drop"], Field(description="Take a table away.")]
    path: NamedPath


AnyEdit = Annotated[PutField | AddTable | DropTable, Field(discriminator="do")]


class Changes(Request):
    """Edits that are kept together, in one revision, or not at all."""

    base: Base
    what: Annotated[Line, Field(min_length=1, description="What is changed, in a sentence.")]
    edits: Annotated[
        list[AnyEdit], Field(min_length=1, max_length=200, description="Made one after the other.")
    ]


@router.post(
    "/documents/{int:document}/changes",
    response={200: ChangedTold, 409: Differing},
    summary="Change fields",
)
def changes(request: HttpRequest, document: Document, body: Changes) -> ChangedTold:
    """Change fields; comments, order and all else stay as they are.

    Changes that others made to other fields since ``base`` are kept. Where one of them changed the
    same field, nothing is kept, and the answer has both values.
    """
    changed = change(
        desk().store.documents,
        document,
        body.base,
        [_edit(each) for each in body.edits],
        author=author(request),
        what=body.what,
    )
    return ChangedTold(document=sheet_told(changed.sheet), over=list(changed.over))


def _edit(asked: PutField | AddTable | DropTable) -> Edit:
    match asked:
        case PutField():
            value = None if asked.value is None else in_toml(asked.value)
            return Put(tuple(asked.path), value)
        case AddTable():
            return Add(asked.key, {key: in_toml(each) for key, each in asked.values.items()})
        case DropTable():
            return Drop(tuple(asked.path))
