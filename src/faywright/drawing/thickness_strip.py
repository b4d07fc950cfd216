"""Boards by thickness: one row a board, the groups they fall into, and what each setting serves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import zip_longest

from faywright.drawing.apart import paragraph, shortened, spread_apart
from faywright.drawing.axis import Axis
from faywright.drawing.dimensioning import lettered
from faywright.drawing.heading import LINE, SHEET_WIDTH, SIZE, heading
from faywright.drawing.lettering import ASCENT, CAPITAL, DESCENT, text_width
from faywright.drawing.model import (
    Drawing,
    Mark,
    Text,
    Weight,
    drawing_around,
    line,
)
from faywright.drawing.pile import Pile, Run, Side, StripBoard, StripGroup
from faywright.drawing.strip_legend import BAR, Legend, open_bar, readings_bar
from faywright.errors import InputError
from faywright.lengths import LengthStyle, write_length

ALL_NAMED = 24
"""Up to so many boards every one is named at its mark."""

PITCH = 4.2
"""From row to row up to ``ALL_NAMED`` boards; beyond that the chart grows no taller. [mm]"""

LEAST_PITCH = 1.6
NAMES = 44.0
"""Room for the longest name; what is longer is shortened. [mm]"""

SETTINGS = 30.0
"""Room for a letter and the numbers of setups; what is longer is shortened. [mm]"""

LEAST_SPAN = 0.2
"""The axis shows at least this much thickness. [mm]"""

BRACKET = 1.6
SEEN = 0.4
"""Bars that lie nearer than this to each other are drawn as one. [mm]"""

BAR_WEIGHTS: tuple[Weight, Weight] = ("frame", "hidden")


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
    numbers = [number for group in groups for number in group.members]
    if not boards or not all(0 <= number < len(boards) for number in numbers):
        raise InputError(
            f"{len(boards)} boards, or a group with one that is not there",
            where=f"drawing {title!r}",
            remedy="Give at least one board, and groups by the numbers of boards",
        )
    pile = Pile(tuple(boards), tuple(groups), lambda length: write_length(length, style))
    chart = _Chart(pile, style)
    said = [part for text in (*chart.told, *notes) for part in paragraph(text, SHEET_WIDTH, SIZE)]
    marks = [
        *heading(title, chart.how_to_read, -5.0 - (LINE if any(pile.sides) else 0.0)),
        *chart.marks,
        *lettered(said, (0.0, chart.legend.foot + 1.6 * LINE), SIZE),
    ]
    return drawing_around(marks, title=title, description=" ".join((pile.described, *chart.told)))


@dataclass(frozen=True)
class _Chart:
    """Rows from y = 0 down, names from x = 0, brackets to the right of the axis."""

    pile: Pile
    style: LengthStyle

    @property
    def marks(self) -> Iterator[Mark]:
        """Bars of settings first, boards over them, then brackets, axis and legend."""
        for side, weight, _ in self._bars:
            for run in self.pile.runs(side):
                yield from self._served(run, weight)
        for row, number in enumerate(self.pile.order):
            yield from self._board(row, number)
        x = self.axis.right + 4.0
        for side in self.pile.sides:
            yield from self._brackets(side, x)
            x += self._column(side)
        yield from self.axis.marks(self.height + 2.0, "thickness")
        yield from self.legend.marks

    @property
    def how_to_read(self) -> str:
        """The line under the title."""
        told = self.pile.counted
        if len(self.pile.boards) > 1:
            told += ", the thinnest at the top"
        return told if self.pile.banded else f"{told}; thickness does not decide the fit"

    @property
    def told(self) -> tuple[str, ...]:
        """What cannot be seen at a glance: boards outside, and names left out."""
        count = len(self.pile.boards)
        if len(self.named) == count:
            return self.pile.told
        left_out = (
            f"{len(self.named)} of {count} boards are named at their marks; the others lie "
            "between them in order of thickness."
        )
        return (*self.pile.told, left_out)

    # Where things stand

    @cached_property
    def pitch(self) -> float:
        """From row to row."""
        count = len(self.pile.boards)
        labels = max((len(self.pile.runs(side)) for side in self.pile.sides), default=0)
        usual = PITCH if count <= ALL_NAMED else max(ALL_NAMED * PITCH / count, LEAST_PITCH)
        return max(usual, labels * LINE / count)

    @property
    def height(self) -> float:
        """Of all rows."""
        return self.pitch * len(self.pile.boards)

    @cached_property
    def legend(self) -> Legend:
        """Under the axis and its caption."""
        bars = tuple((weight, told) for _, weight, told in self._bars)
        return Legend(bars, self.height + 2.0 + 4 * LINE + 2.4)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Names as they are written at the rows."""
        return tuple(shortened(board.name, NAMES, SIZE) for board in self.pile.boards)

    @cached_property
    def axis(self) -> Axis:
        """From name column to brackets, wide enough for boards and bars."""
        ends = [end for board in self.pile.boards for end in (board.low, board.high)]
        ends += [end for group in self.pile.groups if group.band for end in group.band]
        low, high = min(ends), max(ends)
        spare = max(0.05 * (high - low), (LEAST_SPAN - (high - low)) / 2)
        left = max(text_width(name, SIZE) for name in self.names) + 4.0
        right = SHEET_WIDTH - 4.0 - sum(self._column(side) for side in self.pile.sides)
        return Axis(low - spare, high + spare, left, right, self.style)

    def _column(self, side: Side) -> float:
        """Room for the brackets of one side."""
        labels = [shortened(label, SETTINGS, SIZE) for label in self.pile.labels_of(side)]
        wide = [text_width(label, SIZE, bold=True) for label in labels]
        return max(*wide, text_width(f"{side}s", SIZE)) + BRACKET + 4.0

    @cached_property
    def named(self) -> frozenset[int]:
        """Rows that have room for a name: those outside first, then ends of groups."""
        runs = [run for side in self.pile.sides for run in self.pile.runs(side)]
        count = len(self.pile.order)
        first = [row for row in range(count) if self.pile.outside(self.pile.order[row])]
        first += sorted({0, count - 1, *(end for run in runs for end in (run.first, run.last))})
        chosen: list[int] = []
        room = (ASCENT + DESCENT) * SIZE + 0.2
        for row in (*first, *range(count)):
            if all(abs(row - other) * self.pitch >= room for other in chosen):
                chosen.append(row)
        return frozenset(chosen)

    @cached_property
    def _bars(self) -> list[tuple[Side, Weight, str]]:
        """Which sides have open bars of their own, how drawn, and what they stand for."""
        sides = self.pile.banded
        if len(sides) == 2 and self._alike(*sides):
            return [(sides[0], "frame", f"served by one {sides[0]} and one {sides[1]} setting")]
        told = [f"served by one {side} setting".replace("  ", " ") for side in sides]
        return list(zip(sides, BAR_WEIGHTS, told, strict=False))

    def _alike(self, one: Side, two: Side) -> bool:
        """Whether the bars of both sides would lie on each other."""

        def bars(side: Side) -> list[tuple[float, ...]]:
            runs = self.pile.runs(side)
            return [
                (run.first, run.last, *(self.axis.at(end) for end in run.group.band or ()))
                for run in runs
            ]

        pairs = list(zip_longest(bars(one), bars(two), fillvalue=()))
        return all(
            len(a) == len(b) and all(abs(x - y) < SEEN for x, y in zip(a, b, strict=True))
            for a, b in pairs
        )

    # What is drawn

    def _served(self, run: Run, weight: Weight) -> Iterator[Mark]:
        """The open bar of one setting, behind its boards."""
        if run.group.band is None:
            return
        left, right = (self.axis.at(end) for end in run.group.band)
        inset = min(0.4 if weight == "frame" else 0.9, self.pitch / 4)
        yield open_bar(
            left, run.first * self.pitch + inset, right, self._under(run) - inset, weight
        )

    def _under(self, run: Run) -> float:
        return (run.last + 1) * self.pitch

    def _board(self, row: int, number: int) -> Iterator[Mark]:
        board, y = self.pile.boards[number], (row + 0.5) * self.pitch
        left = self.axis.left
        x, low, high = (self.axis.at(v) for v in (board.thickness, board.low, board.high))
        tall = min(1.4, 0.4 * self.pitch)
        if row in self.named:
            base = y + CAPITAL * SIZE / 2
            yield Text(self.names[number], (left - 2.0, base), SIZE, anchor="end")
            if low - left > 2.0:
                yield line((left - 1.0, y), (low - 1.0, y), "hatch")
        if high - low > 1e-6:
            yield readings_bar(low, high, y, min(BAR, 0.3 * self.pitch))
        yield line((x, y - tall), (x, y + tall), "outline")

    def _brackets(self, side: Side, x: float) -> Iterator[Mark]:
        runs = self.pile.runs(side)
        middles = [(run.first + run.last + 1) / 2 * self.pitch for run in runs]
        if side:
            yield Text(f"{side}s", (x, -2.4), SIZE)
        right, inset = x + BRACKET, min(0.5, self.pitch / 5)
        places = spread_apart(middles, LINE, (LINE / 2, self.height - LINE / 2))
        for run, middle, at in zip(runs, middles, places, strict=True):
            top, foot = run.first * self.pitch + inset, self._under(run) - inset
            yield line((x, top), (right, top), "dimension")
            yield line((right, top), (right, foot), "dimension")
            yield line((right, foot), (x, foot), "dimension")
            yield line((right, middle), (right + 1.8, at), "dimension")
            label, base = shortened(run.label, SETTINGS, SIZE), at + CAPITAL * SIZE / 2
            yield Text(label, (right + 2.8, base), SIZE, emphasis="strong")
