"""The API as schemathesis asks it: from its description, on the shop's own computer."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis import Case, HookContext

from faywright.web.api.strict import GREATEST_NUMBER
from faywright.web.wsgi import application

AnyCase = Case[Any]

SHOP, PIECE = 1, 2
TOKEN = "a" * 32
THERE = {"document": (PIECE, SHOP), "piece": (PIECE,), "shop": (SHOP,), "joint": (1, 2)}
"""Numbers that are there, for most of those that are made up: else all answers would be 404."""


def from_this_computer(environ: dict[str, Any], start: Any) -> Iterable[bytes]:
    """The server as the shop's own computer reaches it; answers are not compressed."""
    environ["REMOTE_ADDR"] = "127.0.0.1"
    environ["HTTP_X_CSRFTOKEN"] = TOKEN
    environ["HTTP_COOKIE"] = f"csrftoken={TOKEN}"
    environ.pop("HTTP_ACCEPT_ENCODING", None)
    return application(environ, start)


@schemathesis.serializer("application/zip")
def as_it_is(context: schemathesis.SerializationContext, value: Any) -> bytes:
    """Archives are made up byte by byte; what is made up otherwise goes as its text."""
    del context
    return value if isinstance(value, bytes) else str(value).encode("utf-8", "backslashreplace")


schema = schemathesis.openapi.from_wsgi("/api/openapi.json", from_this_computer)
# What was answered before decides what is made up next; a walk could not be repeated then.
schema.config.phases.stateful.link_calibration = False
# What changes something and says not what it sends is stopped at the gate, with 415 instead of 405.
schema.config.phases.coverage.unexpected_methods = {"options", "trace"}
# A text can be as the schema has it and still be no shop file: then the answer is 422.
schema.config.checks.positive_data_acceptance.expected_statuses += ["422"]
schema.config.checks.negative_data_rejection.expected_statuses += ["413"]


@schema.hook("map_case")
def numbers_that_are_there(context: HookContext, case: AnyCase) -> AnyCase:
    """Most of the numbers in an address, and of the revisions to start from, are there."""
    del context
    for name, value in case.path_parameters.items():
        if name in THERE and isinstance(value, int) and 1 <= value <= GREATEST_NUMBER:
            known = THERE[name]
            case.path_parameters[name] = value if value % 5 == 0 else known[value % len(known)]
    return case


QUICK = settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))
