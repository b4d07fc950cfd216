"""A boarded lining of many walls: an invented piece with as many sheets as a benchmark needs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from benchmarks.one_plan import large_panel
from benchmarks.panels import JOINT, boards
from faywright.joints.wanted import Place, WantedJoint
from faywright.piece.model import Part, Piece
from faywright.piece.plan import Plan, plan
from faywright.piece.words import final_setups

BOARDS = 12
LOTS = (18.4, 19.0, 19.6)
"""Thickness of the three lots each wall is boarded from. [mm]"""

SHEETS = 4
"""A wall's: one setup for its grooves and one for the tongues of each lot."""


def lining(walls: int, first: int = 1) -> Plan:
    """The plan of a lining: each wall is one joint, with boards from three lots of thickness.

    Walls are numbered from ``first``, and no two of different numbers have the same boards.
    """
    shop = replace(large_panel(2).shop, title="lining")
    parts, joints = zip(*(_wall(number) for number in range(first, first + walls)), strict=True)
    made = plan(Piece(title="Boarded hall", units="mm", parts=parts, joints=joints), shop)
    sheets = len(list(final_setups(made.setups)))
    if sheets != SHEETS * walls:
        raise ValueError(f"{sheets} sheets for {walls} walls from number {first}")
    return made


def _wall(number: int) -> tuple[Part, WantedJoint]:
    generator = np.random.default_rng(number)
    lots = np.resize(LOTS, BOARDS) + 0.005 * generator.standard_normal(BOARDS)
    pile = boards([mean + 0.01 * generator.standard_normal(5) for mean in lots])
    name = f"wall {number}"
    part = Part(
        name=name,
        timber="softwood",
        boards=tuple(replace(board, mark=f"{number}-{board.mark}") for board in pile),
    )
    groove, tongue = Place(name, "reference edge"), Place(name, "opposite edge")
    return part, replace(JOINT, name=name, groove=groove, tongue=tongue)
