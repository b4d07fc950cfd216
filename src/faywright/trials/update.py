"""What observations make of a belief: the exact linear update of a normal distribution.

Everything is worked out in standard units: unknowns by the root of the prior's covariance,
observations by their own noise. There the prior is the unit matrix and one singular value
decomposition gives posterior, evidence and residuals without ever inverting a covariance, so
that noise may be as small as one likes and unknowns may be known exactly.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from faywright.errors import InputError
from faywright.trials.belief import Belief, Floats, Unknown


@dataclass(frozen=True, kw_only=True)
class Observation:
    """One thing measured: ``read`` is ``expected`` plus ``row`` times the unknowns plus noise. [mm]

    ``expected`` is what it would be with nothing off. ``uncertainty`` is the standard deviation
    of noise that is this observation's alone. ``shared`` names noise that reaches other
    observations of the same update too, by standard deviation, and with a sign: two
    observations that move apart by it have opposite signs. Such observations have to be given
    together, for it is not remembered from one update to the next.
    """

    what: str
    row: Mapping[Unknown, float]
    expected: float
    read: float
    uncertainty: float
    shared: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Finite numbers, and noise above 0."""
        numbers = (self.expected, self.read, *self.row.values(), *self.shared.values())
        if not all(math.isfinite(number) for number in numbers):
            raise InputError(
                f"expected {self.expected:g} mm and read {self.read:g} mm, with their "
                "coefficients, are not all finite",
                where=self.what,
                remedy="Give plain numbers",
            )
        if not 0 < self.uncertainty < math.inf:
            raise InputError(
                f"an uncertainty of {self.uncertainty:g} mm cannot be",
                where=self.what,
                remedy="Give a finite standard uncertainty above 0: no reading is exact",
            )


def updated(belief: Belief, observations: Sequence[Observation]) -> Belief:
    """What is believed once the observations are known, in whatever order they came."""
    if not observations:
        return belief
    found = _Weighed.of(belief, observations)
    count, rank = len(belief.unknowns), len(found.singular)
    shrink = np.ones(len(found.right))
    shrink[:rank] = 1 / np.sqrt(1 + found.singular**2)
    along = found.singular / (1 + found.singular**2) * found.turned[:rank]
    moved = found.right[:rank, :count].T @ along
    left = belief.root @ (found.right[:, :count].T * shrink)
    return Belief(belief.unknowns, belief.mean + belief.root @ moved, left @ left.T)


def surprise(belief: Belief, observations: Sequence[Observation]) -> tuple[float, ...]:
    """How many standard deviations each observation is from what all the others foretell.

    Beyond 3 either way it is more likely a slip of reading than a fact about the shop.
    """
    if not observations:
        return ()
    found = _Weighed.of(belief, observations)
    precision = (found.left * found.weights) @ found.left.T
    residual = found.left @ (found.weights * found.turned)
    return tuple((residual / np.sqrt(precision.diagonal())).tolist())


def log_evidence(belief: Belief, observations: Sequence[Observation]) -> float:
    """Natural logarithm of the density the belief gave to the readings, 1/mm for each of them."""
    if not observations:
        return 0.0
    found = _Weighed.of(belief, observations)
    noise = sum(math.log(each.uncertainty) for each in observations)
    volume = noise + 0.5 * float(np.log1p(found.singular**2).sum())
    misfit = 0.5 * float(found.weights @ found.turned**2)
    return -misfit - volume - 0.5 * len(observations) * math.log(2 * math.pi)


@dataclass(frozen=True, eq=False)
class _Weighed:
    """Observations in standard units, decomposed.

    ``left`` (k, k), ``singular`` and ``right`` are the decomposition of the rows. ``turned`` (k,)
    holds the residuals along the columns of ``left``, ``weights`` (k,) what one over their
    variance is there.
    """

    left: Floats
    singular: Floats
    right: Floats
    turned: Floats
    weights: Floats

    @staticmethod
    def of(belief: Belief, observations: Sequence[Observation]) -> _Weighed:
        rows = np.array([belief.weights(each.row) for each in observations])
        noise = np.array([each.uncertainty for each in observations])
        names = sorted({name for each in observations for name in each.shared})
        # Shared noise is one more unknown each, of standard deviation 1, and then forgotten.
        common = np.array([[each.shared.get(name, 0.0) for name in names] for each in observations])
        off = np.array([each.read - each.expected for each in observations]) - rows @ belief.mean
        whole = np.concatenate([rows @ belief.root, common], axis=1) / noise[:, None]
        left, singular, right = np.linalg.svd(whole, full_matrices=True)
        weights = np.ones(len(observations))
        weights[: len(singular)] = 1 / (1 + singular**2)
        return _Weighed(left, singular, right, left.T @ (off / noise), weights)
