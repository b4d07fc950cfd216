"""Undo, redo and history of any document; and laying one aside, which loses nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from faywright.app.documents import Overtaken, Sheet, Step
from faywright.errors import InputError
from faywright.web.back_to import back_to
from faywright.web.desk import author, desk
from faywright.web.posted import number_in

CONFLICT, SEE_OTHER = 409, 303
STEPS_SHOWN = 100


@dataclass(frozen=True, slots=True)
class Undoing:
    """The two buttons of a page, with what they would take back and put again."""

    base: int
    undo_url: str
    redo_url: str
    history_url: str
    can_undo: bool
    can_redo: bool
    undoes: str
    redoes: str
    back: str = ""


@dataclass(frozen=True, slots=True)
class Laid:
    """A step of a history as it is shown."""

    step: Step
    go_back_url: str


def undoing_of(sheet: Sheet, *, back: str = "") -> Undoing:
    """What can be undone and redone of a document; ``back`` is the page to come back to."""
    return Undoing(
        base=sheet.revision.number,
        undo_url=address(sheet, "undo"),
        redo_url=address(sheet, "redo"),
        history_url=address(sheet, "history"),
        can_undo=sheet.can_undo,
        can_redo=sheet.can_redo,
        undoes=sheet.revision.what if sheet.can_undo else "",
        redoes=_redoes(sheet) if sheet.can_redo else "",
        back=back,
    )


def _redoes(sheet: Sheet) -> str:
    """What redo would do; empty where history alone does not tell which of several it is."""
    history = desk().store.documents.history(sheet.id)
    found = [step.what for step in history if step.parent == sheet.revision.number]
    return found[0] if len(found) == 1 else ""


def address(sheet: Sheet, name: str, **more: int) -> str:
    """The address of a page of a piece, or of that of a shop by the same name."""
    if sheet.kind == "piece":
        return reverse(name, kwargs={"piece": sheet.id, **more})
    return reverse(f"shop-{name}", kwargs={"shop": sheet.id, **more})


def home(sheet: Sheet) -> str:
    """The address of a document's own page."""
    if sheet.kind == "piece":
        return reverse("piece", kwargs={"piece": sheet.id})
    return reverse("shop-one", kwargs={"shop": sheet.id})


@require_POST
def undo(request: HttpRequest, *, piece: int = 0, shop: int = 0) -> HttpResponse:
    """Take back the last change."""
    documents = desk().store.documents
    return _moved(
        request,
        piece or shop,
        lambda number, base: documents.undo(number, base, author=author(request)),
    )


@require_POST
def redo(request: HttpRequest, *, piece: int = 0, shop: int = 0) -> HttpResponse:
    """Put again what was taken back last."""
    documents = desk().store.documents
    return _moved(
        request,
        piece or shop,
        lambda number, base: documents.redo(number, base, author=author(request)),
    )


@require_POST
def go_back(request: HttpRequest, *, number: int, piece: int = 0, shop: int = 0) -> HttpResponse:
    """Have a document stand at one of its revisions."""
    documents = desk().store.documents
    return _moved(
        request,
        piece or shop,
        lambda document, base: documents.go_to(document, base, number, author=author(request)),
    )


def _moved(request: HttpRequest, number: int, move: Callable[[int, int], Sheet]) -> HttpResponse:
    before = desk().store.documents.sheet(number)
    try:
        sheet = move(number, number_in(request, "base"))
    except Overtaken as overtaken:
        return _history(request, overtaken.sheet, overtaken, status=CONFLICT)
    then = back_to(request, before, sheet) or home(sheet)
    if getattr(request, "htmx", False):
        return HttpResponse(headers={"HX-Redirect": then})
    return HttpResponseRedirect(then, status=SEE_OTHER)


@require_GET
def history(request: HttpRequest, *, piece: int = 0, shop: int = 0) -> HttpResponse:
    """Who changed what and when; one can go back to any of it."""
    return _history(request, desk().store.documents.sheet(piece or shop), None, status=200)


def _history(
    request: HttpRequest, sheet: Sheet, error: InputError | None, *, status: int
) -> HttpResponse:
    steps = desk().store.documents.history(sheet.id)
    shown = steps if "all" in request.GET else steps[:STEPS_SHOWN]
    context = {
        "sheet": sheet,
        "error": error,
        "home": home(sheet),
        "undoing": undoing_of(sheet),
        "steps": [Laid(step, address(sheet, "go-back", number=step.number)) for step in shown],
        "more": len(steps) - len(shown),
    }
    return render(request, "faywright/history.html", context, status=status)


@require_POST
def discard(_: HttpRequest, *, piece: int = 0, shop: int = 0) -> HttpResponse:
    """Lay a document aside; it can be brought back."""
    documents = desk().store.documents
    sheet = documents.sheet(piece or shop)
    if sheet.kind == "shop":
        pieces = [each.title for each in documents.listed("piece") if each.shop == sheet.id]
        if pieces:
            raise InputError(
                f"{pieces[0]!r} is made in it",
                where=f"shop {sheet.title}",
                remedy="Discard the pieces that are made in it first",
            )
    documents.discard(sheet.id)
    listed = reverse("pieces" if sheet.kind == "piece" else "shop")
    return HttpResponseRedirect(listed, status=SEE_OTHER)


@require_POST
def bring_back(_: HttpRequest, *, piece: int = 0, shop: int = 0) -> HttpResponse:
    """List a document again that was discarded."""
    sheet = desk().store.documents.bring_back(piece or shop)
    return HttpResponseRedirect(home(sheet), status=SEE_OTHER)
