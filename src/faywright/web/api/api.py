"""The API itself: how bodies are read, how refusals are told, and which nouns there are."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, get_type_hints

from django.http import HttpRequest
from ninja import NinjaAPI

from faywright.errors import InputError
from faywright.web.api import (
    archive,
    changes,
    documents,
    drawings,
    pieces,
    setups,
    shops,
    timber,
    trials,
)
from faywright.web.api.reading import StrictParser
from faywright.web.api.refusing import add_refusals
from faywright.web.api.strict import Asked

VERSION = "1"

View = Callable[..., Any]


def known_queries_only(view: View) -> View:
    """Refuse names after the question mark that a view does not know: one may be misspelt."""
    models = [
        hint
        for hint in get_type_hints(view).values()
        if isinstance(hint, type) and issubclass(hint, Asked)
    ]
    known = [field.alias or name for each in models for name, field in each.model_fields.items()]

    @wraps(view)
    def looked_at(request: HttpRequest, **values: object) -> object:
        for name in request.GET:
            if name not in known:
                raise InputError(
                    f"{name[:40]!r} is not known here",
                    where="query",
                    remedy=f"Use {', '.join(known)}" if known else "Leave it out",
                )
        return view(request, **values)

    return looked_at


api = NinjaAPI(
    title="Faywright",
    version=VERSION,
    description="Measured boards and real cutters in, verified router-table settings out: the "
    "same actions as the pages. Lengths are millimetres unless a field says otherwise; keys of "
    "lengths end in _mm.",
    docs_url=None,  # its pages would load from elsewhere
    openapi_url=None,  # ours says more: see described
    parser=StrictParser(),
)
api.add_decorator(known_queries_only)
add_refusals(api)
for noun in (documents, changes, pieces, drawings, setups, trials, shops, timber, archive):
    api.add_router("", noun.router)
