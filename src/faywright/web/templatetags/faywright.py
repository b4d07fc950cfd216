"""What templates may call: drawings set into a page, and lengths written in a style."""

from __future__ import annotations

import re

from django import template
from django.http import HttpRequest
from django.template import Context
from django.utils.safestring import SafeString, mark_safe

from faywright.drawing.model import Drawing
from faywright.drawing.svg import svg
from faywright.lengths import LengthStyle
from faywright.web.desk import STYLES, UNITS_COOKIE
from faywright.web.retold import plainly, retold

register = template.Library()

_NUMBER_AND_UNIT = re.compile(r"(?<=[0-9]) (?=(?:mm|in|turns?)\b)")


@register.filter
def inline(drawing: Drawing) -> SafeString:
    """A drawing as part of the page, which has the rules for its lines."""
    # Every text in it was escaped when it was written.
    return mark_safe(svg(drawing, ruled=False))  # noqa: S308


@register.filter
def unbroken(text: str) -> str:
    """Words in which a number and its unit stay on one line, however large they are."""
    return _NUMBER_AND_UNIT.sub("\u00a0", text)


@register.filter
def with_unit(shown: str, unit: str) -> str:
    """What a field shows, with the unit of a number that stands there alone.

    >>> with_unit("0.45", "in"), with_unit("1/2 in", "in"), with_unit("", "in")
    ('0.45 in', '1/2 in', '')
    """
    return f"{shown} {unit}" if unit and shown[-1:].isdigit() else shown


@register.simple_tag(takes_context=True)
def told(context: Context, words: object) -> str:
    """What an error says, as the page would say it and with its lengths in the unit it shows."""
    request = context.get("request")
    asked = getattr(request, "shown_in", None)
    if asked is None and isinstance(request, HttpRequest):
        asked = request.COOKIES.get(UNITS_COOKIE, "")
    style = next((LengthStyle(style) for style in STYLES if style == asked), LengthStyle("mm"))
    return retold(plainly(str(words or "")), style)
