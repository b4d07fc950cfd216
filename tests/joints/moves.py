"""Movement of timber for the tests: the same change for every board, given in percent."""

from __future__ import annotations

import numpy as np

from faywright.joints.moving import Moment, Moving, SideChange
from faywright.timber.rows import LEAST_ENGAGEMENT

Percent = tuple[float, float]
"""Change of size across and deep since cutting, in percent."""

STILL: Percent = (0.0, 0.0)


def change(percent: Percent, boards: int = 1) -> SideChange:
    """The change of a side, every board alike."""
    across, deep = (np.full(boards, each / 100) for each in percent)
    return SideChange(across, deep)


def moment(
    name: str, grooved: Percent, tongued: Percent | None = None, *, boards: int = 1
) -> Moment:
    """A moment; the tongued side moves as the grooved one unless told."""
    other = grooved if tongued is None else tongued
    return Moment(name, change(grooved, boards), change(other, boards), np.array([8.0, 9.0]))


def moving(
    *seasons: Moment,
    assembly: Moment | None = None,
    rates: tuple[Percent, Percent] = ((0.2, 0.2), (0.2, 0.2)),
    drift: float = 0.0,
    engagement: float = LEAST_ENGAGEMENT,
    boards: int = 1,
) -> Moving:
    """Movement with its seasons; put together as moist as it was cut unless told."""
    start = assembly or moment("assembly", STILL, boards=boards)
    return Moving(
        assembly=start,
        seasons=seasons
        or (moment("driest", STILL, boards=boards), moment("wettest", STILL, boards=boards)),
        rates=(change(rates[0], boards), change(rates[1], boards)),
        drift=drift,
        engagement=engagement,
    )


def row_moving(driest: float, wettest: float, *, assembly: float = 0.0, boards: int = 1) -> Moving:
    """A row whose faces change by these percents since cutting, and do not move in thickness."""
    return moving(
        moment("driest", (0.0, driest), boards=boards),
        moment("wettest", (0.0, wettest), boards=boards),
        assembly=moment("assembly", (0.0, assembly), boards=boards),
    )
