"""Boards by thickness: one row a board, the groups they fall into, and what each setting serves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from typing import Literal, NamedTuple

from faywright.drawing.apart import paragraph, shortened, spread_apart
from faywright.drawing.axis import Axis
from faywright.drawing.dimensioning import LEADING, lettered
from faywright.drawing.lettering import ASCENT, CAPITAL, DESCENT, text_width
from faywright.drawing.model import (
    Drawing,
    Mark,
    Outline,
    Text,
    Weight,
    check_text,
    drawing_around,
    line,
)
from faywright.errors import InputError, RangeError
from faywright.lengths import LengthStyle, write_length

SIZE = 2.6
TITLE_SIZE = 4.6
SHEET_WIDTH = 190.0

ALL_NAMED = 24
"""Up to so many boards every one is named at its mark."""

PITCH = 4.2
"""From row to row up to ``ALL_NAMED`` boards; beyond that the chart grows no taller. [mm]"""

LEAST_PITCH = 1.6
NAMES = 44.0
"""Room for the longest name; what is longer is shortened. [mm]"""

LEAST_SPAN = 0.2
"""The axis shows at least this much thickness. [mm]"""

BRACKET = 1.6
"""How far a bracket reaches back towards its rows. [mm]"""

LINE = LEADING * SIZE
BAR_WEIGHTS: tuple[Weight, Weight] = ("frame", "hidden")
Side = Literal["", "groove", "tongue"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StripBoard:
    """One board: its thickness as reckoned with, the readings' least and greatest. [mm]

    ``over`` is by how much it is too thick for its setting (below 0: too thin), 0 where it fits.
    """

    name: str
    thickness: float
    low: float
    high: float
    over: float = 0.0

    def __post_init__(self) -> None:
        """Thickness lies among finite readings above 0."""
        check_text(self.name, where="name of a board")
        if not 0 < self.low <= self.thickness <= self.high < float("inf"):
            raise RangeError(
                f"{self.thickness:g} mm is not between its readings, "
                f"{self.low:g} to {self.high:g} mm",
                where=f"board {self.name}",
                remedy="Give the least and greatest reading its thickness was taken from",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class StripGroup:
    """Boards (by number) that share settings; ``band`` is what these serve, None for all. [mm]"""

    members: tuple[int, ...]
    setting: str = ""
    band: tuple[float, float] | None = None
    side: Side = ""

    def __post_init__(self) -> None:
        """A group has boards, and its band two ends in order."""
        if not self.members or (self.band is not None and not self.band[0] < self.band[1]):
            raise InputError(
                f"{len(self.members)} boards, served {self.band}",
                where="group of boards",
                remedy="Give at least one board, and the lower end of the band first",
            )


class _Run(NamedTuple):
    """Rows next to each other that belong to one group."""

    group: StripGroup
    letter: str
    first: int
    last: int


def thickness_strip(
    boards: Sequence[StripBoard],
    groups: Sequence[StripGroup],
    *,
    title: str,
    style: LengthStyle,
    notes: Sequence[str] = (),
) -> Drawing:
    """``boards`` from thin to thick against an axis in the maker's units.

    Groups are bracketed and lettered from the thinnest; those of the two sides of a joint stand
    in two columns. What lies outside its setting is told in words under the chart, before
    ``notes``.

    Raises
    ------
    InputError
        There are no boards, or a group has one that is not there.
    """
    numbers = [
        number for group in groups for number in (*group.members, *([] if group.members else [-1]))
    ]
    if not boards or not all(0 <= number < len(boards) for number in numbers):
        raise InputError(
            f"{len(boards)} boards, or a group with one that is not there",
            where=f"drawing {title!r}",
            remedy="Give at least one board, and groups by the numbers of boards",
        )
    chart = _Chart(tuple(boards), tuple(groups), style)
    told = chart.told
    marks = [
        Text(title, (0.0, -16.0), TITLE_SIZE, emphasis="strong"),
        Text(chart.subtitle, (0.0, -11.0), SIZE),
        *chart.marks,
        *lettered(
            [part for text in (*told, *notes) for part in paragraph(text, SHEET_WIDTH, SIZE)],
            (0.0, chart.foot + 2.2 * LINE),
            SIZE,
        ),
    ]
    return drawing_around(marks, title=title, description=" ".join((chart.described, *told)))


@dataclass(frozen=True)
class _Chart:
    """Rows from y = 0 down, names from x = 0, brackets to the right of the axis."""

    boards: tuple[StripBoard, ...]
    groups: tuple[StripGroup, ...]
    style: LengthStyle

    @cached_property
    def order(self) -> tuple[int, ...]:
        """Numbers of boards from thin to thick."""
        return tuple(sorted(range(len(self.boards)), key=lambda k: (self.boards[k].thickness, k)))

    @cached_property
    def pitch(self) -> float:
        count = len(self.boards)
        if count <= ALL_NAMED:
            tight = max(len(self._runs_of(side)) for side in ("", *self.sides)) * LINE / count
            return max(PITCH, tight)
        return max(ALL_NAMED * PITCH / count, LEAST_PITCH)

    @property
    def height(self) -> float:
        return self.pitch * len(self.boards)

    @cached_property
    def sides(self) -> tuple[Side, ...]:
        """The sides that have groups, in the order they are given."""
        return tuple(dict.fromkeys(group.side for group in self.groups))

    @cached_property
    def letters(self) -> dict[int, str]:
        """The letter of each group: A for the thinnest of its side."""
        found: dict[int, str] = {}
        for side in self.sides:
            own = [k for k, group in enumerate(self.groups) if group.side == side]
            own.sort(key=lambda k: min(self.boards[b].thickness for b in self.groups[k].members))
            found |= {k: _letter(place) for place, k in enumerate(own)}
        return found

    @property
    def subtitle(self) -> str:
        """How to read the rows."""
        count = len(self.boards)
        boards = "1 board" if count == 1 else f"{count} boards, the thinnest at the top"
        bands = any(group.band is not None for group in self.groups)
        return boards if bands else f"{boards}; their thickness does not decide the fit"

    @property
    def described(self) -> str:
        """The chart in words, for those who cannot see it."""
        least, most = self.boards[self.order[0]], self.boards[self.order[-1]]
        parts = [
            f"{len(self.boards)} boards by thickness, from {least.name} at "
            f"{self._write(least.thickness)} to {most.name} at {self._write(most.thickness)}."
        ]
        for k, group in enumerate(self.groups):
            names = ", ".join(self.boards[b].name for b in group.members)
            label = " ".join(filter(None, (group.side, self._label(k))))
            parts.append(f"{label}: {names}.".capitalize() if group.side else f"{label}: {names}.")
        return " ".join(parts)

    @property
    def told(self) -> tuple[str, ...]:
        """What cannot be seen at a glance: boards outside, and names left out."""
        out: dict[str, list[str]] = {}
        for k in self.order:
            what = self._outside(k)
            if what:
                out.setdefault(what, []).append(self.boards[k].name)
        lines = [f"{', '.join(names)}: {what}." for what, names in out.items()]
        left_out = len(self.boards) - len(self.named)
        if left_out:
            lines.append(
                f"{len(self.named)} of {len(self.boards)} boards are named; the others lie "
                "between them."
            )
        return tuple(lines)

    def _outside(self, number: int) -> str:
        board = self.boards[number]
        if board.over:
            what = "thick" if board.over > 0 else "thin"
            return f"{self._write(abs(board.over))} too {what} for the setting"
        for group in self.groups:
            if number in group.members and group.band is not None:
                low, high = group.band
                if not low - 1e-9 <= board.thickness <= high + 1e-9:
                    return "outside the open bar; the board it meets makes up for it"
        return ""

    def _write(self, length: float) -> str:
        return write_length(length, self.style)

    # Where things stand -------------------------------------------------------------------

    @cached_property
    def shown_names(self) -> tuple[str, ...]:
        """Names as they are written at the rows."""
        return tuple(shortened(board.name, NAMES, SIZE) for board in self.boards)

    @cached_property
    def axis(self) -> Axis:
        """From name column to brackets, wide enough for boards and bars."""
        ends = [end for board in self.boards for end in (board.low, board.high)]
        ends += [end for group in self.groups if group.band for end in group.band]
        low, high = min(ends), max(ends)
        spare = max(0.06 * (high - low), (LEAST_SPAN - (high - low)) / 2)
        left = max(text_width(name, SIZE) for name in self.shown_names) + 4.0
        right = SHEET_WIDTH - sum(self._column(side) for side in self.sides)
        return Axis(low - spare, high + spare, left, right, self.style)

    def _column(self, side: Side) -> float:
        """Room for the brackets of one side."""
        own = [k for k, group in enumerate(self.groups) if group.side == side]
        wide = [text_width(self._label(k), SIZE, bold=True) for k in own]
        return max(*wide, text_width(f"{side}s", SIZE), 0.0) + BRACKET + 7.0

    def _label(self, group: int) -> str:
        return "  ".join(filter(None, (self.letters[group], self.groups[group].setting)))

    def row(self, place: int) -> float:
        """Middle of a row."""
        return (place + 0.5) * self.pitch

    @property
    def foot(self) -> float:
        """Under the axis and its caption and the legend."""
        return self.height + 2.0 + 4 * LINE + 5.0

    @cached_property
    def named(self) -> frozenset[int]:
        """Rows that have room for a name: those outside first, then ends of groups."""
        ends = {place for run in self.runs for place in (run.first, run.last)}
        count = len(self.order)
        first = [p for p in range(count) if self._outside(self.order[p])]
        first += sorted(ends | {0, count - 1})
        chosen: list[int] = []
        room = (ASCENT + DESCENT) * SIZE + 0.2
        for place in (*first, *range(count)):
            if all(abs(place - other) * self.pitch >= room for other in chosen):
                chosen.append(place)
        return frozenset(chosen)

    @cached_property
    def runs(self) -> tuple[_Run, ...]:
        """Stretches of rows of one group, side by side."""
        return tuple(run for side in self.sides for run in self._runs_of(side))

    def _runs_of(self, side: Side) -> list[_Run]:
        of = {
            board: k
            for k, group in enumerate(self.groups)
            if group.side == side
            for board in group.members
        }
        runs, place = [], 0
        for k, rows in groupby(self.order, key=of.get):
            last = place + len(list(rows)) - 1
            if k is not None:
                runs.append(_Run(self.groups[k], self._label(k), place, last))
            place = last + 1
        return runs

    # What is drawn ------------------------------------------------------------------------

    @property
    def marks(self) -> Iterator[Mark]:
        """Bars of settings first, boards over them, then brackets, axis and legend."""
        for side, weight in zip(self.sides, BAR_WEIGHTS, strict=False):
            for run in self._runs_of(side):
                yield from self._bar(run, weight, inset=0.5 if weight == "frame" else 1.0)
        for place, number in enumerate(self.order):
            yield from self._board(place, number)
        x = self.axis.right + 4.0
        for side in self.sides:
            yield from self._brackets(side, x)
            x += self._column(side)
        yield from self.axis.marks(self.height + 2.0, "thickness")
        yield from self._legend(self.height + 2.0 + 4 * LINE + 3.0)

    def _bar(self, run: _Run, weight: Weight, inset: float) -> Iterator[Mark]:
        if run.group.band is None:
            return
        left, right = (self.axis.at(end) for end in run.group.band)
        inset = min(inset, self.pitch / 4)
        top, foot = run.first * self.pitch + inset, (run.last + 1) * self.pitch - inset
        yield Outline(((left, top), (right, top), (right, foot), (left, foot)), weight)

    def _board(self, place: int, number: int) -> Iterator[Mark]:
        board, y = self.boards[number], self.row(place)
        left = self.axis.left
        x, low, high = (self.axis.at(v) for v in (board.thickness, board.low, board.high))
        tall = min(1.4, 0.38 * self.pitch)
        if place in self.named:
            base = y + CAPITAL * SIZE / 2
            yield Text(self.shown_names[number], (left - 2.0, base), SIZE, anchor="end")
            if low - left > 2.0:
                yield line((left - 1.0, y), (low - 1.0, y), "hatch")
        if high - low > 1e-6:
            yield line((low, y), (high, y), "dimension")
        yield line((x, y - tall), (x, y + tall), "outline")

    def _brackets(self, side: Side, x: float) -> Iterator[Mark]:
        runs = self._runs_of(side)
        middles = [(run.first + run.last + 1) / 2 * self.pitch for run in runs]
        if side:
            yield Text(f"{side}s", (x, -2.6), SIZE)
        tips = spread_apart(middles, LINE)
        for run, middle, at in zip(runs, middles, tips, strict=True):
            inset = min(0.5, self.pitch / 5)
            top, foot = run.first * self.pitch + inset, (run.last + 1) * self.pitch - inset
            right = x + BRACKET
            for start, end in (
                ((x, top), (right, top)),
                ((right, top), (right, foot)),
                ((right, foot), (x, foot)),
                ((right, middle), (right + 2.0, at)),
            ):
                yield line(start, end, "dimension")
            base = at + CAPITAL * SIZE / 2
            yield Text(run.letter, (right + 3.0, base), SIZE, emphasis="strong")

    def _legend(self, y: float) -> Iterator[Mark]:
        """Small samples, and what they stand for."""
        x, middle = 0.0, y - CAPITAL * SIZE / 2
        yield line((x, middle), (x + 7.0, middle), "dimension")
        yield line((x + 3.5, middle - 1.4), (x + 3.5, middle + 1.4), "outline")
        told = "thickness as reckoned, and its readings from least to greatest"
        yield Text(told, (x + 8.5, y), SIZE)
        x += 8.5 + text_width(told, SIZE) + 6.0
        for side, weight in zip(self.sides, BAR_WEIGHTS, strict=False):
            if all(run.group.band is None for run in self._runs_of(side)):
                continue
            yield Outline(
                (
                    (x, middle - 1.4),
                    (x + 7, middle - 1.4),
                    (x + 7, middle + 1.4),
                    (x, middle + 1.4),
                ),
                weight,
            )
            told = f"served by one {side} setting" if side else "served by one setting"
            yield Text(told, (x + 8.5, y), SIZE)
            x += 8.5 + text_width(told, SIZE) + 6.0


def _letter(place: int) -> str:
    """A to Z, then AA, AB and so on."""
    letters = ""
    place += 1
    while place:
        place, last = divmod(place - 1, 26)
        letters = chr(65 + last) + letters
    return letters
