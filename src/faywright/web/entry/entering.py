"""Trying a passphrase or a password, by whatever way it comes: a form, or a call of the API."""

from __future__ import annotations

from django.contrib.auth import authenticate
from django.contrib.auth.models import AbstractBaseUser
from django.http import HttpRequest

from faywright.web.entry.accounts import LONGEST, SHOP, named
from faywright.web.entry.attempts import attempts
from faywright.web.entry.mode import Mode, mode
from faywright.web.entry.passphrase import tidied


def entering(request: HttpRequest, name: str, password: str) -> AbstractBaseUser | None:
    """The account that name and password are those of; None if they are of none.

    Raises
    ------
    TooManyTries
        It was tried too often.
    """
    made = attempts().begin(address_of(request))
    if mode() is Mode.LAN:
        name, password = (SHOP, tidied(password)) if name in ("", SHOP) else ("", "")
    elif (found := named(name)) is not None:
        name = found.username
    if len(password) > LONGEST or "\0" in name + password:
        return None
    # Takes as long for a name that is not there: that it is not must not be told by the clock.
    user = authenticate(request, username=name, password=password)
    if user is not None:
        attempts().right(made)
    return user


def address_of(request: HttpRequest) -> str:
    """Where a request comes from, as the socket knows it; what headers claim is not believed."""
    return str(request.META.get("REMOTE_ADDR", ""))
