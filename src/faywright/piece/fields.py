"""The tables of a document, read field by field; every fault is kept and all are shown at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import ParamSpec, TypeVar

from faywright.errors import DocumentError, Fault, InputError, RangeError
from faywright.lengths import Unit
from faywright.piece.toml_lines import FieldPath, Lines
from faywright.piece.values import Reader, UnreadError, kind_of, length, nearest, short, shown

T = TypeVar("T")
D = TypeVar("D")
P = ParamSpec("P")

_OUT_OF_RANGE = re.compile(r"(?:an? )?([a-z_ ]+?) (?:of )?[-+.0-9e]+ \w+ is (?:not between|beyond)")


class Document:
    """One document while it is read: its name, its unit for bare numbers, its faults so far."""

    def __init__(self, text: str, *, file: str) -> None:
        """``text`` is TOML that ``tomllib`` has accepted."""
        self.file = file
        self.units: Unit = "mm"
        self._lines = Lines(text)
        self._faults: list[Fault] = []

    def line_of(self, path: FieldPath) -> int:
        """Line on which a field stands."""
        return self._lines.of(path)

    def add(self, faults: Iterable[Fault]) -> None:
        """Keep faults, of this document or of one it names."""
        self._faults += faults

    def stop_at_faults(self) -> None:
        """Go no further if there are faults.

        Raises
        ------
        DocumentError
            There are; they are listed by line, those of other files last.
        """
        if self._faults:
            raise DocumentError(
                sorted(self._faults, key=lambda each: (each.file != self.file, each.line or 0))
            )

    def finish(self, result: T | None) -> T:
        """The ``result`` of a document without faults.

        Raises
        ------
        DocumentError
            There were faults.
        """
        self.stop_at_faults()
        if result is None:
            raise AssertionError("no result, and no fault that says why")
        return result


class Table:
    """One table of a document. What is asked for becomes known; the rest are unknown keys.

    ``label`` is what a maker would call the table, ``board 4 (B04)``; ``prefix`` is that of keys
    within it, ``fence.``.
    """

    def __init__(
        self,
        data: Mapping[str, object],
        document: Document,
        *,
        path: FieldPath = (),
        label: str = "",
        prefix: str = "",
        around: Table | None = None,
    ) -> None:
        """A table at ``path``; a fault in it is one of the table ``around`` it, too."""
        self.document = document
        self.label = label
        self._data = data
        self._path = path
        self._prefix = prefix
        self._around = around
        self._asked: set[str] = set()
        self._missing: list[tuple[str, str]] = []
        self._faulty = False

    @property
    def length(self) -> Reader[float]:
        """Reads lengths, bare numbers in the document's unit."""
        return length(self.document.units)

    @property
    def line(self) -> int:
        """Line on which the table begins, counted from 1."""
        return self.document.line_of(self._path)

    @property
    def content(self) -> str:
        """All that the table says, in one text; tables that say the same give the same."""
        return repr(self._data)

    def holds(self, key: str, kind: type[object] = object) -> bool:
        """Whether there is such a key, with that kind of value."""
        return isinstance(self._data.get(key), kind) and key in self._data

    def named(self, key: str = "name") -> str | None:
        """The text of a key before the table is read, to find it again by; None if there is none.

        It does not count as asked for.
        """
        value = self._data.get(key)
        return value.strip() if isinstance(value, str) and value.strip() else None

    def required(self, key: str, reader: Reader[T], *, remedy: str = "Add it") -> T:
        """The value of a key that must be there; a stand-in after a fault."""
        self._asked.add(key)
        if key not in self._data:
            self._missing.append((key, remedy))
            return reader.stand_in
        return self._read(key, reader, reader.stand_in)

    def optional(self, key: str, reader: Reader[T], default: D) -> T | D:
        """The value of a key that may be left out; ``default`` then, and after a fault."""
        self._asked.add(key)
        if key not in self._data:
            return default
        return self._read(key, reader, default)

    def table(self, key: str, *, needed: str | None = None) -> Table | None:
        """The table under a key, None if there is none; ``needed`` is the remedy for that."""
        self._asked.add(key)
        value = self._data.get(key)
        if isinstance(value, dict):
            return self._inner(value, (key,), label=self.label, prefix=f"{self._prefix}{key}.")
        if key in self._data:
            remedy = f"Write {key} = {{ ... }}" if self._path else f"Write it as a table, [{key}]"
            self.fault(f"{shown(value)} where a table belongs", remedy, key)
        elif needed is not None:
            self._missing.append((key, needed))
        return None

    def tables(self, key: str) -> list[Table]:
        """The tables of a list, ``[[key]]``; labelled by their place, and mark or name."""
        self._asked.add(key)
        values = self._data.get(key, [])
        if not isinstance(values, list):
            what = f"{kind_of(values)}, where a list of tables belongs"
            self.fault(what, f"Write [[{key}]] with two brackets for each {key}", key)
            return []
        found = []
        for index, value in enumerate(values):
            if isinstance(value, dict):
                table = self._inner(value, (key, index), label=f"{key} {index + 1}", prefix="")
                mark = table.named("mark") or table.named("name")
                table.label += f" ({short(mark)})" if mark else ""
                found.append(table)
            else:
                what = f"{shown(value)} where a table belongs"
                self.fault(what, f"Write [[{key}]] for each {key}", key, index)
        return found

    def fault(self, what: str, remedy: str, *path: str | int) -> None:
        """Keep a fault at a field of this table, or at the table as a whole."""
        whole = (*self._path, *path)
        line = self.document.line_of(whole)
        fault = Fault(self.document.file, line, self._name(path), what, remedy, whole)
        self.take([fault])

    def take(self, faults: Iterable[Fault]) -> None:
        """Keep faults of this table, or of a file it names."""
        self.document.add(faults)
        table: Table | None = self
        while table is not None:
            table._faulty = True
            table = table._around

    def build(self, make: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T | None:
        """What ``make`` gives once all fields have been asked for; None after a fault.

        What ``make`` refuses becomes a fault of the field its message begins with, or of the table.
        """
        self.close()
        if self._faulty:
            return None
        try:
            return make(*args, **kwargs)
        except RangeError as error:
            self.fault(error.what, error.remedy, *self._key_out_of_range(error.what))
        except InputError as error:
            self.fault(error.what, error.remedy)
        return None

    def close(self) -> None:
        """Keep a fault for each key that was never asked for, and each that is missing."""
        meant = set()
        for key in self._data:
            if key not in self._asked:
                near = nearest(key, self._asked - self._data.keys())
                meant.add(near)
                known = ", ".join(sorted(self._asked))
                remedy = f"Write {near}, if you meant that" if near else f"Known here are {known}"
                self.fault("it is not a known key", remedy, key)
        for key, remedy in self._missing:
            if key not in meant:
                self.fault("it is missing", remedy, key)
        self._missing.clear()

    def _key_out_of_range(self, message: str) -> list[str]:
        """The key whose number such a message begins with, if it does."""
        found = _OUT_OF_RANGE.match(message)
        key = found[1].replace(" ", "_") if found else ""
        return [key] if key in self._data else []

    def _read(self, key: str, reader: Reader[T], otherwise: D) -> T | D:
        try:
            return reader.read(self._data[key])
        except UnreadError as unread:
            self.fault(unread.what, unread.remedy, key, *unread.index)
        except InputError as error:
            self.fault(error.what, error.remedy, key)
        return otherwise

    def _inner(
        self, data: Mapping[str, object], path: FieldPath, *, label: str, prefix: str
    ) -> Table:
        return Table(
            data,
            self.document,
            path=(*self._path, *path),
            label=label,
            prefix=prefix,
            around=self,
        )

    def _name(self, path: FieldPath) -> str:
        """``board 4 (B04): thickness[2]``: lists counted from 1, as a maker would."""
        key = self._prefix.rstrip(".") if not path else self._prefix
        for step in path:
            key += f"[{step + 1}]" if isinstance(step, int) else short(step)
        return ": ".join(part for part in (self.label, key) if part) or "the whole file"


def each_once(tables: Iterable[Table], key: str) -> None:
    """Keep a fault for each table whose mark or name one before it has."""
    first: dict[str, Table] = {}
    for table in tables:
        mark = table.named(key)
        if mark is not None and first.setdefault(mark, table) is not table:
            what = f'"{short(mark)}" is that of line {first[mark].line} already'
            table.fault(what, "Give each its own", key)
