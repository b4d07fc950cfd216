"""Words for how a joint is made: its order and groups of boards, and the ways there are."""

from __future__ import annotations

from collections.abc import Iterator

from faywright.piece.plan import JointPlan
from faywright.piece.words import Write, counted, group_letter, listed, span
from faywright.setups.choice import Refused, Way

RANKED = "Ranked by safety, chance, proportion, setups, passes"


def order_lines(joint: JointPlan) -> list[str]:
    """In which order boards go into a row; nothing where there is none."""
    row = joint.solution.row
    if row is None:
        return []
    marks = [joint.task.grooved.marks[k] for k in row]
    lead = "Order in the row, as listed: "
    if joint.wanted.free_order and joint.solution.groove.follows:
        lead = "Order in the row, thin tongues in the grooves of thick boards: "
    return [f"{lead}{listed(marks)}. {marks[0]} needs no groove, {marks[-1]} no tongue."]


def group_lines(joint: JointPlan, write: Write) -> Iterator[tuple[str, list[str]]]:
    """For each side that is cut in several groups: how many, and who is in each of them."""
    solution = joint.solution
    for side, method, work, groups in (
        ("Grooves", solution.groove, joint.task.grooved, solution.groove_groups),
        ("Tongues", solution.tongue, joint.task.tongued, solution.tongue_groups),
    ):
        if len(groups) < 2 or method.control is None:
            continue
        by = "width" if work.on_face else "thickness"
        found = []
        for number, group in enumerate(groups):
            letter = group_letter(number)
            across = work.across[group.members] + joint.task.instruments.calipers.zero_error
            marks = listed([work.marks[k] for k in group.members])
            thick = span(float(across.min()), float(across.max()), write)
            found.append(f"{letter}  {thick}: {marks}")
        yield f"{side} in {len(groups)} groups by {by}", found


def room_lines(joint: JointPlan, write: Write) -> list[str]:
    """How far boards of one setting may differ, and how it would not matter."""
    room, other = joint.solution.room, joint.indifferent
    if room is None:
        return []
    found = [
        f"One setting serves boards within {write(room)} of each other: bring the pile that close "
        "and one group is enough."
    ]
    if other is not None:
        found.append(f"Thickness would not matter with: {way_called(other)}.")
    return found


def other_ways(joint: JointPlan) -> tuple[Way, ...]:
    """Ways that were not taken in order of rank, the best cutters of each."""
    chosen = joint.choice.chosen
    best: dict[tuple[str, str], Way] = {}
    for way in joint.choice.ways:
        best.setdefault((way.groove.name, way.tongue.name), way)
    best.pop((chosen.groove.name, chosen.tongue.name), None)
    return tuple(best.values())


def refused_ways(joint: JointPlan) -> tuple[Refused, ...]:
    """Methods that would hurt, each once."""
    return tuple({each.method: each for each in joint.choice.refused}.values())


def way_called(way: Way) -> str:
    """A way by its two methods, and the marks of its cutters."""
    cutters = dict.fromkeys(c.mark for c in (*way.groove.cutters, *way.tongue.cutters))
    return f"{way.groove.name}; {way.tongue.name} ({' '.join(cutters)})"


def effort(way: Way) -> str:
    """How many setups and passes a way takes."""
    setups, passes = counted(way.setups, "setup"), counted(way.passes, "pass")
    return f"{setups}, {passes.replace('passs', 'passes')}"
