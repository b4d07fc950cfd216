"""What the timber page answers, lengths written: how much a board moves, and by which figures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from faywright.drawing.board_year import board_year
from faywright.drawing.model import Drawing
from faywright.drawing.season_chart import season_chart
from faywright.lengths import LengthStyle
from faywright.piece.timber_answer import Move, Question, basis, from_to, moves, room_moves, sawn
from faywright.piece.wood_values import Rings
from faywright.piece.words import Write, writer
from faywright.timber.climate import MONTHS, Room
from faywright.timber.measures import MEASURES
from faywright.timber.species import Species
from faywright.web.timber.timber_asked import AskedTimber


@dataclass(frozen=True, slots=True)
class Figure:
    """One published figure of a timber, and where it was printed."""

    words: str
    figure: str
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class MoveRow:
    """What one way of sawing does, lengths written."""

    sawn: str
    said: str
    least: str
    most: str
    thickness: str


@dataclass(frozen=True, slots=True)
class RoomRow:
    """What a room does to the board from its driest to its wettest month."""

    name: str
    about: str
    dry: str
    wet: str
    moves: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class MonthRow:
    """A month of a room: moisture, and the width of the board with the range of 19 in 20."""

    month: str
    moisture: str
    width: str
    low: str
    high: str


@dataclass(frozen=True)
class Answered:
    """The answer to a question of a board."""

    species: Species
    width: str
    between: str
    basis: str
    moves: tuple[MoveRow, ...]
    rooms: tuple[RoomRow, ...]
    ways: tuple[str, ...]
    figures: tuple[Figure, ...]
    chart: Drawing | None
    months: tuple[MonthRow, ...]
    room: Room | None
    year_of: str


def answered(given: AskedTimber, asked: Question, style: LengthStyle) -> Answered:
    """The answer, lengths written.

    Raises
    ------
    InputError
        How this timber moves is not known.
    """
    write = writer(style)
    rings: Rings = asked.ways[0]
    room = given.room
    year = None if room is None else board_year(asked, room, rings)
    return Answered(
        species=asked.species,
        width=write(asked.width),
        between=from_to(asked),
        basis=basis(asked),
        moves=tuple(_row(move, write) for move in moves(asked)) if given.between else (),
        rooms=tuple(_rooms(asked, write)) if given.over_rooms else (),
        ways=tuple(sawn(way) for way in asked.ways),
        figures=tuple(_figures(asked.species)),
        chart=None if year is None else season_chart(year, style=style),
        months=()
        if year is None
        else tuple(
            MonthRow(month, f"{moisture:.1f} %", write(width), write(low), write(high))
            for month, moisture, width, low, high in zip(
                MONTHS,
                year.moisture,
                year.width.mean,
                year.width.low,
                year.width.high,
                strict=True,
            )
        ),
        room=room,
        year_of=sawn(rings),
    )


def _row(move: Move, write: Write) -> MoveRow:
    return MoveRow(
        move.sawn,
        move.said(write),
        write(move.least),
        write(move.most),
        f"{100 * move.thickness_share:+.2f} %",
    )


def _rooms(asked: Question, write: Write) -> Iterator[RoomRow]:
    for each in room_moves(asked):
        dry, wet = each.room.driest, each.room.wettest
        yield RoomRow(
            each.room.name,
            each.room.about,
            f"{dry.moisture:.1f} % in {dry.name}",
            f"{wet.moisture:.1f} % in {wet.name}",
            tuple((move.sawn, write(move.change)) for move in each.moves),
        )


def _figures(species: Species) -> Iterator[Figure]:
    for value, measure in MEASURES.items():
        found = species.value(value)
        if found is not None:
            yield Figure(measure.words, _digits(found), measure.unit, species.source_of(value))


def _digits(figure: float) -> str:
    """As many digits as tables print.

    >>> _digits(12272.7), _digits(7.37739), _digits(0.00365)
    ('12273', '7.377', '0.00365')
    """
    return f"{figure:.0f}" if figure >= 1000 else f"{figure:.4g}"
