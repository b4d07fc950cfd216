"""How much room a line of lettering takes: a plain width model, so that layouts can be tested.

Widths are those of DejaVu Sans, gathered into classes of like characters and rounded up. It is
a wide face: lettering set in any other face of the stack the backends ask for takes less room.
"""

from __future__ import annotations

from functools import lru_cache

ASCENT = 0.76
"""Height of capitals, ascenders and figures above the baseline. [em]"""

DESCENT = 0.24
"""Depth below the baseline. [em]"""

CAPITAL = 0.73
"""Height of figures and plain capitals above the baseline. [em]"""

BOLD_STRETCH = 1.16
"""How much wider the bold face is than the plain one."""

_WIDTHS: dict[str, float] = {
    **dict.fromkeys("ijlI' ,.|", 0.34),
    **dict.fromkeys(':;!ft()[]-/\\r"', 0.46),
    **dict.fromkeys("csz?*", 0.56),
    **dict.fromkeys("abdeghknopquvxy0123456789", 0.636),
    **dict.fromkeys("ABCEFJKLPRSTVXYZ", 0.70),
    **dict.fromkeys("DGHNOQUw&+=<>~", 0.84),
}
_WIDEST = 1.0
_WIDEST_BEYOND = 1.25
_LAST_LATIN = "\u024f"


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Room one line of lettering takes along its baseline, rather too much than too little. [mm]

    ``size`` is the em in millimetres; figures are about 0.73 of it high.
    """
    return _ems(text) * size * (BOLD_STRETCH if bold else 1.0)


@lru_cache(maxsize=2048)
def _ems(text: str) -> float:
    """Kept, for a layout asks for the same words again and again."""
    return sum(_WIDTHS.get(character) or _unknown(character) for character in text)


def _unknown(character: str) -> float:
    """Room for a character of no class: other scripts have letters wider than the em."""
    return _WIDEST if character <= _LAST_LATIN else _WIDEST_BEYOND
