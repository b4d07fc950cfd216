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
    ``offcut`` is what comes away as a strip, ``offcut_trapped`` whether any of it then lies
    between the cut and the fence. ``faces_up`` tells whether the pass leaves wood under the
    cutter, which work that rides up is pushed into. ``off_table`` and ``off_fence`` are how far
    a board that bore on them no longer does. ``before`` and ``after`` are the board itself, in
    the joint frame; its size across is ``thickness``.
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
    offcut_trapped: bool = False
    rubs: float = 0.0
    faces_up: bool = False
    off_table: float = 0.0
    off_fence: float = 0.0

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
    parts = shapely.get_parts(left)
    body = max(parts, key=lambda part: (shapely.bounds(part)[3], part.area))
    corners = run.posture.to_machine(shapely.get_coordinates(taken), thickness)
    (y_low, z_low), (y_high, z_high) = corners.min(axis=0), corners.max(axis=0)
    fresh = _fresh(board, body, run, thickness)
    sides = _walls(fresh, run)
    after = run.posture.to_machine(shapely.get_coordinates(body), thickness)
    beyond = shapely.box(y_high + NOTHING, z_low, y_high + 1e4, z_high)
    stands = shapely.intersection(shapely.Polygon(after), beyond)
    offcuts = [part for part in parts if part is not body and shapely.area(part) > NOTHING]
    off_fence, off_table = _bearing_lost(board, after, run, thickness)
    result = PassResult(
        run=run,
        thickness=thickness,
        before=board,
        after=body,
        fresh="outer side" if "outer" in sides else "fence side" if sides else "edge",
        area=float(shapely.area(taken)),
        bite_up=float(z_high - max(z_low, 0.0)),
        bite_across=float(y_high - max(y_low, 0.0)),
        wood_beyond=float(shapely.area(stands)) > NOTHING,
        offcut=float(sum(shapely.area(part) for part in offcuts)),
        offcut_trapped=any(_reaches(part, run, thickness) <= y_low + NOTHING for part in offcuts),
        rubs=_rubbing(fresh, run, outline),
        faces_up=_faces_up(fresh, taken, run, thickness),
        off_table=off_table,
        off_fence=off_fence,
    )
    return result, body


def _solid(shape: shapely.Geometry) -> shapely.Geometry | None:
    """The parts with an area; shapes that only touch share lines, which are nothing here."""
    parts = [part for part in shapely.get_parts(shape) if shapely.area(part) > NOTHING]
    if not parts:
        return None
    return parts[0] if len(parts) == 1 else shapely.MultiPolygon(parts)


@dataclass(frozen=True, slots=True, eq=False)
class _Fresh:
    """Stretches of outline new in a pass: ends in the machine frame, middles in the joint's."""

    start: Floats
    end: Floats
    middle: Floats


def _fresh(
    before: shapely.Geometry, after: shapely.Geometry, run: Pass, thickness: float
) -> _Fresh:
    """What of the outline of ``after`` lay inside ``before``."""
    ring = shapely.get_coordinates(after)
    middle = (ring[1:] + ring[:-1]) / 2
    new = shapely.contains_xy(before, middle[:, 0], middle[:, 1])
    new &= shapely.distance(shapely.points(middle), shapely.boundary(before)) > NOTHING
    return _Fresh(
        run.posture.to_machine(ring[:-1][new], thickness),
        run.posture.to_machine(ring[1:][new], thickness),
        middle[new],
    )


def _walls(fresh: _Fresh, run: Pass) -> set[str]:
    """Sides of the axis that have an upright wall new in this pass."""
    upright = np.abs(fresh.end[:, 1] - fresh.start[:, 1]) > NOTHING
    outer = fresh.start[:, 0] + fresh.end[:, 0] > 2 * run.axis
    sides = {"outer"} if (upright & outer).any() else set()
    if (upright & ~outer).any():
        sides.add("fence")
    return sides


def _faces_up(fresh: _Fresh, taken: shapely.Geometry, run: Pass, thickness: float) -> bool:
    """Whether the wood just above some fresh surface is what was taken."""
    lying = np.abs(fresh.end[:, 0] - fresh.start[:, 0]) > NOTHING
    above = (fresh.start[lying] + fresh.end[lying]) / 2 + (0.0, 10 * NOTHING)
    points = run.posture.to_joint(above, thickness)
    return bool(shapely.contains_xy(taken, points[:, 0], points[:, 1]).any())


def _rubbing(fresh: _Fresh, run: Pass, outline: Floats) -> float:
    """Length of fresh surface that the shank or arbor touches."""
    names = run.profile.silhouette[1]
    shank = [k for k, name in enumerate(names) if name.startswith("shank")]
    stretches = np.stack([outline[shank], np.roll(outline, -1, axis=0)[shank]], axis=1)
    lines = np.asarray(shapely.linestrings(stretches), dtype=np.object_)
    centres = np.asarray(shapely.points(fresh.middle), dtype=np.object_)
    touching = shapely.distance(centres[:, None], lines[None, :])
    rubbing = (touching < NOTHING).any(axis=1)
    return float(np.hypot(*(fresh.end - fresh.start)[rubbing].T).sum())


def _reaches(part: shapely.Geometry, run: Pass, thickness: float) -> float:
    """How far out from the fence a part stands."""
    points = run.posture.to_machine(shapely.get_coordinates(part), thickness)
    return float(points[:, 0].max())


def _bearing_lost(
    board: shapely.Geometry, after: Floats, run: Pass, thickness: float
) -> tuple[float, float]:
    """How far from fence and table a board ends that touched them before; 0 where it still does."""
    came = run.posture.to_machine(shapely.get_coordinates(board), thickness).min(axis=0)
    off_fence, off_table = np.where(came <= NOTHING, after.min(axis=0), 0.0)
    return (
        float(off_fence) if off_fence > NOTHING else 0.0,
        float(off_table) if off_table > NOTHING else 0.0,
    )
