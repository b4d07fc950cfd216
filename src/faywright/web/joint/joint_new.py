"""A new joint: its family, what meets what, and the fit; all else can be left to the plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import count

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from faywright.errors import DocumentError, InputError
from faywright.fit.bands import fits
from faywright.piece.amending import Value
from faywright.piece.model import Piece
from faywright.web.changing import Add, change
from faywright.web.desk import OpenPiece, author, desk, open_piece, style_of
from faywright.web.fields import Field, Spec, blank_fields, choices
from faywright.web.joint.joint_form import NONE, Faults, faults_of
from faywright.web.joint.joint_keys import MEETS, PARTS, Group
from faywright.web.joint.joint_typed import new_table, typed_in
from faywright.web.posted import number_in

UNPROCESSABLE, SEE_OTHER = 422, 303

NEW = Group(
    "new",
    "",
    (
        *MEETS.specs,
        Spec(
            key="fit",
            label="Fit",
            kind="choice",
            choices=choices(dict.fromkeys(name for name, _ in fits())),
            help="your own figures can be given afterwards",
        ),
        Spec(key="name", label="Name", kind="text", help="left out: from what meets what"),
    ),
    MEETS.note,
)


@require_http_methods(["GET", "HEAD", "POST"])
def new_joint(request: HttpRequest, piece: int) -> HttpResponse:
    """The form of a new joint, and what it makes."""
    opened = open_piece(piece)
    if request.method != "POST":
        return _form(request, opened, first_texts(opened.ground.piece), NONE)
    typed = typed_in(NEW, {key: str(value) for key, value in request.POST.items()})
    table = new_table(typed)
    table.setdefault("name", default_name(opened.ground.piece, table))
    place = len(opened.ground.piece.joints) + 1
    try:
        change(
            desk().store.documents,
            piece,
            number_in(request, "base"),
            [Add("joint", table)],
            author=author(request),
            what=f"joint {table['name']} added",
        )
    except (DocumentError, InputError) as error:
        return _form(request, opened, typed.texts, faults_of(error, NEW, place))
    url = reverse("joint", args=[piece, place_of(piece, str(table["name"]))])
    return HttpResponseRedirect(url, status=SEE_OTHER)


def place_of(piece: int, name: str) -> int:
    """Where the joint of that name stands now, counted from 1."""
    names = [each.name for each in open_piece(piece).ground.piece.joints]
    return names.index(name.strip()) + 1


def first_texts(piece: Piece) -> Mapping[str, str]:
    """What the form has at first: the boards of the first part in no joint yet, in a row."""
    taken = {part.name for joint in piece.joints for part in piece.parts_of(joint)}
    boards = [part.name for part in piece.parts if len(part.boards) > 1]
    part = next((name for name in boards if name not in taken), "")
    texts = dict.fromkeys((spec.key for spec in NEW.specs), "")
    texts |= {"family": "tongue and groove", "fit": "snug"}
    if part:
        texts |= {"groove.part": part, "groove.edge": "reference edge"}
        texts |= {"tongue.part": part, "tongue.edge": "opposite edge"}
    return texts


def default_name(piece: Piece, table: Mapping[str, Value]) -> str:
    """A name from what meets what, that no joint of the piece has."""
    enters, into = _part(table.get("tongue")) or table.get("strip"), _part(table.get("groove"))
    name = f"{enters} in {into}" if enters and into and enters != into else str(into or "joint")
    names = {joint.name for joint in piece.joints}
    tries = (name if number == 1 else f"{name} {number}" for number in count(1))
    return next(each for each in tries if each not in names)


def _part(place: Value | None) -> str:
    return str(place.get("part", "")) if isinstance(place, dict) else ""


def _form(
    request: HttpRequest, opened: OpenPiece, texts: Mapping[str, str], faults: Faults
) -> HttpResponse:
    context = {
        "opened": opened,
        "note": NEW.note,
        "fields": _fields(request, opened, texts, faults),
        "whole": faults.whole,
        "boards": any(part.boards for part in opened.ground.piece.parts),
    }
    status = UNPROCESSABLE if faults.said else 200
    return render(request, "faywright/new_joint.html", context, status=status)


def _fields(
    request: HttpRequest, opened: OpenPiece, texts: Mapping[str, str], faults: Faults
) -> tuple[tuple[str, Field], ...]:
    style = style_of(request, opened.ground.shop.habits.style)
    names = [part.name for part in opened.ground.piece.parts if part.boards]
    specs = [
        replace(spec, choices=choices(names, "none")) if spec.key in PARTS else spec
        for spec in NEW.specs
    ]
    fields = blank_fields(specs, style, texts, faults.by_key)
    return tuple((spec.key, field) for spec, field in zip(specs, fields, strict=True))
