"""Readers of single values as ``tomllib`` or a table's cell gives them: one a kind of value."""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import islice
from typing import Generic, TypeVar

from faywright.errors import LengthError
from faywright.lengths import Unit, millimetres

T = TypeVar("T")
T_co = TypeVar("T_co", covariant=True)

LONGEST_TEXT = 200
"""Characters of a title, name or mark; they must find room on a sheet."""

_MOST_SHOWN = 40  # characters of a value or key repeated in a message
_MOST_NAMED = 12  # names listed in a message


class UnreadError(Exception):
    """A value that cannot be used; ``index`` leads to it inside a list, counted from 0."""

    def __init__(self, what: str, remedy: str, index: tuple[int, ...] = ()) -> None:
        """Say what was read, and what would be accepted."""
        super().__init__(what)
        self.what = what
        self.remedy = remedy
        self.index = index


@dataclass(frozen=True)
class Reader(Generic[T_co]):
    """How a value is read, and what stands in for it while further faults are looked for."""

    read: Callable[[object], T_co]
    stand_in: T_co


def shown(value: object) -> str:
    """A value as its writer would know it again, shortened.

    >>> shown("3/4"), shown(True), shown([1, 2]), shown(0.75)
    ("'3/4'", 'true', 'a list', '0.75')
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int) and value.bit_length() >= 200:
        return "a number of more than 60 digits"
    if isinstance(value, (list, dict)):
        return kind_of(value)
    if isinstance(value, str):
        return repr(value if len(value) <= _MOST_SHOWN else value[:_MOST_SHOWN] + "...")
    return str(value)


def short(name: str) -> str:
    """A mark or key as it stands in a message: as it is, unless it would break the line."""
    return name if name.isprintable() and len(name) <= _MOST_SHOWN else shown(name)


def kind_of(value: object) -> str:
    """What sort of thing a document holds there, in plain words."""
    kinds: dict[type, str] = {
        bool: "a truth value",
        str: "text",
        int: "a whole number",
        float: "a number",
        list: "a list",
        dict: "a table",
        datetime.datetime: "a date with a time",
        datetime.date: "a date",
        datetime.time: "a time",
    }
    return kinds.get(type(value), "something else")


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that is most like ``word``, if one is like it at all."""
    spelt = {each.lower(): each for each in known}
    found = get_close_matches(word[:_MOST_SHOWN].lower(), spelt, n=1)
    return spelt[found[0]] if found else None


def _refuse(value: object, wanted: str, remedy: str) -> UnreadError:
    read, kind = shown(value), kind_of(value)
    what = read if read == kind else f"{read} is {kind}"
    return UnreadError(f"{what}, where {wanted} belongs", remedy)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise _refuse(value, "text", "Write text in quotes")
    if not value.strip():
        raise UnreadError("nothing is written", "Write some text in the quotes")
    if len(value) > LONGEST_TEXT or not value.strip().replace("\xa0", " ").isprintable():
        remedy = f"Write one line of at most {LONGEST_TEXT} characters"
        raise UnreadError(f"{shown(value)} is too long, or not on one line", remedy)
    return value.strip()


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise _refuse(value, "a number", "Write a plain number, without quotes or unit")
    if isinstance(value, int) and value.bit_length() > 64:
        raise UnreadError(f"{shown(value)} is too large", "Write a number of fewer digits")
    if not math.isfinite(value):
        raise UnreadError(f"{value} is not a finite number", "Write a plain number")
    return float(value)


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise _refuse(value, "a whole number", "Write a whole number, without quotes or point")
    if value.bit_length() > 64:
        raise UnreadError(f"{shown(value)} is too large", "Write a number of fewer digits")
    return value


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        raise _refuse(value, "true or false", "Write true or false, without quotes")
    return value


def _date(value: object) -> datetime.date:
    if isinstance(value, datetime.datetime) or not isinstance(value, datetime.date):
        raise _refuse(value, "a date", "Write year-month-day without quotes, like 2026-09-14")
    return value


text = Reader(_text, "")
number = Reader(_number, 0.0)
whole = Reader(_whole, 0)
flag = Reader(_flag, False)  # noqa: FBT003 - it stands for the value itself
date = Reader(_date, datetime.date.min)


def length(units: Unit) -> Reader[float]:
    """Reads millimetres; ``units`` is that of a bare number."""

    def read(value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            remedy = f"Write a number of {units}, or a length with its unit in quotes"
            raise _refuse(value, "a length", remedy)
        try:
            return millimetres(value, bare=units)
        except LengthError as error:
            raise UnreadError(f"{shown(value)}: {error.what}", error.remedy) from None

    return Reader(read, 0.0)


def one_of(options: tuple[T, ...]) -> Reader[T]:
    """Reads one of a few texts."""
    listed = ", ".join(f'"{option}"' for option in options)

    def read(value: object) -> T:
        for option in options:
            if option == value:
                return option
        near = nearest(value, map(str, options)) if isinstance(value, str) else None
        if near:
            raise UnreadError(
                f'{shown(value)} is not known; "{near}" is like it', f"Use one of {listed}"
            )
        raise UnreadError(f"{shown(value)} is not known", f"Use one of {listed}")

    return Reader(read, options[0])


def list_of(reader: Reader[T]) -> Reader[tuple[T, ...]]:
    """Reads a list of at least one such value."""

    def read(value: object) -> tuple[T, ...]:
        if not isinstance(value, list):
            raise _refuse(value, "a list", "Write a list in brackets, [ ... ]")
        if not value:
            raise UnreadError("the list is empty", "Write at least one value between the brackets")
        return tuple(_each(index, entry) for index, entry in enumerate(value))

    def _each(index: int, entry: object) -> T:
        try:
            return reader.read(entry)
        except UnreadError as unread:
            raise UnreadError(unread.what, unread.remedy, (index, *unread.index)) from None

    return Reader(read, ())


def name_in(known: Mapping[str, T], *, kind: str, stand_in: T) -> Reader[T]:
    """Reads the name of something listed elsewhere in the document, a ``kind`` such as "part"."""

    def read(value: object) -> T:
        name = text.read(value)
        if name in known:
            return known[name]
        near = nearest(name, known)
        like = f'; "{short(near)}" is like it' if near else ""
        listed = ", ".join(f'"{short(each)}"' for each in islice(known, _MOST_NAMED))
        more = ", ..." if len(known) > _MOST_NAMED else ""
        remedy = f"Use one of {listed}{more}" if known else f"List it under [[{kind}]]"
        raise UnreadError(f"no {kind} called {shown(name)}{like}", remedy)

    return Reader(read, stand_in)
