"""Which board goes beside which, where the maker leaves that open."""

from __future__ import annotations

from itertools import permutations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Index = NDArray[np.int64]

ALL_ORDERS_UP_TO = 7
"""Piles up to this size are put in the best of all their orders."""

SWAPS_UP_TO = 60
"""Piles up to this size are improved by trying every turn of a stretch of boards."""


def matched(widths: Floats, thicknesses: Floats) -> tuple[Index, Index]:
    """One tongue to each groove, thick ones to wide ones: the least possible worst misfit.

    Returns the numbers of grooves and of tongues, paired.
    """
    return np.argsort(widths, kind="stable"), np.argsort(thicknesses, kind="stable")


def chain(widths: Floats, thicknesses: Floats, play: float) -> Index:
    """An order of boards in a row in which each tongue suits the groove of the next. [mm]

    ``widths`` are the grooves', ``thicknesses`` the tongues' of the same boards; ``play`` is the
    clearance in all that is aimed for. Where thick boards have narrow grooves and fat tongues,
    thin and thick take turns. Finding the very best row is a hard problem: a small pile gets it,
    a larger one the best of the order as listed, of taking turns from the ends of the pile, and
    of what turning stretches about improves.
    """
    count = len(widths)
    if count <= ALL_ORDERS_UP_TO:
        return _best_of_all(widths, thicknesses, play)
    ranks = np.argsort(thicknesses, kind="stable")
    turns = np.empty(count, dtype=np.int64)
    turns[0::2] = ranks[: (count + 1) // 2]
    turns[1::2] = ranks[::-1][: count // 2]
    candidates = [np.arange(count), turns, turns[::-1].copy()]
    best = min(candidates, key=lambda row: worst_misfit(widths, thicknesses, play, row))
    if count <= SWAPS_UP_TO:
        best = _improved(widths, thicknesses, play, best)
    return best


def worst_misfit(widths: Floats, thicknesses: Floats, play: float, row: Index) -> float:
    """Greatest departure from ``play`` along a row of boards. [mm]"""
    if len(row) < 2:
        return 0.0
    return float(np.abs(widths[row[1:]] - thicknesses[row[:-1]] - play).max())


def _misfits(widths: Floats, thicknesses: Floats, play: float) -> Floats:
    """Departure from ``play`` of the tongue of each board (row) in the groove of each other."""
    misfits: Floats = np.abs(widths[None, :] - thicknesses[:, None] - play)
    return misfits


def _best_of_all(widths: Floats, thicknesses: Floats, play: float) -> Index:
    rows = np.array(list(permutations(range(len(widths)))), dtype=np.int64)
    steps = _misfits(widths, thicknesses, play)[rows[:, :-1], rows[:, 1:]]
    worst = steps.max(axis=1, initial=0.0).round(9)
    squares = (steps**2).sum(axis=1).round(9)
    best: Index = rows[np.lexsort((squares, worst))[0]]
    return best


def _improved(widths: Floats, thicknesses: Floats, play: float, row: Index) -> Index:
    misfit = _misfits(widths, thicknesses, play)
    found = _cost(misfit, row)
    better = True
    while better:
        better = False
        for start in range(len(row) - 1):
            for end in range(start + 2, len(row) + 1):
                turned = row.copy()
                turned[start:end] = row[start:end][::-1]
                cost = _cost(misfit, turned)
                if cost < found:
                    row, found, better = turned, cost, True
    return row


def _cost(misfit: Floats, row: Index) -> tuple[float, float]:
    steps = misfit[row[:-1], row[1:]]
    return (round(float(steps.max()), 9), round(float((steps**2).sum()), 9))
