"""Bodies of requests, read so that nothing odd gets further than here."""

from __future__ import annotations

import json
import math
from typing import Any, NoReturn

from django.http import HttpRequest
from django.utils.datastructures import MultiValueDict
from ninja.parser import Parser

from faywright.errors import InputError

DEEPEST = 24
"""Lists and objects inside each other; a document needs a third of that."""

LONGEST_INTEGER = 20
"""Digits; more than any whole number that is asked for."""

JSON = "application/json"


class KindError(InputError):
    """A body that is of another kind than the address takes."""


class BodyError(InputError):
    """A body that cannot be read at all."""


def take_kind(request: HttpRequest, kind: str) -> None:
    """Refuse a body of another kind.

    Raises
    ------
    KindError
        The request says that it is.
    """
    if request.content_type != kind:
        raise KindError(
            f"it is sent as {request.content_type or 'nothing in particular'}",
            where="Content-Type",
            remedy=f"Send {kind}",
        )


class TooLargeError(InputError):
    """A body that is larger than is taken."""


class StrictParser(Parser):
    """Reads JSON as RFC 8259 has it, in UTF-8, with each key once; and each query once."""

    def parse_body(self, request: HttpRequest) -> Any:  # noqa: ANN401 - as it says there
        """The value of a body.

        Raises
        ------
        KindError
            It is not sent as JSON.
        BodyError
            It is not JSON, or stands too deep inside itself.
        """
        take_kind(request, JSON)
        return read_json(request.body)

    def parse_querydict(
        self, data: MultiValueDict[str, Any], list_fields: list[str], request: HttpRequest
    ) -> dict[str, Any]:
        """What is asked after the question mark.

        Raises
        ------
        BodyError
            A name is there twice.
        """
        twice = next((name for name in data if len(data.getlist(name)) > 1), None)
        if twice is not None:
            raise BodyError(f"{twice!r} is there twice", where="query", remedy="Give it once")
        return super().parse_querydict(data, list_fields, request)


def read_json(body: bytes) -> object:
    """What a text in JSON says.

    Raises
    ------
    BodyError
        It is no JSON, or not of the kind that is taken here.
    """
    try:
        found = json.loads(
            body.decode("utf-8"),
            parse_constant=_no_number,
            parse_int=_whole,
            parse_float=_finite,
            object_pairs_hook=_once,
        )
        _check_depth(found)
    except RecursionError:
        _too_deep()
    except UnicodeDecodeError:
        raise BodyError("it is not UTF-8", where="body", remedy="Send JSON in UTF-8") from None
    except json.JSONDecodeError as error:
        where = f"body, line {error.lineno}, column {error.colno}"
        what = f"it is not JSON ({error.msg[:1].lower()}{error.msg[1:]})"
        raise BodyError(what, where=where, remedy="Send JSON (RFC 8259)") from None
    return found


def _check_depth(value: object, depth: int = 0) -> None:
    if depth > DEEPEST:
        _too_deep()
    inside = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    for each in inside:
        if isinstance(each, dict | list):
            _check_depth(each, depth + 1)


def _too_deep() -> NoReturn:
    raise BodyError(
        "lists or objects stand too deep inside each other",
        where="body",
        remedy=f"Keep them to {DEEPEST}",
    ) from None


def _no_number(text: str) -> NoReturn:
    raise BodyError(f"{text} is not a number", where="body", remedy="Leave it out, or give null")


def _whole(text: str) -> int:
    if len(text) > LONGEST_INTEGER:
        raise BodyError(
            f"a whole number of {len(text)} digits", where="body", remedy="Give a smaller one"
        )
    return int(text)


def _finite(text: str) -> float:
    found = float(text)
    if not math.isfinite(found):
        raise BodyError("a number too great to hold", where="body", remedy="Give a smaller one")
    return found


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found: dict[str, object] = {}
    for key, value in pairs:
        if key in found:
            raise BodyError(
                f"the key {key[:40]!r} is there twice", where="body", remedy="Give it once"
            )
        found[key] = value
    return found
