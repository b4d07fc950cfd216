"""How a request is turned away: as a page, as a part of one, or as JSON, each in words."""

from __future__ import annotations

from urllib.parse import urlsplit

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme, urlencode

from faywright.errors import InputError, PlanError
from faywright.web.entry.attempts import TooManyTries

API = "/api/"
FORBIDDEN, UNSIGNED, TOO_MANY = 403, 401, 429


def is_api(request: HttpRequest) -> bool:
    """Whether a request is for the API rather than for a page."""
    return request.path_info.startswith(API)


def refused(request: HttpRequest, error: PlanError, status: int = FORBIDDEN) -> HttpResponse:
    """What is wrong, where, and what to do about it."""
    answer: HttpResponse
    if is_api(request):
        told = {"what": error.what, "where": error.where, "remedy": error.remedy}
        answer = JsonResponse({"error": told}, status=status)
    else:
        answer = render(request, "faywright/refused.html", {"error": error}, status=status)
    if isinstance(error, TooManyTries):
        answer["Retry-After"] = str(error.seconds)
    if status == UNSIGNED:
        # Such an answer has to name a way to sign in (RFC 9110, 11.6.1). Not "Basic", for which
        # browsers ask and then send it along with every request, wherever that comes from.
        answer["WWW-Authenticate"] = 'SignIn realm="faywright"'
    return answer


def turned_away(request: HttpRequest) -> HttpResponse:
    """For one who has not signed in: the way to the page where it is done."""
    if is_api(request):
        return refused(request, _unsigned(), UNSIGNED)
    to = f"{reverse('sign-in')}?{urlencode({'next': _back_to(request)})}"
    if request.headers.get("HX-Request") == "true":
        answer = HttpResponse(status=UNSIGNED)
        answer["HX-Redirect"] = to
        return answer
    return HttpResponseRedirect(to)


def safe_next(request: HttpRequest, asked: str) -> str:
    """Where to go after signing in: a page of ours, or the first one."""
    ours = url_has_allowed_host_and_scheme(
        asked, {request.get_host()}, require_https=request.is_secure()
    )
    # A path, and not one that browsers read as another host.
    return asked if ours and asked.startswith("/") and not asked.startswith("//") else "/"


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """For a form whose token is missing or old; Django calls it."""
    error = InputError(
        f"this did not come from a page of this server, or from one that is too old ({reason})",
        where="form",
        remedy="Load the page again, and repeat what you did",
    )
    return refused(request, error)


def _unsigned() -> InputError:
    return InputError(
        "nobody is signed in",
        where="sign-in",
        remedy="Sign in on the page, or send name and password with the request (HTTP Basic)",
    )


def _back_to(request: HttpRequest) -> str:
    """The page that was looked at: what was sent to an address is not sent again."""
    if request.headers.get("HX-Request") == "true":
        shown = urlsplit(request.headers.get("HX-Current-URL", ""))
        path = f"{shown.path}?{shown.query}" if shown.query else shown.path
        return safe_next(request, path)
    return request.get_full_path() if request.method in ("GET", "HEAD") else "/"
