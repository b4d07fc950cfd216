"""Trials as answers tell them."""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import Field

from faywright.app.records import KeptTrial, MeasurementRecord
from faywright.trials.correction import Cause
from faywright.web.api.strict import Told

Chance = Annotated[float, Field(ge=0, le=1)]


class QuestionTold(Told):
    """A reading that looks like a slip."""

    what: Annotated[list[str], Field(description="Readings it is about.")]
    kind: Annotated[str, Field(description="What kind of slip it looks like.")]
    question: Annotated[str, Field(description="What to ask.")]
    chance: Annotated[Chance, Field(description="How likely it is to be one.")]


class MoveTold(Told):
    """One setting to move."""

    setup: Annotated[int | None, Field(description="Number of the setup in the plan.")]
    side: Annotated[str, Field(description="groove or tongue.")]
    setting: Annotated[str, Field(description="height or fence.")]
    of: Annotated[str, Field(description="What the setting is for.")]
    by_mm: Annotated[float, Field(description="How far it really has to go: up, or out.")]
    to_true_mm: Annotated[float, Field(description="Where it then truly is.")]
    gauge_shows_mm: Annotated[float, Field(description="What the shop's gauge shows there.")]


class ClearanceTold(Told):
    """What clearance to expect of the joints of the group."""

    clearance_per_side_mm: Annotated[float, Field(description="Its mean.")]
    low_90_mm: Annotated[float, Field(description="5 joints in 100 have less.")]
    high_90_mm: Annotated[float, Field(description="5 joints in 100 have more.")]
    chance: Annotated[Chance, Field(description="Chance of a joint to fit.")]


class AdviceTold(Told):
    """What to do."""

    moves: Annotated[list[MoveTold], Field(description="What to move; nothing if empty.")]
    as_set: Annotated[ClearanceTold, Field(description="What to expect as it was set.")]
    after_moves: Annotated[ClearanceTold, Field(description="What to expect after the moves.")]
    another_trial_saves_joints: Annotated[
        float, Field(description="How many joints another trial piece would save.")
    ]
    another_trial_is_worth_it: Annotated[bool, Field(description="Whether to cut one more.")]
    causes: Annotated[list[Cause], Field(description="What still keeps joints out of their band.")]


class BelievedTold(Told):
    """What is believed of something after a trial."""

    kind: Annotated[str, Field(description="height zero, fence zero, cutter, lift or setting.")]
    of: Annotated[str, Field(description="Whose it is.")]
    mean_mm: Annotated[float, Field(description="What is true less what is listed.")]
    deviation_mm: Annotated[float, Field(description="Its standard deviation.")]


class TrialAnswer(Told):
    """What a trial says, as `faywright trial --json`, and what it was taken to be."""

    format: Annotated[Literal["faywright trial 1"], Field(description="Name of this format.")]
    joint: Annotated[str, Field(description="Name of the joint.")]
    group: Annotated[str, Field(description="Group of boards it is for.")]
    questions: Annotated[
        list[QuestionTold], Field(description="To be answered before anything else.")
    ]
    advice: Annotated[
        AdviceTold | None, Field(description="What to do; null where there are questions.")
    ]
    believed: Annotated[
        list[BelievedTold], Field(description="What is believed with this trial counted in.")
    ]
    trial: Annotated[
        int | None, Field(description="Number it is remembered under; null if it is not.")
    ]
    taken_as_set: Annotated[
        list[str], Field(description="What gauges are taken to have shown, in words.")
    ]
    taken_as_left: Annotated[
        list[str], Field(description="Settings taken to stand since the last trial, in words.")
    ]


class MeasurementTold(Told):
    """What was read of one dimension."""

    what: Annotated[str, Field(description="The dimension.")]
    readings_mm: Annotated[list[float], Field(description="As the calipers showed it.")]
    read_mm: Annotated[float, Field(description="What they were taken to say.")]
    expected_mm: Annotated[float, Field(description="What was expected by what is listed.")]


class KeptTrialTold(Told):
    """A trial that is remembered."""

    number: Annotated[int, Field(description="Its number.")]
    at: Annotated[datetime.datetime, Field(description="When it was, in UTC.")]
    piece: Annotated[str, Field(description="Title of the piece.")]
    joint: Annotated[str, Field(description="Name of the joint.")]
    group: Annotated[str, Field(description="Group of boards it was for.")]
    cutter: Annotated[str, Field(description="The cutter on which the fit hangs.")]
    metres: Annotated[float, Field(description="Metres it had cut; 0 if nobody told. [m]")]
    note: Annotated[str, Field(description="The note kept with it.")]
    measurements: Annotated[list[MeasurementTold], Field(description="What was read.")]
    forgotten: Annotated[
        datetime.datetime | None,
        Field(description="Since when nothing is learned from it; null if it counts."),
    ]


class TrialsTold(Told):
    """Trials of a shop."""

    trials: Annotated[list[KeptTrialTold], Field(description="The latest first.")]


def trial_told(trial: KeptTrial) -> KeptTrialTold:
    """A trial that is remembered."""
    record = trial.record
    return KeptTrialTold(
        number=trial.id,
        at=record.at,
        piece=record.piece,
        joint=record.joint,
        group=record.group,
        cutter=record.cutter,
        metres=record.metres,
        note=record.note,
        measurements=[_measurement(each) for each in record.measurements],
        forgotten=trial.forgotten,
    )


def _measurement(record: MeasurementRecord) -> MeasurementTold:
    return MeasurementTold(
        what=record.what,
        readings_mm=list(record.readings),
        read_mm=round(record.read, 6),
        expected_mm=round(record.expected, 6),
    )
