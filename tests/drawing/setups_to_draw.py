"""Setups of every kind, ready to be drawn. [mm]"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from hypothesis import strategies as st

from faywright.drawing.along_feed import along_feed
from faywright.drawing.at_work import AtWork
from faywright.drawing.from_above import from_above
from faywright.drawing.model import Drawing
from faywright.joints import grooves, tongues
from faywright.joints.solution import Solution
from faywright.joints.wanted import EdgeName
from faywright.joints.work import Work
from faywright.section import Pass, Posture, v_profile
from faywright.setups.setup import FencePlace, Setup
from faywright.setups.sheet import setups_of
from faywright.setups.simulate import run_passes
from faywright.shop import Machine
from faywright.shop.inventory import Reference
from faywright.shop.machines import FenceSide, Rotation
from tests.drawing.joints_to_draw import in_mm
from tests.joints.builders import TABLE, groove_by, joint, slot, solved, straight, tongue_by
from tests.joints.cases import GROOVES, TONGUES, drawn_joints

ROTATIONS: tuple[Rotation, ...] = ("anticlockwise", "clockwise")
FENCE_SIDES: tuple[FenceSide, ...] = ("behind the cutter", "before the cutter")
REFERENCES: tuple[Reference, ...] = ("far edge", "axis", "near edge")


@dataclass(frozen=True)
class SetupToDraw:
    """A setup with the work and the machine it is for."""

    setup: Setup
    work: Work
    machine: Machine = TABLE

    @property
    def at_work(self) -> AtWork:
        return AtWork(self.setup, self.work, self.machine)

    def along(self, reference: Reference = "far edge") -> Drawing:
        return along_feed(self.setup, self.work, self.machine, write=in_mm, reference=reference)

    def above(self) -> Drawing:
        return from_above(self.setup, self.work, self.machine)


def to_draw(solution: Solution, machine: Machine = TABLE) -> list[SetupToDraw]:
    """Every setup of a solution."""
    task = solution.task
    return [
        SetupToDraw(setup, task.grooved if setup.side == "groove" else task.tongued, machine)
        for setup in setups_of(solution, machine)
    ]


def machine(rotation: Rotation, fence_side: FenceSide) -> Machine:
    """A table whose spindle turns and whose fence stands as told."""
    return replace(TABLE, rotation=rotation, fence_side=fence_side, table_opening=70.0)


@cache
def boards(groove: str = "one pass", **wishes: Any) -> Solution:
    """Boards of 19 with the groove of one method, their tongues cut flat."""
    asked: dict[str, Any] = {"groove_width": 6.5, "tongue_length": 8.0}
    task = joint([19.0, 19.06], [19.02, 18.98], **(asked | wishes))
    cutter = slot(4.6) if "slot" in groove else straight(6.5 if groove == "one pass" else 4.6)
    made = groove_by(task, GROOVES[groove].method, cutter)
    return solved(task, made, tongue_by(task, made, tongues.FLAT, straight(18.0, "C2")))


@cache
def drawer_side(face: EdgeName = "face B") -> Solution:
    """A groove along the middle of a face, for a runner."""
    task = joint(
        [13.0], [7.2], strips=True, groove_edge=face, width=96.0, groove_depth=5.0, family="runner"
    )
    made = groove_by(task, grooves.ON_EDGE, straight(task.target.width))
    return solved(task, made, tongue_by(task, made, tongues.STRIP))


@dataclass(frozen=True)
class Pile:
    """Sizes of boards and cutters far apart, by thickness."""

    thickness: float
    groove: float
    cutter: float

    def solution(self) -> Solution:
        task = joint(
            [self.thickness] * 2,
            [self.thickness] * 2,
            groove_width=self.groove,
            groove_depth=self.groove + 1,
            tongue_length=self.groove,
        )
        made = groove_by(task, grooves.ON_EDGE, straight(self.groove))
        tongue = tongue_by(task, made, tongues.FLAT, straight(self.cutter, "C2", shank=12.7))
        return solved(task, made, tongue)


PILES = (
    Pile(6.0, 3.0, 12.0),
    Pile(12.0, 4.0, 60.0),
    Pile(25.4, 8.0, 3.0),
    Pile(40.0, 12.7, 60.0),
    Pile(60.0, 20.0, 50.0),
    Pile(6.0, 3.0, 60.0),
)


@st.composite
def setups(draw: st.DrawFn) -> SetupToDraw:
    """One setup of a joint of any kind, on a machine of any kind."""
    kinds = st.sampled_from(sorted(GROOVES)), st.sampled_from(sorted(TONGUES))
    found = to_draw(
        draw(drawn_joints(draw(kinds[0]), draw(kinds[1]))).solved(),
        machine(draw(st.sampled_from(ROTATIONS)), draw(st.sampled_from(FENCE_SIDES))),
    )
    return draw(st.sampled_from(found))


def with_posture(setup: SetupToDraw, posture: Posture) -> SetupToDraw:
    """The same setting with the board laid down another way, cut once from the blank."""
    (run, *_) = setup.setup.report.station.passes()
    return _run_as(setup, replace(run, posture=posture))


def with_v() -> SetupToDraw:
    """A V along the edge, run with face A down and the edge against the fence."""
    flat = to_draw(boards())[-1]
    (run, *_) = flat.setup.report.station.passes()
    v = _run_as(flat, replace(run, profile=v_profile(8.0, 90.0), height=3.5, axis=-0.5, makes={}))
    places = FencePlace(far_edge=7.5, axis=-0.5, near_edge=-8.5)
    height = replace(flat.setup.height, true=3.5, shows=3.5)
    return replace(v, setup=replace(v.setup, places=places, height=height))


def _run_as(setup: SetupToDraw, run: Pass) -> SetupToDraw:
    at_work, report = setup.at_work, setup.setup.report
    results = run_passes(at_work.thickness, at_work.deep, [run])
    again = replace(report, results=results, feeds=report.feeds[:1])
    return replace(setup, setup=replace(setup.setup, report=again))
