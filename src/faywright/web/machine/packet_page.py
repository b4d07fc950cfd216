"""What is printed or taken along: the packet, drawings one by one, and the plan for programs."""

from __future__ import annotations

import json
from typing import get_args

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from faywright.drawing.drawings import slug
from faywright.drawing.packet import PacketOptions, Paper
from faywright.drawing.packet import packet as packet_of
from faywright.errors import InputError
from faywright.lengths import LengthStyle, Style
from faywright.piece.plan import Plan
from faywright.piece.plan_json import plan_json
from faywright.web.desk import STYLES, desk, open_piece, shown_in, style_of
from faywright.web.machine.drawing_files import drawings_by_joint, file_called
from faywright.web.machine.setups_page import MANY

PAPERS: tuple[Paper, ...] = get_args(Paper)
PAPER_WORDS = {"a4": "A4", "us-letter": "US Letter"}


@require_safe
def packet(request: HttpRequest, piece: int) -> HttpResponse:
    """Paper, units and which setups; then every drawing by its name."""
    opened = open_piece(piece)
    style = style_of(request, opened.ground.shop.habits.style)
    waits = len(opened.ground.piece.joints) >= MANY and "drawings" not in request.GET
    # Where inches are shown, sheets are most likely Letter.
    usual: Paper = "a4" if style.style == "mm" else "us-letter"
    context = {
        "opened": opened,
        "papers": [(each, PAPER_WORDS[each], each == usual) for each in PAPERS],
        "styles": [(each, each == style.style) for each in STYLES],
        "waits": waits,
        "rooms": () if waits else drawings_by_joint(_plan(request, piece)),
    }
    return render(request, "faywright/packet.html", context)


@require_safe
def packet_file(request: HttpRequest, piece: int) -> HttpResponse:
    """The packet as PDF."""
    opened = open_piece(piece)
    habit = opened.ground.shop.habits.style
    options = PacketOptions(
        paper=_paper(request.GET.get("paper", PAPERS[0])),
        style=_style(request, habit),
        only=_numbers(request.GET.get("only", "")),
    )
    plan = desk().planner.plan(opened.ground).plan
    return _file(packet_of(plan, options), "application/pdf", f"packet{slug(plan.piece.title)}.pdf")


@require_safe
def drawing_file(request: HttpRequest, piece: int, name: str) -> HttpResponse:
    """One drawing, by the name that a plan's folder has it under."""
    text, kind = file_called(_plan(request, piece), name)
    return _file(text.encode(), kind, name, show=name.endswith(".svg"))


@require_safe
def plan_file(request: HttpRequest, piece: int) -> HttpResponse:
    """The plan for programs, every length in millimetres."""
    plan = _plan(request, piece)
    text = json.dumps(plan_json(plan), indent=2, ensure_ascii=False)
    return _file(text.encode(), "application/json", f"plan{slug(plan.piece.title)}.json")


def _plan(request: HttpRequest, piece: int) -> Plan:
    ground = open_piece(piece).ground
    plan = desk().planner.plan(ground).plan
    return shown_in(plan, style_of(request, ground.shop.habits.style))


def _paper(text: str) -> Paper:
    for paper in PAPERS:
        if paper == text:
            return paper
    raise InputError(
        f"{text[:20]!r} is not known", where="paper", remedy=f"Use {' or '.join(PAPERS)}"
    )


def _style(request: HttpRequest, habit: LengthStyle) -> LengthStyle:
    """The units asked for here, or those of all pages."""
    asked = request.GET.get("units", "")
    styles: tuple[Style, ...] = get_args(Style)
    for style in styles:
        if style == asked:
            return habit if style == habit.style else LengthStyle(style)
    if asked:
        raise InputError(
            f"{asked[:20]!r} is not known", where="units", remedy=f"Use {' or '.join(STYLES)}"
        )
    return style_of(request, habit)


def _numbers(text: str) -> tuple[int, ...]:
    """Numbers of setups, with commas or spaces between."""
    parts = text.replace(",", " ").split()
    if all(part.isascii() and part.isdecimal() and len(part) <= 6 for part in parts):
        return tuple(int(part) for part in parts)
    raise InputError(
        f"{text[:40]!r} is not a list of numbers",
        where="which setups",
        remedy="Give numbers of setups, as 3 or 5, 8",
    )


def _file(content: bytes, kind: str, name: str, *, show: bool = False) -> HttpResponse:
    """A file under its name; one that is to ``show`` opens in the browser."""
    answer = HttpResponse(content, content_type=kind)
    header = content_disposition_header(as_attachment=not show, filename=name)
    if header is not None:
        answer["Content-Disposition"] = header
    return answer
