"""What all commands share: the program itself, exit codes, and options that recur."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path
from threading import Timer
from typing import Annotated

import typer

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


class UnitsStyle(StrEnum):
    """Ways of writing lengths."""

    MM = "mm"
    DECIMAL_INCH = "decimal inch"
    FRACTION_INCH = "fraction inch"


PieceArgument = Annotated[Path, typer.Argument(metavar="PIECE.toml", help="The piece file.")]
ShopOption = Annotated[
    Path | None,
    typer.Option(
        "--shop", metavar="SHOP.toml", help="The shop file; the piece file may name it instead."
    ),
]
StoreOption = Annotated[
    str | None,
    typer.Option(
        "--store", metavar="STORE", help="Where the shop's memory is, if not in the usual place."
    ),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print JSON instead of words.")]


@contextmanager
def waiting(what: str) -> Iterator[None]:
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
