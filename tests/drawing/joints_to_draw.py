"""Mated tongues and grooves, cut as a maker would, ready to be drawn. [mm]"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from faywright.drawing.mated import mated_drawing
from faywright.drawing.model import Drawing
from faywright.drawing.naming import Naming
from faywright.drawing.pairing import TONGUE_AND_GROOVE, Facing
from faywright.lengths import LengthStyle, write_length
from faywright.section import (
    Meeting,
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


STRIP_IN_GROOVE = (
    Meeting("face-A cheek", "face-A wall", "face A", 0, 1),
    Meeting("face-B cheek", "face-B wall", "face B", 0, -1),
    Meeting("bottom", "bottom", "edge", 1, -1),
)
WALLS = {"top": "bottom", "side near": "face-A wall", "side far": "face-B wall"}


@dataclass(frozen=True)
class StripToDraw:
    """A strip in the middle of its groove, ``wall`` from the upper face or edge of the part.

    ``across`` and ``deep`` are the size of the grooved part along u and v. With ``loose`` a
    second part like the first takes the other half of the strip.
    """

    across: float
    deep: float
    strip: float
    strip_width: float
    wall: float
    entry: float
    side: float = 0.38
    bottom: float = 1.0
    naming: Naming = Naming("D2", "reference edge", "face B")  # noqa: RUF009 - frozen
    loose: bool = False

    @cached_property
    def grooved(self) -> Sections:
        half = self.strip / 2 + self.side
        depth = self.entry + self.bottom
        cutter = straight_profile(half, 60.0, half)
        run = Pass(cutter, depth, self.wall + half, Posture.ON_EDGE_A, WALLS)
        return cut(self.across, self.deep, [run])

    def drawing(self) -> Drawing:
        strip = cut(self.strip, self.strip_width, [])
        lift = np.array([self.wall + self.side])
        placing = Placing(np.array([0]), np.array([0]), np.array([self.entry]), lift)
        found = gaps(self.grooved, strip, STRIP_IN_GROOVE, placing)
        other = Facing(self.grooved, 0, Naming("D3", self.naming.up))
        return mated_drawing(
            self.grooved,
            strip,
            placing,
            0,
            {name: float(values[0]) for name, values in found.items()},
            title="Strip in a groove",
            write=in_mm,
            parts=(self.naming, Naming("R1", None)),
            meetings=STRIP_IN_GROOVE,
            facing=other if self.loose else None,
        )


RUNNER = StripToDraw(96.0, 13.0, 7.2, 18.0, wall=44.0, entry=5.5)
"""A drawer side with the groove for its runner along the middle of its face."""

LOOSE_TONGUE = StripToDraw(
    19.0, 120.0, 6.0, 18.0, wall=6.0, entry=9.0, side=0.15, naming=Naming("D2"), loose=True
)


@dataclass(frozen=True)
class HalfTongueToDraw:
    """A tongue with one shoulder: its cheek A is face A itself, and stands in a groove."""

    grooved: Sections
    wall: float
    groove: float
    length: float
    below: float
    side: float = 0.18

    def drawing(self) -> Drawing:
        thick = self.groove - 2 * self.side
        makes = {"top": "face-B cheek", "side far": "face-B shoulder"}
        run = Pass(CUTTER, self.below, self.length - CUTTER.radius, Posture.FLAT_B, makes)
        tongued = cut(thick + self.below, 200.0, [run])
        lift = np.array([self.wall + self.side])
        placing = Placing(np.array([0]), np.array([0]), np.array([self.length]), lift)
        meetings = (STRIP_IN_GROOVE[0], *TONGUE_AND_GROOVE[1:3], *TONGUE_AND_GROOVE[4:])
        found = gaps(self.grooved, tongued, meetings, placing)
        return mated_drawing(
            self.grooved,
            tongued,
            placing,
            0,
            {name: float(values[0]) for name, values in found.items()},
            title="Half tongue",
            write=in_mm,
            meetings=meetings,
        )


def half_tongue(thickness: float, below: float) -> HalfTongueToDraw:
    """In a groove of a third of the thickness; ``below`` is the depth of its shoulder."""
    third = thickness / 3
    joint = plain_joint(thickness)
    return HalfTongueToDraw(joint.grooved, third, third, joint.length, below)
