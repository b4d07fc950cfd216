"""How much clearance each pair of boards comes out with, beside the band of its fit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from faywright.drawing.apart import paragraph, shortened
from faywright.drawing.axis import Axis
from faywright.drawing.clearance_counts import Counts
from faywright.drawing.dimensioning import lettered
from faywright.drawing.heading import LINE, SIZE, TITLE_SIZE, heading
from faywright.drawing.lettering import BOLD_STRETCH, CAPITAL, text_width
from faywright.drawing.model import Drawing, Mark, Outline, Text, drawing_around, line
from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.plan import JointPlan
from faywright.piece.words import counted, writer

Floats = NDArray[np.float64]

WIDTH = 153.0
"""All there is across, so that the chart with its margins is 165 mm wide. [mm]"""

ALL_NAMED = 24
"""Up to so many pairs each has a row; more are counted by their clearance."""

MOST_TOLD = 8
"""So many pairs outside the band are named one by one."""

PITCH = 4.6
NAMES = 46.0
"""Room for the names of a pair; what is longer is shortened. [mm]"""

TICK, CAP = 1.5, 0.7
"""Half of the stroke that marks a pair, and of that at the end of its bar. [mm]"""

LEAST_SPAN = 0.1
"""The axis shows at least so much clearance. [mm]"""

ALLOWED_BEYOND = 1e-5
"""Rounding of a limit. [mm]"""

AIM = "aim"


@dataclass(frozen=True, eq=False)
class Clearances:
    """Clearance per side of each named pair, at the printed settings. [mm]

    ``expanded`` is the uncertainty of each, k = 2; ``band`` the least and most that fits, ``aim``
    what is wanted.
    """

    names: tuple[str, ...]
    mean: Floats
    expanded: Floats
    band: tuple[float, float]
    aim: float

    def __post_init__(self) -> None:
        """There are pairs, each with its clearance and how well that is known."""
        sizes = {len(self.names), len(self.mean), len(self.expanded)}
        if sizes != {len(self.names)} or not self.names or not self.band[0] < self.band[1]:
            raise InputError(
                f"{len(self.names)} names, {len(self.mean)} clearances and {len(self.expanded)} "
                f"uncertainties in a band from {self.band[0]:g} to {self.band[1]:g} mm",
                where="clearances of a joint",
                remedy="Give one of each for every pair, and the lower limit first",
            )

    @cached_property
    def order(self) -> tuple[int, ...]:
        """Numbers of the pairs, the tightest first."""
        return tuple(sorted(range(len(self.names)), key=lambda k: (float(self.mean[k]), k)))

    @cached_property
    def beyond(self) -> Floats:
        """How far each is beyond the band; below 0 under it, 0 within. [mm]"""
        return self.mean - np.clip(self.mean, *self.band)

    @cached_property
    def sure(self) -> int:
        """How many stay in the band with all of their uncertainty."""
        low, high = self.band[0] - ALLOWED_BEYOND, self.band[1] + ALLOWED_BEYOND
        within = (self.mean - self.expanded >= low) & (self.mean + self.expanded <= high)
        return int(np.count_nonzero(within))


def clearances(joint: JointPlan, *, style: LengthStyle) -> Drawing:
    """The clearance of every pair of boards of a joint, as it comes out at the printed settings.

    Up to ``ALL_NAMED`` pairs each has a row, more are counted. The open bar is the band of the
    fit, the dashed line its aim; what lies outside is named under the chart.
    """
    solution, task = joint.solution, joint.task
    one, other = task.grooved.labels, task.tongued.labels
    pairs = zip(solution.first, solution.second, strict=True)
    found = Clearances(
        names=tuple(f"{other[second]} in {one[first]}" for first, second in pairs),
        mean=joint.budget.mean,
        expanded=joint.budget.expanded,
        band=solution.band,
        aim=task.target.play / 2,
    )
    return clearance_chart(found, title=f"{joint.wanted.name}: clearances", style=style)


def clearance_chart(found: Clearances, *, title: str, style: LengthStyle) -> Drawing:
    """``found`` against an axis in the maker's units, with what it comes to in words."""
    chart = _Chart(found, style)
    head = shortened(title, WIDTH / BOLD_STRETCH, TITLE_SIZE)
    said = [part for told in chart.told for part in paragraph(told, WIDTH, SIZE)]
    marks = [
        *heading(head, chart.how_to_read, -2.6 - LINE),
        *chart.marks,
        *lettered(said, (0.0, chart.height + 2.0 + 4.2 * LINE), SIZE),
    ]
    return drawing_around(marks, title=title, description=" ".join((*chart.told, chart.extremes)))


@dataclass(frozen=True)
class _Chart:
    """Rows or columns from y = 0 down, names from x = 0, the axis under them."""

    found: Clearances
    style: LengthStyle

    @property
    def marks(self) -> Iterator[Mark]:
        """The band, the aim, the pairs, and the axis."""
        low, high = (self.axis.at(end) for end in self.found.band)
        foot = self.height
        yield Outline(((low, 0.0), (high, 0.0), (high, foot), (low, foot)), "frame")
        aim = self.axis.at(self.found.aim)
        yield Text(AIM, (aim, -1.2), SIZE, anchor="middle")
        yield line((aim, 0.0), (aim, foot), "hidden")
        yield from self._rows if self.counts is None else self.counts.marks
        yield from self.axis.marks(foot + 2.0, "clearance per side")

    @cached_property
    def counts(self) -> Counts | None:
        """Columns, where there are too many pairs for a row each."""
        if len(self.found.names) <= ALL_NAMED:
            return None
        return Counts(self.found.mean, float(self.found.expanded.max()), self.axis)

    @property
    def how_to_read(self) -> str:
        """The line under the title."""
        told = counted(len(self.found.names), "pair")
        if self.counts is not None:
            return f"{told}, counted by clearance"
        return f"{told}, the tightest at the top" if len(self.found.names) > 1 else told

    @property
    def height(self) -> float:
        """Of all rows, or of the columns."""
        return PITCH * len(self.found.names) if self.counts is None else self.counts.height

    @cached_property
    def axis(self) -> Axis:
        """From the names to the right, with all bars and the band on it."""
        found = self.found
        ends = [*found.band, found.aim]
        ends += [float((found.mean - found.expanded).min())]
        ends += [float((found.mean + found.expanded).max())]
        low, high = min(ends), max(ends)
        spare = max(0.05 * (high - low), (LEAST_SPAN - (high - low)) / 2)
        room = text_width(AIM, SIZE)
        left = room if len(found.names) > ALL_NAMED else max(map(self._wide, found.names)) + 4.0
        # So little is never written as a fraction.
        style = LengthStyle("decimal inch") if self.style.style == "fraction inch" else self.style
        return Axis(low - spare, high + spare, max(left, 12.0), WIDTH - room, style)

    @property
    def _rows(self) -> Iterator[Mark]:
        """A stroke for each pair on the bar of its uncertainty."""
        found, left = self.found, self.axis.left
        for row, number in enumerate(found.order):
            y = (row + 0.5) * PITCH
            base = y + CAPITAL * SIZE / 2
            name = shortened(found.names[number], NAMES, SIZE)
            yield Text(name, (left - 2.0, base), SIZE, anchor="end")
            mean, out = float(found.mean[number]), float(found.expanded[number])
            x = self.axis.at(mean)
            yield line((x, y - TICK), (x, y + TICK), "outline")
            low, high = self.axis.at(mean - out), self.axis.at(mean + out)
            if high - low > 1e-6:
                yield line((low, y), (high, y), "outline")
                for end in (low, high):
                    yield line((end, y - CAP), (end, y + CAP), "outline")

    @property
    def told(self) -> tuple[str, ...]:
        """The result, what lies outside, and what the marks mean."""
        return (self._result, *self._outside, self._legend)

    @property
    def extremes(self) -> str:
        """The tightest and the loosest pair, for those who cannot see the chart."""
        found = self.found
        least, most = found.order[0], found.order[-1]
        if least == most:
            return f"{found.names[least]}: {self._write(float(found.mean[least]))}."
        return (
            f"Tightest {self._write(float(found.mean[least]))}, {found.names[least]}; "
            f"loosest {self._write(float(found.mean[most]))}, {found.names[most]}."
        )

    @property
    def _result(self) -> str:
        count, sure = len(self.found.names), self.found.sure
        inside = count - len(self._out)
        low, high = (self._write(end) for end in self.found.band)
        who = f"{inside} of {count} pairs" if count > 1 else ("The pair" if inside else "No pair")
        lie = "lies" if inside == 1 or count == 1 else "lie"
        stay = f"{sure} of them" if sure < inside else ("it" if inside == 1 else "all of them")
        kept = f"{stay} even with the uncertainty" if sure else "none with the uncertainty"
        within = f"{who} {lie} within the band of the fit, {low} to {high}"
        return f"{within}; {kept}." if inside else f"{within}."

    @cached_property
    def _out(self) -> list[int]:
        """Pairs outside the band by more than is written as nothing, the tightest first."""
        nothing = self._write(0.0)
        return [k for k in self.found.order if self._write(abs(self.found.beyond[k])) != nothing]

    @property
    def _outside(self) -> Iterator[str]:
        """Each pair outside by name, those with the same to say together."""
        worst = sorted(self._out, key=lambda k: -abs(float(self.found.beyond[k])))[:MOST_TOLD]
        said: dict[str, list[str]] = {}
        for number in (k for k in self._out if k in worst):
            by = float(self.found.beyond[number])
            told = f"{self._write(abs(by))} {'above' if by > 0 else 'below'} the band"
            said.setdefault(told, []).append(self.found.names[number])
        for told, names in said.items():
            yield f"{', '.join(names)}: {told}."
        if left_out := len(self._out) - len(worst):
            yield f"{left_out} more outside by no more than these."

    @property
    def _legend(self) -> str:
        """What the marks stand for."""
        what = "Each stroke is a pair, its bar" if self.counts is None else "The bar at the top is"
        return (
            f"Open bar: the band. Dashed line: the aim, {self._write(self.found.aim)}. {what} the "
            "expanded uncertainty (k = 2) at the printed settings"
            + ("." if self.counts is None else " of the pair known least.")
        )

    def _wide(self, name: str) -> float:
        return text_width(shortened(name, NAMES, SIZE), SIZE)

    def _write(self, length: float) -> str:
        return writer(self.style)(length)
