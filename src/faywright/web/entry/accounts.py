"""Accounts: who may enter by name, and which of them are keepers.

A keeper (``is_staff``) adds and removes accounts and gives out passwords. There is always one, and
there is never a password that anybody could look up: the first keeper makes their own.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from django.contrib.auth.models import User
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import IntegrityError
from django.db.transaction import atomic

from faywright.errors import InputError

SHOP = "shop"
"""The one account of a shop's network, whose password is the passphrase."""

LONGEST = 128
"""Characters of a password; more would only be work for who has to hash it."""

_NAME = re.compile(r"[^\W_](?:[\w.' -]{0,38}[\w.])?")


@dataclass(frozen=True, slots=True)
class Account:
    """One that is there."""

    number: int
    name: str
    keeper: bool

    @property
    def label(self) -> str:
        """The number as text, for templates that put it into another."""
        return str(self.number)


def listed() -> tuple[Account, ...]:
    """All of them, by name."""
    found = sorted(User.objects.filter(is_active=True), key=lambda user: user.username.casefold())
    return tuple(Account(user.pk, user.username, user.is_staff) for user in found)


def named(name: str) -> User | None:
    """The account of that name; capitals make no difference."""
    wanted = _plain(name).casefold()
    found = [user for user in User.objects.all() if user.username.casefold() == wanted]
    return found[0] if found else None


def numbered(number: int) -> User:
    """The account of that number.

    Raises
    ------
    InputError
        There is none.
    """
    user = User.objects.filter(pk=number).first()
    if user is None:
        raise InputError(
            "there is none of that number", where="account", remedy="Choose one that is listed"
        )
    return user


def add(name: str, password: str, *, keeper: bool = False) -> Account:
    """A new account.

    Raises
    ------
    InputError
        The name is taken or cannot be one, or the password is too easily guessed.
    """
    user = User(username=_new_name(name), is_staff=keeper)
    _give(user, password)
    try:
        with atomic():
            user.save(force_insert=True)
    except IntegrityError as error:
        raise _taken(user.username) from error
    return Account(user.pk, user.username, keeper)


def rename(number: int, name: str) -> None:
    """Call an account otherwise; what was done under the old name keeps it.

    Raises
    ------
    InputError
        The name is taken or cannot be one, or there is no such account.
    """
    user = numbered(number)
    if _plain(name).casefold() != user.username.casefold():
        name = _new_name(name)
    user.username = _plain(name)
    user.save(update_fields=["username"])


def set_password(number: int, password: str) -> User:
    """Give an account another password; wherever it is signed in, it is signed out.

    Raises
    ------
    InputError
        The password is too easily guessed, or there is no such account.
    """
    user = numbered(number)
    _give(user, password)
    user.save(update_fields=["password"])
    return user


def set_keeper(number: int, *, keeper: bool) -> None:
    """Make an account a keeper's, or that of one who is none.

    Raises
    ------
    InputError
        It is the last keeper's, or there is no such account.
    """
    with atomic():
        user = numbered(number) if keeper else _not_the_last_keeper(number)
        user.is_staff = keeper
        user.save(update_fields=["is_staff"])


def remove(number: int) -> None:
    """Take an account away; what it did stays, under its name.

    Raises
    ------
    InputError
        It is the last keeper's, or there is no such account.
    """
    with atomic():
        _not_the_last_keeper(number).delete()


def keep_passphrase(passphrase: str) -> None:
    """Make ``passphrase`` that of the shop's network; whoever had the old one signs in anew.

    Raises
    ------
    InputError
        It is too easily guessed.
    """
    user = named(SHOP) or User(username=SHOP)
    _give(user, passphrase, where="passphrase")
    user.save()


def has_passphrase() -> bool:
    """Whether there is one."""
    user = named(SHOP)
    return user is not None and user.has_usable_password()


def _give(user: User, password: str, where: str = "password") -> None:
    if len(password) > LONGEST:
        what = f"it has {len(password)} characters"
        raise InputError(what, where=where, remedy=f"Use {LONGEST} at most")
    try:
        validate_password(password, user)
    except ValidationError as error:
        raise InputError(
            " ".join(error.messages).rstrip("."),
            where=where,
            remedy="Take a longer one, or several words that do not belong together",
        ) from error
    user.set_password(password)


def _not_the_last_keeper(number: int) -> User:
    """The account; keepers are held until the transaction ends, lest two remove each other."""
    keepers = [user.pk for user in User.objects.select_for_update().filter(is_staff=True)]
    user = numbered(number)
    if keepers == [user.pk]:
        raise InputError(
            "it is the last keeper's",
            where=f"account {user.username}",
            remedy="Make somebody else a keeper first",
        )
    return user


def _new_name(name: str) -> str:
    name = _plain(name)
    if not _NAME.fullmatch(name):
        raise InputError(
            f"{name!r} cannot be a name",
            where="name",
            remedy="Use up to 40 letters, digits, spaces, dots, dashes and apostrophes",
        )
    if named(name) is not None:
        raise _taken(name)
    return name


def _taken(name: str) -> InputError:
    return InputError(f"{name!r} is there already", where="name", remedy="Choose another")


def _plain(name: str) -> str:
    return " ".join(unicodedata.normalize("NFKC", name).split())
