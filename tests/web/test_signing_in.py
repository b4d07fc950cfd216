"""Signing in and out, and what a keeper does for others."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client

from faywright.web.entry import accounts
from faywright.web.entry.attempts import FREE
from faywright.web.entry.entrances import entrance
from faywright.web.entry.first_keeper import first_keeper
from faywright.web.entry.mode import Mode
from faywright.web.entry.passphrase import words
from tests.web.conftest import Start

WORDS = "tenon walnut kerf arbor chisel"
GOOD = "walnut and ash"
INSIDE = "/accounts"


def browser(address: str = "192.168.1.20") -> Client:
    return Client(headers={"host": "192.168.1.7"}, REMOTE_ADDR=address)


@pytest.fixture
def lan(start: Start) -> Client:
    start(Mode.LAN)
    accounts.keep_passphrase(WORDS)
    return browser()


@pytest.fixture
def ann(start: Start) -> Client:
    """A keeper who has signed in."""
    start(Mode.ACCOUNTS)
    accounts.add("Ann", GOOD, keeper=True)
    return signed_in("Ann")


def signed_in(name: str, password: str = GOOD) -> Client:
    client = browser()
    assert client.post("/sign-in", {"name": name, "password": password}).status_code == 302
    return client


def is_in(client: Client) -> bool:
    return client.get(INSIDE).status_code != 302


def number(name: str) -> int:
    return next(one.number for one in accounts.listed() if one.name == name)


# The shop's network.


@pytest.mark.parametrize("typed", [WORDS, f" {WORDS.title()} "])
def test_the_passphrase_lets_in(lan: Client, typed: str) -> None:
    answer = lan.post("/sign-in", {"name": "shop", "password": typed, "next": "/timber?x=1"})
    assert (answer.status_code, answer["Location"]) == (302, "/timber?x=1")
    assert is_in(lan)


@pytest.mark.parametrize(
    "typed", [{}, {"password": ""}, {"password": "oak"}, {"name": "ann", "password": WORDS}]
)
def test_nothing_else_does(lan: Client, typed: dict[str, str]) -> None:
    answer = lan.post("/sign-in", typed)
    assert answer.status_code == 422
    assert "That is not the passphrase" in answer.content.decode()
    assert not is_in(lan)


def test_what_was_typed_is_not_shown_again(lan: Client) -> None:
    assert "oak oak oak" not in lan.post("/sign-in", {"password": "oak oak oak"}).content.decode()


@pytest.mark.parametrize(
    "asked",
    [
        "http://evil.example/",
        "//evil.example",
        "///evil.example",
        "/\\evil.example",
        "javascript:alert(1)",
        "http:///evil.example",
        "evil",
        "",
    ],
)
def test_signing_in_leads_nowhere_else(lan: Client, asked: str) -> None:
    answer = lan.post("/sign-in", {"password": WORDS, "next": asked})
    assert answer["Location"] == "/"
    assert lan.get("/sign-in", {"next": asked})["Location"] == "/"  # who is in need not sign in


def test_a_session_is_new_with_each_sign_in(lan: Client) -> None:
    lan.cookies["faywright-session"] = "known-to-somebody-else"
    lan.post("/sign-in", {"password": WORDS})
    assert lan.cookies["faywright-session"].value != "known-to-somebody-else"


def test_who_signs_out_is_out(lan: Client) -> None:
    lan.post("/sign-in", {"password": WORDS})
    before = lan.cookies["faywright-session"].value
    assert lan.get("/sign-out").status_code == 405
    assert lan.post("/sign-out")["Location"] == "/sign-in"
    lan.cookies["faywright-session"] = before
    assert not is_in(lan)


def test_another_passphrase_puts_everyone_out(lan: Client) -> None:
    lan.post("/sign-in", {"password": WORDS})
    assert is_in(lan)
    accounts.keep_passphrase("another four plain words")
    assert not is_in(lan)


def test_guessing_is_slowed_down(lan: Client) -> None:
    statuses = [lan.post("/sign-in", {"password": "oak"}).status_code for _ in range(FREE + 1)]
    assert statuses == [422] * FREE + [429]
    answer = lan.post("/sign-in", {"password": WORDS})
    assert answer.status_code == 429
    assert answer["Retry-After"] == "1"
    assert "Try again in 1 second." in answer.content.decode()
    assert not is_in(lan)
    assert browser("192.168.1.21").post("/sign-in", {"password": WORDS}).status_code == 302


def test_over_tls_cookies_go_over_nothing_else(start: Start) -> None:
    start(Mode.LAN, tls=True)
    accounts.keep_passphrase(WORDS)
    client = browser()
    client.get("/sign-in", secure=True)
    client.post(
        "/sign-in", {"password": WORDS}, secure=True, headers={"origin": "https://192.168.1.7"}
    )
    assert set(client.cookies) == {"__Host-session", "__Host-csrf"}
    for cookie in client.cookies.values():
        assert cookie["secure"]
        assert cookie["httponly"]
        assert cookie["path"] == "/"
        assert cookie["domain"] == ""
        assert cookie["samesite"] == "Lax"
    assert client.get("/sign-in")["Location"] == "https://192.168.1.7/sign-in"


def test_there_are_no_accounts_on_the_shops_network(lan: Client) -> None:
    lan.post("/sign-in", {"password": WORDS})
    assert lan.get("/accounts").status_code == 404
    assert lan.post("/accounts/add", {"name": "x", "password": GOOD}).status_code == 404
    assert lan.get("/first-keeper").status_code == 404


def test_on_this_computer_there_is_nothing_to_sign_in_to(start: Start) -> None:
    start(Mode.HERE)
    client = Client(headers={"host": "localhost"})
    assert client.get("/sign-in?next=/timber")["Location"] == "/timber"
    assert client.get("/accounts").status_code == 404


# Pages.


def fields(page: str) -> list[str]:
    """Those that are seen; a box to tick stands in its label."""
    return re.findall(r"<input(?![^>]*(?:hidden|checkbox))[^>]*>", page)


@pytest.mark.parametrize("path", ["/sign-in", "/accounts"])
def test_every_field_has_a_label_and_tells_what_may_fill_it_in(ann: Client, path: str) -> None:
    client = ann if path == "/accounts" else browser()
    page = client.get(path).content.decode()
    assert fields(page)
    for field in fields(page):
        (name,) = re.findall(r' id="([^"]+)"', field)
        assert page.count(f'id="{name}"') == 1
        assert f'<label for="{name}"' in page
        assert 'autocomplete="' in field


def test_passphrases_may_be_filled_in_pasted_and_looked_at(lan: Client) -> None:
    page = lan.get("/sign-in").content.decode()
    assert 'autocomplete="current-password"' in page
    assert 'data-reveal="password"' in page
    assert "onpaste" not in page
    assert 'name="name" value="shop" autocomplete="username" readonly hidden>' in page


# Accounts.


@pytest.mark.parametrize("name", ["Ann", "ann", " ANN "])
def test_a_name_may_be_written_in_any_capitals(ann: Client, name: str) -> None:
    assert is_in(ann)
    assert is_in(signed_in(name))


@pytest.mark.parametrize(("name", "password"), [("Ann", "wrong"), ("Uwe", GOOD), ("", GOOD)])
def test_name_and_password_must_belong_together(ann: Client, name: str, password: str) -> None:
    assert is_in(ann)
    client = browser()
    answer = client.post("/sign-in", {"name": name, "password": password})
    assert answer.status_code == 422
    assert "Name and password do not belong together" in answer.content.decode()
    assert not is_in(client)


@pytest.mark.parametrize("password", ["x" * 5000, "a\0b", "\ud83d"])
def test_odd_passwords_are_only_wrong(ann: Client, password: str) -> None:
    assert is_in(ann)
    sent = password.encode("utf-8", "replace").decode()
    assert browser().post("/sign-in", {"name": "Ann", "password": sent}).status_code == 422


def test_a_keeper_adds_an_account(ann: Client) -> None:
    ann.post("/accounts/add", {"name": "Uwe", "password": GOOD})
    assert [(one.name, one.keeper) for one in accounts.listed()] == [("Ann", True), ("Uwe", False)]
    assert is_in(signed_in("Uwe"))


def test_what_cannot_be_added_is_told_on_the_page(ann: Client) -> None:
    answer = ann.post("/accounts/add", {"name": "Uwe", "password": "kerf"})
    assert answer.status_code == 422
    assert "at least 10 characters" in answer.content.decode()
    assert len(accounts.listed()) == 1


def test_a_keeper_renames_and_makes_keepers(ann: Client) -> None:
    uwe = accounts.add("Uwe", GOOD).number
    ann.post(f"/accounts/{uwe}/name", {"name": "Uwe B."})
    ann.post(f"/accounts/{uwe}/keeper", {"keeper": "yes"})
    assert accounts.listed()[1] == accounts.Account(uwe, "Uwe B.", keeper=True)
    ann.post(f"/accounts/{uwe}/keeper", {"keeper": "no"})
    assert not accounts.listed()[1].keeper


def test_who_gets_another_password_signs_in_anew(ann: Client) -> None:
    uwe = accounts.add("Uwe", GOOD).number
    phone = signed_in("Uwe")
    ann.post(f"/accounts/{uwe}/password", {"password": "chisel and plane"})
    assert not is_in(phone)
    assert is_in(signed_in("Uwe", "chisel and plane"))


def test_who_has_no_account_any_more_is_out(ann: Client) -> None:
    uwe = accounts.add("Uwe", GOOD).number
    phone = signed_in("Uwe")
    ann.post(f"/accounts/{uwe}/remove")
    assert not is_in(phone)


def test_a_keeper_may_leave_but_not_as_the_last(ann: Client) -> None:
    own = number("Ann")
    answer = ann.post(f"/accounts/{own}/remove")
    assert "Make somebody else a keeper first" in answer.content.decode()
    accounts.add("Uwe", GOOD, keeper=True)
    assert ann.post(f"/accounts/{own}/remove")["Location"] == "/sign-in"
    assert not is_in(ann)


@pytest.mark.parametrize(
    ("path", "sent"),
    [
        ("add", {"name": "Eve", "password": GOOD}),
        ("{}/name", {"name": "Eve"}),
        ("{}/password", {"password": "something else"}),
        ("{}/keeper", {"keeper": "yes"}),
        ("{}/remove", {}),
    ],
)
def test_only_keepers_look_after_accounts(ann: Client, path: str, sent: dict[str, str]) -> None:
    assert is_in(ann)
    accounts.add("Uwe", GOOD)
    before = accounts.listed()
    uwe = signed_in("Uwe")
    answer = uwe.post("/accounts/" + path.format(number("Uwe")), sent)
    assert answer.status_code == 403
    assert "Only a keeper may do this" in answer.content.decode()
    assert accounts.listed() == before
    assert "All accounts" not in uwe.get("/accounts").content.decode()


def test_everyone_changes_their_own_password_and_stays_in(ann: Client) -> None:
    other = signed_in("Ann")
    sent = {"password": GOOD, "new_password": "chisel and plane"}
    assert "Your password is changed" in ann.post("/accounts/own-password", sent).content.decode()
    assert is_in(ann)
    assert not is_in(other)
    assert is_in(signed_in("Ann", "chisel and plane"))


def test_who_finds_a_device_signed_in_cannot_change_its_password(ann: Client) -> None:
    sent = {"password": "a guess", "new_password": "chisel and plane"}
    statuses = [ann.post("/accounts/own-password", sent).status_code for _ in range(FREE)]
    assert set(statuses) <= {422, 429}
    assert ann.post("/accounts/own-password", sent).status_code == 429
    assert accounts.named("Ann").check_password(GOOD)  # type: ignore[union-attr] # she is there


# The first keeper.


@pytest.fixture
def code(start: Start) -> str:
    start(Mode.ACCOUNTS)
    (line,) = entrance()
    return line.partition("made with: ")[2]


def test_the_terminal_shows_a_code_while_nobody_has_an_account(code: str) -> None:
    assert set(code.split()) <= set(words())
    assert len(code.split()) == 5
    accounts.add("Ann", GOOD)
    assert entrance() == ()


def test_who_sees_the_terminal_makes_the_first_account(code: str) -> None:
    client = browser()
    assert client.get("/")["Location"] == "/sign-in?next=%2F"
    assert client.get("/sign-in")["Location"] == "/first-keeper"
    sent = {"code": code.upper(), "name": "Ann", "password": GOOD}
    assert client.post("/first-keeper", sent)["Location"] == "/accounts"
    assert accounts.listed()[0].keeper
    assert is_in(client)


def test_the_code_is_good_once(code: str) -> None:
    sent = {"code": code, "name": "Ann", "password": GOOD}
    browser().post("/first-keeper", sent)
    assert browser().get("/first-keeper").status_code == 404
    assert browser().post("/first-keeper", {**sent, "name": "Eve"}).status_code == 404
    accounts.named("Ann").delete()  # type: ignore[union-attr] # she is there
    assert not first_keeper.is_awaited()


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"code": "oak"}, "It is not the code"),
        ({"code": ""}, "It is not the code"),
        ({"password": "kerf"}, "at least 10 characters"),
        ({"name": "<b>"}, "cannot be a name"),
    ],
)
def test_without_it_or_with_a_bad_name_or_password_there_is_none(
    code: str, change: dict[str, str], told: str
) -> None:
    sent = {"code": code, "name": "Ann", "password": GOOD, **change}
    answer = browser().post("/first-keeper", sent)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert accounts.listed() == ()
    assert first_keeper.is_awaited()


def test_the_code_is_guessed_no_faster_than_a_password(code: str) -> None:
    client = browser()
    sent = {"code": "oak", "name": "Eve", "password": GOOD}
    statuses = [client.post("/first-keeper", sent).status_code for _ in range(FREE + 1)]
    assert statuses == [422] * FREE + [429]
    assert client.post("/first-keeper", {**sent, "code": code}).status_code == 429


# What a start sets up.


def test_the_first_start_makes_a_passphrase_and_later_ones_keep_it(start: Start) -> None:
    start(Mode.LAN)
    (line,) = entrance()
    made = line.partition("passphrase: ")[2]
    assert set(made.split()) <= set(words())
    (again,) = entrance()
    assert made not in again
    assert "the passphrase of last time" in again
    assert is_in(signed_in("shop", made))


@pytest.mark.parametrize(
    "another",
    [lambda: entrance(new=True), lambda: entrance("  Chisel plane KERF adze ")],
)
def test_a_maker_may_have_another(start: Start, another: Callable[[], Any]) -> None:
    start(Mode.LAN)
    (line,) = entrance()
    another()
    old = line.partition("passphrase: ")[2]
    assert browser().post("/sign-in", {"password": old}).status_code == 422


def test_one_that_was_typed_is_not_printed(start: Start) -> None:
    start(Mode.LAN)
    assert entrance("chisel plane kerf") == ("Everyone signs in with the passphrase you typed.",)
    assert is_in(signed_in("shop", "chisel plane kerf"))


def test_on_this_computer_nothing_is_set_up(start: Start) -> None:
    start(Mode.HERE)
    assert entrance() == ()
