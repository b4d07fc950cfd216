"""What the seasons do to a joint, in words: what was reckoned, and what is left to decide."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from faywright.joints.gaps import BOTTOM
from faywright.joints.moving import Moving
from faywright.joints.seasonal import READABLE, JointAt, Seasonal, SeasonFault
from faywright.joints.task import JointTask
from faywright.piece.words import Write, span
from faywright.timber.movement import MARGIN


class SeasonedJoint(Protocol):
    """A joint whose timber moves."""

    @property
    def task(self) -> JointTask:
        """Its boards, proportions and movement."""

    @property
    def seasonal(self) -> Seasonal | None:
        """Its gaps at every moment; None without a climate."""


def season_lines(joint: SeasonedJoint, write: Write, *, panel: str | None = None) -> list[str]:
    """Moisture, gaps and room through the year, with the working of what was chosen for it.

    Where the boards are ripped for a ``panel``, that tells the gaps to leave between them.
    """
    moving, seasonal, task = joint.task.moving, joint.seasonal, joint.task
    if moving is None or seasonal is None:
        return []
    found = [_moistures(seasonal)]
    if not task.wanted.fit.glued:
        clear = "; ".join(
            f"{at.name} {_side(at, write)}" for at in seasonal.moments if at.name != "assembly"
        )
        found.append(f"Clearance a side through the year: {clear}.")
    least = min(float(at.gaps[BOTTOM].min()) for at in seasonal.moments)
    found.append(f"Under the tongue at least {write(least)} stays free in every season.")
    if task.opens:
        loose = task.wanted.second_groove is not None
        laid = [] if panel else _laid(moving, seasonal, write, loose=loose)
        found += [*laid, *_longer(moving, task, write)]
        if panel:
            found.append(f"What to leave between the boards stands with panel {panel}.")
    return [*found, *(f"Of the timber, {each}." for each in moving.remarks)]


def _moistures(seasonal: Seasonal) -> str:
    said = ", ".join(f"{at.name} {_percent(at)}" for at in seasonal.moments)
    return f"Moisture of the wood: {said}."


def _percent(at: JointAt) -> str:
    low, high = at.moisture
    return f"{low:.1f} %" if high - low < 0.05 else f"{low:.1f} to {high:.1f} %"


def _side(at: JointAt, write: Write) -> str:
    return span(float(at.clearance.min()), float(at.clearance.max()), write)


def _laid(moving: Moving, seasonal: Seasonal, write: Write, *, loose: bool) -> Iterator[str]:
    """Gap to leave, and how far joints open."""
    grown = moving.swells * seasonal.face
    if seasonal.laid > READABLE:
        yield (
            f"Lay the boards {write(seasonal.laid)} apart today: a face {write(seasonal.face)} "
            f"wide grows {write(grown)} until it is wettest, times {MARGIN:g} to be ready for "
            "boards that move more. So the row closes and does not push."
        )
    else:
        yield "Lay the boards close today: they only shrink from here on."
    widest = max(seasonal.moments, key=lambda at: float(at.opening.max()))
    yield (
        f"At the widest, {widest.name}, joints stand open {write(float(widest.opening.max()))} "
        f"and {write(max(0.0, float(widest.engaged.min())))} of the tongue is still in its groove"
        f"{', even where it has slid to the bottom of the other' if loose else ''}."
    )


def _longer(moving: Moving, task: JointTask, write: Write) -> Iterator[str]:
    """Why the tongue is as long as it is."""
    longer = task.target.length - task.target.usual_length
    if longer > READABLE:
        yield (
            f"The tongue is {write(task.target.length)} long, {write(longer)} more than usual, so "
            f"that {write(moving.engagement)} stays in even where a board moves {MARGIN:g} times "
            "as much."
        )


def season_decisions(joint: SeasonedJoint, write: Write) -> list[str]:
    """What goes wrong in a season although it fits when assembled."""
    if joint.seasonal is None:
        return []
    return [_said(fault, write) for fault in joint.seasonal.faults(joint.task)]


def _said(fault: SeasonFault, write: Write) -> str:
    size = write(abs(fault.size))
    words = {
        "binds": f"it binds, {size} a side too tight to move or go together",
        "tight": f"only {size} a side is left, less than this fit wants",
        "rattles": f"{size} a side, it rattles",
        "bottoms": f"the tongue bottoms and holds the joint open by {size}. Make the groove "
        "deeper or the tongue shorter",
        "leaves": f"only {size} of the tongue stays in. Make it longer, or use narrower boards",
        "falls out": "the tongue leaves its groove. Make it longer, or use narrower boards",
    }
    return f"{fault.when}: {words[fault.kind]}"
