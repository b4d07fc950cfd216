"""Addresses of the API. What nothing is served at is told in JSON, as everything else."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.urls import URLPattern, URLResolver, path, re_path
from django.views.decorators.csrf import csrf_exempt

from faywright.errors import InputError
from faywright.web.api.api import api
from faywright.web.api.described import openapi
from faywright.web.api.refusing import no_address, refuse

MISSING, NOT_ALLOWED = 404, 405

View = Callable[..., HttpResponseBase]


def allowed_in_json(view: View) -> View:
    """A view whose refusal of a method is told as all others are."""

    # The gate has seen to what CSRF tokens are for: see there.
    @csrf_exempt
    def looked_at(request: HttpRequest, **values: object) -> HttpResponseBase:
        answer = view(request, **values)
        if answer.status_code != NOT_ALLOWED:
            return answer
        error = InputError(
            f"{request.method} cannot be done here",
            where="method",
            remedy=f"Use {answer['Allow']}",
        )
        told = refuse(NOT_ALLOWED, error)
        told["Allow"] = answer["Allow"]
        return told

    return looked_at


def _wrapped(pattern: URLPattern | URLResolver) -> URLPattern | URLResolver:
    if isinstance(pattern, URLResolver):
        return pattern
    view = allowed_in_json(pattern.callback)
    return URLPattern(pattern.pattern, view, pattern.default_args, pattern.name)


@csrf_exempt
def nothing_here(request: HttpRequest) -> HttpResponse:
    """There is nothing at this address."""
    return refuse(MISSING, no_address())


urlpatterns = [
    path("openapi.json", allowed_in_json(openapi), name="openapi"),
    *(_wrapped(pattern) for pattern in api.urls[0] if str(pattern.pattern)),
    re_path("", nothing_here),
]
