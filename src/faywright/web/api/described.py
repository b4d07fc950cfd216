"""What /api/openapi.json says: the routes as they are, with every refusal and who may enter."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from http import HTTPStatus
from importlib.resources import files
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from pydantic.json_schema import models_json_schema

from faywright.piece.plan_json import SCHEMA_FILE
from faywright.web.api.api import api
from faywright.web.api.refusals_told import Refusal
from faywright.web.entry.mode import Mode, mode

Json = dict[str, Any]

PREFIX = "api/"
REFUSALS = {
    400: "It cannot be read: no JSON, too deep, or twice the same key.",
    401: "Nobody is signed in.",
    403: "Not from there, or without the CSRF token.",
    404: "There is no such thing, or not any more.",
    422: "It can be read, but not be done; `faults` name each field.",
    429: "Too many wrong passwords; `Retry-After` says when to try again.",
    500: "An error of ours.",
}
WITH_BODY = {
    413: "It is too large.",
    415: "It is sent as something else than the address takes.",
}
SCHEMES = {
    "session": {
        "type": "apiKey",
        "in": "cookie",
        "name": "sessionid",
        "description": "As pages sign in. Changes need the header X-CSRFToken as well.",
    },
    "csrf": {
        "type": "apiKey",
        "in": "header",
        "name": "X-CSRFToken",
        "description": "The value of the cookie csrftoken; only changes need it.",
    },
    "basic": {"type": "http", "scheme": "basic", "description": "Name and password, over TLS."},
}
NEXT = ("documents_undo", "documents_redo", "documents_discard", "documents_bring_back")
"""What can be done next with a document that was answered."""

METHODS = ("get", "put", "post", "delete", "patch")


def openapi(request: HttpRequest) -> HttpResponse:
    """The description, as this server is entered."""
    if request.method != "GET":
        return HttpResponse(status=HTTPStatus.METHOD_NOT_ALLOWED, headers={"Allow": "GET"})
    return JsonResponse(description() | {"security": _security()})


@cache
def description() -> Json:
    """The whole description; OpenAPI 3.1."""
    # Through JSON and back: what Ninja gives is shared between operations.
    found: Json = json.loads(json.dumps(api.get_openapi_schema(path_prefix=PREFIX)))
    schemas = found["components"]["schemas"]
    schemas |= _refusal() | _plan()
    found["components"]["securitySchemes"] = SCHEMES
    found["components"]["responses"] = {
        str(status): _refused(why) for status, why in (REFUSALS | WITH_BODY).items()
    }
    del found["servers"]
    for operation in operations(found):
        _complete(operation)
    return found


def operations(found: Json) -> Iterator[Json]:
    """Every operation of a description."""
    for path in found["paths"].values():
        yield from (path[method] for method in METHODS if method in path)


def _complete(operation: Json) -> None:
    operation["operationId"] = operation["operationId"].removeprefix("faywright_web_api_")
    statuses = REFUSALS | (WITH_BODY if "requestBody" in operation else {})
    for status in statuses:
        operation["responses"][str(status)] = {"$ref": f"#/components/responses/{status}"}
    told = operation["responses"].get("200", {})
    if told.get("content", {}).get("application/json", {}).get("schema") == _ref("SheetTold"):
        told["links"] = {name: _link(name) for name in NEXT}
    operation["responses"] = dict(sorted(operation["responses"].items()))
    for parameter in operation["parameters"]:
        _without_null(parameter["schema"])


def _without_null(schema: Json) -> None:
    """An address has no null: what may be left out is left out."""
    kinds = [each for each in schema.get("anyOf", ()) if each != {"type": "null"}]
    if len(kinds) == 1:
        del schema["anyOf"]
        schema |= kinds[0]


def _security() -> list[Json]:
    """On the shop's own computer, nobody signs in."""
    if mode() is Mode.HERE:
        return [{}]
    return [{"session": [], "csrf": []}, {"basic": []}]


def _refused(why: str) -> Json:
    content = {"application/json": {"schema": _ref("Refusal")}}
    return {"description": why, "content": content}


def _ref(schema: str) -> Json:
    return {"$ref": f"#/components/schemas/{schema}"}


def _link(operation: str) -> Json:
    """How an answered document leads on to another operation, from how it stands."""
    based = operation in ("documents_undo", "documents_redo")
    body = {"base": "$response.body#/revision/number"} if based else {}
    return {
        "operationId": operation,
        "parameters": {"document": "$response.body#/id"},
        "requestBody": body,
    }


def _refusal() -> Json:
    _, found = models_json_schema(
        [(Refusal, "validation")], ref_template="#/components/schemas/{model}"
    )
    schemas: Json = found["$defs"]
    return schemas


def _plan() -> Json:
    """The schema of plan.json, each part of it under a name of its own."""
    text = files("faywright").joinpath(SCHEMA_FILE).read_text(encoding="utf-8")
    schema = json.loads(text.replace('"#/$defs/', '"#/components/schemas/plan.'))
    del schema["$schema"]
    parts = {f"plan.{name}": part for name, part in schema.pop("$defs").items()}
    return {"plan": schema, "joint-plan": _joint_plan(), **parts}


def _joint_plan() -> Json:
    setups = {
        "type": "array",
        "items": {"$ref": "#/components/schemas/plan.setup"},
        "description": "Its settings in order of work, numbered from 1.",
    }
    return {
        "title": "faywright joint 1",
        "description": "One joint as a plan has it, by itself.",
        "type": "object",
        "properties": {
            "format": {"const": "faywright joint 1", "description": "Name of this format."},
            "joint": {"$ref": "#/components/schemas/plan.joint"},
            "setups": setups,
        },
        "required": ["format", "joint", "setups"],
        "additionalProperties": False,
    }
