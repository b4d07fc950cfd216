"""The page of a trial cut: readings in, what to move out, and the trials there were."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, QueryDict
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from faywright.app.forgetting import forget_in
from faywright.app.submissions import Answer
from faywright.app.trial_cut import joint_called
from faywright.app.trial_gauges import groups_of
from faywright.app.trial_readings import PIECE, MisreadError, names
from faywright.app.trial_run import IN_A_ROW, Tried, felt, reckoned_with, record, try_piece
from faywright.app.trial_told import TrialTold, moved_gauges, told_again, told_of
from faywright.errors import InputError, MissingError
from faywright.web.desk import desk
from faywright.web.joint.joint_at import JointAt, joint_at, joint_named
from faywright.web.machine.bench_desk import kept_as, submission_of, submissions, trials_made
from faywright.web.machine.trial_form import FormOf, TrialForm, other_setups, told_in
from faywright.web.machine.trial_list import listed
from faywright.web.typed import unit_of

ASKS, DIFFERS = 422, 409

TRIAL = "trial"
"""Whose answers are kept."""

CHANGED = (
    "The piece was changed since this page was opened, and its setups are others now. Nothing was "
    "remembered. Look at what the gauges are taken to have shown, then send it again."
)


@dataclass(frozen=True, kw_only=True)
class TrialPage:
    """What the template shows: an answer, or the form, with what is asked or wrong."""

    at: JointAt
    form: TrialForm | None = None
    answer: TrialTold | None = None
    next_address: str = ""
    questions: tuple[str, ...] = ()
    reckoned: tuple[str, ...] = ()
    changed: str = ""
    status: int = 200


@require_http_methods(["GET", "HEAD", "POST"])
def trial(request: HttpRequest, piece: int, joint: int) -> HttpResponse:
    """A trial of the joint that stands at a place in the piece, counted from 1.

    A form that was filled in names its joint, which may stand elsewhere by now.
    """
    called = request.POST.get("called")
    if called is not None:
        at = joint_named(request, piece, called)
    else:
        at = joint_at(request, piece, joint)
    if request.method != "POST":
        return _shown(request, at)
    return _forgotten(request, at) if "forget" in request.POST else _tried(request, at)


def _shown(request: HttpRequest, at: JointAt) -> HttpResponse:
    key = request.GET.get("told", "")
    answer = submissions().answer(kept_as(key, TRIAL)) if key else None
    if answer is not None:
        return _page(request, _answered(at, told_again(answer)))
    form = _builder(at, request.GET).form(request.GET.dict(), {})
    return _page(request, TrialPage(at=at, form=form))


def _tried(request: HttpRequest, at: JointAt) -> HttpResponse:
    key, typed = submission_of(request, TRIAL), request.POST.dict()
    before = submissions().answer(key) if key else None
    if before is not None:  # it had arrived, and the answer was lost on the way
        return _kept(request, at, key, before)
    builder = _builder(at, request.POST)
    if other_setups(typed, builder.gauges):
        form = builder.form(typed, {})
        return _page(request, TrialPage(at=at, form=form, changed=CHANGED, status=DIFFERS))
    try:
        found = _try(at, builder, typed)
    except MisreadError as error:
        faults = {each.field: f"{each.what}. {each.remedy}." for each in error.each}
        return _asking(request, at, builder.form(typed, faults))
    except InputError as error:
        field = _field_at(error, builder)
        told = f"{error.what}. {error.remedy}." if field else str(error)
        return _asking(request, at, builder.form(typed, {field: told}))
    if found.outcome.slips:
        return _asking(request, at, builder.form(typed, {}), found)
    answer = submissions().once(key, lambda: _keep(found))
    return _kept(request, at, key, answer)


def _builder(at: JointAt, typed: QueryDict) -> FormOf:
    plan = desk().planner.plan(at.ground).plan
    groups = groups_of(plan, at.name)
    asked = typed.get("group", groups[0]).strip().upper()
    if asked not in groups:
        raise MissingError(
            f"there is no group {asked[:20]!r}",
            where=f"trial of joint {at.name!r}",
            remedy=f"Use one of {', '.join(groups)}",
        )
    return FormOf(plan, joint_called(plan, at.name), asked, at.style)


def _try(at: JointAt, builder: FormOf, typed: Mapping[str, str]) -> Tried:
    sent = {**typed, "group": builder.group}
    told = told_in(sent, builder.joint, builder.gauges, builder.write)
    store, called = desk().store, names(builder.joint.solution)
    return try_piece(
        told,
        desk().planner.plan(at.ground),
        lambda: store.trials(shop=at.ground.shop.title, limit=IN_A_ROW),
        units=unit_of(at.style),
        style=at.style,
        at=datetime.now(UTC),
        called=lambda short: called.get(short, f"the {short.replace('-', ' ')}"),
    )


def _field_at(error: InputError, builder: FormOf) -> str:
    """The field that an error is about; empty for one that is about them all."""
    for short, name in names(builder.joint.solution).items():
        if error.where.startswith(f"{name} of trial piece"):
            return short
    return PIECE if error.where.startswith("thickness of trial piece") else ""


def _keep(found: Tried) -> Answer:
    store = desk().store
    number = store.add_trial(record(found))
    feel = felt(found, number)
    if feel is not None:
        store.add_feel(feel)
    return told_of(found, number).json()


def _asking(
    request: HttpRequest, at: JointAt, form: TrialForm, found: Tried | None = None
) -> HttpResponse:
    """The form again, with what is wrong, or with questions about what was read."""
    slips = () if found is None else found.outcome.slips
    page = TrialPage(
        at=at,
        form=form,
        questions=tuple(slip.question for slip in slips),
        reckoned=() if found is None else tuple(reckoned_with(found)[1:]),
        status=ASKS,
    )
    return _page(request, page)


def _kept(request: HttpRequest, at: JointAt, key: str, answer: Answer) -> HttpResponse:
    """The answer, under an address of its own, so that it can be looked at again."""
    address = f"{_address(at)}?{urlencode({'told': key.removeprefix(kept_as('', TRIAL))})}"
    if not getattr(request, "htmx", False) and key:
        return HttpResponseRedirect(address)
    told = told_again(answer)
    response = _page(request, _answered(at, told))
    response["HX-Trigger"] = json.dumps({"said": f"Remembered as trial {told.trial}."})
    if key:
        response["HX-Push-Url"] = address
    return response


def _answered(at: JointAt, told: TrialTold) -> TrialPage:
    query = urlencode({"group": told.group, **moved_gauges(told)})
    return TrialPage(at=at, answer=told, next_address=f"{_address(at)}?{query}")


def _forgotten(request: HttpRequest, at: JointAt) -> HttpResponse:
    number = request.POST["forget"]
    if not (number.isascii() and number.isdecimal() and len(number) < 10):
        raise InputError(
            f"{number[:20]!r} is not the number of a trial",
            where="forget",
            remedy="Press Forget beside the trial",
        )
    forget_in(desk().store, int(number), at.ground.shop)
    return HttpResponseRedirect(_address(at))


def _address(at: JointAt) -> str:
    return reverse("trial", args=[at.piece, at.place])


def _page(request: HttpRequest, page: TrialPage) -> HttpResponse:
    part = bool(getattr(request, "htmx", False))
    name = "faywright/parts/trial.html" if part else "faywright/trial.html"
    context = {"page": page, "trials": listed(trials_made(page.at), page.at.style)}
    return render(request, name, context, status=page.status)
