"""A pile of boards sorted by thickness, the groups in it, and what is to be said about it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby
from typing import Literal, NamedTuple

from faywright.drawing.model import check_text
from faywright.errors import InputError, RangeError

Side = Literal["", "groove", "tongue"]

SAME = 0.0025
"""A board this little outside its bar is on the edge of it. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class StripBoard:
    """One board: its thickness as reckoned with, the readings' least and greatest. [mm]

    ``over`` is by how much it is too thick for its setting (below 0: too thin), 0 where it fits.
    """

    name: str
    thickness: float
    low: float
    high: float
    over: float = 0.0

    def __post_init__(self) -> None:
        """Thickness lies among finite readings above 0."""
        check_text(self.name, where="name of a board")
        if not 0 < self.low <= self.thickness <= self.high < float("inf"):
            raise RangeError(
                f"{self.thickness:g} mm is not between its readings, "
                f"{self.low:g} to {self.high:g} mm",
                where=f"board {self.name}",
                remedy="Give the least and greatest reading its thickness was taken from",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class StripGroup:
    """Boards (by number) that share settings; ``band`` is what these serve, None for all. [mm]"""

    members: tuple[int, ...]
    setting: str = ""
    band: tuple[float, float] | None = None
    side: Side = ""

    def __post_init__(self) -> None:
        """A group has boards, and its band two ends in order."""
        if not self.members or (self.band is not None and not self.band[0] < self.band[1]):
            raise InputError(
                f"{len(self.members)} boards, served {self.band}",
                where="group of boards",
                remedy="Give at least one board, and the lower end of the band first",
            )

    def serves(self, thickness: float) -> bool:
        """Whether a thickness is within the band."""
        return self.band is None or self.band[0] - SAME <= thickness <= self.band[1] + SAME


class Run(NamedTuple):
    """Rows next to each other, ``first`` to ``last``, that belong to one group."""

    group: StripGroup
    label: str
    first: int
    last: int


@dataclass(frozen=True)
class Pile:
    """Boards and groups; rows count boards from the thinnest."""

    boards: tuple[StripBoard, ...]
    groups: tuple[StripGroup, ...]
    write: Callable[[float], str]

    @cached_property
    def order(self) -> tuple[int, ...]:
        """Numbers of boards from thin to thick."""
        return tuple(sorted(range(len(self.boards)), key=lambda k: (self.boards[k].thickness, k)))

    @cached_property
    def sides(self) -> tuple[Side, ...]:
        """The sides that have groups, in the order they are given."""
        return tuple(dict.fromkeys(group.side for group in self.groups))

    @cached_property
    def banded(self) -> tuple[Side, ...]:
        """The sides where a setting serves some thicknesses only."""
        return tuple(dict.fromkeys(group.side for group in self.groups if group.band is not None))

    @cached_property
    def labels(self) -> tuple[str, ...]:
        """Letter and setting of each group: A is the thinnest of its side."""
        letters: dict[int, str] = {}
        for side in self.sides:
            own = [k for k, group in enumerate(self.groups) if group.side == side]
            own.sort(key=lambda k: min(self.boards[b].thickness for b in self.groups[k].members))
            letters |= {k: _letter(place) for place, k in enumerate(own)}
        return tuple(
            ", ".join(filter(None, (letters[k], group.setting)))
            for k, group in enumerate(self.groups)
        )

    def labels_of(self, side: Side) -> list[str]:
        """Labels of the groups of one side."""
        pairs = zip(self.groups, self.labels, strict=True)
        return [label for group, label in pairs if group.side == side]

    def runs(self, side: Side) -> list[Run]:
        """Stretches of rows that belong to one group of ``side``."""
        of = {
            board: k
            for k, group in enumerate(self.groups)
            if group.side == side
            for board in group.members
        }
        runs, row = [], 0
        for k, rows in groupby(self.order, key=of.get):
            last = row + len(list(rows)) - 1
            if k is not None:
                runs.append(Run(self.groups[k], self.labels[k], row, last))
            row = last + 1
        return runs

    def outside(self, number: int) -> str:
        """In words, how a board stands out from what its settings serve; blank if it does not."""
        board = self.boards[number]
        if board.over:
            size = self.write(abs(board.over))
            if size == self.write(0.0):
                return "at the very end of what the setting serves"
            return f"{size} too {'thick' if board.over > 0 else 'thin'} for the setting"
        own = (group for group in self.groups if number in group.members)
        if all(group.serves(board.thickness) for group in own):
            return ""
        return "outside the open bar; the board it meets makes up for it"

    @cached_property
    def told(self) -> tuple[str, ...]:
        """Every board outside, those with the same to say together."""
        out: dict[str, list[str]] = {}
        for number in self.order:
            what = self.outside(number)
            if what:
                out.setdefault(what, []).append(self.boards[number].name)
        return tuple(f"{', '.join(names)}: {what}." for what, names in out.items())

    @property
    def described(self) -> str:
        """The pile in words, for those who cannot see the chart."""
        least, most = self.boards[self.order[0]], self.boards[self.order[-1]]
        parts = [
            self._result,
            f"{self.counted} by thickness, from {least.name} at {self.write(least.thickness)} to "
            f"{most.name} at {self.write(most.thickness)}.",
        ]
        for group, label in zip(self.groups, self.labels, strict=True):
            names = ", ".join(self.boards[b].name for b in group.members)
            side = f"{group.side}s " if group.side else ""
            parts.append(f"Group {side}{label}: {names}.")
        return " ".join(parts)

    @property
    def _result(self) -> str:
        """What the chart comes to, in a sentence."""
        count = len(self.boards)
        out = sum(bool(self.outside(number)) for number in self.order)
        if not out and not self.banded:
            return "Thickness does not decide the fit."
        if count == 1:
            return f"The board lies {'outside' if out else 'within'} what its setting serves."
        which = f"{count - out} of" if out else "All"
        return f"{which} {self.counted} lie within what their settings serve."

    @property
    def counted(self) -> str:
        """How many boards there are."""
        return "1 board" if len(self.boards) == 1 else f"{len(self.boards)} boards"


def _letter(place: int) -> str:
    """A to Z, then AA, AB and so on.

    Examples
    --------
    >>> _letter(0), _letter(25), _letter(26)
    ('A', 'Z', 'AA')
    """
    letters = ""
    place += 1
    while place:
        place, last = divmod(place - 1, 26)
        letters = chr(65 + last) + letters
    return letters
