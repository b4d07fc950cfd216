"""How much will this timber move? The common question, answered from published figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.values import Reader, UnreadError, length
from faywright.piece.wood_values import RINGS, STATE, Rings
from faywright.piece.words import MILLIMETRES, Write
from faywright.timber.climate import Air, Room, StatedMoisture, rooms
from faywright.timber.figures import shrinkage_of
from faywright.timber.finding import find_species
from faywright.timber.measures import Value
from faywright.timber.movement import (
    COVERAGE,
    RING_ANGLES,
    SHRINKAGE_VARIATION,
    Movement,
    across_thickness,
    across_width,
)
from faywright.timber.species import Species

FORMAT = "faywright timber 1"

T = TypeVar("T")
D = TypeVar("D")

State = Air | StatedMoisture

MOVES: tuple[Value, ...] = ("c_radial", "c_tangential", "shrink_radial", "shrink_tangential")
"""What is published of how timber moves."""

MOST = COVERAGE * SHRINKAGE_VARIATION
"""Share by which 19 boards in 20 move more or less than told."""


@dataclass(frozen=True, kw_only=True)
class Question:
    """A board of a width [mm] that goes from one moisture to another; ``rings`` None for all."""

    species: Species
    start: State
    end: State
    width: float
    rings: Rings | None = None
    style: LengthStyle = MILLIMETRES

    @property
    def ways(self) -> tuple[Rings, ...]:
        """How the board may be sawn."""
        return tuple(RING_ANGLES) if self.rings is None else (self.rings,)

    def width_change(self, rings: Rings) -> float:
        """By how much the width grows, below 0 where it shrinks. [mm]"""
        return self._change(across_width(shrinkage_of(self.species), rings), self.width)

    def thickness_share(self, rings: Rings) -> float:
        """By how much its thickness grows, as a part of it."""
        return self._change(across_thickness(shrinkage_of(self.species), rings), 1.0)

    def _change(self, movement: Movement, size: float) -> float:
        return size * movement.share(self.start.moisture, self.end.moisture)


@dataclass(frozen=True, slots=True)
class Move:
    """What one way of sawing does: growth of the width [mm], of the thickness as a share of it.

    ``least`` and ``most`` hold 19 boards in 20, without sign. [mm]
    """

    rings: Rings
    change: float
    least: float
    most: float
    thickness_share: float

    @property
    def sawn(self) -> str:
        """How the board was sawn, in words."""
        return sawn(self.rings)

    def said(self, write: Write) -> str:
        """What the width does, in words."""
        if self.change == 0:
            return "keeps its width"
        return f"{'grows' if self.change > 0 else 'shrinks'} {write(abs(self.change))}"


def moves(asked: Question) -> tuple[Move, ...]:
    """What the board does, for each way it may be sawn."""
    found = []
    for rings in asked.ways:
        change = asked.width_change(rings)
        least, most = sorted(abs(change) * share for share in (1 - MOST, 1 + MOST))
        found.append(Move(rings, change, least, most, asked.thickness_share(rings)))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class RoomMove:
    """A room to start from, and how far a board moves in it from driest to wettest. [mm]"""

    room: Room
    moves: tuple[Move, ...]


def room_moves(asked: Question) -> tuple[RoomMove, ...]:
    """What each room does to the board, whatever the question says of start and end."""
    found = []
    for room in rooms().values():
        dry, wet = (StatedMoisture(each.moisture) for each in (room.driest, room.wettest))
        found.append(RoomMove(room, moves(replace(asked, start=dry, end=wet))))
    return tuple(found)


def question(
    species: str,
    *,
    start: str | None,
    end: str | None,
    width: str,
    rings: str | None,
    own: Sequence[Species],
) -> Question:
    """What was asked on the command line, read; answers are in the unit the width has.

    Without ``start`` and ``end`` the board goes from the driest to the wettest month of the first
    room.

    Raises
    ------
    InputError
        Something cannot be read, or only one end is given.
    """
    if (start is None) != (end is None):
        missing = "--from" if start is None else "--to"
        raise InputError("only one end is given", where=missing, remedy="Give both, or neither")
    room = next(iter(rooms().values()))
    return Question(
        species=find_species(species, own),
        start=_read(STATE, start, "--from", StatedMoisture(room.driest.moisture)),
        end=_read(STATE, end, "--to", StatedMoisture(room.wettest.moisture)),
        width=_wide(width),
        rings=_read(RINGS, rings, "--rings", None),
        style=MILLIMETRES if _metric(width) else LengthStyle("decimal inch"),
    )


def _wide(text: str) -> float:
    found = _read(length("mm"), text, "--width", 0.0)
    if not found > 0:
        raise InputError(
            f"a board {text.strip()} wide is none",
            where="--width",
            remedy='Give its width above 0, as "120 mm" or "8 in"',
        )
    return found


def _metric(width: str) -> bool:
    return not any(sign in width for sign in ("in", "ft", "thou", '"', "'"))


def _read(reader: Reader[T], text: str | None, where: str, otherwise: D) -> T | D:
    if text is None:
        return otherwise
    try:
        return reader.read(text)
    except UnreadError as unread:
        raise InputError(unread.what, where=where, remedy=unread.remedy) from None


def answer_lines(asked: Question, write: Write) -> Iterator[str]:
    """The answer in words, lengths by ``write``."""
    species = asked.species
    botanical = f" ({species.botanical})" if species.botanical else ""
    yield f"{species.name}{botanical}"
    yield f"  {from_to(asked)}"
    for move in moves(asked):
        yield (
            f"  {move.sawn}, {write(asked.width)} wide: {move.said(write)} "
            f"({write(move.least)} to {write(move.most)}, 19 boards in 20); thickness "
            f"{100 * move.thickness_share:+.2f} %"
        )
    yield from _figures(asked)


def _figures(asked: Question) -> Iterator[str]:
    """What the answer stands on, where it was printed, and what to know of it."""
    species = asked.species
    yield f"  {basis(asked)}"
    for value in MOVES:
        found = species.value(value)
        if found is not None:
            yield f"  {value} {found:g}: {species.source_of(value)}"
    for remark in species.remarks:
        yield f"  Note, {remark}."


def from_to(asked: Question) -> str:
    """The two airs or moistures, and what the wood comes to in them."""
    start, end = asked.start.moisture, asked.end.moisture
    return f"from {_told(asked.start)} to {_told(asked.end)}: moisture {start:.1f} to {end:.1f} %"


def _told(state: State) -> str:
    if isinstance(state, Air):
        return f"air of {state.temperature_c:g} C and {state.humidity_pct:g} %"
    return f"{state.moisture:g} %"


def sawn(rings: Rings) -> str:
    """A way of sawing, in words."""
    return f"{rings}-sawn" if isinstance(rings, str) else f"rings at {rings:g} degrees"


def basis(asked: Question) -> str:
    """Which figures answer: of both directions, where all ways of sawing are asked for."""
    rings = "rift" if asked.rings is None else asked.rings
    return across_width(shrinkage_of(asked.species), rings).basis


def room_lines(asked: Question, write: Write) -> Iterator[str]:
    """What each room to start from does to the board, from its driest to its wettest month."""
    yield f"{asked.species.name}, {write(asked.width)} wide, through the year"
    for each in room_moves(asked):
        dry, wet = each.room.driest, each.room.wettest
        moved = ", ".join(f"{move.sawn} {write(move.change)}" for move in each.moves)
        yield (
            f"  {each.room.name}: {dry.moisture:.1f} % ({dry.name}) to {wet.moisture:.1f} % "
            f"({wet.name}), it moves by {moved}"
        )
    yield from _figures(asked)
    yield '  The rooms are invented; give --from and --to for your own air, as "20 C 45 %".'


def answer_json(asked: Question) -> dict[str, Any]:
    """The answer for programs: lengths in mm, moisture in percent of dry mass."""
    return {
        "format": FORMAT,
        "species": asked.species.name,
        "botanical": asked.species.botanical or None,
        "moisture_from_percent": round(asked.start.moisture, 3),
        "moisture_to_percent": round(asked.end.moisture, 3),
        "width_mm": asked.width,
        "boards": [
            {
                "rings": rings,
                "width_grows_mm": round(asked.width_change(rings), 4),
                "width_grows_uncertainty_mm": round(
                    SHRINKAGE_VARIATION * abs(asked.width_change(rings)), 4
                ),
                "thickness_grows_share": round(asked.thickness_share(rings), 6),
            }
            for rings in asked.ways
        ],
        "basis": basis(asked),
        "sources": {
            value: asked.species.source_of(value)
            for value in MOVES
            if asked.species.value(value) is not None
        },
        "remarks": list(asked.species.remarks),
    }
