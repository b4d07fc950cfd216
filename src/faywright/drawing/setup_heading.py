"""What stands over the drawing of a setup: which one, from where, how the work lies."""

from __future__ import annotations

from collections.abc import Sequence

from faywright.drawing.apart import paragraph
from faywright.drawing.model import Mark, Text

SIZE, HEAD_SIZE = 2.8, 3.4

LINE = 3.9
"""From one line of lettering to the next. [mm]"""

WIDTH = 110.0
"""Notes wider than this take another line. [mm]"""


def setup_heading(head: str, notes: Sequence[str], left: float, top: float) -> list[Mark]:
    """``head`` in bold and the notes under it, the last line just above ``top``."""
    lines = [text for note in notes if note for text in paragraph(note, WIDTH, SIZE)]
    y = top - 4.6 - LINE * len(lines)
    marks: list[Mark] = [Text(head, (left, y), HEAD_SIZE, emphasis="strong")]
    for text in lines:
        y += LINE
        marks.append(Text(text, (left, y), SIZE))
    return marks


def ratio(scale: float) -> str:
    """A scale as it is written on a drawing.

    Examples
    --------
    >>> ratio(2.0), ratio(0.5)
    ('2:1', '1:2')
    """
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"
