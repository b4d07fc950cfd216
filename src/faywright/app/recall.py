"""A quick look at what the shop knows, for a plan: no Django for a file that is up to date."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from faywright.app.files import PATIENCE, applied_migrations, check_file, is_current, told
from faywright.app.memory import Memory, memory_of
from faywright.app.opening import open_store
from faywright.app.places import FilePlace, place_of


def recall(shop: str, given: str | Path | None = None) -> Memory:
    """What trials have taught of a shop by its title; nothing where there is no store yet.

    ``given`` is the store, as for ``place_of``.

    Raises
    ------
    InputError
        There is a store, but it cannot be read.
    """
    place = place_of(given)
    if not is_there(given):
        return Memory()
    if isinstance(place, FilePlace):
        memory = _look_up(place, shop)
        if memory is not None:
            return memory
    with open_store(given) as store:
        return store.learned(shop)


def is_there(given: str | Path | None = None) -> bool:
    """Whether there is a store with anything in it; none is made to find out.

    Raises
    ------
    InputError
        What is there is no store, or there is no folder that it could be in.
    """
    place = place_of(given)
    if not isinstance(place, FilePlace):
        return True
    if place.usual and not place.path.exists():
        return False
    return check_file(place.path)


def _look_up(place: FilePlace, shop: str) -> Memory | None:
    """What is in the file; None if it is to be brought up to date first."""
    where = str(place)
    address = f"{place.path.absolute().as_uri()}?mode=rw"
    with (
        told(where),
        closing(sqlite3.connect(address, uri=True, timeout=PATIENCE)) as connection,
    ):
        connection.execute("PRAGMA query_only = ON")
        if not is_current(applied_migrations(connection, where), where):
            return None
        return memory_of(
            shop, lambda query, title: connection.execute(query.replace("%s", "?"), [title])
        )
