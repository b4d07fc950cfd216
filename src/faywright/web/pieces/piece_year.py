"""What the year does to a piece, and what its shelves bear: rows, panels, drawers, shelves."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from faywright.app.bench import Ground
from faywright.lengths import LengthStyle
from faywright.piece.plan import Plan, assembled
from faywright.piece.strength_words import shelf_lines
from faywright.piece.summary import panel_lines
from faywright.piece.words import finer, writer
from faywright.web.desk import desk, open_piece, style_of
from faywright.web.joint.joint_charts import Chart, year_charts


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of one thing."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class PieceYear:
    """All that is said, and the charts of what moves."""

    told: tuple[Told, ...]
    charts: tuple[Chart, ...]


@require_GET
def piece_year(request: HttpRequest, piece: int) -> HttpResponse:
    """A part of the page of a piece, or a page of its own."""
    opened = open_piece(piece)
    style = style_of(request, opened.ground.known.shop.habits.style)
    context = {"year": year_of(_bare(opened.ground), style), "sheet": opened.sheet}
    part = bool(getattr(request, "htmx", False))
    page = "faywright/parts/piece_year.html" if part else "faywright/piece_year.html"
    return render(request, page, context)


def year_of(plan: Plan, style: LengthStyle) -> PieceYear:
    """What a plan says of the year, as on paper."""
    write, fine = writer(style), finer(style)
    told = [Told(_called(title), tuple(lines)) for title, lines in panel_lines(plan, write, fine)]
    told += [
        Told(f"Shelf: {shelf.name}", tuple(shelf_lines(shelf, write))) for shelf in plan.shelves
    ]
    return PieceYear(tuple(told), year_charts(plan, style))


def _called(title: str) -> str:
    """``PANEL: back`` without the shouting."""
    kind, colon, name = title.partition(":")
    return f"{kind.capitalize()}{colon}{name}"


def _bare(ground: Ground) -> Plan:
    """The plan of no joints but those whose boards make rows."""
    rows = {panel.joint for panel in ground.piece.panels}
    piece = replace(
        ground.piece, joints=tuple(each for each in ground.piece.joints if each.name in rows)
    )
    joints = [desk().planner.joint(ground, wanted) for wanted in piece.joints]
    return assembled(piece, ground.known.shop, joints)
