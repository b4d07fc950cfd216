"""A joint in section and nothing else, for a list: what it is, at a glance."""

from __future__ import annotations

from faywright.drawing.model import Drawing, drawing_around
from faywright.drawing.pairing import mated_pair
from faywright.drawing.standing import Standing
from faywright.drawing.tightest import Tightest
from faywright.joints.gaps import Simulated, gap_meetings
from faywright.joints.solution import Solution

REACH, MARGIN = 16.0, 1.0
"""How far the boards are shown beyond the joint, and bare paper around them. [mm]"""


def small_section(solution: Solution, simulated: Simulated) -> Drawing:
    """Section of the pair with the least clearance at true size, without lettering."""
    tightest = Tightest(solution, simulated)
    placing, pair = tightest.placed
    mated = mated_pair(
        tightest.grooved,
        tightest.tongued,
        placing,
        pair,
        {name: float(values[tightest.joint]) for name, values in simulated.gaps.items()},
        gap_meetings(solution),
        tightest.facing,
    )
    name = solution.task.wanted.name
    facing = tightest.facing
    grooved = [tightest.first, *(() if facing is None else (facing.naming,))]
    boards = f"{tightest.second.name} in {' and '.join(naming.name for naming in grooved)}"
    return drawing_around(
        Standing(mated, REACH).marks,
        title=f"{name} in section",
        description=f"Section across joint {name}: {boards}.",
        margin=MARGIN,
    )
