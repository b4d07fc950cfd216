"""What a page says of a planned joint, ready to be set into a template."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from faywright.app.bench import Ground
from faywright.drawing.joint import joint_drawing
from faywright.drawing.model import Drawing
from faywright.errors import PlanError
from faywright.joints.wanted import WantedJoint
from faywright.lengths import LengthStyle
from faywright.piece.gap_figures import GapFigures, gap_figures
from faywright.piece.plan import SURE, JointPlan
from faywright.piece.summary import decisions, fit_lines, way_lines
from faywright.piece.way_words import (
    effort,
    group_lines,
    order_lines,
    other_ways,
    refused_ways,
    room_lines,
    way_called,
)
from faywright.piece.words import Write, counted, percent, span, writer
from faywright.setups.choice import Way
from faywright.web.desk import desk
from faywright.web.joint.joint_keys import groups

_KEYS = re.compile(
    "|".join(spec.key for group in groups() for spec in group.specs if "_" in spec.key)
)


@dataclass(frozen=True, slots=True)
class GapRow:
    """A gap, written."""

    name: str
    aim: str
    least: str
    greatest: str
    spread: str


@dataclass(frozen=True, slots=True)
class WayRow:
    """A way to cut the joint, written, with what is to be said of it."""

    called: str
    chance: str
    effort: str
    chosen: bool
    remark: str


@dataclass(frozen=True, eq=False)
class Answer:
    """What the first part of the page shows: the drawing, its gaps, chances and verdicts."""

    plan: JointPlan
    drawing: Drawing
    gaps: tuple[GapRow, ...]
    fit: str
    band: str
    untested: str
    tested: str
    errors: tuple[str, ...]
    decisions: tuple[str, ...]
    lines: tuple[str, ...]
    groups: tuple[tuple[str, list[str]], ...]
    way: str
    verdict: str


def planned(ground: Ground, wanted: WantedJoint, style: LengthStyle, *, quick: bool) -> Answer:
    """The answer for a joint, made the way it was made last if it shall be ``quick``.

    Raises
    ------
    InfeasibleError
        It cannot be made safely with what is on hand.
    InputError
        The documents do not go together.
    """
    return answer_of(desk().planner.joint(ground, wanted, quick=quick), style)


def answer_of(joint: JointPlan, style: LengthStyle) -> Answer:
    """A planned joint in words and figures."""
    write = writer(style)
    fit = joint.wanted.fit
    count, _, *errors = fit_lines(joint, write)
    decide = decisions(joint, write)
    return Answer(
        plan=joint,
        drawing=joint_drawing(joint.solution, joint.simulated, write=write),
        gaps=tuple(_gap(each, write) for each in gap_figures(joint)),
        fit=fit.name,
        band=f"{span(*joint.solution.band, write)} a side as cut",
        untested=percent(joint.untested.all_fit),
        tested=percent(joint.tested.all_fit),
        errors=tuple(errors),
        decisions=tuple(f"{each.removesuffix('.')}." for each in decide),
        lines=(*way_lines(joint, write)[:-1], *order_lines(joint), *room_lines(joint, write)),
        groups=tuple(group_lines(joint, write)),
        way=way_called(joint.choice.chosen),
        verdict=_verdict(joint, count, decide),
    )


def verdict(joint: JointPlan, write: Write) -> str:
    """In a few words, whether a joint can be cut as it is."""
    return _verdict(joint, fit_lines(joint, write)[0], decisions(joint, write))


def _verdict(joint: JointPlan, count: str, decide: Sequence[str]) -> str:
    if joint.settled:
        return f"{count} Nothing is left to decide before cutting."
    if joint.tested.all_fit < SURE and all(each.verdict == "fits" for each in joint.verdicts):
        together = percent(joint.tested.all_fit)
        count = f"{count.removesuffix('.')}, each by itself; all together {together}."
    return f"{count} {counted(len(decide), 'thing')} to decide before cutting."


def _gap(gap: GapFigures, write: Write) -> GapRow:
    return GapRow(
        name=gap.name,
        aim=write(gap.aim),
        least=write(gap.least),
        greatest=write(gap.greatest),
        spread=span(gap.low, gap.high, write),
    )


def way_rows(joint: JointPlan) -> tuple[WayRow, ...]:
    """The way that is taken, and those that could be."""
    chosen = joint.choice.chosen
    return (_way(chosen, chosen=True), *(_way(each, chosen=False) for each in other_ways(joint)))


def _way(way: Way, *, chosen: bool) -> WayRow:
    return WayRow(
        called=way_called(way),
        chance=percent(way.chance),
        effort=effort(way),
        chosen=chosen,
        remark="" if way.proportioned else "off the usual proportion",
    )


def not_taken(joint: JointPlan) -> tuple[tuple[str, str], ...]:
    """Methods that must not be used or cannot be, each with the reason."""
    found: dict[str, str] = {}
    for refused in refused_ways(joint):
        found[refused.method] = f"never: {refused.why[0]}"
    for declined in joint.choice.declined:
        found.setdefault(declined.method, declined.why)
    return tuple(found.items())


@dataclass(frozen=True, slots=True)
class Trouble:
    """Why there is no plan: what binds, and the change that frees it."""

    what: str
    remedy: str

    @property
    def beside(self) -> str:
        """What is said beside a field, which may stand far from the drawing."""
        return f"It cannot be made so. {self.remedy}"


def trouble_of(error: PlanError) -> Trouble:
    """An error that is told in place of a plan; keys in it are called as the form calls them."""
    what, remedy = (_KEYS.sub(_spaced, each) for each in (error.what, error.remedy))
    return Trouble(f"{what[:1].upper()}{what[1:]}.", f"{remedy}.")


def _spaced(found: re.Match[str]) -> str:
    return found[0].replace("_", " ")
