"""How much a board moves with its moisture."""

from __future__ import annotations

from typing import Annotated, Literal

from django.http import HttpRequest
from ninja import Query, Router
from pydantic import Field

from faywright.errors import InputError
from faywright.piece.timber_answer import answer_json, question
from faywright.web.api.shops import read_shop
from faywright.web.api.strict import Asked, Name, Number, Told, Typed

router = Router(tags=["timber"])

State = 'Air, as "20 C 45 %", or moisture, as "8 %".'


class TimberAsked(Asked):
    """A board, and the air or moisture it goes from and to."""

    species: Annotated[Name, Field(description="Common, botanical or trade name.")]
    start: Annotated[
        Typed | None,
        Field(
            alias="from",
            description=f"{State} Without both ends, the driest and the wettest month of the "
            "first room that comes with the program.",
        ),
    ] = None
    end: Annotated[Typed | None, Field(alias="to", description=State)] = None
    width: Annotated[
        Typed, Field(description="Width of the board, in mm if bare; else with its unit.")
    ] = "100 mm"
    rings: Annotated[
        Typed | None,
        Field(
            description="flat, rift, quarter, or the angle of its rings in degrees; all if "
            "left out."
        ),
    ] = None
    shop: Annotated[
        Number | None, Field(description="Number of a shop whose own species to look among.")
    ] = None


class BoardTold(Told):
    """What a board does, sawn one way."""

    rings: Annotated[
        Literal["flat", "rift", "quarter"] | float,
        Field(description="How it is sawn, or the angle of its rings. [degrees]"),
    ]
    width_grows_mm: Annotated[float, Field(description="By how much; below 0 it shrinks.")]
    width_grows_uncertainty_mm: Annotated[float, Field(description="Standard deviation of that.")]
    thickness_grows_share: Annotated[
        float, Field(description="By how much its thickness grows, as a part of it.")
    ]


class TimberTold(Told):
    """How much it moves, as `faywright timber --json` says it."""

    format: Annotated[Literal["faywright timber 1"], Field(description="Name of this format.")]
    species: Annotated[str, Field(description="The species that was found.")]
    botanical: Annotated[str | None, Field(description="Its botanical name.")]
    moisture_from_percent: Annotated[float, Field(description="Of the wood's ovendry mass. [%]")]
    moisture_to_percent: Annotated[float, Field(description="Of the wood's ovendry mass. [%]")]
    width_mm: Annotated[float, Field(description="Width of the board.")]
    boards: Annotated[list[BoardTold], Field(description="For each way it may be sawn.")]
    basis: Annotated[str, Field(description="Which published figures answer.")]
    sources: Annotated[dict[str, str], Field(description="Where each figure was printed.")]
    remarks: Annotated[list[str], Field(description="What to know of the figures.")]


@router.get("/timber", response=TimberTold, summary="How much a board moves")
def timber(request: HttpRequest, asked: Query[TimberAsked]) -> TimberTold:
    """From one air or moisture to another."""
    own = () if asked.shop is None else read_shop(asked.shop).species
    try:
        found = question(
            asked.species,
            start=asked.start,
            end=asked.end,
            width=asked.width,
            rings=asked.rings,
            own=own,
        )
    except InputError as error:
        # On the command line fields are options, of the same names.
        where = error.where.removeprefix("--")
        raise InputError(error.what, where=where, remedy=error.remedy) from None
    return TimberTold.model_validate(answer_json(found))
