"""How a dry joint went together, and the clearance that this maker calls snug.

The five words rise with the clearance per side; four boundaries part them. Before any report
the boundaries lie where common practice parts its bands, and each report moves them as far as
it weighs against that. One maker's hand push is another's mallet, so reports are one maker's.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Literal, get_args

import numpy as np

from faywright.errors import InputError, RangeError
from faywright.fit.bands import Fit, fit_called, fits
from faywright.trials.ordinal import Draws, Floats, Prior, Reports, chances, posterior

Word = Literal["will not go", "mallet", "hand push", "slides", "rattles"]
WORDS: tuple[Word, ...] = get_args(Word)
"""From tightest to loosest."""

Between = Literal["mallet", "hand push", "slides"]
"""Words with a boundary on both sides, and so with a middle."""

TOGETHER = 0.03
"""Standard deviation by which all boundaries of a maker move together, strong arms against
gentle ones. [mm] Common practice, no source."""

APART = 0.5
"""Standard deviation of a boundary by itself, as a share of the narrower word beside it. No
source: two of them reach the next boundary."""

SCATTER, SCATTER_LOG = 0.03, 0.5
"""Scatter of one and the same clearance as it is felt: its median [mm] and the standard
deviation of its logarithm. Common practice, no source: what calipers scatter by on wood."""

LAPSE = 0.02
"""Chance that a word was said of another joint, or written down wrongly. No source."""

UNMOVED = ("glued",)
"""Bands that follow from the strength of glue, not from how a joint goes together."""

_WHERE = "how a joint went together"
_HALF_INTERVAL = 0.05  # left out at either end of an interval


@dataclass(frozen=True, slots=True)
class Report:
    """What was said of a dry joint, and its clearance per side with standard uncertainty. [mm]"""

    word: Word
    clearance: float
    uncertainty: float = 0.0

    def __post_init__(self) -> None:
        """The word is one of the five, and the clearance one of a joint."""
        if self.word not in WORDS:
            raise InputError(
                f"{self.word!r} is not one of its words",
                where=_WHERE,
                remedy=f"Say one of {', '.join(WORDS)}",
            )
        if not (-5 <= self.clearance <= 5 and 0 <= self.uncertainty <= 1):
            raise RangeError(
                f"a clearance of {self.clearance:g} mm a side, uncertain by {self.uncertainty:g}",
                where=_WHERE,
                remedy="Give a clearance of -5 to 5 mm a side and an uncertainty of 0 to 1 mm",
            )


@dataclass(frozen=True, slots=True)
class Estimate:
    """A clearance per side: the mean, and the ends of the middle 90 %. [mm]"""

    at: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class Feel:
    """What is known of how joints in a timber feel to this maker, after ``reports`` of them."""

    timber: str
    reports: int
    practice: Draws
    draws: Draws

    def boundaries(self) -> tuple[Estimate, ...]:
        """Where each word gives way to the next, tightest first."""
        return tuple(self._estimate(self.draws.parameters[:, k]) for k in range(len(WORDS) - 1))

    def middle(self, word: Between) -> Estimate:
        """The clearance in the middle of what this maker calls by ``word``.

        Raises
        ------
        InputError
            The word is open to one side, or none of the five.
        """
        if word not in get_args(Between):
            raise InputError(
                f"{word!r} has no middle",
                where=_WHERE,
                remedy=f"Ask for one of {', '.join(get_args(Between))}",
            )
        upper = WORDS.index(word)
        return self._estimate(self.draws.parameters[:, [upper - 1, upper]].mean(axis=1))

    def scatter(self) -> Estimate:
        """Standard deviation with which one and the same clearance is felt."""
        return self._estimate(np.exp(self.draws.parameters[:, -1]))

    def said(self, clearance: float, uncertainty: float = 0.0) -> Mapping[Word, float]:
        """Chance of each word for a joint of this clearance and standard uncertainty. [mm]"""
        Report(WORDS[0], clearance, uncertainty)  # for its check of the two
        drawn = self.draws.parameters
        spread = np.hypot(np.exp(drawn[:, -1]), uncertainty)
        each = chances(np.full(len(drawn), clearance), drawn[:, :-1], spread)
        mixed = LAPSE / len(WORDS) + (1 - LAPSE) * (self.draws.weights @ each)
        return dict(zip(WORDS, mixed.tolist(), strict=True))

    def band(self, name: str) -> Fit:
        """The packaged fit of that name, moved to where this maker's words lie.

        Between two boundaries it keeps its share of the way, beyond the outermost its distance.
        Without reports, and where strength decides, it is the packaged fit itself.

        Raises
        ------
        InputError
            There is no such fit for the timber.
        """
        fit = fit_called(name, self.timber)
        if self.reports == 0 or name in UNMOVED:
            return fit
        low, aim, high = (self.here(each) for each in (fit.low, fit.aim, fit.high))
        told = f"{self.reports} dry joint{'s' if self.reports > 1 else ''} in {self.timber}"
        return Fit(name=name, low=low, aim=aim, high=high, purpose=fit.purpose, locator=told)

    def here(self, clearance: float) -> float:
        """What common practice's ``clearance`` is to this maker: it feels the same. [mm]"""
        from_, to = (draws.mean()[:-1] for draws in (self.practice, self.draws))
        if clearance <= from_[0]:
            return float(clearance + to[0] - from_[0])
        if clearance >= from_[-1]:
            return float(clearance + to[-1] - from_[-1])
        return float(np.interp(clearance, from_, to))

    def _estimate(self, values: Floats) -> Estimate:
        low, high = self.draws.quantiles(values, (_HALF_INTERVAL, 1 - _HALF_INTERVAL))
        return Estimate(float(self.draws.weights @ values), low, high)


def learned(timber: str, reports: Sequence[Report], *, seed: int = 1) -> Feel:
    """What one maker's reports of joints in a timber group tell, beside common practice.

    Raises
    ------
    InputError
        There are no packaged fits for the timber, or the reports are beyond all reason.

    Examples
    --------
    >>> feel = learned("softwood", [Report("hand push", 0.10, 0.01), Report("slides", 0.20, 0.01)])
    >>> feel.band("snug").aim < learned("softwood", []).band("snug").aim
    True
    """
    prior = common_practice(timber)
    said = Reports(
        words=np.array([WORDS.index(each.word) for each in reports], dtype=np.int64),
        lengths=np.array([each.clearance for each in reports], dtype=float),
        uncertainties=np.array([each.uncertainty for each in reports], dtype=float),
    )
    return Feel(timber, len(reports), _practice(timber, seed), posterior(prior, said, seed=seed))


@cache
def _practice(timber: str, seed: int) -> Draws:
    none = Reports(np.zeros(0, dtype=np.int64), np.zeros(0), np.zeros(0))
    return posterior(common_practice(timber), none, seed=seed)


@cache
def common_practice(timber: str) -> Prior:
    """Boundaries between the words before any report, from the packaged fits of a timber.

    It goes with a mallet as soon as a glued cheek's clearance begins, by hand where a snug one's
    begins, and rattles where a sliding one's ends; between hand push and sliding lies the middle
    of where snug ends and sliding begins, for the two bands overlap or leave room.

    Raises
    ------
    InputError
        There are no packaged fits for the timber.
    """
    known = sorted({timber for _, timber in fits()})
    if timber not in known:
        raise InputError(
            f"nothing is known of {timber!r}", where=_WHERE, remedy=f"Use one of {', '.join(known)}"
        )
    glued, snug, sliding = (fit_called(name, timber) for name in ("glued", "snug", "sliding"))
    boundaries = [glued.low, snug.low, (snug.high + sliding.low) / 2, sliding.high]
    widths = [math.inf, *(upper - lower for lower, upper in pairwise(boundaries)), math.inf]
    apart = [APART * min(beside) for beside in pairwise(widths)]
    covariance = np.diag([*np.square(apart).tolist(), SCATTER_LOG**2])
    covariance[:-1, :-1] += TOGETHER**2
    return Prior(np.array([*boundaries, math.log(SCATTER)]), covariance, LAPSE)
