"""What a shop has learned, and what may be corrected in it."""

from __future__ import annotations

import datetime
from datetime import UTC
from typing import Annotated

from django.http import HttpRequest, HttpResponse
from ninja import Path, Query, Router
from pydantic import Field

from faywright.app.drifting import drifted
from faywright.app.forgetting import forget_in
from faywright.app.shop_memory import Found as FoundOut
from faywright.app.shop_memory import came_back, sharpenable, shop_memory, size_now
from faywright.drawing.drift_chart import drift_chart
from faywright.drawing.svg import svg
from faywright.errors import MissingError
from faywright.piece.rounded import mm
from faywright.piece.shop_file import shop_from_text
from faywright.shop.inventory import Shop
from faywright.web.api.answers import SVG, file, style_asked, told_as
from faywright.web.api.strict import Asked, Name, Nothing, Number, Request, Shown, Told
from faywright.web.api.trials_told import KeptTrialTold, TrialsTold, trial_told
from faywright.web.desk import desk, today

router = Router(tags=["shops"])

ShopNumber = Annotated[Number, Path(description="Number of the shop.")]


class KnownTold(Told):
    """What is known of a zero, a cutter or the lift."""

    kind: Annotated[str, Field(description="height zero, fence zero, cutter or lift.")]
    of: Annotated[str, Field(description="Whose it is.")]
    mean_mm: Annotated[float, Field(description="What is true less what the shop file lists.")]
    deviation_mm: Annotated[float, Field(description="Its standard deviation.")]
    trials: Annotated[int, Field(description="How many trials told of it.")]
    size_mm: Annotated[float | None, Field(description="What a cutter cuts now.")]
    metres: Annotated[
        float | None, Field(description="Metres it had cut by the last trial that told. [m]")
    ]


class ReportsTold(Told):
    """How often the maker said how a dry joint felt."""

    timber: Annotated[str, Field(description="Softwood or hardwood.")]
    reports: Annotated[int, Field(description="How many reports there are.")]


class ShopTold(Told):
    """What is known of a shop."""

    shop: Annotated[str, Field(description="Its title.")]
    known: Annotated[list[KnownTold], Field(description="What trials have taught.")]
    felt: Annotated[list[ReportsTold], Field(description="Reports of feel, by timber.")]


class WhichTrials(Asked):
    """Which trials to list."""

    forgotten: Annotated[bool, Field(description="Whether to list forgotten ones too.")] = True
    limit: Annotated[int, Field(ge=1, le=1000, description="How many at most.")] = 100


class Sharpened(Request):
    """A cutter that came back from sharpening."""

    cutter: Annotated[Name, Field(description="Its mark.")]
    cuts_mm: Annotated[
        float | None,
        Field(gt=0, le=10_000, description="What it cuts now; if left out, as the file lists."),
    ] = None


class FeltTold(Told):
    """How one dry joint felt."""

    at: Annotated[datetime.datetime, Field(description="When, in UTC.")]
    timber: Annotated[str, Field(description="Softwood or hardwood.")]
    word: Annotated[str, Field(description="How it went together.")]
    clearance_per_side_mm: Annotated[float, Field(description="What it is thought to have had.")]
    deviation_mm: Annotated[float, Field(description="Standard deviation of that.")]
    trial: Annotated[int | None, Field(description="Number of the trial it belongs to.")]
    joint: Annotated[str, Field(description="Name of the joint.")]


class FeelsTold(Told):
    """How dry joints felt."""

    feels: Annotated[list[FeltTold], Field(description="In the order they were told.")]


@router.get("/shops/{int:shop}/known", response=ShopTold, summary="What is known of a shop")
def known(request: HttpRequest, shop: ShopNumber) -> ShopTold:
    """Zeros of gauges, sizes of cutters and ride of the work, as trials have shown them to be."""
    return _known(read_shop(shop))


@router.get("/shops/{int:shop}/trials", response=TrialsTold, summary="List trials")
def trials(request: HttpRequest, shop: ShopNumber, asked: Query[WhichTrials]) -> TrialsTold:
    """Trial cuts of a shop, the latest first."""
    found = desk().store.trials(
        shop=read_shop(shop).title, limit=asked.limit, forgotten=asked.forgotten
    )
    return TrialsTold(trials=[trial_told(each) for each in found])


@router.post(
    "/shops/{int:shop}/trials/{int:trial}/forget", response=KeptTrialTold, summary="Forget a trial"
)
def forget(
    request: HttpRequest,
    shop: ShopNumber,
    trial: Annotated[Number, Path(description="Number of the trial.")],
    body: Nothing,
) -> KeptTrialTold:
    """Leave a trial out of what is known; what came after it is worked out anew."""
    store = desk().store
    forget_in(store, trial, read_shop(shop))
    return trial_told(store.trial(trial))


@router.post("/shops/{int:shop}/sharpened", response=ShopTold, summary="A cutter was sharpened")
def sharpened(request: HttpRequest, shop: ShopNumber, body: Sharpened) -> ShopTold:
    """Earlier trials no longer tell the size of a cutter that came back from sharpening."""
    found = read_shop(shop)
    cutter = sharpenable(found, body.cutter, where="cutter")
    size = None
    if body.cuts_mm is not None:
        size = size_now(cutter, f"{body.cuts_mm:.9f}", bare="mm", where="cuts_mm")
    desk().store.sharpened(came_back(found, cutter, size, datetime.datetime.now(UTC)))
    return _known(found)


@router.get("/shops/{int:shop}/feels", response=FeelsTold, summary="How joints felt")
def feels(request: HttpRequest, shop: ShopNumber) -> FeelsTold:
    """How dry joints went together; told along with trials, and counted but for forgotten ones."""
    found = [each.record for each in desk().store.feels(read_shop(shop).title)]
    return FeelsTold(
        feels=[
            FeltTold(
                at=each.at,
                timber=each.timber,
                word=each.word,
                clearance_per_side_mm=round(each.mean, 4),
                deviation_mm=round(each.sd, 4),
                trial=each.trial,
                joint=each.joint,
            )
            for each in found
        ]
    )


@router.get(
    "/shops/{int:shop}/drift.svg", openapi_extra=told_as(SVG), summary="Chart of what drifted"
)
def drift(request: HttpRequest, shop: ShopNumber, asked: Query[Shown]) -> HttpResponse:
    """How zeros and cutters went from trial to trial."""
    store, found = desk().store, read_shop(shop)
    courses, events = drifted(found, store.trials(shop=found.title), store.sharpenings(found.title))
    title = f"{found.title}: what its trial cuts have taught"
    style = style_asked(asked.units, found.habits.style)
    return file(svg(drift_chart(courses, events, title=title, style=style)), SVG, "drift.svg")


def read_shop(number: int) -> Shop:
    """The shop of that number, as its file has it.

    Raises
    ------
    MissingError
        There is none, or it is a piece.
    """
    sheet = desk().store.documents.sheet(number)
    if sheet.kind != "shop":
        raise MissingError(
            f"document {number} is a piece", where="shop", remedy="Give the number of a shop"
        )
    return shop_from_text(sheet.revision.text, file="shop")


def _known(shop: Shop) -> ShopTold:
    store = desk().store
    found = shop_memory(
        shop,
        store.learned(shop.title),
        store.trials(shop=shop.title),
        store.sharpenings(shop.title),
        today=today(),
    )
    return ShopTold(
        shop=shop.title,
        known=[_told(each) for each in found.found],
        felt=[ReportsTold(timber=name, reports=len(said)) for name, said in found.reports.items()],
    )


def _told(found: FoundOut) -> KnownTold:
    return KnownTold(
        **found.lesson.json(), trials=found.trials, size_mm=mm(found.size), metres=found.metres
    )
