"""Every key of a shop file as a field of a form: what it is called, how it is typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import get_args

from faywright.lengths import Style, Unit
from faywright.shop.gauges import Use
from faywright.shop.inventory import Reference
from faywright.shop.machines import FenceSide, Rotation
from faywright.timber.measures import MEASURES
from faywright.timber.species import Group
from faywright.web.fields import Kind, Spec, choices
from faywright.web.pieces.specs_of_pieces import TIMBERS


@dataclass(frozen=True, slots=True, kw_only=True)
class Key(Spec):
    """A key of a shop file; ``told`` are words that begin a fault that names only its table."""

    told: tuple[str, ...] = ()

    @property
    def steps(self) -> tuple[str, ...]:
        """The way to it inside the table of its thing."""
        return tuple(self.key.split("."))

    @property
    def inside(self) -> Key:
        """The same key as its own table has it, ``mark`` for ``machine.mark``."""
        return replace(self, key=".".join(self.steps[1:]))


def _key(
    key: str,
    label: str,
    kind: Kind,
    left_out: str = "",
    *,
    options: tuple[str, ...] = (),
    unit: str = "",
    hint: str = "",
    told: tuple[str, ...] = (),
    suggests: str = "",
) -> Key:
    """A key; ``left_out`` is what is taken without it, empty if it is needed."""
    usual = f"as usual: {left_out}" if left_out in options else left_out
    blank = usual if kind == "choice" and left_out else None
    return Key(
        key=key,
        label=label,
        kind=kind,
        needed=not left_out,
        unit=unit,
        choices=choices(options, blank),
        left_out=left_out,
        help=hint,
        suggests=suggests,
        told=told,
    )


ONCE = ("is that of line",)
_LEARNED = "What trial cuts taught is kept under this mark: a new mark begins with nothing known"

SHOP = (
    _key(
        "title",
        "Name of the shop",
        "text",
        hint="What trial cuts taught is kept under this name: a new name begins with nothing known",
    ),
    _key(
        "units",
        "Bare numbers are",
        "choice",
        "mm",
        options=get_args(Unit),
        hint="in the shop file; another unit leaves all that is there as long as it is",
    ),
)

HABITS = (
    _key("style", "Lengths are shown in", "choice", "as the unit is", options=get_args(Style)),
    _key(
        "places",
        "Decimals",
        "whole",
        "2 of a millimetre, 3 of an inch",
        told=("places",),
        hint="1 to 3 of a millimetre, 3 or 4 of an inch",
    ),
    _key(
        "denominator", "Finest fraction", "whole", "64", told=("denominator",), hint="16, 32 or 64"
    ),
    _key(
        "reference",
        "The fence is measured to",
        "choice",
        "far edge",
        options=get_args(Reference),
        hint="of the cutter; plans name it first, and the other two beside it",
    ),
)

MACHINE = (
    _key("mark", "Mark", "text", told=ONCE, hint="what you call it"),
    _key(
        "speeds_rpm",
        "Speeds",
        "numbers",
        unit="rpm",
        told=("spindle speeds",),
        hint="all that it can be set to, with commas between; of a dial, what its marks stand for",
    ),
    _key(
        "rotation",
        "The cutter turns, seen from above",
        "choice",
        "anticlockwise",
        options=get_args(Rotation),
    ),
    _key(
        "fence_side",
        "The fence stands, as you face the table",
        "choice",
        "behind the cutter",
        options=get_args(FenceSide),
    ),
    _key("fence.kind", "The fence is", "choice", "sliding", options=("sliding", "pivoted")),
    _key(
        "fence.pivot_to_end",
        "From the pivot to the end you move",
        "length",
        "none",
        told=("the distances of a pivoted",),
        hint="for a pivoted fence",
    ),
    _key(
        "fence.pivot_to_cutter",
        "From the pivot to the spindle",
        "length",
        "none",
        told=("pivot_to_cutter",),
        hint="for a pivoted fence",
    ),
    _key("fence.length", "Length of the fence", "length", "600 mm", told=("a fence",)),
    _key(
        "fence.height",
        "Height of the fence",
        "length",
        "75 mm",
        hint="above the table",
        told=("a fence",),
    ),
    _key(
        "lift_pitch",
        "One turn of the lift raises the cutter",
        "length",
        "no turns are told",
        told=("a lift of",),
    ),
    _key(
        "table_opening",
        "Hole in the table or its insert",
        "length",
        "not looked at",
        told=("a table opening",),
        hint="its diameter",
    ),
    _key(
        "work_lift",
        "Work rides off it by up to",
        "length",
        "0.02 mm",
        told=("work_lift",),
        hint="off the table, or away from the fence, as you feed it: chips, cup",
    ),
)


def _size(path: str, what: str) -> tuple[Key, ...]:
    """A size that decides a fit."""
    return (
        _key(
            f"{path}.marked",
            f"{what}, as marked",
            "length",
            told=("a marked size", "flanks of"),
        ),
        _key(
            f"{path}.measured",
            f"{what}, as measured",
            "length",
            "the marked one, trusted to 0.10 mm",
            told=("measured",),
        ),
        _key(
            f"{path}.how",
            "Measured",
            "choice",
            "trial slot",
            options=("trial slot", "calipers"),
            hint="a slot in waste has the runout in it and is the better way",
        ),
        _key(f"{path}.on", "Measured on", "date", "no date"),
    )


_COMMON = (
    _key(
        "reach",
        "Reach",
        "length",
        told=("a reach",),
        hint="greatest height of its top above the table with the shank safely held",
    ),
    _key("flutes", "Flutes", "whole", told=("flutes",), hint="cutting edges around it, 1 to 12"),
    _key("shank", "Shank", "length", "12.7 mm", told=("a shank",), hint="its diameter"),
    _key(
        "runout",
        "Runout",
        "length",
        "0 mm",
        told=("a runout",),
        hint="travel of a dial indicator's pointer over one slow turn",
    ),
    _key(
        "max_speed_rpm",
        "Greatest speed",
        "whole",
        "a rule of thumb for its diameter",
        unit="rpm",
        told=("a greatest speed",),
        hint="as marked on the shank",
    ),
)

_OWN: Mapping[str, tuple[Key, ...]] = {
    "straight": (
        *_size("diameter", "Diameter"),
        _key("cutting_length", "Length of its edge", "length", told=("a cutting length",)),
    ),
    "slot": (
        *_size("thickness", "Thickness of its wing"),
        _key("diameter", "Diameter", "length"),
        _key(
            "slot_depth",
            "Depth it can cut",
            "length",
            told=("a slot depth",),
            hint="before the arbor or bearing touches",
        ),
    ),
    "tongue pair": (
        *_size("tongue", "Tongue it leaves"),
        _key("tongue_length", "Length of that tongue", "length", told=("a tongue length",)),
        _key("wing", "Thickness of one wing", "length"),
        _key("diameter", "Diameter", "length"),
    ),
    "v": (
        _key("diameter", "Greatest diameter", "length"),
        _key("angle_deg", "Angle between its flanks", "number", unit="degrees", told=("an angle",)),
    ),
    "bead": (
        _key("radius", "Radius of the round", "length", told=("a radius",)),
        _key("point", "Flat at its top", "length", hint="its diameter"),
    ),
    "dovetail": (
        *_size("diameter", "Greatest diameter"),
        _key("height", "Length of its flank", "length", hint="along the axis"),
        _key("angle_deg", "Angle of the flank from the axis", "number", unit="degrees"),
    ),
}
KINDS = tuple(_OWN)
"""Of cutters."""


def cutter_keys(kind: str) -> tuple[Key, ...]:
    """Keys of a kind of cutter; those that all have where the kind is none."""
    return (
        _key("mark", "Mark", "text", told=ONCE, hint=f"as on a tag at the cutter. {_LEARNED}"),
        _key("kind", "Kind", "choice", options=KINDS),
        *_OWN.get(kind, ()),
        *_COMMON,
    )


GAUGE = (
    _key("mark", "Mark", "text", told=ONCE, hint=f"what you call it. {_LEARNED}"),
    _key(
        "uses",
        "You use it for",
        "many",
        options=get_args(Use),
        told=("it is used",),
        hint="height of the cutter, place of the fence, thickness of boards and trial pieces",
    ),
    _key(
        "resolution",
        "Smallest step it shows",
        "length",
        told=("resolution",),
    ),
    _key(
        "repeatability",
        "Scatter",
        "length",
        told=("repeatability",),
        hint="when the same thing is read again: the standard deviation of ten readings or so",
    ),
    _key(
        "zero_error",
        "It shows at nought",
        "length",
        "0 mm",
        told=("a zero error",),
        hint="taken off your readings, and put back into what a plan says it will show",
    ),
)

SPECIES = (
    _key("name", "Name", "text", told=ONCE, hint="parts and boards refer to it"),
    _key(
        "like",
        "Like",
        "text",
        "nothing is taken",
        suggests=TIMBERS,
        hint="a published timber, from which all that you leave out is taken with its source",
    ),
    _key(
        "group",
        "Group",
        "choice",
        "that of the timber it is like",
        options=get_args(Group),
        told=("no group",),
    ),
    _key("botanical", "Botanical name", "text", "that of the timber it is like"),
    *(
        _key(
            value,
            measure.words[0].upper() + measure.words[1:],
            "number",
            "as the timber it is like",
            unit=measure.unit,
            told=(value,),
        )
        for value, measure in MEASURES.items()
    ),
)

_FIRST = {"mark": "What you call your first machine", "speeds_rpm": "Its speeds"}

BEGIN = (
    *(replace(key, help="") for key in SHOP),
    *(
        replace(
            key,
            key=f"machine.{key.key}",
            label=_FIRST[key.key],
            help="" if key.key == "mark" else key.help,
        )
        for key in MACHINE
        if key.key in _FIRST
    ),
)
"""What a shop is begun with: its name and unit, and the first machine."""

TABLES = ("machine", "cutter", "gauge", "species")
"""Lists of things in a shop file."""


def keys_of(table: str, kind: str = "") -> tuple[Key, ...]:
    """The keys of a thing in a table of the shop file, of a cutter by its kind."""
    if table == "cutter":
        return cutter_keys(kind)
    found = {"shop": SHOP, "habits": HABITS, "machine": MACHINE, "gauge": GAUGE, "species": SPECIES}
    return found[table]
