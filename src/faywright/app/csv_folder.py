"""The store as a folder of CSV files, one a sheet, and one that tells the version."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Mapping
from pathlib import Path

from faywright.app.cells import Kind, Row
from faywright.app.records import Contents
from faywright.app.sheets import COLUMNS, FORMAT, VERSION, check_version, contents_of, sheets_of
from faywright.errors import InputError

ABOUT = "about"
LONGEST = 10_000_000
"""Most characters in a cell: many times what records allow."""


def write_csv(contents: Contents, folder: Path) -> tuple[Path, ...]:
    """Write the contents to ``folder``, made if need be.

    Raises
    ------
    InputError
        A file cannot be written.
    """
    texts = {ABOUT: _text([["format", "version"], [FORMAT, str(VERSION)]])}
    for name, rows in sheets_of(contents).items():
        kinds = COLUMNS[name]
        lines = [[_cell(row[column], kind) for column, kind in kinds.items()] for row in rows]
        texts[name] = _text([list(kinds), *lines])
    paths = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            paths.append(folder / f"{name}.csv")
            paths[-1].write_bytes(text.encode())
    except OSError as error:
        what = f"it cannot be written ({error.strerror})"
        remedy = "Give a folder you may write to"
        raise InputError(what, where=str(folder), remedy=remedy) from error
    return tuple(paths)


def read_csv(folder: Path) -> Contents:
    """The contents that ``write_csv`` wrote.

    Raises
    ------
    InputError
        A file is missing or something else, or of a version that is not known.
    """
    header, *rows = _rows(folder / f"{ABOUT}.csv")
    about = dict(zip(header, rows[0] if rows else [], strict=False))
    version = about.get("version", "")
    check_version(
        about.get("format"),
        int(version) if version.isdecimal() and len(version) < 10 else version,
        where=str(folder / f"{ABOUT}.csv"),
    )
    sheets = {name: list(_sheet(folder / f"{name}.csv", COLUMNS[name])) for name in COLUMNS}
    return contents_of(sheets, where=str(folder))


def _sheet(path: Path, kinds: Mapping[str, Kind]) -> Iterator[Row]:
    """The rows of a file, cells by column."""
    header, *rows = _rows(path)
    if sorted(header) != sorted(kinds):
        what = f"its columns are {', '.join(header)}"
        raise InputError(what, where=str(path), remedy=f"Give {', '.join(kinds)}")
    for number, cells in enumerate(rows, start=1):
        where = f"{path}: row {number}"
        if len(cells) != len(header):
            what = f"it has {len(cells)} cells, where the header has {len(header)}"
            raise InputError(what, where=where, remedy="Give a cell for each column")
        yield {
            name: _value(cell, kinds[name], f"{where}: {name}")
            for name, cell in zip(header, cells, strict=True)
        }


def _cell(value: object, kind: Kind) -> str:
    """A value as the text of a cell; None is an empty one."""
    if value is None:
        return ""
    return json.dumps(value, ensure_ascii=False) if kind == "value" else str(value)


def _value(cell: str, kind: Kind, where: str) -> object:
    if kind == "text":
        return cell
    if not cell:
        return None
    if kind == "moment":
        return cell
    try:
        return json.loads(cell)
    except (ValueError, RecursionError):
        what = f"{cell[:40]!r} cannot be read"
        remedy = 'Give a number, or a list as [1.5, 2] or [["height zero", "dial", 1.0]]'
        raise InputError(what, where=where, remedy=remedy) from None


def _text(rows: list[list[str]]) -> str:
    file = io.StringIO(newline="")
    csv.writer(file).writerows(rows)
    return file.getvalue()


def _rows(path: Path) -> list[list[str]]:
    """All rows of a file that have cells, header first."""
    before = csv.field_size_limit(LONGEST)
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = [row for row in csv.reader(file, strict=True) if row]
    except OSError as error:
        what = f"it cannot be read ({error.strerror})"
        raise InputError(what, where=str(path), remedy="Give the whole export") from error
    except (UnicodeDecodeError, csv.Error) as error:
        remedy = "Save it as CSV in UTF-8, with commas"
        raise InputError(f"it cannot be read ({error})", where=str(path), remedy=remedy) from None
    finally:
        csv.field_size_limit(before)
    if not rows:
        raise InputError("it is empty", where=str(path), remedy="Give the whole export")
    return rows
