"""What a number from a trial piece may have been meant for: the slips there are.

A slip is a known way from what was meant to what was written, so each reading could have been
meant for a handful of others. How likely each slip is before anything is known stands here;
whether one fits is weighed elsewhere. Chances are common practice, without source.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Literal

from faywright.lengths import MILLIMETRES_IN, read_length
from faywright.trials.belief import Unknown
from faywright.trials.update import Observation

Kind = Literal[
    "wrong edge",
    "other unit",
    "fraction",
    "decimal point",
    "digits",
    "turn",
    "swapped",
    "set to wrong edge",
    "nothing fits",
]

READING_SLIPS = 0.01
"""Chance that a reading is a slip, shared evenly by the kinds, and by the ways of each."""

SWAPPED, OTHER_UNIT_THROUGHOUT, SET_TO_WRONG_EDGE = 0.01, 0.005, 0.01
"""Chance of a trial that two readings changed places, or all are in the other unit; and of a
setting that it was measured to the wrong edge of the cutter."""

RANGE = 50.0
"""A reading that nothing explains may be anywhere within as much as this. [mm]"""

TURN = 0.5
"""One turn of a thimble; readings are out by one, or by a whole millimetre. [mm]"""

_INCH = float(MILLIMETRES_IN["in"])
_FRACTIONS = (_INCH / 64, _INCH / 32, _INCH / 16)
_DECIMAL = re.compile(r"(?P<number>[0-9]+\.[0-9]+) (?P<unit>mm|in)")
_KINDS = 7  # of slips of one reading
EACH_KIND = math.log(READING_SLIPS / _KINDS)
NOTHING_FITS = EACH_KIND - math.log(RANGE)


@dataclass(frozen=True)
class Cause:
    """Something that may have gone wrong. [mm]

    ``at`` are the observations it reaches and ``shifts`` how much more each would read without
    it. ``log_chance`` is before the readings are known, with the change of density where the
    slip stretches lengths. ``setting`` is what was set to a wrong edge, ``off`` by how much.
    """

    kind: Kind
    at: tuple[int, ...]
    shifts: tuple[float, ...]
    log_chance: float
    setting: Unknown | None = None
    off: float = 0.0


def causes(
    observations: Sequence[Observation],
    *,
    cutter_radius: float,
    zero_error: float,
    settings: Collection[Unknown],
    write: Callable[[float], str],
) -> list[Cause]:
    """Every slip that these observations could have in them, but the one that nothing fits."""
    shown = [each.read + zero_error for each in observations]
    found: list[Cause] = []
    for at, reading in enumerate(shown):
        found += _of_one(at, reading, cutter_radius, write)
    found += _swaps(shown)
    found += _all_in_other_unit(shown)
    for setting in settings:
        found += _wrong_edges(setting, observations, cutter_radius)
    return found


def _of_one(
    at: int, reading: float, radius: float, write: Callable[[float], str]
) -> Iterator[Cause]:
    """Slips of one reading. ``stretch`` is what it made of each millimetre that was meant."""
    ways: dict[Kind, list[tuple[float, float]]] = {
        "wrong edge": [(reading + side * radius, 1.0) for side in (-2, -1, 1, 2)],
        "other unit": [(reading * _INCH, 1 / _INCH), (reading / _INCH, _INCH)],
        "fraction": [(reading + sign * each, 1.0) for each in _FRACTIONS for sign in (-1, 1)],
        "decimal point": [(10 * reading, 0.1), (reading / 10, 10.0)],
        "digits": [(meant, 1.0) for meant in exchanged_digits(write(reading))],
        "turn": [(reading + turns * TURN, 1.0) for turns in (-2, -1, 1, 2)],
    }
    for kind, meant in ways.items():
        for length, stretch in meant:
            if length > 0:
                log_chance = EACH_KIND - math.log(len(meant)) - math.log(stretch)
                yield Cause(kind, (at,), (length - reading,), log_chance)


def exchanged_digits(written: str) -> list[float]:
    """Lengths that ``written`` could stand for with two digits in a row exchanged. [mm]

    Fractions have no digits to exchange.

    >>> exchanged_digits("12.83 mm")
    [21.83, 18.23, 12.38]
    """
    found = _DECIMAL.fullmatch(written)
    if found is None:
        return []
    number = found["number"]
    places = [place for place, sign in enumerate(number) if sign != "."]
    meant = []
    for first, second in pairwise(places):
        if number[first] != number[second]:
            digits = list(number)
            digits[first], digits[second] = digits[second], digits[first]
            meant.append(float(read_length(f"{''.join(digits)} {found['unit']}", bare="mm")))
    return meant


def _swaps(shown: Sequence[float]) -> Iterator[Cause]:
    pairs = list(combinations(range(len(shown)), 2))
    for one, other in pairs:
        change = shown[other] - shown[one]
        if change:
            chance = math.log(SWAPPED / len(pairs))
            yield Cause("swapped", (one, other), (change, -change), chance)


def _all_in_other_unit(shown: Sequence[float]) -> Iterator[Cause]:
    if len(shown) < 2:
        return
    for factor in (_INCH, 1 / _INCH):
        log_chance = math.log(OTHER_UNIT_THROUGHOUT / 2) + len(shown) * math.log(factor)
        shifts = tuple((factor - 1) * reading for reading in shown)
        yield Cause("other unit", tuple(range(len(shown))), shifts, log_chance)


def _wrong_edges(
    setting: Unknown, observations: Sequence[Observation], radius: float
) -> Iterator[Cause]:
    """A setting measured to the axis or the other edge of the cutter, either way."""
    reached = [
        (at, each.row[setting])
        for at, each in enumerate(observations)
        if each.row.get(setting, 0.0) != 0.0
    ]
    if not reached:
        return
    for side in (-2, -1, 1, 2):
        shifts = tuple(-coefficient * side * radius for _, coefficient in reached)
        yield Cause(
            "set to wrong edge",
            tuple(at for at, _ in reached),
            shifts,
            math.log(SET_TO_WRONG_EDGE / 4),
            setting,
            side * radius,
        )
