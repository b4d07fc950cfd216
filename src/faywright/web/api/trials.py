"""Trial cuts: what was measured on one, and what to correct."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Annotated

from django.http import HttpRequest
from ninja import Header, Query, Router
from pydantic import Field

from faywright.app.bench import Informed
from faywright.app.records import KeptTrial
from faywright.app.trial_readings import Told as TrialTold
from faywright.app.trial_run import IN_A_ROW, Tried, felt, record, try_piece
from faywright.app.trial_words import as_set, outcome_json
from faywright.trials.feel import Word
from faywright.web.api.answers import style_asked
from faywright.web.api.pieces import JointNumber, PieceNumber
from faywright.web.api.strict import Note, Number, Request, Shown
from faywright.web.api.trials_told import TrialAnswer
from faywright.web.desk import desk
from faywright.web.joint.joint_at import JointAt, joint_at
from faywright.web.machine.bench_desk import submissions

router = Router(tags=["trials"])

Reading = Annotated[float, Field(ge=-10_000, le=10_000)]
Readings = Annotated[list[Reading], Field(max_length=50)]


def _read(what: str) -> object:
    """Readings that may be left out."""
    return Field(default_factory=list, description=f"{what} [mm]")


Submission = Annotated[
    str,
    Header(
        alias="X-Submission",
        pattern=r"^([A-Za-z0-9-]{8,64})?$",
        description="A key of your own for this trial, so that it can be sent again if no answer "
        "came: 8 to 64 letters, digits or dashes.",
    ),
]


class ReadingsAsked(Request):
    """What was read on the trial piece, as the calipers show it; their zero error is taken off."""

    tongue_mm: Annotated[Readings, _read("Thickness of the tongue.")]
    length_mm: Annotated[Readings, _read("Length of the tongue.")]
    cheek_mm: Annotated[Readings, _read("Depth of the cheek on face A.")]
    groove_mm: Annotated[Readings, _read("Width of the groove.")]
    depth_mm: Annotated[Readings, _read("Depth of the groove.")]
    wall_mm: Annotated[Readings, _read("Wall beside the groove.")]
    stock_mm: Annotated[Readings, _read("Thickness of the trial piece itself.")]


class GaugeShowed(Request):
    """What a gauge showed at a setup, where that is not what the plan says."""

    setup: Annotated[
        Number | None,
        Field(description="Number of the setup; if left out, the one that decides the fit."),
    ] = None
    shows_mm: Annotated[Reading, Field(description="What the gauge showed. [mm]")]


GaugesShowed = Annotated[list[GaugeShowed], Field(max_length=20)]


class TrialAsked(Request):
    """A trial piece of a joint."""

    readings: Annotated[ReadingsAsked, Field(description="What was read on it.")]
    group: Annotated[
        str, Field(pattern=r"^[A-Z]{1,2}$", description="Letter of the group of boards it is for.")
    ] = "A"
    height: Annotated[GaugesShowed, _read("What the height gauge showed.")]
    fence: Annotated[GaugesShowed, _read("What the fence gauge showed.")]
    feel: Annotated[Word | None, Field(description="How the joint went together, dry.")] = None
    metres: Annotated[
        float | None,
        Field(
            ge=0,
            le=1e6,
            description="Metres that the cutter on which the fit hangs has cut since new or "
            "sharpened. [m]",
        ),
    ] = None
    note: Annotated[Note, Field(description="A note to keep with it.")] = ""
    anew: Annotated[
        bool, Field(description="Whether every setting was made anew since the last trial.")
    ] = False
    sure: Annotated[
        bool, Field(description="Whether readings that look like slips stand as they are.")
    ] = False
    keep: Annotated[bool, Field(description="Whether to remember it; else only to look.")] = True


@router.post(
    "/pieces/{int:piece}/joints/{int:joint}/trials",
    response=TrialAnswer,
    summary="Answer a trial cut",
)
def trial(
    request: HttpRequest,
    piece: PieceNumber,
    joint: JointNumber,
    asked: Query[Shown],
    body: TrialAsked,
    submission: Submission = "",
) -> TrialAnswer:
    """Take the readings, say what to move, and remember what they teach.

    Where readings look like slips there are `questions`, no `advice`, and nothing is remembered:
    measure again, or send `sure`. Sent again with the same `X-Submission`, a trial is not counted
    twice, and the answer is that of the first time.
    """
    at = joint_at(request, piece, joint)
    told = _typed(at.name, body)
    return TrialAnswer.model_validate(
        submissions().once(submission, lambda: _answer(at, told, asked))
    )


def _answer(at: JointAt, told: TrialTold, asked: Shown) -> Mapping[str, object]:
    informed = desk().planner.plan(at.ground)
    found = try_piece(
        told,
        informed,
        lambda: _last(informed),
        units="mm",
        style=style_asked(asked.units, at.ground.shop.habits.style),
        at=datetime.now(UTC),
        called=_called,
    )
    number = _kept(found) if told.keep and not found.outcome.slips else None
    outcome, plan = found.outcome, informed.plan
    return {
        **outcome_json(outcome, plan),
        "trial": number,
        "taken_as_set": list(as_set(outcome, plan, found.write, left=False)),
        "taken_as_left": list(as_set(outcome, plan, found.write, left=True)),
    }


def _typed(joint: str, body: TrialAsked) -> TrialTold:
    """The trial as a form would have it: bare numbers are millimetres."""
    readings: dict[str, Sequence[float]] = body.readings.model_dump()
    return TrialTold(
        joint=joint,
        texts={
            name.removesuffix("_mm"): "; ".join(map(_written, read))
            for name, read in readings.items()
        },
        group=body.group,
        set_height=tuple(map(_shown, body.height)),
        set_fence=tuple(map(_shown, body.fence)),
        feel=body.feel,
        metres=body.metres,
        note=body.note,
        anew=body.anew,
        sure=body.sure,
        keep=body.keep,
    )


def _written(length: float) -> str:
    """A length with all its digits, and no exponent."""
    return f"{length:.9f}".rstrip("0").rstrip(".")


def _shown(gauge: GaugeShowed) -> str:
    shows = _written(gauge.shows_mm)
    return shows if gauge.setup is None else f"{gauge.setup}={shows}"


def _called(short: str) -> str:
    """What a field is called in a request, by its short name; dots part it from what it is in."""
    if short.startswith("set-"):
        return short.removeprefix("set-")
    return short if short == "metres" else f"readings.{short}_mm"


def _last(informed: Informed) -> Sequence[KeptTrial]:
    return desk().store.trials(shop=informed.plan.shop.title, limit=IN_A_ROW)


def _kept(found: Tried) -> int:
    """Keep a trial, and how it felt; its number."""
    store = desk().store
    number = store.add_trial(record(found))
    feel = felt(found, number)
    if feel is not None:
        store.add_feel(feel)
    return number
