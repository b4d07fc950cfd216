"""Where the error of a fit comes from, and how it compares with the room there is for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from faywright.drawing.apart import shortened
from faywright.drawing.axis import Axis
from faywright.drawing.dimensioning import LEADING
from faywright.drawing.hatching import Hatch
from faywright.drawing.lettering import CAPITAL, text_width
from faywright.drawing.model import Drawing, Mark, Outline, Text, drawing_around, line
from faywright.errors import RangeError
from faywright.fit.chance import Budget
from faywright.lengths import LengthStyle, write_length

SIZE = 2.6
TITLE_SIZE = 4.6
SHEET_WIDTH = 190.0
WORDS = 62.0
"""Room for the words of a source; what is longer is shortened. [mm]"""

MOST_BARS = 6
LEAST_SHARE = 0.01
"""Sources beyond ``MOST_BARS``, or with a smaller share than this, go into the rest."""

REST = "the rest"
PITCH, BAR = 5.6, 3.4
LINE = LEADING * SIZE
NUMBER = 16.0
"""Room for the percent behind the longest bar. [mm]"""

SAME = 0.0005
"""Less than this beyond the band is no more than rounding. [mm]"""


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
        Text(title, (0.0, -8.0), TITLE_SIZE, emphasis="strong"),
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
    def described(self) -> str:
        """The chart in words, for those who cannot see it."""
        shares = "; ".join(f"{source} {_percent(share)}" for source, share in self.shares)
        low, high = (self._write(end) for end in self.band)
        lines = ". ".join(
            f"{told}: {self._write(span[0])} to {self._write(span[1])}, {self.verdict(span)}"
            for told, span in self.spans
        )
        return f"Share of the variance: {shares or 'no error'}. Band {low} to {high}. {lines}."

    def verdict(self, span: tuple[float, float]) -> str:
        """Whether a line stays within the band, in words."""
        below, above = self.band[0] - span[0], span[1] - self.band[1]
        out = [
            f"{self._write(by)} {where}"
            for by, where in ((below, "below"), (above, "above"))
            if by > SAME
        ]
        return f"{' and '.join(out)} the band" if out else "within the band"

    @property
    def bars(self) -> Iterator[Mark]:
        """Words, an open hatched bar as long as the share, and the percent at its end."""
        if not self.shares:
            yield Text("no source of error reaches this fit", (0.0, 0.0), SIZE)
            return
        yield Text("share of the variance", (0.0, 0.0), SIZE)
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
        words += [told for told, _ in self.spans] + [self._band_told]
        return max(text_width(each, SIZE) for each in words) + 2.0

    @property
    def _band_told(self) -> str:
        return "band of the fit"

    @cached_property
    def axis(self) -> Axis:
        """Clearance per side, nothing included: a joint that grips is not far from one that fits."""
        ends = [*self.band, 0.0, *(end for _, span in self.spans for end in span)]
        spare = 0.04 * (max(ends) - min(ends))
        right = SHEET_WIDTH - max(text_width(self.verdict(s), SIZE) for _, s in self.spans) - 3.0
        return Axis(min(ends) - spare, max(ends) + spare, self.left, right, self.style)

    @property
    def lines(self) -> Iterator[Mark]:
        """The band as an open bar, the lines under it, and their axis."""
        top = self._bar_row(len(self.shares)) + 10.0
        yield Text("clearance per side, all joints", (0.0, top - 5.0), SIZE)
        low, high = (self.axis.at(end) for end in self.band)
        foot = top + PITCH * (len(self.spans) + 1)
        yield Outline(((low, top), (high, top), (high, foot), (low, foot)), "frame")
        rows = [(self._band_told, None), *self.spans]
        for k, (told, span) in enumerate(rows):
            y = top + PITCH * (k + 0.5)
            base = y + CAPITAL * SIZE / 2
            yield Text(told, (self.left - 2.0, base), SIZE, anchor="end")
            if span is not None:
                yield from self._line(span, y)
                yield Text(self.verdict(span), (self.axis.right + 3.0, base), SIZE)
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
