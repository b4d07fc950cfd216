"""The command that answers how much timber moves."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from faywright.cli.common import EXITS, JsonOption, ShopOption, UnitsStyle, app


@app.command("timber", epilog=EXITS)
def timber_command(
    species: Annotated[
        str, typer.Argument(metavar="SPECIES", help="Common, botanical or trade name.")
    ],
    start: Annotated[
        str | None,
        typer.Option("--from", metavar="STATE", help='Air, as "20 C 45 %", or moisture, as "8 %".'),
    ] = None,
    end: Annotated[
        str | None, typer.Option("--to", metavar="STATE", help="Air or moisture it goes to.")
    ] = None,
    width: Annotated[
        str, typer.Option("--width", metavar="LENGTH", help="Width of the board, in mm if bare.")
    ] = "100 mm",
    rings: Annotated[
        str | None,
        typer.Option("--rings", help="flat, rift, quarter, or the angle of its rings in degrees."),
    ] = None,
    shop: ShopOption = None,
    units: Annotated[
        UnitsStyle | None, typer.Option("--units", help="How lengths are written.")
    ] = None,
    as_json: JsonOption = False,  # noqa: FBT002 - a flag of the command line
) -> None:
    """How much a board moves with its moisture.

    From one air or moisture to another; without --from and --to, through the year in each of the
    rooms that come with the program.
    """
    from faywright.lengths import LengthStyle
    from faywright.piece.shop_file import read_shop
    from faywright.piece.timber_answer import answer_json, answer_lines, question, room_lines
    from faywright.piece.words import writer

    own = () if shop is None else read_shop(shop).species
    asked = question(species, start=start, end=end, width=width, rings=rings, own=own)
    style = asked.style if units is None else LengthStyle(units.value)
    if as_json:
        typer.echo(json.dumps(answer_json(asked), indent=2, ensure_ascii=False))
        return
    lines = room_lines if start is None else answer_lines
    typer.echo("\n".join(lines(asked, writer(style))))
