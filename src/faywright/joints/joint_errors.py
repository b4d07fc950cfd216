"""How every error reaches the gaps of a joint: as set and cut, and after a trial cut."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faywright.fit.chance import Effect
from faywright.fit.forms import Form
from faywright.fit.spread import Spread, one_sided
from faywright.joints.method import Method
from faywright.joints.side_groups import Groups, SideGroup, group_index, valued
from faywright.joints.task import JointTask
from faywright.joints.work import Work
from faywright.shop.cutters import MARKED_SIZE_HALF_WIDTH
from faywright.shop.gauges import Gauge
from faywright.timber.movement import SHRINKAGE_VARIATION

Floats = NDArray[np.float64]
Index = NDArray[np.int64]

TRIAL_READINGS = 3
"""How often each dimension of a trial piece is to be measured."""


def board_deviation(task: JointTask, groove: Method, tongue: Method) -> float:
    """Standard deviation of play from what differs from board to board. [mm]"""
    lift = one_sided(task.machine.work_lift).standard_uncertainty
    total = 0.0
    for method, work in ((groove, task.grooved), (tongue, task.tongued)):
        total += float((method.follows * work.deviation).max()) ** 2
        lifts = [c for q, c in method.size.coefficients.items() if q.kind == "lift"]
        total += sum((c * lift) ** 2 for c in lifts)
    return math.sqrt(total)


def trial_deviation(task: JointTask, groove: Method, tongue: Method) -> float:
    """Standard deviation of play that a measured and corrected trial cut leaves. [mm]

    Groove and tongue of the trial piece are measured ``TRIAL_READINGS`` times each, and so is
    its thickness where the fit follows it; then the setting is moved, with the gauge's own
    uncertainty. What the trial piece itself rode up or strayed adds its own spread.
    """
    reading = task.instruments.calipers.of_mean(TRIAL_READINGS)
    adjusts = tongue if tongue.control is not None else groove
    if adjusts.control is None:
        return 0.0
    gauge = task.instruments.gauge_for(adjusts.control)
    moved = adjusts.size.coefficient(adjusts.control) * gauge.standard_uncertainty
    followed = reading * math.hypot(tongue.follows, groove.follows)
    lift = one_sided(task.machine.work_lift).standard_uncertainty
    lifts = [
        c * lift
        for method in (groove, tongue)
        for q, c in method.size.coefficients.items()
        if q.kind == "lift"
    ]
    return math.hypot(reading, reading, moved, followed, *lifts)


@dataclass(frozen=True, eq=False)
class JointErrors:
    """Turns the coefficients of closed forms into effects on the joints of a solution.

    ``forms`` are what the grooved and the tongued part add to the gap in question, which is
    measured along the depth of the groove if it is ``deep``.
    """

    task: JointTask
    groove: Method
    tongue: Method
    groups: Groups
    first: Index
    second: Index
    forms: tuple[Form, Form]
    deep: bool = False

    def effects(self) -> tuple[Effect, ...]:
        """All sources of error at the printed settings."""
        return (
            *self._thickness(),
            *self._per_board(),
            *self._settings(),
            *self._cutters(),
            *self._moisture(),
        )

    def tested_effects(self) -> tuple[Effect, ...]:
        """What is left after one trial cut at every setting, measured and corrected.

        Settings, cutters and the average ride are in what the trial piece measures; what one
        board differs from another stays.
        """
        deviation = trial_deviation(self.task, self.groove, self.tongue)
        if deviation == 0.0:
            return self.effects()
        by_tongue = self.tongue.control is not None
        groups = self.groups.tongue if by_tongue else self.groups.groove
        index = group_index(groups, self.second if by_tongue else self.first)
        per_board = self._per_board()
        mean = -sum(float(effect.shift(len(self.first))[0]) for effect in per_board)
        trial = Effect(
            "trial cut as measured and corrected",
            Spread("normal", deviation / 2, mean),
            len(groups),
            ((1.0, index),),
        )
        return (*self._thickness(), *per_board, trial, *self._moisture())

    def _sides(self) -> tuple[tuple[Method, Work, tuple[SideGroup, ...], Index, Form], ...]:
        task, groups = self.task, self.groups
        return (
            (self.groove, task.grooved, groups.groove, self.first, self.forms[0]),
            (self.tongue, task.tongued, groups.tongue, self.second, self.forms[1]),
        )

    def _thickness(self) -> list[Effect]:
        """One error a board, which reaches both the joints that board is in."""
        source = "thickness between readings"
        found = []
        terms: list[tuple[float, Index]] = []
        for method, work, _, boards, form in self._sides():
            share = form.coefficient(method.thickness)
            if share == 0:
                continue
            term = (share, boards)
            if self.task.same_boards:
                terms.append(term)
                continue
            found.append(Effect(source, Spread("normal", 1.0), len(work), (term,), work.deviation))
        if terms:
            work = self.task.grooved
            found.append(
                Effect(source, Spread("normal", 1.0), len(work), tuple(terms), work.deviation)
            )
        return found

    def _per_board(self) -> list[Effect]:
        """Riding off table or fence: new for each pass of each board."""
        lift = one_sided(self.task.machine.work_lift)
        return [
            Effect("work riding off table or fence", lift, len(work), ((c, boards),))
            for _, work, _, boards, form in self._sides()
            for quantity, c in form.coefficients.items()
            if quantity.kind == "lift" and self.task.machine.work_lift > 0
        ]

    def _moisture(self) -> list[Effect]:
        """Wood that moves between cutting the groove, cutting the tongue, and assembly.

        A tongue cut from a board that has swollen by a part ``e`` since the groove was cut comes
        out, back at the groove's moisture, ``e`` times (the board's share less the tongue's own
        size) larger. How much wood moves for its moisture is known to ``SHRINKAGE_VARIATION``.
        """
        moving = self.task.moving
        if moving is None:
            return []
        index = np.zeros_like(self.first)
        tongue, form = self.tongue, self.forms[1]
        thickness = self.task.tongued.across
        own = valued(tongue, form, self.task.tongued, self.groups.tongue)
        drifts = form.coefficient(tongue.thickness) * thickness - own
        drifts = drifts * (moving.rates[1].deep if self.deep else moving.rates[1].across)
        changes = 0.0
        for (method, work, groups, _, each), side in zip(
            self._sides(), (moving.assembly.grooved, moving.assembly.tongued), strict=True
        ):
            change = side.deep if self.deep else side.across
            changes += float((valued(method, each, work, groups) * change).mean())
        found = []
        if moving.drift > 0 and tongue.runs:
            drift = Spread("rectangular", moving.drift)
            term = (float(drifts.mean()), index)
            found.append(Effect("moisture between groove and tongue", drift, 1, (term,)))
        if changes != 0.0:
            known = Spread("normal", SHRINKAGE_VARIATION)
            found.append(Effect("movement until assembly", known, 1, ((changes, index),)))
        return found

    def _settings(self) -> list[Effect]:
        """Height and fence: one error a group, which reaches all its boards together.

        A gauge is nulled once: the error of that is the same in all it sets.
        """
        found = []
        zeros: dict[Gauge, list[tuple[float, Index]]] = {}
        for method, _, groups, boards, form in self._sides():
            for quantity, c in form.coefficients.items():
                if quantity.kind not in ("height", "fence"):
                    continue
                gauge = self.task.instruments.gauge_for(quantity)
                zeros.setdefault(gauge, []).append((c, np.zeros_like(boards)))
                own = quantity == method.control
                index = group_index(groups, boards) if own else np.zeros_like(boards)
                found.append(
                    Effect(
                        f"{method.side} {quantity.kind} as set",
                        Spread("normal", gauge.standard_uncertainty),
                        len(groups) if own else 1,
                        ((c, index),),
                    )
                )
        found += [
            Effect(
                f"zero of the {gauge.mark}", Spread("normal", gauge.zero_spread), 1, tuple(terms)
            )
            for gauge, terms in zeros.items()
        ]
        return found

    def _cutters(self) -> list[Effect]:
        """A cutter's size: one error for every board it cuts."""
        terms: dict[str, list[tuple[float, Index]]] = {}
        spreads: dict[str, Spread] = {}
        for method, _, _, boards, form in self._sides():
            for quantity, c in form.coefficients.items():
                if quantity.kind == "cutter":
                    index = np.zeros_like(boards)
                    terms.setdefault(quantity.key, []).append((c, index))
                    spreads[quantity.key] = self._cutter_spread(method, quantity.key)
        return [
            Effect(f"cut width of {mark}", spreads[mark], 1, tuple(each))
            for mark, each in terms.items()
        ]

    def _cutter_spread(self, method: Method, mark: str) -> Spread:
        cutter = next(c for c in method.cutters if c.mark == mark)
        if cutter.fit_size is not None and cutter.fit_size.uncertainty is not None:
            return Spread("normal", cutter.fit_size.uncertainty)
        if cutter.fit_size is not None and cutter.fit_size.measured is not None:
            return Spread("normal", self.task.instruments.calipers.standard_uncertainty)
        return Spread("rectangular", MARKED_SIZE_HALF_WIDTH)
