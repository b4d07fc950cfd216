"""The drawing of a solved joint: its tightest pair of boards, put together."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from faywright.drawing.mated import mated_drawing
from faywright.drawing.model import Drawing
from faywright.drawing.naming import Naming
from faywright.drawing.pairing import Facing
from faywright.joints.gaps import Simulated, gap_meetings
from faywright.joints.solution import Solution
from faywright.joints.work import Work
from faywright.section.mating import Placing


def joint_drawing(
    solution: Solution, simulated: Simulated, *, write: Callable[[float], str]
) -> Drawing:
    """Section of the pair with the least clearance, at true size, every gap named."""
    tightest = int(np.argmin(solution.clearance))
    task = solution.task
    grooved = _naming(task.grooved, int(solution.first[tightest]))
    tongued = _naming(task.tongued, int(solution.second[tightest]), strip=task.strip)
    facing = _facing(solution, simulated, tightest)
    where = grooved.name if facing is None else f"{grooved.name} and {facing.naming.name}"
    one, two, placing, pair = _placed(simulated, tightest)
    return mated_drawing(
        simulated.grooved[one],
        simulated.tongued[two],
        placing,
        pair,
        {name: float(values[tightest]) for name, values in simulated.gaps.items()},
        title=f"{task.wanted.name}: {tongued.name} in {where}",
        write=write,
        parts=(grooved, tongued),
        meetings=gap_meetings(solution),
        facing=facing,
    )


def _naming(work: Work, board: int, *, strip: bool = False) -> Naming:
    """A board by its mark; a strip has no face to keep up."""
    if strip:
        return Naming(work.marks[board], None)
    edge = work.place.edge
    face = edge if edge in ("face A", "face B") else None
    return Naming(work.marks[board], work.called("face A"), face)


def _placed(simulated: Simulated, joint: int) -> tuple[int, int, Placing, int]:
    """Groups of the grooved and the tongued part of a joint, and its place among their pairs."""
    for (one, two), (joints, placing) in simulated.placings.items():
        where = np.flatnonzero(joints == joint)
        if len(where):
            return one, two, placing, int(where[0])
    raise AssertionError("every joint is placed")


def _facing(solution: Solution, simulated: Simulated, joint: int) -> Facing | None:
    """The board on the other side of a loose tongue: second grooves follow the first ones."""
    task = solution.task
    if task.wanted.second_groove is None:
        return None
    grooves = len(task.grooved)
    other = (int(solution.first[joint]) + grooves // 2) % grooves
    one, _, placing, pair = _placed(simulated, int(np.flatnonzero(solution.first == other)[0]))
    return Facing(simulated.grooved[one], int(placing.first[pair]), _naming(task.grooved, other))
