"""What a joint has to carry, as the maker says it."""

from __future__ import annotations

from dataclasses import dataclass

from faywright.timber.members import LineLoad
from faywright.timber.strength import Service
from faywright.timber.verdict import above_nought, not_negative


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerLoad:
    """A drawer that hangs on two runners: its mass with what is in it [kg], lengths in mm.

    ``lean`` is a hand's push down on its front [N]; ``pulled_out`` None for half its length;
    ``projection`` how far the runner stands out of the wood that holds it, None where it is as
    much as enters the groove.
    """

    mass_kg: float
    lean: float = 0.0
    pulled_out: float | None = None
    projection: float | None = None

    def __post_init__(self) -> None:
        """Nothing is lifted, and what is told stands out."""
        not_negative("drawer", drawer_kg=self.mass_kg, lean=self.lean)
        if self.pulled_out is not None:
            not_negative("drawer", pulled_out=self.pulled_out)
        if self.projection is not None:
            above_nought("drawer", projection=self.projection)


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A push on the joint's side or a hanging drawer, and what the wood lives with meanwhile."""

    carries: LineLoad | DrawerLoad
    service: Service
