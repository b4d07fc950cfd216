"""The lines, letters and colours of drawings, for the pages they are set into."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from faywright.drawing.svg import rules


@require_safe
@cache_control(max_age=3600)
def drawing_rules(request: HttpRequest) -> HttpResponse:
    """The same rules that a drawing in a file of its own carries."""
    return HttpResponse(rules(), content_type="text/css; charset=utf-8")
