"""Readings as people type and paste them: parted by lines, semicolons, tabs, commas or spaces."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from faywright.errors import InputError

ACROSS = "|"
"""Parts the readings across a board at one place along it, reference edge first."""

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+")
_PARTED = re.compile(r"[;\t]")
_COMMA_AND_SPACE = re.compile(r",\s+")


@dataclass(frozen=True, slots=True)
class Cell:
    """One reading as it was written, and the line it stands on, counted from 1."""

    line: int
    text: str


def cells(text: str) -> Iterator[Cell]:
    """The readings of a text, in the order they are read in.

    Raises
    ------
    InputError
        Commas could part readings or be decimal; the line is named.

    Examples
    --------
    >>> [cell.text for cell in cells("18,85; 18,81 18.84\\n3/4 in")]
    ['18,85', '18,81', '18.84', '3/4 in']
    """
    for number, line in enumerate(text.splitlines(), start=1):
        for part in _PARTED.split(line.strip().rstrip(";,\t ")):
            for cell in _at_commas(part.strip(), number):
                yield from (Cell(number, each) for each in _at_spaces(cell))


def readings(text: str) -> list[str] | list[list[str]]:
    """What stands for the thickness of one board: readings along it, or lists of those across.

    >>> readings("19.02 | 18.95; 19.00 | 18.96")
    [['19.02', '18.95'], ['19.00', '18.96']]

    Raises
    ------
    InputError
        As for ``cells``.
    """
    if ACROSS not in text:
        return [cell.text for cell in cells(text)]
    places = re.split(r"[;\n\t]|,\s+", text.strip().rstrip(";, "))
    return [[each.strip() for each in place.split(ACROSS)] for place in places]


def _at_commas(part: str, line: int) -> list[str]:
    if "," not in part:
        return [part] if part else []
    found: list[str] = []
    for piece in _COMMA_AND_SPACE.split(part):
        tokens = piece.split()
        if any("." in token and "," in token for token in tokens):
            found += piece.split(",")
        elif any(token.count(",") > 1 for token in tokens):
            raise InputError(
                f"the commas of {piece[:40]!r} could part readings, or be decimal",
                where=f"line {line}",
                remedy="Part readings with semicolons, or write points in decimals",
            )
        else:
            found.append(piece)
    return [each.strip() for each in found]


def _at_spaces(cell: str) -> list[str]:
    """Plain numbers beside each other are several readings; "1 1/2" and "3/4 in" are one."""
    tokens = cell.split()
    if len(tokens) > 1 and all(_NUMBER.fullmatch(token) for token in tokens):
        return tokens
    return [cell]
