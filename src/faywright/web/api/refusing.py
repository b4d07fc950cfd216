"""Every refusal in one shape, with the status that fits it."""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from django.core.exceptions import RequestDataTooBig, SuspiciousOperation
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from ninja import NinjaAPI
from ninja.errors import HttpError, ValidationError

from faywright.app.sheet import Overtaken, Sheet
from faywright.app.trial_readings import MisreadError
from faywright.errors import (
    DisagreementError,
    DocumentError,
    Fault,
    InputError,
    MissingError,
    PlanError,
)
from faywright.web.api.reading import BodyError, KindError, TooLargeError
from faywright.web.api.refusals_told import Differing, ErrorTold, FaultTold, Refusal
from faywright.web.api.sheets import sheet_told
from faywright.web.api.values import in_json
from faywright.web.changing import DiffersError
from faywright.web.telling import MISSING, OUR_FAULT, UNPROCESSABLE, status_of

UNREADABLE, OVERTAKEN, TOO_LARGE, WRONG_KIND = 400, 409, 413, 415

log = logging.getLogger("faywright.web")


def refuse(status: int, error: PlanError, faults: Sequence[Fault] = ()) -> HttpResponse:
    """An answer that tells of an error."""
    return JsonResponse(told(error, faults).model_dump(mode="json"), status=status)


def told(error: PlanError, faults: Sequence[Fault] = ()) -> Refusal:
    """An error in the shape that all have."""
    faults = error.faults if isinstance(error, DocumentError) else faults
    return Refusal(
        error=ErrorTold(
            what=sound(error.what),
            where=sound(error.where),
            remedy=sound(error.remedy),
            faults=[
                FaultTold(
                    file=sound(each.file),
                    line=each.line,
                    field=sound(each.field),
                    what=sound(each.what),
                    remedy=sound(each.remedy),
                    path=[sound(step) if isinstance(step, str) else step for step in each.path],
                )
                for each in faults
            ],
        )
    )


def sound(text: str) -> str:
    """Text that can be sent: halves of characters, which a request may name, are written out."""
    return text.encode("utf-8", "backslashreplace").decode()


def add_refusals(api: NinjaAPI) -> None:
    """Teach ``api`` to tell every error in one shape; the nearest kind of an error counts."""
    for kind, handler in _HANDLERS.items():
        api.add_exception_handler(kind, handler)


def _planned(_: HttpRequest, error: PlanError) -> HttpResponse:
    if isinstance(error, DisagreementError):
        log.error("%s", error)
    return refuse(status_of(error), error)


def _kind(_: HttpRequest, error: KindError) -> HttpResponse:
    return refuse(WRONG_KIND, error)


def _body(_: HttpRequest, error: BodyError) -> HttpResponse:
    return refuse(UNREADABLE, error)


def _differs(_: HttpRequest, error: DiffersError) -> HttpResponse:
    return _differing(error, list(error.path), error.theirs, error.mine, error.sheet)


def _overtaken(_: HttpRequest, error: Overtaken) -> HttpResponse:
    return overtaken(error, None)


def overtaken(error: Overtaken, mine: str | None) -> HttpResponse:
    """The answer where the document stands at another revision; ``mine`` is the text sent."""
    return _differing(error, None, error.sheet.revision.text, mine, error.sheet)


def _differing(
    error: PlanError, path: list[str | int] | None, theirs: object, mine: object, sheet: Sheet
) -> HttpResponse:
    """The answer where someone else was quicker."""
    found = Differing(
        **told(error).model_dump(),
        path=path,
        theirs=in_json(theirs),
        mine=in_json(mine),
        current=sheet_told(sheet),
    )
    return JsonResponse(found.model_dump(mode="json"), status=OVERTAKEN)


def _http(request: HttpRequest, error: HttpError) -> HttpResponse:
    """Ninja wraps what goes wrong while it reads a body; that itself is told."""
    cause = error.__cause__
    if isinstance(cause, KindError):
        return _kind(request, cause)
    if isinstance(cause, PlanError):
        return refuse(error.status_code, cause)
    if cause is not None and not isinstance(cause, SuspiciousOperation):
        log.error("a body could not be read", exc_info=cause)
    return _suspicious(request, error)


def _too_large(_: HttpRequest, error: TooLargeError) -> HttpResponse:
    return refuse(TOO_LARGE, error)


def _too_much(_: HttpRequest, error: RequestDataTooBig) -> HttpResponse:
    del error
    return refuse(TOO_LARGE, TooLargeError("it is too large", where="body", remedy="Send less"))


def _suspicious(_: HttpRequest, error: Exception) -> HttpResponse:
    del error
    unread = BodyError("it cannot be read", where="request", remedy="Send it as is documented")
    return refuse(UNREADABLE, unread)


def _missing(_: HttpRequest, error: Http404) -> HttpResponse:
    del error
    return refuse(MISSING, no_address())


def no_address() -> MissingError:
    """Nothing is served there."""
    return MissingError(
        "there is nothing at this address", where="address", remedy="See /api/openapi.json"
    )


def _misread(_: HttpRequest, error: MisreadError) -> HttpResponse:
    """What is wrong with readings, field by field."""
    faults = [
        Fault("body", None, each.where, each.what, each.remedy, tuple(each.where.split(".")))
        for each in error.each
    ]
    return refuse(UNPROCESSABLE, error, faults)


def _invalid(_: HttpRequest, error: ValidationError) -> HttpResponse:
    """What does not go by the schema: each field by itself."""
    faults = [_fault(each) for each in error.errors]
    first = faults[0]
    what = InputError(first.what, where=f"{first.file}: {first.field}", remedy=first.remedy)
    return refuse(UNPROCESSABLE, what, faults)


def _fault(each: Mapping[str, Any]) -> Fault:
    source, *way = each["loc"]
    # The name of the function's parameter that holds the whole body comes first.
    path = tuple(step for step in (way[1:] if source == "body" else way))
    return Fault(
        file=str(source),
        line=None,
        field=": ".join(str(step) for step in path) or str(source),
        what=_lowered(str(each["msg"])),
        remedy="Give it as /api/openapi.json has it",
        path=path,
    )


def _lowered(text: str) -> str:
    return text[:1].lower() + text[1:]


def _ours(request: HttpRequest, error: Exception) -> HttpResponse:
    log.error("%s %s", request.method, request.path, exc_info=error)
    ours = DisagreementError(
        "this is an error in Faywright", where="server", remedy="Report it, with what was asked"
    )
    return refuse(OUR_FAULT, ours)


_HANDLERS: Mapping[type[Exception], Callable[[HttpRequest, Any], HttpResponse]] = {
    PlanError: _planned,
    KindError: _kind,
    BodyError: _body,
    DiffersError: _differs,
    Overtaken: _overtaken,
    TooLargeError: _too_large,
    HttpError: _http,
    RequestDataTooBig: _too_much,
    SuspiciousOperation: _suspicious,
    Http404: _missing,
    MisreadError: _misread,
    ValidationError: _invalid,
    Exception: _ours,
}
