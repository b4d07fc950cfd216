"""What a start finds out before anything is served: who may enter, where, and by what settings."""

from __future__ import annotations

import logging
import os
from collections.abc import Mapping

import django
from django.conf import settings

from faywright.app.files import prepare_file
from faywright.app.places import FilePlace, Place, ServerPlace
from faywright.web.entry.addresses import LOOPBACK
from faywright.web.entry.mode import Mode
from faywright.web.entry.secret_files import secret_key
from faywright.web.entry.security_settings import start_settings

SETTINGS = "faywright.web.settings"
HERE = ("localhost", LOOPBACK, "[::1]")
"""Hosts by which a browser on this computer can call it."""


def mode_for(place: Place, *, lan: bool) -> Mode:
    """How it is decided who may enter: by the store, and by where others may come from."""
    if isinstance(place, ServerPlace):
        return Mode.ACCOUNTS
    return Mode.LAN if lan else Mode.HERE


def make_ready(
    place: Place, mode: Mode, *, others: tuple[str, ...] = (), tls: bool = False
) -> None:
    """Load Django for this start; ``others`` are names of this computer beside those of loopback.

    Raises
    ------
    InputError
        The store's file, or the key that signs sessions, cannot be read or made.
    """
    if isinstance(place, FilePlace):
        prepare_file(place)  # in a folder that is there, and of a kind that we know
    told = start_settings(mode, key=secret_key(place), hosts=(*HERE, *others), tls=tls)
    load_django(told)


def load_django(told: Mapping[str, object]) -> None:
    """Load Django with our settings, and ``told`` on top of them."""
    os.environ["DJANGO_SETTINGS_MODULE"] = SETTINGS
    for name, value in told.items():
        setattr(settings, name, value)
    django.setup()
    # The terminal is for the maker: that something was refused is told to who asked for it.
    logging.getLogger("django.request").setLevel(logging.ERROR)
    logging.getLogger("django.security").setLevel(logging.CRITICAL)
