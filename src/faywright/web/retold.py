"""Errors said again as a page would: in the maker's unit, and without the grammar of files.

Inside, every length is in millimetres; and most errors are told to who writes a file by hand.
"""

from __future__ import annotations

import re

from faywright.lengths import LengthStyle
from faywright.piece.words import writer

_NUMBER = r"-?\d+(?:,\d{3})*(?:\.\d+)?"
_LENGTH = re.compile(
    rf"(?<![\w.,'\"-])(?:(?P<first>{_NUMBER}) (?P<word>and|to) )?"
    rf"(?P<last>{_NUMBER}) mm\b(?![/2\"'])"
)
"""One length, or two of which only the second has its unit; what was typed stands in quotes."""

_BARE = re.compile(
    rf"(?P<lead>the (?:groove|cheek|tongue) is |groove's |above the table, the work )"
    rf"(?P<last>{_NUMBER})(?! mm)(?![\d.])"
)
"""The second of two that are compared, which goes without its unit."""

_OF_FILES = tuple(
    (re.compile(pattern), words)
    for pattern, words in (
        (r", without quotes or (point|unit)", r", without a \1"),
        (r",? without quotes", ""),
        (r" in (?:the )?quotes\b", ""),
        (r' or units = "\w+"', ""),
        (r" under \[\[board\]\]", " on the page of its boards"),
        (r"\[\[climate\.season\]\] tables", "seasons of your own"),
        (r"leave out \[climate\]", "remove the climate"),
        (r'Write species = "\.\.\." for the part', "Give the part a species"),
        (r"Write groove = \{[^}]*\}", "Choose part and edge of the groove"),
        (r'Write laid = "glued" or leave laid out', "Choose glued for how it is laid, or nothing"),
        (r'fit = "glued"', "the fit glued"),
        (r'room = "([^"]*)"', r"\1"),
    )
)
_KEY = re.compile(r"(?<![\w'\"])[a-z]+(?:_[a-z]+)+(?![\w'\"])")


def plainly(words: str) -> str:
    """The same words without what only a file has: quotes, brackets and names with underscores.

    Examples
    --------
    >>> plainly("'two' is text. Write a whole number, without quotes or point.")
    "'two' is text. Write a whole number, without a point."
    >>> plainly("groove_depth 228.6 mm is too much")
    'groove depth 228.6 mm is too much'
    """
    for pattern, instead in _OF_FILES:
        words = pattern.sub(instead, words)
    return _KEY.sub(lambda found: found[0].replace("_", " "), words)


def retold(words: str, style: LengthStyle) -> str:
    """The same words with lengths in the style; those in millimetres are left as they are.

    Examples
    --------
    >>> retold("a reach of 254 mm is not between 0 and 200 mm", LengthStyle("decimal inch"))
    'a reach of 10.000 in is not between 0.000 in and 7.874 in'
    >>> retold("it cuts 12.66 mm, wider than the groove's 6.53", LengthStyle("decimal inch"))
    "it cuts 0.498 in, wider than the groove's 0.257 in"
    """
    if style.style == "mm" or " mm" not in words:
        return words
    write = writer(style)

    def written(number: str) -> str:
        return write(float(number.replace(",", "")))

    def lengths(found: re.Match[str]) -> str:
        last = written(found["last"])
        return (
            last if found["first"] is None else f"{written(found['first'])} {found['word']} {last}"
        )

    def bare(found: re.Match[str]) -> str:
        return f"{found['lead']}{written(found['last'])}"

    return _LENGTH.sub(lengths, _BARE.sub(bare, words))
