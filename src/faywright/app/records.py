"""What the shop remembers, as plain values: trials, feels, sharpenings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Generic, TypeVar

from faywright.app.values import (
    LENGTH,
    NOTE,
    check_many,
    check_number,
    check_once,
    check_text,
    in_utc,
)
from faywright.errors import InputError

Rows = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """How much of an unknown a reading shows: 1 all of it, -0.5 half of it the other way."""

    kind: str
    owner: str
    factor: float

    def __post_init__(self) -> None:
        """The unknown has a name, and the factor is a number."""
        check_text(self.kind, "share: kind")
        check_text(self.owner, "share: owner", empty=True)
        check_number(self.factor, "share: factor", low=-1000, high=1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasurementRecord:
    """What was measured on a trial piece, and all that is needed to learn from it again. [mm]

    ``read`` is what the ``readings`` were taken to say, and ``uncertainty`` its own standard
    uncertainty; ``row`` tells the unknowns that shift it away from what was ``expected``, and
    ``shared`` the noise it has in common with other measurements of the trial: name and signed
    standard deviation.
    """

    what: str
    readings: tuple[float, ...]
    read: float
    expected: float
    uncertainty: float
    row: tuple[Share, ...] = ()
    shared: tuple[tuple[str, float], ...] = ()

    def __post_init__(self) -> None:
        """There is a reading, and no unknown has two shares."""
        where = "measurement"
        check_text(self.what, f"{where}: what")
        where = f"measurement {self.what!r}"
        check_many(self.readings, f"{where}: readings", least=1)
        for reading in self.readings:
            check_number(reading, f"{where}: readings", low=-LENGTH, high=LENGTH)
        check_number(self.read, f"{where}: read", low=-LENGTH, high=LENGTH)
        check_number(self.expected, f"{where}: expected", low=-LENGTH, high=LENGTH)
        check_number(self.uncertainty, f"{where}: uncertainty", low=0, high=LENGTH)
        check_many(self.row, f"{where}: row")
        check_once(((each.kind, each.owner) for each in self.row), f"{where}: row")
        check_many(self.shared, f"{where}: shared")
        for name, sd in self.shared:
            check_text(name, f"{where}: shared")
            check_number(sd, f"{where}: shared {name}", low=-LENGTH, high=LENGTH)
        check_once((name for name, _ in self.shared), f"{where}: shared")


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """What is known of an unknown after a trial: mean and standard deviation. [mm]

    ``datum`` is what it was counted from: the size of the cutter in the shop file, say.
    """

    kind: str
    owner: str
    mean: float
    sd: float
    datum: float = 0.0

    def __post_init__(self) -> None:
        """The unknown has a name, and both are lengths."""
        check_text(self.kind, "learned: kind")
        check_text(self.owner, "learned: owner", empty=True)
        check_number(self.mean, f"learned {self.kind}: mean", low=-LENGTH, high=LENGTH)
        check_number(self.sd, f"learned {self.kind}: sd", low=0, high=LENGTH)
        check_number(self.datum, f"learned {self.kind}: datum", low=-LENGTH, high=LENGTH)


@dataclass(frozen=True, slots=True, kw_only=True)
class Learning:
    """All that is known after a trial, and how it hangs together.

    ``covariance`` has a row and a column for each of ``values``, in their order. [mm^2]
    """

    values: tuple[Learned, ...] = ()
    covariance: Rows = ()

    def __post_init__(self) -> None:
        """The covariance is that of the values: square, symmetric, variances on its diagonal."""
        check_many(self.values, "learning")
        check_once(((each.kind, each.owner) for each in self.values), "learning")
        if {len(row) for row in (self.covariance, *self.covariance)} != {len(self.values)}:
            raise InputError(
                f"the covariance of {len(self.values)} values has other rows or columns",
                where="learning",
                remedy="Give a row and a column for each value",
            )
        for row, value in enumerate(self.values):
            for column, other in enumerate(self.values):
                self._check(row, column, value.sd * other.sd)

    def _check(self, row: int, column: int, most: float) -> None:
        value, mirrored = self.covariance[row][column], self.covariance[column][row]
        where = f"learning: covariance[{row + 1}][{column + 1}]"
        check_number(value, where, low=-(LENGTH**2) * 1.001, high=LENGTH**2 * 1.001)
        near = 1e-6 * most + 1e-12
        fits = abs(value - most) <= near if row == column else abs(value) <= most + near
        if not (fits and math.isclose(value, mirrored, rel_tol=1e-6, abs_tol=1e-12)):
            remedy = "Give the covariance that belongs to the standard deviations"
            raise InputError(f"{value:g} does not fit the others", where=where, remedy=remedy)


Taught = tuple[Learned, tuple[float, ...]]
"""What was learned of an unknown, and its row of the covariance."""


def learning_of(taught: Sequence[Taught]) -> Learning:
    """What a trial taught, from what it taught of each unknown."""
    return Learning(
        values=tuple(value for value, _ in taught),
        covariance=tuple(covariance for _, covariance in taught),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRecord:
    """One trial cut: what it was for, how it was made, what was read and learned.

    ``setup`` is the setup's identity in its plan and ``group`` that of the boards it is for;
    ``machine``, ``cutter`` and ``gauge`` are marks in the shop file, empty where none is known;
    ``metres`` is how far the cutter had cut.
    """

    shop: str
    piece: str
    joint: str
    at: datetime
    side: str = ""
    setup: str = ""
    group: str = ""
    machine: str = ""
    cutter: str = ""
    gauge: str = ""
    metres: float = 0.0
    note: str = ""
    measurements: tuple[MeasurementRecord, ...] = ()
    learning: Learning = Learning()

    def __post_init__(self) -> None:
        """Shop, piece and joint are named; the moment becomes one in UTC."""
        for name in ("shop", "piece", "joint"):
            check_text(getattr(self, name), f"trial: {name}")
        for name in ("side", "setup", "group", "machine", "cutter", "gauge"):
            check_text(getattr(self, name), f"trial: {name}", empty=True)
        check_text(self.note, "trial: note", empty=True, most=NOTE)
        check_number(self.metres, "trial: metres", low=0, high=1e6)
        check_many(self.measurements, "trial: measurements")
        object.__setattr__(self, "at", in_utc(self.at, "trial: at"))


@dataclass(frozen=True, slots=True, kw_only=True)
class FeelRecord:
    """How a joint felt in the hand, and the clearance it is thought to have had. [mm]

    It belongs to a ``trial``, by number, or to a ``joint``, or both.
    """

    shop: str
    timber: str
    word: str
    mean: float
    sd: float
    at: datetime
    trial: int | None = None
    joint: str = ""

    def __post_init__(self) -> None:
        """It belongs to something; the moment becomes one in UTC."""
        for name in ("shop", "timber", "word"):
            check_text(getattr(self, name), f"feel: {name}")
        check_text(self.joint, "feel: joint", empty=self.trial is not None)
        if self.trial is not None:
            check_number(self.trial, "feel: trial", low=1, high=2**63 - 1)
        check_number(self.mean, "feel: mean", low=-LENGTH, high=LENGTH)
        check_number(self.sd, "feel: sd", low=0, high=LENGTH)
        object.__setattr__(self, "at", in_utc(self.at, "feel: at"))


@dataclass(frozen=True, slots=True, kw_only=True)
class SharpenedRecord:
    """A cutter came back from sharpening: what was learned of its size no longer holds.

    ``size`` is what it cuts since as measured, ``sd`` the standard uncertainty of that, and
    ``listed`` the size in the shop file then; all are None if it was not yet measured. [mm]
    """

    shop: str
    cutter: str
    at: datetime
    size: float | None = None
    sd: float | None = None
    listed: float | None = None
    note: str = ""

    def __post_init__(self) -> None:
        """The cutter is named, and measured in full or not; the moment becomes one in UTC."""
        check_text(self.shop, "sharpened: shop")
        check_text(self.cutter, "sharpened: cutter")
        check_text(self.note, "sharpened: note", empty=True, most=NOTE)
        measured = {"size": self.size, "sd": self.sd, "listed": self.listed}
        given = [name for name, value in measured.items() if value is not None]
        if given and len(given) < len(measured):
            remedy = "Give size, sd and listed, or none of them"
            what = f"only {' and '.join(given)} of the measured size is given"
            raise InputError(what, where=f"sharpened {self.cutter!r}", remedy=remedy)
        for name in given:
            check_number(measured[name], f"sharpened: {name}", low=0, high=LENGTH)
        object.__setattr__(self, "at", in_utc(self.at, "sharpened: at"))


T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Kept(Generic[T]):
    """Something in the store, by its number."""

    id: int
    record: T


@dataclass(frozen=True, slots=True)
class KeptTrial:
    """A trial in the store; ``forgotten`` since a moment, and then nothing is learned from it."""

    id: int
    record: TrialRecord
    forgotten: datetime | None = None

    def __post_init__(self) -> None:
        """The moment becomes one in UTC."""
        if self.forgotten is not None:
            moment = in_utc(self.forgotten, f"trial {self.id}: forgotten")
            object.__setattr__(self, "forgotten", moment)


@dataclass(frozen=True, slots=True)
class Contents:
    """All that a store holds, in the order of the numbers."""

    trials: tuple[KeptTrial, ...] = ()
    feels: tuple[Kept[FeelRecord], ...] = ()
    sharpenings: tuple[Kept[SharpenedRecord], ...] = ()
