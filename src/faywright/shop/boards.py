"""Boards as measured: repeated thickness readings, and what they say together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from faywright.errors import RangeError
from faywright.timber.movement import Grain

THINNEST, THICKEST = 1.0, 200.0
"""Thickness a board can have. [mm]"""

Timber = Literal["softwood", "hardwood", "sheet"]
Side = Literal["reference edge", "opposite edge"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Board:
    """One board on hand. [mm]

    ``readings`` (along, across) are thicknesses, zero error of the calipers taken off: a row for
    each place along the board, a column for each place across it from the reference edge to the
    opposite one. A plain list is taken as readings along. ``rings`` is how it was sawn, or the
    angle of its rings to its width in degrees; ``moisture`` what a meter reads on the day of
    cutting, in percent of dry mass. None where not known.
    """

    mark: str
    readings: NDArray[np.float64]
    width: float
    length: float
    species: str = ""
    timber: Timber = "softwood"
    rings: Grain | float | None = None
    moisture: float | None = None

    def __post_init__(self) -> None:
        """Readings must be there, finite, and of a thickness a board can have."""
        readings = np.array(self.readings, dtype=np.float64)
        if readings.ndim < 2:
            readings = readings.reshape(-1, 1)
        object.__setattr__(self, "readings", readings)
        if readings.size == 0 or not np.isfinite(readings).all():
            raise RangeError(
                "a thickness reading is missing",
                where=f"board {self.mark}",
                remedy="Measure it again; leave out a place you cannot reach, do not write 0",
            )
        if readings.min() < THINNEST or readings.max() > THICKEST:
            odd = readings.min() if readings.min() < THINNEST else readings.max()
            raise RangeError(
                f"a thickness of {odd:g} mm is not between {THINNEST:g} and {THICKEST:g} mm",
                where=f"board {self.mark}",
                remedy="Check the decimal point and the units",
            )
        for name, size in (("width", self.width), ("length", self.length)):
            if not 0 < size <= 20000:
                raise RangeError(
                    f"a {name} of {size:g} mm is not between 0 and 20,000 mm",
                    where=f"board {self.mark}",
                    remedy="Check the decimal point and the units",
                )

    @property
    def thickness(self) -> float:
        """Mean of all readings. [mm]"""
        return float(self.readings.mean())

    def thickness_at(self, side: Side) -> float:
        """Mean of the readings nearest one long edge. [mm]"""
        return float(self.readings[:, 0 if side == "reference edge" else -1].mean())

    @property
    def along(self) -> float:
        """Range of the readings along the board, the worst column. [mm]"""
        return float(np.ptp(self.readings, axis=0).max())


def scatter_along(boards: tuple[Board, ...]) -> float | None:
    """Standard deviation of thickness along a board, pooled over all boards. [mm]

    Each column of each board is taken about its own mean, so that differences between boards and
    across them do not count. None where no board was read more than once along its length.
    """
    squares = sum(float(((b.readings - b.readings.mean(axis=0)) ** 2).sum()) for b in boards)
    freedom = sum((b.readings.shape[0] - 1) * b.readings.shape[1] for b in boards)
    return None if freedom == 0 else float(np.sqrt(squares / freedom))
