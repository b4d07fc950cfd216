"""The script that keeps the last copy of the setups for when there is no connection."""

from __future__ import annotations

from importlib.resources import files

from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe


@require_safe
@cache_control(no_cache=True)
def offline(request: HttpRequest) -> HttpResponse:
    """Served from the top, for a worker minds only what lies below its own address."""
    script = files("faywright.web").joinpath("data", "offline.js").read_text(encoding="utf-8")
    return HttpResponse(script, content_type="text/javascript; charset=utf-8")
