"""Documents as plain values: how one stands, what it was, and how it came to be so."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from faywright.app.values import NOTE, check_text, in_utc
from faywright.errors import InputError

Kind = Literal["shop", "piece"]

TEXT = 2_000_000
"""Greatest length of a document. [characters]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A revision that is to be kept; ``what`` says in a sentence what was changed."""

    title: str
    text: str
    what: str
    author: str
    at: datetime

    def __post_init__(self) -> None:
        """All of it can be stored; the moment becomes one in UTC."""
        check_text(self.title, "document: title")
        check_text(self.text, "document: text", most=TEXT)
        check_text(self.what, "document: what was changed", most=NOTE)
        check_text(self.author, "document: author", empty=True)
        object.__setattr__(self, "at", in_utc(self.at, "document: at"))


@dataclass(frozen=True, slots=True)
class Revision:
    """A document as it was; ``number`` counts from 1 within it, ``what`` is a sentence."""

    number: int
    at: datetime
    author: str
    what: str
    text: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A document as it stands; ``shop`` is the number of a piece's shop document."""

    id: int
    kind: Kind
    title: str
    shop: int | None
    revision: Revision
    can_undo: bool
    can_redo: bool
    discarded: datetime | None


@dataclass(frozen=True, slots=True)
class Listed:
    """A document in a list: when and by whom it was last changed, and its ``revisions``."""

    id: int
    title: str
    shop: int | None
    at: datetime
    author: str
    revisions: int


@dataclass(frozen=True, slots=True)
class Step:
    """A revision in a history, without its text; ``parent`` is the one it was made from."""

    number: int
    at: datetime
    author: str
    what: str
    parent: int | None
    is_head: bool


class Overtaken(InputError):  # noqa: N818 - what happened, in a word
    """The document was changed meanwhile; ``sheet`` is how it stands."""

    def __init__(self, sheet: Sheet, base: int) -> None:
        """``base`` is the revision that the change was made from."""
        who = f" by {sheet.revision.author}" if sheet.revision.author else ""
        super().__init__(
            f"it stands at revision {sheet.revision.number}{who}, and not at {base} any more",
            where=sheet.title,
            remedy="Look at it as it is now, and make the change again",
        )
        self.sheet = sheet
