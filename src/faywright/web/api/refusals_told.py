"""The one shape in which every refusal is told."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from faywright.web.api.sheets import SheetTold
from faywright.web.api.strict import Told


class FaultTold(Told):
    """One fault in a document, or in the body of a request."""

    file: Annotated[str, Field(description="What it is in: piece, shop, body, query or path.")]
    line: Annotated[int | None, Field(description="Line of a document, counted from 1.")]
    field: Annotated[str, Field(description="The field, in words.")]
    what: Annotated[str, Field(description="What is wrong.")]
    remedy: Annotated[str, Field(description="What would be accepted.")]
    path: Annotated[
        list[str | int], Field(description="Way to the field, places in lists counted from 0.")
    ]


class ErrorTold(Told):
    """What is wrong, where, and what to do about it."""

    what: Annotated[str, Field(description="What is wrong.")]
    where: Annotated[str, Field(description="Where it is.")]
    remedy: Annotated[str, Field(description="What to do about it.")]
    faults: Annotated[
        list[FaultTold],
        Field(
            default_factory=list, description="Each fault by itself, where there may be several."
        ),
    ]


class Refusal(Told):
    """The body of every answer that is not what was asked for."""

    error: ErrorTold


class Differing(Refusal):
    """Someone else was quicker: both values, and the document as it stands. Nothing was kept."""

    path: Annotated[
        list[str | int] | None,
        Field(description="The field both changed; null where it is the whole document."),
    ]
    theirs: Annotated[Any, Field(description="What it is now; null if there is no such field.")]
    mine: Annotated[Any, Field(description="What was sent, and not kept.")]
    current: Annotated[SheetTold, Field(description="The document as it stands.")]
