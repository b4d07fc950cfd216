"""Letters that can be printed here: which fonts there are, and what to print for other letters."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias, TypeVar

Said: TypeAlias = "str | float | bool | Sequence[Said] | Mapping[str, Said] | None"
AnySaid = TypeVar("AnySaid", bound="Said")

WORDS = ("Liberation Sans", "Arial", "Helvetica", "DejaVu Sans", "Noto Sans", "Libertinus Serif")
"""Fonts for words, best first; the compiler brings the last one along."""

COMMON = frozenset(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x100))))
"""Letters that every one of these fonts has."""

LONGEST = 24
"""Letters in a row without a space that are never broken over lines."""


def fonts_for_words() -> list[str]:
    """Those of ``WORDS`` that are on this machine."""
    import typst  # noqa: PLC0415 - the compiler is heavy, and only packets need it

    here = set(typst.Fonts().families())
    return [family for family in WORDS if family in here]


def unprintable(texts: Iterable[str], fonts: Sequence[str]) -> frozenset[str]:
    """Letters in ``texts`` that none of this machine's fonts has.

    The compiler is asked itself: under PDF/A it refuses letters that it has no shape for.
    """
    import typst  # noqa: PLC0415 - the compiler is heavy, and only packets need it

    asked = sorted(set().union(*(text for text in texts if not text.isascii())) - COMMON)
    if not asked:
        return frozenset()
    families = ", ".join(f'"{family}"' for family in fonts)
    lines = [f"#set text(font: ({families},))"]
    lines += [f'#text("\\u{{{ord(letter):x}}}") \\' for letter in asked]
    try:
        typst.compile("\n".join(lines).encode(), pdf_standards="a-2b")
    except typst.TypstError as error:
        found = re.findall(r"\.typ:(\d+):", error.diagnostic)
        if "could not be displayed" not in error.diagnostic or not found:
            raise
        return frozenset(asked[int(line) - 2] for line in found)
    return frozenset()


def spelled(text: str, missing: frozenset[str]) -> str:
    """``text`` with the Unicode numbers of ``missing`` letters in their places.

    Examples
    --------
    >>> spelled("玄関 2", frozenset("玄関"))
    '[U+7384 U+95A2] 2'
    """
    if missing.isdisjoint(text):
        return text
    row = f"[{''.join(map(re.escape, sorted(missing)))}]+"
    return re.sub(row, lambda found: f"[{' '.join(f'U+{ord(c):04X}' for c in found[0])}]", text)


def breakable(text: str) -> str:
    """``text`` with places to break words too long for a column."""
    return re.sub(rf"(\S{{{LONGEST}}})(?=\S)", "\\1\u200b", text)


def to_print(said: AnySaid, missing: frozenset[str]) -> AnySaid:
    """Everything that is said, with letters that can be printed, in words that can be broken."""
    return _each(said, missing)  # type: ignore[return-value]  # each value keeps its type


def _each(said: Said, missing: frozenset[str]) -> Said:
    match said:
        case str():
            return breakable(spelled(said, missing))
        case Mapping():
            return {key: _each(value, missing) for key, value in said.items()}
        case Sequence():
            return [_each(value, missing) for value in said]
        case _:
            return said


def texts_in(said: Said) -> Iterable[str]:
    """All texts in what is said."""
    match said:
        case str():
            yield said
        case Mapping():
            for value in said.values():
                yield from texts_in(value)
        case Sequence():
            for value in said:
                yield from texts_in(value)
