"""One board run over the machine pass by pass: what each pass takes and leaves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from faywright.section.cutting import Pass

Floats = NDArray[np.float64]

NOTHING = 1e-6
"""Areas and heights below this are nothing. [mm2, mm]"""

Cut = Literal["nothing", "outer side", "fence side", "edge"]


@dataclass(frozen=True, slots=True, eq=False)
class SeenPass:
    """The board as it lies on the machine: as it comes, what is taken, what is left. [mm]

    ``left`` is the board itself; an offcut is in neither ``taken`` nor ``left``.
    """

    before: shapely.Polygon
    taken: shapely.MultiPolygon
    left: shapely.Polygon


@dataclass(frozen=True, slots=True, eq=False)
class PassResult:
    """What one pass did to the board, in the machine frame. [mm]

    ``fresh`` names the side of the cutter that left a new upright wall: ``"outer side"`` where
    there is one away from the fence (whether or not there is one by the fence as well),
    ``"fence side"`` where the only new wall is by the fence, ``"edge"`` where the whole edge
    was taken and no wall is left. ``wood_beyond`` tells whether work stands on the far side of
    the cutter at the heights it cuts. ``rubs`` is how much of the shank or arbor touches wood.
    ``before`` and ``after`` are the board itself, in the joint frame; its size across is
    ``thickness``.
    """

    run: Pass
    thickness: float
    before: shapely.Polygon
    after: shapely.Polygon
    fresh: Cut
    area: float = 0.0
    bite_up: float = 0.0
    bite_across: float = 0.0
    wood_beyond: bool = True
    offcut: float = 0.0
    rubs: float = 0.0

    @property
    def seen(self) -> SeenPass:
        """The same on the machine, for whoever looks along the feed."""
        cutter = shapely.Polygon(self.run.silhouette)
        before, left = (self._on_machine(board) for board in (self.before, self.after))
        taken = _solid(shapely.intersection(before, cutter))
        parts = () if taken is None else shapely.get_parts(taken)
        return SeenPass(before, shapely.MultiPolygon(list(parts)), left)

    def _on_machine(self, board: shapely.Polygon) -> shapely.Polygon:
        points = shapely.get_coordinates(board)
        return shapely.Polygon(self.run.posture.to_machine(points, self.thickness))


def run_passes(thickness: float, width: float, passes: Sequence[Pass]) -> tuple[PassResult, ...]:
    """Run one board through ``passes`` in order and look at every one. [mm]"""
    results = []
    board = shapely.box(0.0, 0.0, thickness, width)
    for run in passes:
        result, board = _pass(board, run, thickness)
        results.append(result)
    return tuple(results)


def _pass(
    board: shapely.Polygon, run: Pass, thickness: float
) -> tuple[PassResult, shapely.Polygon]:
    """One pass over a board in the joint frame: what it does, and what is left."""
    outline = run.posture.to_joint(run.silhouette, thickness)
    cutter = shapely.Polygon(outline)
    taken = _solid(shapely.intersection(board, cutter))
    if taken is None:
        return PassResult(run, thickness, board, board, "nothing"), board
    left = _solid(shapely.difference(board, cutter))
    if left is None:
        gone = shapely.Polygon()
        return PassResult(run, thickness, board, gone, "edge", float(shapely.area(taken))), board
    body = max(shapely.get_parts(left), key=lambda part: (shapely.bounds(part)[3], part.area))
    corners = run.posture.to_machine(shapely.get_coordinates(taken), thickness)
    (y_low, z_low), (y_high, z_high) = corners.min(axis=0), corners.max(axis=0)
    sides, rubs = _walls(board, body, run, outline, thickness)
    after = run.posture.to_machine(shapely.get_coordinates(body), thickness)
    beyond = shapely.box(y_high + NOTHING, z_low, y_high + 1e4, z_high)
    stands = shapely.intersection(shapely.Polygon(after), beyond)
    fresh: Cut = "outer side" if "outer" in sides else "fence side" if sides else "edge"
    offcut = float(shapely.area(left) - shapely.area(body))
    result = PassResult(
        run=run,
        thickness=thickness,
        before=board,
        after=body,
        fresh=fresh,
        area=float(shapely.area(taken)),
        bite_up=float(z_high - max(z_low, 0.0)),
        bite_across=float(y_high - max(y_low, 0.0)),
        wood_beyond=float(shapely.area(stands)) > NOTHING,
        offcut=offcut if offcut > NOTHING else 0.0,
        rubs=rubs,
    )
    return result, body


def _solid(shape: shapely.Geometry) -> shapely.Geometry | None:
    """The parts with an area; shapes that only touch share lines, which are nothing here."""
    parts = [part for part in shapely.get_parts(shape) if shapely.area(part) > NOTHING]
    if not parts:
        return None
    return parts[0] if len(parts) == 1 else shapely.MultiPolygon(parts)


def _walls(
    before: shapely.Geometry,
    after: shapely.Geometry,
    run: Pass,
    outline: Floats,
    thickness: float,
) -> tuple[set[str], float]:
    """Sides of the axis with an upright wall new in this pass, and length of shank rubbing."""
    ring = shapely.get_coordinates(after)
    middle = (ring[1:] + ring[:-1]) / 2
    fresh = shapely.contains_xy(before, middle[:, 0], middle[:, 1])
    fresh &= shapely.distance(shapely.points(middle), shapely.boundary(before)) > NOTHING
    start = run.posture.to_machine(ring[:-1][fresh], thickness)
    end = run.posture.to_machine(ring[1:][fresh], thickness)
    upright = np.abs(end[:, 1] - start[:, 1]) > NOTHING
    outer = start[:, 0] + end[:, 0] > 2 * run.axis
    sides = {"outer"} if (upright & outer).any() else set()
    if (upright & ~outer).any():
        sides.add("fence")
    names = run.profile.silhouette[1]
    shank = [k for k, name in enumerate(names) if name.startswith("shank")]
    stretches = np.stack([outline[shank], np.roll(outline, -1, axis=0)[shank]], axis=1)
    lines = np.asarray(shapely.linestrings(stretches), dtype=np.object_)
    centres = np.asarray(shapely.points(middle[fresh]), dtype=np.object_)
    touching = shapely.distance(centres[:, None], lines[None, :])
    rubbing = (touching < NOTHING).any(axis=1)
    return sides, float(np.hypot(*(end - start)[rubbing].T).sum())
