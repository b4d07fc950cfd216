"""An open desk with the demo on it, and a client that looks at its pages."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Protocol

import pytest
from django.test import Client, override_settings

from faywright.app.planner import Planner
from faywright.web.demo import put_demo
from faywright.web.desk import Desk, close_desk, open_desk
from faywright.web.entry.attempts import attempts
from faywright.web.entry.mode import Mode
from faywright.web.entry.security_settings import start_settings

KEY = "a key that signs nothing but what tests have made of it"

QUICK = ["django.contrib.auth.hashers.MD5PasswordHasher"]
"""What guards passwords takes time on purpose; tests have none to guard."""


PLANNER = Planner()
"""One for all tests: it goes by what documents say, and most begin with the same."""


class Start(Protocol):
    """Sets what a start in a mode sets."""

    def __call__(self, mode: Mode, *, tls: bool = False) -> None:
        """From now on, until the test is over."""


@pytest.fixture(scope="session")
def new_store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with nothing in it, to be copied: making one takes longer than most tests."""
    path = tmp_path_factory.mktemp("new") / "shop.sqlite3"
    open_desk(path)
    close_desk()
    return path


@pytest.fixture(scope="session")
def demo_store(new_store: Path) -> Path:
    """A store with the demo, to be copied."""
    path = new_store.with_name("demo.sqlite3")
    path.write_bytes(new_store.read_bytes())
    put_demo(open_desk(path).store.documents)
    close_desk()
    return path


@contextmanager
def copied(ready: Path, folder: Path) -> Iterator[Desk]:
    path = folder / "shop.sqlite3"
    path.write_bytes(ready.read_bytes())
    yield open_desk(path, PLANNER)
    close_desk()


@pytest.fixture
def empty_desk(new_store: Path, tmp_path: Path) -> Iterator[Desk]:
    """A store in a file of its own, with nothing in it."""
    with copied(new_store, tmp_path) as found:
        yield found


@pytest.fixture
def desk(demo_store: Path, tmp_path: Path) -> Iterator[Desk]:
    """A store with the demo."""
    with copied(demo_store, tmp_path) as found:
        yield found


@pytest.fixture
def client(desk: Desk) -> Client:  # noqa: ARG001 - the desk must be open
    """A browser on the shop's own computer."""
    return Client(headers={"host": "localhost"})


@pytest.fixture
def shop_id(desk: Desk) -> int:
    """The demo's shop."""
    return desk.store.documents.listed("shop")[0].id


@pytest.fixture
def bench_id(desk: Desk) -> int:
    """The demo's piece."""
    return desk.store.documents.listed("piece")[0].id


@pytest.fixture
def start(new_store: Path, tmp_path: Path) -> Iterator[Start]:
    """Sets what a start in a mode sets, on a new store, with the count of tries begun anew."""
    path = tmp_path / "shop.sqlite3"
    path.write_bytes(new_store.read_bytes())
    attempts.cache_clear()
    with ExitStack() as stack:
        open_desk(path, PLANNER)
        stack.callback(close_desk)

        def begin(mode: Mode, *, tls: bool = False) -> None:
            told = start_settings(mode, key=KEY, hosts=["localhost", "192.168.1.7"], tls=tls)
            stack.enter_context(override_settings(**{**told, "PASSWORD_HASHERS": QUICK}))

        yield begin
    attempts.cache_clear()
