"""Accounts from the command line: the first ones, and for who lost the way in."""

from __future__ import annotations

from pathlib import Path

import pytest

from faywright.errors import InputError
from faywright.web.entry import accounts
from faywright.web.entry.account_run import run_account, told
from faywright.web.entry.mode import Mode
from faywright.web.entry.wishes import AccountWish, Doing
from tests.app.conftest import database, server  # noqa: F401 - fixtures
from tests.web.conftest import Start
from tests.web.test_serving import command, get, serving

GOOD = "walnut and ash"


def wish(doing: Doing, name: str | None = None, *, keeper: bool = False) -> AccountWish:
    return AccountWish(doing=doing, name=name, store=None, keeper=keeper, password=lambda: GOOD)


@pytest.fixture
def by_name(start: Start) -> None:
    start(Mode.ACCOUNTS)


@pytest.mark.usefixtures("by_name")
def test_the_first_account_is_a_keepers() -> None:
    assert told(wish(Doing.ADD, "Ann")) == ("Ann has an account and is a keeper.",)
    assert told(wish(Doing.ADD, "Uwe")) == ("Uwe has an account.",)
    assert told(wish(Doing.ADD, "Eve", keeper=True)) == ("Eve has an account and is a keeper.",)
    assert told(wish(Doing.LIST)) == ("Ann, keeper", "Eve, keeper", "Uwe")


@pytest.mark.usefixtures("by_name")
def test_an_account_is_removed_and_its_work_stays() -> None:
    told(wish(Doing.ADD, "Ann"))
    told(wish(Doing.ADD, "Uwe"))
    (line,) = told(wish(Doing.REMOVE, "uwe"))
    assert line.startswith("Uwe has no account any more")
    assert [one.name for one in accounts.listed()] == ["Ann"]


@pytest.mark.usefixtures("by_name")
def test_who_forgot_a_password_gets_another() -> None:
    accounts.add("Ann", "quite another one", keeper=True)
    told(wish(Doing.PASSWORD, "ann"))
    user = accounts.named("Ann")
    assert user is not None
    assert user.check_password(GOOD)


@pytest.mark.usefixtures("by_name")
@pytest.mark.parametrize("doing", [Doing.REMOVE, Doing.PASSWORD])
def test_a_name_without_an_account_is_told(doing: Doing) -> None:
    with pytest.raises(InputError, match=r"'Ann' has no account\. faywright account list shows"):
        told(wish(doing, "Ann"))


@pytest.mark.parametrize(
    ("doing", "name", "keeper", "why"),
    [
        (Doing.ADD, None, False, "no name is given"),
        (Doing.LIST, "Ann", False, "all are listed, whatever the name"),
        (Doing.REMOVE, "Ann", True, "it goes with add only"),
    ],
)
def test_what_does_not_go_together_is_refused(
    doing: Doing, name: str | None, keeper: bool, why: str
) -> None:
    with pytest.raises(InputError, match=why):
        wish(doing, name, keeper=keeper)


def test_a_store_in_a_file_has_no_accounts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FAYWRIGHT_STORE", str(tmp_path / "shop.sqlite3"))
    with pytest.raises(InputError, match=r"a store in a file has no accounts\. Give a PostgreSQL"):
        run_account(wish(Doing.LIST))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.soak
def test_a_store_on_a_server_has_accounts(tmp_path: Path, database: str) -> None:  # noqa: F811
    with serving(tmp_path, store=database) as first:
        assert "Nobody has an account yet. The first is made with: " in first.shown
        assert get(first.port, "/sign-in")[0] == 302
    run = command(tmp_path, "account", "add", "Ann", "--store", database, typed=f"{GOOD}\n")
    assert (run.stdout, run.stderr) == ("Ann has an account and is a keeper.\n", "")
    with serving(tmp_path, store=database) as second:
        assert "Nobody has an account" not in second.shown
        assert get(second.port, "/sign-in")[0] == 200
        assert get(second.port, "/nothing")[0] == 302
    assert "let me" not in first.shown + second.shown  # the database's own password
