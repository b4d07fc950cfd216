"""A thing to look at again, in plain words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

Written = Callable[[float], str]
"""Writes millimetres in the shop's style."""


@dataclass(frozen=True)
class Suspect:
    """One thing to look at again: where it is, what is odd about it, what to ask or do."""

    where: str
    what: str
    ask: str

    def __str__(self) -> str:
        """One line."""
        return f"{self.where}: {self.what}. {self.ask}."
