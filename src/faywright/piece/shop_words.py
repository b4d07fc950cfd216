"""What a shop has, in sentences: machines, cutters, gauges, its own timber, and habits."""

from __future__ import annotations

from collections.abc import Iterator

from faywright.lengths import LengthStyle
from faywright.piece.words import KINDS, Write, counted
from faywright.shop.cutters import (
    BeadCutter,
    CutSize,
    Cutter,
    DovetailCutter,
    SlotCutter,
    StraightCutter,
    TonguePairCutter,
    VCutter,
)
from faywright.shop.gauges import Gauge
from faywright.shop.inventory import Habits
from faywright.shop.machines import Fence, Machine
from faywright.timber.measures import MEASURES
from faywright.timber.species import Species

STYLES = {
    "mm": "millimetres",
    "decimal inch": "decimal inches",
    "fraction inch": "fractions of an inch",
}


def machine_said(machine: Machine, write: Write, fine: Write) -> str:
    """A machine in sentences.

    >>> write = "{:.2f} mm".format
    >>> machine_said(Machine(mark="table", speeds_rpm=(9000,)), write, write)[:60]
    'It runs at 9000 rpm. Its cutter turns anticlockwise, seen fr'
    """
    speeds = ", ".join(str(speed) for speed in machine.speeds_rpm)
    said = [
        f"It runs at {speeds} rpm",
        f"Its cutter turns {machine.rotation}, seen from above; the fence stands "
        f"{machine.fence_side}",
        _fence(machine.fence, write),
    ]
    if machine.lift_pitch is not None:
        said.append(f"One turn of the lift's key raises the cutter {fine(machine.lift_pitch)}")
    if machine.table_opening is not None:
        said.append(f"The hole in its table is {write(machine.table_opening)} across")
    said.append(f"Work rides off it by up to {fine(machine.work_lift)}")
    return f"{'. '.join(said)}."


def _fence(fence: Fence, write: Write) -> str:
    if fence.pivot_to_end is None or fence.pivot_to_cutter is None or fence.kind == "sliding":
        return "The fence slides square to itself"
    return (
        f"The fence pivots: {write(fence.pivot_to_end)} from the pivot to the end you move, "
        f"{write(fence.pivot_to_cutter)} to the cutter, so that its end moves "
        f"{fence.ratio:.3g} times as far as the cut"
    )


def cutter_kind(cutter: Cutter) -> str:
    """What sort of cutter it is."""
    return f"{KINDS[type(cutter).__name__]} cutter".replace("pair cutter", "pair")


def cutter_said(cutter: Cutter, write: Write) -> str:
    """A cutter in sentences: what it cuts first."""
    said = [*_cuts(cutter, write), f"Its top reaches {write(cutter.reach)} above the table"]
    shank = f"{counted(cutter.flutes, 'flute')}, a shank of {write(cutter.shank)}"
    if cutter.runout:
        shank += f", {write(cutter.runout)} of runout"
    said.append(shank[0].upper() + shank[1:])
    if cutter.max_speed_rpm is not None:
        said.append(f"Up to {cutter.max_speed_rpm} rpm")
    return f"{'. '.join(said)}."


def _cuts(cutter: Cutter, write: Write) -> Iterator[str]:
    match cutter:
        case StraightCutter(diameter=size):
            yield f"It cuts a slot {write(cutter.cut_diameter)} wide{_sized(size, write)}"
            yield f"Its edge is {write(cutter.cutting_length)} long"
        case SlotCutter(thickness=size):
            yield f"It cuts a slot {write(cutter.cut_thickness)} wide{_sized(size, write)}"
            yield (
                f"It turns a circle of {write(cutter.diameter)} and cuts "
                f"{write(cutter.slot_depth)} deep"
            )
        case TonguePairCutter(tongue=size):
            yield f"It leaves a tongue {write(cutter.cut_tongue)} thick{_sized(size, write)}"
            yield (
                f"The tongue is {write(cutter.tongue_length)} long; it turns a circle of "
                f"{write(cutter.diameter)}, with wings of {write(cutter.wing)}"
            )
        case VCutter():
            yield f"It is {write(cutter.diameter)} across, its flanks {cutter.angle_deg:g} degrees"
        case BeadCutter():
            yield (
                f"It leaves a round of radius {write(cutter.radius)}; the flat at its top is "
                f"{write(cutter.point)} across"
            )
        case DovetailCutter(diameter=size):
            widest = size.cuts(cutter.runout)
            yield f"It is {write(widest)} across at its top{_sized(size, write)}"
            yield f"Its flank is {write(cutter.height)} long, {cutter.angle_deg:g} degrees off"


def _sized(size: CutSize, write: Write) -> str:
    """How that is known."""
    marked = f"marked {write(size.marked)}"
    if size.measured is None:
        return f" ({marked}, not measured)"
    how = "by a trial slot" if size.how == "trial slot" else "with calipers"
    on = f" on {size.on}" if size.on else ""
    return f" ({marked}, measured {write(size.measured)} {how}{on})"


def gauge_said(gauge: Gauge, write: Write, fine: Write) -> str:
    """A gauge in sentences."""
    said = [
        f"For {' and '.join(gauge.uses)}",
        f"It shows steps of {fine(gauge.resolution)} and repeats to {fine(gauge.repeatability)}",
    ]
    if gauge.zero_error:
        said.append(f"It shows {write(gauge.zero_error)} where it should show nought")
    return f"{'. '.join(said)}."


def species_said(species: Species) -> str:
    """A timber in sentences: what is known of it, and by whom."""
    botanical = f"{species.botanical}, " if species.botanical else ""
    known = [
        f"{measure.words} {figure:g} ({species.source_of(value)})"
        for value, measure in MEASURES.items()
        if (figure := species.value(value)) is not None
    ]
    return f"{botanical}{species.group}: {'; '.join(known) or 'no figure is known'}."


def habits_said(habits: Habits) -> str:
    """Habits in a sentence."""
    return f"Lengths in {_style(habits.style)}; the fence is measured to the {habits.reference}."


def _style(style: LengthStyle) -> str:
    if style.style == "fraction inch":
        return f"{STYLES[style.style]}, to 1/{style.denominator}"
    if style.places is None:
        return STYLES[style.style]
    return f"{STYLES[style.style]}, to {counted(style.places, 'decimal')}"
