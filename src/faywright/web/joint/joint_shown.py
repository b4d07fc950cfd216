"""The page of a joint, its row in a list, and its live part, ready for their templates."""

from __future__ import annotations

from dataclasses import dataclass, replace

from faywright.app.bench import Ground
from faywright.drawing.model import Drawing
from faywright.drawing.small_section import small_section
from faywright.errors import InfeasibleError, InputError
from faywright.joints.wanted import WantedJoint
from faywright.piece.way_words import RANKED
from faywright.piece.words import percent
from faywright.web.desk import desk
from faywright.web.joint.joint_answer import (
    Answer,
    Trouble,
    WayRow,
    not_taken,
    planned,
    trouble_of,
    verdict,
    way_rows,
)
from faywright.web.joint.joint_at import JointAt
from faywright.web.joint.joint_form import NONE, Faults, FormSection, sections_of
from faywright.web.joint.joint_typed import Typed
from faywright.web.pieces.going_back import Undoing, undoing_of


@dataclass(frozen=True, eq=False, kw_only=True)
class Live:
    """The part that follows what is typed: an answer, or why there is none.

    ``trial`` says what was tried and is not kept. ``thorough`` is whether all ways were asked;
    if not, the page asks once more. ``other`` says that another way was chosen than was shown.
    """

    at: JointAt
    answer: Answer | None = None
    trouble: Trouble | None = None
    trial: str = ""
    thorough: bool = False
    other: str = ""

    @property
    def ranked(self) -> str:
        """What ways are ranked by."""
        return RANKED

    @property
    def ways(self) -> tuple[WayRow, ...]:
        """Every way there is, where all were asked."""
        return way_rows(self.answer.plan) if self.answer and self.thorough else ()

    @property
    def not_taken(self) -> tuple[tuple[str, str], ...]:
        """What cannot be used, and why."""
        return not_taken(self.answer.plan) if self.answer and self.thorough else ()


@dataclass(frozen=True, eq=False, kw_only=True)
class JointPage:
    """All of the page; ``status`` is that of its answer."""

    at: JointAt
    live: Live
    sections: tuple[FormSection, ...]
    meets: str
    undoing: Undoing
    panels: tuple[str, ...]
    seasons: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class JointRow:
    """A joint in the list of a piece: what meets what, and how it stands."""

    piece: int
    place: int
    name: str
    meets: str
    verdict: str
    chance: str = ""
    drawing: Drawing | None = None


def page_of(at: JointAt, typed: Typed | None = None, faults: Faults = NONE) -> JointPage:
    """The page as the document has it; a group that was ``typed`` keeps its texts and faults."""
    return JointPage(
        at=at,
        live=live_of(at, quick=False),
        sections=sections_of(at, typed, faults),
        meets=meets(at.wanted),
        undoing=undoing_of(at.opened.sheet, back=at.address),
        panels=tuple(panel.name for panel in at.ground.piece.panels if panel.joint == at.name),
        seasons=at.ground.piece.climate is not None,
    )


def live_of(at: JointAt, *, quick: bool, before: str = "") -> Live:
    """The live part as the document has it; ``before`` is the way that was shown."""
    return tried_live(at, at.ground, at.wanted, quick=quick, before=before)


def tried_live(
    at: JointAt,
    ground: Ground,
    wanted: WantedJoint,
    *,
    quick: bool,
    before: str = "",
    trial: str = "",
) -> Live:
    """The live part for a joint that may not be kept."""
    try:
        answer = planned(ground, wanted, at.style, quick=quick)
    except (InfeasibleError, InputError) as error:
        return Live(at=at, trouble=trouble_of(error), trial=trial, thorough=True)
    thorough = not quick
    other = ""
    if before and answer.way != before:
        other = f"Another way ranks first now: {answer.way}. It was {before}."
    return Live(at=at, answer=answer, trial=trial, thorough=thorough, other=other)


def row_of(at: JointAt) -> JointRow:
    """The joint in a list."""
    row = JointRow(piece=at.piece, place=at.place, name=at.name, meets=meets(at.wanted), verdict="")
    try:
        plan = desk().planner.joint(at.ground, at.wanted)
    except (InfeasibleError, InputError) as error:
        trouble = trouble_of(error)
        return replace(row, verdict=f"{trouble.what} {trouble.remedy}")
    said = verdict(plan, at.write)
    drawing = small_section(plan.solution, plan.simulated)
    return replace(row, verdict=said, chance=percent(plan.tested.all_fit), drawing=drawing)


def meets(wanted: WantedJoint) -> str:
    """What meets what, in words."""
    groove, tongue, second = wanted.groove, wanted.tongue, wanted.second_groove
    if second is not None:
        if second.part == groove.part:
            return f"{groove.part} in a row, {wanted.strip} in {groove.edge} and {second.edge}"
        return f"{wanted.strip} in {groove} and {second}"
    if tongue is None:
        return f"{wanted.strip} in {groove}"
    if tongue.part == groove.part:
        return f"{groove.part} in a row, {tongue.edge} in {groove.edge}"
    return f"{tongue} in {groove}"
