"""Where the error of a fit comes from, and how it compares with the room there is for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from faywright.drawing.apart import shortened
from faywright.drawing.axis import Axis
from faywright.drawing.hatching import Hatch
from faywright.drawing.heading import SHEET_WIDTH, SIZE, heading
from faywright.drawing.lettering import CAPITAL, text_width
from faywright.drawing.model import Drawing, Mark, Outline, Text, drawing_around, line
from faywright.errors import RangeError
from faywright.fit.chance import Budget
from faywright.lengths import LengthStyle, write_length

WORDS = 62.0
"""Room for the words of a source; what is longer is shortened. [mm]"""

MOST_BARS = 6
LEAST_SHARE = 0.01
"""Sources beyond ``MOST_BARS``, or with a smaller share than this, go into the rest."""

REST = "the rest"
BAND = "band of the fit"
PITCH, BAR = 5.6, 3.4
SAME = 1e-5
"""Rounding of a limit. [mm]"""

NUMBER = 16.0
"""Room for the percent behind the longest bar. [mm]"""


def error_bars(
    budget: Budget, band: tuple[float, float], *, title: str, style: LengthStyle
) -> Drawing:
    """Shares of the variance as bars, and the errors of all joints together beside ``band``.

    ``band`` is the least and most clearance per side [mm]. Each line runs from the joint that
    comes out least to the one that comes out most: as planned, with the expanded uncertainty
    (k = 2) and with every error at its limit.

    Raises
    ------
    RangeError
        The limits of the band are the wrong way about.
    """
    if not band[0] < band[1]:
        raise RangeError(
            f"a band from {band[0]:g} to {band[1]:g} mm",
            where=f"drawing {title!r}",
            remedy="Give the lower limit first",
        )
    sheet = _Sheet(budget, band, style)
    marks = [
        *heading(title, sheet.caption, 0.0),
        *sheet.bars,
        *sheet.lines,
    ]
    return drawing_around(marks, title=title, description=sheet.described)


def parted(shares: tuple[tuple[str, float], ...]) -> tuple[tuple[str, float], ...]:
    """The largest shares first, small ones summed as the rest; nothing where there is no error.

    Examples
    --------
    >>> parted((("height", 0.7), ("cutter", 0.292), ("lift", 0.005), ("fence", 0.003)))
    (('height', 0.7), ('cutter', 0.292), ('the rest', 0.008))
    """
    large = [share for share in shares[:MOST_BARS] if share[1] >= LEAST_SHARE]
    small = [value for _, value in shares[len(large) :] if value > 0]
    if len(small) == 1:
        return tuple(share for share in shares if share[1] > 0)
    return (*large, *([(REST, round(sum(small), 12))] if small else []))


@dataclass(frozen=True)
class _Sheet:
    """Bars from y = 0 down, the lines under them; words from x = 0."""

    budget: Budget
    band: tuple[float, float]
    style: LengthStyle

    @cached_property
    def shares(self) -> tuple[tuple[str, float], ...]:
        return parted(self.budget.shares)

    @cached_property
    def spans(self) -> tuple[tuple[str, tuple[float, float]], ...]:
        """What each line is called, and its ends over all joints. [mm]"""
        mean = self.budget.mean
        return tuple(
            (told, (float((mean - out).min()), float((mean + out).max())))
            for told, out in (
                ("mean of each joint", 0 * mean),
                ("expanded, k = 2", self.budget.expanded),
                ("worst case", self.budget.worst),
            )
        )

    @property
    def caption(self) -> str:
        """What the bars show."""
        return "share of the variance" if self.shares else "no source of error reaches this fit"

    @property
    def described(self) -> str:
        """The chart in words, for those who cannot see it."""
        shares = "; ".join(f"{source} {_percent(share)}" for source, share in self.shares)
        lines = ". ".join(
            f"{told}: {self._write(span[0])} to {self._write(span[1])}, {self.verdict(span)}"
            for told, span in self.spans
        )
        return f"Share of the variance: {shares or 'no error'}. Band {self._limits}. {lines}."

    def verdict(self, span: tuple[float, float]) -> str:
        """Whether a line stays within the band, in words."""
        below, above = self.band[0] - span[0], span[1] - self.band[1]
        out = [
            f"{self._write(by)} {where}"
            for by, where in ((below, "below"), (above, "above"))
            if by > 0 and self._write(by) != self._write(0.0)
        ]
        if out:
            return f"{' and '.join(out)} the band"
        return "within the band" if max(below, above) < SAME else "just beyond the band"

    @property
    def bars(self) -> Iterator[Mark]:
        """Words, an open hatched bar as long as the share, and the percent at its end."""
        if not self.shares:
            return
        left, full = self.left, SHEET_WIDTH - NUMBER - self.left
        for k, (source, share) in enumerate(self.shares):
            y = self._bar_row(k)
            base = y + CAPITAL * SIZE / 2
            top, foot, right = y - BAR / 2, y + BAR / 2, left + max(full * share, 0.3)
            yield Text(shortened(source, WORDS, SIZE), (left - 2.0, base), SIZE, anchor="end")
            corners = ((left, top), (right, top), (right, foot), (left, foot))
            yield Outline(corners, "frame", Hatch(45.0, 1.2))
            yield Text(_percent(share), (right + 1.6, base), SIZE)
        yield line((left, 2.0), (left, self._bar_row(len(self.shares)) - PITCH / 2), "frame")

    def _bar_row(self, k: int) -> float:
        return 4.4 + PITCH * (k + 0.5)

    @cached_property
    def left(self) -> float:
        """Where bars and lines start, behind the longest words."""
        words = [shortened(source, WORDS, SIZE) for source, _ in self.shares]
        words += [told for told, _ in self.spans] + [BAND]
        return max(text_width(each, SIZE) for each in words) + 2.0

    @property
    def _limits(self) -> str:
        low, high = self.band
        return f"{self._write(low)} to {self._write(high)}"

    @cached_property
    def axis(self) -> Axis:
        """Clearance per side, 0 included: below it the joint grips."""
        ends = [*self.band, 0.0, *(end for _, span in self.spans for end in span)]
        spare = 0.04 * (max(ends) - min(ends))
        told = [self._limits, *(self.verdict(span) for _, span in self.spans)]
        right = SHEET_WIDTH - max(text_width(each, SIZE) for each in told) - 3.0
        return Axis(min(ends) - spare, max(ends) + spare, self.left, right, self.style)

    @property
    def lines(self) -> Iterator[Mark]:
        """The band as an open bar, the lines under it, and their axis."""
        top = self._bar_row(len(self.shares)) + 8.0
        yield Text("clearance per side, all joints together", (0.0, top - 3.2), SIZE)
        low, high = (self.axis.at(end) for end in self.band)
        foot = top + PITCH * (len(self.spans) + 1)
        yield Outline(((low, top), (high, top), (high, foot), (low, foot)), "frame")
        rows = [(BAND, self.band, self._limits)]
        rows += [(told, span, self.verdict(span)) for told, span in self.spans]
        for k, (told, span, verdict) in enumerate(rows):
            y = top + PITCH * (k + 0.5)
            base = y + CAPITAL * SIZE / 2
            yield Text(told, (self.left - 2.0, base), SIZE, anchor="end")
            if k > 0:
                yield from self._line(span, y)
            yield Text(verdict, (self.axis.right + 3.0, base), SIZE)
        yield from self.axis.marks(foot + 2.0, "clearance per side")

    def _line(self, span: tuple[float, float], y: float) -> Iterator[Mark]:
        low, high = (self.axis.at(end) for end in span)
        if high - low > 1e-6:
            yield line((low, y), (high, y), "outline")
        for x in (low, high):
            yield line((x, y - 1.2), (x, y + 1.2), "outline")

    def _write(self, length: float) -> str:
        return write_length(length, self.style)


def _percent(share: float) -> str:
    return "under 1 %" if share < 0.005 else f"{100 * share:.0f} %"
