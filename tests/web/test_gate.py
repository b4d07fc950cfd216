"""Who is let in, and what may be changed from where.

Nothing is at /api/none: whatever the gate lets through to there is not found.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator
from contextlib import closing

import pytest
from django.core.exceptions import DisallowedHost
from django.http import HttpResponse
from django.test import Client, RequestFactory
from django.urls import URLPattern, URLResolver, get_resolver

from faywright.web.entry import accounts
from faywright.web.entry.attempts import FREE
from faywright.web.entry.gate import OPEN, SAFE, UPLOADS, GateMiddleware
from faywright.web.entry.mode import Mode
from tests.web.conftest import Start

WORDS = "tenon walnut kerf arbor chisel"
THROUGH = 404
API = "/api/none"
JSON = "application/json"


@pytest.fixture
def lan(start: Start) -> Client:
    """A device on the shop's network that has not signed in."""
    start(Mode.LAN)
    accounts.keep_passphrase(WORDS)
    return device()


def device(address: str = "192.168.1.20", *, strict: bool = True) -> Client:
    return Client(enforce_csrf_checks=strict, headers={"host": "192.168.1.7"}, REMOTE_ADDR=address)


def here(*, strict: bool = True, address: str = "127.0.0.1") -> Client:
    return Client(enforce_csrf_checks=strict, headers={"host": "localhost"}, REMOTE_ADDR=address)


def sign_in(client: Client) -> None:
    user = accounts.named(accounts.SHOP)
    assert user is not None
    client.force_login(user)


def token(client: Client) -> str:
    """The token of a page that is shown."""
    page = client.get("/sign-in").content.decode()
    return str(re.findall(r'name="csrfmiddlewaretoken" value="(\w+)"', page)[0])


def basic(password: str = WORDS, name: str = accounts.SHOP) -> dict[str, str]:
    return {"Authorization": f"Basic {base64.b64encode(f'{name}:{password}'.encode()).decode()}"}


# Every address there is.


def patterns(found: URLResolver, before: str = "") -> Iterator[tuple[str, str | None]]:
    """Address and name of every pattern; numbers are 1, all else is "x"."""
    for one in found.url_patterns:
        path = before + str(one.pattern)
        if isinstance(one, URLPattern):
            yield f"/{filled(path)}", one.name
        else:
            yield from patterns(one, path)


def filled(path: str) -> str:
    parts = [part.split(">") for part in path.replace("^", "").replace("$", "").split("<")]
    text = parts[0][0]
    for kind, rest in parts[1:]:
        text += ("1" if kind.startswith("int:") else "x") + rest
    return text


EVERY = sorted(set(patterns(get_resolver("faywright.web.urls"))), key=str)
CLOSED = [(path, name) for path, name in EVERY if name not in OPEN]
METHODS = ("POST", "PUT", "PATCH", "DELETE")


def test_the_walk_comes_to_pages_accounts_and_the_api() -> None:
    paths = {path for path, _ in EVERY}
    assert {"/", "/sign-in", "/accounts/1/remove", "/units"} <= paths
    assert any(path.startswith("/api/") for path in paths)
    assert len(CLOSED) == len(EVERY) - len(OPEN)


@pytest.mark.parametrize("method", [*SAFE[:3], *METHODS])
def test_nothing_but_the_sign_in_is_open(lan: Client, method: str) -> None:
    answers = {path: lan.generic(method, path) for path, _ in CLOSED}
    for path, answer in answers.items():
        if path.startswith("/api/"):
            assert answer.status_code == 401, path
        else:
            assert answer.status_code == 302, path
            assert answer["Location"].startswith("/sign-in?next="), path


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("mode", [Mode.LAN, Mode.ACCOUNTS])
def test_no_change_goes_without_a_token(start: Start, mode: Mode, method: str) -> None:
    start(mode)
    accounts.keep_passphrase(WORDS)
    client = device()
    sign_in(client)
    for path, _ in EVERY:
        for kind in (JSON, "application/x-www-form-urlencoded"):
            answer = client.generic(method, path, b"{}", content_type=kind)
            refused = (403, 415) if path.startswith("/api/") else (403,)
            assert answer.status_code in refused, path


@pytest.mark.parametrize("method", METHODS)
def test_no_form_goes_without_a_token_on_this_computer_either(start: Start, method: str) -> None:
    start(Mode.HERE)
    for path, _ in EVERY:
        answer = here().generic(method, path, b"x", content_type="multipart/form-data; boundary=x")
        assert answer.status_code == 403, path


def test_addresses_that_nobody_thought_of_are_closed_too(lan: Client) -> None:
    assert lan.get("/nothing/is/here").status_code == 302
    assert lan.get(API).status_code == 401
    assert lan.get("/static/nothing.css").status_code == 302


def test_static_files_need_no_sign_in(lan: Client) -> None:
    with closing(lan.get("/static/faywright/reveal.js")) as answer:
        assert answer.status_code == 200
        assert "javascript" in answer["Content-Type"]


# Where from.


@pytest.mark.parametrize("address", ["192.168.1.20", "10.0.0.1", "8.8.8.8", "::ffff:10.0.0.1", ""])
def test_other_computers_are_refused_where_nobody_signs_in(start: Start, address: str) -> None:
    start(Mode.HERE)
    answer = here(address=address).get(API)
    assert answer.status_code == 403
    assert "is not this computer. Start it with --lan" in answer.content.decode()


@pytest.mark.parametrize("address", ["127.0.0.1", "127.0.0.2", "::1", "::ffff:127.0.0.1"])
def test_this_computer_is_let_in(start: Start, address: str) -> None:
    start(Mode.HERE)
    assert here(address=address).get(API).status_code == THROUGH


def test_what_headers_say_of_the_peer_is_not_believed(start: Start) -> None:
    start(Mode.HERE)
    claims = {"X-Forwarded-For": "127.0.0.1", "Forwarded": "for=127.0.0.1", "X-Real-IP": "::1"}
    assert here(address="192.168.1.20").get(API, headers=claims).status_code == 403


def test_the_shops_network_ends_at_its_edge(lan: Client) -> None:
    assert lan.get("/sign-in").status_code == 200
    answer = device("8.8.8.8").get("/sign-in")
    assert answer.status_code == 403
    assert "8.8.8.8 is not on the shop's network" in answer.content.decode()


def test_accounts_may_come_from_anywhere(start: Start) -> None:
    start(Mode.ACCOUNTS)
    assert device("8.8.8.8").get("/sign-in").status_code == 200


@pytest.mark.parametrize("host", ["evil.example", "192.168.1.9", "localhost.evil.example", ""])
@pytest.mark.parametrize("mode", list(Mode))
def test_a_name_that_somebody_else_pointed_here_is_refused(
    start: Start, mode: Mode, host: str
) -> None:
    start(mode)
    for path in ("/", API, "/sign-in", "/nothing"):
        assert here().get(path, headers={"host": host}).status_code == 400


def test_the_gate_itself_looks_at_the_host(start: Start) -> None:
    start(Mode.HERE)
    request = RequestFactory().get(API, headers={"host": "evil.example"})
    with pytest.raises(DisallowedHost):
        GateMiddleware(lambda _: HttpResponse())(request)


ELSEWHERE = [
    {"Origin": "http://evil.example"},
    {"Origin": "null"},
    {"Origin": "http://localhost:3000"},
    {"Origin": "https://localhost"},
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
    {"Sec-Fetch-Site": "cross-site", "Origin": "http://localhost"},
    {"Sec-Fetch-Site": "same-origin", "Origin": "http://evil.example"},
]


@pytest.mark.parametrize("headers", ELSEWHERE)
@pytest.mark.parametrize("path", [API, "/units", "/nothing"])
def test_pages_from_elsewhere_change_nothing(
    start: Start, path: str, headers: dict[str, str]
) -> None:
    start(Mode.HERE)
    answer = here(strict=False).post(path, b"{}", content_type=JSON, headers=headers)
    assert answer.status_code == 403
    assert "a page from elsewhere asks for this change" in answer.content.decode().lower()


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"Origin": "http://localhost"},
        {"Sec-Fetch-Site": "same-origin"},
        {"Sec-Fetch-Site": "none"},
        {"Sec-Fetch-Site": "same-origin", "Origin": "http://localhost"},
    ],
)
def test_pages_of_ours_change_what_they_like(start: Start, headers: dict[str, str]) -> None:
    start(Mode.HERE)
    answer = here().post(API, b"{}", content_type=JSON, headers=headers)
    assert answer.status_code == THROUGH


def test_links_from_elsewhere_may_be_followed(start: Start) -> None:
    start(Mode.HERE)
    assert here().get(API, headers={"Sec-Fetch-Site": "cross-site"}).status_code == THROUGH


# Changes by the API.


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "", "text/plain; application/json"]
)
@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH"])
def test_what_another_page_could_send_unasked_is_refused(
    start: Start, method: str, kind: str
) -> None:
    start(Mode.HERE)
    answer = here().generic(method, API, b"{}", content_type=kind)
    assert answer.status_code == 415
    assert answer.json()["error"]["where"] == "Content-Type"
    assert "Send application/json" in answer.json()["error"]["remedy"]


def test_json_is_taken_on_this_computer(start: Start) -> None:
    start(Mode.HERE)
    kind = "application/json; charset=utf-8"
    assert here().post(API, b"{}", content_type=kind).status_code == THROUGH
    assert here().delete(API, content_type="").status_code == THROUGH


@pytest.mark.parametrize("kind", UPLOADS)
def test_files_need_a_token_on_this_computer(start: Start, kind: str) -> None:
    start(Mode.HERE)
    client = here()
    sent = f"{kind}; boundary=x"
    refused = client.post(API, b"x", content_type=sent)
    assert refused.status_code == 403
    assert refused.json()["error"]["where"] == "form"
    client.cookies["faywright-csrf"] = secret = "k" * 32
    assert (
        client.post(API, b"x", content_type=sent, headers={"X-CSRFToken": secret}).status_code
        == THROUGH
    )


def test_a_session_needs_a_token_with_its_json(lan: Client) -> None:
    shown = token(lan)
    sign_in(lan)
    assert lan.get(API).status_code == THROUGH
    assert lan.post(API, b"{}", content_type=JSON).status_code == 403
    given = lan.post(API, b"{}", content_type=JSON, headers={"X-CSRFToken": shown})
    assert given.status_code == THROUGH


def test_programs_sign_in_by_basic_without_a_token(lan: Client) -> None:
    assert lan.get(API, headers=basic()).status_code == THROUGH
    assert lan.post(API, b"{}", content_type=JSON, headers=basic()).status_code == THROUGH
    sent = lan.post(API, b"x", content_type="application/octet-stream", headers=basic())
    assert sent.status_code == THROUGH
    assert not lan.cookies  # and no session comes of it


def test_basic_does_not_make_up_for_a_page_from_elsewhere(lan: Client) -> None:
    headers = {**basic(), "Origin": "http://evil.example"}
    assert lan.post(API, b"{}", content_type=JSON, headers=headers).status_code == 403
    assert lan.post(API, b"a=1", content_type="text/plain", headers=basic()).status_code == 415


def test_basic_opens_no_page(lan: Client) -> None:
    assert lan.get("/", headers=basic()).status_code == 302


@pytest.mark.parametrize(
    "header",
    ["Basic", "Basic !!!", "Basic c2hvcA==", "Basic c2hvcDo=", "Bearer x", "Basic /w==", "x"],
)
def test_what_is_no_sign_in_is_none(lan: Client, header: str) -> None:
    assert lan.get(API, headers={"Authorization": header}).status_code == 401


def test_guessing_by_basic_is_slowed_down_like_any_other(lan: Client) -> None:
    statuses = [lan.get(API, headers=basic("guess")).status_code for _ in range(FREE + 1)]
    assert statuses == [401] * FREE + [429]
    late = lan.get(API, headers=basic())  # the right one, too early
    assert late.status_code == 429
    assert late["Retry-After"] == "1"
    assert late.json()["error"]["remedy"] == "Try again in 1 second"
    typed = {"password": WORDS, "csrfmiddlewaretoken": token(lan)}
    assert lan.post("/sign-in", typed).status_code == 429


# How one is turned away.


def test_a_page_leads_to_the_sign_in_and_back(lan: Client) -> None:
    answer = lan.get("/timber?species=oak&to=6")
    assert answer["Location"] == "/sign-in?next=%2Ftimber%3Fspecies%3Doak%26to%3D6"


def test_what_was_sent_is_not_sent_again_after_signing_in(lan: Client) -> None:
    assert lan.post("/units", {"style": "mm"})["Location"] == "/sign-in?next=%2F"


@pytest.mark.parametrize(
    ("shown", "back"),
    [
        ("http://192.168.1.7/pieces/3?open=1", "%2Fpieces%2F3%3Fopen%3D1"),
        ("http://evil.example//evil.example/x", "%2F"),
        ("", "%2F"),
    ],
)
def test_a_part_of_a_page_leads_the_whole_page_to_the_sign_in(
    lan: Client, shown: str, back: str
) -> None:
    headers = {"HX-Request": "true", "HX-Current-URL": shown}
    answer = lan.post("/units", headers=headers)
    assert answer.status_code == 401
    assert answer["HX-Redirect"] == f"/sign-in?next={back}"


def test_the_api_says_what_is_wrong_and_lets_no_browser_ask(lan: Client) -> None:
    answer = lan.get(API)
    assert answer.status_code == 401
    assert answer.json() == {
        "error": {
            "what": "nobody is signed in",
            "where": "sign-in",
            "remedy": "Sign in on the page, or send name and password with the request "
            "(HTTP Basic)",
        }
    }
    assert not answer["WWW-Authenticate"].lower().startswith("basic")
