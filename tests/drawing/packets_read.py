"""Packets as a reader of PDF finds them: words, figures to set, how much of a page they take."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Any

from pypdf import PageObject, PdfReader

from faywright.drawing.packet import PacketOptions, packet
from faywright.piece.plan import Plan

MM = 25.4 / 72
"""Millimetres of a point."""

DIGITS = 0.729
"""Height of the digits of DejaVu Sans Mono. [em]"""


@dataclass(frozen=True)
class Page:
    """A page as read: its words in a row, and what is set in the largest type.

    Words are as they were before they were broken over lines. ``large`` has the height of its
    digits with each figure, ``right`` is where the last word of any line begins. [mm]
    """

    words: str
    large: tuple[tuple[str, float], ...]
    right: float
    size: tuple[float, float]


def page_read(page: PageObject) -> Page:
    large, right = [], [0.0]

    def visit(text: str, cm: list[float], tm: list[float], font: Any, size: float) -> None:
        if not text.strip() or font is None:
            return
        right.append((tm[4] * cm[0] + cm[4]) * MM)
        if "Mono" in font["/BaseFont"]:
            large.append((text.strip(), abs(size * tm[3] * cm[3]) * DIGITS * MM))

    words = (
        " ".join(page.extract_text(visitor_text=visit).split())
        .replace("\u200b", "")
        .replace("- ", "-")
    )
    wide, high = float(page.mediabox.width), float(page.mediabox.height)
    return Page(words, tuple(large), max(right), (wide * MM, high * MM))


def read(planned: Plan, options: PacketOptions | None = None) -> tuple[Page, ...]:
    return tuple(map(page_read, PdfReader(BytesIO(packet(planned, options))).pages))
