"""The command line: read what is asked, call one function, show what it found."""

from __future__ import annotations

import json
import sys
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path
from threading import Timer
from typing import Annotated, Literal

import typer

from faywright.errors import DisagreementError, InfeasibleError, InputError, PlanError

DONE, DECIDE, BAD_INPUT, NO_PLAN, OUR_FAULT = 0, 1, 2, 3, 4
"""Exit codes: all is well; something wants a decision; the input is wrong; there is no safe way;
an error of ours."""

EXITS = """Exit codes: 0 all is well; 1 done, but something wants a decision; 2 the input is wrong;
3 there is no safe way with what is on hand; 4 an error in Faywright itself."""

app = typer.Typer(
    name="faywright",
    help="Measured boards and real cutters in, verified router-table settings out.",
    epilog=EXITS,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


class PaperSize(StrEnum):
    """Paper for the packet, as printers name it."""

    A4 = "a4"
    LETTER = "us-letter"


class UnitsStyle(StrEnum):
    """Ways of writing lengths."""

    MM = "mm"
    DECIMAL_INCH = "decimal inch"
    FRACTION_INCH = "fraction inch"


class PartScale(StrEnum):
    """Scales of the sections of parts."""

    TRUE = "1:1"
    DOUBLE = "2:1"


PieceArgument = Annotated[Path, typer.Argument(metavar="PIECE.toml", help="The piece file.")]
ShopOption = Annotated[
    Path | None,
    typer.Option(
        "--shop", metavar="SHOP.toml", help="The shop file; the piece file may name it instead."
    ),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print JSON instead of words.")]


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
    as_json: JsonOption = False,  # noqa: FBT002 - a flag of the command line
) -> None:
    """Settings, setups in order, what fits.

    Says what to do about the boards that will not fit, and what would hurt. Writes plan.json,
    summary.txt, packet.pdf for the wall, and every drawing as SVG and DXF: joints, parts, setups.
    """
    from faywright.drawing.folder import write_plan
    from faywright.drawing.packet import PacketOptions
    from faywright.lengths import LengthStyle
    from faywright.piece.opened import open_documents
    from faywright.piece.plan import plan
    from faywright.piece.suspects import suspects

    documents = open_documents(piece, shop)
    asked = suspects(documents.piece, documents.shop)
    for each in asked:
        typer.echo(f"To ask first, {each.where}: {each.what}. {each.ask}.", err=True)
    with _waiting(f"planning {piece.name}"):
        planned = plan(documents.piece, documents.shop)
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


@contextmanager
def _waiting(what: str) -> Iterator[None]:
    """Say that work goes on, on a terminal, once it has taken a second."""
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    status = Console(stderr=True).status(what)
    timer = Timer(1.0, status.start)
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()
        status.stop()


def main() -> None:
    """Run the command line; every error we raise on purpose is told in plain words."""
    try:
        app()
    except PlanError as error:
        typer.echo(str(error), err=True)
        if isinstance(error, DisagreementError):
            sys.exit(OUR_FAULT)
        sys.exit(NO_PLAN if isinstance(error, InfeasibleError) else BAD_INPUT)
    except Exception:  # noqa: BLE001 - the edge of the program: told in full, never as success
        traceback.print_exc()
        typer.echo(
            "This is an error in Faywright. Report it with the piece and shop files.", err=True
        )
        sys.exit(OUR_FAULT)
