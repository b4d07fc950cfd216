"""Runners: wooden tongues under a drawer, loaded most when it is pulled out."""

from __future__ import annotations

from dataclasses import dataclass

from faywright.errors import RangeError
from faywright.timber.allowable import allowable, figure
from faywright.timber.members import LineLoad, Strip, bearing
from faywright.timber.strength import ClearWood, Service
from faywright.timber.verdict import Check, Verdict, Working, above_nought, not_negative

GRAVITY = 9.80665
"""Standard acceleration of free fall, exact by definition. [m/s2]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawer:
    """A drawer on two runners: mass with what is in it [kg], length and pull [mm].

    ``pulled_out`` is how far it stands out, None for half its length; ``lean`` is a hand's push
    down on its front. [N]
    """

    mass_kg: float
    length: float
    pulled_out: float | None = None
    lean: float = 0.0

    def __post_init__(self) -> None:
        """Still partly inside, and loaded downwards."""
        not_negative("drawer", mass=self.mass_kg, lean=self.lean)
        above_nought("drawer", length=self.length)
        if not 0 <= self.out < self.length:
            raise RangeError(
                f"pulled out {self.out:g} mm of {self.length:g} mm",
                where="drawer",
                remedy="Give how far it comes out, from 0 to less than its length",
            )

    @property
    def out(self) -> float:
        """How far it stands out. [mm]"""
        return self.length / 2 if self.pulled_out is None else self.pulled_out

    @property
    def inside(self) -> float:
        """Length still on the runners. [mm]"""
        return self.length - self.out

    def front_load(self) -> Working:
        """Load on the front half of what is still inside, of each of the two runners. [N]

        The drawer's middle carries its weight and its front the lean. The front half of what is
        inside presses down, the back half up or down, each evenly: moments about the middle of
        the back half give the front, 1/4 and 3/4 of the inside length behind the case's front.
        """
        inside, out = self.inside, self.out
        weight = self.mass_kg * GRAVITY
        weight_arm, lean_arm = out - self.length / 2 + 0.75 * inside, out + 0.75 * inside
        moments = f"{figure(weight)} x {figure(weight_arm)}"
        if self.lean:
            moments += f" + {figure(self.lean)} x {figure(lean_arm)}"
        return Working(
            lengths=(("drawer", self.length), ("pulled out", out), ("still inside", inside)),
            sum=f"({moments}) / ({figure(inside)} / 2) / 2",
            result=(weight * weight_arm + self.lean * lean_arm) / inside,
            unit="N",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Runner:
    """A wooden tongue that a drawer's side hangs on, or the half tongue of such a side. [mm]

    ``projection`` is from its root to its nose, ``engagement`` how much of that is in the groove.
    """

    thickness: float
    projection: float
    engagement: float

    def __post_init__(self) -> None:
        """It enters the groove, and no further than it stands out."""
        above_nought("runner", thickness=self.thickness, engagement=self.engagement)
        if not self.engagement <= self.projection < float("inf"):
            raise RangeError(
                f"an engagement of {figure(self.engagement)} mm on a projection of "
                f"{figure(self.projection)} mm",
                where="runner",
                remedy="Give an engagement of at most the projection",
            )


def runner_under_drawer(
    wood: ClearWood, service: Service, drawer: Drawer, runner: Runner
) -> Verdict:
    """A runner under a drawer that is pulled out: at its root, and pressed by the groove.

    The runner's grain runs along it, and it stands out of the solid, or in a groove that holds
    its root: one that hangs on screws alone is as good as its screws, which are not judged.
    """
    load = drawer.front_load()
    line = LineLoad(force=load.result, along=drawer.inside / 2)
    strip = Strip(thickness=runner.thickness, arm=runner.projection - runner.engagement / 2)
    pressed = Check(
        failure="crushing under the groove",
        working=bearing(load.result, line.along, ("engagement", runner.engagement)),
        limit=allowable(wood, "compression across", service),
    )
    return Verdict(
        member="runner",
        load_case=_load_case(drawer),
        checks=(*strip.checks(wood, service, line), pressed),
        load=load,
    )


def _load_case(drawer: Drawer) -> str:
    share = 100 * drawer.out / drawer.length
    stands = f"a drawer of {figure(drawer.mass_kg)} kg stands {share:.0f} % out"
    leaning = f", with {figure(drawer.lean)} N leaning on its front" if drawer.lean else ""
    return (
        f"{stands}{leaning}; of what is still inside, the front half presses down evenly on two "
        "runners, and the back half balances it"
    )
