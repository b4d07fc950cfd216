"""How the boards of a joint move in the climate of the piece: species and air become ratios."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, partial

import numpy as np
from numpy.typing import NDArray

from faywright.errors import InputError
from faywright.joints.moving import Moment, Moving, SideChange
from faywright.joints.wanted import WantedJoint
from faywright.joints.work import Work
from faywright.piece.climate_table import PieceClimate
from faywright.shop.boards import Board
from faywright.timber.figures import shrinkage_of
from faywright.timber.finding import find_species
from faywright.timber.movement import Grain, Movement, across_thickness, across_width
from faywright.timber.rows import LEAST_ENGAGEMENT
from faywright.timber.species import Species

Floats = NDArray[np.float64]
Own = tuple[Species, ...]

RINGS: Grain = "flat"
"""How a board is taken to be sawn that does not say: most are, and it moves most in width."""

PER_PERCENT = 1.0
"""Step of moisture over which rates are taken. [%]"""


def moving_of(
    asked: PieceClimate, wanted: WantedJoint, grooved: Work, tongued: Work, own: Own
) -> Moving:
    """The moments of a joint: its assembly, and its room when driest and when wettest.

    Sizes and moistures count from the day of cutting; a board with a meter reading of its own is
    as moist as that. Sheet material is taken not to move (common practice, no source: plywood
    moves about a tenth of what solid timber does).

    Raises
    ------
    InputError
        A board has no species, or one that is not known, ambiguous, or without figures.
    """
    sides = (_Side(asked, grooved, own), _Side(asked, tongued, own))

    def moment(name: str, to: Callable[[_Side], Floats]) -> Moment:
        moistures = [to(side) for side in sides]
        changes = [side.change(each) for side, each in zip(sides, moistures, strict=True)]
        return Moment(name, changes[0], changes[1], np.concatenate(moistures))

    room = asked.climate.room
    seasons = tuple(
        moment(f"{word} ({season.name})", partial(_Side.all_at, moisture=season.moisture))
        for word, season in (("driest", room.driest), ("wettest", room.wettest))
    )
    return Moving(
        assembly=moment("assembly", lambda side: side.assembled),
        seasons=seasons,
        rates=(sides[0].rate(), sides[1].rate()),
        drift=asked.drift,
        engagement=LEAST_ENGAGEMENT if wanted.engagement is None else wanted.engagement,
        remarks=tuple(dict.fromkeys(each for side in sides for each in side.remarks)),
    )


class _Side:
    """The boards of one side, and how each of their sizes follows moisture."""

    def __init__(self, asked: PieceClimate, work: Work, own: Own) -> None:
        cutting = asked.climate.machining.moisture
        given = [board.moisture for board in work.boards]
        self.start = np.array([cutting if each is None else each for each in given])
        self.assembled = self.start
        if asked.assembly_stated:
            self.assembled = np.full(len(self.start), asked.climate.assembly.moisture)
        species = [_species(board, work, own) for board in work.boards]
        self._moves = [
            (None, None) if each is None else _directions(board, work, each)
            for board, each in zip(work.boards, species, strict=True)
        ]
        self.remarks = [said for each in species if each is not None for said in each.remarks]

    def change(self, moisture: Floats) -> SideChange:
        """The sides' changes of size from cutting to a moisture, board by board."""
        columns = [
            [
                0.0 if move is None else _share(move, start, end)
                for move, start, end in zip(moves, self.start, moisture, strict=True)
            ]
            for moves in zip(*self._moves, strict=True)
        ]
        return SideChange(np.array(columns[0]), np.array(columns[1]))

    def all_at(self, *, moisture: float) -> Floats:
        """Every board at the same moisture."""
        return np.full(len(self.start), moisture)

    def rate(self) -> SideChange:
        """The changes for one percent of moisture, taken below that at cutting.

        Above it wood may be saturated, and not move.
        """
        drier = self.change(self.start - PER_PERCENT)
        return SideChange(-drier.across, -drier.deep)


@lru_cache(maxsize=4096)
def _share(move: Movement, start: float, end: float) -> float:
    """Boards of one timber and moisture are many, and a page asks for all of them again."""
    return move.share(start, end)


Directions = tuple[Movement | None, Movement | None]


def _species(board: Board, work: Work, own: Own) -> Species | None:
    """The timber of a board; None for sheets, which are taken not to move."""
    if board.timber == "sheet":
        return None
    if not board.species:
        raise InputError(
            f"board {board.mark} has no species, and a climate is given",
            where=f"part {work.place.part!r}",
            remedy='Write species = "..." for the part, or leave out [climate]',
        )
    try:
        return find_species(board.species, own)
    except InputError as error:
        raise _of(board, work, error) from None


def _directions(board: Board, work: Work, species: Species) -> Directions:
    """How a board moves across and deep in a joint; None along the grain."""
    try:
        shrinkage = shrinkage_of(species)
        rings = RINGS if board.rings is None else board.rings
        thickness, width = across_thickness(shrinkage, rings), across_width(shrinkage, rings)
    except InputError as error:
        raise _of(board, work, error) from None
    if work.on_face:
        return width, thickness
    return thickness, None if work.end_grain else width


def _of(board: Board, work: Work, error: InputError) -> InputError:
    """The same fault, and whose it is."""
    place = f"board {board.mark} of part {work.place.part!r}"
    return InputError(error.what, where=place, remedy=error.remedy)
