"""Connections to opened stores, and bringing their tables up to date."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.sqlite3.base import DatabaseWrapper as SqliteConnection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder
from django.db.transaction import atomic
from django.db.utils import DatabaseError, InterfaceError, OperationalError

from faywright.app.files import LABEL, PATIENCE, is_current, refused
from faywright.app.places import FilePlace, Place, ServerPlace

_LOCK = 0x66617977  # "fayw"; any number will do that no other program of the database takes
_numbers = count(1)


def connect(place: Place) -> str:
    """A new name by which Django knows the store."""
    alias = f"store {next(_numbers)}"
    told = _file(place) if isinstance(place, FilePlace) else _server(place)
    # Django fills in what is left out for the default database, and so for this one.
    connections.settings[alias] = connections.configure_settings({DEFAULT_DB_ALIAS: told})[
        DEFAULT_DB_ALIAS
    ]
    return alias


def disconnect(alias: str) -> None:
    """Close this thread's connection and forget the name."""
    connections[alias].close()
    del connections[alias]
    del connections.settings[alias]


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
    if is_current(_applied(connection), where):
        return
    # SQLite's tables are made anew when changed, for which it must not watch references; that
    # can only be said outside a transaction.
    connection.disable_constraint_checking()
    try:
        with atomic(using=alias):
            if connection.vendor == "postgresql":
                with connection.cursor() as cursor:
                    cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_LOCK])
            if not is_current(_applied(connection), where):
                executor = MigrationExecutor(connection)
                executor.migrate(executor.loader.graph.leaf_nodes())
    finally:
        connection.enable_constraint_checking()


def _applied(connection: BaseDatabaseWrapper) -> frozenset[str]:
    applied = MigrationRecorder(connection).applied_migrations()
    return frozenset(name for app, name in applied if app == LABEL)


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
    """Everything read inside is of one moment, and nobody waits for it."""
    connection = connections[alias]
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
