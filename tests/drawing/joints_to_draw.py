"""Mated tongues and grooves, cut as a maker would, ready to be drawn. [mm]"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from faywright.drawing.mated import mated_drawing
from faywright.drawing.model import Drawing
from faywright.drawing.pairing import TONGUE_AND_GROOVE
from faywright.lengths import LengthStyle, write_length
from faywright.section import (
    Pass,
    Placing,
    Posture,
    Sections,
    cut,
    gaps,
    seats,
    straight_profile,
)

CUTTER = straight_profile(15.0, 60.0, 6.0)


def in_mm(value: float) -> str:
    return write_length(value, LengthStyle("mm"))


@dataclass(frozen=True)
class JointToDraw:
    """A centred groove, and a tongue run from both faces; ``side`` is its clearance per side."""

    thickness: float
    groove: float
    length: float
    side: float
    bottom: float
    other_thickness: float
    open_by: float = 0.0

    @cached_property
    def grooved(self) -> Sections:
        wall = (self.thickness - self.groove) / 2
        half = self.groove / 2
        makes = {"top": "bottom", "side near": "face-A wall", "side far": "face-B wall"}
        cutter = straight_profile(half, 60.0, half)
        depth = self.length + self.bottom
        run = Pass(cutter, depth, wall + half, Posture.ON_EDGE_A, makes)
        return cut(self.thickness, 200.0, [run])

    @cached_property
    def tongued(self) -> Sections:
        height = (self.thickness - self.groove) / 2 + self.side
        runs = [
            Pass(
                CUTTER,
                height,
                self.length - CUTTER.radius,
                posture,
                {"top": f"face-{face} cheek", "side far": f"face-{face} shoulder"},
            )
            for face, posture in (("A", Posture.FLAT_A), ("B", Posture.FLAT_B))
        ]
        return cut(self.other_thickness, 200.0, runs)

    @cached_property
    def placing(self) -> Placing:
        seat = seats(self.tongued, ["face-A shoulder", "face-B shoulder"]) - self.open_by
        return Placing(np.array([0]), np.array([0]), seat, np.zeros(1))

    @cached_property
    def gaps(self) -> dict[str, float]:
        found = gaps(self.grooved, self.tongued, TONGUE_AND_GROOVE, self.placing)
        return {name: float(values[0]) for name, values in found.items()}

    def drawing(self, title: str = "Tongue and groove") -> Drawing:
        return mated_drawing(
            self.grooved, self.tongued, self.placing, 0, self.gaps, title=title, write=in_mm
        )


def plain_joint(thickness: float) -> JointToDraw:
    """By thirds, snug, with room at the bottom."""
    third = thickness / 3
    return JointToDraw(thickness, third, third, 0.18, min(1.0, third / 3), thickness)


SNUG_19 = JointToDraw(19.0, 6.3, 6.0, 0.18, 1.0, 18.8)
