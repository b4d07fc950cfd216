"""The kernel: outlines of boards less the silhouette of the cutter, pass by pass.

Boards run through the same setup together, so the kernel cuts a whole pile at once: same passes,
each board at its own thickness. Every edge of a result remembers what it came from.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from faywright.errors import DisagreementError, InputError, RangeError
from faywright.section.posture import Posture
from faywright.section.profile import Profile

Floats = NDArray[np.float64]

ON_SURFACE = 1e-7
"""An edge whose ends lie this close to a surface is part of it. [mm]"""

HIGHEST = 500.0
"""Highest a cutter can stand, and furthest from the fence. [mm]"""

FIN = 1e-8
"""Edges shorter than this are left by rounding, not by a cutter. [mm]"""

GRID = 1e-9
"""Grid of the overlay where fins have to be closed. [mm]"""

FACE_A, FACE_B, EDGE, BACK = "face A", "face B", "edge", "back"


@dataclass(frozen=True)
class Pass:
    """One run of the work over the cutter, in the machine frame. [mm]

    ``height`` is from the table to the cutter's top, ``axis`` from the fence face to the spindle
    axis (negative: behind the fence face). ``makes`` names the surface each part of the cutter
    leaves, by part and side as in :attr:`Profile.silhouette`.
    """

    profile: Profile
    height: float
    axis: float
    posture: Posture
    makes: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Height and axis are finite and within a machine; ``makes`` names parts there are."""
        if not (abs(self.height) <= HIGHEST and abs(self.axis) <= HIGHEST):
            raise RangeError(
                f"height {self.height:g} mm and axis {self.axis:g} mm are not both within "
                f"{HIGHEST:g} mm",
                where="pass",
                remedy="Give where the cutter stands on the machine",
            )
        unknown = set(self.makes) - set(self.profile.silhouette[1])
        if unknown:
            raise InputError(
                f"the cutter has no part {min(unknown)!r}",
                where="pass",
                remedy=f"Name surfaces by its parts: {', '.join(self.profile.silhouette[1])}",
            )

    @property
    def silhouette(self) -> Floats:
        """The cutter's outline in the machine frame, (m, 2)."""
        return self.profile.silhouette[0] + (self.axis, self.height)


@dataclass(frozen=True, slots=True)
class Source:
    """What an edge came from: a face of the blank, or a part of the cutter in one pass."""

    surface: str
    run: int | None = None
    part: str = ""


@dataclass(frozen=True)
class Sections:
    """Cross-sections of ``n`` boards in the joint frame, with labelled edges. [mm]

    ``points`` (m, 2) holds the corners of all boards one after the other, anticlockwise;
    board ``i`` has those from ``starts[i]`` to ``starts[i + 1]``. The edge that leaves corner
    ``k`` came from ``sources[source[k]]``.
    """

    thickness: Floats
    width: Floats
    points: Floats
    starts: NDArray[np.int64]
    source: NDArray[np.int64]
    sources: tuple[Source, ...]

    def __len__(self) -> int:
        """Number of boards."""
        return len(self.thickness)

    @cached_property
    def board(self) -> NDArray[np.int64]:
        """Which board each corner belongs to, (m,)."""
        return np.repeat(np.arange(len(self)), np.diff(self.starts))

    @cached_property
    def ends(self) -> Floats:
        """Where the edge that leaves each corner ends, (m, 2)."""
        following = np.arange(1, len(self.points) + 1)
        following[self.starts[1:] - 1] = self.starts[:-1]
        return self.points[following]

    @cached_property
    def area(self) -> Floats:
        """Area of each section, (n,). [mm2]"""
        (x1, y1), (x2, y2) = self.points.T, self.ends.T
        return 0.5 * np.add.reduceat(x1 * y2 - x2 * y1, self.starts[:-1])

    @cached_property
    def polygons(self) -> NDArray[np.object_]:
        """The same outlines as shapely polygons, (n,)."""
        rings = shapely.linearrings(self.points, indices=self.board)
        return _shapes(shapely.polygons(rings))

    def surfaces(self, board: int = 0) -> tuple[str, ...]:
        """Names of the surfaces of one board, in the order they are met."""
        part = self.source[self.starts[board] : self.starts[board + 1]]
        return tuple(dict.fromkeys(self.sources[s].surface for s in part))

    def edges(self, surface: str, board: int = 0) -> Floats:
        """The edges (k, 2, 2) of one board that belong to ``surface``; empty if it has none."""
        here = slice(self.starts[board], self.starts[board + 1])
        wanted = self._named(surface)[here]
        return np.stack([self.points[here][wanted], self.ends[here][wanted]], axis=1)

    def span(self, surface: str, axis: int) -> tuple[Floats, Floats]:
        """Least and greatest coordinate of ``surface`` on every board, (n,) each.

        ``axis`` 0 is u (from face A), 1 is v (from the jointed edge). Boards without that
        surface get not-a-number.
        """
        wanted = self._named(surface)
        low = np.full(len(self), np.inf)
        high = np.full(len(self), -np.inf)
        for end in (self.points, self.ends):
            np.minimum.at(low, self.board[wanted], end[wanted, axis])
            np.maximum.at(high, self.board[wanted], end[wanted, axis])
        missing = low > high
        low[missing] = high[missing] = np.nan
        return low, high

    def position(self, surface: str, axis: int) -> Floats:
        """Where a surface parallel to the other axis stands on every board, (n,).

        Raises
        ------
        InputError
            A board lacks the surface, or it is not parallel to the other axis.
        """
        low, high = self.span(surface, axis)
        if np.isnan(low).any():
            lacking = int(np.argmax(np.isnan(low)))
            raise InputError(
                f"board {lacking} has no surface {surface!r}",
                where="section",
                remedy=f"Ask for one of: {', '.join(self.surfaces(lacking))}",
            )
        if (high - low > ON_SURFACE).any():
            raise InputError(
                f"{surface!r} is not square to the axis it is measured along",
                where="section",
                remedy="Measure its gap with narrowest_gap() instead",
            )
        return (low + high) / 2

    def _named(self, surface: str) -> NDArray[np.bool_]:
        wanted = [k for k, source in enumerate(self.sources) if source.surface == surface]
        return np.isin(self.source, wanted)


def cut(thickness: float, width: float, passes: Sequence[Pass]) -> Sections:
    """One board after ``passes``, in order; see :func:`cut_boards`. [mm]"""
    return cut_boards(np.array([thickness]), np.array([width]), passes)


def cut_boards(thickness: Floats, width: Floats, passes: Sequence[Pass]) -> Sections:
    """Sections of a pile of boards after the same ``passes``. [mm]

    Parameters
    ----------
    thickness, width
        Size of each blank along u and v, (n,).
    passes
        In the order they are made. What falls off as an offcut is left out: the part that
        reaches the back of the board is kept.

    Raises
    ------
    RangeError
        A size is not above 0, or the passes leave nothing of a board.
    DisagreementError
        An edge of a result lies on no surface that could have made it.
    """
    thickness, width = np.broadcast_arrays(
        np.asarray(thickness, dtype=np.float64), np.asarray(width, dtype=np.float64)
    )
    sizes = np.concatenate([thickness.ravel(), width.ravel()])
    if len(sizes) == 0 or not ((sizes > 0) & np.isfinite(sizes)).all():
        raise RangeError(
            "thickness and width must be above 0, for at least one board",
            where="board to cut",
            remedy="Give both sizes in millimetres",
        )
    outlines = [_blanks(thickness, width), *(_silhouettes(run, thickness) for run in passes)]
    bodies = _bodies(_cut_away(outlines), width)
    fins = _has_fins(bodies)
    if fins.any():
        own = [outline if len(outline) == 1 else outline[fins] for outline in outlines]
        bodies[fins] = _bodies(_cut_away(own, grid=GRID), width[fins])
    return _label(thickness, width, bodies, outlines, passes)


def _cut_away(outlines: Sequence[Floats], *, grid: float | None = None) -> NDArray[np.object_]:
    """The first outline of every board less all the others, in order."""
    result = _shapes(shapely.polygons(outlines[0]))
    for outline in outlines[1:]:
        cutter = shapely.polygons(outline)
        result = _shapes(shapely.difference(result, cutter, grid_size=grid))
    return result


def _has_fins(bodies: NDArray[np.object_]) -> NDArray[np.bool_]:
    """Which outlines have an edge too short to be one.

    Passes that should meet exactly may leave a fin some 1e-15 mm thick between them, as
    arithmetic rounds; on a grid they meet. The grid is slow, so only those boards see it.
    """
    points, board = shapely.get_coordinates(bodies, return_index=True)
    step = np.hypot(*np.diff(points, axis=0).T)
    short = (step < FIN) & (board[1:] == board[:-1])
    found: NDArray[np.bool_] = np.zeros(len(bodies), dtype=np.bool_)
    found[board[1:][short]] = True
    return found


def _shapes(shapes: object) -> NDArray[np.object_]:
    """Geometries as an array, also where there is just one."""
    return np.atleast_1d(np.asarray(shapes, dtype=np.object_))


def _blanks(thickness: Floats, width: Floats) -> Floats:
    corners = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], dtype=np.float64)
    return corners * np.stack([thickness, width], axis=-1)[:, None, :]


def _silhouettes(run: Pass, thickness: Floats) -> Floats:
    """The cutter as each board sees it, (n, m, 2), or (1, m, 2) where all see the same."""
    outline = run.silhouette[None]
    if not run.posture.turned:
        return run.posture.to_joint(outline, 0.0)
    return run.posture.to_joint(outline, thickness[:, None])


def _bodies(shapes: NDArray[np.object_], width: Floats) -> NDArray[np.object_]:
    """The part of each shape that reaches the back: the board itself rather than its offcuts."""
    parts, board = shapely.get_parts(shapes, return_index=True)
    reaches = shapely.bounds(parts)[:, 3] > width[board] - 2 * GRID
    parts, board = parts[reaches], board[reaches]
    order = np.lexsort((-shapely.area(parts), board))
    boards, first = np.unique(board[order], return_index=True)
    if len(boards) < len(shapes):
        raise RangeError(
            "the passes leave nothing at the back of the board",
            where="section",
            remedy="Lower the cutter or bring the fence forward",
        )
    return _shapes(shapely.orient_polygons(parts[order][first]))


def _label(
    thickness: Floats,
    width: Floats,
    bodies: NDArray[np.object_],
    outlines: Sequence[Floats],
    passes: Sequence[Pass],
) -> Sections:
    coordinates, ring = shapely.get_coordinates(
        shapely.get_exterior_ring(bodies), return_index=True
    )
    last = np.append(ring[1:] != ring[:-1], True)
    points, ends = coordinates[~last], coordinates[1:][~last[:-1]]
    board = ring[~last]
    blank = [Source(EDGE), Source(FACE_B), Source(BACK), Source(FACE_A)]
    names = [blank, *(_sources(k, run) for k, run in enumerate(passes))]
    source = np.full(len(points), -1)
    offset = 0
    for outline, named in zip(outlines, names, strict=True):
        corners = np.concatenate([outline, outline[:, :1]], axis=1)
        for k in range(len(named)):
            free = np.flatnonzero(source < 0)
            stretch = corners[:, k : k + 2]
            if len(stretch) > 1:
                stretch = stretch[board[free]]
            on = _lies_on(points[free], ends[free], stretch)
            source[free[on]] = offset + k
        offset += len(named)
    if (source < 0).any():
        lost = int(np.argmax(source < 0))
        raise DisagreementError(
            f"an edge from ({points[lost, 0]:.6f}, {points[lost, 1]:.6f}) to "
            f"({ends[lost, 0]:.6f}, {ends[lost, 1]:.6f}) lies on no surface",
            where="section kernel",
            remedy="Report this with the piece file: it is an error in Faywright",
        )
    starts = np.searchsorted(board, np.arange(len(thickness) + 1))
    flat = tuple(source for named in names for source in named)
    return Sections(thickness, width, points, starts, source, flat)


def _sources(index: int, run: Pass) -> list[Source]:
    return [
        Source(run.makes.get(part, f"{part}, pass {index + 1}"), index, part)
        for part in run.profile.silhouette[1]
    ]


def _lies_on(points: Floats, ends: Floats, stretch: Floats) -> NDArray[np.bool_]:
    """Which of the edges lie on a stretch (n, 2, 2) of some surface.

    The first surface to claim an edge keeps it: a later pass along a surface that is there
    already cuts nothing.
    """
    start, along = stretch[:, 0], stretch[:, 1] - stretch[:, 0]
    length = np.hypot(along[:, 0], along[:, 1])
    along = along / np.where(length > 0, length, 1.0)[:, None]
    one, two = points - start, ends - start
    off = np.maximum(
        np.abs(one[:, 0] * along[:, 1] - one[:, 1] * along[:, 0]),
        np.abs(two[:, 0] * along[:, 1] - two[:, 1] * along[:, 0]),
    )
    middle = ((one + two) * along).sum(axis=1) / 2
    on: NDArray[np.bool_] = (length > 0) & (off < ON_SURFACE)
    on &= (middle > -ON_SURFACE) & (middle < length + ON_SURFACE)
    return on
