"""Opening a store; Django is loaded here and not before."""

from __future__ import annotations

import os
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

from faywright.app.files import prepare_file
from faywright.app.places import FilePlace, place_of
from faywright.errors import InputError

if TYPE_CHECKING:
    from faywright.app.store import Store

SETTINGS = "faywright.app.settings"


def open_store(given: str | Path | None = None, *, alias: str | None = None) -> Store:
    """The store at ``given`` (as for ``place_of``), made or brought up to date if need be.

    Close it, or use it in a ``with`` statement. ``alias`` is as for ``Store``.

    Raises
    ------
    InputError
        It cannot be found, made, read or written, or a newer version wrote it.
    """
    place = place_of(given)
    if isinstance(place, FilePlace):
        prepare_file(place)
    elif find_spec("psycopg") is None:
        raise InputError(
            "what talks to a PostgreSQL server is not installed",
            where=str(place),
            remedy="Install it with pip install 'faywright[postgres]'",
        )
    from faywright.app.store import Store

    return Store(place, alias=alias)


def set_up_django() -> None:
    """Load our settings, unless Django has some; models call it, so that they can be imported."""
    import django
    from django.conf import settings

    if not settings.configured:
        os.environ["DJANGO_SETTINGS_MODULE"] = SETTINGS
        django.setup()
