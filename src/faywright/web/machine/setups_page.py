"""The page of setups: every card of the plan at once, to be read at the machine."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from faywright.app.submissions import Answer
from faywright.errors import InputError, MissingError
from faywright.piece.words import at_least, counted
from faywright.setups.hazards import CAUTIONS
from faywright.web.desk import OpenPiece, author, desk, open_piece, style_of
from faywright.web.machine.bench_desk import cuts_done, submission_of, submissions
from faywright.web.machine.setup_cards import Tick, cards, first_undone

MANY = 6
"""Joints from which on planning takes long enough to say so first."""


@require_safe
def setups(request: HttpRequest, piece: int) -> HttpResponse:
    """All cards; of a large piece first a word, and the cards when they are ready."""
    opened = open_piece(piece)
    part = request.GET.get("part") == "cards"
    joints = opened.ground.piece.joints
    if len(joints) >= MANY and not part and "whole" not in request.GET:
        names = ", ".join(joint.name for joint in joints)
        context = {"opened": opened, "planning": counted(len(joints), "joint"), "names": names}
        return render(request, "faywright/setups.html", context)
    page = "faywright/parts/cards.html" if part else "faywright/setups.html"
    return render(request, page, _shown(request, opened))


def _shown(request: HttpRequest, opened: OpenPiece) -> dict[str, object]:
    # First, for what cannot be planned is told in that style too.
    style = style_of(request, opened.ground.shop.habits.style)
    ground = opened.ground
    done = cuts_done().of(opened.sheet.id)
    shown = list(cards(ground, lambda: desk().planner.plan(ground).plan, style, done))
    return {
        "opened": opened,
        "cards": shown,
        "count": len(shown),
        "made": sum(card.tick.made for card in shown),
        "go_on": first_undone(shown),
        "cautions": [caution.said(at_least(style)) for caution in CAUTIONS],
        "key": uuid.uuid4().hex,
    }


@require_POST
def setup_done(request: HttpRequest, piece: int) -> HttpResponse:
    """Tick a setup, or take the tick back; it is told what was set, for the plan may change."""
    number = _number(request.POST.get("number", ""))
    cut, made = request.POST.get("cut", ""), request.POST.get("done") == "yes"
    height, fence = (_millimetres(request, name) for name in ("height", "fence"))
    if desk().store.documents.sheet(piece).kind != "piece":
        raise MissingError(f"{piece} is no piece", where="setups", remedy="Go back to the pieces")

    def make() -> Answer:
        if made:
            cuts_done().tick(piece, cut, height, fence, author=author(request))
        else:
            cuts_done().untick(piece, cut)
        return {"made": made}

    submissions().once(submission_of(request, "done"), make)
    if not getattr(request, "htmx", False):
        return HttpResponseRedirect(f"{reverse('setups', args=[piece])}?whole#setup-{number}")
    done = cuts_done().of(piece).get(cut)
    tick = Tick(number, cut, height, fence, done, as_set=done is not None)
    context = {"piece": piece, "tick": tick, "key": uuid.uuid4().hex}
    answer = render(request, "faywright/parts/setup_done.html", context)
    answer["HX-Trigger"] = '{"said": "Setup %d is %s."}' % (number, "done" if made else "not done")  # noqa: UP031 - braces stand in it
    return answer


def _number(text: str) -> int:
    if not text.isdecimal() or not 1 <= len(text) <= 6:
        raise InputError(
            f"{text[:20]!r} is not the number of a setup",
            where="setup done",
            remedy="Press Done on the card of the setup",
        )
    return int(text)


def _millimetres(request: HttpRequest, name: str) -> float:
    text = request.POST.get(name, "")
    try:
        return float(text)
    except ValueError:
        raise InputError(
            f"{text[:20]!r} is no setting",
            where=f"setup done: {name}",
            remedy="Press Done on the card of the setup",
        ) from None
