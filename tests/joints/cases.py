"""Every way to cut a groove and a tongue, with boards and cutters drawn at random. [mm]"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from faywright.joints import grooves, tongues
from faywright.joints.method import Method
from faywright.joints.solution import Solution
from faywright.joints.task import JointTask
from faywright.shop import Cutter
from tests.joints.builders import (
    groove_by,
    joint,
    matched_pair,
    slot,
    solved,
    straight,
    tongue_by,
)
from tests.strategies import lengths


@dataclass(frozen=True)
class GrooveCase:
    """A method and the cutter for it: its size as a share of the groove's width, or the width."""

    method: str
    share: float
    wing: bool = False
    one: bool = False


GROOVES: Mapping[str, GrooveCase] = MappingProxyType(
    {
        "one pass": GrooveCase(grooves.ON_EDGE, 1.0, one=True),
        "both faces": GrooveCase(grooves.BOTH_FACES, 0.7),
        "both faces, little to spare": GrooveCase(grooves.BOTH_FACES, 0.6),
        "two fence positions": GrooveCase(grooves.TWO_PLACES, 0.7),
        "slot cutter, one height": GrooveCase(grooves.FLAT, 1.0, wing=True, one=True),
        "slot cutter, two heights": GrooveCase(grooves.FLAT, 0.7, wing=True),
        "both faces inward": GrooveCase(grooves.BOTH_FACES_INWARD, 0.7),
    }
)


@dataclass(frozen=True)
class TongueCase:
    """A method and its cutters, named by what is special about them."""

    method: str
    cutters: tuple[str, ...]
    half: bool = False


TONGUES: Mapping[str, TongueCase] = MappingProxyType(
    {
        "flat": TongueCase(tongues.FLAT, ("wide",)),
        "flat, several fence positions": TongueCase(tongues.FLAT, ("narrow",)),
        "flat, several heights": TongueCase(tongues.FLAT, ("small",)),
        "on edge": TongueCase(tongues.ON_EDGE, ("wide",)),
        "on edge, several fence positions": TongueCase(tongues.ON_EDGE, ("small",)),
        "face A, straight cutter below": TongueCase(tongues.FACE_A, ("wide", "thick wing")),
        "face A, slot cutter alone": TongueCase(tongues.FACE_A, ("thick wing",)),
        "face A, many heights": TongueCase(tongues.FACE_A, ("thin wing",)),
        "matched pair": TongueCase(tongues.PAIR, ("pair",)),
        "face A on the fence": TongueCase(tongues.ON_EDGE_ONE_FACE, ("wide",)),
        "strip": TongueCase(tongues.STRIP, ()),
        "half, flat": TongueCase(tongues.HALF_FLAT, ("narrow",), half=True),
        "half, on edge": TongueCase(tongues.HALF_ON_EDGE, ("small",), half=True),
        "half, face A down": TongueCase(tongues.HALF_FACE_A, ("thin wing",), half=True),
    }
)


@dataclass(frozen=True)
class Drawn:
    """One joint with the pair of methods that shall make it, and their cutters."""

    task: JointTask
    groove: Method
    tongue: Method
    groove_cutter: Cutter
    tongue_cutters: tuple[Cutter, ...]

    def solved(self) -> Solution:
        """Settings for it."""
        return solved(self.task, self.groove, self.tongue)


@st.composite
def drawn_joints(draw: DrawFn, groove: str, tongue: str) -> Drawn:
    """Boards, cutters and wishes for a groove case and a tongue case."""
    one, other = GROOVES[groove], TONGUES[tongue]
    middle = draw(lengths(15, 40))
    width = round(middle * draw(st.integers(27, 37)) / 100, 3)
    near = st.lists(lengths(middle - 0.4, middle + 0.4), min_size=2, max_size=3)
    grooved = draw(near)
    wishes: dict[str, Any] = {"tongue_length": draw(lengths(5, 11)), "half": other.half}
    strips = other.method == tongues.STRIP
    if strips:
        count = len(grooved)
        strip = st.lists(lengths(width - 0.03, width + 0.03), min_size=count, max_size=count)
        tongued = draw(strip)
        wishes |= {"groove_width": width + 0.36} if one.one else {}
    else:
        wishes["groove_width"] = width
        tongued = [draw(lengths(t - 0.3, t + 0.3)) for t in grooved]
    task = joint(grooved, tongued, strips=strips, **wishes)
    cutter = _groove_cutter(one, task.target.width)
    made = groove_by(task, one.method, cutter)
    cutters = tuple(_tongue_cutter(kind, middle, width) for kind in other.cutters)
    return Drawn(task, made, tongue_by(task, made, other.method, *cutters), cutter, cutters)


def _groove_cutter(case: GrooveCase, width: float) -> Cutter:
    size = round(width * case.share, 3) if not case.one else width
    if case.wing:
        return slot(size, "G1", diameter=80, slot_depth=30)
    return straight(size, "G1")


def _tongue_cutter(kind: str, middle: float, width: float) -> Cutter:
    sizes = {"wide": 18.0, "narrow": 9.0, "small": 4.0}
    if kind in sizes:
        return straight(sizes[kind], kind)
    if kind == "pair":
        return matched_pair(round(width - 0.36, 3), wing=30, reach=150)
    return slot(middle * 0.6 if kind == "thick wing" else 2.5, kind, reach=150)
