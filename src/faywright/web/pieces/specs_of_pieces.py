"""Every key of a piece file that is set on its own page or that of its boards, as fields.

Joints have pages, and keys, of their own.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from faywright.lengths import Unit
from faywright.shop.boards import Timber
from faywright.timber.beams import LoadPlace
from faywright.timber.climate import rooms
from faywright.timber.framed import FrameGrain
from faywright.timber.rows import Ends, Laid
from faywright.timber.strength import Duration
from faywright.web.fields import Choice, Spec, choices
from faywright.web.pieces.renaming import named_tables

TIMBERS = "timbers"
"""Id of the list of timbers on a page."""

TOP = (
    Spec(key="title", label="Title", kind="text", needed=True),
    Spec(
        key="units",
        label="Unit of bare numbers in the piece file",
        kind="choice",
        choices=choices(get_args(Unit)),
        help="Numbers that are there keep the unit they were written in",
    ),
)

_NAME = Spec(key="name", label="Name", kind="text", needed=True)
_RINGS = "flat, rift or quarter, or the angle between rings and width in degrees"


def _species(*, needed: bool = False, left_out: str = "") -> Spec:
    return Spec(
        key="species",
        label="Species",
        kind="text",
        needed=needed,
        left_out=left_out,
        suggests=TIMBERS,
    )


def _rings(left_out: str = "", *, needed: bool = False) -> Spec:
    return Spec(
        key="rings", label="Rings", kind="number", left_out=left_out, help=_RINGS, needed=needed
    )


def _moisture(left_out: str) -> Spec:
    return Spec(
        key="moisture",
        label="Moisture on the day of cutting",
        kind="number",
        unit="%",
        left_out=left_out,
        help="what a meter reads in its boards",
    )


PART = (
    _NAME,
    Spec(
        key="timber",
        label="Timber",
        kind="choice",
        needed=True,
        choices=choices(get_args(Timber)),
        help="decides fits and bites; sheet is plywood and the like, taken not to move",
    ),
    _species(left_out="none; a climate or a load needs it"),
    _rings("flat"),
    _moisture("that of cutting in the climate"),
)


def board(tables: Mapping[str, object]) -> tuple[Spec, ...]:
    """Keys of a board; its part is one that is there."""
    return (
        Spec(key="mark", label="Mark", kind="text", needed=True),
        Spec(key="part", label="Part", kind="choice", choices=choices(_names(tables, "part"))),
        Spec(key="width", label="Width", kind="length", needed=True),
        Spec(key="length", label="Length", kind="length", needed=True),
        Spec(
            key="thickness",
            label="Readings of its thickness",
            kind="readings",
            needed=True,
            help="along it, head end first, parted by semicolons; where both edges were read, "
            "the reference edge first with | between",
        ),
        _species(left_out="that of its part"),
        _rings("those of its part"),
        _moisture("that of its part"),
    )


def panel(tables: Mapping[str, object]) -> tuple[Spec, ...]:
    """Keys of a row of boards; its joint is one that is there."""
    return (
        _NAME,
        Spec(key="joint", label="Joint", kind="choice", choices=choices(_names(tables, "joint"))),
        Spec(key="width", label="Width it fills", kind="length", needed=True),
        Spec(
            key="count",
            label="Equal boards still to be ripped",
            kind="whole",
            left_out="none: the boards are those listed",
        ),
        Spec(
            key="ends",
            label="Its end boards",
            kind="choice",
            choices=choices(get_args(Ends), "as they come (left out)"),
        ),
        Spec(
            key="laid",
            label="It is laid",
            kind="choice",
            choices=choices(get_args(Laid), "as its joint is (left out)"),
        ),
    )


FRAMED = (
    _NAME,
    _species(needed=True),
    _rings(needed=True),
    Spec(key="opening_width", label="Opening, wide", kind="length", needed=True),
    Spec(key="opening_height", label="Opening, high", kind="length", needed=True),
    Spec(key="groove_depth", label="Depth of its grooves", kind="length", needed=True),
    Spec(
        key="grain",
        label="Its grain stands",
        kind="choice",
        choices=choices(get_args(FrameGrain), "upright (left out)"),
    ),
    Spec(key="engagement", label="What stays in the grooves", kind="length", left_out="3 mm"),
)

DRAWER = (
    _NAME,
    _species(needed=True),
    _rings(needed=True),
    Spec(key="opening_width", label="Opening, wide", kind="length", needed=True),
    Spec(key="opening_height", label="Opening, high", kind="length", needed=True),
)

SHELF = (
    _NAME,
    _species(needed=True),
    Spec(key="span", label="Span between supports", kind="length", needed=True),
    Spec(key="width", label="Width, across the grain", kind="length", needed=True),
    Spec(key="thickness", label="Thickness", kind="length", needed=True),
    Spec(
        key="load_kg",
        label="What it carries, itself and all",
        kind="number",
        unit="kg",
        needed=True,
    ),
    Spec(
        key="spread",
        label="The load is",
        kind="choice",
        choices=(Choice("", "even over the span (left out)"), *choices(get_args(LoadPlace))),
    ),
    Spec(
        key="creep",
        label="Sag in years over sag at once",
        kind="number",
        left_out="1.5",
        help="1.5 for dry wood, 2 where it was built in green",
    ),
    Spec(
        key="duration",
        label="The load lasts",
        kind="choice",
        choices=choices(get_args(Duration), "permanently (left out)"),
    ),
    Spec(
        key="strength_ratio",
        label="Share of strength that knots and slope of grain leave",
        kind="number",
        left_out="1: clear and straight",
    ),
)

AIR = (
    Spec(
        key="temperature",
        label="Temperature of the air",
        kind="number",
        unit="C",
        help="or with its sign: 68 F",
    ),
    Spec(key="humidity", label="Relative humidity", kind="number", unit="%"),
    Spec(key="moisture", label="or moisture of the wood", kind="number", unit="%"),
    Spec(key="meter", label="or what a meter with pins shows", kind="number", unit="%"),
    Spec(key="wood", label="with the wood at", kind="number", unit="C", left_out="20 C"),
    Spec(
        key="calibrated",
        label="and the meter calibrated for",
        kind="number",
        unit="C",
        left_out="20 C",
    ),
)

SEASON = (
    Spec(key="name", label="Name", kind="text"),
    Spec(key="months", label="Numbers of its months", kind="numbers", help="such as 12, 1, 2"),
    *AIR[:3],
)

MONTHLY = tuple(
    Spec(key=spec.key, label=f"{spec.label}, January to December", kind="numbers", unit=spec.unit)
    for spec in AIR[:3]
)

ROOM = Spec(key="room", label="Room", kind="choice", choices=choices(rooms()))

DRIFT = Spec(
    key="drift",
    label="Moisture may drift between grooves and tongues by",
    kind="number",
    unit="%",
    left_out="0.5",
)

THINGS: Mapping[str, str] = {
    "part": "Parts",
    "panel": "Rows that fill a width",
    "framed": "Panels in frames",
    "drawer": "Drawers in openings",
    "shelf": "Shelves and slats",
}
"""Lists of a piece file that its page shows, with their headings."""


def specs(kind: str, tables: Mapping[str, object]) -> tuple[Spec, ...]:
    """The keys of the tables of a list."""
    if kind == "board":
        return board(tables)
    if kind == "panel":
        return panel(tables)
    return {"part": PART, "framed": FRAMED, "drawer": DRAWER, "shelf": SHELF}[kind]


def _names(tables: Mapping[str, object], key: str) -> tuple[str, ...]:
    return tuple(name for name, _ in named_tables(tables, key))
