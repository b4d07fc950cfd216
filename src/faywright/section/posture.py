"""How the work lies on the machine, and where its section then is.

Joint frame of a part: ``u`` from face A into the thickness, ``v`` inwards from the edge being
jointed. Machine frame, looking along the feed: ``y`` out of the fence, ``z`` up from the table.
"""

from __future__ import annotations

from enum import Enum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


class Posture(Enum):
    """What is down on the table and what is against the fence."""

    ON_EDGE_A = ("jointed edge", "face A")
    ON_EDGE_B = ("jointed edge", "face B")
    FLAT_A = ("face A", "jointed edge")
    FLAT_B = ("face B", "jointed edge")

    @property
    def down(self) -> str:
        """What lies on the table."""
        return str(self.value[0])

    @property
    def against(self) -> str:
        """What runs along the fence."""
        return str(self.value[1])

    @property
    def flat(self) -> bool:
        """Whether a face lies on the table."""
        return self in (Posture.FLAT_A, Posture.FLAT_B)

    @property
    def turned(self) -> bool:
        """Whether face B is the one that touches fence or table."""
        return self in (Posture.ON_EDGE_B, Posture.FLAT_B)

    def to_machine(self, points: Floats, thickness: Floats | float) -> Floats:
        """Joint-frame ``points`` (..., 2) in the machine frame; ``thickness`` broadcasts. [mm]"""
        u, v = points[..., 0], points[..., 1]
        if self.turned:
            u = thickness - u
        return np.stack([v, u] if self.flat else [u, v], axis=-1)

    def to_joint(self, points: Floats, thickness: Floats | float) -> Floats:
        """Machine-frame ``points`` (..., 2) in the joint frame; undoes :meth:`to_machine`. [mm]"""
        first, second = points[..., 0], points[..., 1]
        u, v = (second, first) if self.flat else (first, second)
        if self.turned:
            u = thickness - u
        return np.stack(np.broadcast_arrays(u, v), axis=-1)
