"""Lengths in forms: shown in the maker's style, stored as they were typed, never rounded."""

from __future__ import annotations

import re

from faywright.lengths import LengthStyle, Unit, millimetres, write_length

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_UNITS: dict[str, Unit] = {"mm": "mm", "decimal inch": "in", "fraction inch": "in"}
_SIGNS = {"mm": " mm", "in": " in"}

Written = int | float | str
"""A length as a document has it: a number in the document's unit, or text."""


def unit_of(style: LengthStyle) -> Unit:
    """The unit of a bare number that is typed while lengths are shown in ``style``."""
    return _UNITS[style.style]


def length_shown(written: Written, style: LengthStyle, units: Unit) -> str:
    """What a field shows of a length in a document whose bare numbers are ``units``.

    In the unit of the style it is shown as it was written; else converted, and rounded as lengths
    of that style are. It is stored as it was written all the same.

    >>> length_shown(9.5, LengthStyle("mm"), "mm"), length_shown("3/8 in", LengthStyle("mm"), "mm")
    ('9.5', '9.53 mm')
    """
    own = unit_of(style)
    if not isinstance(written, str):
        if units == own:
            return f"{written:.12g}"
    elif written.strip().endswith(_SIGNS[own].strip()):
        return written
    return write_length(millimetres(written, bare=units), style)


def length_typed(text: str, style: LengthStyle, units: Unit) -> Written:
    """What a document shall have for a length that was typed: its digits, and the unit meant.

    Nothing is judged: the document's own reader does that, and says what is wrong.

    >>> length_typed("0.375", LengthStyle("decimal inch"), "mm")
    '0.375 in'
    >>> length_typed("9.5", LengthStyle("mm"), "mm")
    9.5
    """
    text = text.strip()
    own = unit_of(style)
    if _NUMBER.fullmatch(text) and units == own and len(text) < 16:
        return float(text) if "." in text else int(text)
    if re.search(r"[A-Za-z\"'\u2032\u2033]", text) or not text:
        return text
    return f"{text}{_SIGNS[own]}"
