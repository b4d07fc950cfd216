"""What may be stored: text that every database can hold, numbers in range, moments in UTC."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import UTC, datetime

from faywright.errors import InputError, RangeError

MARK, NOTE = 200, 10_000
"""Greatest lengths of a title, mark or name, and of a note. [characters]"""

MANY = 1000
"""Most readings, unknowns or measurements that belong together."""

LENGTH = 10_000.0
"""Greatest size of a length, either way. [mm]"""

_UNSTORABLE = re.compile("[\0\ud800-\udfff]")  # nought, and halves of a character


def check_text(value: object, where: str, *, empty: bool = False, most: int = MARK) -> None:
    """Refuse what is no text, too long, or text that a database or a CSV file would change."""
    if not isinstance(value, str):
        raise InputError(f"{value!r} is not text", where=where, remedy="Give text")
    if not (empty or value.strip()):
        raise InputError("it is empty", where=where, remedy="Give at least one letter")
    if len(value) > most:
        remedy = f"Keep it to {most} characters"
        raise InputError(f"it has {len(value)} characters", where=where, remedy=remedy)
    odd = _UNSTORABLE.search(value)
    if odd:
        what = f"character {odd.start() + 1}, {odd[0]!a}, cannot be stored"
        raise InputError(what, where=where, remedy="Leave it out")


def check_number(value: object, where: str, *, low: float, high: float) -> None:
    """Refuse what is not a number from ``low`` to ``high``."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InputError(f"{value!r} is not a number", where=where, remedy="Give a number")
    if not low <= value <= high:
        remedy = f"Give a number from {low:g} to {high:g}"
        raise RangeError(f"{value:g} is out of range", where=where, remedy=remedy)


def check_many(values: tuple[object, ...], where: str, *, least: int = 0) -> None:
    """Refuse what is no tuple, or one that is too short or too long."""
    if not (isinstance(values, tuple) and least <= len(values) <= MANY):
        what = f"{len(values)} are given" if isinstance(values, tuple) else "it is not a tuple"
        raise InputError(what, where=where, remedy=f"Give {least} to {MANY}, as a tuple")


def check_once(names: Iterable[object], where: str) -> None:
    """Refuse a name that is there twice."""
    seen = set()
    for name in names:
        if name in seen:
            raise InputError(f"{name} is there twice", where=where, remedy="Give each once")
        seen.add(name)


def in_utc(moment: object, where: str) -> datetime:
    """The same moment in UTC.

    Raises
    ------
    InputError
        It is not a moment, or does not say in which zone it is.
    """
    if not isinstance(moment, datetime) or moment.utcoffset() is None:
        what = f"{moment!s} is not a date and time with its zone"
        raise InputError(what, where=where, remedy="Give one as 2026-03-14T15:09:26+00:00")
    try:
        return moment.astimezone(UTC)
    except OverflowError:
        raise RangeError(
            f"{moment} cannot be told in UTC", where=where, remedy="Give a year from 2 to 9998"
        ) from None
