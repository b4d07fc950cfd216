"""Where to go on from a page that says that something cannot be done."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest
from django.urls import reverse

from faywright.errors import MissingError, PlanError
from faywright.web.desk import open_piece


@dataclass(frozen=True, slots=True)
class WayOn:
    """A link, and what it is called."""

    words: str
    url: str


def ways_on(request: HttpRequest, error: PlanError) -> tuple[WayOn, ...]:
    """The joint that an error is about, its piece, and the list of all."""
    number = request.resolver_match.kwargs.get("piece") if request.resolver_match else None
    pieces = WayOn("Pieces", reverse("pieces"))
    if not isinstance(number, int):
        return (pieces,)
    try:
        opened = open_piece(number)
    except MissingError:
        return (pieces,)
    except PlanError:
        return (WayOn("History", reverse("history", args=[number])), pieces)
    joints = tuple(
        WayOn(f"Joint {joint.name}", reverse("joint", args=[number, place]))
        for place, joint in enumerate(opened.ground.piece.joints, start=1)
        if repr(joint.name) in error.where
    )
    return (*joints, WayOn(opened.sheet.title, reverse("piece", args=[number])))
