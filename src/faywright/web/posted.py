"""What forms send: numbers, paths and the like, as plain values."""

from __future__ import annotations

import json

from django.http import HttpRequest

from faywright.errors import InputError
from faywright.web.changing import NamedPath

DEEPEST = 8
"""Steps of the longest path that a document has a field at."""


def number_in(request: HttpRequest, name: str) -> int:
    """A whole number that a form sends.

    Raises
    ------
    InputError
        It is none.
    """
    text = request.POST.get(name, "")
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise odd(name)
    return int(text)


def path_in(text: str) -> NamedPath:
    """A path as forms send it.

    Raises
    ------
    InputError
        It is none.
    """
    try:
        steps = json.loads(text)
    except (ValueError, RecursionError):
        steps = None
    if not (isinstance(steps, list) and 0 < len(steps) <= DEEPEST):
        raise odd("path")
    if not all(isinstance(step, str) or type(step) is int for step in steps):
        raise odd("path")
    return tuple(steps)


def odd(name: str) -> InputError:
    """That a form is none of ours, or from an older page."""
    return InputError(
        "it is not as forms here send it", where=name, remedy="Load the page again, and repeat it"
    )
