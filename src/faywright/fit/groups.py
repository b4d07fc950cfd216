"""Groups of boards that share a setting: fewest settings, exactly.

Each board is served by any setting within ``half`` of its own best one. Serving all boards with
the fewest settings is stabbing intervals with points; taking the boards in order and setting for
as many as one point can serve is exact. Among all ways with that few settings, the one that
leaves the most room on either side is taken.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faywright.errors import RangeError

Floats = NDArray[np.float64]
Index = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Group:
    """Boards (by number) that one ``setting`` serves. [mm]"""

    members: Index
    setting: float


def fewest_groups(best: Floats, half: float) -> tuple[Group, ...]:
    """Fewest settings such that every board is within ``half`` of its own ``best``. [mm]

    Groups come in order of their setting; each setting is the middle of its boards' best.
    """
    _check(best, half)
    order = np.argsort(best, kind="stable")
    ordered = best[order]
    count = len(_cuts(ordered, half))
    return _groups(order, ordered, _even_cuts(ordered, count, half))


def most_served(best: Floats, half: float, settings: int) -> tuple[Group, ...]:
    """At most ``settings`` settings that serve as many boards as can be. [mm]

    Boards that no setting serves are in no group.
    """
    _check(best, half)
    order = np.argsort(best, kind="stable")
    ordered = best[order]
    # Row k: how many of the first i boards k settings can serve, and where the last one starts.
    first = np.searchsorted(ordered, ordered - 2 * half - 1e-12, side="left")
    served = np.zeros((settings + 1, len(best) + 1), dtype=np.int64)
    for k in range(1, settings + 1):
        for i in range(1, len(best) + 1):
            take = served[k - 1, first[i - 1]] + i - first[i - 1]
            served[k, i] = max(served[k, i - 1], take)
    groups = []
    k, i = settings, len(best)
    while k > 0 and i > 0:
        if served[k, i] == served[k, i - 1]:
            i -= 1
            continue
        start = int(first[i - 1])
        groups.append(_group(order, ordered, start, i))
        k, i = k - 1, start
    return tuple(reversed(groups))


def range_for_one(half: float) -> float:
    """Greatest range of best settings that one setting serves. [mm]"""
    return 2 * half


def _check(best: Floats, half: float) -> None:
    if len(best) == 0 or not (np.isfinite(best).all() and half >= 0):
        raise RangeError(
            "no boards, or room that is not 0 or more",
            where="groups of boards",
            remedy="Give at least one board and a band with room in it",
        )


def _cuts(ordered: Floats, half: float) -> list[int]:
    """Where each group starts when each takes as many boards as it can."""
    starts, i = [], 0
    values: list[float] = ordered.tolist()
    while i < len(values):
        starts.append(i)
        i = bisect_right(values, values[i] + 2 * half + 1e-12, lo=i)
    return starts


def _even_cuts(ordered: Floats, count: int, half: float) -> list[int]:
    """The same number of groups with the widest of them as narrow as can be."""
    low, high = 0.0, half
    if count == 1:
        return [0]
    for _ in range(30):
        middle = (low + high) / 2
        if len(_cuts(ordered, middle)) <= count:
            high = middle
        else:
            low = middle
    return _cuts(ordered, high)


def _groups(order: Index, ordered: Floats, starts: list[int]) -> tuple[Group, ...]:
    ends = [*starts[1:], len(ordered)]
    return tuple(
        _group(order, ordered, start, end) for start, end in zip(starts, ends, strict=True)
    )


def _group(order: Index, ordered: Floats, start: int, end: int) -> Group:
    setting = float((ordered[start] + ordered[end - 1]) / 2)
    return Group(np.sort(order[start:end]), setting)
