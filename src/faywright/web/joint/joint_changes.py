"""Keeping what was typed of a joint: one group of its form is one revision."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST

from faywright.errors import DocumentError, InputError, MissingError
from faywright.piece.document import tables_of
from faywright.web.changing import Changed, DiffersError, Drop, Edit, Put, change
from faywright.web.desk import author, desk
from faywright.web.joint.joint_at import JointAt, joint_named, seen_at
from faywright.web.joint.joint_form import (
    Faults,
    FormGroup,
    faults_of,
    group_of,
    unknown,
    written_of,
)
from faywright.web.joint.joint_keys import group_named, group_with
from faywright.web.joint.joint_live import to_trouble
from faywright.web.joint.joint_shown import live_of, page_of
from faywright.web.joint.joint_typed import Typed, Values, one_typed, said, typed_in, values_of
from faywright.web.pieces.going_back import undoing_of
from faywright.web.pieces.renaming import renamed
from faywright.web.posted import number_in, path_in

NOTHING, SEE_OTHER, CONFLICT, UNPROCESSABLE = 204, 303, 409, 422


@require_POST
def joint_change(request: HttpRequest, piece: int, place: int) -> HttpResponse:
    """Keep what was typed into one group of the form, and answer with all that follows from it."""
    at = seen_at(request, piece, place, number_in(request, "base"))
    written = written_of(at)
    typed = _typed(request, at)
    values = values_of(typed, written)
    if not values:
        return _kept(request, at, typed, "")
    faults = unknown(typed)
    if faults.said:
        return _group_again(request, at, typed, faults, UNPROCESSABLE)
    what = said(typed, written, at.name)
    try:
        changed = _changed(request, at, values, what)
    except DiffersError as differs:
        return _differs(request, at, typed, differs)
    except MissingError:
        raise
    except (DocumentError, InputError) as error:
        faults = faults_of(error, typed.group, at.place)
        return _group_again(request, at, typed, faults, UNPROCESSABLE)
    now = joint_named(request, piece, _name_after(at, values))
    return _kept(request, now, typed, ". ".join([what, *_meanwhile(changed)]))


@require_POST
def joint_remove(request: HttpRequest, piece: int, place: int) -> HttpResponse:
    """Take a joint out of the piece, and the panels whose boards it joins."""
    base = number_in(request, "base")
    at = seen_at(request, piece, place, base)
    panels = [each.name for each in at.ground.piece.panels if each.joint == at.name]
    edits: list[Edit] = [Drop(("panel", name)) for name in panels]
    also = f", and with it panel {' and '.join(panels)}" if panels else ""
    change(
        desk().store.documents,
        piece,
        base,
        [*edits, Drop(("joint", at.name))],
        author=author(request),
        what=f"joint {at.name} removed{also}",
    )
    return HttpResponseRedirect(reverse("piece", args=[piece]), status=SEE_OTHER)


def _typed(request: HttpRequest, at: JointAt) -> Typed:
    """A group as its form sent it; or one field, as the choice between two values sends it."""
    sent = {key: str(value) for key, value in request.POST.items()}
    if "path" not in sent:
        return typed_in(group_named(sent.get("group", "")), sent)
    key = ".".join(str(step) for step in path_in(sent["path"])[2:])
    value, was = sent.get("value", ""), sent.get("was", "")
    return one_typed(group_with(key), key, value, was, written_of(at))


def _changed(request: HttpRequest, at: JointAt, values: Values, what: str) -> Changed:
    edits: Sequence[Edit] = [Put(("joint", at.name, *path), each) for path, each in values.items()]
    name = values.get(("name",))
    if isinstance(name, str):
        edits = renamed(tables_of(at.text), ("joint", at.name, "name"), name)
    return change(
        desk().store.documents,
        at.piece,
        number_in(request, "base"),
        edits,
        author=author(request),
        what=what,
        seen=number_in(request, "at") if "at" in request.POST else None,
    )


def _name_after(at: JointAt, values: Values) -> str:
    name = values.get(("name",))
    return name.strip() if isinstance(name, str) else at.name


def _meanwhile(changed: Changed) -> list[str]:
    return [f"Meanwhile {other}" for other in changed.over]


def _kept(request: HttpRequest, at: JointAt, typed: Typed, told: str) -> HttpResponse:
    """All that follows from a change."""
    url = reverse("joint", args=[at.piece, at.place])
    if not getattr(request, "htmx", False):
        return HttpResponseRedirect(url, status=SEE_OTHER)
    if typed.group.name == "name" and told:
        return HttpResponse(headers={"HX-Redirect": url})
    again = "faulty" in request.POST or "path" in request.POST
    if not told and not again:
        return _as_it_was(at)
    stored = group_of(at, typed.group)
    # Unless others of its fields followed, a group stays as it is being typed in.
    anew = again or any(field.shown != typed.texts[key] for key, field in stored.fields)
    live = live_of(at, quick=True)
    context = {
        "at": at,
        "live": live,
        "group": stored,
        "anew": anew,
        "undoing": undoing_of(at.opened.sheet, back=at.address),
    }
    answer = render(request, "faywright/parts/joint_kept.html", context)
    if told:
        answer["HX-Trigger"] = json.dumps({"said": told, "changed": at.base})
    answer["HX-Retarget"], answer["HX-Reswap"] = "#live", "outerHTML"
    return to_trouble(answer, live)


def _as_it_was(at: JointAt) -> HttpResponse:
    """Nothing was changed: the Enter key sends what leaving the field has sent already."""
    answer = HttpResponse(status=NOTHING)
    if at.base > 1:
        answer["HX-Trigger"] = json.dumps({"said": at.opened.sheet.revision.what})
    return answer


def _group_again(
    request: HttpRequest, at: JointAt, typed: Typed, faults: Faults, status: int
) -> HttpResponse:
    """The group as it was typed, and why nothing of it was kept."""
    if not getattr(request, "htmx", False):
        page = page_of(at, typed, faults)
        return render(request, "faywright/joint.html", {"page": page}, status=status)
    group = group_of(at, typed.group, typed, faults)
    context = {"at": at, "group": group}
    return _instead_of(
        group, render(request, "faywright/parts/joint_group.html", context, status=status)
    )


def _instead_of(group: FormGroup, answer: HttpResponse) -> HttpResponse:
    answer["HX-Retarget"], answer["HX-Reswap"] = f"#{group.id}", "outerHTML"
    return answer


def _differs(
    request: HttpRequest, at: JointAt, typed: Typed, differs: DiffersError
) -> HttpResponse:
    """Both values of a field that someone else changed meanwhile; nothing was kept."""
    theirs = group_of(at, typed.group)
    if len(theirs.fields) > 1:
        # What was typed stays; sent again, it is put on top of what stands there now.
        was = {key: field.shown for key, field in theirs.fields}
        mine = {spec.key: typed.texts[spec.key] for spec in typed.changed}
        words = f"{differs.what}. Nothing of yours was kept yet: send it again to put it."
        again = replace(typed, was=was, texts={**was, **mine})
        return _group_again(request, at, again, Faults(whole=words), CONFLICT)
    ((key, field),) = theirs.fields
    context = {
        "group": theirs,
        "field": replace(field, path=("joint", at.name, key)),
        "theirs": field.shown,
        "mine": typed.texts[key],
        "who": differs.sheet.revision.author or "Someone",
        "change_url": reverse("joint-change", args=[at.piece, at.place]),
        "back": reverse("joint", args=[at.piece, at.place]),
        "base": differs.sheet.revision.number,
        "sheet": differs.sheet,
    }
    if not getattr(request, "htmx", False):
        return render(request, "faywright/differs.html", context, status=CONFLICT)
    part = "faywright/parts/joint_differs.html"
    return _instead_of(theirs, render(request, part, context, status=CONFLICT))
