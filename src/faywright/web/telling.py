"""Errors of ours as pages: what is wrong, where, and what to do, with nothing lost."""

from __future__ import annotations

import logging
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from faywright.errors import (
    DisagreementError,
    DocumentError,
    InputError,
    MissingError,
    PlanError,
)
from faywright.web.ways_on import ways_on

UNPROCESSABLE, MISSING, OUR_FAULT = 422, 404, 500

log = logging.getLogger("faywright.web")


class TellingMiddleware:
    """Tells what a view raised on purpose; everything else is an error of ours, and logged."""

    def __init__(self, answer: Callable[[HttpRequest], HttpResponse]) -> None:
        """``answer`` is the rest of the chain."""
        self._answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self._answer(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """The page that tells of an error; None for one that was not raised on purpose."""
        if not isinstance(error, PlanError):
            return None
        if isinstance(error, DisagreementError):
            log.error("%s", error)
        return told(request, error)


def status_of(error: PlanError) -> int:
    """The status of an answer that tells of an error."""
    if isinstance(error, DisagreementError):
        return OUR_FAULT
    return MISSING if isinstance(error, MissingError) else UNPROCESSABLE


def told(request: HttpRequest, error: PlanError) -> HttpResponse:
    """A whole page, or the part of one where only a part was asked for."""
    part = bool(getattr(request, "htmx", False))
    context = {
        "error": error,
        "faults": error.faults if isinstance(error, DocumentError) else (),
        "ours": isinstance(error, DisagreementError),
        "wrong_input": isinstance(error, InputError),
        "ways_on": ways_on(request, error),
    }
    page = "faywright/parts/told.html" if part else "faywright/told.html"
    return render(request, page, context, status=status_of(error))
