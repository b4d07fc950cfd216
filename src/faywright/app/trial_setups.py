"""Which setup of a plan a setting belongs to, and what its gauge shows there."""

from __future__ import annotations

from faywright.fit.forms import Quantity
from faywright.piece.plan import Plan
from faywright.setups.setup import Setup
from faywright.trials.observing import TrialPiece
from faywright.trials.pair import group_of


def setup_for(plan: Plan, piece: TrialPiece, quantity: Quantity) -> Setup | None:
    """The setup that makes a setting for a piece's group of boards; none where nothing is cut."""
    task, side = piece.solution.task, piece.side
    work = task.work(side)
    marks = {work.labels[k] for k in group_of(piece).members}
    found = [
        setup
        for setup in plan.setups
        if (setup.joint, setup.side) == (task.wanted.name, side)
        and quantity in (setup.report.station.run.height, setup.report.station.run.far)
        and marks & set(setup.marks)
    ]
    return min(found, key=lambda setup: not setup.final, default=None)


def gauge_shows(plan: Plan, piece: TrialPiece, quantity: Quantity, true: float) -> float:
    """What the gauge shows where a setting is ``true``, to the edge this maker measures to. [mm]"""
    gauges = piece.instruments
    if quantity.kind == "height":
        return gauges.height.shows(true)
    return gauges.fence.shows(true + _to_edge(plan, piece, quantity))


def true_at(plan: Plan, piece: TrialPiece, quantity: Quantity, shown: float) -> float:
    """What a setting is where its gauge shows so much, zero error taken off. [mm]"""
    gauges = piece.instruments
    if quantity.kind == "height":
        return shown - gauges.height.zero_error
    return shown - gauges.fence.zero_error - _to_edge(plan, piece, quantity)


def _to_edge(plan: Plan, piece: TrialPiece, quantity: Quantity) -> float:
    """From the cutter's far edge, which settings of the fence are to, to the one measured. [mm]"""
    setup = setup_for(plan, piece, quantity)
    if setup is None:
        return 0.0
    edge = setup.reference(plan.shop.habits.reference)
    return setup.places.to(edge) - setup.places.far_edge
