"""What a cutter leaves of a board along a few straight lines across its edge, by plain arithmetic.

A needle pushed through a board from face A to face B, at some depth below the jointed edge,
meets wood and air. Each pass takes away one stretch of it. This knows nothing of closed forms and
nothing of polygons, so that both can be checked with it. Cutters are cylinders and flat wings.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faywright.section.posture import Posture

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blade:
    """A cutter as it really is; it cuts for ``length`` down from its top. [mm]"""

    diameter: float
    length: float


@dataclass(eq=False)
class Needles:
    """Pieces of ``thickness`` (n,) pierced at ``depths`` (m,) from their jointed edge. [mm]

    ``low`` and ``high`` (m, n) are the ends of the tongue that is left, or the walls of the
    groove that is cut, from face A. Of a groove not begun they are not-a-number.
    """

    thickness: Floats
    depths: Floats
    groove: bool
    low: Floats
    high: Floats

    @staticmethod
    def through(thickness: Floats, depths: Floats, *, groove: bool) -> Needles:
        """Through pieces not yet cut."""
        shape = (len(depths), len(thickness))
        low, high = np.zeros(shape), np.broadcast_to(thickness, shape).copy()
        if groove:
            low, high = np.full(shape, np.nan), np.full(shape, np.nan)
        return Needles(thickness, depths, groove, low, high)

    def only(self, pieces: NDArray[np.int64]) -> Needles:
        """A copy of some of the pieces."""
        low, high = self.low[:, pieces], self.high[:, pieces]
        return Needles(self.thickness[pieces], self.depths, self.groove, low, high)

    def cut(
        self, blade: Blade, posture: Posture, top: float, far: float, ride: Floats, stray: Floats
    ) -> None:
        """One pass of every piece; ``ride`` off the table and ``stray`` from the fence, (n,)."""
        tops, fars = top - ride, far - stray
        bottoms, nears = tops - blade.length, fars - blade.diameter
        if posture.flat:
            reached = (nears < self.depths[:, None]) & (self.depths[:, None] < fars)
            low, high = bottoms, tops
        else:
            reached = (bottoms < self.depths[:, None]) & (self.depths[:, None] < tops)
            low, high = nears, fars
        if posture.turned:
            low, high = self.thickness - high, self.thickness - low
        reached &= (high > 0) & (low < self.thickness)
        if self.groove:
            self._widen(np.where(reached, low, np.nan), np.where(reached, high, np.nan))
        else:
            self._pare(np.where(reached, low, np.nan), np.where(reached, high, np.nan))

    def _widen(self, low: Floats, high: Floats) -> None:
        if (low > self.high).any() or (high < self.low).any():
            raise ValueError("a rib is left in the groove")
        self.low, self.high = np.fmin(self.low, low), np.fmax(self.high, high)

    def _pare(self, low: Floats, high: Floats) -> None:
        below, above = low <= self.low, high >= self.high
        nothing = np.isnan(low) | (high <= self.low) | (low >= self.high)
        if not (below ^ above | nothing).all():
            raise ValueError("a pass cuts into the middle of the tongue, or takes it off")
        self.low = np.where(below & ~nothing, high, self.low)
        self.high = np.where(above & ~nothing, low, self.high)

    @property
    def size(self) -> Floats:
        """Where a gauge would bind: the narrowest of a groove, the thickest of a tongue, (n,)."""
        across = self.high - self.low
        binding: Floats = across.min(axis=0) if self.groove else across.max(axis=0)
        return binding

    @property
    def near(self) -> Floats:
        """The wall beside face A where it is thickest, or the face-A cheek at its shallowest."""
        found: Floats = self.low.max(axis=0) if self.groove else self.low.min(axis=0)
        return found
