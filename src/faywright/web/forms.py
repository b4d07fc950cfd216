"""Forms of several fields that are kept together with one button, new things among them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render

from faywright.app.documents import Sheet
from faywright.errors import DocumentError, Fault, InputError, MissingError, PlanError
from faywright.lengths import LengthStyle
from faywright.piece.amending import Value
from faywright.piece.document import tables_of
from faywright.web.changing import DiffersError, Edit, NamedPath, Put, change, value_at
from faywright.web.desk import author, desk
from faywright.web.field_changes import CONFLICT, SEE_OTHER, UNPROCESSABLE
from faywright.web.fields import Field, edit_said, typed, units_of
from faywright.web.posted import number_in

WAS = "was:"
"""Begins the name under which a form sends what a field showed."""


@dataclass(frozen=True, slots=True)
class Form:
    """What a page shows: ``id`` of the element, where it is sent, fields, and words of its button.

    ``told`` are faults that belong to none of the fields.
    """

    id: str
    title: str
    url: str
    base: int
    fields: tuple[Field, ...]
    button: str
    note: str = ""
    told: tuple[str, ...] = ()

    @property
    def said(self) -> str:
        """What its fields say, in a line."""
        return ", ".join(field.said for field in self.fields if field.shown)


MakeEdits = Callable[[Mapping[str, Value | None]], tuple[Sequence[Edit], str]]
"""From values by the names of their fields, of those that were changed, to edits and a sentence."""


def form_sent(
    request: HttpRequest,
    sheet: Sheet,
    style: LengthStyle,
    form: Form,
    make: MakeEdits,
    *,
    back: str,
    at: Callable[[Sequence[Fault]], Iterable[tuple[str, str]]],
) -> HttpResponse:
    """Do what a form asks, and go ``back``; or show it again with its faults.

    ``at`` gives the names of the fields that faults belong to, empty for none, and their words.
    """
    posted = {field.name: "; ".join(map(str, _sent(request, field))) for field in form.fields}
    units = units_of(tables_of(sheet.revision.text))
    try:
        values = {
            field.name: typed(field.kind, posted[field.name], style, units)
            for field in form.fields
            if posted[field.name].strip() != request.POST.get(WAS + field.name, "").strip()
        }
        edits, what = make(values)
        if edits:
            change(
                desk().store.documents,
                sheet.id,
                number_in(request, "base"),
                edits,
                author=author(request),
                what=what,
            )
    except DocumentError as error:
        return _again(request, sheet, form, posted, list(at(error.faults)), UNPROCESSABLE, back)
    except (DiffersError, MissingError) as error:
        return _again(request, sheet, form, posted, [("", _said(error))], CONFLICT, back)
    except InputError as error:
        return _again(request, sheet, form, posted, [("", _said(error))], UNPROCESSABLE, back)
    if getattr(request, "htmx", False):
        return HttpResponse(headers={"HX-Refresh": "true"})
    return HttpResponseRedirect(back, status=SEE_OTHER)


def faults_at(
    paths: Mapping[NamedPath, str],
) -> Callable[[Sequence[Fault]], Iterable[tuple[str, str]]]:
    """Places faults at the fields whose paths, with places in lists, are given with their names."""

    def placed(faults: Sequence[Fault]) -> Iterable[tuple[str, str]]:
        for fault in faults:
            found = [path for path in paths if fault.path[: len(path)] == path]
            name = paths[max(found, key=len)] if found else ""
            words = f"{fault.what}. {fault.remedy}."
            yield name, words if name else f"{fault.field}: {words}"

    return placed


def group_edits(tables: Mapping[str, object], at: NamedPath, fields: Sequence[Field]) -> MakeEdits:
    """Edits that put fields of a table; one that is left without any is taken away."""

    def make(values: Mapping[str, Value | None]) -> tuple[Sequence[Edit], str]:
        units = units_of(tables)
        put = [field for field in fields if field.name in values]
        what = "; ".join(
            edit_said(
                field.path, field.kind, value_at(tables, field.path), values[field.name], units
            )
            for field in put
        )
        left = [value_at(tables, field.path) for field in fields if field not in put] + [
            values[field.name] for field in put
        ]
        if value_at(tables, at) is not None and all(each is None for each in left):
            return [Put(at, None)], what
        return [
            Put(field.path, values[field.name])
            for field in put
            if values[field.name] is not None or value_at(tables, field.path) is not None
        ], what

    return make


def _sent(request: HttpRequest, field: Field) -> Sequence[object]:
    return request.POST.getlist(field.name)


def _said(error: PlanError) -> str:
    return f"{error.where}: {error.what}. {error.remedy}."


def _again(
    request: HttpRequest,
    sheet: Sheet,
    form: Form,
    posted: Mapping[str, str],
    faults: Sequence[tuple[str, str]],
    status: int,
    back: str,
) -> HttpResponse:
    """The form with what was typed in it, and its faults."""
    names = {field.name for field in form.fields}

    def again(field: Field) -> Field:
        fault = " ".join(words for name, words in faults if name == field.name)
        return replace(field, shown=posted[field.name], was=field.before, fault=fault)

    told = tuple(words for name, words in faults if name not in names)
    # Where someone else was quicker, what is put next is put on what they made of it.
    base = sheet.revision.number if status == CONFLICT else number_in(request, "base")
    shown = replace(form, fields=tuple(map(again, form.fields)), told=told, base=base)
    part = bool(getattr(request, "htmx", False))
    template = "faywright/parts/form.html" if part else "faywright/form.html"
    context = {"form": shown, "sheet": sheet, "back": back}
    return render(request, template, context, status=status)
