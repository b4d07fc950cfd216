"""What browsers are told to refuse."""

from __future__ import annotations

import re
from contextlib import closing
from pathlib import Path

import pytest
from django.test import Client

import faywright.web
from faywright.web.entry.mode import Mode
from faywright.web.entry.policy import HEADERS
from tests.web.conftest import Start

TEMPLATES = sorted((Path(faywright.web.__file__).parent / "templates").rglob("*.html"))

ANSWERS = [
    ("/", 302),
    ("/sign-in", 200),
    ("/nothing", 302),
    ("/api/none", 401),
    ("/static/faywright/reveal.js", 200),
]


def browser(host: str = "localhost") -> Client:
    return Client(headers={"host": host})


@pytest.mark.parametrize(("path", "status"), ANSWERS)
def test_every_answer_carries_every_header(start: Start, path: str, status: int) -> None:
    start(Mode.LAN)
    with closing(browser().get(path)) as answer:
        assert answer.status_code == status
        assert {name: answer.get(name) for name in HEADERS} == dict(HEADERS)


@pytest.mark.parametrize("host", ["evil.example", "localhost"])
def test_answers_to_wrong_hosts_and_to_forms_without_a_token_do_too(
    start: Start, host: str
) -> None:
    start(Mode.HERE)
    client = Client(enforce_csrf_checks=True, headers={"host": host})
    answer = client.post("/units", {"style": "mm"})
    assert answer.status_code in (400, 403)
    assert {name: answer.get(name) for name in HEADERS} == dict(HEADERS)


def test_only_what_we_serve_ourselves_is_used() -> None:
    policy = dict(part.split(" ", 1) for part in HEADERS["Content-Security-Policy"].split("; "))
    assert policy["default-src"] == policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert policy.pop("img-src") == "'self' data:"
    assert set(policy.values()) == {"'none'", "'self'"}


def test_of_what_a_device_can_do_only_staying_awake_is_allowed() -> None:
    features = HEADERS["Permissions-Policy"].split(", ")
    assert [one for one in features if not one.endswith("=()")] == ["screen-wake-lock=(self)"]
    assert {"camera=()", "microphone=()", "geolocation=()", "usb=()"} <= set(features)


@pytest.mark.parametrize(
    ("mode", "path", "kept"),
    [
        (Mode.LAN, "/", "no-store"),
        (Mode.ACCOUNTS, "/sign-in", "no-store"),
        (Mode.ACCOUNTS, "/api/none", "no-store"),
        (Mode.LAN, "/static/faywright/reveal.js", "max-age=3600, public"),
        (Mode.HERE, "/nothing", None),
    ],
)
def test_caches_keep_nothing_that_is_behind_a_sign_in(
    start: Start, mode: Mode, path: str, kept: str | None
) -> None:
    start(mode)
    with closing(browser().get(path)) as answer:
        assert answer.get("Cache-Control") == kept


INLINE = re.compile(
    r"""\sstyle\s*= | <style | \son[a-z]+\s*= | hx-on | javascript: | ["']js:
    | <script(?![^>]*\ssrc=)""",
    re.VERBOSE | re.IGNORECASE,
)


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda path: path.name)
def test_no_page_needs_what_the_policy_forbids(template: Path) -> None:
    found = INLINE.search(template.read_text(encoding="utf-8"))
    assert found is None, found


@pytest.mark.parametrize(
    "text",
    ['<p style="x">', "<style>", '<a onclick="x">', "<script>x</script>", '<a hx-on:click="x">'],
)
def test_what_the_policy_forbids_would_be_found(text: str) -> None:
    assert INLINE.search(text)
