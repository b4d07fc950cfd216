"""Stores under a name of Django's, stores of earlier versions, and the tables of Django itself."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from threading import Thread

import pytest
from django.contrib.auth.models import User
from django.contrib.sessions.backends.db import SessionStore
from django.core.exceptions import ImproperlyConfigured
from django.db import connections

from faywright.app import open_store, recall
from faywright.app.store import Store
from faywright.errors import InputError
from tests.app.strategies import a_trial

SHOP = "Mill Lane"
FIRST = Path(__file__).with_name("store-1.sql")


@pytest.fixture
def first(tmp_path: Path) -> Path:
    """A store as the first version left it."""
    path = tmp_path / "trials.sqlite3"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(FIRST.read_text(encoding="utf-8"))
    return path


def test_a_store_of_the_first_version_is_brought_up_to_date(first: Path) -> None:
    with open_store(first) as store:
        assert [trial.id for trial in store.trials()] == [2, 1]
        assert store.trial(2).record == a_trial(0.03)
        assert [feel.record.word for feel in store.feels(SHOP)] == ["slides"]
        assert [each.record.size for each in store.sharpenings(SHOP)] == [12.5]
        assert store.documents.listed("piece") == ()
        sheet = store.documents.begin("shop", "x", title="Mill Lane", what="begun")
    with open_store(first) as store:
        assert store.documents.sheet(sheet.id) == sheet


def test_a_look_at_a_store_of_the_first_version_brings_it_up_to_date(first: Path) -> None:
    known = recall(SHOP, first)
    assert {value.kind: value.mean for value in known.values} == {
        "cutter": 0.03,
        "height zero": -0.05,
    }
    with closing(sqlite3.connect(first)) as connection:
        (count,) = connection.execute("SELECT count(*) FROM faywright_document").fetchone()
    assert count == 0


def test_a_store_of_the_first_version_keeps_its_numbers_counting(first: Path) -> None:
    with open_store(first) as store:
        assert store.add_trial(a_trial(0.1)) == 3


def test_django_knows_a_store_as_its_own(place: str) -> None:
    with open_store(place, alias="default") as store:
        store.add_trial(a_trial(0.1))
        User.objects.create_user("ann")
        session = SessionStore()
        session["place"] = "bench"
        session.save()
        assert session.session_key is not None
    with open_store(place, alias="default") as store:
        assert User.objects.get().username == "ann"
        assert SessionStore(session.session_key)["place"] == "bench"
        assert len(store.trials()) == 1


def test_a_store_is_known_also_where_there_was_none_before(tmp_path: Path) -> None:
    assert connections["default"].vendor == "unknown"
    with open_store(tmp_path / "a.sqlite3", alias="default"):
        assert User.objects.count() == 0


def test_without_an_open_store_django_has_no_database(tmp_path: Path) -> None:
    open_store(tmp_path / "a.sqlite3", alias="default").close()
    with pytest.raises(ImproperlyConfigured, match="DATABASES"):
        User.objects.count()


def test_a_name_is_given_to_one_store_at_a_time(tmp_path: Path) -> None:
    with open_store(tmp_path / "a.sqlite3", alias="default") as store:
        message = r"b\.sqlite3: a store is open as 'default' already\. Close that one first"
        with pytest.raises(InputError, match=message):
            open_store(tmp_path / "b.sqlite3", alias="default")
        assert store.trials() == ()
    with open_store(tmp_path / "b.sqlite3", alias="default") as store:
        store.add_trial(a_trial(0.1))
    assert recall(SHOP, tmp_path / "a.sqlite3").values == ()


LIGHT = """
import sys
from django.apps import apps
from faywright.app import open_store
open_store(sys.argv[1]).close()
print([app.label for app in apps.get_app_configs()], "django.contrib.auth" in sys.modules)
"""


def tables(path: Path) -> set[str]:
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        return {name for (name,) in found}


def test_the_command_line_makes_no_tables_for_pages_and_pages_add_them(tmp_path: Path) -> None:
    path = tmp_path / "trials.sqlite3"
    command = [sys.executable, "-c", LIGHT, str(path)]
    ran = subprocess.run(  # noqa: S603 - Python itself
        command, check=True, capture_output=True, text=True
    )
    assert ran.stdout == "['faywright'] False\n"
    assert "faywright_revision" in tables(path)
    assert not {name for name in tables(path) if name.startswith(("auth", "django_session"))}
    open_store(path).close()
    assert {"auth_user", "django_session", "django_content_type"} <= tables(path)
    subprocess.run(command, check=True, capture_output=True)  # noqa: S603 - and back again


def test_each_thread_has_its_own_connection_and_closing_closes_them_all(store: Store) -> None:
    seen = []

    def look() -> None:
        store.trials()
        seen.append(connections[store._alias])

    threads = [Thread(target=look) for _ in range(3)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert len({id(each) for each in seen}) == 3
    assert all(each.connection is not None for each in seen)
    store.close()
    assert all(each.connection is None for each in seen)


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """Left for the test to close."""
    return open_store(tmp_path / "trials.sqlite3")
