"""What the page of a piece lets one add, change together and remove: things, and the climate."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST

from faywright.app.documents import Sheet
from faywright.errors import DocumentError, InputError, MissingError
from faywright.lengths import LengthStyle
from faywright.piece.amending import Value
from faywright.piece.document import tables_of
from faywright.web.changing import Add, Drop, Edit, change
from faywright.web.desk import author, desk
from faywright.web.field_changes import CONFLICT, SEE_OTHER, UNPROCESSABLE, style_for
from faywright.web.fields import Field, blank_fields, path_said
from faywright.web.forms import Form, MakeEdits, faults_at, form_sent
from faywright.web.pieces.climate_forms import CLIMATE_FORMS, climate_form
from faywright.web.pieces.renaming import named_tables
from faywright.web.pieces.specs_of_pieces import THINGS, specs
from faywright.web.posted import number_in, odd, path_in

ADDED = ("board", *THINGS)
"""Lists of a piece file to which its pages add."""

_ONE = {"part": "a part", "board": "a board", "panel": "a row", "framed": "a panel in a frame"} | {
    "drawer": "a drawer",
    "shelf": "a shelf or slat",
}


def new_form(sheet: Sheet, kind: str, style: LengthStyle, **typed: str) -> Form:
    """A form for one thing more; ``typed`` is what stands in it already."""
    fields = blank_fields(specs(kind, tables_of(sheet.revision.text)), style, typed)
    return Form(
        id=f"new-{kind}",
        title=f"Add {_ONE[kind]}",
        url=reverse("piece-add", kwargs={"piece": sheet.id, "kind": kind}),
        base=sheet.revision.number,
        fields=tuple(replace(field, was="", form=f"new-{kind}") for field in fields),
        button=f"Add {_ONE[kind]}",
    )


@require_POST
def piece_add(request: HttpRequest, piece: int, kind: str) -> HttpResponse:
    """Add a part, board, row, panel, drawer or shelf."""
    if kind not in ADDED:
        raise MissingError(
            f"pieces have no {kind!r}", where="piece", remedy=f"Use one of {', '.join(ADDED)}"
        )
    sheet = desk().store.documents.sheet(piece)
    style = style_for(request, sheet)
    form = new_form(sheet, kind, style)
    number = sum(1 for _ in named_tables(tables_of(sheet.revision.text), kind))
    at = faults_at({(kind, number, *field.path): field.name for field in form.fields})
    make = _adding(kind, form.fields)
    return form_sent(request, sheet, style, form, make, back=_back(piece, kind), at=at)


def _adding(kind: str, fields: Sequence[Field]) -> MakeEdits:
    def make(values: Mapping[str, Value | None]) -> tuple[Sequence[Edit], str]:
        given = {name: value for name, value in values.items() if value is not None}
        table = {field.name: given[field.name] for field in fields if field.name in given}
        name = str(table.get("mark", table.get("name", "")))
        return [Add(kind, table)], f"{kind} {name}: added"[:200]

    return make


@require_POST
def piece_drop(request: HttpRequest, piece: int) -> HttpResponse:
    """Remove the thing at a path; it can be undone."""
    path = path_in(request.POST.get("path", ""))
    sheet = desk().store.documents.sheet(piece)
    back = _back(piece, str(path[0]))
    try:
        change(
            desk().store.documents,
            piece,
            number_in(request, "base"),
            [Drop(path)],
            author=author(request),
            what=f"{path_said(path)}: removed",
        )
    except (DocumentError, InputError) as error:
        told = error.faults if isinstance(error, DocumentError) else ()
        status = CONFLICT if isinstance(error, InputError) else UNPROCESSABLE
        context = {"sheet": sheet, "error": error, "faults": told, "back": back}
        context |= {"what": path_said(path)}
        return render(request, "faywright/not_removed.html", context, status=status)
    if getattr(request, "htmx", False):
        return HttpResponse(headers={"HX-Redirect": back})
    return HttpResponseRedirect(back, status=SEE_OTHER)


def _back(piece: int, kind: str) -> str:
    if kind == "board":
        return reverse("boards", kwargs={"piece": piece})
    return f"{reverse('piece', kwargs={'piece': piece})}#{kind}"


@require_POST
def piece_climate(request: HttpRequest, piece: int, form: str) -> HttpResponse:
    """Put one of the forms about the climate."""
    if form not in CLIMATE_FORMS:
        raise odd("climate")
    sheet = desk().store.documents.sheet(piece)
    style = style_for(request, sheet)
    asked = climate_form(sheet, form, style)
    back = f"{reverse('piece', kwargs={'piece': piece})}#climate"
    return form_sent(request, sheet, style, asked.form, asked.make, back=back, at=asked.at)
