"""The command line: read what is asked, call one function, show what it found."""

from __future__ import annotations

import sys
import traceback

import typer

from faywright.cli import planning, timber, trials  # each adds its commands to the program

# isort: split
from faywright.cli import serving  # told of last
from faywright.cli.common import BAD_INPUT, DECIDE, DONE, EXITS, NO_PLAN, OUR_FAULT, app
from faywright.errors import DisagreementError, InfeasibleError, PlanError

__all__ = [
    "BAD_INPUT",
    "DECIDE",
    "DONE",
    "EXITS",
    "NO_PLAN",
    "OUR_FAULT",
    "app",
    "main",
    "planning",
    "serving",
    "timber",
    "trials",
]


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
