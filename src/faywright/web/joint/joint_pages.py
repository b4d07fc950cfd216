"""The page of one joint and its parts that load later: charts, seasons, sums, and its row."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from faywright.web.joint.joint_at import JointAt, joint_at
from faywright.web.joint.joint_charts import charts_of, seasons_of
from faywright.web.joint.joint_shown import page_of, row_of
from faywright.web.joint.joint_working import workings_of


@require_safe
def joint(request: HttpRequest, piece: int, place: int) -> HttpResponse:
    """The page: the joint as it is planned, then its form."""
    page = page_of(joint_at(request, piece, place))
    return render(request, "faywright/joint.html", {"page": page})


@require_safe
def joint_row(request: HttpRequest, piece: int, place: int) -> HttpResponse:
    """One row of the list of joints; what cannot be made says why, and stays a row."""
    row = row_of(joint_at(request, piece, place))
    return render(request, "faywright/parts/joint_row.html", {"row": row})


@require_safe
def joint_charts(request: HttpRequest, piece: int, place: int) -> HttpResponse:
    """Boards by thickness, gaps against their band, where the errors come from."""
    at = joint_at(request, piece, place)
    return _part(request, at, "charts", charts_of(at))


@require_safe
def joint_seasons(request: HttpRequest, piece: int, place: int) -> HttpResponse:
    """What the year does to it."""
    at = joint_at(request, piece, place)
    return _part(request, at, "seasons", seasons_of(at))


@require_safe
def joint_working(request: HttpRequest, piece: int, place: int) -> HttpResponse:
    """The sum behind each setting."""
    at = joint_at(request, piece, place)
    return _part(request, at, "working", workings_of(at))


def _part(request: HttpRequest, at: JointAt, name: str, found: object) -> HttpResponse:
    """A part that a page loads when it is opened, or a page of its own."""
    part = f"faywright/parts/joint_{name}.html"
    context = {"at": at, "part": part, "found": found}
    whole = "faywright/joint_part.html"
    return render(request, part if getattr(request, "htmx", False) else whole, context)
