"""Settings for one way of cutting a joint: groups of boards, pairs, and the chance to fit."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from faywright.fit.chance import Budget, Chance, Effect, budget, sampled
from faywright.fit.forms import Form, Quantity, Value
from faywright.fit.groups import fewest_groups, most_served, range_for_one
from faywright.fit.order import chain, matched
from faywright.fit.spread import Spread, one_sided
from faywright.joints.method import Method, Settings
from faywright.joints.task import JointTask
from faywright.joints.work import Work
from faywright.shop.cutters import MARKED_SIZE_HALF_WIDTH
from faywright.shop.gauges import Gauge
from faywright.timber.movement import SHRINKAGE_VARIATION

Floats = NDArray[np.float64]
Index = NDArray[np.int64]

GUARDS = (0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
"""Standard deviations of play to keep free at each end of the band, as tried."""

MOST_GUARD = 0.8
"""Most of half the band that is given to the guard; more and nothing is left for thickness."""

TRIAL_READINGS = 3
"""How often each dimension of a trial piece is to be measured."""

ENOUGH = 0.9
"""Chance that all joints fit at which no more settings are added."""

WORTH_A_SETTING = 0.02
"""One more setting has to raise the chance that all fit by more than this."""


@dataclass(frozen=True, eq=False)
class SideGroup:
    """Boards of one side (by number) that share ``settings``. [mm]"""

    members: Index
    settings: Settings


@dataclass(frozen=True, kw_only=True, eq=False)
class Solution:
    """One pair of methods with everything decided.

    ``row`` is the order of boards in a panel, None elsewhere; ``first`` and ``second`` number
    the grooved and the tongued board of each joint. ``clearance`` is per side with every setting
    dead on. ``effects`` are the errors at the printed settings, ``tested_effects`` those left
    after one trial cut at each, measured and corrected; ``tested`` is a quick look at the
    latter. ``room`` is the range of thickness one setting serves, None where it does not matter.
    """

    task: JointTask
    groove: Method
    tongue: Method
    groove_groups: tuple[SideGroup, ...]
    tongue_groups: tuple[SideGroup, ...]
    row: Index | None
    first: Index
    second: Index
    clearance: Floats
    effects: tuple[Effect, ...]
    tested_effects: tuple[Effect, ...]
    tested: Chance
    room: float | None
    settings_used: int = field(init=False)

    def __post_init__(self) -> None:
        """Count the settings that decide the fit."""
        used = len(self.groove_groups) + (len(self.tongue_groups) if self.tongue.runs else 0)
        object.__setattr__(self, "settings_used", used)

    @property
    def band(self) -> tuple[float, float]:
        """Least and most clearance per side as cut. [mm]"""
        low, high = self.task.target.band
        return low / 2, high / 2

    @property
    def budget(self) -> Budget:
        """Errors of the clearance added up, at the printed settings."""
        return budget(self.clearance, self.effects)

    def sampled(self, *, trials: int, seed: int) -> tuple[Chance, Chance]:
        """The chance at the printed settings, and after a trial cut at each of them."""
        return (
            sampled(self.clearance, self.band, self.effects, trials=trials, seed=seed),
            sampled(self.clearance, self.band, self.tested_effects, trials=trials, seed=seed),
        )

    def range_of(self, method: Method) -> tuple[float, float]:
        """Least and greatest size of one side, over its boards. [mm]"""
        sizes = self.sizes(method, method.size)
        return float(sizes.min()), float(sizes.max())

    @property
    def holds(self) -> bool:
        """Whether every size is within what its method can make."""
        for method in (self.groove, self.tongue):
            least, most = self.range_of(method)
            if least < method.limits[0] or most > method.limits[1]:
                return False
        return True

    def sizes(self, method: Method, form: Form) -> Floats:
        """A closed form of one side for each of its boards, at its group's settings. [mm]"""
        groove = method.side == "groove"
        work = self.task.grooved if groove else self.task.tongued
        groups = self.groove_groups if groove else self.tongue_groups
        return _valued(method, form, work, groups)


def solve(task: JointTask, groove: Method, tongue: Method, *, trials: int, seed: int) -> Solution:
    """Decide groups, settings and pairs for one groove method and one tongue method.

    More groups leave more room for errors, and are more work: the fewest settings are taken that
    give ``ENOUGH`` of a chance that all fit, or else come within ``WORTH_A_SETTING`` of the best
    chance there is. Where both sides follow the thickness of
    the same boards, a single setting for all is tried as well, with the order of boards chosen so
    that thin tongues meet the grooves of thick boards.
    """
    plans: dict[tuple[float, int, int], _Groups] = {}
    limited = task.wanted.most_settings is not None
    for guard in GUARDS if groove.follows or tongue.follows else GUARDS[:1]:
        planned = _Planner(task, groove, tongue, guard).grouped()
        # With a limit, the same number of settings may serve other boards and serve them better.
        kind = guard if limited else 0.0
        plans.setdefault((kind, len(planned.groove), len(planned.tongue)), planned)
    if groove.follows and tongue.control is not None and tongue.follows:
        plans[-1.0, 1, 1] = _Planner(task, groove, tongue, 0.0).single()
    solved = [
        _finish(task, groove, tongue, plan, trials=trials, seed=seed) for plan in plans.values()
    ]
    solved = [solution for solution in solved if solution.holds] or solved
    best = max(solution.tested.all_fit for solution in solved)
    least = min(ENOUGH, best - WORTH_A_SETTING)
    worth = [s for s in solved if s.tested.all_fit >= least]
    return min(worth, key=lambda s: (s.settings_used, -s.tested.all_fit))


@dataclass(frozen=True, eq=False)
class _Groups:
    groove: tuple[SideGroup, ...]
    tongue: tuple[SideGroup, ...]
    room: float | None


class _Planner:
    """Decides the groups of both sides for a pair of methods."""

    def __init__(self, task: JointTask, groove: Method, tongue: Method, guard: float) -> None:
        self.task, self.groove, self.tongue = task, groove, tongue
        low, high = task.target.band
        wanted = guard * math.hypot(
            _board_deviation(task, groove, tongue), trial_deviation(task, groove, tongue)
        )
        kept = min(wanted, MOST_GUARD * (high - low) / 2)
        self.half = (high - low) / 2 - kept
        self.aim = min(max(task.target.play, low + kept), high - kept)
        # Boards are grouped about the middle of the band, where the most of them share a
        # setting; each group is then aimed as far off it as its boards leave room for.
        self.middle = (low + high) / 2

    def grouped(self) -> _Groups:
        groove, tongue = self.groove, self.tongue
        adjusts = tongue if tongue.control is not None else groove
        both = groove.follows != 0 and tongue.follows != 0 and tongue.control is not None
        half = self.half / 2 if both else self.half
        if adjusts is tongue:
            grooves, _ = self._groove_groups(half if groove.follows else None)
            width = float(_valued(groove, groove.size, self.task.grooved, grooves).mean())
            tongues, room = self._groups(
                tongue, self.task.tongued, width - self.middle, half, self.middle - self.aim
            )
            return _Groups(grooves, tongues, room)
        tongues = (SideGroup(np.arange(len(self.task.tongued)), dict(tongue.fixed)),)
        if groove.control is None:
            grooves = (SideGroup(np.arange(len(self.task.grooved)), dict(groove.fixed)),)
            return _Groups(grooves, tongues, None)
        thickness = _valued(tongue, tongue.size, self.task.tongued, tongues)
        first, second = self.task.pairs()
        # The first groove of a row has no partner: it is cut like the others.
        partner = np.full(len(self.task.grooved), float(thickness.mean()))
        partner[first] = thickness[second]
        grooves, room = self._groups(
            groove, self.task.grooved, partner + self.middle, self.half, self.aim - self.middle
        )
        return _Groups(grooves, tongues, room)

    def single(self) -> _Groups:
        """One setting a side, made for the middle board."""
        grooves, _ = self._groove_groups(None)
        width = float(np.median(_valued(self.groove, self.groove.size, self.task.grooved, grooves)))
        members = np.arange(len(self.task.tongued))
        control = self.tongue.control_for(width - self.aim, self.task.tongued.middle)
        tongues = (_side_group(self.tongue, members, float(control)),)
        return _Groups(grooves, tongues, None)

    def _groove_groups(self, half: float | None) -> tuple[tuple[SideGroup, ...], float | None]:
        """Grooves at the wanted width; ``half`` groups them where thickness matters."""
        groove, work = self.groove, self.task.grooved
        if groove.control is None:
            return (SideGroup(np.arange(len(work)), dict(groove.fixed)),), None
        width = self.task.target.width
        if half is None:
            control = groove.control_for(width, work.middle)
            return (_side_group(groove, np.arange(len(work)), float(control)),), None
        return self._groups(groove, work, width, half)

    def _groups(
        self, method: Method, work: Work, size: Value, half: float, more: float = 0.0
    ) -> tuple[tuple[SideGroup, ...], float | None]:
        """Groups of boards that come within ``half`` of ``size``, fewest settings first.

        ``more`` is how much larger than ``size`` they would best be.
        """
        control = method.control
        if control is None:
            raise TypeError(f"{method.name} has no setting to group by")
        best = np.asarray(method.control_for(size, work.across), dtype=np.float64)
        best = np.broadcast_to(best, work.across.shape)
        reach = half / abs(method.size.coefficient(control))
        groups = fewest_groups(best, reach)
        most = self.task.wanted.most_settings
        if most is not None and len(groups) > most:
            groups = most_served(best, reach, most)
        settings = np.array([group.setting for group in groups])
        nearest = np.abs(best[:, None] - settings[None, :]).argmin(axis=1)
        wanted = more / method.size.coefficient(control)
        sides = tuple(
            _side_group(
                method,
                np.flatnonzero(nearest == k),
                _moved(group.setting, wanted, best[nearest == k], reach),
            )
            for k, group in enumerate(groups)
            if (nearest == k).any()
        )
        room = range_for_one(half) / abs(method.follows) if method.follows else None
        return sides, room


def _moved(setting: float, by: float, best: Floats, reach: float) -> float:
    """A setting moved ``by``, or as far as keeps it within ``reach`` of what each board wants."""
    low, high = float(best.max()) - reach, float(best.min()) + reach
    return min(max(setting + by, low), high) if low <= high else setting


def _side_group(method: Method, members: Index, control: float) -> SideGroup:
    settings = dict(method.fixed)
    if method.control is not None:
        settings[method.control] = control
    return SideGroup(members, settings)


def _valued(method: Method, form: Form, work: Work, groups: tuple[SideGroup, ...]) -> Floats:
    values = np.empty(len(work))
    for group in groups:
        known: dict[Quantity, Value] = {
            **group.settings,
            **method.cutter_sizes,
            method.thickness: work.across[group.members],
        }
        values[group.members] = form.value(known)
    return values


def _board_deviation(task: JointTask, groove: Method, tongue: Method) -> float:
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
    gauge = task.instruments.height
    if adjusts.control.kind == "fence":
        gauge = task.instruments.fence
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


def _finish(
    task: JointTask, groove: Method, tongue: Method, groups: _Groups, *, trials: int, seed: int
) -> Solution:
    widths = _valued(groove, groove.size, task.grooved, groups.groove)
    thicknesses = _valued(tongue, tongue.size, task.tongued, groups.tongue)
    row: Index | None = None
    first, second = task.pairs()
    if task.meets == "in a row":
        row = np.arange(len(task.grooved))
        if task.wanted.free_order and groove.follows:
            row = chain(widths, thicknesses, task.target.play)
        first, second = task.pairs(row)
    elif _matchable(task, groove):
        first, second = matched(widths, thicknesses)
    clearance = (widths[first] - thicknesses[second]) / 2
    forms = (0.5 * groove.size, -0.5 * tongue.size)
    context = _Context(task, groove, tongue, groups, first, second, forms)
    effects = context.effects()
    tested = context.tested_effects()
    low, high = task.target.band
    band = (low / 2, high / 2)
    return Solution(
        task=task,
        groove=groove,
        tongue=tongue,
        groove_groups=groups.groove,
        tongue_groups=groups.tongue,
        row=row,
        first=first,
        second=second,
        clearance=clearance,
        effects=effects,
        tested_effects=tested,
        tested=sampled(clearance, band, tested, trials=trials, seed=seed, keep=False),
        room=groups.room,
    )


def _matchable(task: JointTask, groove: Method) -> bool:
    """Whether tongues may be matched to grooves.

    Not where a groove was set for its own partner, nor for the two halves of a loose tongue.
    """
    if task.meets != "one to one" or not task.wanted.free_order:
        return False
    set_for_partner = task.strip and groove.control is not None
    return not set_for_partner and task.wanted.second_groove is None


def effects_on(
    solution: Solution, groove: Form, tongue: Form, *, deep: bool = False
) -> tuple[Effect, ...]:
    """Errors, at the printed settings, of a gap that is the sum of a form of each side.

    ``deep`` says that the gap is measured along the depth of the groove, not across it.
    """
    groups = _Groups(solution.groove_groups, solution.tongue_groups, solution.room)
    context = _Context(
        solution.task,
        solution.groove,
        solution.tongue,
        groups,
        solution.first,
        solution.second,
        (groove, tongue),
        deep,
    )
    return context.effects()


@dataclass(frozen=True, eq=False)
class _Context:
    """Turns the coefficients of closed forms into effects on the joints of a solution.

    ``forms`` are what the grooved and the tongued part add to the gap in question, which is
    measured along the depth of the groove if it is ``deep``.
    """

    task: JointTask
    groove: Method
    tongue: Method
    groups: _Groups
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
        index = _group_index(groups, self.second if by_tongue else self.first)
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
        own = _valued(tongue, form, self.task.tongued, self.groups.tongue)
        drifts = form.coefficient(tongue.thickness) * thickness - own
        drifts = drifts * (moving.rates[1].deep if self.deep else moving.rates[1].across)
        changes = 0.0
        for (method, work, groups, _, each), side in zip(
            self._sides(), (moving.assembly.grooved, moving.assembly.tongued), strict=True
        ):
            change = side.deep if self.deep else side.across
            changes += float((_valued(method, each, work, groups) * change).mean())
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
                gauge = self._gauge(quantity)
                zeros.setdefault(gauge, []).append((c, np.zeros_like(boards)))
                own = quantity == method.control
                index = _group_index(groups, boards) if own else np.zeros_like(boards)
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

    def _gauge(self, quantity: Quantity) -> Gauge:
        instruments = self.task.instruments
        return instruments.height if quantity.kind == "height" else instruments.fence


def _group_index(groups: tuple[SideGroup, ...], boards: Index) -> Index:
    """Which group each board of a list is in."""
    size = 1 + max(int(group.members.max()) for group in groups)
    of = np.zeros(size, dtype=np.int64)
    for k, group in enumerate(groups):
        of[group.members] = k
    result: Index = of[boards]
    return result


def known_values(method: Method, group: SideGroup, thickness: Value) -> Mapping[Quantity, Value]:
    """Values for the closed forms of a method, for boards of one group."""
    return {**group.settings, **method.cutter_sizes, method.thickness: thickness}
