"""One board run over the machine pass by pass: what each pass takes and leaves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from faywright.section.cutting import Pass, Sections, cut

Floats = NDArray[np.float64]

NOTHING = 1e-6
"""Areas and heights below this are nothing. [mm2, mm]"""

Cut = Literal["nothing", "outer side", "fence side", "edge"]


@dataclass(frozen=True, eq=False)
class PassResult:
    """What one pass did to the board, in the machine frame. [mm]

    ``fresh`` names the side of the cutter that left a new upright wall: ``"outer side"`` where
    there is one away from the fence (whether or not there is one by the fence as well),
    ``"fence side"`` where the only new wall is by the fence, ``"edge"`` where the whole edge
    was taken and no wall is left. ``wood_beyond`` tells whether work stands on the far side of
    the cutter at the heights it cuts. ``rubs`` is how much of the shank or arbor touches wood.
    """

    run: Pass
    fresh: Cut
    after: Sections
    area: float = 0.0
    bite_up: float = 0.0
    bite_across: float = 0.0
    wood_beyond: bool = True
    offcut: float = 0.0
    rubs: float = 0.0


def run_passes(thickness: float, width: float, passes: Sequence[Pass]) -> tuple[PassResult, ...]:
    """Run one board through ``passes`` in order and look at every one. [mm]"""
    results = []
    before = cut(thickness, width, [])
    for k in range(len(passes)):
        after = cut(thickness, width, passes[: k + 1])
        results.append(_look(before, after, passes[k], k, thickness))
        before = after
    return tuple(results)


def _look(before: Sections, after: Sections, run: Pass, index: int, thickness: float) -> PassResult:
    cutter = shapely.Polygon(run.silhouette)
    was = shapely.Polygon(run.posture.to_machine(before.points, thickness))
    left = shapely.Polygon(run.posture.to_machine(after.points, thickness))
    taken = shapely.intersection(was, cutter)
    area = float(shapely.area(taken))
    if area < NOTHING:
        return PassResult(run=run, fresh="nothing", after=after)
    y_low, z_low, y_high, z_high = shapely.bounds(taken)
    sides, rubs = _walls(after, run, index, thickness)
    beyond = shapely.box(y_high + NOTHING, z_low, y_high + 1e4, z_high)
    wood_beyond = float(shapely.area(shapely.intersection(left, beyond))) > NOTHING
    fresh: Cut = "outer side" if "outer" in sides else "fence side" if sides else "edge"
    offcut = float(shapely.area(was)) - area - float(shapely.area(left))
    return PassResult(
        run=run,
        area=area,
        bite_up=float(z_high - max(z_low, 0.0)),
        bite_across=float(y_high - max(y_low, 0.0)),
        fresh=fresh,
        wood_beyond=wood_beyond,
        offcut=offcut if offcut > NOTHING else 0.0,
        rubs=rubs,
        after=after,
    )


def _walls(after: Sections, run: Pass, index: int, thickness: float) -> tuple[set[str], float]:
    """Sides of the axis with an upright wall new in this pass, and length of shank rubbing."""
    start = run.posture.to_machine(after.points, thickness)
    end = run.posture.to_machine(after.ends, thickness)
    sides: set[str] = set()
    rubs = 0.0
    for k, label in enumerate(after.source):
        source = after.sources[label]
        if source.run != index:
            continue
        if source.part.startswith("shank"):
            rubs += float(np.hypot(*(end[k] - start[k])))
        if abs(end[k, 1] - start[k, 1]) > NOTHING:
            outer = start[k, 0] + end[k, 0] > 2 * run.axis
            sides.add("outer" if outer else "fence")
    return sides, rubs
