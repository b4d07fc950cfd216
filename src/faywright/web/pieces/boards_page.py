"""The boards of a piece: as measured, one by one, or pasted from calipers or a spreadsheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import get_args

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from faywright.app.documents import Sheet
from faywright.errors import DocumentError, InputError, MissingError, PlanError
from faywright.lengths import LengthStyle, Unit
from faywright.piece.document import tables_of
from faywright.piece.model import Piece
from faywright.piece.words import Write, counted, writer
from faywright.shop.boards import Board
from faywright.web.changing import AddBoards, change
from faywright.web.desk import OpenPiece, author, desk, open_piece, style_of
from faywright.web.field_changes import SEE_OTHER, UNPROCESSABLE
from faywright.web.fields import Choice, Field, Spec, blank_fields, choices, fields_of
from faywright.web.forms import Form
from faywright.web.pieces.going_back import Undoing, undoing_of
from faywright.web.pieces.pasted import Pasted, Understood, next_mark, understood
from faywright.web.pieces.piece_forms import new_form
from faywright.web.pieces.renaming import named_tables
from faywright.web.pieces.specs_of_pieces import specs
from faywright.web.posted import number_in
from faywright.web.timber.timbers import timbers
from faywright.web.typed import length_typed, unit_of


@dataclass(frozen=True, slots=True)
class BoardRow:
    """A board in the table, written in the style of the page."""

    mark: str
    part: str
    width: str
    length: str
    readings: str
    mean: str
    spread: str


@dataclass(frozen=True, slots=True)
class Pasting:
    """The form for a list: its fields and text, what was understood, and what is wrong with it."""

    url: str
    base: int
    fields: tuple[Field, ...]
    text: str
    rows: tuple[BoardRow, ...] = ()
    said: str = ""
    told: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BoardsPage:
    """What the template of the boards may use; ``chosen`` are the fields of one to change."""

    sheet: Sheet
    base: int
    change_url: str
    undoing: Undoing
    rows: tuple[BoardRow, ...]
    mark: str
    chosen: tuple[Field, ...]
    chosen_path: str
    new: Form | None
    pasting: Pasting | None
    timbers: Sequence[str]


@require_GET
def boards(request: HttpRequest, piece: int) -> HttpResponse:
    """All boards of a piece; ``?board=`` chooses one to change."""
    opened = open_piece(piece)
    style = style_of(request, opened.ground.shop.habits.style)
    page = _page(opened, style, request.GET.get("board", ""), None)
    return render(request, "faywright/boards.html", {"page": page})


@require_POST
def paste(request: HttpRequest, piece: int) -> HttpResponse:
    """Show what a list is understood to mean; keep it where ``keep`` says so."""
    opened = open_piece(piece)
    style = style_of(request, opened.ground.shop.habits.style)
    posted = {spec.key: request.POST.get(spec.key, "") for spec in _paste_specs(opened, style)}
    text = request.POST.get("list", "")
    return _shown(request, opened, style, posted, text, keep="keep" in request.POST)


def paste_shown(request: HttpRequest, piece: int, text: str) -> HttpResponse:
    """The page of boards with a list pasted in, and what it is understood to mean."""
    opened = open_piece(piece)
    style = style_of(request, opened.ground.shop.habits.style)
    posted = {"units": opened.ground.piece.units, "part": "", "readings": "3", "across": "1"}
    posted |= {"mark": "", "width": "", "length": ""}
    return _shown(request, opened, style, posted, text, keep=False)


def _shown(
    request: HttpRequest,
    opened: OpenPiece,
    style: LengthStyle,
    posted: Mapping[str, str],
    text: str,
    *,
    keep: bool,
) -> HttpResponse:
    try:
        pasted = _pasted(posted, text, style, opened.ground.piece.units)
        found = understood(pasted, opened.sheet.revision.text, opened.ground.piece)
        if keep:
            return _kept(request, opened, found)
    except (DocumentError, InputError) as error:
        pasting = _pasting(opened, style, posted, text, told=_told(error))
        status = UNPROCESSABLE
    else:
        pasting, status = _pasting(opened, style, posted, text, found=found), 200
    context = {"page": _page(opened, style, "", pasting)}
    return render(request, "faywright/boards.html", context, status=status)


def _kept(request: HttpRequest, opened: OpenPiece, found: Understood) -> HttpResponse:
    marks = [str(table["mark"]) for table in found.tables]
    change(
        desk().store.documents,
        opened.sheet.id,
        number_in(request, "base"),
        [AddBoards(found.tables)],
        author=author(request),
        what=f"{counted(len(marks), 'board')} added: {marks[0]} to {marks[-1]}"[:200],
    )
    back = reverse("boards", kwargs={"piece": opened.sheet.id})
    return HttpResponseRedirect(back, status=SEE_OTHER)


def _told(error: PlanError) -> tuple[str, ...]:
    if isinstance(error, DocumentError):
        return tuple(
            f"{f'Line {fault.line}, ' if fault.line else ''}{fault.field}: {fault.what}. "
            f"{fault.remedy}."
            for fault in error.faults
        )
    return (f"{error.where}: {error.what}. {error.remedy}.",)


def _pasted(posted: Mapping[str, str], text: str, style: LengthStyle, own: Unit) -> Pasted:
    units = next((each for each in get_args(Unit) if each == posted["units"]), unit_of(style))
    count = posted["readings"].strip()
    return Pasted(
        text=text,
        units=units,
        part=posted["part"],
        mark=posted["mark"],
        width=length_typed(posted["width"], style, own),
        length=length_typed(posted["length"], style, own),
        readings=int(count) if count.isascii() and count.isdigit() and len(count) < 4 else 0,
        across=2 if posted["across"] == "2" else 1,
    )


def _paste_specs(opened: OpenPiece, style: LengthStyle) -> tuple[Spec, ...]:
    parts = [part.name for part in opened.ground.piece.parts]
    return (
        Spec(key="part", label="Part", kind="choice", choices=choices(parts)),
        Spec(
            key="units",
            label="Bare numbers are",
            kind="choice",
            choices=choices(dict.fromkeys([unit_of(style), *get_args(Unit)])),
        ),
        Spec(key="readings", label="Readings a board", kind="whole"),
        Spec(
            key="across",
            label="They were read",
            kind="choice",
            choices=(
                Choice("1", "along the board"),
                Choice("2", "at both edges, reference edge first, pair by pair"),
            ),
        ),
        Spec(key="mark", label="Mark of the first, to number on from", kind="text"),
        Spec(key="width", label="Width of each", kind="length"),
        Spec(key="length", label="Length of each", kind="length"),
    )


def _pasting(
    opened: OpenPiece,
    style: LengthStyle,
    posted: Mapping[str, str] | None = None,
    text: str = "",
    *,
    found: Understood | None = None,
    told: tuple[str, ...] = (),
) -> Pasting:
    sheet = opened.sheet
    if posted is None:
        marks = [name for name, _ in named_tables(tables_of(sheet.revision.text), "board")]
        posted = {"mark": next_mark(marks), "readings": "3"}
    rows = () if found is None else _rows(found.boards, style)
    return Pasting(
        url=reverse("boards-paste", kwargs={"piece": sheet.id}),
        base=sheet.revision.number,
        fields=blank_fields(_paste_specs(opened, style), style, posted),
        text=text,
        rows=rows,
        said=counted(len(rows), "board") if rows else "",
        told=told,
    )


def _page(opened: OpenPiece, style: LengthStyle, mark: str, pasting: Pasting | None) -> BoardsPage:
    sheet, piece = opened.sheet, opened.ground.piece
    tables = tables_of(sheet.revision.text)
    chosen: tuple[Field, ...] = ()
    if mark:
        if mark not in [name for name, _ in named_tables(tables, "board")]:
            raise MissingError(
                f"there is no board {mark[:40]!r}",
                where="boards",
                remedy="Choose one that is listed; it may have been removed or marked anew",
            )
        chosen = fields_of(specs("board", tables), tables, style, ("board", mark))
    any_part = bool(piece.parts)
    return BoardsPage(
        sheet=sheet,
        base=sheet.revision.number,
        change_url=reverse("piece-change", kwargs={"piece": sheet.id}),
        undoing=undoing_of(sheet, back=reverse("boards", kwargs={"piece": sheet.id})),
        rows=_rows(_in_order(piece, tables), style),
        mark=mark,
        chosen=chosen,
        chosen_path=Field(label="", path=("board", mark), kind="text", shown="").path_text,
        new=new_form(sheet, "board", style) if any_part else None,
        pasting=(pasting or _pasting(opened, style)) if any_part else None,
        timbers=timbers(opened.ground.shop),
    )


def _in_order(piece: Piece, tables: Mapping[str, object]) -> Sequence[tuple[str, Board]]:
    """The boards with their parts, in the order of the piece file."""
    found = {board.mark: (part.name, board) for part in piece.parts for board in part.boards}
    return [found[name.strip()] for name, _ in named_tables(tables, "board")]


def _rows(listed: Sequence[tuple[str, Board]], style: LengthStyle) -> tuple[BoardRow, ...]:
    write = writer(style)
    # Calipers show no fractions.
    read = writer(LengthStyle("decimal inch") if style.style == "fraction inch" else style)
    return tuple(
        BoardRow(
            mark=board.mark,
            part=part,
            width=write(board.width),
            length=write(board.length),
            readings=_readings(board, read),
            mean=write(board.thickness),
            spread=write(board.along),
        )
        for part, board in listed
    )


def _readings(board: Board, read: Write) -> str:
    """All readings, with their unit once at the end."""
    written = [[read(each) for each in place] for place in board.readings.tolist()]
    unit = written[0][0].rpartition(" ")[2]
    places = (" | ".join(each.removesuffix(f" {unit}") for each in place) for place in written)
    return f"{'; '.join(places)} {unit}"
