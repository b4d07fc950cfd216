"""Where one stands after undo and redo: where they were pressed, if that is still there."""

from __future__ import annotations

from urllib.parse import urlsplit

from django.http import HttpRequest
from django.urls import Resolver404, resolve, reverse
from django.utils.http import url_has_allowed_host_and_scheme

from faywright.app.documents import Sheet
from faywright.piece.document import tables_of
from faywright.web.pieces.renaming import named_tables


def back_to(request: HttpRequest, before: Sheet, after: Sheet) -> str:
    """The page of the same document that the form names as ``back``; empty where there is none.

    A joint is looked for by its name if joints came or went, for its place is another then.
    """
    back = request.POST.get("back", "")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}, request.is_secure()):
        return ""
    try:
        match = resolve(urlsplit(back).path)
    except Resolver404:
        return ""
    if after.kind != "piece" or match.kwargs.get("piece") != after.id:
        return ""
    if match.url_name == "boards":
        return reverse("boards", args=[after.id])
    return _joint(int(match.kwargs["place"]), before, after) if match.url_name == "joint" else ""


def _joint(place: int, before: Sheet, after: Sheet) -> str:
    old, new = _joints(before), _joints(after)
    if not 1 <= place <= len(old):
        return ""
    if len(old) != len(new):
        if old[place - 1] not in new:
            return ""
        place = new.index(old[place - 1]) + 1
    return reverse("joint", args=[after.id, place])


def _joints(sheet: Sheet) -> list[str]:
    return [name for name, _ in named_tables(tables_of(sheet.revision.text), "joint")]
