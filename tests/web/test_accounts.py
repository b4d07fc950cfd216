"""Accounts: names that cannot be mistaken, passwords that cannot be guessed, always a keeper."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import override_settings

from faywright.errors import InputError
from faywright.web.entry import accounts
from faywright.web.entry.mode import Mode
from faywright.web.entry.security_settings import FIXED
from tests.web.conftest import Start

GOOD = "tenon walnut kerf"


@pytest.fixture(autouse=True)
def by_name(start: Start) -> None:
    start(Mode.ACCOUNTS)


def test_accounts_are_listed_by_name_and_keepers_told() -> None:
    accounts.add("Uwe", GOOD)
    accounts.add("ann", GOOD, keeper=True)
    assert [(one.name, one.keeper) for one in accounts.listed()] == [("ann", True), ("Uwe", False)]


def test_passwords_are_kept_so_that_nobody_can_read_them() -> None:
    with override_settings(PASSWORD_HASHERS=FIXED["PASSWORD_HASHERS"]):
        accounts.add("ann", GOOD)
        user = accounts.named("ann")
        assert user is not None
        assert user.password.startswith("scrypt$")
        assert user.check_password(GOOD)


@pytest.mark.parametrize("name", ["ANN", " ann ", "\uff41\uff4e\uff4e"])
def test_a_name_that_looks_like_another_is_taken(name: str) -> None:
    accounts.add("ann", GOOD)
    with pytest.raises(InputError, match=r"is there already\. Choose another"):
        accounts.add(name, GOOD)


@pytest.mark.parametrize("name", ["", " ", "-ann", "a/b", "ann\n<b>", "x" * 41, "ann@shop", "_"])
def test_what_cannot_be_a_name_is_refused(name: str) -> None:
    with pytest.raises(InputError, match=r"cannot be a name\. Use up to 40 letters"):
        accounts.add(name, GOOD)


@pytest.mark.parametrize("name", ["Ann", "Ann O'Hara", "J. Müller-Lee", "a", "7"])
def test_names_of_people_can_be_names(name: str) -> None:
    assert accounts.add(name, GOOD).name == name


@pytest.mark.parametrize(
    ("password", "why"),
    [
        ("", "too short"),
        ("kerf arbo", "at least 10 characters"),
        ("1234567890", "common"),
        ("8417362951", "entirely numeric"),
        ("annabelle-", "too similar to the username"),
        ("x" * 129, "it has 129 characters. Use 128 at most"),
    ],
)
def test_a_password_that_is_easily_guessed_is_refused(password: str, why: str) -> None:
    with pytest.raises(InputError, match=why):
        accounts.add("annabelle", password)
    assert accounts.listed() == ()


def test_an_account_may_be_called_otherwise() -> None:
    ann = accounts.add("ann", GOOD)
    accounts.rename(ann.number, "Ann")
    accounts.rename(ann.number, "Anna")
    assert [one.name for one in accounts.listed()] == ["Anna"]


def test_not_by_the_name_of_another() -> None:
    accounts.add("uwe", GOOD)
    ann = accounts.add("ann", GOOD)
    with pytest.raises(InputError, match="'Uwe' is there already"):
        accounts.rename(ann.number, "Uwe")


def test_the_last_keeper_stays_one() -> None:
    ann = accounts.add("ann", GOOD, keeper=True)
    uwe = accounts.add("uwe", GOOD)
    with pytest.raises(InputError, match=r"the last keeper's\. Make somebody else a keeper"):
        accounts.remove(ann.number)
    with pytest.raises(InputError, match="the last keeper's"):
        accounts.set_keeper(ann.number, keeper=False)
    accounts.set_keeper(uwe.number, keeper=True)
    accounts.remove(ann.number)
    assert [(one.name, one.keeper) for one in accounts.listed()] == [("uwe", True)]


@pytest.mark.parametrize(
    "change",
    [
        accounts.remove,
        lambda number: accounts.rename(number, "ann"),
        lambda number: accounts.set_keeper(number, keeper=True),
        lambda number: accounts.set_password(number, GOOD),
    ],
)
def test_an_account_that_is_not_there_is_told(change: Callable[[int], object]) -> None:
    with pytest.raises(InputError, match=r"none of that number\. Choose one that is listed"):
        change(99)


def test_there_is_one_passphrase() -> None:
    assert not accounts.has_passphrase()
    accounts.keep_passphrase("tenon walnut kerf arbor")
    accounts.keep_passphrase("chisel walnut kerf arbor")
    assert accounts.has_passphrase()
    assert [one.name for one in accounts.listed()] == [accounts.SHOP]


def test_a_short_passphrase_is_refused() -> None:
    with pytest.raises(InputError, match=r"^passphrase: .+at least 10 characters"):
        accounts.keep_passphrase("kerf")
