"""Which slips the readings of a trial speak for: every cause alone, and every two together.

Readings are normal about what the belief foretells, so each supposition has its density in
closed form: with a slip taken back the residuals move, and a reading that nothing fits is left
out. Three slips in one trial are not weighed; nor is that needed, for then readings are left
over that nothing fits.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from faywright.trials.belief import Belief, Floats
from faywright.trials.misreadings import NOTHING_FITS, Cause
from faywright.trials.update import Observation

Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Weighed:
    """``chances`` of each of ``causes`` (c,), and that anything is wrong with each reading (n,)."""

    causes: tuple[Cause, ...]
    chances: Floats
    wrong: Floats


@dataclass(frozen=True, eq=False)
class Outlook:
    """Residuals of the readings (n,) and the covariance they should have (n, n). [mm, mm2]"""

    residuals: Floats
    covariance: Floats

    @staticmethod
    def of(belief: Belief, observations: Sequence[Observation]) -> Outlook:
        """Readings less what the belief foretells, with noise of their own and shared noise."""
        rows = np.array([belief.weights(each.row) for each in observations])
        names = sorted({name for each in observations for name in each.shared})
        shared = np.array([[each.shared.get(name, 0.0) for name in names] for each in observations])
        spread = np.concatenate([rows @ belief.root, shared], axis=1)
        noise = np.diag([each.uncertainty**2 for each in observations])
        off = np.array([each.read - each.expected for each in observations])
        return Outlook(off - rows @ belief.mean, spread @ spread.T + noise)

    def without(self, left_out: tuple[int, ...]) -> tuple[Floats, Floats, float]:
        """Residuals, precision with noughts for those left out, and log density factor."""
        count = len(self.residuals)
        kept = np.array([at for at in range(count) if at not in left_out], dtype=np.intp)
        within = np.ix_(kept, kept)
        precision = np.zeros((count, count))
        precision[within] = np.linalg.inv(self.covariance[within])
        _, log_volume = np.linalg.slogdet(self.covariance[within])
        factor = -0.5 * (float(log_volume) + len(kept) * math.log(2 * math.pi))
        return self.residuals, precision, factor


def weigh(outlook: Outlook, causes: Sequence[Cause]) -> Weighed:
    """Posterior chance of every cause, and of every reading being that nothing fits."""
    count = len(outlook.residuals)
    shifts, reaches = _spread_out(causes, count)
    singles = [
        (left_out, _lone(outlook, causes, shifts, reaches, left_out))
        for left_out in _left_out(count)
    ]
    pairs = _pairs(outlook, singles[0][1], shifts, _go_together(causes, reaches))
    top = max(float(pairs.max(initial=-np.inf)), *(float(each.max()) for _, each in singles))

    both = np.exp(pairs - top)
    total, wrong = float(both.sum()), _reached(both, reaches)
    chances = np.zeros(len(causes) + count)
    chances[: len(causes)] = both.sum(axis=0) + both.sum(axis=1)
    for left_out, logs in singles:
        weights = np.exp(logs - top)
        total += float(weights.sum())
        chances[: len(weights) - 1] += weights[1:]
        reached = weights[1:] @ reaches[: len(weights) - 1]
        for at in left_out:
            reached[at] = weights.sum()
            chances[len(causes) + at] += weights.sum()
        wrong += reached
    lost = tuple(Cause("nothing fits", (at,), (0.0,), NOTHING_FITS) for at in range(count))
    return Weighed((*causes, *lost), chances / total, np.minimum(wrong / total, 1.0))


def _left_out(count: int) -> list[tuple[int, ...]]:
    return [(), *((at,) for at in range(count)), *combinations(range(count), 2)]


def _spread_out(causes: Sequence[Cause], count: int) -> tuple[Floats, Flags]:
    shifts, reaches = np.zeros((len(causes), count)), np.zeros((len(causes), count), dtype=bool)
    for k, cause in enumerate(causes):
        shifts[k, list(cause.at)] = cause.shifts
        reaches[k, list(cause.at)] = True
    return shifts, reaches


def _go_together(causes: Sequence[Cause], reaches: Flags) -> Flags:
    """Which two causes can be there at once: one slip a reading, one edge a setting."""
    reading = np.array([cause.setting is None for cause in causes], dtype=bool)
    own = (reaches & reading[:, None]).astype(np.float64)
    apart: Flags = own @ own.T == 0
    for one, other in combinations(np.flatnonzero(~reading).tolist(), 2):
        apart[one, other] &= causes[one].setting != causes[other].setting
    return np.triu(apart, 1)


def _lone(
    outlook: Outlook,
    causes: Sequence[Cause],
    shifts: Floats,
    reaches: Flags,
    left_out: tuple[int, ...],
) -> Floats:
    """Log of prior times density of no cause and then of each; of none where two are left out."""
    residuals, precision, factor = outlook.without(left_out)
    base = factor - 0.5 * float(residuals @ precision @ residuals) + NOTHING_FITS * len(left_out)
    if len(left_out) > 1:
        return np.array([base])
    moved = shifts @ precision
    gain = np.array([cause.log_chance for cause in causes]) - moved @ residuals
    gain -= 0.5 * np.einsum("kn,kn->k", moved, shifts)
    own = np.array([cause.setting is None for cause in causes], dtype=bool)
    gain[own & reaches[:, list(left_out)].any(axis=1)] = -np.inf  # one slip a reading
    return np.concatenate([[base], base + gain])


def _pairs(outlook: Outlook, lone: Floats, shifts: Floats, apart: Flags) -> Floats:
    """Log of prior times density of each two causes, (c, c); each two stand there once."""
    _, precision, _ = outlook.without(())
    base, each = lone[0], lone[1:]
    both = each[:, None] + each[None, :] - base - shifts @ precision @ shifts.T
    found: Floats = np.where(apart, both, -np.inf)
    return found


def _reached(pairs: Floats, reaches: Flags) -> Floats:
    """Weight of the pairs of causes that reach each reading, by one of the two or both, (n,)."""
    reach = reaches.astype(np.float64)
    either = (pairs.sum(axis=0) + pairs.sum(axis=1)) @ reach
    found: Floats = either - (reach * (pairs @ reach)).sum(axis=0)
    return found
