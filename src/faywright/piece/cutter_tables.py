"""Cutters as a shop file lists them, one kind a reader."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypedDict

from faywright.piece.fields import Table
from faywright.piece.values import Reader, date, number, one_of, text, whole
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

_NO_SIZE = CutSize(marked=1.0)  # stands in for a size with a fault, and never leaves this module


def read_cutter(table: Table) -> Cutter | None:
    """The cutter of a ``[[cutter]]`` table; None after a fault.

    Without a known kind nothing can be said of the other keys, so they are not read.
    """
    if not table.holds("kind"):
        table.fault("it is missing", f"Write one of {', '.join(_CUTTERS)}", "kind")
        return None
    kind = table.optional("kind", one_of(tuple(_CUTTERS)), None)
    return None if kind is None else _CUTTERS[kind](table)


class _Common(TypedDict):
    mark: str
    flutes: int
    reach: float
    runout: float
    shank: float
    max_speed_rpm: int | None


def _common(table: Table) -> _Common:
    return _Common(
        mark=table.required("mark", text),
        flutes=table.required("flutes", whole),
        reach=table.required("reach", table.length),
        runout=table.optional("runout", table.length, 0.0),
        shank=table.optional("shank", table.length, 12.7),
        max_speed_rpm=table.optional("max_speed_rpm", whole, None),
    )


def _cut_size(cutter: Table, key: str) -> CutSize:
    """What is marked and what was measured; or the marked length alone, without a table."""
    table = cutter.table(key) if cutter.holds(key, dict) else None
    if table is None:
        marked_alone = Reader(lambda value: CutSize(marked=cutter.length.read(value)), _NO_SIZE)
        return cutter.required(key, marked_alone)
    size = table.build(
        CutSize,
        marked=table.required("marked", table.length),
        measured=table.optional("measured", table.length, None),
        how=table.optional("how", one_of(("trial slot", "calipers")), "trial slot"),
        on=table.optional("on", date, None),
    )
    return size or _NO_SIZE


def _straight(table: Table) -> Cutter | None:
    return table.build(
        StraightCutter,
        **_common(table),
        diameter=_cut_size(table, "diameter"),
        cutting_length=table.required("cutting_length", table.length),
    )


def _slot(table: Table) -> Cutter | None:
    return table.build(
        SlotCutter,
        **_common(table),
        thickness=_cut_size(table, "thickness"),
        diameter=table.required("diameter", table.length),
        slot_depth=table.required("slot_depth", table.length),
    )


def _tongue_pair(table: Table) -> Cutter | None:
    return table.build(
        TonguePairCutter,
        **_common(table),
        tongue=_cut_size(table, "tongue"),
        diameter=table.required("diameter", table.length),
        wing=table.required("wing", table.length),
        tongue_length=table.required("tongue_length", table.length),
    )


def _v(table: Table) -> Cutter | None:
    return table.build(
        VCutter,
        **_common(table),
        diameter=table.required("diameter", table.length),
        angle_deg=table.required("angle_deg", number),
    )


def _bead(table: Table) -> Cutter | None:
    return table.build(
        BeadCutter,
        **_common(table),
        radius=table.required("radius", table.length),
        point=table.required("point", table.length),
    )


def _dovetail(table: Table) -> Cutter | None:
    return table.build(
        DovetailCutter,
        **_common(table),
        diameter=_cut_size(table, "diameter"),
        height=table.required("height", table.length),
        angle_deg=table.required("angle_deg", number),
    )


_CUTTERS: dict[str, Callable[[Table], Cutter | None]] = {
    "straight": _straight,
    "slot": _slot,
    "tongue pair": _tongue_pair,
    "v": _v,
    "bead": _bead,
    "dovetail": _dovetail,
}
