"""The SQLite file: whether it is ours, and whether it is as this version left it."""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Iterator, Set
from contextlib import closing, contextmanager
from pathlib import Path

from faywright.app.places import VARIABLE, FilePlace
from faywright.errors import InputError

PATIENCE = 20.0
"""How long to wait for another process that writes. [s]"""

LABEL = "faywright"
CHANGE_PLACE = f"Give another file with --store or {VARIABLE}"

_MAGIC = b"SQLite format 3\0"  # The first bytes of every SQLite file: its format, section 1.3.


def known_migrations() -> frozenset[str]:
    """Names of all migrations that this version knows."""
    return migrations_in(Path(__file__).parent)


def migrations_in(folder: Path) -> frozenset[str]:
    """Names of the migrations of one of Django's apps."""
    return frozenset(path.stem for path in folder.glob("migrations/[0-9]*.py"))


def is_current(applied: Set[str], where: str) -> bool:
    """Whether a store with these migrations is as this version wants it.

    Raises
    ------
    InputError
        A newer version has been at work on it.
    """
    newer = applied - known_migrations()
    if newer:
        raise InputError(
            f"a newer version of Faywright wrote it (it has {', '.join(sorted(newer))})",
            where=where,
            remedy="Install that version or a later one, or use another store",
        )
    return applied == known_migrations()


def applied_migrations(connection: sqlite3.Connection, where: str) -> frozenset[str]:
    """Migrations that a file has been through; none if it is empty.

    Raises
    ------
    InputError
        The file has tables, but not ours.
    """
    tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    applied: frozenset[str] = frozenset()
    if "django_migrations" in tables:
        rows = connection.execute("SELECT name FROM django_migrations WHERE app = ?", [LABEL])
        applied = frozenset(name for (name,) in rows)
    if tables and not applied:
        raise InputError("another program's data are in it", where=where, remedy=CHANGE_PLACE)
    return applied


def check_file(path: Path) -> bool:
    """Whether there is a file at ``path`` with anything in it.

    Raises
    ------
    InputError
        There is something else, or no folder that it could be in.
    """
    try:
        if not path.parent.is_dir():
            remedy = f"Make the folder {path.parent}, or correct the path"
            raise InputError("its folder does not exist", where=str(path), remedy=remedy)
        if not path.exists():
            return False
        if not path.is_file():
            raise InputError("it is not a file", where=str(path), remedy=CHANGE_PLACE)
        with path.open("rb") as file:
            first = file.read(len(_MAGIC))
    except OSError as error:
        what = f"it cannot be read ({error.strerror})"
        raise InputError(what, where=str(path), remedy=CHANGE_PLACE) from error
    if first not in (b"", _MAGIC):
        raise InputError("it is not an SQLite database", where=str(path), remedy=CHANGE_PLACE)
    return first != b""


def prepare_file(place: FilePlace) -> None:
    """Make the file if there is none, and set it to write ahead.

    Raises
    ------
    InputError
        The file cannot be made, written or used.
    """
    where = str(place)
    if place.usual:
        try:
            place.path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            what = f"its folder cannot be made ({error.strerror})"
            raise InputError(what, where=where, remedy=CHANGE_PLACE) from error
    check_file(place.path)
    with told(where), closing(sqlite3.connect(place.path, timeout=PATIENCE)) as connection:
        is_current(applied_migrations(connection, where), where)
        write_ahead(connection)
    if not os.access(place.path, os.W_OK):
        raise InputError("it cannot be written", where=where, remedy=CHANGE_PLACE)


def write_ahead(connection: sqlite3.Connection) -> None:
    """Readers and a writer no longer wait for each other; the file remembers it."""
    deadline = time.monotonic() + PATIENCE
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as error:
            # This change alone does not wait for a process that makes it at the same time.
            if "locked" not in str(error) or time.monotonic() > deadline:
                raise
            time.sleep(0.02)
        else:
            return


@contextmanager
def told(where: str) -> Iterator[None]:
    """Tell what SQLite refuses as an error of ours."""
    try:
        yield
    except (sqlite3.OperationalError, sqlite3.DatabaseError) as error:
        raise refused(str(error), where) from error


def refused(message: str, where: str) -> InputError:
    """The error for what a database says it cannot do."""
    line = next((line.strip() for line in message.splitlines() if line.strip()), "no reason given")
    remedy = CHANGE_PLACE
    if "locked" in line:
        remedy = "Close the other program that is writing to it, then try again"
    elif "malformed" in line:
        remedy = "Put back a copy of the file, or import the last export into a new one"
    return InputError(f"it cannot be used ({line})", where=where, remedy=remedy)
