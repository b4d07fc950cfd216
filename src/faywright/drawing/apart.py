"""Lettering kept apart: places moved no more than they must, lines broken where they are full."""

from __future__ import annotations

import math
from collections.abc import Sequence

from faywright.drawing.lettering import text_width

CUT = "..."
"""What stands for the middle of a name that is too long for its place."""


def spread_apart(
    wanted: Sequence[float], gap: float, within: tuple[float, float] = (-math.inf, math.inf)
) -> tuple[float, ...]:
    """Places in the order of ``wanted``, at least ``gap`` apart and as near to it as can be.

    Places that would come too close are moved together, so that their middle stays put; all
    stay ``within`` two ends that leave room for them.

    Examples
    --------
    >>> spread_apart([0.0, 1.0, 10.0], 3.0)
    (-1.0, 2.0, 10.0)
    """
    order = sorted(range(len(wanted)), key=lambda k: wanted[k])
    runs: list[tuple[float, int]] = []  # middle of each run of places that touch, and how many
    for k in order:
        middle, count = wanted[k], 1
        while runs and middle - runs[-1][0] < gap * (count + runs[-1][1]) / 2:
            before, many = runs.pop()
            middle = (middle * count + before * many) / (count + many)
            count += many
        runs.append((middle, count))
    spread = [m + gap * (i - (n - 1) / 2) for m, n in runs for i in range(n)]
    count = len(spread)
    spread = [max(place, within[0] + gap * i) for i, place in enumerate(spread)]
    spread = [min(place, within[1] - gap * (count - 1 - i)) for i, place in enumerate(spread)]
    places = [0.0] * len(wanted)
    for place, k in zip(spread, order, strict=True):
        places[k] = place
    return tuple(places)


def shortened(text: str, width: float, size: float) -> str:
    """``text``, its middle left out as far as it is wider than ``width``. [mm]

    Examples
    --------
    >>> shortened("long board from the loft 7", 24.0, 2.6)
    'long boa... loft 7'
    """
    if text_width(text, size) <= width:
        return text
    kept = len(text) - 1
    while kept > 2 and text_width(_ends(text, kept), size) > width:
        kept -= 1
    return _ends(text, kept)


def _ends(text: str, kept: int) -> str:
    return text[: (kept + 1) // 2] + CUT + text[len(text) - kept // 2 :]


def paragraph(text: str, width: float, size: float) -> tuple[str, ...]:
    """``text`` in lines of at most ``width``; a word too long for a line is broken. [mm]

    Examples
    --------
    >>> paragraph("B05 is 0.02 mm too thin.", 20.0, 2.6)
    ('B05 is 0.02', 'mm too thin.')
    """
    lines: list[str] = []
    for word in text.split():
        rest = word
        if lines and text_width(f"{lines[-1]} {word}", size) <= width:
            lines[-1] += f" {word}"
            continue
        while text_width(rest, size) > width and len(rest) > 1:
            fits = max(1, _fitting(rest, width, size))
            lines.append(rest[:fits])
            rest = rest[fits:]
        lines.append(rest)
    return tuple(lines)


def _fitting(word: str, width: float, size: float) -> int:
    """How many of the first characters of ``word`` fit in ``width``."""
    return sum(text_width(word[:k], size) <= width for k in range(1, len(word) + 1))
