"""Answering a change of one field: as part of the page it stands on, or by going back there."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import get_args

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render

from faywright.app.documents import Sheet
from faywright.errors import DocumentError, Fault, InputError, MissingError, PlanError
from faywright.lengths import LengthStyle
from faywright.piece.amending import Value
from faywright.piece.document import tables_of
from faywright.piece.shop_file import shop_from_text
from faywright.web.changing import DiffersError, Edit, NamedPath, Put, change, resolved, value_at
from faywright.web.desk import author, desk, style_of
from faywright.web.fields import Field, Kind, edit_said, path_said, shown, typed, units_of
from faywright.web.pieces.going_back import undoing_of
from faywright.web.pieces.renaming import is_name, renamed
from faywright.web.pieces.unit_changes import in_units
from faywright.web.posted import number_in, odd, path_in

CONFLICT, UNPROCESSABLE, SEE_OTHER = 409, 422, 303

FieldsOf = Callable[[Sheet, LengthStyle], Iterable[Field]]


@dataclass(frozen=True, slots=True)
class Place:
    """The page that fields stand on: where changes are sent, where to go back to, and which."""

    change_url: str
    back: str
    fields: FieldsOf

    def field(self, sheet: Sheet, style: LengthStyle, asked: Asked) -> Field | None:
        """The field that was asked for, as the document has it."""
        found = self.fields(sheet, style)
        return next((field for field in found if field.path == asked.path), None)


@dataclass(frozen=True, slots=True)
class Asked:
    """A change that a form asks for; ``seen`` is the newest revision that its page knows of."""

    path: NamedPath
    kind: Kind
    value: str
    was: str
    base: int
    seen: int


def field_changed(request: HttpRequest, number: int, place: Place) -> HttpResponse:
    """Change the field of a document that a form names, and answer.

    Raises
    ------
    MissingError
        There is no such document.
    """
    asked = asked_in(request)
    sheet = desk().store.documents.sheet(number)
    style = style_for(request, sheet)
    if asked.value.strip() == asked.was.strip():
        return _kept(request, place, sheet, style, asked, "")
    try:
        value = typed(asked.kind, asked.value, style, units_of(tables_of(sheet.revision.text)))
        edits, what = edits_of(sheet, asked.path, asked.kind, value)
        changed = change(
            desk().store.documents,
            number,
            asked.base,
            edits,
            author=author(request),
            what=what,
            seen=asked.seen,
        )
    except DiffersError as differs:
        return _differs(request, place, style, asked, differs)
    except MissingError as error:
        return _refused(request, place, sheet, style, asked, error, CONFLICT)
    except (DocumentError, InputError) as error:
        return _refused(request, place, sheet, style, asked, error, UNPROCESSABLE)
    said = ". ".join([what, *(f"Meanwhile {other}" for other in changed.over)])
    return _kept(request, place, changed.sheet, style, asked, said)


def asked_in(request: HttpRequest) -> Asked:
    """The change that a form asks for.

    Raises
    ------
    InputError
        It is not a form of ours.
    """
    post = request.POST
    kind = next((each for each in get_args(Kind) if each == post.get("kind")), None)
    path = path_in(post.get("path", ""))
    if kind is None:
        raise odd("kind")
    base = number_in(request, "base")
    value = "; ".join(str(each) for each in post.getlist("value"))
    seen = number_in(request, "at") if "at" in post else base
    return Asked(path, kind, value, post.get("was", ""), base, seen)


def edits_of(
    sheet: Sheet, path: NamedPath, kind: Kind, value: Value | None
) -> tuple[Sequence[Edit], str]:
    """What it takes to give a field a value, and the sentence for it.

    Another name is put wherever the old one was referred to, and where the unit of bare numbers
    changes, those that are there get the old one.

    Raises
    ------
    MissingError
        What the path leads through is not there any more.
    """
    tables = tables_of(sheet.revision.text)
    resolved(tables, path)
    what = edit_said(path, kind, value_at(tables, path), value, units_of(tables))
    if is_name(path) and isinstance(value, str):
        return renamed(tables, path, value), what
    if path == ("units",) and isinstance(value, str):
        return in_units(tables, value), what
    return [Put(path, value)], what


def style_for(request: HttpRequest, sheet: Sheet) -> LengthStyle:
    """How lengths are shown on pages of a shop, or of a piece that is made there."""
    if sheet.kind == "piece":
        sheet = desk().store.documents.sheet(sheet.shop or 0)
    return style_of(request, _habit(sheet.revision.text))


@lru_cache(maxsize=64)
def _habit(shop: str) -> LengthStyle:
    return shop_from_text(shop, file="shop").habits.style


def told_at(faults: Iterable[Fault], path: NamedPath) -> str:
    """What is said beside the field at a path; faults of other fields name them."""
    said = []
    for fault in faults:
        here = fault.path[: len(path)] == path
        said.append(f"{'' if here else f'{fault.field}: '}{fault.what}. {fault.remedy}.")
    return " ".join(said)


def _kept(
    request: HttpRequest, place: Place, sheet: Sheet, style: LengthStyle, asked: Asked, said: str
) -> HttpResponse:
    if not getattr(request, "htmx", False):
        return HttpResponseRedirect(place.back, status=SEE_OTHER)
    field = place.field(sheet, style, asked)
    if field is None or asked.path in {("units",), ("title",)}:  # the whole page changes with it
        return HttpResponse(headers={"HX-Refresh": "true"})
    answer = render(
        request,
        "faywright/parts/field_kept.html",
        {
            "field": field,
            "change_url": place.change_url,
            "base": sheet.revision.number,
            "undoing": undoing_of(sheet, back=place.back),
        },
    )
    if said:
        answer["HX-Trigger"] = json.dumps({"said": said, "changed": sheet.revision.number})
    return answer


def _refused(
    request: HttpRequest,
    place: Place,
    sheet: Sheet,
    style: LengthStyle,
    asked: Asked,
    error: PlanError,
    status: int,
) -> HttpResponse:
    if isinstance(error, DocumentError):
        fault = told_at(error.faults, _as_places(sheet, asked.path))
    else:
        fault = f"{error.what}. {error.remedy}."
    field = place.field(sheet, style, asked) or _plain(asked)
    field = replace(field, shown=asked.value, was=asked.was, fault=fault)
    context = {
        "field": field,
        "change_url": place.change_url,
        "back": place.back,
        "base": asked.base,
        "sheet": sheet,
    }
    part = bool(getattr(request, "htmx", False))
    template = "faywright/parts/field.html" if part else "faywright/field.html"
    return render(request, template, context, status=status)


def _as_places(sheet: Sheet, path: NamedPath) -> NamedPath:
    try:
        return resolved(tables_of(sheet.revision.text), path)
    except MissingError:
        return path


def _plain(asked: Asked) -> Field:
    """A field that its page does not have any more."""
    return Field(
        label=path_said(asked.path).capitalize(), path=asked.path, kind=asked.kind, shown=""
    )


def _differs(
    request: HttpRequest, place: Place, style: LengthStyle, asked: Asked, differs: DiffersError
) -> HttpResponse:
    sheet = differs.sheet
    units = units_of(tables_of(sheet.revision.text))
    theirs = shown(asked.kind, differs.theirs, style, units)
    context = {
        "field": place.field(sheet, style, asked) or _plain(asked),
        "theirs": theirs,
        "mine": asked.value,
        "who": sheet.revision.author or "Someone",
        "change_url": place.change_url,
        "back": place.back,
        "base": sheet.revision.number,
        "sheet": sheet,
    }
    part = bool(getattr(request, "htmx", False))
    template = "faywright/parts/differs.html" if part else "faywright/differs.html"
    return render(request, template, context, status=CONFLICT)
