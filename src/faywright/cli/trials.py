"""Commands about trial cuts, and about what the shop has learned from them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

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
)


def _read(what: str) -> typer.models.OptionInfo:
    """An option for readings of one dimension."""
    option: typer.models.OptionInfo = typer.Option(
        metavar="READINGS", help=f"{what}; several with semicolons between."
    )
    return option


def _shown(gauge: str) -> typer.models.OptionInfo:
    """An option for what a gauge showed; it may be given several times."""
    option: typer.models.OptionInfo = typer.Option(
        metavar="[SETUP=]LENGTH",
        help=f"What the {gauge} showed, if not as planned: at the setup of that number, or else "
        "at the one that decides the fit.",
    )
    return option


@app.command("trial", epilog=EXITS)
def trial_command(
    piece: PieceArgument,
    joint: Annotated[str, typer.Argument(metavar="JOINT", help="Name of the joint.")],
    tongue: Annotated[str | None, _read("Thickness of the tongue")] = None,
    length: Annotated[str | None, _read("Length of the tongue")] = None,
    cheek: Annotated[str | None, _read("Depth of the cheek on face A")] = None,
    groove: Annotated[str | None, _read("Width of the groove")] = None,
    depth: Annotated[str | None, _read("Depth of the groove")] = None,
    wall: Annotated[str | None, _read("Wall beside the groove")] = None,
    stock: Annotated[str | None, _read("Thickness of the trial piece itself")] = None,
    group: Annotated[str, typer.Option(metavar="LETTER", help="Group of boards it is for.")] = "A",
    set_height: Annotated[list[str] | None, _shown("height gauge")] = None,
    set_fence: Annotated[list[str] | None, _shown("fence gauge")] = None,
    feel: Annotated[
        str | None,
        typer.Option(
            metavar="WORD",
            help="How the joint went dry: will not go, mallet, hand push, slides, rattles.",
        ),
    ] = None,
    metres: Annotated[
        float | None,
        typer.Option(
            metavar="NUMBER",
            help="Metres cut, since new or sharpened, by the cutter whose size the fit hangs on.",
        ),
    ] = None,
    note: Annotated[str, typer.Option(help="A note to keep with it.")] = "",
    anew: Annotated[  # noqa: FBT002 - a flag of the command line
        bool, typer.Option("--anew", help="Every setting was made anew since the last trial.")
    ] = False,
    sure: Annotated[bool, typer.Option("--sure", help="The readings stand as they are.")] = False,  # noqa: FBT002 - a flag of the command line
    look: Annotated[bool, typer.Option("--look", help="Say it, but remember nothing.")] = False,  # noqa: FBT002 - a flag of the command line
    ask: Annotated[bool, typer.Option("--ask", help="Ask for what is useful.")] = False,  # noqa: FBT002 - a flag of the command line
    shop: ShopOption = None,
    store: StoreOption = None,
    units: Annotated[
        UnitsStyle | None, typer.Option("--units", help="How lengths are written.")
    ] = None,
    as_json: JsonOption = False,  # noqa: FBT002 - a flag of the command line
) -> None:
    """A measured trial cut: what to correct.

    Says what to move, what to expect then, and whether another trial is worth it. Readings that
    look like slips are asked about first. What was learned is remembered for later plans.
    """
    from faywright.app.trial_run import Asked, run_trial

    asked = Asked(
        piece=piece,
        shop=shop,
        joint=joint,
        texts={
            "tongue": tongue,
            "length": length,
            "cheek": cheek,
            "groove": groove,
            "depth": depth,
            "wall": wall,
            "stock": stock,
        },
        group=group,
        set_height=tuple(set_height or ()),
        set_fence=tuple(set_fence or ()),
        feel=feel,
        metres=metres,
        note=note,
        anew=anew,
        sure=sure,
        keep=not look,
        store=store,
        style=None if units is None else units.value,
    )
    answer = run_trial(asked, prompt=_prompt if ask else None)
    if as_json:
        typer.echo(json.dumps(answer.json, indent=2, ensure_ascii=False))
    else:
        typer.echo("\n".join(answer.lines))
    raise typer.Exit(DECIDE if answer.questions else DONE)


def _prompt(what: str) -> str:
    """Ask for readings; empty if there are none."""
    found: str = typer.prompt(f"{what} (Enter if not measured)", default="", show_default=False)
    return found


@app.command("shop", epilog=EXITS)
def shop_command(
    shop: Annotated[Path, typer.Argument(metavar="SHOP.toml", help="The shop file.")],
    store: StoreOption = None,
    forget: Annotated[
        int | None, typer.Option(metavar="NUMBER", help="Leave that trial out of what is known.")
    ] = None,
    sharpened: Annotated[
        str | None, typer.Option(metavar="CUTTER", help="That cutter came back from sharpening.")
    ] = None,
    cuts: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="What the sharpened cutter cuts now.")
    ] = None,
    export: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Write all of it: a .json file, or a folder of CSV."),
    ] = None,
    take_in: Annotated[
        Path | None, typer.Option("--import", metavar="FILE", help="Add what was exported.")
    ] = None,
    chart: Annotated[
        Path | None, typer.Option(metavar="FILE.svg", help="Draw how zeros and cutters drifted.")
    ] = None,
    units: Annotated[
        UnitsStyle | None, typer.Option("--units", help="How lengths are written.")
    ] = None,
    as_json: JsonOption = False,  # noqa: FBT002 - a flag of the command line
) -> None:
    """What the shop has learned.

    Cutters, gauges and machine as trial cuts have shown them to be, and the trials themselves.
    """
    from faywright.app.shop_run import Wish, run_shop

    wish = Wish(
        shop=shop,
        store=store,
        forget=forget,
        sharpened=sharpened,
        cuts=cuts,
        export=export,
        take_in=take_in,
        chart=chart,
        style=None if units is None else units.value,
    )
    answer = run_shop(wish)
    if as_json:
        typer.echo(json.dumps(answer.json, indent=2, ensure_ascii=False))
    else:
        typer.echo("\n".join(answer.lines))
