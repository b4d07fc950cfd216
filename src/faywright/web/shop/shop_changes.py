"""Changing a shop from its page: a thing set, added or removed; trials and sharpenings told."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST

from faywright.app.forgetting import forget_in
from faywright.app.shop_memory import came_back, sharpenable, size_now
from faywright.errors import DocumentError, InputError
from faywright.piece.document import tables_of
from faywright.web.changing import Changed, DiffersError, change, resolved
from faywright.web.desk import author, desk
from faywright.web.field_changes import CONFLICT, SEE_OTHER
from faywright.web.fields import units_of
from faywright.web.pieces.going_back import undoing_of
from faywright.web.posted import number_in
from faywright.web.shop.shop_cards import Card, OpenShop, card, new_card, open_shop
from faywright.web.shop.shop_faults import faults_beside
from faywright.web.shop.shop_form import (
    NAMED,
    Thing,
    Typed,
    Wanted,
    addition,
    changes,
    removal,
    sent,
    thing_in,
)
from faywright.web.shop.shop_keys import KINDS, TABLES, keys_of
from faywright.web.shop.shop_page import shop_page
from faywright.web.shop.shops import title_taken
from faywright.web.telling import UNPROCESSABLE
from faywright.web.typed import unit_of

TOLD = ("shop", "habits", *TABLES)
"""What a form may be about."""


@require_POST
def shop_change(request: HttpRequest, shop: int) -> HttpResponse:
    """Make the change that a form asks for: ``do`` is save, add or remove."""
    at = open_shop(request, shop)
    table = request.POST.get("table", "")
    if table not in TOLD:
        raise InputError(
            "it is not as forms here send it", where="table", remedy="Load the page, and repeat it"
        )
    do = request.POST.get("do", "save")
    if do == "add" and table in TABLES:
        return _added(request, at, table)
    thing = thing_in(at.tables, table, request.POST.get("thing", ""))
    if do == "remove" and table in TABLES:
        return _removed(request, at, thing)
    return _saved(request, at, thing)


def _saved(request: HttpRequest, at: OpenShop, thing: Thing) -> HttpResponse:
    wanted = changes(thing, request.POST, at.style)
    kind = request.POST.get("kind", thing.kind)
    then = replace(thing, kind=kind if kind in KINDS else thing.kind)
    base = number_in(request, "base")
    if thing.table == "shop" and (
        taken := title_taken(request.POST.get("title", "").strip(), at.sheet.id)
    ):
        typed = sent(then.keys, request.POST, {"title": taken})
        return _refused(request, at, card(at, then, typed=typed, base=base, opened=True))
    try:
        changed = _made(request, at, wanted)
    except DiffersError as differs:
        return _differs(request, thing, wanted, differs)
    except DocumentError as error:
        where = resolved(at.tables, thing.at) if thing.at else ()
        beside = faults_beside(error, where, wanted, then.keys)
        typed = sent(then.keys, request.POST, beside.fields)
        found = card(at, then, typed=typed, rest=beside.rest, base=base, opened=True)
        return _refused(request, at, found)
    return _kept(request, changed, _name_after(thing, wanted), thing.table, wanted.what)


def _made(request: HttpRequest, at: OpenShop, wanted: Wanted) -> Changed:
    """The change as a revision; nothing is written where nothing was changed."""
    if not wanted.edits:
        return Changed(at.sheet)
    base = number_in(request, "base")
    return change(
        desk().store.documents,
        at.sheet.id,
        base,
        wanted.edits,
        author=author(request),
        what=wanted.what,
        seen=number_in(request, "at") if "at" in request.POST else base,
    )


def _name_after(thing: Thing, wanted: Wanted) -> str:
    """What a thing is called once the change is made."""
    last = wanted.edits[-1] if wanted.edits else None
    named = (*thing.at, NAMED.get(thing.table, "mark"))
    value = getattr(last, "value", None)
    return value if getattr(last, "path", None) == named and isinstance(value, str) else thing.name


def _kept(request: HttpRequest, changed: Changed, name: str, table: str, what: str) -> HttpResponse:
    """The card as it is now, or the page at that card."""
    at = open_shop(request, changed.sheet.id)
    found = card(at, thing_in(at.tables, table, name), opened=True)
    if not getattr(request, "htmx", False):
        return _back(at, found.slug)
    if table in {"shop", "habits"} and what:  # the whole page changes with it
        return HttpResponse(headers={"HX-Refresh": "true"})
    context = {
        "card": found,
        "page": {
            "sheet": at.sheet,
            "base": at.sheet.revision.number,
            "undoing": undoing_of(at.sheet),
        },
        "kept": True,
    }
    answer = render(request, "faywright/parts/shop_card.html", context)
    said = [what or "Nothing was changed", *(f"meanwhile {other}" for other in changed.over)]
    answer["HX-Trigger"] = json.dumps({"said": ". ".join(_capital(each) for each in said)})
    return answer


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _back(at: OpenShop, slug: str) -> HttpResponse:
    where = reverse("shop-one", args=[at.sheet.id])
    return HttpResponseRedirect(f"{where}#{slug}", status=SEE_OTHER)


def _refused(
    request: HttpRequest, at: OpenShop, found: Card, status: int = UNPROCESSABLE
) -> HttpResponse:
    """The card, or the page with it, as it was typed, with faults beside their fields."""
    if getattr(request, "htmx", False):
        context = {"card": found, "page": {"sheet": at.sheet}}
        return render(request, "faywright/parts/shop_card.html", context, status=status)
    context = {"page": shop_page(at, with_faults=found)}
    return render(request, "faywright/shop_one.html", context, status=status)


def _differs(
    request: HttpRequest, thing: Thing, wanted: Wanted, differs: DiffersError
) -> HttpResponse:
    """The card as it is now with what was typed, and both values where someone changed the same."""
    at = open_shop(request, differs.sheet.id)
    now = thing_in(at.tables, thing.table, thing.name)
    base = number_in(request, "base")
    old = desk().store.documents.revision(at.sheet.id, base)
    then = thing_in(tables_of(old.text), thing.table, thing.name)
    typed = sent(wanted.keys, request.POST, {})
    who = differs.sheet.revision.author or "Someone"
    faults: dict[str, str] = {}
    for each in card(at, now, typed=Typed(typed.texts)).fields:
        key = next(key for key in now.keys if key.key == each.name)
        if key in wanted.keys and now.value(key) != then.value(key):
            theirs, mine = each.field.before or "nothing", each.field.shown or "nothing"
            faults[key.key] = f"{who} put {theirs} here meanwhile; yours is {mine}."
    found = card(at, now, typed=Typed(typed.texts, faults=faults), opened=True)
    return _refused(request, at, replace(found, differs=tuple(faults)), CONFLICT)


def _added(request: HttpRequest, at: OpenShop, table: str) -> HttpResponse:
    kind = request.POST.get("kind", "") if table == "cutter" else ""
    wanted = addition(table, kind, request.POST, at.style, units_of(at.tables))
    try:
        changed = _made(request, at, wanted)
    except DocumentError as error:
        listed = at.tables.get(table, [])
        place = len(listed) if isinstance(listed, list) else 0
        keys = keys_of(table, kind)
        beside = faults_beside(error, (table, place), Wanted(), keys)
        typed = sent(keys, request.POST, beside.fields)
        return _refused(request, at, new_card(at, table, kind, typed=typed, rest=beside.rest))
    now = open_shop(request, changed.sheet.id)
    listed = now.tables[table]
    return _back(now, f"{table}-{len(listed) if isinstance(listed, list) else 1}")


def _removed(request: HttpRequest, at: OpenShop, thing: Thing) -> HttpResponse:
    try:
        _made(request, at, removal(thing))
    except DocumentError as error:
        rest = tuple(f"{each.what}. {each.remedy}." for each in error.faults)
        return _refused(request, at, card(at, thing, rest=rest, opened=True))
    return _back(at, f"{thing.table}s")


@require_POST
def shop_sharpened(request: HttpRequest, shop: int) -> HttpResponse:
    """A cutter came back from sharpening, with what it cuts now, if that was measured."""
    at = open_shop(request, shop)
    text, name = request.POST.get("cuts", ""), request.POST.get("thing", "")
    cutter = sharpenable(at.shop, name, where="cutter")
    thing = thing_in(at.tables, "cutter", name)
    try:
        size = (
            size_now(cutter, text, bare=unit_of(at.style), where="cuts") if text.strip() else None
        )
    except InputError as error:
        fault = f"{_capital(error.what)}. {error.remedy}."
        found = card(at, thing, opened=True)
        return _refused(request, at, replace(found, cuts=text, cuts_fault=fault))
    desk().store.sharpened(came_back(at.shop, cutter, size, datetime.now(UTC)))
    return _back(at, card(at, thing).slug)


@require_POST
def shop_forget(request: HttpRequest, shop: int) -> HttpResponse:
    """Leave a trial out of what is known; it stays listed."""
    at = open_shop(request, shop)
    forget_in(desk().store, number_in(request, "trial"), at.shop)
    return _back(at, "trials")
