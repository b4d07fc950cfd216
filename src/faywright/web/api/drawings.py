"""Drawings and the packet for the wall, as files."""

from __future__ import annotations

from typing import Annotated

from django.http import HttpRequest, HttpResponse
from ninja import Path, Query, Router
from pydantic import Field

from faywright.drawing.drawings import plan_drawings
from faywright.drawing.folder import drawing_files
from faywright.drawing.joint import joint_drawing
from faywright.drawing.packet import PacketOptions, packet
from faywright.drawing.svg import svg
from faywright.piece.plan import Plan
from faywright.piece.words import writer
from faywright.web.api.answers import DXF, PDF, SVG, file, style_asked, told_as
from faywright.web.api.pieces import JointNumber, PieceNumber
from faywright.web.api.strict import OnPaper, Shown, Told
from faywright.web.desk import desk, open_piece, shown_in
from faywright.web.joint.joint_at import joint_at
from faywright.web.machine.drawing_files import file_called

router = Router(tags=["drawings"])

FileName = Annotated[
    str,
    Path(
        max_length=100,
        pattern=r"^[a-z0-9-]+\.(svg|dxf)$",
        description="Name of the file, as in the list.",
    ),
]


class DrawingTold(Told):
    """One drawing."""

    stem: Annotated[str, Field(description="Name of its files without their ending.")]
    chart: Annotated[bool, Field(description="Whether it has no size that could be taken off it.")]
    files: Annotated[list[str], Field(description="Names of its files.")]


class DrawingsTold(Told):
    """Every drawing of a piece."""

    drawings: Annotated[
        list[DrawingTold], Field(description="Joint by joint: the joint, parts, charts, setups.")
    ]


@router.get("/pieces/{int:piece}/drawings", response=DrawingsTold, summary="List drawings")
def drawings(request: HttpRequest, piece: PieceNumber) -> DrawingsTold:
    """All drawings of the plan, by the names of their files."""
    found = plan_drawings(_plan(piece))
    return DrawingsTold(
        drawings=[
            DrawingTold(
                stem=each.stem,
                chart=each.chart,
                files=list(drawing_files(each)),
            )
            for each in found
        ]
    )


@router.get(
    "/pieces/{int:piece}/drawings/{str:name}",
    openapi_extra=told_as(SVG, DXF),
    summary="A drawing",
)
def drawing(
    request: HttpRequest,
    piece: PieceNumber,
    name: FileName,
    asked: Query[Shown],
) -> HttpResponse:
    """One drawing at its true size, the same file that `faywright plan` writes."""
    plan = _plan(piece)
    shown = shown_in(plan, style_asked(asked.units, plan.shop.habits.style))
    text, kind = file_called(shown, name)
    return file(text, kind, name)


@router.get(
    "/pieces/{int:piece}/joints/{int:joint}/section.svg",
    openapi_extra=told_as(SVG),
    summary="Section of a joint",
)
def section(
    request: HttpRequest, piece: PieceNumber, joint: JointNumber, asked: Query[Shown]
) -> HttpResponse:
    """The pair of boards with the least clearance, put together, with every gap named."""
    at = joint_at(request, piece, joint)
    made = desk().planner.joint(at.ground, at.wanted)
    write = writer(style_asked(asked.units, at.ground.shop.habits.style))
    drawn = joint_drawing(made.solution, made.simulated, write=write)
    return file(svg(drawn), SVG, f"joint-{joint}.svg")


@router.get(
    "/pieces/{int:piece}/packet.pdf", openapi_extra=told_as(PDF), summary="Packet for the wall"
)
def packet_file(request: HttpRequest, piece: PieceNumber, asked: Query[OnPaper]) -> HttpResponse:
    """A sheet for every setup, as PDF."""
    plan = _plan(piece)
    options = PacketOptions(
        paper=asked.paper,
        style=style_asked(asked.units, plan.shop.habits.style),
        only=tuple(int(number) for number in asked.only.split(",") if number),
    )
    return file(packet(plan, options), PDF, f"packet-{piece}.pdf")


def _plan(piece: int) -> Plan:
    return desk().planner.plan(open_piece(piece).ground).plan
