"""How zeros and cutters drifted: what each trial left believed of them, one panel an unknown."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from statistics import NormalDist

from faywright.drawing.apart import shortened
from faywright.drawing.axis import SMALL_TICK
from faywright.drawing.heading import LINE, SIZE, TITLE_SIZE, heading
from faywright.drawing.lettering import BOLD_STRETCH, CAPITAL, text_width
from faywright.drawing.model import Drawing, Mark, Outline, Text, drawing_around, line
from faywright.drawing.season_panel import BESIDE_TICK, Scale
from faywright.drawing.season_year import span
from faywright.errors import InputError
from faywright.lengths import LengthStyle, write_length
from faywright.trials.memory import DriftPoint

WIDTH = 153.0
"""All there is across, so that the chart with its margins is 165 mm wide. [mm]"""

TALL = 18.0
"""How tall the bars of a panel may grow. [mm]"""

LEAST_SPAN = 0.1
"""A panel shows at least so much. [mm]"""

DOT, CAP = 0.8, 0.7
"""Half of what marks a mean, and of the stroke at the end of a bar. [mm]"""

MOST = 30
"""Events that are shown, the latest; each has to find room for its bars."""

SHARPENED = "S"
LISTED = "listed"
REACH = NormalDist().inv_cdf(0.95)
"""Standard deviations from the mean to either end of what holds 9 in 10."""


@dataclass(frozen=True, slots=True)
class Event:
    """A trial by its number, or a sharpening without one, and its day."""

    on: datetime.date
    trial: int | None

    @property
    def label(self) -> str:
        """What stands under it."""
        return SHARPENED if self.trial is None else str(self.trial)

    @property
    def told(self) -> str:
        """In words."""
        what = "sharpened" if self.trial is None else f"trial {self.trial}"
        return f"{what} on {self.on}"


@dataclass(frozen=True, slots=True)
class Drifted:
    """One unknown: its name, what it is where it lies above nought, and its points by event."""

    name: str
    more: str
    points: tuple[tuple[int, DriftPoint], ...]


def drift_chart(
    drifted: Sequence[Drifted], events: Sequence[Event], *, title: str, style: LengthStyle
) -> Drawing:
    """A dot for what was believed after each event, on a bar that holds it 9 times in 10.

    All is counted from what the shop file lists, the dashed line. After a sharpening the dot is
    open: the cutter was measured anew. Only the last ``MOST`` events find room.

    Raises
    ------
    InputError
        There is nothing to show, or a point is of no event.
    """
    if not drifted or not all(each.points for each in drifted):
        raise InputError(
            "nothing has been learned yet that could be drawn",
            where=f"drawing {title!r}",
            remedy="Draw it after the first trial",
        )
    if not all(0 <= at < len(events) for each in drifted for at, _ in each.points):
        raise InputError(
            "a point is of no event", where=f"drawing {title!r}", remedy="Give its event too"
        )
    chart = _Chart(tuple(drifted), tuple(events), style)
    short = shortened(title, WIDTH / BOLD_STRETCH, TITLE_SIZE)
    marks = [*heading(short, chart.caption, 0.0), *chart.marks]
    return drawing_around(marks, title=title, description=chart.described)


@dataclass(frozen=True)
class _Chart:
    """Panels from y = 0 down, over one row of events."""

    drifted: tuple[Drifted, ...]
    events: tuple[Event, ...]
    style: LengthStyle

    @property
    def caption(self) -> str:
        """What is shown, and in what unit."""
        unit = "mm" if self.style.style == "mm" else "in"
        told = f"dot: mean, bar: 9 times in 10; {unit} from what the shop file lists"
        return f"{told}; {SHARPENED}: sharpened" if self._any_sharpened else told

    @property
    def _any_sharpened(self) -> bool:
        return any(event.trial is None for event in self.events[self.first :])

    @property
    def first(self) -> int:
        """The first event that is shown."""
        return max(0, len(self.events) - MOST)

    @cached_property
    def shown(self) -> tuple[Drifted, ...]:
        """Unknowns with points among the events that are shown."""
        kept = (
            Drifted(each.name, each.more, tuple(p for p in each.points if p[0] >= self.first))
            for each in self.drifted
        )
        return tuple(each for each in kept if each.points)

    @property
    def marks(self) -> Iterator[Mark]:
        """Each panel under its name, and the events under the last."""
        for each, scale in zip(self.shown, self._scales, strict=True):
            told = shortened(f"{each.name}; up: {each.more}", WIDTH, SIZE)
            yield Text(told, (0.0, scale.top - 3.4), SIZE)
            yield from self._frame(scale)
            for at, point in each.points:
                yield from self._bar(scale, at, point)
        yield from self._feet(self._scales[-1].foot + 2.0)

    @cached_property
    def _scales(self) -> tuple[Scale, ...]:
        found, top = [], LINE + 6.0
        for each in self.shown:
            ends = [0.0, *(end for _, point in each.points for end in bounds(point))]
            found.append(Scale(*span(ends, LEAST_SPAN), top, top + TALL, self.style))
            top += TALL + 2.0 + LINE + 8.0
        return tuple(found)

    @cached_property
    def left(self) -> float:
        """Where panels start, behind their numbers."""
        numbers = [label for scale in self._scales for _, label in scale.ticks]
        return max(text_width(each, SIZE) for each in numbers) + SMALL_TICK + BESIDE_TICK

    @cached_property
    def right(self) -> float:
        """Where panels end, before the word for their nought."""
        return WIDTH - text_width(LISTED, SIZE) - 2.0

    def x(self, at: int) -> float:
        """Where an event stands."""
        count = len(self.events) - self.first
        return self.left + (at - self.first + 0.5) * (self.right - self.left) / count

    def _frame(self, scale: Scale) -> Iterator[Mark]:
        top, foot, nought = scale.top - 2.0, scale.foot + 2.0, scale.y(0.0)
        yield line((self.left, top), (self.left, foot), "frame")
        yield line((self.left, foot), (self.right, foot), "frame")
        yield line((self.left, nought), (self.right, nought), "hidden")
        yield Text(LISTED, (self.right + 1.6, nought + CAPITAL * SIZE / 2), SIZE)
        for at in range(self.first, len(self.events)):
            yield line((self.x(at), foot), (self.x(at), foot + SMALL_TICK), "frame")
        for y, label in scale.ticks:
            yield line((self.left - SMALL_TICK, y), (self.left, y), "frame")
            base = y + CAPITAL * SIZE / 2
            yield Text(label, (self.left - SMALL_TICK - BESIDE_TICK, base), SIZE, anchor="end")

    def _bar(self, scale: Scale, at: int, point: DriftPoint) -> Iterator[Mark]:
        x, y = self.x(at), scale.y(point.mean)
        low, high = (scale.y(end) for end in bounds(point))
        anew = self.events[at].trial is None
        if low - high > 2 * DOT:
            # Left out where the dot is, which may be open.
            yield line((x, low), (x, y + DOT), "outline")
            yield line((x, y - DOT), (x, high), "outline")
            for end in (low, high):
                yield line((x - CAP, end), (x + CAP, end), "outline")
        corners = ((x - DOT, y), (x, y - DOT), (x + DOT, y), (x, y + DOT))
        yield Outline(corners, "frame", solid=not anew)

    def _feet(self, foot: float) -> Iterator[Mark]:
        """Numbers of trials, and under them each new day, as many as there is room for."""
        base = foot + SMALL_TICK + 1.0 + CAPITAL * SIZE
        day, free, free_day = None, -1.0, -1.0
        for at in range(self.first, len(self.events)):
            event, x = self.events[at], self.x(at)
            wide = text_width(event.label, SIZE)
            if x - wide / 2 >= free:
                yield Text(event.label, (x, base), SIZE, anchor="middle")
                free = x + wide / 2 + 1.2
            start = max(0.0, min(x - text_width(str(event.on), SIZE) / 2, self.right - 14.0))
            if event.on != day and start >= free_day:
                yield Text(str(event.on), (start, base + LINE), SIZE)
                day, free_day = event.on, start + text_width(str(event.on), SIZE) + 2.0
        yield Text("trial", (self.right + 1.6, base), SIZE)

    @property
    def described(self) -> str:
        """The chart in words, for those who cannot see it."""
        said = [
            f"{each.name[0].upper()}{each.name[1:]}, from what is listed: "
            f"{'; '.join(self._said(at, point, each.more) for at, point in each.points)}."
            for each in self.shown
        ]
        if self.first:
            said.append(f"The first {self.first} trials and sharpenings are left out.")
        return " ".join(said)

    def _said(self, at: int, point: DriftPoint, more: str) -> str:
        low, high = bounds(point)
        return (
            f"{self.events[at].told} {self._write(point.mean)} {more}, "
            f"9 times in 10 from {self._write(low)} to {self._write(high)}"
        )

    def _write(self, length: float) -> str:
        return write_length(length, self.style)


def bounds(point: DriftPoint) -> tuple[float, float]:
    """Ends of what holds 9 in 10. [mm]"""
    return point.mean - REACH * point.sd, point.mean + REACH * point.sd
