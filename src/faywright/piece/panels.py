"""Rows of boards, framed panels and drawers of a piece, worked out for its climate."""

from __future__ import annotations

from dataclasses import dataclass, replace

from faywright.errors import InfeasibleError, InputError
from faywright.joints.solution import Solution
from faywright.piece.climate_table import PieceClimate
from faywright.piece.moving import RINGS
from faywright.piece.panel_tables import WantedDrawer, WantedFramed, WantedRow, row_of
from faywright.shop.boards import Board
from faywright.timber.climate import MONTHS, Moisture, StatedMoisture
from faywright.timber.drawers import DrawerFit
from faywright.timber.figures import shrinkage_of
from faywright.timber.finding import find_species
from faywright.timber.framed import Frame, FramedPanel, PanelRules, framed_panel
from faywright.timber.movement import Grain, across_width
from faywright.timber.names import words_of
from faywright.timber.rows import LEAST_ENGAGEMENT, Row, RowTask, ShortPile, equal_row, given_row
from faywright.timber.species import Species
from faywright.timber.year import Swing, swing, swing_of_all

Own = tuple[Species, ...]

STILL = Swing(swelling=0.0, shrinkage=0.0, months=(0.0,) * len(MONTHS))
"""Sheets, which are taken not to move."""

SHEETS = frozenset({"plywood", "ply", "multiplex", "mdf", "hardboard", "chipboard", "osb"})
"""Words by which sheet material is known."""


@dataclass(frozen=True)
class RowPlan:
    """The boards of a joint as a row that fills a width.

    ``marks`` and ``widths`` [mm] are of all its boards, in their order; ``assembled`` is their
    mean moisture on the day of assembly [%], ``equal_ends`` whether its ends were to be alike.
    """

    name: str
    joint: str
    row: Row | ShortPile
    marks: tuple[str, ...]
    widths: tuple[float, ...]
    assembled: float
    equal_ends: bool = False

    @property
    def lacking(self) -> int:
        """How many boards of the row are not listed."""
        return 0 if isinstance(self.row, ShortPile) else len(self.row.boards) - len(self.widths)

    @property
    def too_narrow(self) -> tuple[str, ...]:
        """Marks of boards from which the row's equal boards cannot be ripped."""
        if isinstance(self.row, ShortPile) or self.row.boards[0].width is not None:
            return ()
        rips = zip(self.marks, self.widths, self.row.boards, strict=False)
        return tuple(mark for mark, width, board in rips if width < board.rip)

    @property
    def settled(self) -> bool:
        """Whether nothing is left to decide before cutting."""
        if isinstance(self.row, ShortPile):
            return False
        unlike = self.equal_ends and not self.row.ends_alike
        return self.row.keeps_hold and not (self.lacking > 0 or self.too_narrow or unlike)


@dataclass(frozen=True)
class FramedPlan:
    """A panel in a frame."""

    name: str
    panel: FramedPanel
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True)
class DrawerPlan:
    """A drawer in its opening."""

    name: str
    fit: DrawerFit
    remarks: tuple[str, ...] = ()


def row_plan(wanted: WantedRow, solution: Solution, asked: PieceClimate, own: Own) -> RowPlan:
    """The row of a solved joint, in the order its boards are to stand.

    Gaps are ready for the board that moves most; what to expect is that of all boards together.

    Raises
    ------
    InputError
        The joint's boards do not stand in a row, or a species is not known.
    """
    task = solution.task
    row_of(wanted, task.wanted)
    boards = list(task.grooved.boards)
    if task.strip:
        boards = list(dict.fromkeys(boards))
    elif solution.row is not None:
        boards = [boards[k] for k in solution.row]
    moistures = [_assembled(asked, board) for board in boards]
    swings = [
        (_board_swing(board, asked, moisture, own), board.width)
        for board, moisture in zip(boards, moistures, strict=True)
    ]
    moving, target = task.moving, task.target
    asked_row = RowTask(
        width=wanted.width,
        swing=swing_of_all(swings),
        tongue=0.0 if task.strip else target.length,
        held=2 * target.length - target.depth if task.strip else None,
        engagement=LEAST_ENGAGEMENT if moving is None else moving.engagement,
        laid=wanted.laid,
    )
    row: Row | ShortPile
    if wanted.count is not None:
        row = equal_row(asked_row, wanted.count)
    else:
        row = given_row(asked_row, [board.width for board in boards], wanted.ends or "as they come")
    return RowPlan(
        wanted.name,
        wanted.joint,
        row,
        marks=tuple(board.mark for board in boards),
        widths=tuple(board.width for board in boards),
        assembled=sum(each.moisture for each in moistures) / len(moistures),
        equal_ends=wanted.ends == "equal ends",
    )


def framed_plan(wanted: WantedFramed, asked: PieceClimate, own: Own) -> FramedPlan:
    """The largest panel that never bottoms in its frame.

    Raises
    ------
    InfeasibleError
        No panel both stays in its grooves and has room in them.
    """
    where = f"framed panel {wanted.name!r}"
    species = _solid(wanted.species, where, own)
    frame = Frame(
        opening_width=wanted.opening_width,
        opening_height=wanted.opening_height,
        groove_depth=wanted.groove_depth,
    )
    try:
        panel = framed_panel(
            frame,
            _swing(species, wanted.rings, asked, where),
            grain=wanted.grain,
            rules=PanelRules(engagement=wanted.engagement),
        )
    except InfeasibleError as error:
        raise InfeasibleError(error.what, where=where, remedy=error.remedy) from None
    return FramedPlan(wanted.name, panel, species.remarks)


def drawer_plan(wanted: WantedDrawer, asked: PieceClimate, own: Own) -> DrawerPlan:
    """The drawer that still runs at the wettest."""
    where = f"drawer {wanted.name!r}"
    species = _solid(wanted.species, where, own)
    fit = DrawerFit(
        opening_width=wanted.opening_width,
        opening_height=wanted.opening_height,
        swing=_swing(species, wanted.rings, asked, where),
    )
    return DrawerPlan(wanted.name, fit, species.remarks)


def _assembled(asked: PieceClimate, board: Board) -> Moisture:
    """How moist a board is at assembly: as a meter read it, where assembly is not given."""
    if asked.assembly_stated or board.moisture is None:
        return asked.climate.assembly
    return StatedMoisture(board.moisture)


def _board_swing(board: Board, asked: PieceClimate, moisture: Moisture, own: Own) -> Swing:
    if board.timber == "sheet":
        return STILL
    where = f"board {board.mark}"
    rings = RINGS if board.rings is None else board.rings
    its_own = replace(asked, climate=replace(asked.climate, assembly=moisture))
    return _swing(_found(board.species, where, own), rings, its_own, where)


def _swing(species: Species, rings: Grain | float, asked: PieceClimate, where: str) -> Swing:
    try:
        return swing(across_width(shrinkage_of(species), rings), asked.climate)
    except InputError as error:
        raise InputError(error.what, where=where, remedy=error.remedy) from None


def _solid(name: str, where: str, own: Own) -> Species:
    """A species by its name; sheet material is none, and needs no room to move."""
    try:
        return _found(name, where, own)
    except InputError:
        if not SHEETS.isdisjoint(words_of(name)):
            raise InputError(
                f"{name!r} is sheet material, which is taken not to move",
                where=where,
                remedy="Cut it to fit its place, and leave this table out",
            ) from None
        raise


def _found(name: str, where: str, own: Own) -> Species:
    try:
        return find_species(name, own)
    except InputError as error:
        raise InputError(error.what, where=where, remedy=error.remedy) from None
