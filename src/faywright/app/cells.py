"""The cells of one row of a sheet, read with their types; what is wrong is told by row."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from typing import Literal, NoReturn, cast

from faywright.errors import InputError

Kind = Literal["text", "moment", "value"]
"""What a column holds: text as it is; a date and time or None; anything else that JSON can say."""

Row = Mapping[str, object]

_LARGEST = 2**63 - 1  # of the numbers that databases give to rows
_HUGE = 1e300  # a whole number beyond may not be one that a float can hold


class Cells:
    """One row of a sheet."""

    def __init__(self, row: Row, columns: Mapping[str, Kind], *, where: str) -> None:
        """Hold a row against the columns of its sheet.

        Raises
        ------
        InputError
            A column is missing or unknown, or it is not a row at all.
        """
        self._row, self._where = row, where
        if not isinstance(row, Mapping):
            raise InputError("it is not a row", where=where, remedy="Give columns by their names")
        for name in columns:
            if name not in row:
                self.refuse(name, "it is missing", "Give the whole export")
        for name in row:
            if name not in columns:
                self.refuse(name, "it is not a known column", f"Known are {', '.join(columns)}")

    def refuse(self, column: str, what: str, remedy: str) -> NoReturn:
        """Tell what is wrong with a cell."""
        raise InputError(what, where=f"{self._where}: {column}", remedy=remedy)

    @contextmanager
    def named(self) -> Iterator[None]:
        """Tell the row of what records refuse."""
        try:
            yield
        except InputError as error:
            if error.where.startswith(self._where):
                raise
            where = f"{self._where}: {error.where}"
            raise InputError(error.what, where=where, remedy=error.remedy) from None

    def text(self, column: str) -> str:
        """A text."""
        return self._text(column, self._row[column])

    def number(self, column: str) -> float:
        """A number."""
        return self._number(column, self._row[column])

    def number_or_none(self, column: str) -> float | None:
        """A number, or nothing."""
        return None if self._row[column] is None else self.number(column)

    def whole(self, column: str) -> int:
        """A whole number from 1 on."""
        value = self._row[column]
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= _LARGEST:
            self.refuse(column, f"{_short(value)} is not a number of a row", "Give 1, 2 and so on")
        return value

    def whole_or_none(self, column: str) -> int | None:
        """A whole number from 1 on, or nothing."""
        return None if self._row[column] is None else self.whole(column)

    def moment(self, column: str) -> datetime:
        """A date and time; records refuse one without a zone."""
        value = self.text(column)
        try:
            return datetime.fromisoformat(value)
        except ValueError:
            remedy = "Give one as 2026-03-14T15:09:26+00:00"
            self.refuse(column, f"{_short(value)} is not a date and time", remedy)

    def moment_or_none(self, column: str) -> datetime | None:
        """A date and time, or nothing."""
        return None if self._row[column] is None else self.moment(column)

    def numbers(self, column: str) -> tuple[float, ...]:
        """A list of numbers."""
        return tuple(self._number(column, each) for each in self._list(column, self._row[column]))

    def named_numbers(self, column: str, names: int) -> list[tuple[list[str], float]]:
        """A list of lists, each of so many names and a number."""
        found = []
        for each in self._list(column, self._row[column]):
            parts = self._list(column, each)
            if len(parts) != names + 1:
                what = f"{_short(each)} has {len(parts)} parts"
                self.refuse(column, what, f"Give {names} names and a number")
            texts = [self._text(column, part) for part in parts[:names]]
            found.append((texts, self._number(column, parts[names])))
        return found

    def rows(self, column: str) -> list[Row]:
        """A list of rows, to be held against columns of their own."""
        return [cast("Row", each) for each in self._list(column, self._row[column])]

    def _text(self, column: str, value: object) -> str:
        if not isinstance(value, str):
            self.refuse(column, f"{_short(value)} is not text", "Give text")
        return value

    def _number(self, column: str, value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > _HUGE:
            self.refuse(column, f"{_short(value)} is not a number", "Give a number")
        return float(value)

    def _list(self, column: str, value: object) -> list[object]:
        if not isinstance(value, list):
            self.refuse(column, f"{_short(value)} is not a list", "Give a list, as [1.5, 2]")
        return value


def _short(value: object) -> str:
    """A value as messages show it."""
    shown = repr(value) if not isinstance(value, int) or abs(value) < 1e18 else "so large a number"
    return shown if len(shown) <= 40 else f"{shown[:37]}..."
