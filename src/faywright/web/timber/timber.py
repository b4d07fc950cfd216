"""The timber page: a species with its figures, how moist wood is, and how much a board moves.

All of it is asked by GET, so that an answer can be kept as a bookmark.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.shop_file import shop_from_text
from faywright.shop.inventory import Shop
from faywright.timber.climate import rooms
from faywright.timber.movement import COVERAGE, RING_ANGLES
from faywright.timber.species_table import species_table
from faywright.web.desk import desk, style_of
from faywright.web.fields import Field, Spec, blank_fields, choices
from faywright.web.pieces.specs_of_pieces import TIMBERS
from faywright.web.telling import UNPROCESSABLE
from faywright.web.timber.timber_answered import answered
from faywright.web.timber.timber_asked import (
    WIDTH,
    AskedMoisture,
    asked_air,
    asked_meter,
    asked_timber,
    meant,
)
from faywright.web.timber.timbers import timbers
from faywright.web.typed import unit_of

BOARD = (
    Spec(
        key="species",
        label="Timber",
        kind="text",
        needed=True,
        suggests=TIMBERS,
        help="common, botanical or trade name, or one of your own",
    ),
    Spec(
        key="width",
        label="Width of the board",
        kind="length",
    ),
    Spec(
        key="rings",
        label="Sawn",
        kind="text",
        suggests="ways",
        left_out="every way",
        help="flat, rift or quarter, or the angle between rings and width in degrees",
    ),
    Spec(
        key="from",
        label="From",
        kind="text",
        help='the air, as "20 C 45 %" or "68 F 45 %", or the moisture of the wood, as "8 %"',
    ),
    Spec(key="to", label="To", kind="text", help="the same, where it goes"),
    Spec(
        key="room",
        label="Through the year in",
        kind="choice",
        choices=choices(tuple(rooms()), "no room"),
    ),
)
AIR = (
    Spec(
        key="temperature",
        label="Temperature of the air",
        kind="text",
        help='degrees Celsius, or with a sign: "68 F"',
    ),
    Spec(key="humidity", label="Relative humidity", kind="text", unit="%"),
)
METER = (
    Spec(
        key="meter",
        label="A meter with pins shows",
        kind="text",
        unit="%",
        help="the mean of several boards",
    ),
    Spec(key="wood", label="Temperature of the wood", kind="text", left_out="20 C"),
    Spec(
        key="calibrated",
        label="The meter is calibrated for",
        kind="text",
        left_out="20 C",
        help="its paper says",
    ),
)


@require_GET
def timber(request: HttpRequest) -> HttpResponse:
    """The page, with the answers to whatever is asked in its address."""
    given = request.GET
    shop = _shop()
    habit = LengthStyle("mm") if shop is None else shop.habits.style
    style = style_of(request, habit)
    own = () if shop is None else shop.species
    board, air, meter = asked_timber(given, style, own), asked_air(given), asked_meter(given)
    faults = {**(board.faults or {}), **(air.faults or {}), **(meter.faults or {})}
    timbers_meant = meant(given, faults)
    if timbers_meant:
        faults["species"] = InputError(
            faults["species"].what, where="species", remedy="Choose one of those above"
        )
    answer = unanswered = None
    if board.question is not None:
        try:
            answer = answered(board, board.question, style)
        except InputError as error:  # it has no figures for that
            unanswered = error
    context = {
        "board": _fields(BOARD, style, given, faults),
        "air": _fields(AIR, style, given, faults),
        "meter": _fields(METER, style, given, faults),
        "answer": answer,
        "unanswered": unanswered,
        "in_air": _moisture(air),
        "by_meter": _moisture(meter),
        "timbers": tuple(species_table()) if shop is None else timbers(shop),
        "meant": timbers_meant,
        "ways": tuple(RING_ANGLES),
    }
    status = UNPROCESSABLE if faults or unanswered else 200
    return render(request, "faywright/timber.html", context, status=status)


def _moisture(asked: AskedMoisture) -> str:
    """The moisture of wood in words, and how well it is known; empty where none was asked."""
    if asked.state is None:
        return ""
    reach = COVERAGE * asked.state.standard_uncertainty
    return f"{asked.state.moisture:.1f} % of its dry mass, give or take {reach:.1f} %"


def _fields(
    specs: tuple[Spec, ...],
    style: LengthStyle,
    given: Mapping[str, str],
    faults: Mapping[str, InputError],
) -> tuple[Field, ...]:
    told = {name: f"{_capital(each.what)}. {each.remedy}." for name, each in faults.items()}
    texts = {spec.key: given.get(spec.key, "") for spec in specs}
    usual = {"width": f"{WIDTH[style.style]} {unit_of(style)}"}
    specs = tuple(replace(spec, left_out=usual.get(spec.key, spec.left_out)) for spec in specs)
    return blank_fields(specs, style, texts, told)


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _shop() -> Shop | None:
    """The shop that was changed last, whose own timber comes first; None where there is none."""
    documents = desk().store.documents
    listed = documents.listed("shop")
    if not listed:
        return None
    return shop_from_text(documents.sheet(listed[0].id).revision.text, file="shop")
