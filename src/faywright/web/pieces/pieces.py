"""The first page: the pieces there are, and the ways to a new one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import get_args

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from faywright.app.documents import Listed
from faywright.errors import DocumentError, Fault, InputError
from faywright.lengths import LengthStyle, Unit
from faywright.piece.document import tables_of
from faywright.piece.piece_file import piece_from_text
from faywright.piece.toml_written import written
from faywright.piece.words import counted
from faywright.web.desk import author, desk
from faywright.web.field_changes import SEE_OTHER, UNPROCESSABLE, told_at
from faywright.web.fields import Choice, Field, Spec, blank_fields, choices, units_of
from faywright.web.pieces.renaming import named_tables


@dataclass(frozen=True, slots=True)
class PieceRow:
    """A piece in the list: what it is, where it is made, and what it is made of."""

    id: int
    title: str
    shop: str
    boards: str
    joints: str
    at: datetime
    author: str


@require_GET
def pieces(request: HttpRequest) -> HttpResponse:
    """All pieces, the latest changed first."""
    documents = desk().store.documents
    shops = {each.id: each.title for each in documents.listed("shop")}
    shops |= {each.id: each.title for each in documents.listed("shop", discarded=True)}
    context = {
        "rows": [_row(each, shops.get(each.shop or 0, "")) for each in documents.listed("piece")],
        "discarded": documents.listed("piece", discarded=True),
        "has_shop": bool(documents.listed("shop")),
    }
    return render(request, "faywright/pieces.html", context)


def _row(listed: Listed, shop: str) -> PieceRow:
    boards, joints = _counts(desk().store.documents.sheet(listed.id).revision.text)
    return PieceRow(
        listed.id,
        listed.title,
        shop,
        counted(boards, "board"),
        counted(joints, "joint"),
        listed.at,
        listed.author,
    )


@lru_cache(maxsize=256)
def _counts(text: str) -> tuple[int, int]:
    """How many boards and joints a piece file has."""
    tables = tables_of(text)
    boards, joints = (sum(1 for _ in named_tables(tables, key)) for key in ("board", "joint"))
    return boards, joints


@require_http_methods(["GET", "HEAD", "POST"])
def new_piece(request: HttpRequest) -> HttpResponse:
    """Begin a piece: its title, its unit, and the shop it will be made in."""
    shops = desk().store.documents.listed("shop")
    specs = _specs(shops)
    if request.method != "POST" or not shops:
        fields = blank_fields(specs, LengthStyle("mm"), {"units": _usual_unit(shops)})
        return render(request, "faywright/new_piece.html", {"shops": shops, "fields": fields})
    typed = {spec.key: request.POST.get(spec.key, "").strip() for spec in specs}
    try:
        number = begin(typed["title"], typed["units"], typed["shop"], author=author(request))
    except DocumentError as error:
        return _again(request, shops, specs, typed, error.faults)
    return HttpResponseRedirect(reverse("piece", kwargs={"piece": number}), status=SEE_OTHER)


def begin(title: str, units: str, shop: str, *, author: str) -> int:
    """A new piece with nothing in it; its number.

    Raises
    ------
    DocumentError
        It cannot have that title or unit.
    InputError
        There is no such shop.
    """
    listed = {str(each.id): each.id for each in desk().store.documents.listed("shop")}
    if shop not in listed:
        raise InputError("it is not there", where="shop", remedy="Choose one that is listed")
    text = (
        f'faywright = "piece 1"\ntitle = {written(title)}\nunits = {written(units)}\n'
        'shop = "shop.toml"\n'
    )
    found = piece_from_text(text, file="piece", folder=None).piece
    sheet = desk().store.documents.begin(
        "piece", text, title=found.title, shop=listed[shop], author=author, what="piece begun"
    )
    return sheet.id


def _usual_unit(shops: tuple[Listed, ...]) -> str:
    """That of the shop that is offered first."""
    if not shops:
        return "mm"
    return units_of(tables_of(desk().store.documents.sheet(shops[0].id).revision.text))


def _specs(shops: tuple[Listed, ...]) -> tuple[Spec, ...]:
    return (
        Spec(key="title", label="Title", kind="text", needed=True, help="as it will be printed"),
        Spec(
            key="units",
            label="Bare numbers are",
            kind="choice",
            choices=choices(get_args(Unit)),
            help="in the piece file; whatever you type may have its own unit",
        ),
        Spec(
            key="shop",
            label="Shop it is made in",
            kind="choice",
            choices=tuple(Choice(str(shop.id), shop.title) for shop in shops),
        ),
    )


def _again(
    request: HttpRequest,
    shops: tuple[Listed, ...],
    specs: tuple[Spec, ...],
    typed: dict[str, str],
    faults: tuple[Fault, ...],
) -> HttpResponse:
    beside = {
        key: told_at([each for each in faults if each.path == (key,)], (key,)) for key in typed
    }
    fields: tuple[Field, ...] = blank_fields(specs, LengthStyle("mm"), typed, beside)
    context = {"shops": shops, "fields": fields}
    return render(request, "faywright/new_piece.html", context, status=UNPROCESSABLE)
