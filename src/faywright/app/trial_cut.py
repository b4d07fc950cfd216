"""A measured trial cut, from what the maker read to what to do next, and to what is kept."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from faywright.app.knowledge import Knowledge
from faywright.app.trial_setups import setup_for, true_at
from faywright.errors import InputError
from faywright.fit.forms import Quantity
from faywright.joints.method import Method, Side
from faywright.joints.side_groups import SideGroup, known_values
from faywright.joints.solution import Solution
from faywright.piece.plan import JointPlan, Plan, instruments_of
from faywright.piece.words import Write, group_letter
from faywright.trials.belief import Belief, Unknown
from faywright.trials.correction import Advice, advise
from faywright.trials.observing import (
    TrialPiece,
    measurable,
    observed,
    with_settings,
)
from faywright.trials.pair import Trial, group_of
from faywright.trials.slips import Slip, suspects
from faywright.trials.update import Observation, updated

Readings = Mapping[str, tuple[float, ...]]

LEFT = 5.0
"""A setting left from an earlier trial may be off by this many standard uncertainties of its gauge.
Wide enough that next to nothing more is learned from it of the gauge's zero; ours."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What a gauge showed at a setup, by its number; at the one that decides, if without. [mm]"""

    kind: Literal["height", "fence"]
    reading: float
    setup: int | None = None


@dataclass(frozen=True, kw_only=True)
class Measured:
    """What was read on a trial piece of one joint, as the calipers show it. [mm]

    ``readings`` are by dimension, of either side; ``thickness`` those of the piece itself (of its
    width, for a groove in a face). ``group`` is a letter. ``shown`` is what gauges showed where
    that is not what the plan says.
    """

    joint: str
    readings: Readings
    thickness: tuple[float, ...] = ()
    group: str = "A"
    shown: tuple[Shown, ...] = ()
    note: str = ""


@dataclass(frozen=True, kw_only=True, eq=False)
class Outcome:
    """What a trial says: questions first, then advice; what to keep of it.

    Where there are ``slips`` nothing is to be kept or done before the maker has answered.
    ``left`` are settings that were left as an earlier trial had them.
    """

    joint: JointPlan
    trial: Trial
    observations: tuple[Observation, ...]
    before: Belief
    after: Belief
    slips: tuple[Slip, ...]
    advice: Advice
    measured: Measured
    left: frozenset[Unknown] = frozenset()


def tried(
    plan: Plan,
    known: Knowledge,
    measured: Measured,
    write: Write,
    *,
    earlier: Collection[Unknown] = (),
) -> Outcome:
    """What the readings of a trial piece say of the shop, and of the next piece.

    ``earlier`` are settings that trials spoke of before, since they were made; those that
    ``measured`` does not tell anew are as they were. What they are off by themselves has been
    counted then: counted once more it would pass for the zero of a gauge.

    Raises
    ------
    InputError
        There is no such joint or group, a dimension cannot be measured there, or nothing was read.
    """
    joint = joint_called(plan, measured.joint)
    trial = _trial(plan, joint.solution, measured)
    observations = _observations(trial, measured)
    left = {
        piece.setting(quantity): LEFT * piece.instruments.gauge_for(quantity).standard_uncertainty
        for piece in trial.pieces
        for quantity in piece.as_set
        if quantity not in piece.settings and piece.setting(quantity) in earlier
    }
    loose = Belief.independent({setting: (0.0, spread) for setting, spread in left.items()})
    before = with_settings(known.belief.joined(loose), *trial.pieces)
    after = updated(before, observations)
    settings = [
        piece.setting(quantity)
        for piece in trial.pieces
        for quantity in piece.as_set
        if quantity.kind == "fence"
    ]
    slips = suspects(
        with_settings(known.belief, *trial.pieces),  # where settings left should still be
        observations,
        cutter_radius=_radius(trial),
        write=write,
        settings=settings,
        zero_error=instruments_of(known.shop).calipers.zero_error,
    )
    return Outcome(
        joint=joint,
        trial=trial,
        observations=observations,
        before=before,
        after=after,
        slips=slips,
        advice=advise(trial, after),
        measured=measured,
        left=frozenset(left),
    )


def joint_called(plan: Plan, name: str) -> JointPlan:
    """The joint of that name.

    Raises
    ------
    InputError
        There is none; the message lists those there are.
    """
    for joint in plan.joints:
        if joint.wanted.name == name:
            return joint
    listed = ", ".join(repr(joint.wanted.name) for joint in plan.joints)
    raise InputError(f"no joint called {name!r}", where="trial", remedy=f"Use one of {listed}")


def trial_of(plan: Plan, joint: str, group: str) -> Trial:
    """Trial pieces of a joint at the settings of the plan, for a group of boards.

    Raises
    ------
    InputError
        There is no such joint or group.
    """
    solution = joint_called(plan, joint).solution
    return _trial(plan, solution, Measured(joint=joint, readings={}, group=group))


def useful(solution: Solution) -> tuple[str, ...]:
    """Dimensions worth measuring, in the order one measures them: the deciding ones first."""
    found: list[str] = []
    for method in (solution.groove, solution.tongue):
        deciding = [reading.what for reading in method.readings]
        found += [name for name in deciding if name in measurable(solution, method.side)]
    return tuple(dict.fromkeys(found))


def clearance_felt(outcome: Outcome) -> tuple[float, float]:
    """Clearance per side of the trial pieces put together, and its standard deviation. [mm]

    Sizes are as measured; one that was not is as it is now believed to be.
    """
    groove, tongue = (_size(piece, outcome) for piece in outcome.trial.pieces)
    return (groove[0] - tongue[0]) / 2, math.hypot(groove[1], tongue[1]) / 2


def _size(piece: TrialPiece, outcome: Outcome) -> tuple[float, float]:
    """Width of the groove or thickness of the tongue: mean and standard deviation. [mm]"""
    calipers, measured, method = piece.instruments.calipers, outcome.measured, piece.method
    read = measured.readings.get("groove width" if piece.side == "groove" else "tongue thickness")
    if read:
        return math.fsum(read) / len(read) - calipers.zero_error, calipers.of_mean(len(read))
    members = group_of(piece).members
    work = piece.solution.task.work(piece.side)
    thickness, spread = float(work.across[members].mean()), float(work.across[members].std())
    if measured.thickness and method.readings:  # a strip is not cut, and no trial piece
        thickness = math.fsum(measured.thickness) / len(measured.thickness) - calipers.zero_error
        spread = calipers.of_mean(len(measured.thickness))
    known = known_values(method, SideGroup(members, piece.as_set), thickness)
    off, deviation = outcome.after.predicted(piece.row(method.size))
    return float(method.size.value(known)) + off, math.hypot(deviation, method.follows * spread)


def _trial(plan: Plan, solution: Solution, measured: Measured) -> Trial:
    sides = {
        side: _piece(solution, side, _group(solution, side, measured), measured)
        for side in ("groove", "tongue")
    }
    planned = Trial(sides["groove"], sides["tongue"])
    made: dict[Side, dict[Quantity, float]] = {"groove": {}, "tongue": {}}
    for shown in measured.shown:
        piece, quantity = _setting(plan, planned, shown, measured)
        made[piece.side][quantity] = true_at(plan, piece, quantity, shown.reading)
    return Trial(
        replace(planned.groove, settings=made["groove"]),
        replace(planned.tongue, settings=made["tongue"]),
    )


def _piece(solution: Solution, side: Side, group: int, measured: Measured) -> TrialPiece:
    mark = f"{measured.joint}, {side}"
    return TrialPiece(
        mark=mark, solution=solution, side=side, group=group, thickness=measured.thickness
    )


def _group(solution: Solution, side: Side, measured: Measured) -> int:
    """The group a letter names, on the side that is grouped; the first on the other."""
    letters = [group_letter(number) for number in range(len(solution.groups(side)))]
    if measured.group in letters:
        return letters.index(measured.group)
    most = max(len(solution.groove_groups), len(solution.tongue_groups))
    if measured.group in [group_letter(number) for number in range(most)]:
        return 0
    raise InputError(
        f"there is no group {measured.group!r}",
        where=f"trial of joint {measured.joint!r}",
        remedy=f"Use one of {', '.join(group_letter(number) for number in range(most))}",
    )


def _setting(
    plan: Plan, trial: Trial, shown: Shown, measured: Measured
) -> tuple[TrialPiece, Quantity]:
    """The setting that a gauge's reading is of."""
    numbers = []
    for piece in trial.pieces:
        for quantity in piece.as_set:
            if quantity.kind != shown.kind:
                continue
            setup = setup_for(plan, piece, quantity)
            if setup is not None:
                numbers.append(str(setup.number))
            decides = piece is trial.adjusted and quantity == piece.method.control
            if decides if shown.setup is None else setup and setup.number == shown.setup:
                return piece, quantity
    what = (
        f"no {shown.kind} decides the fit of this joint"
        if shown.setup is None
        else f"setup {shown.setup} makes no {shown.kind} that its readings follow from"
    )
    raise InputError(
        what,
        where=f"trial of joint {measured.joint!r}: --set-{shown.kind}",
        remedy=f"Name the setup, as {numbers[0]}=12.7; it may be {', '.join(numbers)}"
        if numbers
        else "Leave it out",
    )


def _observations(trial: Trial, measured: Measured) -> tuple[Observation, ...]:
    """Readings of either side; each dimension belongs to the side that has it."""
    found: list[Observation] = []
    left = dict(measured.readings)
    for piece in trial.pieces:
        names = measurable(piece.solution, piece.side)
        own = {name: left.pop(name) for name in list(left) if name in names}
        found += observed(piece, own)
    if left:
        known = ", ".join(useful(trial.solution))
        raise InputError(
            f"{next(iter(left))!r} cannot be measured on this joint",
            where=f"trial of joint {measured.joint!r}",
            remedy=f"Measure {known}" if known else "Nothing is cut here that could be measured",
        )
    if not found:
        raise InputError(
            "nothing was read",
            where=f"trial of joint {measured.joint!r}",
            remedy=f"Measure {', '.join(useful(trial.solution))}",
        )
    return tuple(found)


def _radius(trial: Trial) -> float:
    """Radius of the cutter that is measured to, the widest of those in use. [mm]"""
    methods: tuple[Method, ...] = (trial.groove.method, trial.tongue.method)
    cutters = [cutter for method in methods for cutter in method.cutters]
    return max(cutter.swept_diameter for cutter in cutters) / 2
