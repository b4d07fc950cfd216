"""The page of one piece: its joints first, then what they are made of, and what to ask about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from faywright.app.documents import Sheet
from faywright.lengths import LengthStyle
from faywright.piece.document import tables_of
from faywright.piece.suspect import Suspect
from faywright.piece.suspects import suspects
from faywright.piece.words import counted
from faywright.web.desk import OpenPiece, open_piece, style_of
from faywright.web.field_changes import Place, field_changed
from faywright.web.fields import Field, fields_of
from faywright.web.forms import Form
from faywright.web.pieces.climate_forms import climate_form
from faywright.web.pieces.going_back import Undoing, undoing_of
from faywright.web.pieces.piece_forms import new_form
from faywright.web.pieces.renaming import named_tables
from faywright.web.pieces.specs_of_pieces import DRIFT, THINGS, TOP, specs
from faywright.web.timber.timbers import timbers

TOLD_OF = ("panel", "framed", "drawer", "shelf")
"""Lists whose things have answers of their own, beside those of joints."""

OPEN_AT_ONCE = 3
"""Things of a list that are shown with their fields; more are folded."""


@dataclass(frozen=True, slots=True)
class Thing:
    """One table of a list: its name, what it says in a line, its fields, and its path."""

    name: str
    said: str
    fields: tuple[Field, ...]
    path: str


@dataclass(frozen=True, slots=True)
class Things:
    """All of a list, and the form for one more."""

    kind: str
    title: str
    things: tuple[Thing, ...]
    new: Form
    note: str


@dataclass(frozen=True, slots=True)
class JointRow:
    """A joint that loads its own row: its name and place, counted from 1."""

    name: str
    number: int


@dataclass(frozen=True, slots=True)
class PiecePage:
    """What the template of a piece may use."""

    sheet: Sheet
    shop: Sheet
    base: int
    change_url: str
    undoing: Undoing
    joints: tuple[JointRow, ...]
    boards: str
    things: tuple[Things, ...]
    top: tuple[Field, ...]
    climate: tuple[Form, ...]
    has_climate: bool
    has_year: bool
    drift: tuple[Field, ...]
    asks: tuple[Suspect, ...]
    timbers: Sequence[str]
    next: str

    @property
    def shown(self) -> tuple[Things, ...]:
        """Lists that can be added to now, or have something in them."""
        return tuple(each for each in self.things if each.things or not each.note)


@require_GET
def piece(request: HttpRequest, piece: int) -> HttpResponse:
    """The page of one piece."""
    opened = open_piece(piece)
    style = style_of(request, opened.ground.shop.habits.style)
    return render(request, "faywright/piece.html", {"page": page_of(opened, style)})


@require_POST
def piece_change(request: HttpRequest, piece: int) -> HttpResponse:
    """Change one field of the piece, wherever it stands."""
    back = reverse("piece", kwargs={"piece": piece})
    asked = request.POST.get("path", "")
    if asked.startswith('["board"'):
        back = reverse("boards", kwargs={"piece": piece})
    return field_changed(
        request, piece, Place(reverse("piece-change", kwargs={"piece": piece}), back, all_fields)
    )


def page_of(opened: OpenPiece, style: LengthStyle) -> PiecePage:
    """All that a piece's page shows."""
    sheet, tables = opened.sheet, tables_of(opened.sheet.revision.text)
    has_climate = "climate" in tables
    forms = ("cutting", "assembly", "room", "seasons", "monthly") if has_climate else ("begin",)
    return PiecePage(
        sheet=sheet,
        shop=opened.shop,
        base=sheet.revision.number,
        change_url=reverse("piece-change", kwargs={"piece": sheet.id}),
        undoing=undoing_of(sheet),
        joints=tuple(
            JointRow(name, number)
            for number, (name, _) in enumerate(named_tables(tables, "joint"), start=1)
        ),
        boards=counted(sum(1 for _ in named_tables(tables, "board")), "board"),
        things=tuple(_things(sheet, tables, kind, title, style) for kind, title in THINGS.items()),
        top=fields_of(TOP, tables, style),
        climate=tuple(climate_form(sheet, form, style).form for form in forms),
        has_climate=has_climate,
        has_year=any(any(named_tables(tables, kind)) for kind in TOLD_OF),
        drift=fields_of((DRIFT,), tables, style, ("climate",)) if has_climate else (),
        asks=suspects(opened.ground.piece, opened.ground.shop),
        timbers=timbers(opened.ground.shop),
        next=_next(tables),
    )


def _next(tables: Mapping[str, object]) -> str:
    """What a piece lacks that comes before its setups."""
    wanted = (
        ("part", "add a part below: boards of one thickness and timber"),
        ("board", "list the boards of each part, as measured"),
        ("joint", "add a joint"),
    )
    return next((words for key, words in wanted if not any(named_tables(tables, key))), "")


def all_fields(sheet: Sheet, style: LengthStyle) -> Iterator[Field]:
    """Every field of a piece that is changed by itself, on its page or that of its boards."""
    tables = tables_of(sheet.revision.text)
    yield from fields_of(TOP, tables, style)
    yield from fields_of((DRIFT,), tables, style, ("climate",))
    for kind in (*THINGS, "board"):
        for name, _ in named_tables(tables, kind):
            yield from fields_of(specs(kind, tables), tables, style, (kind, name))


def _things(
    sheet: Sheet, tables: Mapping[str, object], kind: str, title: str, style: LengthStyle
) -> Things:
    found = []
    for name, _ in named_tables(tables, kind):
        fields = fields_of(specs(kind, tables), tables, style, (kind, name))
        said = ", ".join(field.said for field in fields[1:] if field.shown)
        found.append(Thing(name, said, fields, _path_text(kind, name)))
    note = ""
    if kind in {"panel", "framed", "drawer"} and "climate" not in tables:
        note = "These need a climate."
    elif kind == "panel" and not any(named_tables(tables, "joint")):
        note = "A row is made of the boards of a joint: begin one first."
    return Things(kind, title, tuple(found), new_form(sheet, kind, style), note)


def _path_text(*path: str) -> str:
    return Field(label="", path=path, kind="text", shown="").path_text
