"""Everything Faywright raises on purpose.

PlanError                    what is wrong, where, and what to do about it
├── InputError (ValueError)  a value that cannot be used
│   ├── RangeError           a number outside what can be computed
│   ├── LengthError          a length that cannot be read
│   └── MissingError         there is no such thing (any more)
├── DocumentError            faults in a shop file, piece file or board list
├── InfeasibleError          no safe way to make this with what is on hand
└── DisagreementError        formula and simulated cut differ: never print the number
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


class PlanError(Exception):
    """Base of the package's errors: what is wrong, where, and what to do about it."""

    def __init__(self, what: str, *, where: str, remedy: str) -> None:
        """Keep the three parts apart, so that a page can place them beside the field."""
        super().__init__(f"{where}: {what}. {remedy}.")
        self.what = what
        self.where = where
        self.remedy = remedy


class InputError(PlanError, ValueError):
    """A value that cannot be used."""


class RangeError(InputError):
    """A number outside the range that can be computed."""


class LengthError(InputError):
    """A length that cannot be read; ``position`` counts characters from 0."""

    def __init__(self, what: str, *, text: str, position: int, remedy: str) -> None:
        """Name the text that was read and the position of the fault in it."""
        super().__init__(what, where=f"length {text!r}, character {position + 1}", remedy=remedy)
        self.text = text
        self.position = position


class MissingError(InputError):
    """There is no such piece, joint, board or the like, or not any more."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault in a document: where it stands, what was read, what would be accepted.

    ``path`` is that of the field in the document, as ``("board", 3, "thickness")``; empty where
    no field can be named.
    """

    file: str
    line: int | None
    field: str
    what: str
    remedy: str
    path: tuple[str | int, ...] = ()

    def __str__(self) -> str:
        """One line, as an editor or a terminal would show it."""
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        return f"{place}: {self.field}: {self.what}. {self.remedy}."


class DocumentError(PlanError):
    """One or more faults in a document; all that could be found are listed."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        """``faults`` holds at least one fault, in the order of the document."""
        first = faults[0]
        super().__init__(first.what, where=f"{first.file}: {first.field}", remedy=first.remedy)
        self.faults = tuple(faults)

    def __str__(self) -> str:
        """Every fault, one a line."""
        return "\n".join(str(fault) for fault in self.faults)


class InfeasibleError(PlanError):
    """No plan exists: names the constraint that binds and the nearest change that frees it."""


class DisagreementError(PlanError):
    """The closed form and the simulated section differ: an error of ours, never a setting."""
