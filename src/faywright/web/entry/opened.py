"""The store opened for pages, with tables for accounts and sessions beside our own."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.contrib.sessions.backends.db import SessionStore
from django.core.handlers.wsgi import WSGIHandler

from faywright.web.demo import put_demo
from faywright.web.desk import close_desk, open_desk
from faywright.web.wsgi import application


@contextmanager
def opened(store: str | None, *, demo: bool = False) -> Iterator[WSGIHandler]:
    """The application for a store, while that is open.

    One that has held nothing yet begins with the ``demo``, if it is wanted.

    Raises
    ------
    InputError
        The store cannot be found, made, read or written.
    """
    desk = open_desk(store)
    try:
        if demo:
            put_demo(desk.store.documents)
        SessionStore.clear_expired()
        yield application
    finally:
        close_desk()
