"""Documents as answers tell them."""

from __future__ import annotations

import datetime
from typing import Annotated, Any, Literal

from pydantic import Field

from faywright.app.sheet import Listed, Revision, Sheet, Step
from faywright.web.api.strict import Told

Kind = Literal["piece", "shop"]

_NUMBER = "Number of the document."
_OF = "Number of the shop the piece is made in; null for a shop."


class RevisionTold(Told):
    """One state of a document, without its text."""

    number: Annotated[int, Field(description="Counted from 1 within the document.")]
    at: Annotated[datetime.datetime, Field(description="When it was made, in UTC.")]
    author: Annotated[str, Field(description="Who made it; empty on a shop's own computer.")]
    what: Annotated[str, Field(description="What was changed, in a sentence.")]


class SheetTold(Told):
    """A document as it stands."""

    id: Annotated[int, Field(description=_NUMBER)]
    kind: Annotated[Kind, Field(description="Whether it is a piece file or a shop file.")]
    title: Annotated[str, Field(description="Title, as the text has it.")]
    shop: Annotated[int | None, Field(description=_OF)]
    revision: Annotated[RevisionTold, Field(description="The revision it stands at.")]
    text: Annotated[str, Field(description="The text, TOML as the command line reads it.")]
    can_undo: Annotated[bool, Field(description="Whether there is a revision it was made from.")]
    can_redo: Annotated[bool, Field(description="Whether a change was undone last.")]
    discarded: Annotated[
        datetime.datetime | None, Field(description="When it was laid aside; null if it was not.")
    ]


class ListedTold(Told):
    """A document in a list."""

    id: Annotated[int, Field(description=_NUMBER)]
    title: Annotated[str, Field(description="Title, as the text has it.")]
    shop: Annotated[int | None, Field(description=_OF)]
    at: Annotated[datetime.datetime, Field(description="When it was changed last, in UTC.")]
    author: Annotated[str, Field(description="Who changed it last.")]
    revisions: Annotated[int, Field(description="How many revisions it has.")]


class DocumentsTold(Told):
    """Documents of a kind."""

    documents: Annotated[list[ListedTold], Field(description="The latest changed first.")]


class ChangedTold(Told):
    """A document after a change."""

    document: Annotated[SheetTold, Field(description="As it stands now.")]
    over: Annotated[
        list[str],
        Field(description="Who changed other fields meanwhile; the change was put on top."),
    ]


class StepTold(RevisionTold):
    """A revision in a history."""

    parent: Annotated[int | None, Field(description="The revision it was made from.")]
    is_head: Annotated[bool, Field(description="Whether the document stands at it.")]


class HistoryTold(Told):
    """Every revision there was; none is ever deleted."""

    revisions: Annotated[list[StepTold], Field(description="The newest first.")]


class RevisionTextTold(RevisionTold):
    """One state of a document, with its text."""

    text: Annotated[str, Field(description="The text as it was.")]


def revision_told(revision: Revision) -> RevisionTold:
    """A revision without its text."""
    return RevisionTold(**_step(revision))


def revision_text_told(revision: Revision) -> RevisionTextTold:
    """A revision with its text."""
    return RevisionTextTold(**_step(revision), text=revision.text)


def sheet_told(sheet: Sheet) -> SheetTold:
    """A document as it stands."""
    return SheetTold(
        id=sheet.id,
        kind=sheet.kind,
        title=sheet.title,
        shop=sheet.shop,
        revision=revision_told(sheet.revision),
        text=sheet.revision.text,
        can_undo=sheet.can_undo,
        can_redo=sheet.can_redo,
        discarded=sheet.discarded,
    )


def listed_told(listed: Listed) -> ListedTold:
    """A document in a list."""
    return ListedTold(
        id=listed.id,
        title=listed.title,
        shop=listed.shop,
        at=listed.at,
        author=listed.author,
        revisions=listed.revisions,
    )


def step_told(step: Step) -> StepTold:
    """A revision in a history."""
    return StepTold(**_step(step), parent=step.parent, is_head=step.is_head)


def _step(revision: Revision | Step) -> dict[str, Any]:
    return {
        "number": revision.number,
        "at": revision.at,
        "author": revision.author,
        "what": revision.what,
    }
