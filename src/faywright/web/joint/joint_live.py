"""A joint while it is typed: drawn, measured and judged at once, and kept nowhere."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from faywright.errors import DocumentError, InputError
from faywright.web.joint.joint_at import joint_at, seen_at
from faywright.web.joint.joint_form import NONE, Faults, faults_of, group_of, written_of
from faywright.web.joint.joint_keys import group_named
from faywright.web.joint.joint_shown import Live, live_of, tried_live
from faywright.web.joint.joint_typed import Typed, said, typed_in, values_of
from faywright.web.posted import number_in


@require_http_methods(["GET", "HEAD", "POST"])
def joint_live(request: HttpRequest, piece: int, place: int) -> HttpResponse:
    """The live part: as it is kept, with all ways asked; or with what is typed just now.

    A text that cannot be read yet leaves the drawing as it was, and says so beside its field.
    """
    if request.method != "POST":
        before = request.GET.get("way", "")
        live = live_of(joint_at(request, piece, place), quick=False, before=before)
        return _answer(request, live)
    at = seen_at(request, piece, place, number_in(request, "base"))
    sent = {key: str(value) for key, value in request.POST.items()}
    typed, written = typed_in(group_named(sent.get("group", "")), sent), written_of(at)
    try:
        values = values_of(typed, written)
        if not values:
            return _answer(request, live_of(at, quick=True), typed)
        ground, wanted = at.trying(values)
    except (DocumentError, InputError) as error:
        return _answer(request, Live(at=at), typed, faults_of(error, typed.group, at.place))
    trial = said(typed, written, at.name)
    return _answer(request, tried_live(at, ground, wanted, quick=True, trial=trial), typed)


def _answer(
    request: HttpRequest, live: Live, typed: Typed | None = None, faults: Faults = NONE
) -> HttpResponse:
    group = None if typed is None else group_of(live.at, typed.group)
    fault = faults.said or ("" if live.trouble is None else live.trouble.beside)
    context = {"live": live, "group": group, "fault": fault}
    answer = render(request, "faywright/parts/joint_trial.html", context)
    if faults.said:
        answer["HX-Reswap"] = "none"
    return to_trouble(answer, live)


def to_trouble(answer: HttpResponse, live: Live) -> HttpResponse:
    """Where there is no plan, the last drawing stays and only the reason is put above it."""
    if live.trouble is not None:
        answer["HX-Retarget"], answer["HX-Reswap"] = "#trouble", "outerHTML"
    return answer
