"""The style sheet, the frame of pages, and the pages that Django shows by itself."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from django.test import Client, RequestFactory, override_settings
from django.views.defaults import page_not_found, server_error

from faywright.web import settings
from tests.web import gallery

STATIC = Path(settings.__file__).parent / "static" / "faywright"
CSS = (STATIC / "faywright.css").read_text(encoding="utf-8")
VOCABULARY = (
    "field",
    "actions",
    "setting",
    "verdict",
    "figures",
    "wide",
    "cards",
    "card",
    "notes",
    "hazard",
    "sheet",
    "plot",
    "quiet",
    "huge",
    "told",
    "fault",
    "history",
    "beside",
    "skip",
    "top",
    "units",
    "main",
    "wrong",
)


@pytest.fixture(name="gallery_only")
def _gallery_only() -> Iterator[Client]:
    """A browser that finds nothing but the page with everything on it; no store is open."""
    with override_settings(ROOT_URLCONF=gallery.__name__):
        yield Client(headers={"host": "localhost"})


def page(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_style_sheet_is_small_and_asks_for_nothing() -> None:
    assert len(CSS.encode()) < 30_000
    assert "url(" not in CSS
    assert "@import" not in CSS


def test_its_braces_are_balanced() -> None:
    depth = 0
    for brace in re.findall(r"[{}]", CSS):
        depth += 1 if brace == "{" else -1
        assert 0 <= depth <= 3
    assert depth == 0


@pytest.mark.parametrize("name", VOCABULARY)
def test_every_class_of_the_vocabulary_is_styled(name: str) -> None:
    assert re.search(rf"\.{name}\b", CSS)


@pytest.mark.parametrize(
    "media",
    [
        "prefers-color-scheme: dark",
        "prefers-reduced-motion: no-preference",
        "forced-colors: active",
        "print",
    ],
)
def test_what_the_reader_asked_for_is_heeded(media: str) -> None:
    assert re.search(rf"@media \(?{re.escape(media)}\)? ", CSS)


def test_nothing_moves_unless_motion_is_welcome() -> None:
    moving = CSS.index("@media (prefers-reduced-motion: no-preference)")
    assert [found.start() > moving for found in re.finditer(r"\banimation:", CSS)] == [True]
    assert "transition" not in CSS


def test_a_page_holds_no_style_and_no_script_of_its_own(gallery_only: Client) -> None:
    text = page(gallery_only, "/")
    assert "<style" not in text
    assert not re.search(r"\s(style|on\w+|hx-on[\w:-]*)=", text)
    assert all("src=" in script for script in re.findall(r"<script[^>]*>", text))


@pytest.mark.parametrize(
    ("address", "room", "current"), [("/", "Pieces", "page"), ("/timber", "Timber", "page")]
)
def test_the_room_one_is_in_is_marked(
    gallery_only: Client, address: str, room: str, current: str
) -> None:
    marked = re.findall(r'aria-current="(\w+)">(Pieces|Shop|Timber)<', page(gallery_only, address))
    assert marked == [(current, room)]


def test_one_can_skip_to_the_work(gallery_only: Client) -> None:
    text = page(gallery_only, "/")
    assert text.index('class="skip" href="#main"') < text.index("<header")
    assert '<main id="main" tabindex="-1">' in text


def test_the_mark_and_the_manifest_are_sound() -> None:
    told = json.loads((STATIC / "manifest.json").read_text(encoding="utf-8"))
    assert told["start_url"] == "/"
    assert [STATIC.joinpath(icon["src"]).is_file() for icon in told["icons"]] == [True]
    assert told["background_color"] in CSS
    mark = ET.fromstring((STATIC / "mark.svg").read_text(encoding="utf-8"))  # noqa: S314 - ours
    assert mark.get("viewBox") == "0 0 64 64"
    assert mark.find("{*}title") is not None


def test_the_manifest_is_served_as_one(gallery_only: Client) -> None:
    answer = gallery_only.head("/static/faywright/manifest.json")
    assert answer["Content-Type"].startswith("application/json")


def test_an_address_with_nothing_there_is_told_in_our_look(gallery_only: Client) -> None:
    answer = gallery_only.get("/nowhere")
    assert answer.status_code == 404
    text = answer.content.decode()
    assert "<h1>There is nothing at this address</h1>" in text
    assert "/static/faywright/faywright.css" in text


@pytest.mark.usefixtures("gallery_only")
def test_our_own_error_is_told_without_a_store() -> None:
    request = RequestFactory().get("/")
    answer = server_error(request)
    assert answer.status_code == 500
    assert "<h1>Something of ours broke</h1>" in answer.content.decode()


@pytest.mark.usefixtures("gallery_only")
def test_a_missing_page_needs_no_one_to_be_signed_in() -> None:
    answer = page_not_found(RequestFactory().get("/nowhere"), Exception("nowhere"))
    assert answer.status_code == 404
