"""One setup on its sheet: what to set, in what order, what to check, and what would hurt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from faywright.drawing.along_feed import along_feed
from faywright.drawing.from_above import from_above
from faywright.drawing.model import Drawing
from faywright.lengths import LengthStyle
from faywright.piece.plan import Plan
from faywright.piece.words import (
    MEASURED,
    Write,
    beside,
    changed,
    cleared,
    counted,
    cutter_called,
    fed,
    measured_to,
    reading_row,
    set_by,
    tolerance,
    working,
    writer,
)
from faywright.setups.hazards import worst_first
from faywright.setups.setup import CheckReading, Setting, Setup

Page = dict[str, Any]


@dataclass(frozen=True, eq=False)
class Figures:
    """A plan, the maker's way of writing lengths, and where drawings are kept."""

    plan: Plan
    style: LengthStyle
    write: Write
    fine: Write
    keep: Callable[[str, Drawing], dict[str, Any]]


def numbers_of(setup: Setup, clearing: tuple[Setup, ...]) -> str:
    """A setup's number, or from the first that clears for it to its own."""
    return f"{clearing[0].number} to {setup.number}" if clearing else str(setup.number)


def sheet_page(figures: Figures, setup: Setup, clearing: tuple[Setup, ...]) -> Page:
    """Everything on the sheet of a final setup and of those that clear for it."""
    along, above = views_of(figures.plan, setup, figures.style)
    return {
        **sheet_words(figures, setup, clearing),
        "along": figures.keep(f"setup-{setup.number}-along", along()),
        "above": figures.keep(f"setup-{setup.number}-above", above()),
    }


def sheet_words(figures: Figures, setup: Setup, clearing: tuple[Setup, ...]) -> Page:
    """The same without its drawings."""
    write = figures.write
    return {
        "numbers": numbers_of(setup, clearing),
        "what": f"{setup.joint}: {setup.stage}",
        "stage": setup.stage,
        "cutter": setup.cutter,
        "cutter-line": f"{cutter_called(setup, write)} at {setup.speed.speed_rpm} rpm "
        f"({setup.speed.source})",
        "change": _change(setup, clearing, write),
        "height": _height(figures, setup),
        "fence": _fence(figures, setup),
        "first": [cleared(setup, each, write) for each in clearing],
        "passes": fed(setup, write),
        "trial": trial_piece(setup.readings[0], write) if setup.readings else "",
        "remember": setup.cure,
        "checks": [reading_row(reading, write) for reading in setup.readings],
        "hazards": [
            {
                "lead": "Take care:" if hazard.severity == "care" else "Danger:",
                "text": hazard.said(write),
            }
            for hazard in worst_first(setup.hazards)
        ],
        "count": counted(len(setup.marks), "piece"),
        "pieces": list(setup.marks),
    }


def trial_piece(reading: CheckReading, write: Write) -> str:
    """The size of a trial piece."""
    return f"{write(reading.thickness_shows)} {reading.size_word}"


def views_of(
    plan: Plan, setup: Setup, style: LengthStyle
) -> tuple[Callable[[], Drawing], Callable[[], Drawing]]:
    """What draws a setup as seen along the feed, and from above."""
    joint = next(each for each in plan.joints if each.wanted.name == setup.joint)
    work = joint.task.work(setup.side)
    reference = setup.reference(plan.shop.habits.reference)
    write = writer(style)
    return (
        partial(along_feed, setup, work, plan.machine, write=write, reference=reference),
        partial(from_above, setup, work, plan.machine, style=style),
    )


def _height(figures: Figures, setup: Setup) -> Page:
    written = figures.write(setup.height.true)
    measured = MEASURED[setup.measured_to]
    return _figure(figures, setup.height, "height", written, measured)


def _fence(figures: Figures, setup: Setup) -> Page:
    """The fence as this maker measures it; the sum behind it is always to the far edge."""
    reference = setup.reference(figures.plan.shop.habits.reference)
    places, write = setup.places, figures.write
    found = _figure(
        figures,
        setup.fence,
        "fence",
        write(places.to(reference)),
        measured_to(setup, reference),
        shift=places.to(reference) - places.far_edge,
        summed="the sum, to the far edge: " if reference != "far edge" else "",
    )
    return {**found, "notes": [*found["notes"], beside(setup, reference, write)]}


def _figure(
    figures: Figures,
    setting: Setting,
    name: str,
    written: str,
    measured: str,
    *,
    shift: float = 0.0,
    summed: str = "",
) -> Page:
    """A number to set, its unit apart, what to set it by, and what goes with it."""
    number, _, unit = written.rpartition(" ")
    good, sums = tolerance(setting, shift, figures.write), working(setting, figures.fine)
    return {
        "name": name,
        "number": number,
        "unit": unit,
        "measured": measured,
        "set-by": set_by(setting, shift, figures.write),
        "notes": [each for each in (good, f"{summed}{sums}" if sums else "") if each],
        "decides": setting.start is not None,
    }


def _change(setup: Setup, clearing: tuple[Setup, ...], write: Write) -> str:
    """From the setup before it, where the cutter stays in."""
    change = (clearing[0] if clearing else setup).change
    return changed(change, write) if change is not None else ""
