"""What answers have in common: the style of lengths, and files instead of JSON."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse

from faywright.lengths import LengthStyle, Style

SVG, DXF, PDF, ZIP = "image/svg+xml", "image/vnd.dxf", "application/pdf", "application/zip"


def style_asked(units: Style | None, habit: LengthStyle) -> LengthStyle:
    """How lengths are written: as asked, else as the shop does."""
    return habit if units in (None, habit.style) else LengthStyle(units)


def file(content: bytes | str, kind: str, name: str) -> HttpResponse:
    """A file; ``name`` is plain ASCII."""
    answer = HttpResponse(content, content_type=kind)
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


def told_as(*kinds: str) -> dict[str, Any]:
    """For the description of an answer that is a file."""
    return {"responses": {200: {"content": {kind: {} for kind in kinds}}}}


def told_by(schema: str) -> dict[str, Any]:
    """For the description of an answer in JSON whose schema is written down elsewhere."""
    content = {"application/json": {"schema": {"$ref": f"#/components/schemas/{schema}"}}}
    return {"responses": {200: {"content": content}}}


def mm_of(length: float) -> float:
    """A length that is finite, to a tenth of a micrometre. [mm]"""
    return round(length, 4) + 0.0
