"""What the seasons do to a row of boards or a panel: its moisture and its size, month by month."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from faywright.drawing.apart import shortened
from faywright.drawing.axis import SMALL_TICK
from faywright.drawing.heading import LINE, SIZE, TITLE_SIZE, heading
from faywright.drawing.lettering import BOLD_STRETCH, CAPITAL, text_width
from faywright.drawing.model import Drawing, Mark, Text, drawing_around
from faywright.drawing.season_panel import BESIDE, BESIDE_TICK, STRIP, Level, Panel, Scale
from faywright.drawing.season_year import Course, Said, Year, listed, span
from faywright.lengths import LengthStyle, write_length
from faywright.timber.climate import MONTHS

WIDTH = 153.0
"""All there is across, so that the chart with its margins is 165 mm wide. [mm]"""

LEAST_SPAN, LEAST_MOISTURE_SPAN = 0.2, 2.0
"""An axis shows at least so much. [mm, %]"""

FREE = "width if free to move"

PERCENT = LengthStyle("mm", 1)
"""An axis of moisture has plain decimal numbers, as one of millimetres has."""

UPPER, LOWER = 12.8, 22.0
"""How tall the curves may grow. [mm]"""


def season_chart(year: Year, *, style: LengthStyle) -> Drawing:
    """Two panels over one row of months: moisture above, opening of the joints or width below.

    The hatched band holds 19 boards in 20. Dashed lines and open marks tell of the day of
    assembly, a chain line where the tongue leaves its groove.
    """
    chart = _Chart(year, style)
    title = shortened(year.title, WIDTH / BOLD_STRETCH, TITLE_SIZE)
    marks = [*heading(title, "moisture of the wood, % of dry mass", 0.0), *chart.marks]
    return drawing_around(marks, title=year.title, description=chart.described)


@dataclass(frozen=True)
class _Chart:
    """Moisture from y = 0 down, its caption's baseline, and what moves under it."""

    year: Year
    style: LengthStyle

    @property
    def marks(self) -> Iterator[Mark]:
        """Panels, the caption between them, and the names of the months."""
        yield from self.upper.marks
        yield Text(self.caption, (0.0, self.lower.top - 1.8), SIZE)
        yield from self.lower.marks
        base = self.lower.foot + SMALL_TICK + 1.0 + CAPITAL * SIZE
        for month, name in enumerate(MONTHS):
            yield Text(name[:3], (self.lower.x(month), base), SIZE, anchor="middle")

    @property
    def caption(self) -> str:
        """What the lower panel shows."""
        unit = "mm" if self.style.style == "mm" else "in"
        what, of = ("opening of each joint", "boards") if self.year.joints else (FREE, self.year.of)
        return f"{what}, {unit}" + (f"; hatched: 19 {of} in 20" if self.lower.banded else "")

    @cached_property
    def upper(self) -> Panel:
        """Moisture."""
        moisture = self.year.moisture
        said = Said(moisture, "wettest", "driest", _percent)
        course, scale = Course(moisture, moisture, moisture), self._scales[0]
        return Panel(course, scale, (self._today,), said, self._day, *self._ends)

    @cached_property
    def lower(self) -> Panel:
        """What moves."""
        course = self.year.shown
        return Panel(course, self._scales[1], self._levels, self._said, self._day, *self._ends)

    @property
    def _day(self) -> int | None:
        return self.year.assembly_month_index

    @property
    def _said(self) -> Said:
        return Said(self.year.shown.mean, "widest", "narrowest", self._size)

    @cached_property
    def _scales(self) -> tuple[Scale, Scale]:
        year = self.year
        moistures = span([*year.moisture, year.assembly_moisture], LEAST_MOISTURE_SPAN)
        top = 1.8 + STRIP
        under = top + UPPER + 2 * STRIP + SMALL_TICK + 1.0 + LINE + 1.8
        return (
            Scale(*moistures, top, top + UPPER, PERCENT),
            Scale(*span(year.sizes, LEAST_SPAN), under, under + LOWER, self.style),
        )

    @property
    def _today(self) -> Level:
        moisture = self.year.assembly_moisture
        return Level(moisture, "day", (self.year.when, f"at {_percent(moisture)}"))

    @property
    def _levels(self) -> tuple[Level, ...]:
        below = ("below: too tight",) if self._lacks(min(self.year.shown.low)) else ()
        return tuple(
            Level(value, kind, (told, *(below if kind == "closed" else (self._write(value),))))
            for kind, told, value in self.year.levels
        )

    @cached_property
    def _ends(self) -> tuple[float, float]:
        """Where the panels start and end: between the numbers and the words of the levels."""
        numbers = [label for scale in self._scales for _, label in scale.ticks]
        words = [told for level in (self._today, *self._levels) for told in level.lines]
        left = max(text_width(each, SIZE) for each in numbers) + SMALL_TICK + BESIDE_TICK
        return left, WIDTH - BESIDE - max(text_width(each, SIZE) for each in words)

    @property
    def described(self) -> str:
        """The chart in words, for those who cannot see it."""
        day = "" if self._day is None else f" in {MONTHS[self._day]}"
        what = "Opening of each joint" if self.year.joints else FREE.capitalize()
        said = [
            self.upper.said.in_full("Moisture of the wood"),
            f"{self.year.when.capitalize()}{day} at {_percent(self.year.assembly_moisture)}.",
            self._said.in_full(what),
            *self._ranges(),
        ]
        return " ".join(said)

    def _ranges(self) -> Iterator[str]:
        """How far the band goes, and in which months it reaches where it should not."""
        low, high = self.year.shown.low, self.year.shown.high
        if self.lower.banded:
            yield f"19 in 20 lie between {self._size(min(low))} and {self._size(max(high))}."
        for kind, told, value in self.year.levels:
            if kind == "day":
                yield f"{told.capitalize()}: {self._write(value)}."
            elif kind == "limit":
                leaving = [month for month in range(12) if high[month] >= value]
                yield f"The tongue leaves its groove at {self._write(value)}."
                yield (
                    f"Some may come so far {listed(leaving)}." if leaving else "None comes so far."
                )
            elif tight := [month for month in range(12) if self._lacks(low[month])]:
                yield f"Some may be too tight {listed(tight)}."

    def _lacks(self, size: float) -> bool:
        """Whether an opening is written as one below 0."""
        return self._write(size).startswith("-")

    def _size(self, size: float) -> str:
        """A width, or an opening, which is room that is lacking where it is below 0."""
        return f"{self._write(-size)} too tight" if self._lacks(size) else self._write(size)

    def _write(self, length: float) -> str:
        return write_length(length, self.style)


def _percent(moisture: float) -> str:
    return f"{moisture:.1f} %"
