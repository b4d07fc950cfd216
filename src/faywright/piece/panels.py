"""Rows of boards, framed panels and drawers of a piece, worked out for its climate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from faywright.errors import InputError
from faywright.joints.solution import Solution
from faywright.piece.climate_table import PieceClimate
from faywright.piece.moving import RINGS
from faywright.piece.panel_tables import WantedDrawer, WantedFramed, WantedRow
from faywright.shop.boards import Board
from faywright.timber.climate import Climate, StatedMoisture
from faywright.timber.drawers import DrawerFit
from faywright.timber.figures import shrinkage_of
from faywright.timber.finding import find_species
from faywright.timber.framed import Frame, FramedPanel, PanelRules, framed_panel
from faywright.timber.movement import Grain, Movement, across_width
from faywright.timber.rows import Row, RowTask, ShortPile, equal_row, given_row, swing
from faywright.timber.species import Species

Own = tuple[Species, ...]


@dataclass(frozen=True)
class RowPlan:
    """The boards of a joint as a row that fills a width; ``marks`` in their order."""

    name: str
    joint: str
    row: Row | ShortPile
    marks: tuple[str, ...]


@dataclass(frozen=True)
class FramedPlan:
    """A panel in a frame."""

    name: str
    panel: FramedPanel


@dataclass(frozen=True)
class DrawerPlan:
    """A drawer in its opening."""

    name: str
    fit: DrawerFit


def row_plan(wanted: WantedRow, solution: Solution, asked: PieceClimate, own: Own) -> RowPlan:
    """The row of a solved joint, in the order its boards are to stand.

    The board that moves most decides how the row moves.

    Raises
    ------
    InputError
        The joint's boards do not stand in a row, or a species is not known.
    """
    task = solution.task
    boards = list(task.grooved.boards)
    if task.strip:
        boards = list(dict.fromkeys(boards))
    elif solution.row is not None:
        boards = [boards[k] for k in solution.row]
    if wanted.joint != task.wanted.name or (solution.row is None and not task.strip):
        raise InputError(
            f"the boards of joint {wanted.joint!r} do not stand in a row",
            where=f"panel {wanted.name!r}",
            remedy="Name a joint between two edges of the boards of one part",
        )
    moves = max((_moves(board, own) for board in boards), key=lambda move: move.coefficient)
    asked_row = RowTask(
        width=wanted.width,
        swing=swing(moves, _climate(asked, boards)),
        tongue=0.0 if task.strip else task.target.length,
        laid=wanted.laid,
    )
    row: Row | ShortPile
    if wanted.count is not None:
        row = equal_row(asked_row, wanted.count)
    else:
        row = given_row(asked_row, [board.width for board in boards], wanted.ends or "as they come")
    return RowPlan(wanted.name, wanted.joint, row, tuple(board.mark for board in boards))


def framed_plan(wanted: WantedFramed, asked: PieceClimate, own: Own) -> FramedPlan:
    """The largest panel that never bottoms in its frame.

    Raises
    ------
    InfeasibleError
        No panel both stays in its grooves and has room in them.
    """
    panel = framed_panel(
        Frame(
            opening_width=wanted.opening_width,
            opening_height=wanted.opening_height,
            groove_depth=wanted.groove_depth,
        ),
        swing(_named(wanted.species, wanted.rings, wanted.name, own), asked.climate),
        grain=wanted.grain,
        rules=PanelRules(engagement=wanted.engagement),
    )
    return FramedPlan(wanted.name, panel)


def drawer_plan(wanted: WantedDrawer, asked: PieceClimate, own: Own) -> DrawerPlan:
    """The drawer that still runs at the wettest."""
    fit = DrawerFit(
        opening_width=wanted.opening_width,
        opening_height=wanted.opening_height,
        swing=swing(_named(wanted.species, wanted.rings, wanted.name, own), asked.climate),
    )
    return DrawerPlan(wanted.name, fit)


def _climate(asked: PieceClimate, boards: Sequence[Board]) -> Climate:
    """The climate with the boards as moist as meters read, where assembly is not given."""
    given = [board.moisture for board in boards if board.moisture is not None]
    if asked.assembly_stated or not given:
        return asked.climate
    return replace(asked.climate, assembly=StatedMoisture(sum(given) / len(given)))


def _moves(board: Board, own: Own) -> Movement:
    rings = RINGS if board.rings is None else board.rings
    return _named(board.species, rings, f"board {board.mark}", own)


def _named(species: str, rings: Grain | float, where: str, own: Own) -> Movement:
    try:
        return across_width(shrinkage_of(find_species(species, own)), rings)
    except InputError as error:
        raise InputError(error.what, where=where, remedy=error.remedy) from None
