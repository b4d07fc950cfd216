"""What docs/api.md shows is what the API does: its examples, from top to bottom."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.test import Client

from faywright.web.api.described import METHODS, description

PAGE = (Path(__file__).parents[2] / "docs" / "api.md").read_text(encoding="utf-8")
CUT, ARCHIVE = "CUT OF SETUP 1", "THE ARCHIVE OF BEFORE"


@dataclass(frozen=True)
class Example:
    method: str
    address: str
    body: str
    status: int
    kind: str
    shown: str

    def __str__(self) -> str:
        return f"{self.method} {self.address}"


def examples() -> Iterator[Example]:
    """What is asked and what is answered, with an empty line between."""
    for block in re.findall(r"```http\n(.*?)```", PAGE, re.DOTALL):
        asked, answer = block.split("\n\n", 1)
        first, _, body = asked.partition("\n")
        told, _, shown = answer.partition("\n")
        status, _, kind = told.partition(" ")
        method, address = first.split()
        yield Example(method, address, body, int(status), kind or "application/json", shown.strip())


EXAMPLES = list(examples())


def unlike(shown: object, found: object, way: str = "") -> Iterator[str]:
    """Where an answer is not as shown; it may have more keys and more entries."""
    if shown == "...":
        return
    if isinstance(shown, dict) and isinstance(found, dict):
        for key, value in shown.items():
            yield from unlike(value, found.get(key, "missing"), f"{way}.{key}")
    elif isinstance(shown, list) and isinstance(found, list) and len(shown) <= len(found):
        for number, (one, other) in enumerate(zip(shown, found, strict=False)):
            yield from unlike(one, other, f"{way}[{number}]")
        if not shown and found:
            yield f"{way} is not empty: {found}"
    elif shown != found:
        yield f"{way}: {found!r}, where {shown!r} is shown"


def answered(client: Client, example: Example) -> Any:
    """What is asked, with the words in capitals filled in."""
    if example.body == ARCHIVE:
        archive = client.get("/api/archive").content
        return client.post(example.address, archive, content_type="application/zip")
    body = example.body
    if CUT in body:
        piece = example.address.split("/")[3]
        setups = client.get(f"/api/pieces/{piece}/setups").json()["setups"]
        body = body.replace(CUT, setups[0]["cut"])
    return client.generic(example.method, example.address, body, "application/json")


def test_every_example_is_answered_as_shown(client: Client) -> None:
    for example in EXAMPLES:
        answer = answered(client, example)
        assert answer.status_code == example.status, f"{example}: {answer.content.decode()[:2000]}"
        assert answer["Content-Type"].split(";")[0] == example.kind, example
        if example.shown:
            wrong = list(unlike(json.loads(example.shown), answer.json()))
            assert not wrong, f"{example}: {wrong}"


def test_every_route_has_its_heading_and_no_heading_is_of_another() -> None:
    routes = {
        f"{method.upper()} {path}"
        for path, operations in description()["paths"].items()
        for method in METHODS
        if method in operations
    }
    headings = set(re.findall(r"^### (\w+ /api/\S+)$", PAGE, re.MULTILINE))
    assert headings == routes


def test_a_difference_from_what_is_shown_would_be_found() -> None:
    assert list(unlike({"a": [1, "..."]}, {"a": [1, 7, 8], "b": 2})) == []
    assert len(list(unlike({"a": [1, 2], "c": 1}, {"a": [1, 3]}))) == 2
