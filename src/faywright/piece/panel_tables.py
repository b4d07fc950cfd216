"""Rows of boards, framed panels and drawers as a piece file asks for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from faywright.errors import InputError, RangeError
from faywright.joints.wanted import WantedJoint
from faywright.piece.fields import Table
from faywright.piece.values import Reader, name_in, one_of, text, whole
from faywright.timber.framed import FrameGrain
from faywright.timber.movement import Grain
from faywright.timber.rows import LEAST_ENGAGEMENT, MOST_BOARDS, Ends, Laid

Rings = Grain | float
"""How a board was sawn, or the angle between its rings and its width. [deg]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedRow:
    """A row of the boards of ``joint``, side by side, that fills ``width``. [mm]

    ``count`` equal boards are still to be ripped; without it the boards are those given.
    """

    name: str
    joint: str
    width: float
    count: int | None = None
    ends: Ends | None = None
    laid: Laid = "between sides"

    def __post_init__(self) -> None:
        """Sizes within reason, and ends only where they are not equal anyway."""
        _within(f"panel {self.name!r}", 20, 20_000, width=self.width)
        if self.count is not None and not 1 <= self.count <= MOST_BOARDS:
            raise RangeError(
                f"count {self.count} boards is not between 1 and {MOST_BOARDS}",
                where=f"panel {self.name!r}",
                remedy="Give how many equal boards fill the width",
            )
        if self.count is not None and self.ends is not None:
            raise InputError(
                "equal boards have equal ends",
                where=f"panel {self.name!r}",
                remedy="Leave ends out, or leave count out to use the boards that are there",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedFramed:
    """A solid panel in the grooves of a frame, whose opening is what is seen of it. [mm]"""

    name: str
    species: str
    rings: Rings
    opening_width: float
    opening_height: float
    groove_depth: float
    grain: FrameGrain = "upright"
    engagement: float = LEAST_ENGAGEMENT

    def __post_init__(self) -> None:
        """Sizes within reason, and an engagement that the grooves can hold."""
        where = f"framed panel {self.name!r}"
        openings = {"opening_width": self.opening_width, "opening_height": self.opening_height}
        _within(where, 20, 5_000, **openings)
        _within(where, 2, 50, groove_depth=self.groove_depth)
        _within(where, 0.5, 50, engagement=self.engagement)
        if self.engagement >= self.groove_depth:
            raise InputError(
                f"an engagement of {self.engagement:g} mm needs a groove deeper than "
                f"{self.groove_depth:g} mm",
                where=where,
                remedy="Give a deeper groove, or less engagement",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedDrawer:
    """A drawer of solid wood for an opening. [mm]"""

    name: str
    species: str
    rings: Rings
    opening_width: float
    opening_height: float

    def __post_init__(self) -> None:
        """Sizes that a drawer can have."""
        where = f"drawer {self.name!r}"
        _within(where, 20, 3_000, opening_width=self.opening_width)
        _within(where, 20, 1_000, opening_height=self.opening_height)


def read_panel(table: Table, joints: Mapping[str, WantedJoint | None]) -> WantedRow | None:
    """The row of a ``[[panel]]`` table; None after a fault.

    ``joints`` are those there are by their names, None for one with a fault of its own.
    """
    named = name_in({name: name for name in joints}, kind="joint", stand_in="")
    name = table.required("name", text)
    called = table.required("joint", named)
    width = table.required("width", table.length)
    count = table.optional("count", whole, None)
    ends = table.optional("ends", one_of(_ENDS), None)
    laid = table.optional("laid", one_of(_LAID), None)
    joint = joints.get(called)

    def row() -> WantedRow:
        glued = joint is not None and joint.fit.glued
        wanted = WantedRow(
            name=name,
            joint=called,
            width=width,
            count=count,
            ends=ends,
            laid=laid or ("glued" if glued else "between sides"),
        )
        if joint is not None:
            row_of(wanted, joint)
        return wanted

    return table.build(row)


def row_of(wanted: WantedRow, joint: WantedJoint) -> None:
    """Refuse a joint whose boards do not make such a row.

    Raises
    ------
    InputError
        They are joined to another part, at their ends or faces; or one of joint and row is glued.
    """
    where = f"panel {wanted.name!r}"
    places = [place for place in (joint.groove, joint.tongue, joint.second_groove) if place]
    if not (joint.in_a_row and all(place.edge in _SIDES for place in places)):
        raise InputError(
            f"the boards of joint {joint.name!r} do not stand in a row",
            where=where,
            remedy="Name a joint between two edges of the boards of one part",
        )
    if joint.fit.glued and wanted.laid != "glued":
        raise InputError(
            f"joint {joint.name!r} is glued, and the row is laid {_LAID_AS[wanted.laid]}",
            where=where,
            remedy='Write laid = "glued" or leave laid out, or give the joint a dry fit',
        )
    if wanted.laid == "glued" and not joint.fit.glued:
        raise InputError(
            f"the row is glued, and the {joint.fit.name} fit of joint {joint.name!r} is dry",
            where=where,
            remedy='Give the joint fit = "glued", or lay the row "between sides" or with '
            '"free sides"',
        )


def read_framed(table: Table, rings: Reader[Rings]) -> WantedFramed | None:
    """The panel of a ``[[framed]]`` table; None after a fault. ``rings`` reads how it was sawn."""
    return table.build(
        WantedFramed,
        name=table.required("name", text),
        species=table.required("species", text),
        rings=table.required("rings", rings),
        opening_width=table.required("opening_width", table.length),
        opening_height=table.required("opening_height", table.length),
        groove_depth=table.required("groove_depth", table.length),
        grain=table.optional("grain", one_of(_GRAINS), _GRAINS[0]),
        engagement=table.optional("engagement", table.length, LEAST_ENGAGEMENT),
    )


def read_drawer(table: Table, rings: Reader[Rings]) -> WantedDrawer | None:
    """The drawer of a ``[[drawer]]`` table; None after a fault. ``rings`` reads how it was sawn."""
    return table.build(
        WantedDrawer,
        name=table.required("name", text),
        species=table.required("species", text),
        rings=table.required("rings", rings),
        opening_width=table.required("opening_width", table.length),
        opening_height=table.required("opening_height", table.length),
    )


_SIDES = ("reference edge", "opposite edge")
_LAID_AS: Mapping[Laid, str] = {"between sides": "between sides", "free sides": "with free sides"}
_ENDS: tuple[Ends, ...] = get_args(Ends)
_LAID: tuple[Laid, ...] = get_args(Laid)
_GRAINS: tuple[FrameGrain, ...] = get_args(FrameGrain)


def _within(where: str, low: float, high: float, **lengths: float) -> None:
    """Refuse lengths outside ``low`` to ``high``, in words that a table traces to their field."""
    for name, length in lengths.items():
        if not low <= length <= high:
            raise RangeError(
                f"{name} {length:g} mm is not between {low:g} and {high:g} mm",
                where=where,
                remedy="Check its units",
            )
