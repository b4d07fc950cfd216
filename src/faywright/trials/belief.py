"""What is believed of a shop's hidden errors: a joint normal distribution."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NoReturn, get_args

import numpy as np
from numpy.typing import NDArray

from faywright.errors import InputError

Floats = NDArray[np.float64]
UnknownKind = Literal["height zero", "fence zero", "cutter", "lift", "setting"]

ROUNDING = 1e-9
"""How far a correlation matrix may be from symmetric and positive, as rounding leaves it."""


@dataclass(frozen=True, slots=True, order=True)
class Unknown:
    """Something that is off: what is true less what is believed. [mm]

    ``"height zero"`` and ``"fence zero"`` are of a gauge: how much further the cutter stands
    out than the gauge says, whatever is set. ``"cutter"`` is of a cutter: what it really cuts,
    less the size listed. ``"lift"`` is of a machine: how far work rides off the table or strays
    from the fence on average, which the closed forms take for nought. ``"setting"`` is what one
    setting is off by itself, on top of the gauge's zero.
    """

    kind: UnknownKind
    owner: str

    def __post_init__(self) -> None:
        """Of a kind there is, and of something."""
        if self.kind not in get_args(UnknownKind) or not self.owner:
            raise InputError(
                f"there is no unknown {self.kind!r} of {self.owner!r}",
                where="unknown",
                remedy=f"Name whose it is, and one of: {', '.join(get_args(UnknownKind))}",
            )

    def __str__(self) -> str:
        """As a maker would say it."""
        return f"{self.kind} of {self.owner}"


@dataclass(frozen=True, eq=False)
class Belief:
    """Where ``n`` unknowns probably are: ``mean`` (n,) and ``covariance`` (n, n). [mm, mm2]

    The arrays are kept as copies that cannot be written to.

    Examples
    --------
    >>> zero, own = Unknown("height zero", "dial"), Unknown("setting", "tongue, group 1")
    >>> belief = Belief.independent({zero: (0.0, 0.03), own: (0.0, 0.04)})
    >>> mean, deviation = belief.predicted({zero: -2.0, own: -2.0})
    >>> round(deviation, 6)
    0.1
    """

    unknowns: tuple[Unknown, ...]
    mean: Floats
    covariance: Floats

    def __post_init__(self) -> None:
        """Each unknown once; finite, symmetric and positive semi-definite within rounding."""
        count = len(self.unknowns)
        mean = np.array(self.mean, dtype=np.float64)
        covariance = np.array(self.covariance, dtype=np.float64)
        if len(set(self.unknowns)) < count:
            twice = next(u for u in self.unknowns if self.unknowns.count(u) > 1)
            _refuse(f"the {twice} is in it twice", "Name each unknown once")
        if mean.shape != (count,) or covariance.shape != (count, count):
            _refuse(
                f"a mean of shape {mean.shape} and a covariance of shape {covariance.shape} do "
                f"not go with {count} unknowns",
                f"Give shapes {(count,)} and {(count, count)}",
            )
        if not (np.isfinite(mean).all() and np.isfinite(covariance).all()):
            _refuse("a mean or a covariance is not a number", "Give finite numbers")
        _check_positive(covariance)
        covariance = (covariance + covariance.T) / 2
        for name, array in (("mean", mean), ("covariance", covariance)):
            array.flags.writeable = False
            object.__setattr__(self, name, array)

    @staticmethod
    def independent(known: Mapping[Unknown, tuple[float, float]]) -> Belief:
        """Unknowns that have nothing to do with each other, by mean and standard deviation."""
        means = np.array([mean for mean, _ in known.values()], dtype=np.float64)
        deviations = np.array([deviation for _, deviation in known.values()], dtype=np.float64)
        if not (deviations >= 0).all():
            _refuse("a standard deviation is below 0", "Give 0 or more")
        return Belief(tuple(known), means, np.diag(deviations**2))

    @cached_property
    def deviation(self) -> Floats:
        """Standard deviations, (n,). [mm]"""
        found: Floats = np.sqrt(np.maximum(self.covariance.diagonal(), 0.0))
        return found

    @cached_property
    def root(self) -> Floats:
        """A matrix whose product with its own transpose is the covariance, (n, n). [mm]"""
        scale = _scale(self.covariance)
        values, vectors = np.linalg.eigh(self.covariance / np.outer(scale, scale))
        found: Floats = scale[:, None] * vectors * np.sqrt(np.maximum(values, 0.0))
        return found

    @cached_property
    def _places(self) -> Mapping[Unknown, int]:
        return {unknown: place for place, unknown in enumerate(self.unknowns)}

    def place(self, unknown: Unknown) -> int:
        """Where ``unknown`` stands in the arrays.

        Raises
        ------
        InputError
            Nothing is believed of it.
        """
        found = self._places.get(unknown)
        if found is None:
            listed = ", ".join(str(each) for each in self.unknowns) or "nothing"
            _refuse(f"nothing is believed of the {unknown}", f"It speaks of: {listed}")
        return found

    def of(self, unknown: Unknown) -> tuple[float, float]:
        """Mean and standard deviation of one unknown. [mm]"""
        place = self.place(unknown)
        return float(self.mean[place]), float(self.deviation[place])

    def joined(self, other: Belief) -> Belief:
        """With the unknowns of ``other``, which have nothing to do with those here."""
        here, there = len(self.unknowns), len(other.unknowns)
        covariance = np.zeros((here + there, here + there))
        covariance[:here, :here] = self.covariance
        covariance[here:, here:] = other.covariance
        mean = np.concatenate([self.mean, other.mean])
        return Belief((*self.unknowns, *other.unknowns), mean, covariance)

    def marginal(self, kept: Collection[Unknown]) -> Belief:
        """Of the unknowns ``kept`` alone, in their order; the others are dropped."""
        places = np.array([self.place(unknown) for unknown in kept], dtype=np.intp)
        return Belief(tuple(kept), self.mean[places], self.covariance[np.ix_(places, places)])

    def weights(self, row: Mapping[Unknown, float]) -> Floats:
        """A row as an array in the order of the unknowns, (n,)."""
        found = np.zeros(len(self.unknowns))
        for unknown, coefficient in row.items():
            found[self.place(unknown)] = coefficient
        return found

    def predicted(self, row: Mapping[Unknown, float]) -> tuple[float, float]:
        """Mean and standard deviation of the sum of coefficient times unknown. [mm]"""
        weights = self.weights(row)
        spread = weights @ self.root
        return float(weights @ self.mean), math.sqrt(float(spread @ spread))


def _scale(covariance: Floats) -> Floats:
    """Standard deviations, with 1 for what is known exactly."""
    variances = covariance.diagonal()
    found: Floats = np.sqrt(np.where(variances > 0, variances, 1.0))
    return found


def _check_positive(covariance: Floats) -> None:
    scale = _scale(covariance)
    scaled = covariance / np.outer(scale, scale)
    if not np.allclose(scaled, scaled.T, rtol=0, atol=ROUNDING):
        _refuse("the covariance is not symmetric", "Give the same value both ways")
    least = float(np.linalg.eigvalsh(scaled).min(initial=0.0))
    if least < -ROUNDING * max(1, len(scaled)):
        _refuse(
            f"the covariance is not positive: an eigenvalue of {least:.3g} is below 0",
            "Give variances of 0 or more and correlations that go together",
        )


def _refuse(what: str, remedy: str) -> NoReturn:
    raise InputError(what, where="belief", remedy=remedy)
