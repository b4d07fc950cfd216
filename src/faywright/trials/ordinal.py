"""Ordered words for a length: a cumulative probit model, and what reports tell of it.

A length c is felt as c + sigma e, with e standard normal; thresholds in rising order part the
words. Where c itself is uncertain by d, sigma becomes the root of sigma^2 + d^2, exactly.

Parameters stand in one row: the thresholds, then log sigma. Their posterior is sampled: draws
from a Student t about the mode, weighted by posterior over proposal. The mode alone would do for
hundreds of reports; with few, thresholds that must keep their order are far from normal, and
weighted draws serve both for a few milliseconds. [mm]
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from faywright.errors import RangeError

Floats = NDArray[np.float64]
Words = NDArray[np.int64]

MOST_DRAWS, LEAST_DRAWS, WORTH = 4096, 640, 320_000
"""Draws: as many as keep draws times reports at ``WORTH``, within the first two."""

ENOUGH, FEWEST, TRIES = 0.2, 50, 20
"""Share of the draws that they shall be worth when weighted, how many they must be worth, and
how often they are drawn; once for most sets of reports, 8 times for all that makers could give."""

_STRICT, _FLAT = 1e-6, 1e-3  # a lapse hardly allowed; a climb too small to go on

TAIL, WIDER = 6.0, 1.5
"""Degrees of freedom of the proposal, and its covariance as a multiple of that about the mode:
tails heavier than any normal prior's, for a threshold with few reports beside it is skewed."""

_REACH, _STEPS = 7.0, 14_000
_ROOT_2, _ROOT_2_PI = math.sqrt(2), math.sqrt(2 * math.pi)


@cache
def _table() -> Floats:
    steps = np.linspace(-_REACH, _REACH, _STEPS + 1).tolist()
    return np.array([0.5 * math.erfc(-z / _ROOT_2) for z in steps])


def normal_below(z: Floats) -> Floats:
    """Chance of a standard normal to be at most ``z``, to 1e-7.

    Straight lines between values a thousandth apart: numpy has no error function, and loading
    scipy takes longer than everything done here.
    """
    place = np.clip((z + _REACH) * (_STEPS / (2 * _REACH)), 0.0, _STEPS - 1e-6)
    at = place.astype(np.intp)
    table = _table()
    below = table[at]
    return below + (place - at) * (table[at + 1] - below)


def _normal_density(z: Floats) -> Floats:
    return np.exp(-0.5 * z * z) / _ROOT_2_PI


def chances(length: Floats, thresholds: Floats, spread: Floats) -> Floats:
    """Chance of each word, tightest first, along a new last axis.

    ``thresholds`` stand along a last axis; ``length`` and ``spread`` go with the axes before it.
    """
    below = normal_below((thresholds - length[..., None]) / spread[..., None])
    ends = np.zeros((*below.shape[:-1], 1))
    return np.diff(np.concatenate([ends, below, ends + 1.0], axis=-1), axis=-1)


def in_order(parameters: Floats) -> NDArray[np.bool_]:
    """Which rows of parameters have rising thresholds, (m,)."""
    rising: NDArray[np.bool_] = np.all(np.diff(parameters[:, :-1], axis=1) > 0, axis=1)
    return rising


@dataclass(frozen=True, eq=False)
class Reports:
    """Which word was said, numbered from 0, of a length known with a standard uncertainty."""

    words: Words
    lengths: Floats
    uncertainties: Floats


@dataclass(frozen=True, eq=False)
class Prior:
    """Normal prior of thresholds and log sigma, cut off where thresholds lose their order.

    ``lapse`` is the chance that a word was said or written down wrongly and tells nothing.
    """

    mean: Floats
    covariance: Floats
    lapse: float

    def __post_init__(self) -> None:
        """A lapse is possible, so that no report is quite impossible."""
        if not 0 < self.lapse < 1:
            raise RangeError(
                f"a chance of {self.lapse:g} that a word tells nothing",
                where="reports of how joints went together",
                remedy="Give a chance above 0 and below 1",
            )

    @property
    def words(self) -> int:
        """How many words there are: one more than thresholds."""
        return len(self.mean)

    def log_density(self, parameters: Floats) -> Floats:
        """Up to a constant, of parameters (m, p); minus infinity out of order."""
        off = parameters - self.mean
        found: Floats = -0.5 * np.einsum("mi,ij,mj->m", off, np.linalg.inv(self.covariance), off)
        found[~in_order(parameters)] = -np.inf
        return found


@dataclass(frozen=True, eq=False)
class Draws:
    """Draws of the parameters (m, p) and their weights (m,), which add up to 1."""

    parameters: Floats
    weights: Floats

    @property
    def effective(self) -> float:
        """How many equally weighted draws they are worth."""
        return float(1 / np.square(self.weights).sum())

    def mean(self) -> Floats:
        """Posterior mean of the parameters."""
        return self.weights @ self.parameters

    def quantiles(self, values: Floats, shares: tuple[float, ...]) -> list[float]:
        """Values (m,) of the draws that these shares of the weight lie below."""
        order = np.argsort(values)
        weight = self.weights[order]
        middle = np.cumsum(weight) - weight / 2
        return [float(each) for each in np.interp(shares, middle, values[order])]


def log_likelihood(reports: Reports, parameters: Floats, lapse: float) -> Floats:
    """Log of the chance that these words would be said, for parameters in order (m, p)."""
    total = np.zeros(len(parameters))
    words = parameters.shape[1]
    for word in range(words):
        said = reports.words == word
        if not said.any():
            continue
        variance = np.square(reports.uncertainties[said])
        per_spread = 1 / np.sqrt(np.exp(2 * parameters[:, -1:]) + variance)
        length = reports.lengths[said]
        chance = np.full(per_spread.shape, lapse / words)
        if word < words - 1:
            chance += (1 - lapse) * normal_below((parameters[:, [word]] - length) * per_spread)
        else:
            chance += 1 - lapse
        if word > 0:
            chance -= (1 - lapse) * normal_below((parameters[:, [word - 1]] - length) * per_spread)
        total += np.log(chance).sum(axis=1)
    return total


def posterior(prior: Prior, reports: Reports, *, seed: int) -> Draws:
    """Weighted draws of thresholds and log sigma, given reports; the same seed, the same draws.

    Where the mode says little of the rest of the posterior, the proposal is put where the
    weights are, and drawn from again.

    Raises
    ------
    RangeError
        The reports are so far from the prior that it cannot be found where they lead.
    """
    centre, covariance = _mode(prior, reports)
    covariance = WIDER * covariance
    count = max(LEAST_DRAWS, min(MOST_DRAWS, WORTH // max(1, len(reports.words))))
    for again in range(TRIES):
        parameters, log_proposal = _student(centre, covariance, count, seed + again)
        kept = in_order(parameters)
        parameters = parameters[kept]
        log_weights = prior.log_density(parameters) - log_proposal[kept]
        log_weights += log_likelihood(reports, parameters, prior.lapse)
        draws = Draws(parameters, _weights(log_weights))
        if draws.effective >= ENOUGH * count:
            break
        centre, covariance = _moments(parameters, log_weights, count)
    if draws.effective < FEWEST:
        raise RangeError(
            "together they are too far from common practice to learn from",
            where="reports of how joints went together",
            remedy="Check their clearances, in mm a side, against their words",
        )
    return draws


def _weights(log_weights: Floats) -> Floats:
    weights = np.exp(log_weights - log_weights.max())
    found: Floats = weights / weights.sum()
    return found


def _moments(parameters: Floats, log_weights: Floats, count: int) -> tuple[Floats, Floats]:
    """Mean and covariance of draws, with weights evened out until enough draws have a say."""
    evened = Draws(parameters, _weights(log_weights))
    while evened.effective < ENOUGH * count:
        log_weights = log_weights * 0.7
        evened = Draws(parameters, _weights(log_weights))
    off = parameters - evened.mean()
    return evened.mean(), off.T @ (evened.weights[:, None] * off)


def _student(centre: Floats, covariance: Floats, count: int, seed: int) -> tuple[Floats, Floats]:
    """Draws of a Student t in pairs mirrored at its centre; their log density less a constant."""
    generator = np.random.Generator(np.random.SFC64(seed))
    size = len(centre)
    normal = generator.standard_normal((count // 2, size))
    stretch = np.sqrt(TAIL / generator.chisquare(TAIL, (count // 2, 1)))
    half = normal @ np.linalg.cholesky(covariance).T * stretch
    square = np.square(normal * stretch).sum(axis=1)
    density = -0.5 * (TAIL + size) * np.log1p(square / TAIL)
    return np.concatenate([centre + half, centre - half]), np.concatenate([density, density])


def _mode(prior: Prior, reports: Reports) -> tuple[Floats, Floats]:
    """Most likely parameters, and about the covariance there, by Fisher scoring.

    The expected information is never negative, so that every step leads uphill; steps that
    overshoot or break the order are halved. A lapse makes room for several hilltops: one climb
    starts at the prior, the other where hardly any report may be taken for a lapse.
    """
    strict = replace(prior, lapse=_STRICT)
    tops = [_top(prior, reports, prior.mean)]
    tops.append(_top(prior, reports, _top(strict, reports, prior.mean)))
    top = max(tops, key=lambda each: _log_posterior(prior, reports, each))
    information = _slopes(reports, top, prior.lapse)[1]
    precision = np.linalg.inv(prior.covariance) + information
    return top, np.asarray(np.linalg.inv(precision), dtype=np.float64)


def _top(prior: Prior, reports: Reports, start: Floats) -> Floats:
    best = _log_posterior(prior, reports, start)
    for place, found in _climb(prior, reports, start, best):
        start = place
        if found - best < _FLAT:
            break
        best = found
    return start


def _climb(
    prior: Prior, reports: Reports, here: Floats, best: float
) -> Iterator[tuple[Floats, float]]:
    """Better and better places, until no step leads higher; 100 steps at most."""
    held = np.linalg.inv(prior.covariance)
    for _ in range(100):
        slope, information = _slopes(reports, here, prior.lapse)
        step = np.linalg.solve(held + information, slope - held @ (here - prior.mean))
        for halving in range(20):
            place = here + step * 0.5**halving
            found = _log_posterior(prior, reports, place)
            if found > best:
                here, best = place, found
                yield here, best
                break
        else:
            return


def _log_posterior(prior: Prior, reports: Reports, place: Floats) -> float:
    row = place[None, :]
    if not in_order(row)[0]:
        return -math.inf
    found = prior.log_density(row) + log_likelihood(reports, row, prior.lapse)
    return float(found[0])


def _slopes(reports: Reports, place: Floats, lapse: float) -> tuple[Floats, Floats]:
    """Gradient of the log likelihood (p,) and its expected information (p, p)."""
    words, count = len(place), len(reports.words)
    variance = math.exp(2 * place[-1])
    spread = np.sqrt(variance + np.square(reports.uncertainties))
    z = (place[:-1] - reports.lengths[:, None]) / spread[:, None]
    density = _normal_density(z)
    # of the chance below each threshold, with nothing below the first word and all below the last
    below = np.zeros((count, words + 1, words))
    for k in range(words - 1):
        below[:, k + 1, k] = density[:, k] / spread
    below[:, 1:-1, -1] = -density * z * (variance / np.square(spread))[:, None]
    slopes = (1 - lapse) * np.diff(below, axis=1)
    chance = lapse / words + (1 - lapse) * chances(reports.lengths, place[:-1], spread)
    at = np.arange(count)
    gradient = (slopes[at, reports.words] / chance[at, reports.words][:, None]).sum(axis=0)
    information: Floats = np.einsum("nkp,nkq,nk->pq", slopes, slopes, 1 / chance)
    return gradient, information
