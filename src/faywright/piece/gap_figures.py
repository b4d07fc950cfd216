"""The named gaps of a planned joint in figures: aimed at, as planned, and as errors leave them."""

from __future__ import annotations

from dataclasses import dataclass

from faywright.joints.gaps import BOTTOM, CHEEK_A, CHEEK_B, STEP
from faywright.piece.plan import JointPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class GapFigures:
    """One named gap over all joints of a plan. [mm]

    ``least`` and ``greatest`` are with every setting dead on; from ``low`` to ``high`` it comes
    out 19 times in 20 at the settings as printed, whichever boards meet.
    """

    name: str
    aim: float
    least: float
    greatest: float
    low: float
    high: float


def gap_figures(joint: JointPlan) -> tuple[GapFigures, ...]:
    """Every gap that is to stay open or flush; shoulders are closed, and left out."""
    target, found = joint.task.target, []
    aims = {
        CHEEK_A: target.play / 2,
        CHEEK_B: target.play / 2,
        BOTTOM: target.depth - target.length,
        STEP: 0.0,
    }
    for name, chance in joint.gaps.items():
        measured = joint.simulated.gaps[name]
        found.append(
            GapFigures(
                name=name,
                aim=aims[name],
                least=float(measured.min()),
                greatest=float(measured.max()),
                low=float(chance.low.min()),
                high=float(chance.high.max()),
            )
        )
    return tuple(found)
