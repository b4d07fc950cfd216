"""Setups in the order of work, and which of them are cut."""

from __future__ import annotations

import datetime
from typing import Annotated

from django.http import HttpRequest
from ninja import Router
from pydantic import Field

from faywright.app.cuts_done import Done, cuts_of
from faywright.errors import MissingError
from faywright.setups.setup import Setup
from faywright.web.api.answers import mm_of
from faywright.web.api.pieces import PieceNumber
from faywright.web.api.strict import Request, Told
from faywright.web.desk import author, desk, open_piece
from faywright.web.machine.bench_desk import cuts_done

router = Router(tags=["setups"])

Cut = Annotated[
    str, Field(pattern=r"^[0-9a-f]{32}$", description="What stands for the cut, as listed.")
]
Set = Annotated[float, Field(ge=-10_000, le=10_000)]


class DoneTold(Told):
    """A cut that was made."""

    height_mm: Annotated[float, Field(description="What the height was set to, truly.")]
    fence_mm: Annotated[float, Field(description="What the fence was set to: to the far edge.")]
    at: Annotated[datetime.datetime, Field(description="When it was made, in UTC.")]
    author: Annotated[str, Field(description="Who made it; empty on a shop's own computer.")]
    as_set: Annotated[
        bool, Field(description="Whether the plan still has the setup as it was set then.")
    ]


class SetupTold(Told):
    """One setting of the machine; the plan tells the rest of it by its number."""

    number: Annotated[int, Field(description="Its number in the plan.")]
    cut: Annotated[str, Field(description="What stands for the cut, whatever its number.")]
    joint: Annotated[str, Field(description="Name of the joint.")]
    side: Annotated[str, Field(description="groove or tongue.")]
    stage: Annotated[str, Field(description="What is cut.")]
    final: Annotated[bool, Field(description="Whether this setting decides.")]
    cutter: Annotated[str, Field(description="Mark of the cutter.")]
    boards: Annotated[list[str], Field(description="Marks of what is run.")]
    height_mm: Annotated[float, Field(description="True height to set.")]
    fence_mm: Annotated[float, Field(description="Fence face to the far edge of the cutter.")]
    done: Annotated[DoneTold | None, Field(description="How it was cut; null if it was not.")]


class SetupsTold(Told):
    """All settings of a piece."""

    setups: Annotated[list[SetupTold], Field(description="In order of work.")]


class CutMade(Request):
    """A cut that was made."""

    cut: Cut
    height_mm: Annotated[
        Set | None, Field(description="What the height was set to; if left out, as the plan says.")
    ] = None
    fence_mm: Annotated[
        Set | None, Field(description="What the fence was set to; if left out, as the plan says.")
    ] = None


class CutNotMade(Request):
    """A cut that was not made after all."""

    cut: Cut


@router.get("/pieces/{int:piece}/setups", response=SetupsTold, summary="List setups")
def setups(request: HttpRequest, piece: PieceNumber) -> SetupsTold:
    """Every setting in order of work, and which cuts are made."""
    return _told(piece, _planned(piece))


@router.post("/pieces/{int:piece}/setups/done", response=SetupsTold, summary="A cut is made")
def done(request: HttpRequest, piece: PieceNumber, body: CutMade) -> SetupsTold:
    """Mark a cut as made, with what was set for it."""
    planned = _planned(piece)
    setup = next((setup for cut, setup in planned if cut == body.cut), None)
    if setup is None:
        raise MissingError(
            "the plan has no such cut, or not any more",
            where=f"piece {piece}: cut {body.cut}",
            remedy="Give one that is listed under setups",
        )
    height, fence = setup.height.true, setup.places.far_edge
    cuts_done().tick(
        piece,
        body.cut,
        height if body.height_mm is None else body.height_mm,
        fence if body.fence_mm is None else body.fence_mm,
        author=author(request),
    )
    return _told(piece, planned)


@router.post(
    "/pieces/{int:piece}/setups/not-done", response=SetupsTold, summary="A cut is not made"
)
def not_done(request: HttpRequest, piece: PieceNumber, body: CutNotMade) -> SetupsTold:
    """Take the mark off a cut again."""
    planned = _planned(piece)
    cuts_done().untick(piece, body.cut)
    return _told(piece, planned)


Planned = tuple[tuple[str, Setup], ...]


def _planned(piece: int) -> Planned:
    """Setups by what stands for their cuts."""
    found = desk().planner.plan(open_piece(piece).ground).plan.setups
    return tuple(zip(cuts_of(found), found, strict=True))


def _told(piece: int, planned: Planned) -> SetupsTold:
    made = cuts_done().of(piece)
    return SetupsTold(setups=[_setup(cut, setup, made.get(cut)) for cut, setup in planned])


def _setup(cut: str, setup: Setup, made: Done | None) -> SetupTold:
    return SetupTold(
        number=setup.number,
        cut=cut,
        joint=setup.joint,
        side=setup.side,
        stage=setup.stage,
        final=setup.final,
        cutter=setup.cutter,
        boards=list(setup.marks),
        height_mm=mm_of(setup.height.true),
        fence_mm=mm_of(setup.places.far_edge),
        done=None if made is None else _made(made, setup),
    )


def _made(done: Done, setup: Setup) -> DoneTold:
    return DoneTold(
        height_mm=mm_of(done.height),
        fence_mm=mm_of(done.fence),
        at=done.at,
        author=done.author,
        as_set=done.as_set(setup.height.true, setup.places.far_edge),
    )
