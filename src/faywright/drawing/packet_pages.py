"""What stands on the sheets of a packet, in words and with the drawings that go with them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from faywright.drawing.along_feed import along_feed
from faywright.drawing.error_bars import error_bars
from faywright.drawing.from_above import from_above
from faywright.drawing.joint import joint_drawing
from faywright.drawing.joint_strips import joint_strips
from faywright.drawing.model import Drawing
from faywright.lengths import LengthStyle
from faywright.piece.plan import JointPlan, Plan
from faywright.piece.summary import decisions, fit_lines, way_lines
from faywright.piece.words import (
    MEASURED,
    Write,
    beside,
    changed,
    cleared,
    cutter_called,
    fed,
    measured_to,
    notes,
    reading_row,
)
from faywright.setups.sheet import Setup

Page = dict[str, Any]

LARGEST = 62.0
"""Size of the figures to set, where they fit: digits over 14 mm high. [pt]"""


@dataclass(frozen=True, eq=False)
class Figures:
    """A plan, the maker's way of writing lengths, and where drawings are kept."""

    plan: Plan
    style: LengthStyle
    write: Write
    fine: Write
    keep: Callable[[str, Drawing], dict[str, Any]]


def first_page(figures: Figures, number: int) -> Page:
    """What fits and what needs a decision, for one joint."""
    joint, write = figures.plan.joints[number], figures.write
    drawing = joint_drawing(joint.solution, joint.simulated, write=write)
    return {
        "name": joint.wanted.name,
        "kind": f"{joint.wanted.family}, {joint.wanted.fit.name} fit",
        "fits": fit_lines(joint, write),
        "decide": decisions(joint, write),
        "how": way_lines(joint, write),
        "drawing": figures.keep(f"joint-{number + 1}", drawing),
        "charts": _charts(figures, joint, number),
    }


def _charts(figures: Figures, joint: JointPlan, number: int) -> list[dict[str, Any]]:
    """Boards by thickness with their groups, and what the errors come from."""
    style = figures.style
    over = {verdict.mark: verdict.over for verdict in joint.verdicts}
    strips = joint_strips(joint.solution, joint.setups, style=style, over=over)
    title = f"{joint.wanted.name}: where the errors come from"
    bars = error_bars(joint.budget, joint.solution.band, title=title, style=style)
    return [
        figures.keep(f"chart-{number + 1}-{k}", drawing)
        for k, drawing in enumerate((*strips, bars), 1)
    ]


def sheet_page(figures: Figures, setup: Setup, clearing: tuple[Setup, ...]) -> Page:
    """One setup: what to set, in what order, what to check, and what would hurt."""
    plan, write = figures.plan, figures.write
    reference = setup.reference(plan.shop.habits.reference)
    places = setup.places
    fine = figures.fine
    shift = places.to(reference) - places.far_edge
    first = clearing[0].number if clearing else setup.number
    return {
        "numbers": str(setup.number) if not clearing else f"{first} to {setup.number}",
        "joint": setup.joint,
        "what": setup.stage,
        "cutter": setup.cutter,
        "cutter-line": f"{cutter_called(setup, write)} at {setup.speed.speed_rpm} rpm "
        f"({setup.speed.source})",
        "change": _change(setup, clearing, write),
        "height": _figure(
            "height",
            write(setup.height.true),
            MEASURED[setup.measured_to],
            notes(setup.height, 0.0, write, fine),
            decides=setup.height.start is not None,
        ),
        "fence": _figure(
            "fence",
            write(places.to(reference)),
            measured_to(setup, reference),
            [beside(setup, reference, write), *notes(setup.fence, shift, write, fine)],
            decides=setup.fence.start is not None,
        ),
        "drawings": _drawings(figures, setup),
        "first": [cleared(setup, each, write) for each in clearing],
        "passes": fed(setup),
        "trial": _trial(setup, write),
        "checks": [reading_row(reading, write) for reading in setup.readings],
        "hazards": [
            {
                "lead": "Danger:" if hazard.severity == "danger" else "Take care:",
                "text": hazard.said(write),
            }
            for hazard in setup.hazards
        ],
        "pieces": list(setup.marks),
    }


def _drawings(figures: Figures, setup: Setup) -> list[dict[str, Any]]:
    """The setup seen along the feed, and from above."""
    plan = figures.plan
    joint = next(each for each in plan.joints if each.wanted.name == setup.joint)
    work = joint.task.grooved if setup.side == "groove" else joint.task.tongued
    reference = setup.reference(plan.shop.habits.reference)
    along = along_feed(setup, work, plan.machine, write=figures.write, reference=reference)
    above = from_above(setup, work, plan.machine)
    return [
        figures.keep(f"setup-{setup.number}-{name}", drawing)
        for name, drawing in (("along", along), ("above", above))
    ]


def _figure(
    name: str, written: str, measured: str, said: list[str], *, decides: bool
) -> dict[str, Any]:
    """A number to set: figure and unit apart, as large as the column lets it be."""
    number, _, unit = written.rpartition(" ")
    room = 80 / 25.4 * 72
    size = min(LARGEST, room / (0.62 * max(len(number), 1)))
    return {
        "name": name,
        "number": number,
        "unit": unit,
        "measured": measured,
        "notes": [each for each in said if each],
        "decides": decides,
        "size": round(size, 1),
    }


def _change(setup: Setup, clearing: tuple[Setup, ...], write: Write) -> list[str]:
    """From the setup before it, where the cutter stays in."""
    first = clearing[0] if clearing else setup
    if first.change is None:
        return []
    moved = changed(first.change, write)
    return [f"From the setup before: {moved}"] if moved else []


def _trial(setup: Setup, write: Write) -> str:
    if not setup.readings:
        return ""
    reading = setup.readings[0]
    size = f"{write(reading.thickness_shows)} {reading.size_word}"
    return f"{size}; {setup.cure}" if setup.cure else size


def trial_rows(figures: Figures) -> list[Page]:
    """Trial pieces to prepare: one a final setup, of the thickness it is set for, and one more."""
    rows = []
    for setup in figures.plan.setups:
        if not setup.final or not setup.readings:
            continue
        thickness = setup.readings[0].thickness_shows
        rows.append(
            {
                "setup": str(setup.number),
                "what": f"{setup.joint}: {setup.stage}",
                "thickness": figures.write(thickness),
                "size": f"{figures.write(300.0)} long, as wide as the work",
            }
        )
    return rows
