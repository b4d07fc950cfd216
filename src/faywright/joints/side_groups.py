"""Boards of one side that share a setting, and closed forms worked out for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faywright.fit.forms import Form, Quantity, Value
from faywright.joints.method import Method, Settings
from faywright.joints.work import Work

Floats = NDArray[np.float64]
Index = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class SideGroup:
    """Boards of one side (by number) that share ``settings``. [mm]"""

    members: Index
    settings: Settings


@dataclass(frozen=True, eq=False)
class Groups:
    """How both sides are grouped; ``room`` is the range of sizes one setting serves. [mm]"""

    groove: tuple[SideGroup, ...]
    tongue: tuple[SideGroup, ...]
    room: float | None


def valued(method: Method, form: Form, work: Work, groups: tuple[SideGroup, ...]) -> Floats:
    """A closed form of a side for each of its boards, at its group's settings. [mm]"""
    values = np.empty(len(work))
    for group in groups:
        known: dict[Quantity, Value] = {
            **group.settings,
            **method.cutter_sizes,
            method.thickness: work.across[group.members],
        }
        values[group.members] = form.value(known)
    return values


def group_index(groups: tuple[SideGroup, ...], boards: Index) -> Index:
    """Which group each board of a list is in."""
    size = 1 + max(int(group.members.max()) for group in groups)
    of = np.zeros(size, dtype=np.int64)
    for k, group in enumerate(groups):
        of[group.members] = k
    result: Index = of[boards]
    return result


def known_values(method: Method, group: SideGroup, thickness: Value) -> Mapping[Quantity, Value]:
    """Values for the closed forms of a method, for boards of one group."""
    return {**group.settings, **method.cutter_sizes, method.thickness: thickness}
