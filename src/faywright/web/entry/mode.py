"""Who may come to the pages: one of three ways, chosen when the server starts."""

from __future__ import annotations

from enum import StrEnum

from django.conf import settings


class Mode(StrEnum):
    """How it is decided who may enter; kept in Django's settings as ``FAYWRIGHT_MODE``."""

    HERE = "here"
    """Programs on this computer only, by its loopback address; nobody signs in."""

    LAN = "lan"
    """Devices on the shop's own network, over TLS, by one passphrase for all."""

    ACCOUNTS = "accounts"
    """Whoever has a name and a password, given out by a keeper."""


def mode() -> Mode:
    """The one this server was started in."""
    return Mode(settings.FAYWRIGHT_MODE)
