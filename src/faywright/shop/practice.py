"""Rules of thumb for cutting: speeds and bites. The cutter's own marking always comes first."""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from faywright.errors import InputError
from faywright.shop.boards import Timber
from faywright.shop.cutters import Cutter, SlotCutter, TonguePairCutter
from faywright.shop.machines import Machine

FILE = "shop/data/greatest_speeds.csv"

SAME_DIAMETER = 0.5
"""A cutter this little over a row's diameter still belongs to it: runout and wear. [mm]"""

RIM_SPEED_LIMIT = 70.0
"""Rim speed above which a cutter is not run. [m/s] German trade guidance for hand feed, as
remembered: above 70 m/s noise and danger of bursting."""

SMALL_CUTTER = 6.5
"""Straight cutters up to this diameter take at most ``SMALL_BITE`` a pass. [mm]
Common practice, no source."""

SMALL_BITE = 3.0
HARD_BITE = 6.0
SOFT_BITE = 8.0


HARD_BAR, SOFT_BAR = 9.0, 11.0
"""Side of the square bar that holds as much wood as is taken in one pass. [mm] Common practice, no
source: a cutter of half an inch, a quarter deep, takes a bar 9 mm square."""

LARGE_CUTTER = 25.4
LEAST_SHANK = 12.0
"""Cutters over ``LARGE_CUTTER`` want a shank of at least ``LEAST_SHANK``. [mm] Common practice, no
source."""


@cache
def greatest_speeds() -> Mapping[float, int]:
    """Greatest speed by diameter, for cutters without a marking. [mm to rpm]"""
    return _speeds("speed_rpm")


@cache
def slow_starts() -> Mapping[float, int]:
    """Speed to start at by diameter, for wing cutters without a marking. [mm to rpm]"""
    return _speeds("wing_start_rpm")


def _speeds(column: str) -> Mapping[float, int]:
    text = files("faywright").joinpath(FILE).read_text(encoding="utf-8")
    table: dict[float, int] = {}
    reader = csv.DictReader(text.splitlines())
    for cells in reader:
        try:
            table[float(cells["diameter_up_to_mm"])] = int(cells[column])
        except ValueError as error:
            raise InputError(
                str(error), where=f"{FILE} line {reader.line_num}", remedy="Write plain numbers"
            ) from None
    return MappingProxyType(table)


def rim_speed(diameter: float, speed_rpm: float) -> float:
    """Speed of the cutting edge: pi times diameter [mm] times speed [rpm] / 60,000. [m/s]

    Examples
    --------
    >>> round(rim_speed(25.4, 24000), 1)
    31.9
    """
    return math.pi * diameter * speed_rpm / 60000


def speed_limit(cutter: Cutter) -> tuple[int, str]:
    """Greatest speed for a cutter [rpm], and where the limit comes from."""
    diameter = cutter.swept_diameter
    if cutter.max_speed_rpm is not None:
        limit, source = cutter.max_speed_rpm, "marked on the cutter"
    else:
        limit = _for_diameter(greatest_speeds(), diameter)
        source = "rule of thumb for its diameter, for it has no marking"
    rim = math.floor(RIM_SPEED_LIMIT * 60000 / (math.pi * diameter))
    if rim < limit:
        return rim, f"its rim would pass {RIM_SPEED_LIMIT:g} m/s"
    return limit, source


def _for_diameter(table: Mapping[float, int], diameter: float) -> int:
    """Speed of the first row a diameter belongs to; the slowest beyond the last."""
    fit = (speed for up_to, speed in table.items() if diameter <= up_to + SAME_DIAMETER)
    return next(fit, min(table.values()))


def slow_start(cutter: Cutter) -> int | None:
    """Speed to start a wing cutter at that has no marking [rpm]; None for all others."""
    if not isinstance(cutter, SlotCutter | TonguePairCutter) or cutter.max_speed_rpm is not None:
        return None
    return _for_diameter(slow_starts(), cutter.swept_diameter)


@dataclass(frozen=True, slots=True)
class SpindleSpeed:
    """The speed to set, its limit, and where the limit comes from; None where none will do."""

    speed_rpm: int | None
    limit_rpm: int
    source: str


def spindle_speed(machine: Machine, cutter: Cutter) -> SpindleSpeed:
    """The machine's fastest speed within the cutter's limit.

    A wing cutter without a marking is run no faster than it should start, or else as slowly as
    the machine turns.
    """
    limit, source = speed_limit(cutter)
    fit = [speed for speed in machine.speeds_rpm if speed <= limit]
    start = slow_start(cutter)
    if start is not None and fit:
        fit = [speed for speed in fit if speed <= start] or [min(fit)]
    return SpindleSpeed(max(fit, default=None), limit, source)


def deepest_bite(cutter: Cutter, timber: Timber) -> float:
    """Most to take in one pass, across the table for wing cutters, upwards for others. [mm]

    Common practice, no source, the more careful of the rules seen: half the diameter, at most
    8 mm in softwood and 6 mm in hardwood and sheet, 3 mm for small straight cutters; for wings
    13 mm and 6 mm.
    """
    if isinstance(cutter, SlotCutter | TonguePairCutter):
        return 13.0 if timber == "softwood" else HARD_BITE
    diameter = cutter.swept_diameter
    most = min(diameter / 2, SOFT_BITE if timber == "softwood" else HARD_BITE)
    return min(most, SMALL_BITE) if diameter <= SMALL_CUTTER else most


def largest_bite(timber: Timber) -> float:
    """Side of the square bar that is the most wood to take in one pass. [mm]"""
    return SOFT_BAR if timber == "softwood" else HARD_BAR


def least_shank(cutter: Cutter) -> float:
    """Thinnest shank for a cutter of this diameter; 0 where any will do. [mm]"""
    return LEAST_SHANK if cutter.swept_diameter > LARGE_CUTTER + SAME_DIAMETER else 0.0
