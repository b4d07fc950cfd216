"""Cutters as they really cut: measured sizes first, marked ones only where nothing is measured."""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from faywright.errors import RangeError
from faywright.section.profile import (
    Profile,
    bead_profile,
    dovetail_profile,
    slot_profile,
    straight_profile,
    tongue_pair_profile,
    v_profile,
)

MARKED_SIZE_HALF_WIDTH = 0.10
"""How far a marked size may be off when nothing was measured. [mm] Common practice, no source:
new straight cutters cut from their marked size to 0.10 mm under, and runout adds some back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSize:
    """A size that decides a fit: as marked, and as measured. [mm]

    ``how`` is ``"trial slot"`` when a slot was cut and measured, so that runout is in it, or
    ``"calipers"`` when the cutter itself was measured. ``uncertainty`` is the standard uncertainty
    of what it cuts, None for that of one reading of the calipers.
    """

    marked: float
    measured: float | None = None
    how: Literal["trial slot", "calipers"] = "trial slot"
    on: datetime.date | None = None
    uncertainty: float | None = None

    def __post_init__(self) -> None:
        """A measurement far from the mark is a slip, not a cutter."""
        if not 0 < self.marked <= 200:
            raise RangeError(
                f"a marked size of {self.marked:g} mm is not between 0 and 200 mm",
                where="cutter",
                remedy="Give the size on the shank",
            )
        if self.measured is not None and not (
            abs(self.measured - self.marked) <= 0.1 * self.marked
        ):
            raise RangeError(
                f"measured {self.measured:g} mm is more than a tenth off the marked "
                f"{self.marked:g} mm",
                where="cutter",
                remedy="Measure again, and check the units of both",
            )

    def cuts(self, runout: float) -> float:
        """What it cuts in wood, given the cutter's total indicated runout. [mm]"""
        if self.measured is not None and self.how == "trial slot":
            return self.measured
        return (self.marked if self.measured is None else self.measured) + runout


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """What all cutters have. [mm, rpm]

    ``runout`` is the total reading of a dial indicator over one turn. ``reach`` is the greatest
    height of the cutter's top above the table with the shank safely held.
    """

    mark: str
    flutes: int
    reach: float
    runout: float = 0.0
    shank: float = 12.7
    max_speed_rpm: int | None = None

    def __post_init__(self) -> None:
        """Flutes, reach, runout and speed within what a cutter can be."""
        if not 1 <= self.flutes <= 12:
            self._refuse(f"{self.flutes} flutes are not between 1 and 12", "Count the edges")
        if not 0 < self.reach <= 200:
            self._refuse(
                f"a reach of {self.reach:g} mm is not between 0 and 200 mm",
                "Give how far its top can stand above the table",
            )
        if not 0 <= self.runout <= 1:
            self._refuse(
                f"a runout of {self.runout:g} mm is not between 0 and 1 mm",
                "Give the total reading of a dial indicator over one turn",
            )
        if not 2 <= self.shank <= 40:
            self._refuse(
                f"a shank of {self.shank:g} mm is not between 2 and 40 mm", "Measure the shank"
            )
        if self.max_speed_rpm is not None and not 1000 <= self.max_speed_rpm <= 60000:
            self._refuse(
                f"a greatest speed of {self.max_speed_rpm} rpm is not between 1,000 and 60,000",
                "Read the marking on the shank",
            )

    def _refuse(self, what: str, remedy: str) -> None:
        raise RangeError(what, where=f"cutter {self.mark}", remedy=remedy)

    @property
    def profile(self) -> Profile:
        """The half profile it turns, runout included; made once."""
        return _profile_of(self)

    def turned(self) -> Profile:
        """Make the profile."""
        raise NotImplementedError

    @property
    def fit_size(self) -> CutSize | None:
        """The size that decides a fit; None for cutters that only shape an edge."""
        return None

    @property
    def cut_size(self) -> float | None:
        """What that size really cuts, runout included where it counts. [mm]"""
        return None

    @property
    def swept_diameter(self) -> float:
        """Greatest diameter it turns. [mm]"""
        return 2 * self.profile.radius


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightCutter(Cutter):
    """A plain cylinder; ``diameter`` decides the width of a groove cut in one pass."""

    diameter: CutSize
    cutting_length: float

    def __post_init__(self) -> None:
        """The cutting edge has a length."""
        Cutter.__post_init__(self)
        if not 0 < self.cutting_length <= 150:
            self._refuse(
                f"a cutting length of {self.cutting_length:g} mm is not between 0 and 150 mm",
                "Measure the length of the cutting edge",
            )

    @property
    def fit_size(self) -> CutSize:
        """The size that decides a fit."""
        return self.diameter

    @property
    def cut_size(self) -> float:
        """What that size really cuts. [mm]"""
        return self.cut_diameter

    @property
    def cut_diameter(self) -> float:
        """Width of slot it really cuts. [mm]"""
        return self.diameter.cuts(self.runout)

    def turned(self) -> Profile:
        """Cylinder, then shank."""
        radius = self.cut_diameter / 2
        return straight_profile(radius, self.cutting_length, min(radius, self.shank / 2))


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotCutter(Cutter):
    """A flat wing cutter on an arbor; ``thickness`` decides the width of its slot.

    ``slot_depth`` is how deep it can cut before the arbor or bearing touches.
    """

    thickness: CutSize
    diameter: float
    slot_depth: float

    def __post_init__(self) -> None:
        """The arbor has to have some thickness left."""
        Cutter.__post_init__(self)
        if not 0 < self.slot_depth < self.diameter / 2 <= 75:
            self._refuse(
                f"a slot depth of {self.slot_depth:g} mm does not go with a diameter of "
                f"{self.diameter:g} mm",
                "Give the cutting circle, up to 150 mm, and a slot depth below half of it",
            )

    @property
    def fit_size(self) -> CutSize:
        """The size that decides a fit."""
        return self.thickness

    @property
    def cut_size(self) -> float:
        """What that size really cuts. [mm]"""
        return self.cut_thickness

    @property
    def cut_thickness(self) -> float:
        """Width of slot it really cuts. [mm]"""
        return self.thickness.cuts(0.0)

    def turned(self) -> Profile:
        """Wing, then arbor."""
        radius = (self.diameter + self.runout) / 2
        return slot_profile(radius, self.cut_thickness, radius - self.slot_depth)


@dataclass(frozen=True, slots=True, kw_only=True)
class TonguePairCutter(Cutter):
    """The tongue half of a matched pair: two wings that leave a tongue between them."""

    tongue: CutSize
    diameter: float
    wing: float
    tongue_length: float

    def __post_init__(self) -> None:
        """Wings and hub within the cutting circle."""
        Cutter.__post_init__(self)
        if not (0 < self.tongue_length < self.diameter / 2 <= 75 and 0 < self.wing <= 50):
            self._refuse(
                f"a tongue length of {self.tongue_length:g} mm and wings of {self.wing:g} mm do "
                f"not go with a diameter of {self.diameter:g} mm",
                "Give the cutting circle, the thickness of one wing and the length of tongue",
            )

    @property
    def fit_size(self) -> CutSize:
        """The size that decides a fit."""
        return self.tongue

    @property
    def cut_size(self) -> float:
        """What that size really cuts. [mm]"""
        return self.cut_tongue

    @property
    def cut_tongue(self) -> float:
        """Thickness of tongue it really leaves. [mm]"""
        return self.tongue.cuts(0.0)

    def turned(self) -> Profile:
        """Wing, hub, wing, then arbor."""
        radius = (self.diameter + self.runout) / 2
        hub = radius - self.tongue_length
        return tongue_pair_profile(
            radius, self.wing, self.cut_tongue, hub, min(hub, self.shank / 2)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class VCutter(Cutter):
    """A V cutter, point up."""

    diameter: float
    angle_deg: float

    def __post_init__(self) -> None:
        """A V has an angle."""
        Cutter.__post_init__(self)
        if not (20 <= self.angle_deg <= 160 and 0 < self.diameter <= 100):
            self._refuse(
                f"an angle of {self.angle_deg:g} degrees and a diameter of {self.diameter:g} mm "
                "are not both usual",
                "Give the angle between the flanks, 20 to 160 degrees, and the greatest diameter",
            )

    def turned(self) -> Profile:
        """Two flanks from a point."""
        return v_profile((self.diameter + self.runout) / 2, self.angle_deg)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeadCutter(Cutter):
    """A rounding-over cutter with a small flat at its top, which leaves a bead."""

    radius: float
    point: float

    def __post_init__(self) -> None:
        """A bead has a radius."""
        Cutter.__post_init__(self)
        if not (0 < self.radius <= 40 and 0 <= self.point <= 40):
            self._refuse(
                f"a radius of {self.radius:g} mm and a point of {self.point:g} mm are not both "
                "usual",
                "Give the radius of the round and the diameter of the flat at the top",
            )

    def turned(self) -> Profile:
        """A flat point, then a hollow quarter."""
        return bead_profile(self.radius, (self.point + self.runout) / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class DovetailCutter(Cutter):
    """A dovetail cutter, widest at its top."""

    diameter: CutSize
    height: float
    angle_deg: float

    def __post_init__(self) -> None:
        """The neck has to have some thickness left."""
        Cutter.__post_init__(self)
        size = min(self.diameter.marked, self.diameter.measured or self.diameter.marked)
        lean = 2 * self.height * math.tan(math.radians(self.angle_deg))
        if not (self.height > 0 and 0 < self.angle_deg <= 45 and lean < size):
            self._refuse(
                f"flanks of {self.angle_deg:g} degrees over {self.height:g} mm leave no neck",
                "Give the height of the flank and its angle from the axis",
            )

    def turned(self) -> Profile:
        """Flanks leaning in to the neck."""
        return dovetail_profile(self.diameter.cuts(self.runout) / 2, self.height, self.angle_deg)


@lru_cache(maxsize=512)
def _profile_of(cutter: Cutter) -> Profile:
    return cutter.turned()
