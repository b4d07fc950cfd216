"""The commands that serve the pages, and say who may come to them."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from faywright.cli.common import EXITS, StoreOption, app
from faywright.web.entry.wishes import PORT, AccountWish, Doing, Serving


class Passphrase(StrEnum):
    """Where another passphrase comes from."""

    NEW = "new"
    TYPED = "typed"


LanOption = Annotated[
    bool, typer.Option("--lan", help="Let other devices on the shop's network in, over HTTPS.")
]
EmptyOption = Annotated[
    bool, typer.Option("--empty", help="Leave the demo out of a store that is new.")
]
KeeperOption = Annotated[
    bool, typer.Option("--keeper", help="With add: one who may look after accounts.")
]


@app.command("serve", epilog=EXITS)
def serve_command(
    port: Annotated[int, typer.Option("--port", help="Where to listen.")] = PORT,
    lan: LanOption = False,  # noqa: FBT002 - a flag of the command line
    store: StoreOption = None,
    empty: EmptyOption = False,  # noqa: FBT002 - a flag of the command line
    passphrase: Annotated[
        Passphrase | None,
        typer.Option(
            "--passphrase", help="With --lan: make another passphrase, or ask for one of your own."
        ),
    ] = None,
    certificate: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE.pem", help="With --lan: a certificate of your own, not one made here."
        ),
    ] = None,
    key: Annotated[
        Path | None, typer.Option(metavar="FILE.pem", help="The key of that certificate.")
    ] = None,
) -> None:
    """Show pieces, setups and trials in a browser.

    On this computer only, unless --lan is given. On the shop's network everyone signs in with the
    passphrase that the terminal shows; where the store is on a PostgreSQL server, with name and
    password.
    """
    from faywright.web.entry.serving import serve

    serve(
        Serving(
            store=store,
            demo=not empty,
            port=port,
            lan=lan,
            passphrase=_hidden("Passphrase") if passphrase is Passphrase.TYPED else None,
            new_passphrase=passphrase is Passphrase.NEW,
            certificate=certificate,
            key=key,
        ),
        typer.echo,
    )


@app.command("account", epilog=EXITS)
def account_command(
    doing: Annotated[Doing, typer.Argument(help="What to do.", show_default=False)],
    name: Annotated[str | None, typer.Argument(metavar="NAME", help="Whose account.")] = None,
    store: StoreOption = None,
    keeper: KeeperOption = False,  # noqa: FBT002 - a flag of the command line
) -> None:
    """Give people accounts in a store on a PostgreSQL server.

    The first one is a keeper, who may do the rest on the page of accounts. Passwords are asked
    for, and never part of the command.
    """
    from faywright.web.entry.account_run import run_account

    wish = AccountWish(
        doing=doing,
        name=name,
        store=store,
        keeper=keeper,
        password=lambda: _hidden("Password"),
    )
    for line in run_account(wish):
        typer.echo(line)


def _hidden(what: str) -> str:
    """Ask for it twice, showing nothing; where nobody can be asked, a line of what is sent."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\n")
    found: str = typer.prompt(what, hide_input=True, confirmation_prompt=True)
    return found
