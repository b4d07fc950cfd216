"""Passphrases for the shop's network: made from words of the trade, easy to say across a bench."""

from __future__ import annotations

import secrets
import unicodedata
from functools import cache
from importlib.resources import files

FILE = "web/data/words.txt"
WORDS = 5
"""Of 256: eight bits a word, 40 in all. Tries are limited (``attempts``) to a million in a year,
so that guessing it takes half a million years."""


@cache
def words() -> tuple[str, ...]:
    """The packaged words, one a line, no two alike in their first four letters."""
    return tuple(files("faywright").joinpath(FILE).read_text(encoding="utf-8").split())


def made_passphrase() -> str:
    """Five words, each drawn from all of them by the computer's source of secrets."""
    return " ".join(secrets.choice(words()) for _ in range(WORDS))


def tidied(typed: str) -> str:
    """A passphrase as it is compared: phones write capitals and spaces of their own accord.

    >>> tidied("  Tenon walnut  KERF ")
    'tenon walnut kerf'
    """
    return " ".join(unicodedata.normalize("NFKC", typed).casefold().split())
