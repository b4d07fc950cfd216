"""Pages of shops: the list, a new one, one with all that is in it, and its file."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.views.decorators.http import require_GET, require_http_methods

from faywright.errors import DocumentError
from faywright.lengths import LengthStyle, Unit
from faywright.piece.amending import Value, amended, with_table
from faywright.web.changing import READERS
from faywright.web.desk import author, desk, style_of
from faywright.web.fields import blank_fields, typed
from faywright.web.shop.shop_cards import open_shop
from faywright.web.shop.shop_faults import Beside, faults_beside
from faywright.web.shop.shop_form import Wanted, typed_texts
from faywright.web.shop.shop_keys import BEGIN, KINDS, TABLES
from faywright.web.shop.shop_page import shop_page
from faywright.web.telling import UNPROCESSABLE

UNITS: tuple[Unit, ...] = ("mm", "in")


@dataclass(frozen=True)
class ListedShop:
    """A shop in the list, and how many pieces are made in it."""

    id: int
    title: str
    pieces: int


@require_GET
def shops(request: HttpRequest) -> HttpResponse:
    """The one shop, a list where there are several, or the beginning of one."""
    documents = desk().store.documents
    listed, laid = documents.listed("shop"), documents.listed("shop", discarded=True)
    if not listed and not laid:
        return redirect("new-shop")
    if len(listed) == 1 and "all" not in request.GET:
        return redirect("shop-one", listed[0].id)
    pieces = [each.shop for each in documents.listed("piece")]
    found = [ListedShop(each.id, each.title, pieces.count(each.id)) for each in listed]
    return render(request, "faywright/shops.html", {"shops": found, "laid": laid})


@require_http_methods(["GET", "POST"])
def new_shop(request: HttpRequest) -> HttpResponse:
    """Begin a shop: its name, the unit of its numbers, and its first machine."""
    if request.method != "POST":
        return _beginning(request)
    texts = typed_texts(BEGIN, request.POST)
    text = begun(texts)
    try:
        title = READERS["shop"](text)
    except DocumentError as error:
        return _beginning(request, texts, _beside(error), UNPROCESSABLE)
    if (taken := title_taken(title)) is not None:
        return _beginning(request, texts, Beside({"title": taken}), UNPROCESSABLE)
    sheet = desk().store.documents.begin(
        "shop", text, title=title, author=author(request), what="shop begun"
    )
    return redirect("shop-one", sheet.id)


def begun(texts: dict[str, str]) -> str:
    """The text of a new shop file, from what was typed."""
    text = 'faywright = "shop 1"\n'
    machine: dict[str, Value] = {}
    for key in BEGIN:
        value = typed(key.kind, texts.get(key.key, ""), LengthStyle("mm"), "mm")
        if value is None:
            continue
        if len(key.steps) == 1:
            text = amended(text, key.steps, value)
        else:
            machine[key.steps[-1]] = value
    return with_table(text, "machine", machine)


def title_taken(title: str, besides: int = 0) -> str | None:
    """Why a shop cannot be called so: another is, and trial cuts are kept by the name."""
    for each in desk().store.documents.listed("shop"):
        if each.title == title and each.id != besides:
            return (
                "Another shop is called so, and what trial cuts teach is kept by the name. "
                "Give it a name of its own."
            )
    return None


def _beside(error: DocumentError) -> Beside:
    """Faults of a new shop; those of its machine are beside the fields of that."""
    whole = faults_beside(error, (), Wanted(), BEGIN)
    machine = tuple(key for key in BEGIN if len(key.steps) > 1)
    inner = [fault for fault in error.faults if fault.path[:2] == ("machine", 0)]
    if not inner:
        return whole
    beside = faults_beside(
        DocumentError(inner), ("machine", 0), Wanted(), [each.inside for each in machine]
    )
    others = [fault for fault in error.faults if fault not in inner]
    rest = faults_beside(DocumentError(others), (), Wanted(), BEGIN) if others else Beside({})
    return Beside(
        {**{f"machine.{key}": said for key, said in beside.fields.items()}, **rest.fields},
        (*beside.rest, *rest.rest),
    )


def _beginning(
    request: HttpRequest,
    texts: dict[str, str] | None = None,
    beside: Beside | None = None,
    status: int = 200,
) -> HttpResponse:
    style = style_of(request, LengthStyle("mm"))
    first = {"units": "mm" if style.style == "mm" else "in"}
    beside = beside or Beside({})
    fields = blank_fields(BEGIN, style, first if texts is None else texts, beside.fields)
    context = {
        "fields": fields,
        "faults": beside.rest,
        "others": desk().store.documents.listed("shop"),
    }
    return render(request, "faywright/new_shop.html", context, status=status)


@require_GET
def shop_one(request: HttpRequest, shop: int) -> HttpResponse:
    """A shop with all that is in it; ``?add=gauge`` or ``?add=slot`` opens a form for a new one."""
    add = request.GET.get("add", "")
    adding = ("cutter", add) if add in KINDS else (add, "") if add in TABLES else None
    page = shop_page(open_shop(request, shop), adding=adding)
    return render(request, "faywright/shop_one.html", {"page": page})


@require_GET
def shop_file(request: HttpRequest, shop: int) -> HttpResponse:
    """The shop as the command line reads it, to be kept."""
    sheet = open_shop(request, shop).sheet
    name = slugify(sheet.title) or "shop"
    return HttpResponse(
        sheet.revision.text,
        content_type="application/toml; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}.toml"'},
    )
