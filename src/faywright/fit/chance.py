"""Chances of fitting: errors carried through to every joint of a piece, with what they share.

Monte Carlo propagation after JCGM 101:2008, clause 7. An error that boards share (one height
setting, one cutter) is drawn once a trial and reaches all of them together; an error of one
board reaches each joint that board is in.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faywright.errors import RangeError
from faywright.fit.spread import Spread

Floats = NDArray[np.float64]
Index = NDArray[np.int64]

CHUNK = 1 << 17
"""Values worked on at once: small enough to stay in a core's cache."""

KEPT_TRIALS, KEPT = 10_000, 4_000_000
"""Trials kept to read the middle 95 % from, as far as that is not more than ``KEPT`` values."""


@dataclass(frozen=True)
class Effect:
    """One source of error and how it reaches each of ``m`` gaps.

    ``count`` independent errors are drawn from ``spread`` (times ``scale`` each, where given).
    Each of ``terms`` adds ``coefficient`` times error number ``index[k]`` to gap ``k``; an index
    of -1 leaves a gap untouched.
    """

    source: str
    spread: Spread
    count: int
    terms: tuple[tuple[float, Index], ...]
    scale: Floats | None = None

    def shift(self, gaps: int) -> Floats:
        """What the mean of the errors adds to each gap, (gaps,)."""
        return self._sum(gaps, lambda net: net) * self.spread.mean

    def variance(self, gaps: int) -> Floats:
        """Variance it brings to each gap, (gaps,)."""
        return self._sum(gaps, np.square) * self.spread.standard_uncertainty**2

    def worst(self, gaps: int) -> Floats:
        """Most it can move each gap either way off its mean, (gaps,)."""
        return self._sum(gaps, np.abs) * self.spread.limit

    def _sum(self, gaps: int, of: Callable[[Floats], Floats]) -> Floats:
        """Sum over the different errors that reach each gap of ``of`` their net effect.

        Where two terms reach a gap through the same error, their coefficients add first.
        """
        total = np.zeros(gaps)
        for k, (_, index) in enumerate(self.terms):
            net = np.zeros(gaps)
            for coefficient, other in self.terms:
                net += np.where(other == index, coefficient, 0.0)
            counted = index >= 0
            for _, earlier in self.terms[:k]:
                counted &= earlier != index
            if self.scale is not None:
                net *= self.scale[index]
            total += np.where(counted, of(net), 0.0)
        return total

    @property
    def unit(self) -> float:
        """How far the error moves for each 1 of a standard draw."""
        return self.spread.size * (1 if self.spread.shape == "normal" else 2)

    def start(self, gaps: int) -> Floats:
        """What each gap gets when the standard draw is 0: the low end of a rectangle."""
        low = self.spread.mean
        if self.spread.shape == "rectangular":
            low -= self.spread.size
        return self._sum(gaps, lambda net: net) * low

    def add_to(self, gaps: Floats, generator: np.random.Generator, room: Floats) -> None:
        """Draw errors for each trial (rows) and add them to ``gaps`` in place.

        ``room`` is space to draw into, at least as many rows and columns as there are errors.
        """
        drawn = room[: len(gaps) * self.count].reshape(len(gaps), self.count)
        if self.spread.shape == "normal":
            generator.standard_normal(out=drawn)
        else:
            generator.random(out=drawn)
        drawn *= self.unit if self.scale is None else self.unit * self.scale
        for coefficient, index in self.terms:
            if self._in_step(index, gaps.shape[1]):
                if coefficient != 1.0 and len(self.terms) == 1:
                    drawn *= coefficient
                    gaps += drawn
                else:
                    gaps += coefficient * drawn
                continue
            reached = index >= 0
            if reached.all():
                gaps += coefficient * drawn[:, index]
            else:
                gaps[:, reached] += coefficient * drawn[:, index[reached]]

    def _in_step(self, index: Index, gaps: int) -> bool:
        """Whether error k goes to gap k, or the one error there is to every gap."""
        if self.count == 1:
            return bool((index >= 0).all())
        return self.count == gaps and bool((index == np.arange(gaps)).all())


@dataclass(frozen=True)
class Chance:
    """What sampling found. [mm where a length]

    ``each`` is the chance of every gap to land in its band, ``all_fit`` that all land together,
    with the standard errors of both. ``low`` and ``high`` bound the middle 95 % of the sample;
    ``mean`` and ``deviation`` of every gap need no sampling, for gaps are linear in the errors.
    """

    trials: int
    each: Floats
    all_fit: float
    mean: Floats
    deviation: Floats
    low: Floats
    high: Floats

    @property
    def each_error(self) -> Floats:
        """Standard error of each chance.

        Two successes and two failures are added to the count (Agresti and Coull), so that none
        or all out of a finite number of trials is not taken for certainty.
        """
        likely = (self.each * self.trials + 2) / (self.trials + 4)
        return np.sqrt(likely * (1 - likely) / (self.trials + 4))

    @property
    def all_fit_error(self) -> float:
        """Standard error of the chance that all fit, counted as in :attr:`each_error`."""
        likely = (self.all_fit * self.trials + 2) / (self.trials + 4)
        return math.sqrt(likely * (1 - likely) / (self.trials + 4))


def sampled(
    nominal: Floats,
    band: tuple[float, float],
    effects: Sequence[Effect],
    *,
    trials: int,
    seed: int = 1,
    keep: bool = True,
) -> Chance:
    """Sample ``trials`` times what becomes of the gaps ``nominal`` (m,). [mm]

    ``band`` is the low and high limit within which a gap fits. Without ``keep`` the middle 95 %
    is not read off, which is quicker where many ways are compared.

    Raises
    ------
    RangeError
        There are no gaps, no trials, or the limits of the band are the wrong way about.
    """
    if len(nominal) == 0 or trials < 1 or not band[0] <= band[1]:
        raise RangeError(
            f"{trials} trials of {len(nominal)} gaps in a band of {band[0]:g} to {band[1]:g} mm "
            "say nothing",
            where="chance of fitting",
            remedy="Give at least one trial, one gap, and the lower limit first",
        )
    generator = np.random.Generator(np.random.SFC64(seed))
    count = len(nominal)
    widest = max([count, *(effect.count for effect in effects)])
    rows = max(1, min(trials, CHUNK // widest))
    wanted = min(trials, KEPT_TRIALS, max(1, KEPT // count)) if keep else 0
    middle, half = (band[0] + band[1]) / 2, (band[1] - band[0]) / 2
    start = sum((effect.start(count) for effect in effects), nominal - middle)
    gaps, room = np.empty((rows, count)), np.empty(rows * widest)
    inside, together = np.zeros(count), 0
    kept = np.empty((wanted, count))
    for done in range(0, trials, rows):
        now = min(rows, trials - done)
        here = gaps[:now]
        here[:] = start
        for effect in effects:
            effect.add_to(here, generator, room)
        if done < wanted:
            kept[done : done + now] = here[: wanted - done]
        fits = np.abs(here, out=here) <= half
        inside += np.count_nonzero(fits, axis=0)
        together += int(np.count_nonzero(fits.all(axis=1)))
    low = high = np.full(count, np.nan)
    if keep:
        low, high = np.quantile(kept, [0.025, 0.975], axis=0, overwrite_input=True) + middle
    variance = sum((effect.variance(count) for effect in effects), np.zeros(count))
    return Chance(
        trials=trials,
        each=inside / trials,
        all_fit=together / trials,
        mean=sum((effect.shift(count) for effect in effects), nominal),
        deviation=np.sqrt(variance),
        low=low,
        high=high,
    )


@dataclass(frozen=True)
class Budget:
    """Errors added up without sampling, for every gap (m,). [mm]

    ``expanded`` is the root-sum-square of all, times the coverage factor of 2 (JCGM 100:2008,
    5.1.2 and 6.2.1); ``worst`` has every error at its limit the same way. ``shares`` gives each
    source's part of the variance, averaged over the gaps, largest first.
    """

    mean: Floats
    expanded: Floats
    worst: Floats
    shares: tuple[tuple[str, float], ...]


def budget(nominal: Floats, effects: Sequence[Effect]) -> Budget:
    """Add up ``effects`` on the gaps ``nominal`` (m,). [mm]"""
    count = len(nominal)
    variances: dict[str, Floats] = {}
    mean, worst = nominal.copy(), np.zeros(count)
    for effect in effects:
        mean += effect.shift(count)
        worst += effect.worst(count)
        variances[effect.source] = variances.get(effect.source, 0.0) + effect.variance(count)
    variance = sum(variances.values(), np.zeros(count))
    whole = float(variance.mean()) or 1.0
    shares = sorted(
        ((source, float(v.mean()) / whole) for source, v in variances.items()),
        key=lambda share: -share[1],
    )
    return Budget(mean, 2.0 * np.sqrt(variance), worst, tuple(shares))
