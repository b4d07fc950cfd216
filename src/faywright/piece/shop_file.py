"""The shop file: machines, cutters, gauges and habits, as the maker wrote them down."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar, get_args

from faywright.lengths import LengthStyle, Style, Unit
from faywright.piece.cutter_tables import read_cutter
from faywright.piece.document import open_document, read_text
from faywright.piece.fields import Table, each_once
from faywright.piece.species_tables import read_species
from faywright.piece.values import list_of, one_of, text, whole
from faywright.shop.gauges import Gauge, Use
from faywright.shop.inventory import Habits, Reference, Shop
from faywright.shop.machines import Fence, FenceSide, Machine, Rotation

T = TypeVar("T")

_IN_INCHES: tuple[Unit, ...] = ("in", "ft", "thou")


def read_shop(path: Path) -> Shop:
    """The shop in the file at ``path``.

    Raises
    ------
    DocumentError
        The file cannot be opened, or has faults; all are listed.
    """
    return shop_from_text(read_text(path), file=str(path))


def shop_from_text(content: str, *, file: str) -> Shop:
    r"""The shop that ``content`` describes; ``file`` names it in messages.

    Raises
    ------
    DocumentError
        There are faults; all are listed.

    Examples
    --------
    >>> shop = shop_from_text(
    ...     'faywright = "shop 1"\ntitle = "Cellar"\n'
    ...     '[[machine]]\nmark = "table 1"\nspeeds_rpm = [12000]\n',
    ...     file="shop.toml",
    ... )
    >>> shop.machines[0].speeds_rpm
    (12000,)
    """
    top = open_document(content, file=file, kind="shop")
    shop = top.build(
        Shop,
        title=top.required("title", text),
        machines=_each(top, "machine", _machine),
        cutters=_each(top, "cutter", read_cutter),
        gauges=_each(top, "gauge", _gauge),
        species=_each(top, "species", read_species, key="name"),
        habits=_habits(top),
    )
    return top.document.finish(shop)


def _each(
    top: Table, kind: str, read: Callable[[Table], T | None], *, key: str = "mark"
) -> tuple[T, ...]:
    tables = top.tables(kind)
    each_once(tables, key)
    return tuple(found for table in tables if (found := read(table)) is not None)


def _habits(top: Table) -> Habits:
    """The habits written down; lengths are shown in inches where they are written in inches."""
    usual: Style = "decimal inch" if top.document.units in _IN_INCHES else "mm"
    table = top.table("habits")
    if table is None:
        return Habits(style=LengthStyle(usual))
    reference: Reference = table.optional("reference", one_of(get_args(Reference)), "far edge")
    style = table.build(
        LengthStyle,
        style=table.optional("style", one_of(get_args(Style)), usual),
        places=table.optional("places", whole, None),
        denominator=table.optional("denominator", whole, 64),
    )
    return Habits(style=style or LengthStyle(usual), reference=reference)


def _machine(table: Table) -> Machine | None:
    return table.build(
        Machine,
        mark=table.required("mark", text),
        speeds_rpm=table.required("speeds_rpm", list_of(whole)),
        rotation=table.optional("rotation", one_of(get_args(Rotation)), "anticlockwise"),
        fence_side=table.optional("fence_side", one_of(get_args(FenceSide)), "behind the cutter"),
        fence=_fence(table),
        lift_pitch=table.optional("lift_pitch", table.length, None),
        table_opening=table.optional("table_opening", table.length, None),
        work_lift=table.optional("work_lift", table.length, 0.02),
    )


def _fence(machine: Table) -> Fence:
    table = machine.table("fence")
    if table is None:
        return Fence()
    fence = table.build(
        Fence,
        kind=table.optional("kind", one_of(("sliding", "pivoted")), "sliding"),
        length=table.optional("length", table.length, 600.0),
        height=table.optional("height", table.length, 75.0),
        pivot_to_end=table.optional("pivot_to_end", table.length, None),
        pivot_to_cutter=table.optional("pivot_to_cutter", table.length, None),
    )
    return fence or Fence()


def _gauge(table: Table) -> Gauge | None:
    return table.build(
        Gauge,
        mark=table.required("mark", text),
        uses=table.required("uses", list_of(one_of(get_args(Use)))),
        resolution=table.required("resolution", table.length),
        repeatability=table.required("repeatability", table.length),
        zero_error=table.optional("zero_error", table.length, 0.0),
    )
