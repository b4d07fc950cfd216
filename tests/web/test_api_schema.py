"""The API does what its description says, whatever is sent to it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import RequestFactory, override_settings
from hypothesis import settings
from jsonschema import Draft202012Validator

from faywright.web.api.described import description, openapi, operations
from faywright.web.demo import put_demo
from faywright.web.desk import close_desk, open_desk
from faywright.web.entry.mode import Mode
from tests.web.asking import QUICK, AnyCase, schema


@pytest.fixture(scope="module", autouse=True)
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """A store with the demo, that all of these tests change."""
    desk = open_desk(tmp_path_factory.mktemp("api") / "shop.sqlite3")
    put_demo(desk.store.documents)
    yield
    close_desk()


def test_the_description_is_valid_openapi() -> None:
    schema.validate()
    for part in description()["components"]["schemas"].values():
        Draft202012Validator.check_schema(part)


def inside(value: Any) -> Iterator[dict[str, Any]]:
    """Every object in a description, however deep."""
    if isinstance(value, dict):
        yield value
    for each in value.values() if isinstance(value, dict) else value:
        if isinstance(each, dict | list):
            yield from inside(each)


def test_all_that_is_referred_to_is_there() -> None:
    found = description()
    for each in inside(found):
        reference = each.get("$ref")
        if isinstance(reference, str):
            value: Any = found
            for step in reference.removeprefix("#/").split("/"):
                value = value[step]


def test_every_field_is_described() -> None:
    for name, part in description()["components"]["schemas"].items():
        for field, told in part.get("properties", {}).items():
            assert "description" in told or "$ref" in told, f"{name}.{field}"


def test_every_length_tells_its_unit() -> None:
    """Figures that are neither counts nor shares end in a unit, or tell it."""
    bare = {"chance", "metres", "saves"}
    for name, part in description()["components"]["schemas"].items():
        for field, told in part.get("properties", {}).items():
            kinds = [told, *told.get("anyOf", [])]
            if any(kind.get("type") == "number" for kind in kinds):
                unit = field.endswith(("_mm", "_percent", "_share", "_joints", "chance", "error"))
                plain = name.startswith("plan.") or field in bare
                assert unit or plain or "[" in told["description"], f"{name}.{field}"


def test_every_route_is_told_in_full() -> None:
    names = [operation["operationId"] for operation in operations(description())]
    assert len(names) == len(set(names)) > 30
    for operation in operations(description()):
        assert operation["summary"]
        assert operation["description"]
        assert operation["tags"]
        assert {"400", "401", "403", "404", "422", "429", "500"} <= set(operation["responses"])
        for parameter in operation["parameters"]:
            assert parameter["description"], parameter
            assert {"type": "null"} not in inside(parameter["schema"]), "an address has no null"


def test_what_changes_a_document_may_be_overtaken() -> None:
    paths = description()["paths"]
    for change in ("changes", "undo", "redo", "go-to"):
        assert "409" in paths[f"/api/documents/{{document}}/{change}"]["post"]["responses"]
    assert "409" in paths["/api/documents/{document}/text"]["put"]["responses"]


@pytest.mark.parametrize(
    ("mode", "said"),
    [
        (Mode.HERE, [{}]),
        (Mode.LAN, [{"session": [], "csrf": []}, {"basic": []}]),
        (Mode.ACCOUNTS, [{"session": [], "csrf": []}, {"basic": []}]),
    ],
)
def test_who_may_enter_is_described_as_the_server_was_started(mode: Mode, said: object) -> None:
    with override_settings(FAYWRIGHT_MODE=mode):
        told = json.loads(openapi(RequestFactory().get("/api/openapi.json")).content)
    assert told["security"] == said
    assert set(told["components"]["securitySchemes"]) == {"session", "csrf", "basic"}


LONG = settings(QUICK, max_examples=500)


@schema.parametrize()
@QUICK
def test_every_answer_is_as_described(case: AnyCase) -> None:
    case.call_and_validate()


@pytest.mark.soak
@schema.parametrize()
@LONG
def test_every_answer_is_as_described_for_long(case: AnyCase) -> None:
    case.call_and_validate()
