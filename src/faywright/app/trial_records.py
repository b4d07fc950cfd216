"""What is kept of a trial cut, and what it becomes again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from faywright.app.knowledge import (
    Knowledge,
    entries_after,
    figures,
    kind_of,
    learning_of_entries,
)
from faywright.app.records import MeasurementRecord, Share, TrialRecord
from faywright.app.trial_cut import Measured, Outcome
from faywright.joints.solution import Solution
from faywright.piece.plan import Plan
from faywright.trials.belief import Unknown
from faywright.trials.update import Observation


def record_of(
    outcome: Outcome, known: Knowledge, plan: Plan, at: datetime, *, metres: float = 0.0
) -> TrialRecord:
    """What the store keeps: every reading with what it says, and what is believed after it."""
    entries = entries_after(
        outcome.after,
        outcome.observations,
        known.taught,
        on=at.date(),
        trial="",
        figures=figures(known.shop),
    )
    measured, solution = outcome.measured, outcome.joint.solution
    control = outcome.trial.adjusted.method.control
    gauges = solution.task.instruments
    gauge = gauges.height if control is None else gauges.gauge_for(control)
    return TrialRecord(
        shop=plan.shop.title,
        piece=plan.piece.title,
        joint=measured.joint,
        at=at,
        side=outcome.trial.adjusted.side,
        group=measured.group,
        machine=plan.machine.mark,
        cutter=wearing(solution),
        gauge=gauge.mark,
        metres=metres,
        note=measured.note,
        measurements=tuple(
            _measurement(_without(each, outcome), measured) for each in outcome.observations
        ),
        learning=learning_of_entries(entries, outcome.after),
    )


def _without(each: Observation, outcome: Outcome) -> Observation:
    """An observation with settings that were left as they were as noise, to be worked out again."""
    row = {unknown: factor for unknown, factor in each.row.items() if unknown not in outcome.left}
    noise = {
        unknown.owner: factor * outcome.before.of(unknown)[1]
        for unknown, factor in each.row.items()
        if unknown in outcome.left
    }
    return replace(each, row=row, shared={**each.shared, **noise})


def settings_of(records: Sequence[MeasurementRecord]) -> frozenset[Unknown]:
    """Settings that a stored trial spoke of, made for it or left from before."""
    named = {share.owner for each in records for share in each.row if share.kind == "setting"}
    left = {name for each in records for name, _ in each.shared}
    return frozenset(Unknown("setting", owner) for owner in named | left)


def _measurement(each: Observation, measured: Measured) -> MeasurementRecord:
    name = next(
        (name for name in measured.readings if each.what.startswith(f"{name} of ")), each.what
    )
    return MeasurementRecord(
        what=name,
        readings=tuple(measured.readings.get(name, (each.read,))),
        read=each.read,
        expected=each.expected,
        uncertainty=each.uncertainty,
        row=tuple(
            Share(kind=unknown.kind, owner=unknown.owner, factor=factor)
            for unknown, factor in each.row.items()
        ),
        shared=tuple(each.shared.items()),
    )


def observations_in(records: Sequence[MeasurementRecord]) -> list[Observation]:
    """What was stored of a trial, as observations again."""
    return [
        Observation(
            what=each.what,
            row={Unknown(kind_of(s.kind), s.owner): s.factor for s in each.row},
            expected=each.expected,
            read=each.read,
            uncertainty=each.uncertainty,
            shared=dict(each.shared),
        )
        for each in records
    ]


def wearing(solution: Solution) -> str:
    """Mark of the cutter whose wear changes the fit, or else of the one that decides; or nothing.

    It is the one that metres cut are told of.
    """
    methods = (solution.groove, solution.tongue)
    sizes = [q.key for each in methods for q in each.size.coefficients if q.kind == "cutter"]
    deciding = solution.groove if solution.tongue.control is None else solution.tongue
    return next(iter([*sizes, *(cutter.mark for cutter in deciding.cutters)]), "")
