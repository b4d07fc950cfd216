"""Beliefs and observations drawn at random, and trial pieces cut in a shop with hidden errors."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn
from numpy.typing import NDArray

from faywright.trials.belief import Belief, Unknown
from faywright.trials.update import Observation
from tests.strategies import lengths

Floats = NDArray[np.float64]

UNKNOWNS = (
    Unknown("height zero", "dial"),
    Unknown("fence zero", "dial"),
    Unknown("cutter", "C1"),
    Unknown("lift", "table"),
    Unknown("setting", "tongue height"),
)
"""One of each kind."""

HEIGHT, FENCE, CUTTER, LIFT, SETTING = UNKNOWNS

coefficients = st.sampled_from([-2.0, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0])


@st.composite
def beliefs(draw: DrawFn, least: int = 1) -> Belief:
    """A belief about some unknowns, correlated any way there is."""
    count = draw(st.integers(least, len(UNKNOWNS)))
    square = st.lists(lengths(-0.05, 0.05), min_size=count**2, max_size=count**2)
    factor = np.array(draw(square)).reshape(count, count)
    deviations = np.array(draw(st.lists(lengths(0.01, 0.1), min_size=count, max_size=count)))
    mean = np.array(draw(st.lists(lengths(-0.1, 0.1), min_size=count, max_size=count)))
    return Belief(UNKNOWNS[:count], mean, factor @ factor.T + np.diag(deviations**2))


@st.composite
def observations(draw: DrawFn, belief: Belief, *, shared: bool = True) -> Observation:
    """Something measured that a belief speaks of, maybe with noise it shares."""
    row = {unknown: draw(coefficients) for unknown in belief.unknowns}
    names = st.dictionaries(st.sampled_from(["thickness", "ride"]), lengths(-0.05, 0.05))
    return Observation(
        what="tongue thickness",
        row=row,
        expected=draw(lengths(3, 9)),
        read=draw(lengths(3, 9)),
        uncertainty=draw(lengths(0.005, 0.1)),
        shared=draw(names) if shared else {},
    )


def several(belief: Belief, *, shared: bool = True) -> st.SearchStrategy[list[Observation]]:
    """One to five of them."""
    return st.lists(observations(belief, shared=shared), min_size=1, max_size=5)


def read(
    row: Mapping[Unknown, float],
    off: float,
    uncertainty: float = 0.02,
    shared: Mapping[str, float] | None = None,
) -> Observation:
    """An observation that read ``off`` more than expected."""
    return Observation(
        what="tongue thickness",
        row=row,
        expected=6.0,
        read=6.0 + off,
        uncertainty=uncertainty,
        shared=shared or {},
    )


def rows_of(belief: Belief, seen: Sequence[Observation]) -> tuple[Floats, Floats, Floats]:
    """Rows, residuals at the prior mean and the noise's full covariance, put together plainly."""
    rows = np.array([[each.row.get(u, 0.0) for u in belief.unknowns] for each in seen])
    residual = np.array([each.read - each.expected for each in seen]) - rows @ belief.mean
    noise = np.diag([each.uncertainty**2 for each in seen])
    for i, one in enumerate(seen):
        for j, other in enumerate(seen):
            noise[i, j] += sum(s * other.shared.get(name, 0.0) for name, s in one.shared.items())
    return rows, residual, noise
