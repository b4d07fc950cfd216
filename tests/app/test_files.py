"""A file that is not our store is refused and left as it was."""

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pytest
from django.db import connections

from faywright.app import Memory, open_store, recall
from faywright.app.files import known_migrations, write_ahead
from faywright.errors import InputError
from tests.app.strategies import a_trial

SHOP = "Mill Lane"
Ask = Callable[[Path], object]


def opening(path: Path) -> None:
    open_store(path).close()


def looking_up(path: Path) -> Memory:
    return recall(SHOP, path)


both = pytest.mark.parametrize("ask", [opening, looking_up])


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A store with a trial in it."""
    path = tmp_path / "trials.sqlite3"
    with open_store(path) as store:
        store.add_trial(a_trial(0.03))
    return path


def told_to(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute(statement)


@both
@pytest.mark.parametrize("content", [b"not a database", b"SQLite format 2\0", b"SQLite"])
def test_a_file_of_another_kind_is_refused(ask: Ask, content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_bytes(content)
    with pytest.raises(InputError, match=r"letter\.txt: it is not an SQLite database\. Give"):
        ask(path)
    assert path.read_bytes() == content


@both
def test_another_programs_database_is_refused(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    told_to(path, "CREATE TABLE recipes (name)")
    before = path.read_bytes()
    with pytest.raises(InputError, match="another program's data are in it"):
        ask(path)
    assert path.read_bytes() == before


@both
def test_another_programs_django_database_is_refused(ask: Ask, tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    told_to(path, "CREATE TABLE django_migrations (id, app, name, applied)")
    told_to(path, "INSERT INTO django_migrations VALUES (1, 'recipes', '0001_first', '')")
    with pytest.raises(InputError, match="another program's data are in it"):
        ask(path)


@both
def test_a_newer_versions_store_is_refused(ask: Ask, kept: Path) -> None:
    told_to(
        kept,
        "INSERT INTO django_migrations (app, name, applied) "
        "VALUES ('faywright', '0999_wonder', '2031-01-01')",
    )
    message = r"a newer version of Faywright wrote it \(it has 0999_wonder\)\. Install that version"
    with pytest.raises(InputError, match=message):
        ask(kept)


@both
def test_a_folder_is_no_store(ask: Ask, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="it is not a file"):
        ask(tmp_path)


@both
def test_a_path_whose_folder_is_missing_is_refused(ask: Ask, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"its folder does not exist\. Make the folder .*nowhere,"):
        ask(tmp_path / "nowhere" / "trials.sqlite3")


@both
def test_a_damaged_store_is_told(ask: Ask, kept: Path) -> None:
    content = bytearray(kept.read_bytes())
    content[100:] = b"\xff" * (len(content) - 100)
    kept.write_bytes(content)
    with pytest.raises(InputError, match=r"it cannot be used \(.*malformed.*\)\. Put back a copy"):
        ask(kept)


def test_the_usual_folder_is_made(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("FAYWRIGHT_STORE", raising=False)
    monkeypatch.setattr("faywright.app.places.data_folder", lambda: tmp_path / "a" / "b")
    assert recall(SHOP) == Memory()
    assert not (tmp_path / "a").exists()
    with open_store() as store:
        store.add_trial(a_trial(0.03))
    assert recall(SHOP).values[0].mean == 0.03
    assert [path.name for path in (tmp_path / "a" / "b").iterdir()] == ["trials.sqlite3"]


def test_a_usual_folder_that_cannot_be_made_is_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("FAYWRIGHT_STORE", raising=False)
    (tmp_path / "a").write_text("a file where the folder should be")
    monkeypatch.setattr("faywright.app.places.data_folder", lambda: tmp_path / "a" / "b")
    with pytest.raises(InputError, match="its folder cannot be made"):
        open_store()


def test_a_look_makes_no_file(tmp_path: Path) -> None:
    assert recall(SHOP, tmp_path / "trials.sqlite3") == Memory()
    assert list(tmp_path.iterdir()) == []


def test_a_look_into_an_empty_file_finds_nothing(tmp_path: Path) -> None:
    path = tmp_path / "trials.sqlite3"
    path.touch()
    assert recall(SHOP, path) == Memory()
    assert path.read_bytes() == b""


def test_a_look_leaves_nothing_beside_the_file(kept: Path) -> None:
    before = kept.read_bytes()
    recall(SHOP, kept)
    assert kept.read_bytes() == before
    assert list(kept.parent.iterdir()) == [kept]


def test_a_store_of_an_older_version_is_brought_up_to_date_by_a_look(
    kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    brought = []
    newer = known_migrations() | {"0999_wonder"}
    monkeypatch.setattr("faywright.app.files.known_migrations", lambda: newer)
    monkeypatch.setattr(
        "faywright.app.store.bring_up_to_date", lambda _, where: brought.append(where)
    )
    assert recall(SHOP, kept).values[0].mean == 0.03
    assert brought == [str(kept)]


def test_the_file_writes_ahead_and_waits_for_the_disk(kept: Path) -> None:
    with open_store(kept) as store, connections[store._alias].cursor() as cursor:
        cursor.execute("PRAGMA journal_mode")
        assert cursor.fetchone() == ("wal",)
        cursor.execute("PRAGMA synchronous")
        assert cursor.fetchone() == (2,)
        cursor.execute("PRAGMA busy_timeout")
        assert cursor.fetchone() == (20_000,)
        cursor.execute("PRAGMA foreign_keys")
        assert cursor.fetchone() == (1,)


def test_a_file_that_another_program_holds_is_told(
    kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("faywright.app.connecting.PATIENCE", 0.05)
    with open_store(kept) as store, closing(sqlite3.connect(kept)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(InputError, match=r"\(database is locked\)\. Close the other program"):
            store.add_trial(a_trial(0.04))
        assert len(store.trials()) == 1, "a reader does not wait"
        other.rollback()
        store.add_trial(a_trial(0.05))


class TwiceLocked(sqlite3.Connection):
    """Another process sets the file to write ahead at the same time."""

    tries = 0

    def execute(self, sql: str, *parameters: Any) -> sqlite3.Cursor:
        if "journal_mode" in sql:
            self.tries += 1
            if self.tries < 3:
                raise sqlite3.OperationalError("database is locked")
        return super().execute(sql, *parameters)


def test_setting_the_file_to_write_ahead_waits_for_others_who_do(tmp_path: Path) -> None:
    path = tmp_path / "trials.sqlite3"
    with closing(sqlite3.connect(path, factory=TwiceLocked)) as connection:
        write_ahead(connection)
        assert connection.tries == 3
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_setting_the_file_to_write_ahead_does_not_wait_for_ever(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("faywright.app.files.PATIENCE", -1)
    with (
        closing(sqlite3.connect(tmp_path / "a", factory=TwiceLocked)) as connection,
        pytest.raises(sqlite3.OperationalError, match="database is locked"),
    ):
        write_ahead(connection)


@contextmanager
def without_privileges() -> Iterator[None]:
    """As somebody who may not write everywhere; the administrator may."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def read_only(kept: Path) -> Iterator[Path]:
    """A store in a folder that cannot be written."""
    folder = Path(tempfile.mkdtemp())
    path = folder / "trials.sqlite3"
    shutil.copy(kept, path)
    path.chmod(0o444)
    folder.chmod(0o555)
    with without_privileges():
        yield path
    folder.chmod(0o755)
    shutil.rmtree(folder)


def test_a_store_that_cannot_be_written_is_told(read_only: Path) -> None:
    with pytest.raises(InputError, match=r"trials\.sqlite3: it cannot be .*Give another file"):
        open_store(read_only)


def test_a_new_store_in_a_folder_that_cannot_be_written_is_told(read_only: Path) -> None:
    with pytest.raises(InputError, match=r"unable to open database file.*Give another file"):
        open_store(read_only.with_name("new.sqlite3"))


def test_a_look_at_a_store_that_cannot_be_written_is_told_or_true(read_only: Path) -> None:
    # Whether SQLite can read a file that is written ahead without writing beside it depends on
    # its version and system; it must not claim that nothing is known.
    try:
        assert recall(SHOP, read_only).values[0].mean == 0.03
    except InputError as error:
        assert "it cannot be used" in str(error)  # noqa: PT017 - either is right
