"""Readings of a trial piece as they were typed: which there are, and what they say."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from faywright.app.trial_cut import Measured, Shown, useful
from faywright.errors import InputError
from faywright.joints.method import Method, Side
from faywright.joints.solution import Solution
from faywright.lengths import Unit
from faywright.piece.values import UnreadError, length
from faywright.shop.boards import THICKEST, THINNEST
from faywright.trials.observing import dimensions, measurable

PIECE = "stock"
"""Short name of the trial piece's own thickness."""

THICKNESS = "thickness of the trial piece"

DECIMAL_COMMA = re.compile(r"[^,.;/]*\d,\d[^,.;/]*")
"""A single comma between digits and no other sign of fractions: 6,31 is a bit more than 6."""

GaugeSets = Literal["height", "fence"]

Called = Callable[[str], str]
"""How whoever typed it calls a field, from its short name."""


@dataclass(frozen=True, slots=True)
class Misread:
    """What is wrong with what was typed into one field, by its short name."""

    field: str
    where: str
    what: str
    remedy: str


class MisreadError(InputError):
    """Something that was typed cannot be used; ``each`` tells all of it, field by field."""

    def __init__(self, each: Sequence[Misread]) -> None:
        """``each`` holds at least one."""
        super().__init__(each[0].what, where=each[0].where, remedy=each[0].remedy)
        self.each = tuple(each)


@dataclass(frozen=True, kw_only=True)
class Told:
    """A trial as it was typed: readings as text by short names, and what goes with them."""

    joint: str
    texts: Mapping[str, str | None]
    group: str = "A"
    set_height: tuple[str, ...] = ()
    set_fence: tuple[str, ...] = ()
    feel: str | None = None
    metres: float | None = None
    note: str = ""
    anew: bool = False
    sure: bool = False
    keep: bool = True


def option(short: str) -> str:
    """A field as the command line calls it."""
    return f"--{short}"


def asked_first(solution: Solution) -> tuple[str, ...]:
    """Short names of what is useful, in the order one measures: the piece first."""
    named = {name: short for short, name in names(solution).items()}
    return (PIECE, *(named[name] for name in useful(solution) if name in named))


def names(solution: Solution) -> dict[str, str]:
    """What the short names of readings stand for in this joint."""
    there = [*measurable(solution, "groove"), *measurable(solution, "tongue")]
    words = {
        "tongue": "tongue thickness",
        "length": "tongue length",
        "cheek": "depth of the face-A cheek",
        "groove": "groove width",
        "depth": "groove depth",
    }
    found = {short: name for short, name in words.items() if name in there}
    wall = next((name for name in there if name.startswith("wall beside")), None)
    return found if wall is None else {**found, "wall": wall}


def measured(
    told: Told,
    texts: Mapping[str, str],
    solution: Solution,
    units: Unit,
    called: Called = option,
) -> Measured:
    """What was read, ``texts`` by short names; bare numbers are ``units``.

    Raises
    ------
    MisreadError
        Something cannot be read or measured there.
    InputError
        Nothing was read.
    """
    known = names(solution)
    wrong = list[Misread]()
    readings: dict[str, tuple[float, ...]] = {}
    for short, text in texts.items():
        if short != PIECE and not (unfit := _unfit(short, texts, solution, called)):
            readings[known[short]] = _lengths(text, units, short, called, wrong)
        elif short != PIECE:
            wrong += unfit
    gauges: tuple[tuple[GaugeSets, tuple[str, ...]], ...] = (
        ("height", told.set_height),
        ("fence", told.set_fence),
    )
    stock = texts.get(PIECE)
    thickness = () if stock is None else _lengths(stock, units, PIECE, called, wrong)
    if any(0 < each < THINNEST or each > THICKEST for each in thickness):
        remedy = "Check the decimal point and the units"
        wrong.append(Misread(PIECE, called(PIECE), f"{stock} is no thickness of a board", remedy))
    shown = tuple(
        each
        for kind, typed in gauges
        for text in typed
        if (each := _shown(kind, text, units, called, wrong)) is not None
    )
    if wrong:
        raise MisreadError(wrong)
    if not readings:
        raise InputError(
            "nothing was read",
            where=f"trial of joint {told.joint!r}",
            remedy=_worth(solution, called),
        )
    return Measured(
        joint=told.joint,
        readings=readings,
        thickness=thickness,
        group=told.group.strip().upper(),
        shown=shown,
        note=told.note,
    )


def _unfit(
    short: str, texts: Mapping[str, str], solution: Solution, called: Called
) -> list[Misread]:
    """Why a reading cannot be used, whatever it says."""
    name = names(solution).get(short)
    if name is None:
        what, remedy = f"this joint has no {short} to measure", _worth(solution, called)
        return [Misread(short, called(short), what, remedy)]
    if PIECE not in texts and follows(solution, name):
        what = "it follows the thickness of the trial piece, and that was not measured"
        return [Misread(short, called(short), what, f"Give the thickness with {called(PIECE)}")]
    return []


def follows(solution: Solution, name: str) -> bool:
    """Whether a dimension is another on a thicker piece."""
    sides: tuple[tuple[Side, Method], ...] = (
        ("groove", solution.groove),
        ("tongue", solution.tongue),
    )
    forms = [
        (method, found[name])
        for side, method in sides
        if name in (found := dimensions(solution, side))
    ]
    return any(form.coefficient(method.thickness) != 0 for method, form in forms)


def _worth(solution: Solution, called: Called) -> str:
    """Which readings there are, the useful ones first."""
    named = names(solution)
    if not named:
        return "Nothing is cut here that could be measured"
    first = [called(short) for short in asked_first(solution) if short != PIECE]
    rest = [called(short) for short in named if called(short) not in first]
    told = f"Measure {', '.join(first)}" if first else "Measure"
    if rest:
        told += f"{'; there is also' if first else ''} {', '.join(rest)}"
    return told


def _lengths(
    text: str, units: Unit, short: str, called: Called, wrong: list[Misread]
) -> tuple[float, ...]:
    """Readings, with semicolons or commas between; what is wrong with them goes into ``wrong``.

    A comma with a space after it is between two readings; one between digits is a decimal comma
    where nothing else in the text is a point or a fraction.
    """
    try:
        return tuple(_apart(text, units))
    except UnreadError as unread:
        wrong.append(Misread(short, called(short), unread.what, unread.remedy))
        return ()


def _apart(text: str, units: Unit) -> Iterator[float]:
    for part in re.split(r";|,\s+", text.strip()):
        if DECIMAL_COMMA.fullmatch(part):
            yield length(units).read(part.strip())
        elif "," in part and not re.search(r"[./]", part):
            raise UnreadError(
                f"{part!r} may be read in several ways", "Put a semicolon between readings"
            )
        else:
            yield from (length(units).read(each.strip()) for each in part.split(","))


def _shown(
    kind: GaugeSets, text: str, units: Unit, called: Called, wrong: list[Misread]
) -> Shown | None:
    """What a gauge showed; what is wrong with it goes into ``wrong``."""
    try:
        return _shown_of(kind, text, units)
    except UnreadError as unread:
        short, number = f"set-{kind}", text.rpartition("=")[0].strip()
        field = f"{short}-{number}" if number else short
        wrong.append(Misread(field, called(short), unread.what, unread.remedy))
        return None


def _shown_of(kind: GaugeSets, text: str, units: Unit) -> Shown:
    """With the number of the setup before it if there is one."""
    number, equals, rest = text.rpartition("=")
    if not equals:
        return Shown(kind, length(units).read(rest.strip()))
    if not number.strip().isdecimal():
        raise UnreadError(
            f"{number.strip()!r} is not the number of a setup",
            "Write it as 6=12.7: number, equals sign, what the gauge showed",
        )
    return Shown(kind, length(units).read(rest.strip()), int(number))
