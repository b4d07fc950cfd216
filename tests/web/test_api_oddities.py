"""Bodies that are odd in every way: refused in words, and never an error of ours."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faywright.web.api.described import description
from faywright.web.api.reading import BodyError, read_json

JSON = "application/json"
NUMBERS = {"document": 2, "piece": 2, "shop": 1, "joint": 1, "trial": 1, "number": 1, "name": "x"}

TAKING_JSON = [
    (method.upper(), path.format(**NUMBERS))
    for path, operations in description()["paths"].items()
    for method, operation in operations.items()
    if JSON in operation.get("requestBody", {}).get("content", {})
]
UNREADABLE = {
    "no JSON": b"{",
    "nothing but a bracket more": b"{}}",
    "UTF-16": '{"base": 1}'.encode("utf-16"),
    "a byte that is none of UTF-8": b'{"base": "\xff"}',
    "half a character in UTF-8": b'{"base": "\xed\xa0\x80"}',
    "too deep lists": b"[" * 100_000,
    "too deep, and closed": b"[" * 900 + b"]" * 900,
    "too deep objects": b'{"a":' * 50 + b"1" + b"}" * 50,
    "no number": b'{"base": NaN}',
    "no end": b'{"base": Infinity}',
    "a number too great": b'{"base": 1e999}',
    "a very long number": b'{"base": ' + b"9" * 5000 + b"}",
    "a key twice": b'{"base": 1, "base": 2}',
    "a key twice further in": b'{"edits": [{"do": "put", "do": "drop"}]}',
    "single quotes": b"{'base': 1}",
    "a comma too many": b'{"base": 1,}',
}
UNFIT = {
    "a list": b"[]",
    "a text": b'"base"',
    "nothing": b"null",
    "an empty body": b"",
    "an unknown key": b'{"something": 1}',
    "half a character": b'{"base": "\\ud800", "what": "\\udfff", "\\ud83d": 1}',
    "a null character": b'{"base": 1, "what": "a\\u0000b", "cut": "\\u0000", "x\\u0000": 1}',
    "a great whole number": b'{"base": 99999999999999999999}',
    "yes for a number": b'{"base": true, "number": true}',
    "text for a number": b'{"base": "1"}',
}


def refused(answer: Any, *statuses: int) -> Any:
    assert answer.status_code in statuses, answer.content[:500]
    error = answer.json()["error"]
    assert error["what"]
    assert error["remedy"]
    return error


def sent(client: Client, route: tuple[str, str], body: bytes, kind: str = JSON) -> Any:
    # The client leaves out what an empty body is.
    more = {} if body else {"CONTENT_TYPE": kind}
    return client.generic(*route, body, kind, **more)  # type: ignore[arg-type] # of WSGI


@pytest.mark.parametrize("body", UNREADABLE.values(), ids=UNREADABLE)
def test_what_cannot_be_read_is_refused_everywhere(client: Client, body: bytes) -> None:
    for route in TAKING_JSON:
        refused(sent(client, route, body), 400)


@pytest.mark.parametrize("body", UNFIT.values(), ids=UNFIT)
def test_what_does_not_fit_is_refused_everywhere(client: Client, body: bytes) -> None:
    for route in TAKING_JSON:
        refused(sent(client, route, body), 422)


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "application/zip", "image/png"]
)
def test_what_is_not_sent_as_json_is_refused_everywhere(client: Client, kind: str) -> None:
    for route in TAKING_JSON:
        refused(sent(client, route, b"{}", kind), 415)


def test_a_body_that_is_too_large_is_refused_everywhere(client: Client) -> None:
    body = b'{"text": "' + b"x" * 3_000_000 + b'"}'
    for route in TAKING_JSON:
        refused(sent(client, route, body), 413)


def test_json_is_no_archive(client: Client) -> None:
    refused(sent(client, ("POST", "/api/archive"), b"{}"), 415)


def test_a_fault_names_the_field_it_is_in(client: Client) -> None:
    edits = [{"do": "put", "path": ["title"], "value": 1}, {"do": "put", "path": [], "value": 1}]
    body = json.dumps({"base": 1, "what": "title", "edits": edits}).encode()
    error = refused(sent(client, ("POST", "/api/documents/2/changes"), body), 422)
    assert [fault["path"][:2] for fault in error["faults"]] == [["edits", 1]]
    assert error["where"].startswith("body")


@pytest.mark.parametrize(
    "query",
    [
        "kind=%00",
        "kind=%ff",
        "kind=%ED%A0%80",
        "kind=piece&discarded=perhaps",
        "kind[]=piece",
        "=",
        "kind",
        "&".join(f"a{number}=1" for number in range(2000)),
    ],
)
def test_an_odd_query_is_refused(client: Client, query: str) -> None:
    refused(client.get(f"/api/documents?{query}"), 400, 422)


@pytest.mark.parametrize("number", ["0", "9" * 5000, str(2**63), str(2**64), "1" * 30])
def test_a_number_that_no_document_has_is_refused(client: Client, number: str) -> None:
    for address in (f"documents/{number}", f"pieces/{number}/plan.json", f"shops/{number}/known"):
        refused(client.get(f"/api/{address}"), 404, 422)


@pytest.mark.parametrize("name", ["..%2f..%2fetc.svg", "%00.svg", "a.exe", "%ff.svg", "a" * 9999])
def test_an_odd_name_of_a_drawing_is_refused(client: Client, name: str) -> None:
    refused(client.get(f"/api/pieces/2/drawings/{name}"), 404, 422)


texts = st.text(max_size=30)
values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=8,
)
PATHS: list[list[str | int]] = [
    ["title"],
    ["units"],
    ["climate"],
    ["climate", "cutting"],
    ["climate", "cutting", "humidity"],
    ["boards", "csv"],
    ["part", "runner", "species"],
    ["board", "D1"],
    ["board", 0, "mark"],
    ["board", "D1", "thickness"],
    ["board", "D1", "thickness", 1],
    ["joint", "back", "groove", "part"],
    ["joint", "back", "groove_depth"],
    ["joint", "back", "fit"],
    ["joint", "back", "order"],
    ["joint", "drawer runner", "load", "lean"],
    ["panel", "back", "width"],
    ["nothing"],
]
edits = st.one_of(
    st.fixed_dictionaries({"do": st.just("put"), "path": st.sampled_from(PATHS), "value": values}),
    st.fixed_dictionaries({"do": st.just("drop"), "path": st.sampled_from(PATHS)}),
    st.fixed_dictionaries(
        {
            "do": st.just("add"),
            "key": st.sampled_from(["board", "joint", "part", "title", "climate", "x"]),
            "values": st.dictionaries(texts, values, max_size=4),
        }
    ),
)


def changed(client: Client, found: list[Any]) -> None:
    """Change fields of the demo's piece, look at what comes of it, and go back."""
    base = client.get("/api/documents/2").json()["revision"]["number"]
    body = json.dumps({"base": base, "what": "fuzz", "edits": found}).encode()
    answer = sent(client, ("POST", "/api/documents/2/changes"), body)
    assert answer.status_code in (200, 400, 404, 422), answer.content[:500]
    if answer.status_code == 200:
        for look in ("questions", "joints", "joints/1"):
            status = client.get(f"/api/pieces/2/{look}").status_code
            assert status in (200, 404, 422), found
        now = answer.json()["document"]["revision"]["number"]
        back = json.dumps({"base": now, "number": 1}).encode()
        assert sent(client, ("POST", "/api/documents/2/go-to"), back).status_code == 200


FUZZ = settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@settings(FUZZ, max_examples=60)
@given(st.lists(edits, min_size=1, max_size=3))
def test_no_change_of_fields_ends_in_an_error_of_ours(client: Client, found: list[Any]) -> None:
    changed(client, found)


@pytest.mark.soak
@settings(FUZZ, max_examples=5000)
@given(st.lists(edits, min_size=1, max_size=5))
def test_no_change_of_fields_ends_in_an_error_of_ours_for_long(
    client: Client, found: list[Any]
) -> None:
    changed(client, found)


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=60))
def test_bytes_are_json_or_refused(body: bytes) -> None:
    try:
        found = read_json(body)
    except BodyError:
        return
    assert found == json.loads(body.decode())


@settings(FUZZ, max_examples=40)
@given(st.text(st.characters(codec="utf-8", exclude_characters="\0"), min_size=1))
def test_a_text_with_anything_in_it_is_kept_as_it_is_or_refused(client: Client, text: str) -> None:
    shown = client.get("/api/documents/1").json()
    whole = f"{shown['text']}\n# {text}"
    body = {"base": shown["revision"]["number"], "text": whole, "what": "a remark"}
    answer = sent(client, ("PUT", "/api/documents/1/text"), json.dumps(body).encode())
    if answer.status_code == 200:
        assert answer.json()["text"] == whole
        assert client.get("/api/documents/1").json()["text"] == whole
    else:
        refused(answer, 422)
