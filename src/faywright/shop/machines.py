"""The machine: which way it turns, how fast, and how its lift and fence move."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from faywright.errors import RangeError

Rotation = Literal["anticlockwise", "clockwise"]
FenceSide = Literal["behind the cutter", "before the cutter"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fence:
    """A fence that slides square, or swings about a pivot at one end. [mm]

    For a pivoted fence ``pivot_to_end`` runs to the end that is moved, ``pivot_to_cutter`` to
    the spindle. ``height`` is how far it stands above the table.
    """

    kind: Literal["sliding", "pivoted"] = "sliding"
    length: float = 600.0
    height: float = 75.0
    pivot_to_end: float | None = None
    pivot_to_cutter: float | None = None

    def __post_init__(self) -> None:
        """Sizes above 0; a pivoted fence needs both its distances, the end beyond the cutter."""
        if not (0 < self.length <= 5000 and 0 < self.height <= 1000):
            raise RangeError(
                f"a fence {self.length:g} mm long and {self.height:g} mm high cannot be",
                where="fence",
                remedy="Give its length up to 5,000 mm and its height up to 1,000 mm",
            )
        if self.kind == "sliding":
            return
        if self.pivot_to_end is None or self.pivot_to_cutter is None:
            raise RangeError(
                "the distances of a pivoted fence are missing",
                where="fence",
                remedy="Give pivot_to_end and pivot_to_cutter",
            )
        if not 0 < self.pivot_to_cutter <= self.pivot_to_end <= 10000:
            raise RangeError(
                f"pivot_to_cutter {self.pivot_to_cutter:g} mm is not between 0 and pivot_to_end "
                f"{self.pivot_to_end:g} mm",
                where="fence",
                remedy="Measure both from the pivot, pivot_to_end to the end you move",
            )

    @property
    def ratio(self) -> float:
        """Movement at the adjusting end for each millimetre at the cutter; 1 for sliding."""
        if self.kind == "sliding" or self.pivot_to_end is None or self.pivot_to_cutter is None:
            return 1.0
        return self.pivot_to_end / self.pivot_to_cutter


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """A machine with a vertical spindle and a fence. [mm, rpm]

    ``rotation`` is seen from above; ``fence_side`` as the operator stands. ``work_lift`` is how
    far a board may ride off the table or stray from the fence as it is fed (chips, cup, feed
    pressure); it is anywhere from 0 to that.
    """

    mark: str
    speeds_rpm: tuple[int, ...]
    rotation: Rotation = "anticlockwise"
    fence_side: FenceSide = "behind the cutter"
    fence: Fence = Fence()
    lift_pitch: float | None = None
    table_opening: float | None = None
    work_lift: float = 0.02

    def __post_init__(self) -> None:
        """A spindle turns at some speed; a lift rises when its key turns."""
        if not self.speeds_rpm or min(self.speeds_rpm) <= 0 or max(self.speeds_rpm) > 60000:
            raise RangeError(
                f"spindle speeds {list(self.speeds_rpm)} are not all from 1 to 60,000 rpm",
                where=f"machine {self.mark}",
                remedy="List the speeds the machine can be set to",
            )
        if self.lift_pitch is not None and not 0 < self.lift_pitch <= 25:
            raise RangeError(
                f"a lift of {self.lift_pitch:g} mm a turn is not between 0 and 25 mm",
                where=f"machine {self.mark}",
                remedy="Give how far one turn of the key raises the cutter",
            )
        if self.table_opening is not None and not 0 < self.table_opening <= 500:
            raise RangeError(
                f"a table opening of {self.table_opening:g} mm is not between 0 and 500 mm",
                where=f"machine {self.mark}",
                remedy="Give the diameter of the hole in the table or its insert",
            )
        if not 0 <= self.work_lift <= 1:
            raise RangeError(
                f"work_lift {self.work_lift:g} mm is not between 0 and 1 mm",
                where=f"machine {self.mark}",
                remedy="Give how far a board may ride off the table as it is fed",
            )

    @property
    def outer_side_feed(self) -> Literal["right to left", "left to right"]:
        """Feed that goes against the teeth on the side of the cutter away from the fence.

        Seen from above an anticlockwise cutter's teeth move left to right on the operator's
        side; with the fence behind the cutter that is the outer side, and the work goes against
        them from right to left. Turning the spindle or the fence about swaps the feed.
        """
        usual = self.rotation == "anticlockwise"
        if self.fence_side == "before the cutter":
            usual = not usual
        return "right to left" if usual else "left to right"
