"""The gate: the one place that decides who may enter, and what may be changed from where.

It stands behind sessions, CSRF and accounts, and before every view, found or not: an address that
nobody thought of is closed. Static files are answered before it; the sign-in page, that of the
first keeper and the style sheet that both need are all that it leaves open.

Who may enter. HERE: programs on this computer. The server listens on the loopback address alone,
the socket's address is looked at all the same, and the host named in the request has to be this
computer: a page elsewhere that points its own name here (DNS rebinding) is refused by it. Other
users of the same computer can enter too, as they could read the screen. LAN: peers on a private
network who have signed in with the passphrase. ACCOUNTS: whoever has signed in by name. What
forwarding headers claim is never believed.

What may be changed, and from where. Browsers send along cookies, and find their way to loopback,
whichever page a request comes from; so a request that changes something has to show that it comes
from a page of ours:

1. Where the browser says where it comes from (Sec-Fetch-Site, Origin), that has to be here. This
   holds for pages and API alike, in every mode. "none" is the user's own doing.
2. Pages: Django's CSRF token, which ``CsrfViewMiddleware`` checks for every view.
3. API, which that middleware lets through: the body has to be ``application/json``. Another page
   cannot send that without asking first (CORS preflight), and we answer no such question. DELETE
   without a body has to ask first as well. Files (multipart/form-data, octet-stream, zip) need the
   CSRF token HERE too, for the first of these kinds can be sent without asking.
4. API by session: the CSRF token on top, since the cookie comes by itself.
5. API by HTTP Basic: no token. Nobody's browser adds name and password by itself, for we never
   ask it to (``refusals``); a program that sends them means it.
6. HERE there is no session, and 1 and 3 stand for the token.
"""

from __future__ import annotations

import base64
import binascii
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.middleware.csrf import CsrfViewMiddleware
from django.urls import reverse

from faywright.errors import InputError
from faywright.web.entry.addresses import is_local, is_loopback
from faywright.web.entry.attempts import TooManyTries
from faywright.web.entry.entering import address_of, entering
from faywright.web.entry.mode import Mode, mode
from faywright.web.entry.refusals import TOO_MANY, is_api, refused, turned_away

OPEN = ("sign-in", "first-keeper", "drawing-rules")
"""Names of the addresses that need no sign-in."""

WRONG_KIND = 415
SAFE = ("GET", "HEAD", "OPTIONS", "TRACE")
JSON = "application/json"
UPLOADS = ("multipart/form-data", "application/octet-stream", "application/zip")

Answer = Callable[[HttpRequest], HttpResponseBase]


class GateMiddleware:
    """Lets a request through, or answers it."""

    def __init__(self, answer: Answer) -> None:
        """``answer`` is the rest of the chain."""
        self._answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """What is behind the gate, or why it stays shut."""
        request.at_gate = True  # type: ignore[attr-defined] # for the policy
        return self._refusal(request) or self._answer(request)

    def _refusal(self, request: HttpRequest) -> HttpResponse | None:
        request.get_host()  # Django refuses one that is not ours, but only if asked for it
        error = _wrong_place(request)
        if error is not None:  # in plain text: strangers are shown no page of ours
            return HttpResponse(f"{error}\n", status=403, content_type="text/plain; charset=utf-8")
        error = _from_elsewhere(request)
        return _by_sign_in(request) if error is None else refused(request, error)


def _by_sign_in(request: HttpRequest) -> HttpResponse | None:
    """Why a request stays outside that comes from a place and a page that are right."""
    if mode() is Mode.HERE:
        return _unfit_change(request, by_session=False)
    if request.user.is_authenticated:
        return _unfit_change(request, by_session=True)
    if is_api(request) and "Authorization" in request.headers:
        return _unentered(request) or _unfit_change(request, by_session=False)
    if any(request.path_info == reverse(name) for name in OPEN):
        return None
    return turned_away(request)


def _wrong_place(request: HttpRequest) -> InputError | None:
    """Why a peer may not even knock."""
    address = address_of(request)
    if mode() is Mode.HERE and not is_loopback(address):
        return InputError(
            f"{address or 'a peer without an address'} is not this computer",
            where="faywright serve",
            remedy="Start it with --lan for other devices of the shop",
        )
    if mode() is Mode.LAN and not is_local(address):
        return InputError(
            f"{address or 'a peer without an address'} is not on the shop's network",
            where="faywright serve --lan",
            remedy="Come from there",
        )
    return None


def _from_elsewhere(request: HttpRequest) -> InputError | None:
    """Why a change does not come from a page of ours, where the browser tells."""
    if request.method in SAFE:
        return None
    site, origin = request.headers.get("Sec-Fetch-Site"), request.headers.get("Origin")
    ours = f"{request.scheme}://{request.get_host()}"
    if site in (None, "same-origin", "none") and origin in (None, ours):
        return None
    return InputError(
        "a page from elsewhere asks for this change",
        where="request",
        remedy="Do it on a page of this server",
    )


def _unentered(request: HttpRequest) -> HttpResponse | None:
    """Signs in for this one request by HTTP Basic (RFC 7617); the answer if that fails."""
    name, password = _basic(request.headers["Authorization"])
    if not password:
        return turned_away(request)
    try:
        user = entering(request, name, password)
    except TooManyTries as error:
        return refused(request, error, TOO_MANY)
    if user is None:
        return turned_away(request)
    request.user = user
    return None


def _basic(header: str) -> tuple[str, str]:
    """Name and password of a header; empty if it holds none."""
    scheme, _, given = header.partition(" ")
    if scheme.lower() != "basic":
        return "", ""
    try:
        text = base64.b64decode(given.strip(), validate=True).decode()
    except (binascii.Error, UnicodeDecodeError):
        return "", ""
    name, _, password = text.partition(":")
    return name, password


def _unfit_change(request: HttpRequest, *, by_session: bool) -> HttpResponse | None:
    """Why the API cannot take a change as it was sent."""
    if not is_api(request) or request.method in SAFE:
        return None
    upload = request.content_type in UPLOADS
    bare = request.method == "DELETE" and not request.content_type
    if not (upload or bare or request.content_type == JSON):
        error = InputError(
            f"it is sent as {request.content_type or 'nothing in particular'}",
            where="Content-Type",
            remedy=f"Send {JSON}, or a file as {' or '.join(UPLOADS)}",
        )
        return refused(request, error, WRONG_KIND)
    here = mode() is Mode.HERE
    return _without_token(request) if by_session or (here and upload) else None


def _without_token(request: HttpRequest) -> HttpResponse | None:
    """Django's own check of the token, which views of the API are exempt from."""

    def view(_: HttpRequest) -> HttpResponse:  # pragma: no cover - never called
        raise NotImplementedError

    found: HttpResponse | None = CsrfViewMiddleware(view).process_view(request, view, (), {})
    return found
