"""The switch between ways of writing lengths: a cookie, for nothing stored depends on it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from faywright.errors import InputError
from faywright.web.desk import STYLES, UNITS_COOKIE

A_YEAR = 365 * 24 * 3600


@require_POST
def units(request: HttpRequest) -> HttpResponse:
    """Show lengths in the ``style`` that is asked for, on the page one came from."""
    style = request.POST.get("style", "")
    if style not in STYLES:
        raise InputError(
            f"{style!r} is not known", where="units", remedy=f"Use {' or '.join(STYLES)}"
        )
    back = request.POST.get("back", "/")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}, request.is_secure()):
        back = "/"
    answer = HttpResponseRedirect(back)
    answer.set_cookie(
        UNITS_COOKIE,
        style,
        max_age=A_YEAR,
        secure=request.is_secure(),
        httponly=True,
        samesite="Lax",
    )
    return answer
