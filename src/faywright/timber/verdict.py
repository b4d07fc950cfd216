"""Whether a part holds: each way it may fail, with its sum and what is allowed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from faywright.errors import RangeError
from faywright.timber.allowable import GUIDE, Allowable

Write = Callable[[float], str]
"""Writes a length in the maker's style."""

Likely = Literal["likely", "check it", "no"]

COMFORTABLE = 0.75
"""Share of the allowable up to which a part is called likely to hold. Ours, no source."""

SAG_SHARE = 200.0
"""A shelf may sag its span over this in time. Common practice, no source: 200 to 300."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """One line of arithmetic in newtons and millimetres, and the lengths that went into it."""

    lengths: tuple[tuple[str, float], ...]
    sum: str
    result: float
    unit: Literal["MPa", "mm", "N"]

    def line(self, write: Write) -> str:
        """The lengths as the maker writes them, then the sum with the numbers put in."""
        lengths = ", ".join(f"{name} {write(length)}" for name, length in self.lengths)
        written = f"{self.result:.3g} {self.unit}"
        if self.unit == "mm" and write(self.result) != written:
            written += f" ({write(self.result)})"
        return f"{lengths}; in N and mm: {self.sum} = {written}"


@dataclass(frozen=True, slots=True)
class SagLimit:
    """The most a part of this ``span`` may sag in time: the span over ``share``. [mm]"""

    span: float
    share: float = SAG_SHARE

    @property
    def most(self) -> float:
        """The limit. [mm]"""
        return self.span / self.share

    def words(self) -> str:
        """The limit and where it comes from."""
        return f"a {self.share:g}th of the span: common practice, no source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One way to fail: the stress [MPa] or sag [mm] that ``working`` finds, and its limit."""

    failure: str
    working: Working
    limit: Allowable | SagLimit

    @property
    def found(self) -> float:
        """The stress, or the sag. [MPa or mm]"""
        return self.working.result

    @property
    def most(self) -> float:
        """The most it may be. [MPa or mm]"""
        return self.limit.value_mpa if isinstance(self.limit, Allowable) else self.limit.most

    @property
    def utilisation(self) -> float:
        """Share of the limit that is used."""
        return self.found / self.most

    def words(self, write: Write) -> str:
        """The sum and the limit, in one line."""
        most = write(self.most) if self.working.unit == "mm" else f"{self.most:.3g} MPa"
        used = used_share(self.utilisation)
        return f"{self.failure}: {self.working.line(write)}, {used} of {most} allowed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """A part under a load: every way it may fail, and the load case it was worked out for."""

    member: str
    load_case: str
    checks: tuple[Check, ...]
    load: Working | None = None
    caution: str = GUIDE

    @property
    def deciding(self) -> Check:
        """The way it fails first."""
        return max(self.checks, key=lambda check: check.utilisation)

    @property
    def utilisation(self) -> float:
        """Share of the allowable that the deciding failure uses."""
        return self.deciding.utilisation

    @property
    def likely(self) -> Likely:
        """Whether it is likely to hold."""
        if self.utilisation > 1:
            return "no"
        return "likely" if self.utilisation <= COMFORTABLE else "check it"

    def words(self, write: Write) -> tuple[str, ...]:
        """The verdict, its load, each failure with its sum, what is allowed, and the caution."""
        first = self.deciding
        head = {
            "likely": "likely to hold",
            "check it": "close: check it with a trial piece",
            "no": "more than is allowed",
        }[self.likely]
        used = used_share(first.utilisation)
        lines = [f"{self.member}: {head}; {first.failure} decides, at {used} of what is allowed"]
        lines.append(self.load_case)
        if self.load is not None:
            lines.append(f"load: {self.load.line(write)}")
        lines += [check.words(write) for check in self.checks]
        lines.append(f"allowed for {first.failure}: {first.limit.words()}")
        return (*lines, self.caution)


def used_share(utilisation: float) -> str:
    """A share of the allowable in percent.

    Examples
    --------
    >>> used_share(0.333), used_share(0.004), used_share(1.702)
    ('33 %', 'under 1 %', '170 %')
    """
    return "under 1 %" if utilisation < 0.01 else f"{100 * utilisation:.0f} %"


def above_nought(where: str, **sizes: float) -> None:
    """Refuse sizes that are not above 0 and finite.

    Raises
    ------
    RangeError
        Names the size and what it was.
    """
    for name, size in sizes.items():
        if not 0 < size < math.inf:
            raise RangeError(
                f"{name.replace('_', ' ')} is {size:g}",
                where=where,
                remedy="Give a finite figure above 0",
            )


def not_negative(where: str, **loads: float) -> None:
    """Refuse loads that are negative or not finite.

    Raises
    ------
    RangeError
        Names the load and what it was.
    """
    for name, load in loads.items():
        if not 0 <= load < math.inf:
            raise RangeError(
                f"{name.replace('_', ' ')} is {load:g}",
                where=where,
                remedy="Give a finite load of 0 or more; it is taken to act the worse way",
            )
