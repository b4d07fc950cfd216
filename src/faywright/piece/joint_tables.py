"""Joints as a piece file asks for them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import get_args

from faywright.errors import InputError
from faywright.fit.bands import Fit, fit_called
from faywright.joints.wanted import EdgeDetail, EdgeName, Family, Place, WantedJoint
from faywright.piece.fields import Table
from faywright.piece.load_tables import read_load
from faywright.piece.model import Part
from faywright.piece.values import Reader, UnreadError, flag, name_in, one_of, shown, text, whole
from faywright.shop.boards import Timber

_NO_PART = Part(name="", timber="softwood", boards=())
_NO_PLACE = Place(part="", edge="reference edge")
_NO_FIT = Fit(name="", aim=0.0, low=0.0, high=1.0)
# These stand in for what has a fault, and never leave this module.


def read_joint(
    table: Table, parts: Mapping[str, Part], with_boards: Collection[str]
) -> WantedJoint | None:
    """The joint of a ``[[joint]]`` table; None after a fault.

    ``with_boards`` are the names of parts for which boards are listed: a joint needs them.
    """
    known = _part_in(parts, with_boards)
    family: Family = table.required("family", one_of(get_args(Family)))
    groove = _place(table, "groove", known, needed='Write groove = { part = "...", edge = "..." }')
    strip = table.optional("strip", known, None)
    method = table.table("method")
    groove_method, tongue_method = (None, None) if method is None else _methods(method)
    return table.build(
        WantedJoint,
        name=table.required("name", text),
        family=family,
        groove=groove or _NO_PLACE,
        fit=_fit(table, _timber_of_fit(groove, strip, parts)),
        tongue=_place(table, "tongue", known),
        second_groove=_place(table, "second_groove", known),
        strip=None if strip is None else strip.name,
        half=table.optional("half", flag, False),  # noqa: FBT003 - the default of the field
        free_order=table.optional("order", one_of(("free", "as listed")), "free") == "free",
        tongue_thickness=table.optional("tongue_thickness", table.length, None),
        tongue_length=table.optional("tongue_length", table.length, None),
        groove_width=table.optional("groove_width", table.length, None),
        groove_depth=table.optional("groove_depth", table.length, None),
        bottom_gap=table.optional("bottom_gap", table.length, None),
        engagement=table.optional("engagement", table.length, None),
        offset=table.optional("offset", table.length, None),
        film=table.optional("film", table.length, 0.0),
        sanding=table.optional("sanding", table.length, 0.0),
        detail=_detail(table),
        groove_method=groove_method,
        tongue_method=tongue_method,
        most_settings=table.optional("most_settings", whole, None),
        load=read_load(table),
    )


def _part_in(parts: Mapping[str, Part], with_boards: Collection[str]) -> Reader[Part]:
    """Reads the name of a part that has boards."""
    any_part = name_in(parts, kind="part", stand_in=_NO_PART)

    def read(value: object) -> Part:
        part = any_part.read(value)
        if part.name not in with_boards:
            what = f'no board is listed for part "{part.name}"'
            remedy = "List the boards measured for it under [[board]]"
            raise InputError(what, where="joint", remedy=remedy)
        return part

    return Reader(read, _NO_PART)


def _place(
    joint: Table, key: str, known: Reader[Part], *, needed: str | None = None
) -> Place | None:
    table = joint.table(key, needed=needed)
    if table is None:
        return None
    part = table.required("part", known)
    edge: EdgeName = table.required("edge", one_of(get_args(EdgeName)))
    return table.build(Place, part=part.name, edge=edge)


def _methods(table: Table) -> tuple[str | None, str | None]:
    groove = table.optional("groove", text, None)
    tongue = table.optional("tongue", text, None)
    table.close()
    return groove, tongue


def _detail(joint: Table) -> EdgeDetail | None:
    table = joint.table("detail")
    if table is None:
        return None
    return table.build(
        EdgeDetail,
        kind=table.required("kind", one_of(("V", "bead", "square reveal"))),
        size=table.required("size", table.length),
    )


def _timber_of_fit(
    groove: Place | None, strip: Part | None, parts: Mapping[str, Part]
) -> Timber | None:
    """The timber whose fits count: of the strip if that is sheet, else of the grooved part."""
    if strip is not None and strip.timber == "sheet":
        return "sheet"
    return None if groove is None else parts[groove.part].timber


def _fit(joint: Table, timber: Timber | None) -> Fit:
    """A packaged fit by its name, or the maker's own figures."""
    table = joint.table("fit") if joint.holds("fit", dict) else None
    if table is None:
        return joint.required("fit", _packaged_fit(timber), remedy=_FIT_REMEDY)
    fit = table.build(
        Fit,
        name=table.optional("name", text, "own"),
        aim=table.required("aim", table.length),
        low=table.required("low", table.length),
        high=table.required("high", table.length),
        glued=table.optional("glued", flag, False),  # noqa: FBT003 - the default of the field
    )
    return fit or _NO_FIT


_FIT_REMEDY = 'Name one, fit = "snug", or give your own, fit = { aim = ..., low = ..., high = ... }'


def _packaged_fit(timber: Timber | None) -> Reader[Fit]:
    def read(value: object) -> Fit:
        if not isinstance(value, str):
            raise UnreadError(f"{shown(value)} does not say which fit", _FIT_REMEDY)
        return _NO_FIT if timber is None else fit_called(value, timber)

    return Reader(read, _NO_FIT)
