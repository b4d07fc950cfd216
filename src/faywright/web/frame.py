"""What stands around every page: where one is, who is at work, and the units."""

from __future__ import annotations

from django.http import HttpRequest

from faywright.web.desk import STYLES, UNITS_COOKIE, author, signed_in
from faywright.web.entry.mode import Mode, mode

UNIT_WORDS = {"mm": "mm", "decimal inch": "0.001 in", "fraction inch": "1/64 in"}


def frame(request: HttpRequest) -> dict[str, object]:
    """Variables of the base template.

    ``units`` offered, with the one that the page shows; whether one has ``entered``, by what
    ``name``, and so signs out; whether one is a ``keeper`` of accounts.
    """
    shown = getattr(request, "shown_in", request.COOKIES.get(UNITS_COOKIE, ""))
    user, at = signed_in(request), mode()
    return {
        "units": [(style, UNIT_WORDS[style], style == shown) for style in STYLES],
        "entered": at is Mode.HERE or user is not None,
        "name": author(request),
        "signs_out": at is not Mode.HERE and user is not None,
        "keeper": at is Mode.ACCOUNTS and user is not None and user.is_staff,
        "here": request.get_full_path(),
    }
