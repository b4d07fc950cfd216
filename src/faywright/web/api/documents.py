"""Documents: shop files and piece files, each with every state it ever had."""

from __future__ import annotations

from typing import Annotated

from django.http import HttpRequest, HttpResponse
from ninja import Path, Query, Router, Status
from pydantic import Field

from faywright.app.sheet import Overtaken
from faywright.web.api.refusals_told import Differing
from faywright.web.api.refusing import overtaken
from faywright.web.api.sheets import (
    DocumentsTold,
    HistoryTold,
    Kind,
    RevisionTextTold,
    SheetTold,
    listed_told,
    revision_text_told,
    sheet_told,
    step_told,
)
from faywright.web.api.strict import Asked, Base, Line, Name, Nothing, Number, Request, Text, Told
from faywright.web.changing import READERS
from faywright.web.desk import author, desk
from faywright.web.pieces.taking_in import take_in

router = Router(tags=["documents"])

Document = Annotated[Number, Path(description="Number of the document.")]
CHANGED = {200: SheetTold, 409: Differing}


class WhichDocuments(Asked):
    """Which documents to list."""

    kind: Annotated[Kind, Field(description="Piece files or shop files.")]
    discarded: Annotated[bool, Field(description="Those that were laid aside instead.")] = False


class Files(Request):
    """Files as the command line reads them."""

    files: Annotated[
        dict[Name, Text],
        Field(
            min_length=1,
            max_length=50,
            description="Texts by file name: piece.toml, shop.toml, and the boards.csv that a "
            "piece file names, which is put into it.",
        ),
    ]
    shop: Annotated[
        Number | None,
        Field(description="Shop of the pieces, if no shop file is given along with them."),
    ] = None
    over: Annotated[
        bool, Field(description="Whether a shop file takes the place of one of the same title.")
    ] = False


class Begun(Told):
    """What files became, in their order."""

    pieces: Annotated[list[int], Field(description="Numbers of pieces.")]
    shops: Annotated[list[int], Field(description="Numbers of shops.")]


class WholeText(Request):
    """A whole new text."""

    base: Base
    text: Annotated[Text, Field(description="TOML, as the command line reads it.")]
    what: Annotated[Line, Field(description="What was changed, in a sentence.")] = "the whole text"


class FromBase(Request):
    """The revision that was looked at."""

    base: Base


class GoTo(FromBase):
    """The revision to go to."""

    number: Annotated[Number, Field(description="Number of any revision of this document.")]


@router.get("/documents", response=DocumentsTold, summary="List pieces or shops")
def documents(request: HttpRequest, asked: Query[WhichDocuments]) -> DocumentsTold:
    """Documents of a kind, the latest changed first, without their texts."""
    found = desk().store.documents.listed(asked.kind, discarded=asked.discarded)
    return DocumentsTold(documents=[listed_told(each) for each in found])


@router.post("/documents", response={201: Begun}, summary="Begin documents")
def begin(request: HttpRequest, body: Files) -> Status[Begun]:
    """Take in files; where one has a fault, none is kept."""
    taken = take_in(
        desk().store.documents,
        body.files,
        what="taken in",
        author=author(request),
        shop=body.shop,
        over=body.over,
    )
    return Status(201, Begun(pieces=list(taken.pieces), shops=list(taken.shops)))


@router.get("/documents/{int:document}", response=SheetTold, summary="Read a document")
def document(request: HttpRequest, document: Document) -> SheetTold:
    """A document as it stands, with its text."""
    return sheet_told(desk().store.documents.sheet(document))


@router.put("/documents/{int:document}/text", response=CHANGED, summary="Put a whole new text")
def put_text(request: HttpRequest, document: Document, body: WholeText) -> SheetTold | HttpResponse:
    """Keep a new text, if it can be read and nobody changed the document since `base`."""
    kept, by = desk().store.documents, author(request)
    title = READERS[kept.sheet(document).kind](body.text)
    try:
        sheet = kept.revise(document, body.base, body.text, title=title, author=by, what=body.what)
    except Overtaken as error:
        return overtaken(error, body.text)
    return sheet_told(sheet)


@router.post("/documents/{int:document}/undo", response=CHANGED, summary="Undo")
def undo(request: HttpRequest, document: Document, body: FromBase) -> SheetTold:
    """Go back to the revision that this one was made from."""
    return sheet_told(desk().store.documents.undo(document, body.base, author=author(request)))


@router.post("/documents/{int:document}/redo", response=CHANGED, summary="Redo")
def redo(request: HttpRequest, document: Document, body: FromBase) -> SheetTold:
    """Go forward to the revision that was undone last."""
    return sheet_told(desk().store.documents.redo(document, body.base, author=author(request)))


@router.post("/documents/{int:document}/go-to", response=CHANGED, summary="Go to a revision")
def go_to(request: HttpRequest, document: Document, body: GoTo) -> SheetTold:
    """Let the document stand at any of its revisions."""
    kept = desk().store.documents
    return sheet_told(kept.go_to(document, body.base, body.number, author=author(request)))


@router.get("/documents/{int:document}/revisions", response=HistoryTold, summary="History")
def revisions(request: HttpRequest, document: Document) -> HistoryTold:
    """Every revision, the newest first, without texts."""
    steps = desk().store.documents.history(document)
    return HistoryTold(revisions=[step_told(each) for each in steps])


@router.get(
    "/documents/{int:document}/revisions/{int:number}",
    response=RevisionTextTold,
    summary="Read a revision",
)
def revision(
    request: HttpRequest,
    document: Document,
    number: Annotated[Number, Path(description="Number of the revision.")],
) -> RevisionTextTold:
    """One revision, with its text."""
    return revision_text_told(desk().store.documents.revision(document, number))


@router.post("/documents/{int:document}/discard", response=SheetTold, summary="Discard")
def discard(request: HttpRequest, document: Document, body: Nothing) -> SheetTold:
    """Lay a document aside; nothing of it is lost, and it can be brought back."""
    return sheet_told(desk().store.documents.discard(document))


@router.post("/documents/{int:document}/bring-back", response=SheetTold, summary="Bring back")
def bring_back(request: HttpRequest, document: Document, body: Nothing) -> SheetTold:
    """Take a document up again that was laid aside."""
    return sheet_told(desk().store.documents.bring_back(document))
