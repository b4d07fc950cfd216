"""The drawing of a solved joint: its tightest pair of boards, put together."""

from __future__ import annotations

from collections.abc import Callable

from faywright.drawing.mated import mated_drawing
from faywright.drawing.model import Drawing
from faywright.drawing.tightest import Tightest
from faywright.joints.gaps import Simulated, gap_meetings
from faywright.joints.solution import Solution


def joint_drawing(
    solution: Solution, simulated: Simulated, *, write: Callable[[float], str]
) -> Drawing:
    """Section of the pair with the least clearance, at true size, every gap named."""
    tightest = Tightest(solution, simulated)
    grooved, tongued, facing = tightest.first, tightest.second, tightest.facing
    where = grooved.name if facing is None else f"{grooved.name} and {facing.naming.name}"
    placing, pair = tightest.placed
    return mated_drawing(
        tightest.grooved,
        tightest.tongued,
        placing,
        pair,
        {name: float(values[tightest.joint]) for name, values in simulated.gaps.items()},
        title=f"{solution.task.wanted.name}: {tongued.name} in {where}",
        write=write,
        parts=(grooved, tongued),
        meetings=gap_meetings(solution),
        facing=facing,
    )
