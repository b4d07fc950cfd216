"""Boards side by side: how wide to rip them, what gap to leave, and what the year does to the row.

Every board is held on one line at its middle and moves half its change to either side. A joint
between faces f1 and f2 closes by s (f1 + f2)/2 when both swell by the share s, so a gap of m s F,
with F the widest face and m the margin, never pushes. Sides that do not give, those of a case,
need half a gap too, for the outer half of the end boards.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, get_args

from faywright.errors import InputError, RangeError
from faywright.timber.movement import MARGIN
from faywright.timber.verdict import above_nought
from faywright.timber.year import Expected, Swing, expected

LEAST_ENGAGEMENT = 3.0
"""Least that a tongue or a panel shall stay in its groove. Common practice, no source. [mm]"""

MOST_BOARDS = 200

_ROUNDING = 1e-9

Laid = Literal["between sides", "free sides", "glued"]
"""A row between sides that do not give, one whose outer edges are free as a door's are, or one
glued to a single panel."""

Ends = Literal["as they come", "equal ends"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowTask:
    """A finished ``width`` to fill, at the moisture of assembly. [mm]

    ``tongue`` is the length of the tongue that all boards but the last have beside their face, 0
    for loose tongues and butt joints. ``held`` is the least of a tongue that is in its groove
    while the joint is closed, None where that is all of it; ``engagement`` how much of it shall
    stay.
    """

    width: float
    swing: Swing
    tongue: float = 0.0
    held: float | None = None
    engagement: float = LEAST_ENGAGEMENT
    laid: Laid = "between sides"
    margin: float = MARGIN

    def __post_init__(self) -> None:
        """Sizes that a row can have."""
        above_nought("row of boards", width=self.width)
        if not 0 <= self.tongue < self.width:
            self._refuse(f"tongue {self.tongue:g} mm long", "Give its length, 0 for none")
        if not 1 <= self.margin <= 3:
            what = f"margin of {self.margin:g} is outside 1 to 3"
            self._refuse(what, f"Give a multiple of the expected movement, such as {MARGIN}")
        if self.laid not in get_args(Laid):
            self._refuse(
                f"{self.laid!r} is no way to lay boards", f"Use {', '.join(get_args(Laid))}"
            )

    @property
    def ready(self) -> float:
        """Gap at a joint as a share of the widest face."""
        return 0.0 if self.laid == "glued" else self.margin * self.swing.swelling

    def gaps(self, count: int) -> int:
        """Gaps in a row of ``count`` boards; half a gap at either side makes one together."""
        return {"between sides": count, "free sides": count - 1, "glued": 0}[self.laid]

    def filling(self, room: float, boards: int, widest: float, count: int) -> float:
        """Face of each of the last ``boards`` that share ``room`` with the gaps of the row. [mm]

        ``widest`` is the widest face among the others. The gap is ``ready`` times the widest of
        all, so it depends on what is looked for where that is wider; then the room is
        boards x face + gaps x ready x face.
        """
        share = self.gaps(count) * self.ready
        return min((room - share * widest) / boards, room / (boards + share))

    def _refuse(self, what: str, remedy: str) -> None:
        raise RangeError(what, where="row of boards", remedy=remedy)


@dataclass(frozen=True, slots=True)
class RowBoard:
    """A board of the row: its place in the list as given, from 1, its face and what to rip. [mm]

    ``width`` is what it measured; None for a board still to be found.
    """

    place: int
    face: float
    rip: float
    width: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RowState:
    """The row at another moisture: wood in all, overall width, and each opening from the left.

    ``sides`` are the two gaps at sides that do not give, none for other rows.
    """

    wood: Expected
    overall: Expected
    openings: tuple[Expected, ...]
    sides: tuple[Expected, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row as it is to be made. ``gap`` is that of every joint. [mm]

    ``filling`` are the boards, counted from 0, whose faces were worked out to fill what the
    others leave: each is (width - other faces - gaps) / their number. ``left_over`` are places in
    the list as given.
    """

    task: RowTask
    boards: tuple[RowBoard, ...]
    gap: float
    filling: tuple[int, ...]
    left_over: tuple[int, ...] = ()

    @property
    def faces(self) -> tuple[float, ...]:
        """Coverage of each board, from the left. [mm]"""
        return tuple(board.face for board in self.boards)

    @property
    def wood(self) -> float:
        """Width of all faces together today, the most likely one and known. [mm]"""
        return math.fsum(self.faces)

    @property
    def side_gap(self) -> float:
        """Gap to leave today at each of two sides that do not give. [mm]"""
        return self.gap / 2 if self.task.laid == "between sides" else 0.0

    @property
    def at_joints(self) -> tuple[float, ...]:
        """Wood that moves towards each joint, half of either board; none in a glued row. [mm]"""
        if self.task.laid == "glued":
            return ()
        return tuple((one + other) / 2 for one, other in pairwise(self.faces))

    def at(self, change: float) -> RowState:
        """The row after wood has changed by the share ``change`` of its size today."""
        first, last = self.faces[0], self.faces[-1]
        grows = {"between sides": 0.0, "free sides": (first + last) / 2, "glued": self.wood}
        sides = (first, last) if self.task.laid == "between sides" else ()
        return RowState(
            wood=expected(self.wood, self.wood * change),
            overall=expected(self.task.width, grows[self.task.laid] * change),
            openings=tuple(expected(self.gap, -wood * change) for wood in self.at_joints),
            sides=tuple(expected(self.side_gap, -face * change / 2) for face in sides),
        )

    @property
    def by_month(self) -> tuple[RowState, ...]:
        """The row in each month, January first."""
        return tuple(self.at(change) for change in self.task.swing.months)

    @property
    def driest(self) -> RowState:
        """The row at the driest."""
        return self.at(-self.task.swing.shrinkage)

    @property
    def wettest(self) -> RowState:
        """The row at the wettest."""
        return self.at(self.task.swing.swelling)

    @property
    def engagement(self) -> float | None:
        """Least that a tongue stays in its groove, at the driest with the margin. [mm]

        The tongue shrinks with its board. Below 0 it has come out. None where there is no tongue,
        or glue holds it.
        """
        held = self.task.tongue if self.task.held is None else self.task.held
        if not held or not self.at_joints:
            return None
        shrinks = self.task.margin * self.task.swing.shrinkage
        return held - self.gap - shrinks * (max(self.at_joints) + self.task.tongue)

    @property
    def keeps_hold(self) -> bool:
        """Whether tongues stay in as far as they shall."""
        left = self.engagement
        return left is None or left >= self.task.engagement - _ROUNDING

    @property
    def ends_alike(self) -> bool:
        """Whether the first and the last face are as wide as each other."""
        return math.isclose(self.faces[0], self.faces[-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortPile:
    """Given boards that do not fill the width.

    ``short`` is what they lack if no joint is added; ``another`` the least width of one board
    more that fills the row, 0 where any does. [mm]
    """

    task: RowTask
    widths: tuple[float, ...]
    short: float
    another: float

    @property
    def more(self) -> int | None:
        """How many boards more, as wide as the widest there is; None if ``MOST_BOARDS`` are few."""
        widest, known = max(self.widths), list(self.widths)
        for more in range(1, MOST_BOARDS):
            if _last(self.task, known) <= widest + _ROUNDING:
                return more
            known.append(widest)
        return None


def equal_row(task: RowTask, count: int) -> Row:
    """A row of ``count`` equal boards still to be ripped: face = W / (n + gaps m s).

    Raises
    ------
    RangeError
        No such number of boards.

    Examples
    --------
    >>> still = Swing(swelling=0.01, shrinkage=0.0, months=(0.0,) * 12)
    >>> row = equal_row(RowTask(width=1013.0, swing=still, tongue=8.0), 10)
    >>> round(row.faces[0], 6), round(row.gap, 6), round(row.boards[0].rip, 6)
    (100.0, 1.3, 108.0)
    """
    if not 1 <= count <= MOST_BOARDS:
        raise RangeError(
            f"count {count} boards is not between 1 and {MOST_BOARDS}",
            where="row of boards",
            remedy="Give how many boards fill the width",
        )
    face = task.filling(task.width, count, 0.0, count)
    return _row(task, [face] * count, filling=tuple(range(count)))


def fewest_boards(task: RowTask, widest: float) -> int:
    """Fewest equal boards that are ripped no wider than ``widest``, tongue included.

    Raises
    ------
    RangeError
        Nothing but tongue is left of such a board, or it would take too many.
    """
    above_nought("row of boards", widest_board=widest)
    if task.filling(task.width, 1, 0.0, 1) <= widest:
        return 1  # a single board needs no tongue
    face = widest - task.tongue
    free = task.ready if task.laid == "free sides" else 0.0  # it has one gap fewer
    share = 0.0 if face <= 0 else (task.width / face + free) / (1 + task.ready)
    if not 0 < share <= MOST_BOARDS:
        raise RangeError(
            f"boards {widest:g} mm wide with tongues of {task.tongue:g} mm do not fill "
            f"{task.width:g} mm with {MOST_BOARDS} boards",
            where="row of boards",
            remedy="Give the width of a board before it is cut, tongue included",
        )
    return max(2, math.ceil(share - _ROUNDING))


def given_row(
    task: RowTask, widths: Sequence[float], ends: Ends = "as they come"
) -> Row | ShortPile:
    """A row of boards that are there, of these ``widths`` before they are cut, in their order.

    It begins with a full board. If that leaves less than half of it for the last one, or if equal
    ends are asked for, first and last are cut alike; where one of them is too narrow for that it
    stays whole, and the other fills the row. So neither end is narrower than half the first
    board, less half a gap, unless the last board came so narrow.

    Raises
    ------
    InputError
        No boards, or one not wider than its tongue.
    """
    if not widths or not all(task.tongue < width < math.inf for width in widths):
        narrow = next((width for width in widths if not task.tongue < width < math.inf), None)
        what = "no boards are given" if narrow is None else f"a board of {narrow:g} mm"
        raise InputError(
            what,
            where="row of boards",
            remedy=f"Give widths above {task.tongue:g} mm, the length of the tongue",
        )
    for count in range(1, len(widths) + 1):
        last = _last(task, widths[: count - 1])
        if last <= widths[count - 1] + _ROUNDING:
            return _given(task, widths, count, last, ends)
    return ShortPile(
        task=task,
        widths=tuple(widths),
        short=last - widths[-1],
        another=max(0.0, _last(task, widths)),
    )


def _last(task: RowTask, before: Sequence[float]) -> float:
    """Face that the last board has to have after full boards of these widths. [mm]"""
    faces = [width - task.tongue for width in before]
    room = task.width - math.fsum(faces)
    return task.filling(room, 1, max(faces, default=0.0), len(faces) + 1)


def _given(task: RowTask, widths: Sequence[float], count: int, last: float, ends: Ends) -> Row:
    """The row of the first ``count`` boards, whose last needs a face of ``last``."""
    faces = [width - task.tongue for width in widths[:count]]
    faces[-1], first, inner = last, faces[0], faces[1:-1]
    filling: tuple[int, ...] = (count - 1,)
    if count > 1 and (ends == "equal ends" or last < first / 2):
        room = task.width - math.fsum(inner)
        both = task.filling(room, 2, max(inner, default=0.0), count)
        whole = widths[count - 1]
        if both <= min(first, whole):
            faces[0] = faces[-1] = both
            filling = (0, count - 1)
        elif both <= first:
            faces[-1] = whole
            faces[0] = task.filling(room - whole, 1, max(*inner, whole, 0.0), count)
            filling = (0,)
    return _row(task, faces, filling=filling, widths=widths)


def _row(
    task: RowTask,
    faces: Sequence[float],
    *,
    filling: tuple[int, ...],
    widths: Sequence[float] | None = None,
) -> Row:
    last = len(faces) - 1
    boards = tuple(
        RowBoard(
            place=at + 1,
            face=face,
            rip=face if at == last else face + task.tongue,
            width=None if widths is None else widths[at],
        )
        for at, face in enumerate(faces)
    )
    over = range(len(faces) + 1, len(widths) + 1) if widths is not None else ()
    gap = task.ready * max(faces)
    return Row(task=task, boards=boards, gap=gap, filling=filling, left_over=tuple(over))
