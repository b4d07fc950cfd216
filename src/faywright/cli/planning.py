"""Commands that plan a piece, or look through its documents."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Literal

import typer

from faywright.cli.common import (
    DECIDE,
    DONE,
    EXITS,
    JsonOption,
    PieceArgument,
    ShopOption,
    StoreOption,
    UnitsStyle,
    app,
    waiting,
)
from faywright.errors import InputError


class PaperSize(StrEnum):
    """Paper for the packet, as printers name it."""

    A4 = "a4"
    LETTER = "us-letter"


class PartScale(StrEnum):
    """Scales of the sections of parts."""

    TRUE = "1:1"
    DOUBLE = "2:1"


@app.command("plan", epilog=EXITS)
def plan_command(
    piece: PieceArgument,
    shop: ShopOption = None,
    out: Annotated[
        Path, typer.Option("-o", "--out", metavar="DIR", help="Folder for what is written.")
    ] = Path("out"),
    paper: Annotated[
        PaperSize, typer.Option("--paper", help="Paper of the packet.")
    ] = PaperSize.A4,
    units: Annotated[
        UnitsStyle | None,
        typer.Option("--units", help="How the packet writes lengths, if not as the shop does."),
    ] = None,
    only: Annotated[
        str,
        typer.Option(
            "--only", metavar="NUMBERS", help="Setups in the packet, as 3 or 5,8; all if left out."
        ),
    ] = "",
    scale: Annotated[
        PartScale | None,
        typer.Option(
            "--scale",
            help="Scale of each part's section: 1:1 to lay a trial piece on the print. "
            "If left out, 2:1 for parts up to 42 mm thick and 1:1 for others.",
        ),
    ] = None,
    store: StoreOption = None,
    as_json: JsonOption = False,  # noqa: FBT002 - a flag of the command line
) -> None:
    """Settings, setups in order, what fits.

    Says what to do about the boards that will not fit, and what would hurt. Writes plan.json,
    summary.txt, packet.pdf for the wall, and every drawing as SVG and DXF: joints, parts, setups.
    """
    from faywright.app.bench import informed_plan
    from faywright.drawing.folder import write_plan
    from faywright.drawing.packet import PacketOptions
    from faywright.lengths import LengthStyle
    from faywright.piece.opened import open_documents
    from faywright.piece.suspects import suspects

    documents = open_documents(piece, shop)
    asked = suspects(documents.piece, documents.shop)
    for each in asked:
        typer.echo(f"To ask first, {each.where}: {each.what}. {each.ask}.", err=True)
    with waiting(f"planning {piece.name}"):
        today = datetime.now(UTC).date()
        informed = informed_plan(documents.piece, documents.shop, store, today=today)
        planned = informed.plan
        style = None if units is None else LengthStyle(units.value)
        options = PacketOptions(paper=paper.value, style=style, only=_numbers(only))
        times: Literal[1, 2] | None = None
        if scale is not None:
            times = 1 if scale is PartScale.TRUE else 2
        written = write_plan(planned, out, options, scale=times)
    if as_json:
        typer.echo(written.json)
    else:
        typer.echo(written.summary)
        typer.echo("Written:")
        for line in written.lines:
            typer.echo(f"  {line}")
    raise typer.Exit(DONE if planned.settled and not asked else DECIDE)


@app.command("check", epilog=EXITS)
def check_command(
    piece: PieceArgument,
    shop: ShopOption = None,
    as_json: JsonOption = False,  # noqa: FBT002 - a flag of the command line
) -> None:
    """What is wrong, missing or suspect.

    Reads the documents without planning, and asks about readings that look like slips.
    """
    from faywright.piece.opened import open_documents
    from faywright.piece.suspects import suspects

    documents = open_documents(piece, shop)
    found = suspects(documents.piece, documents.shop)
    if as_json:
        rows = [{"where": each.where, "what": each.what, "ask": each.ask} for each in found]
        typer.echo(json.dumps({"format": "faywright check 1", "suspect": rows}, indent=2))
    else:
        boards = sum(len(part.boards) for part in documents.piece.parts)
        typer.echo(
            f"{documents.piece.title}: {boards} boards, {len(documents.piece.joints)} joints, "
            f"{len(documents.shop.cutters)} cutters. The documents can be read."
        )
        for each in found:
            typer.echo(f"\n{each.where}: {each.what}\n  {each.ask}")
        typer.echo("" if found else "Nothing looks suspect.")
    raise typer.Exit(DECIDE if found else DONE)


def _numbers(text: str) -> tuple[int, ...]:
    """Numbers of setups, with commas between."""
    try:
        return tuple(int(part) for part in text.split(",") if part.strip())
    except ValueError:
        raise InputError(
            f"{text!r} is not a list of numbers",
            where="--only",
            remedy="Give numbers of setups, as 3 or 5,8",
        ) from None
