"""What gauges are taken to show for a trial, setting by setting, for the maker to put right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from faywright.app.trial_cut import trial_of
from faywright.app.trial_setups import gauge_shows, setup_for
from faywright.app.trial_words import setting_named
from faywright.piece.plan import Plan
from faywright.piece.words import MEASURED, group_letter, measured_to
from faywright.setups.setup import Setup


@dataclass(frozen=True, slots=True)
class GaugeAsked:
    """A setting with what its gauge is taken to show. [mm]"""

    setup: int
    kind: str
    of: str
    shows: float
    measured: str

    @property
    def name(self) -> str:
        """Short name of its field."""
        return f"set-{self.kind}-{self.setup}"


def gauges_asked(plan: Plan, joint: str, group: str) -> tuple[GaugeAsked, ...]:
    """Settings that a trial of this joint and group speaks of, in the order they are set.

    Raises
    ------
    InputError
        There is no such joint or group.
    """
    found = {each.name: each for each in _asked(plan, joint, group)}
    return tuple(sorted(found.values(), key=lambda each: each.setup))


def _asked(plan: Plan, joint: str, group: str) -> Iterator[GaugeAsked]:
    for piece in trial_of(plan, joint, group).pieces:
        for quantity, value in piece.as_set.items():
            setup = setup_for(plan, piece, quantity)
            if setup is None:
                continue
            kind = quantity.kind
            measured = MEASURED[setup.measured_to] if kind == "height" else _to_edge(plan, setup)
            shows = gauge_shows(plan, piece, quantity, value)
            of = setting_named(plan, piece, quantity)
            yield GaugeAsked(setup.number, kind, of, shows, measured)


def _to_edge(plan: Plan, setup: Setup) -> str:
    return measured_to(setup, setup.reference(plan.shop.habits.reference))


def groups_of(plan: Plan, joint: str) -> tuple[str, ...]:
    """Letters of the groups of boards that a joint is cut in."""
    solution = next(each for each in plan.joints if each.wanted.name == joint).solution
    most = max(len(solution.groove_groups), len(solution.tongue_groups))
    return tuple(group_letter(number) for number in range(most))


def group_cut_at(plan: Plan, setup: Setup) -> str:
    """The letter of the group of boards that a setup is for; the first, where it is for all."""
    solution = next(each for each in plan.joints if each.wanted.name == setup.joint).solution
    labels = solution.task.work(setup.side).labels
    for number, group in enumerate(solution.groups(setup.side)):
        if {labels[k] for k in group.members} == set(setup.marks):
            return group_letter(number)
    return group_letter(0)
