"""The sum behind every setting of a joint: each number can show its working."""

from __future__ import annotations

from dataclasses import dataclass

from faywright.piece.words import (
    MEASURED,
    Write,
    beside,
    cutter_called,
    finer,
    measured_to,
    notes,
    writer,
)
from faywright.setups.setup import Setup
from faywright.shop.inventory import Reference
from faywright.web.desk import desk
from faywright.web.joint.joint_at import JointAt


@dataclass(frozen=True, slots=True)
class Sum:
    """A number to set: what it is measured from and to, and how it comes about."""

    name: str
    number: str
    measured: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Working:
    """The two numbers of a setup."""

    title: str
    pieces: tuple[str, ...]
    sums: tuple[Sum, ...]


def workings_of(at: JointAt) -> tuple[Working, ...]:
    """Every setup of the joint, in order of work.

    Raises
    ------
    InfeasibleError
        It cannot be made.
    """
    joint = desk().planner.joint(at.ground, at.wanted)
    reference = at.ground.shop.habits.reference
    write, fine = writer(at.style), finer(at.style)
    return tuple(_working(setup, reference, write, fine) for setup in joint.setups)


def _working(setup: Setup, preferred: Reference, write: Write, fine: Write) -> Working:
    reference = setup.reference(preferred)
    place = setup.places.to(reference)
    shift = place - setup.places.far_edge
    fence = notes(setup.fence, shift, write, fine)
    if reference != "far edge" and setup.fence.working is not None:
        fence = ["the sum, to the far edge:", *fence]
    height = Sum(
        "Height",
        write(setup.height.true),
        MEASURED[setup.measured_to],
        tuple(notes(setup.height, 0.0, write, fine)),
    )
    across = Sum(
        "Fence",
        write(place),
        f"fence {measured_to(setup, reference)}",
        (beside(setup, reference, write), *fence),
    )
    title = f"{setup.stage}, {cutter_called(setup, write)}"
    return Working(title[:1].upper() + title[1:], setup.marks, (height, across))
