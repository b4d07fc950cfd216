"""What a piece's documents come to: questions, the plan, and the plan of one joint."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Annotated, Literal

from django.http import HttpRequest, HttpResponse
from ninja import Path, Query, Router
from pydantic import Field

from faywright.piece.plan_json import joint_json, plan_json, setup_json
from faywright.piece.suspects import suspects
from faywright.web.api.answers import style_asked, told_by
from faywright.web.api.strict import Number, Shown, Told
from faywright.web.desk import desk, open_piece
from faywright.web.joint.joint_at import joint_at

router = Router(tags=["pieces"])

PieceNumber = Annotated[Number, Path(description="Number of the piece.")]
JointNumber = Annotated[
    Number, Path(description="Place of the joint in the piece file, counted from 1.")
]


class SuspectTold(Told):
    """One thing to look at again."""

    where: Annotated[str, Field(description="Where it is.")]
    what: Annotated[str, Field(description="What is odd about it.")]
    ask: Annotated[str, Field(description="What to ask or do.")]


class QuestionsTold(Told):
    """What to ask while the board is still in the hand, as `faywright check --json` says it."""

    format: Annotated[
        Literal["faywright check 1"], Field(description="Name and version of this format.")
    ]
    suspect: Annotated[list[SuspectTold], Field(description="Boards part by part, then the shop.")]


class JointTold(Told):
    """A joint in a list."""

    number: Annotated[int, Field(description="Place in the piece file, counted from 1.")]
    name: Annotated[str, Field(description="Its name.")]
    family: Annotated[str, Field(description="What kind of joint it is.")]


class JointsTold(Told):
    """The joints of a piece."""

    joints: Annotated[list[JointTold], Field(description="In the order of the piece file.")]


@router.get(
    "/pieces/{int:piece}/questions", response=QuestionsTold, summary="What to look at again"
)
def questions(request: HttpRequest, piece: PieceNumber, asked: Query[Shown]) -> QuestionsTold:
    """Readings that look like slips, and what else is readable but hardly meant."""
    ground = open_piece(piece).ground
    habits = ground.shop.habits
    shown = replace(habits, style=style_asked(asked.units, habits.style))
    found = suspects(ground.piece, replace(ground.shop, habits=shown))
    rows = [SuspectTold(where=each.where, what=each.what, ask=each.ask) for each in found]
    return QuestionsTold(format="faywright check 1", suspect=rows)


@router.get("/pieces/{int:piece}/plan.json", openapi_extra=told_by("plan"), summary="The plan")
def plan(request: HttpRequest, piece: PieceNumber) -> HttpResponse:
    """The whole plan, the same text that `faywright plan` writes to plan.json."""
    made = desk().planner.plan(open_piece(piece).ground).plan
    return _json(plan_json(made))


@router.get("/pieces/{int:piece}/joints", response=JointsTold, summary="List joints")
def joints(request: HttpRequest, piece: PieceNumber) -> JointsTold:
    """The joints of a piece."""
    found = enumerate(open_piece(piece).ground.piece.joints, 1)
    return JointsTold(
        joints=[JointTold(number=at, name=each.name, family=each.family) for at, each in found]
    )


@router.get(
    "/pieces/{int:piece}/joints/{int:joint}",
    openapi_extra=told_by("joint-plan"),
    summary="The plan of one joint",
)
def joint_plan(request: HttpRequest, piece: PieceNumber, joint: JointNumber) -> HttpResponse:
    """One joint by itself, as the plan has it; its setups are numbered from 1."""
    at = joint_at(request, piece, joint)
    made = desk().planner.joint(at.ground, at.wanted)
    of = at.ground.piece
    in_panel = of.climate is not None and any(each.joint == at.name for each in of.panels)
    reference = at.ground.known.shop.habits.reference
    return _json(
        {
            "format": "faywright joint 1",
            "joint": joint_json(made, in_panel=in_panel),
            "setups": [setup_json(each, reference) for each in made.setups],
        }
    )


def _json(told: object) -> HttpResponse:
    text = json.dumps(told, indent=2, ensure_ascii=False, allow_nan=False)
    return HttpResponse(text, content_type="application/json")
