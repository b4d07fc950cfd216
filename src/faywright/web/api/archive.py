"""The whole shop as one archive, and the token that sending it takes."""

from __future__ import annotations

from typing import Annotated, Any

from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import get_token
from ninja import Router
from pydantic import Field

from faywright.app.archive import LARGEST, read_archive, write_archive
from faywright.web.api.answers import ZIP, file, told_as
from faywright.web.api.reading import TooLargeError, take_kind
from faywright.web.api.strict import Told
from faywright.web.desk import desk

router = Router(tags=["archive"])

SENT: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {ZIP: {"schema": {"type": "string", "format": "binary"}}},
    }
}


class CountTold(Told):
    """How much was taken in."""

    added: Annotated[int, Field(description="How many were new.")]
    known: Annotated[int, Field(description="How many were there already, and left alone.")]


class TakenTold(Told):
    """What was taken in."""

    documents: Annotated[CountTold, Field(description="Documents with all their revisions.")]
    trials: Annotated[CountTold, Field(description="Trials, feels and sharpenings.")]


class TokenTold(Told):
    """What changes by a page, and uploads, have to carry."""

    token: Annotated[str, Field(description="Value of the header X-CSRFToken.")]


@router.get("/archive", openapi_extra=told_as(ZIP), summary="Take the whole shop along")
def archive(request: HttpRequest) -> HttpResponse:
    """Every document with all its revisions, and all trials."""
    return file(write_archive(desk().store), ZIP, "faywright.zip")


@router.post("/archive", response=TakenTold, openapi_extra=SENT, summary="Take an archive in")
def take_archive_in(request: HttpRequest) -> TakenTold:
    """What is here already is left alone; other documents and trials get new numbers."""
    take_kind(request, ZIP)
    packed = request.read(LARGEST + 1)
    if len(packed) > LARGEST:
        raise TooLargeError(
            f"it has more than {LARGEST >> 20} MB", where="body", remedy="Send a smaller archive"
        )
    taken = read_archive(packed, store=desk().store)
    return TakenTold(
        documents=CountTold(added=taken.documents.added, known=taken.documents.known),
        trials=CountTold(added=taken.trials.added, known=taken.trials.known),
    )


@router.get("/csrf-token", response=TokenTold, summary="A CSRF token")
def csrf_token(request: HttpRequest) -> TokenTold:
    """The token, and the cookie that belongs to it."""
    return TokenTold(token=get_token(request))
