"""Settings for one way of cutting a joint: groups of boards, pairs, and the chance to fit."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from faywright.fit.chance import Budget, Chance, Effect, budget, sampled
from faywright.fit.forms import Form, Value
from faywright.fit.groups import fewest_groups, most_served, range_for_one
from faywright.fit.order import chain, matched
from faywright.joints.joint_errors import JointErrors, board_deviation, trial_deviation
from faywright.joints.method import Method, Side
from faywright.joints.side_groups import Groups, SideGroup, valued
from faywright.joints.task import JointTask
from faywright.joints.work import Work

Floats = NDArray[np.float64]
Index = NDArray[np.int64]

GUARDS = (0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
"""Standard deviations of play to keep free at each end of the band, as tried."""

MOST_GUARD = 0.8
"""Most of half the band that is given to the guard; more and nothing is left for thickness."""

ENOUGH = 0.9
"""Chance that all joints fit at which no more settings are added."""

WORTH_A_SETTING = 0.02
"""One more setting has to raise the chance that all fit by more than this."""


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
        return valued(method, form, self.task.work(method.side), self.groups(method.side))

    def method(self, side: Side) -> Method:
        """How one side is cut."""
        return self.groove if side == "groove" else self.tongue

    def groups(self, side: Side) -> tuple[SideGroup, ...]:
        """The groups of one side's boards."""
        return self.groove_groups if side == "groove" else self.tongue_groups


def solve(task: JointTask, groove: Method, tongue: Method, *, trials: int, seed: int) -> Solution:
    """Decide groups, settings and pairs for one groove method and one tongue method.

    More groups leave more room for errors, and are more work: the fewest settings are taken that
    give ``ENOUGH`` of a chance that all fit, or else come within ``WORTH_A_SETTING`` of the best
    chance there is. Where both sides follow the thickness of
    the same boards, a single setting for all is tried as well, with the order of boards chosen so
    that thin tongues meet the grooves of thick boards.
    """
    plans: dict[tuple[float, int, int], Groups] = {}
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


class _Planner:
    """Decides the groups of both sides for a pair of methods."""

    def __init__(self, task: JointTask, groove: Method, tongue: Method, guard: float) -> None:
        self.task, self.groove, self.tongue = task, groove, tongue
        low, high = task.target.band
        wanted = guard * math.hypot(
            board_deviation(task, groove, tongue), trial_deviation(task, groove, tongue)
        )
        kept = min(wanted, MOST_GUARD * (high - low) / 2)
        self.half = (high - low) / 2 - kept
        self.aim = min(max(task.target.play, low + kept), high - kept)
        # Boards are grouped about the middle of the band, where the most of them share a
        # setting; each group is then aimed as far off it as its boards leave room for.
        self.middle = (low + high) / 2

    def grouped(self) -> Groups:
        groove, tongue = self.groove, self.tongue
        adjusts = tongue if tongue.control is not None else groove
        both = groove.follows != 0 and tongue.follows != 0 and tongue.control is not None
        half = self.half / 2 if both else self.half
        if adjusts is tongue:
            grooves, _ = self._groove_groups(half if groove.follows else None)
            width = float(valued(groove, groove.size, self.task.grooved, grooves).mean())
            tongues, room = self._groups(
                tongue, self.task.tongued, width - self.middle, half, self.middle - self.aim
            )
            return Groups(grooves, tongues, room)
        tongues = (SideGroup(np.arange(len(self.task.tongued)), dict(tongue.fixed)),)
        if groove.control is None:
            grooves = (SideGroup(np.arange(len(self.task.grooved)), dict(groove.fixed)),)
            return Groups(grooves, tongues, None)
        thickness = valued(tongue, tongue.size, self.task.tongued, tongues)
        first, second = self.task.pairs()
        # The first groove of a row has no partner: it is cut like the others.
        partner = np.full(len(self.task.grooved), float(thickness.mean()))
        partner[first] = thickness[second]
        grooves, room = self._groups(
            groove, self.task.grooved, partner + self.middle, self.half, self.aim - self.middle
        )
        return Groups(grooves, tongues, room)

    def single(self) -> Groups:
        """One setting a side, made for the middle board."""
        grooves, _ = self._groove_groups(None)
        width = float(np.median(valued(self.groove, self.groove.size, self.task.grooved, grooves)))
        members = np.arange(len(self.task.tongued))
        control = self.tongue.control_for(width - self.aim, self.task.tongued.middle)
        tongues = (_side_group(self.tongue, members, float(control)),)
        return Groups(grooves, tongues, None)

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


def _finish(
    task: JointTask, groove: Method, tongue: Method, groups: Groups, *, trials: int, seed: int
) -> Solution:
    widths = valued(groove, groove.size, task.grooved, groups.groove)
    thicknesses = valued(tongue, tongue.size, task.tongued, groups.tongue)
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
    context = JointErrors(task, groove, tongue, groups, first, second, forms)
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
    groups = Groups(solution.groove_groups, solution.tongue_groups, solution.room)
    context = JointErrors(
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
