"""The lettering over a drawing, and how wide a sheet is."""

from __future__ import annotations

from faywright.drawing.apart import paragraph
from faywright.drawing.dimensioning import LEADING
from faywright.drawing.lettering import BOLD_STRETCH
from faywright.drawing.model import Mark, Text

SIZE = 2.6
TITLE_SIZE = 4.6
SHEET_WIDTH = 190.0
"""What an A4 sheet shows across, with 10 mm left bare on either side. [mm]"""

LINE = LEADING * SIZE
"""From baseline to baseline in a chart. [mm]"""


def heading(
    title: str, told: str, foot: float, left: float = 0.0, *, size: float = SIZE
) -> list[Mark]:
    """``title``, in as many lines as it takes, and ``told`` under it, its baseline at ``foot``."""
    lines = paragraph(title, SHEET_WIDTH / BOLD_STRETCH, TITLE_SIZE)
    top = foot - 5.0 - LEADING * TITLE_SIZE * (len(lines) - 1)
    marks: list[Mark] = [
        Text(line, (left, top + LEADING * TITLE_SIZE * k), TITLE_SIZE, emphasis="strong")
        for k, line in enumerate(lines)
    ]
    return [*marks, Text(told, (left, foot), size)]
