"""Boards, cutters, machines and joints for the tests of joints and setups. [mm]"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from faywright.fit import Fit
from faywright.fit.forms import Quantity, Value
from faywright.joints.grooves import Declined, groove_methods
from faywright.joints.method import Method
from faywright.joints.moving import Moving
from faywright.joints.side_groups import SideGroup
from faywright.joints.solution import Solution, solve
from faywright.joints.task import Instruments, JointTask, joint_task
from faywright.joints.tongues import STRIP, TongueJob, strip_as_it_is, tongue_methods
from faywright.joints.wanted import EdgeName, Place, WantedJoint
from faywright.joints.work import work_of
from faywright.section.cutting import Pass, Sections, cut_boards
from faywright.shop import (
    Board,
    CutSize,
    Cutter,
    Gauge,
    Machine,
    SlotCutter,
    StraightCutter,
    Timber,
    TonguePairCutter,
)

Floats = NDArray[np.float64]

SNUG = Fit(name="snug", aim=0.18, low=0.08, high=0.28)
TABLE = Machine(mark="table", speeds_rpm=(10000, 16000, 18000, 22000), lift_pitch=1.5)
GAUGE = Gauge(
    mark="dial", uses=("height", "fence", "thickness"), resolution=0.01, repeatability=0.02
)
INSTRUMENTS = Instruments(height=GAUGE, fence=GAUGE, calipers=GAUGE)


def exactly(value: object) -> object:
    """Equal to within what is promised for straight cuts, 1e-9 mm."""
    return pytest.approx(value, abs=1e-9, rel=0)


def straight(diameter: float, mark: str = "C1", **more: Any) -> StraightCutter:
    """A straight cutter that cuts ``diameter`` in wood."""
    figures: dict[str, Any] = {"flutes": 2, "reach": 60, "cutting_length": 50, "shank": 6, **more}
    return StraightCutter(
        mark=mark, diameter=CutSize(marked=diameter, measured=diameter), **figures
    )


def slot(thickness: float, mark: str = "S1", **more: Any) -> SlotCutter:
    """A slot cutter that cuts ``thickness`` in wood."""
    figures: dict[str, Any] = {"flutes": 3, "reach": 80, "diameter": 60, "slot_depth": 20, **more}
    return SlotCutter(mark=mark, thickness=CutSize(marked=thickness, measured=thickness), **figures)


def matched_pair(tongue: float, mark: str = "P1", **more: Any) -> TonguePairCutter:
    """The tongue half of a matched pair that leaves a tongue of ``tongue``."""
    figures: dict[str, Any] = {
        "flutes": 2,
        "reach": 80,
        "diameter": 48,
        "wing": 20,
        "tongue_length": 14,
        **more,
    }
    return TonguePairCutter(mark=mark, tongue=CutSize(marked=tongue, measured=tongue), **figures)


def pile(
    thicknesses: Sequence[float],
    *,
    width: float = 120.0,
    length: float = 640.0,
    scatter: float = 0.0,
) -> list[Board]:
    """One board of each thickness, read three times along its length."""
    return [
        Board(
            mark=f"B{k + 1:02}",
            readings=np.array([[t - scatter], [t], [t + scatter]]),
            width=width,
            length=length,
        )
        for k, t in enumerate(thicknesses)
    ]


def joint(
    grooved: Sequence[float],
    tongued: Sequence[float] | None = None,
    *,
    timber: Timber = "softwood",
    machine: Machine = TABLE,
    instruments: Instruments = INSTRUMENTS,
    strips: bool = False,
    groove_edge: EdgeName = "reference edge",
    tongue_edge: EdgeName = "opposite edge",
    width: float = 120.0,
    length: float = 640.0,
    scatter: float = 0.0,
    moving: Moving | None = None,
    **wishes: Any,
) -> JointTask:
    """A joint of boards by thickness: the same boards in a row where ``tongued`` is None."""
    other = "backs" if tongued is None else "sides"
    groove, tongue = Place("backs", groove_edge), Place(other, tongue_edge)
    named: dict[str, Any] = {"strip": other} if strips else {"tongue": tongue}
    asked: dict[str, Any] = {"name": "back", "family": "tongue and groove", "fit": SNUG}
    wanted = WantedJoint(**(asked | {"groove": groove} | named | wishes))
    first = pile(grooved, width=width, length=length, scatter=scatter)
    second = (
        first if tongued is None else pile(tongued, width=width, length=length, scatter=scatter)
    )
    return joint_task(
        wanted,
        work_of(first, groove, timber, instruments.calipers),
        work_of(second, tongue, timber, instruments.calipers),
        machine=machine,
        instruments=instruments,
        moving=moving,
    )


def groove_by(task: JointTask, name: str, cutter: Cutter) -> Method:
    """The groove method called ``name`` with one cutter."""
    made = list(groove_methods(task.target, task.grooved, cutter, exact=task.strip))
    return _called(name, made)


def typical(task: JointTask, method: Method) -> dict[Quantity, Value]:
    """Settings of a groove method for its middle board and the wanted width."""
    known = {**method.known(), method.thickness: task.grooved.middle}
    if method.control is not None:
        known[method.control] = method.control_for(task.target.width, task.grooved.middle)
    return known


def tongue_job(task: JointTask, groove: Method) -> TongueJob:
    """The tongue that goes into a groove."""
    known = typical(task, groove)
    width = float(groove.size.value(known))
    thickness = width - task.target.play
    near = float(groove.surfaces["face-A wall"][1].value(known)) + task.target.play / 2
    if task.grooved.on_face:
        near = (task.tongued.middle - thickness) / 2
    return TongueJob(
        work=task.tongued,
        length=task.target.length,
        near=near,
        thickness=thickness,
        half=task.wanted.half,
        centred=groove.follows != 0,
        given=task.target.given,
    )


def tongue_by(task: JointTask, groove: Method, name: str, *cutters: Cutter) -> Method:
    """The tongue method called ``name`` that uses all of ``cutters``."""
    if name == STRIP:
        return strip_as_it_is(task.tongued)
    made = list(tongue_methods(tongue_job(task, groove), cutters))
    marks = {cutter.mark for cutter in cutters}
    suits = [m for m in made if isinstance(m, Declined) or {c.mark for c in m.cutters} == marks]
    return _called(name, suits)


def _called(name: str, made: Sequence[Method | Declined]) -> Method:
    for method in made:
        if isinstance(method, Method) and method.name == name:
            return method
    raise AssertionError(
        f"no {name!r} among {[m if isinstance(m, Declined) else m.name for m in made]}"
    )


def solved(
    task: JointTask, groove: Method, tongue: Method, *, trials: int = 200, seed: int = 1
) -> Solution:
    """The solution of a pair of methods, quickly."""
    return solve(task, groove, tongue, trials=trials, seed=seed)


def of_group(solution: Solution, side: str, number: int = 0) -> SideGroup:
    """One group of boards of a side."""
    groups = solution.groove_groups if side == "groove" else solution.tongue_groups
    return groups[number]


def cut_by(
    method: Method,
    settings: dict[Quantity, float],
    thickness: float,
    *,
    move: Callable[[int, Pass], Pass] = lambda _, run: run,
) -> Sections:
    """One board cut by a method at ``settings``; ``move`` may shift each pass.

    ``move`` is given the number of the posture within its run with every pass.
    """
    stations = method.stations(settings, thickness, "softwood")
    runs = [
        move(10 * method.runs.index(station.run) + k, run)
        for station in stations
        for k, run in enumerate(station.passes())
    ]
    return cut_boards(np.array([thickness]), np.array([120.0]), runs)


def at(section: Sections, surface: str, axis: int) -> float:
    """Where a surface stands on a single board."""
    return float(section.position(surface, axis)[0])


def measured(method: Method, section: Sections) -> dict[str, float]:
    """Every surface of a method as the kernel cut it, under the method's own names."""
    found = {}
    for name, (axis, form) in method.surfaces.items():
        surface = name
        if name == "face-A cheek" and not form.coefficients and form.constant == 0:
            surface = "face A"
        found[name] = at(section, surface, axis)
    return found


def shifted(run: Pass, *, lift: float = 0.0, stray: float = 0.0) -> Pass:
    """The pass as it meets work that rides ``lift`` off the table or ``stray`` off the fence."""
    return replace(run, height=run.height - lift, axis=run.axis - stray)
