"""Connections to opened stores, and bringing their tables up to date."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path
from weakref import WeakSet

from django.apps import apps
from django.db import DEFAULT_DB_ALIAS, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.signals import connection_created
from django.db.backends.sqlite3.base import DatabaseWrapper as SqliteConnection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder
from django.db.transaction import atomic
from django.db.utils import DatabaseError, InterfaceError, OperationalError

from faywright.app.files import LABEL, PATIENCE, is_current, migrations_in, refused
from faywright.app.places import FilePlace, Place, ServerPlace
from faywright.errors import InputError

_LOCK = 0x66617977  # "fayw"; any number will do that no other program of the database takes
_numbers = count(1)
_opened: dict[str, WeakSet[BaseDatabaseWrapper]] = {}


def connect(place: Place, alias: str | None = None) -> str:
    """The name by which Django knows the store: ``alias``, or a new one.

    Raises
    ------
    InputError
        A store is open under that name.
    """
    alias = alias or f"store {next(_numbers)}"
    if alias in _opened:
        what = f"a store is open as {alias!r} already"
        raise InputError(what, where=str(place), remedy="Close that one first")
    told = _file(place) if isinstance(place, FilePlace) else _server(place)
    # A thread keeps its connection, and sees that it still stands before it is used again.
    told |= {"CONN_MAX_AGE": None, "CONN_HEALTH_CHECKS": True}
    _opened[alias] = WeakSet()
    # Django fills in what is left out for the default database, and so for this one.
    _name(alias, told)
    return alias


def disconnect(alias: str) -> None:
    """Close the connections of all threads, and forget the name."""
    for connection in _opened.pop(alias):
        connection.inc_thread_sharing()
        connection.close()
    _name(alias, {})
    if alias != DEFAULT_DB_ALIAS:
        del connections.settings[alias]


def _name(alias: str, told: dict[str, object]) -> None:
    with suppress(AttributeError):  # this thread may know another database by that name
        del connections[alias]
    connections.settings[alias] = connections.configure_settings({DEFAULT_DB_ALIAS: told})[
        DEFAULT_DB_ALIAS
    ]


def _note(connection: BaseDatabaseWrapper, **_: object) -> None:
    """Remember whose connections are to be closed with a store; every thread has one."""
    opened = _opened.get(connection.alias)
    if opened is not None:
        opened.add(connection)


connection_created.connect(_note)


def _file(place: FilePlace) -> dict[str, object]:
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(place.path.absolute()),
        "OPTIONS": {
            "timeout": PATIENCE,
            # Take the lock at once: a reader that turns writer cannot wait for it.
            "transaction_mode": "IMMEDIATE",
            # On the disk before a commit returns, whatever happens after.
            "init_command": "PRAGMA synchronous = FULL",
        },
    }


def _server(place: ServerPlace) -> dict[str, object]:
    options: dict[str, object] = {"connect_timeout": round(PATIENCE)}
    if place.sslmode is not None:
        options["sslmode"] = place.sslmode
    return {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": place.database,
        "USER": place.user,
        "PASSWORD": place.password,
        "HOST": place.host,
        "PORT": "" if place.port is None else str(place.port),
        "OPTIONS": options,
    }


def bring_up_to_date(alias: str, where: str) -> None:
    """Run migrations that are missing: all of them or none, in one process at a time."""
    connection = connections[alias]
    if _is_current(connection, where):
        return
    # SQLite's tables are made anew when changed, for which it must not watch references; that
    # can only be said outside a transaction.
    connection.disable_constraint_checking()
    try:
        with atomic(using=alias):
            if connection.vendor == "postgresql":
                with connection.cursor() as cursor:
                    cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_LOCK])
            if not _is_current(connection, where):
                executor = MigrationExecutor(connection)
                executor.migrate(executor.loader.graph.leaf_nodes())
    finally:
        connection.enable_constraint_checking()


def _is_current(connection: BaseDatabaseWrapper, where: str) -> bool:
    """Whether our tables, and those of Django that are in use, are as this version wants them."""
    applied: dict[str, set[str]] = defaultdict(set)
    for app, name in MigrationRecorder(connection).applied_migrations():
        applied[app].add(name)
    ours = is_current(applied[LABEL], where)
    others = (each for each in apps.get_app_configs() if each.label != LABEL)
    return ours and all(migrations_in(Path(each.path)) <= applied[each.label] for each in others)


@contextmanager
def database_told(where: str) -> Iterator[None]:
    """Tell what the database cannot do (locked, full, away, broken) as an error of ours."""
    try:
        yield
    except (DatabaseError, InterfaceError) as error:
        if type(error) not in (DatabaseError, InterfaceError, OperationalError):
            raise  # a mistake of ours in what was asked
        raise refused(str(error), where) from error


@contextmanager
def snapshot(alias: str) -> Iterator[None]:
    """Everything read inside is of one moment, and nobody waits for it.

    Inside a transaction it is read as that one sees it.
    """
    connection = connections[alias]
    if connection.in_atomic_block:
        yield
        return
    connection.ensure_connection()
    if isinstance(connection, SqliteConnection):
        # A reader needs no lock.
        connection.transaction_mode = "DEFERRED"  # type: ignore[attr-defined] # not in the stubs
        try:
            with atomic(using=alias):
                yield
        finally:
            connection.transaction_mode = "IMMEDIATE"  # type: ignore[attr-defined] # likewise
        return
    with atomic(using=alias):
        with connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
        yield
