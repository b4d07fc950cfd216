"""Thickness readings that look like slips of the pencil, found by median and spread.

A *pile* is all boards of a part. A reading far off its pile that would lie in it with the decimal
point moved, in the other unit, or as the fraction it may stand for, is taken for that slip.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median, median_low
from typing import Literal

from faywright.lengths import MILLIMETRES_IN
from faywright.shop.boards import Board

DEVIATIONS = 6.0
"""Standard deviations beyond which a reading is asked about. Common practice, no source: wide,
for questions that are asked too often are no longer answered."""

LEAST_SPREAD = 0.025
"""Standard deviation taken at least, for readings that happen to agree. [mm] Common practice, no
source: what calipers scatter by in one hand."""

PILE_SHARES = (0.05, 0.30)
"""How far from its median a pile reaches at least and at most, as shares of it."""

SNIPE = (0.05, 0.5)
"""How much thinner an end is than the middle to be called sniped, least and most. [mm] Common
practice, no source; the least grows to three standard deviations of the readings between."""

_MAD_TO_DEVIATION = 1 / 0.6744897501960817  # of a normal distribution: its upper quartile
_INCH = float(MILLIMETRES_IN["in"])
_FRACTION = re.compile(r"([0-9]+)\.(2|4|8|16|32|64)")  # 3.4 may stand for 3/4

Kind = Literal["decimal point", "inches", "millimetres", "fraction"]


@dataclass(frozen=True)
class Slip:
    """What a reading may have been meant for: the kind of slip, and the thickness. [mm]"""

    kind: Kind
    meant: float


@dataclass(frozen=True)
class Pile:
    """Where the readings of a part lie: their median, and how far the pile reaches. [mm]"""

    middle: float
    reach: float

    def holds(self, thickness: float) -> bool:
        """Whether a thickness would be one of the pile."""
        return abs(thickness - self.middle) <= self.reach

    def slip(self, thickness: float) -> Slip | None:
        """The slip that would explain a reading off the pile; the nearest if there are several."""
        if self.holds(thickness):
            return None
        slips = [slip for slip in _possible_slips(thickness) if self.holds(slip.meant)]
        return min(slips, key=lambda slip: abs(slip.meant - self.middle), default=None)


def pile_of(boards: Iterable[Board]) -> Pile:
    """The pile that at least one board makes, by median and median deviation."""
    readings = [float(each) for board in boards for each in board.readings.flat]
    middle = median(readings)
    spread = _MAD_TO_DEVIATION * median(abs(each - middle) for each in readings)
    least, most = (share * middle for share in PILE_SHARES)
    return Pile(middle, min(max(DEVIATIONS * spread, least), most))


def _possible_slips(thickness: float) -> Iterable[Slip]:
    yield Slip("decimal point", 10 * thickness)
    yield Slip("decimal point", thickness / 10)
    yield Slip("inches", thickness * _INCH)
    yield Slip("millimetres", thickness / _INCH)
    for number in (thickness, thickness / _INCH):
        found = _FRACTION.fullmatch(f"{number:.4f}".rstrip("0"))
        if found and 0 < int(found[1]) < int(found[2]):
            yield Slip("fraction", int(found[1]) / int(found[2]) * _INCH)


def spread_within(columns: Iterable[Sequence[float]]) -> float:
    """Standard deviation of readings about the median of their own board, robustly. [mm]

    ``columns`` are readings along boards; those of fewer than three say nothing of which is off
    and do not count, nor does the middle reading of an odd number, which is the median itself.
    """
    distances: list[float] = []
    for column in columns:
        if len(column) > 2:
            middle = median(column)
            distances += sorted(abs(each - middle) for each in column)[len(column) % 2 :]
    return _MAD_TO_DEVIATION * median_low(distances) if distances else 0.0


def off_their_board(column: Sequence[float], spread: float) -> list[int]:
    """Places of the readings that stand off the rest of a column; of two, both or none."""
    if len(column) == 2:
        off = abs(column[0] - column[1]) > DEVIATIONS * math.sqrt(2) * spread
        return [0, 1] if off else []
    middle = median(column)
    return [at for at, each in enumerate(column) if abs(each - middle) > DEVIATIONS * spread]


def snipe(board: Board, spread: float) -> tuple[float, float]:
    """How much thinner the two ends of a board are than its middle; 0 where not sniped. [mm]

    ``spread`` is that of readings between the ends.
    """
    along = board.readings.mean(axis=1)
    if len(along) < 3:
        return 0.0, 0.0
    middle = median(along[1:-1].tolist())
    least, most = max(SNIPE[0], 3 * spread), SNIPE[1]
    head, foot = (float(middle - end) for end in (along[0], along[-1]))
    return (head if least < head <= most else 0.0), (foot if least < foot <= most else 0.0)
