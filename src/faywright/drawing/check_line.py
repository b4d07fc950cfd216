"""A line to measure on the print, with what it should measure."""

from __future__ import annotations

from collections.abc import Callable

from faywright.drawing.model import Mark, Text, line

CHECK_LENGTH = 50.0
"""Length of the line. [mm on paper]"""

SIZE = 3.0


def check_line(
    left: float, y: float, write: Callable[[float], str], *, scale: int = 1
) -> list[Mark]:
    """Is the print true to size? A line from ``left`` at ``y``, its length above it."""

    def told(length: float) -> str:
        own = write(length)
        return f"{length:g} mm" if own.endswith("mm") else f"{length:g} mm or {own}"

    right, words = left + CHECK_LENGTH, f"{scale}:1, this line is {told(CHECK_LENGTH)}"
    if scale != 1:
        words += f" on paper, {told(CHECK_LENGTH / scale)} of the work"
    return [
        Text(words, (left, y - 3.0), SIZE),
        line((left, y), (right, y), "frame"),
        line((left, y - 1.6), (left, y + 1.6), "frame"),
        line((right, y - 1.6), (right, y + 1.6), "frame"),
    ]
