"""The drawing of a solved joint: its tightest pair of boards, put together."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from faywright.drawing.mated import mated_drawing
from faywright.drawing.model import Drawing
from faywright.joints.gaps import Simulated, gap_meetings
from faywright.joints.solution import Solution


def joint_drawing(
    solution: Solution, simulated: Simulated, *, write: Callable[[float], str]
) -> Drawing:
    """Section of the pair with the least clearance, at true size, every gap named."""
    tightest = int(np.argmin(solution.clearance))
    task = solution.task
    marks = (
        task.grooved.marks[solution.first[tightest]],
        task.tongued.marks[solution.second[tightest]],
    )
    for (one, two), (joints, placing) in simulated.placings.items():
        where = np.flatnonzero(joints == tightest)
        if len(where):
            return mated_drawing(
                simulated.grooved[one],
                simulated.tongued[two],
                placing,
                int(where[0]),
                {name: float(values[tightest]) for name, values in simulated.gaps.items()},
                title=f"{task.wanted.name}: {marks[1]} in {marks[0]}",
                write=write,
                parts=marks,
                meetings=gap_meetings(solution),
            )
    raise AssertionError("every joint is placed")
