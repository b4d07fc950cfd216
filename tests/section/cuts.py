"""Grooves and tongues cut as a maker would, with surfaces under their trade names. [mm]"""

from dataclasses import dataclass

import numpy as np
import pytest

from faywright.section import (
    Meeting,
    Pass,
    Placing,
    Posture,
    Profile,
    Sections,
    cut,
    gaps,
    seats,
    slot_profile,
    straight_profile,
    tongue_pair_profile,
)

WIDTH = 90.0
SHOULDERS = ("shoulder A", "shoulder B")
MEETINGS = (
    Meeting("cheek A", "wall A", "cheek A", axis=0, sign=1),
    Meeting("cheek B", "wall B", "cheek B", axis=0, sign=-1),
    Meeting("bottom", "bottom", "edge", axis=1, sign=-1),
    Meeting("step on face B", "face B", "face B", axis=0, sign=-1),
)
GROOVE_SIDES = {
    "wall A": ("side near", "side far"),
    "wall B": ("side far", "side near"),
    "bottom": ("top", "top"),
}


def exactly(value: float) -> object:
    """Equal to within the kernel's promise for straight cuts, 1e-9 mm."""
    return pytest.approx(value, abs=1e-9, rel=0)


def plain(diameter: float) -> Profile:
    """A straight cutter without a step at its shank."""
    return straight_profile(diameter / 2, 60.0, diameter / 2)


def groove_pass(diameter: float, far: float, depth: float, posture: Posture) -> Pass:
    """On edge, the fence set to the far edge of the cutter."""
    against = int(posture is Posture.ON_EDGE_B)
    makes = {parts[against]: surface for surface, parts in GROOVE_SIDES.items()}
    return Pass(plain(diameter), depth, far - diameter / 2, posture, makes)


def groove_in_one_pass(thickness: float, diameter: float, far: float, depth: float) -> Sections:
    return cut(thickness, WIDTH, [groove_pass(diameter, far, depth, Posture.ON_EDGE_A)])


def groove_from_both_faces(thickness: float, diameter: float, far: float, depth: float) -> Sections:
    faces = (Posture.ON_EDGE_A, Posture.ON_EDGE_B)
    return cut(thickness, WIDTH, [groove_pass(diameter, far, depth, face) for face in faces])


def tongue_passes_flat(diameter: float, height: float, exposure: float) -> list[Pass]:
    """Each face in turn on the table; ``exposure`` is the far edge of the cutter."""
    return [
        Pass(
            plain(diameter),
            height,
            exposure - diameter / 2,
            posture,
            {"top": f"cheek {face}", "side far": f"shoulder {face}"},
        )
        for face, posture in (("A", Posture.FLAT_A), ("B", Posture.FLAT_B))
    ]


def tongue_passes_on_edge(diameter: float, height: float, exposure: float) -> list[Pass]:
    """Each face in turn against the fence; ``height`` is the length of the tongue."""
    return [
        Pass(
            plain(diameter),
            height,
            exposure - diameter / 2,
            posture,
            {"side far": f"cheek {face}", "top": f"shoulder {face}"},
        )
        for face, posture in (("A", Posture.ON_EDGE_A), ("B", Posture.ON_EDGE_B))
    ]


@dataclass(frozen=True)
class FaceATongue:
    """A tongue cut with face A down each time: its cheeks do not know where face B is. [mm]"""

    cheek: float
    tongue: float
    length: float

    def passes(self, wing: float) -> list[Pass]:
        """A straight pass below, and a slot cutter ``wing`` thick above the tongue."""
        below = {"top": "cheek A", "side far": "shoulder A"}
        above = {"underside far": "cheek B", "rim far": "shoulder B"}
        top = self.cheek + self.tongue + wing
        return [
            Pass(plain(40.0), self.cheek, self.length - 20.0, Posture.FLAT_A, below),
            Pass(slot_profile(24.0, wing, 4.0), top, self.length - 24.0, Posture.FLAT_A, above),
        ]

    def pair_pass(self, wing: float) -> Pass:
        """One pass of a matched pair whose hub stays behind the fence."""
        makes = {
            "lower top far": "cheek A",
            "lower rim far": "shoulder A",
            "upper underside far": "cheek B",
            "upper rim far": "shoulder B",
        }
        profile = tongue_pair_profile(24.0, wing, self.tongue, 4.0, 4.0)
        height = self.cheek + self.tongue + wing
        return Pass(profile, height, self.length - 24.0, Posture.FLAT_A, makes)


def seated(tongued: Sections, *shoulders: str) -> Placing:
    """Every tongue in the first groove, shoulders closed and faces A flush."""
    count = len(tongued)
    zeros = np.zeros(count, dtype=np.int64)
    return Placing(zeros, np.arange(count), seats(tongued, shoulders), np.zeros(count))


def mated(grooved: Sections, tongued: Sections) -> dict[str, float]:
    """Gaps of one pair with both shoulders closed."""
    found = gaps(grooved, tongued, MEETINGS, seated(tongued, *SHOULDERS))
    return {name: float(values[0]) for name, values in found.items()}
