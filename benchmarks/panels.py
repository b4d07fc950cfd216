"""One panel of boards and the shop it is cut in, as both benchmarks need them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from faywright.fit.bands import fits
from faywright.joints.wanted import Place, WantedJoint
from faywright.piece.model import Part, Piece
from faywright.shop.boards import Board
from faywright.shop.cutters import CutSize, SlotCutter, StraightCutter
from faywright.shop.gauges import Gauge
from faywright.shop.machines import Machine

QUARTER, HALF, SLOT = "1/4", "1/2", "slot"
QUARTER_INCH, HALF_INCH, FIVE_MM = 6.35, 12.7, 5.0
"""Marked sizes of the three cutters. [mm]"""

MACHINE = Machine(mark="router table", speeds_rpm=(10000, 13000, 16000, 19000), work_lift=0.02)
CALIPERS = Gauge(mark="calipers", uses=("thickness",), resolution=0.01, repeatability=0.02)
DEPTH_GAUGE = Gauge(
    mark="depth gauge", uses=("height", "fence"), resolution=0.01, repeatability=0.03
)

JOINT = WantedJoint(
    name="panel",
    family="tongue and groove",
    groove=Place("board", "reference edge"),
    tongue=Place("board", "opposite edge"),
    fit=fits()["snug", "softwood"],
)
"""A snug dry tongue in softwood, 0.08 to 0.28 mm a side."""


def straight(mark: str, marked: float, measured: float) -> StraightCutter:
    """A straight cutter as the maker knows it. [mm]"""
    return StraightCutter(
        mark=mark,
        flutes=2,
        reach=45,
        diameter=CutSize(marked=marked, measured=measured),
        cutting_length=25,
        max_speed_rpm=22000,
    )


def slot(mark: str, marked: float, measured: float) -> SlotCutter:
    """A slot cutter as the maker knows it. [mm]"""
    return SlotCutter(
        mark=mark,
        flutes=3,
        reach=40,
        thickness=CutSize(marked=marked, measured=measured),
        diameter=47.6,
        slot_depth=12.7,
        max_speed_rpm=18000,
    )


def boards(readings: Sequence[NDArray[np.float64]]) -> tuple[Board, ...]:
    """Softwood boards from thickness readings along each. [mm]"""
    return tuple(
        Board(mark=f"B{k:02d}", readings=along[:, None], width=120, length=620)
        for k, along in enumerate(readings, 1)
    )


def panel(pile: tuple[Board, ...], joint: WantedJoint = JOINT) -> Piece:
    """A piece that is one panel of boards in a row."""
    part = Part(name="board", timber="softwood", boards=pile)
    return Piece(title="panel", units="mm", parts=(part,), joints=(joint,))
