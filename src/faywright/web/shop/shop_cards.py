"""Cards of a shop's page: each thing in a sentence, what is known of it, and its form."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.http import HttpRequest

from faywright.app.documents import Sheet
from faywright.app.shop_memory import Found, ShopMemory, shop_memory
from faywright.errors import MissingError
from faywright.lengths import LengthStyle, Unit
from faywright.piece.document import tables_of
from faywright.piece.shop_file import shop_from_text
from faywright.piece.shop_suspects import shop_suspects
from faywright.piece.shop_words import (
    cutter_kind,
    cutter_said,
    gauge_said,
    habits_said,
    machine_said,
    species_said,
)
from faywright.piece.suspect import Suspect
from faywright.piece.words import finer, writer
from faywright.shop.inventory import Shop
from faywright.web.desk import desk, style_of, today
from faywright.web.fields import units_of
from faywright.web.shop.shop_form import Shown, Thing, Typed, fields
from faywright.web.shop.shop_keys import TABLES
from faywright.web.typed import unit_of

_UNIT_WORDS: dict[Unit, str] = {
    "mm": "millimetres",
    "cm": "centimetres",
    "m": "metres",
    "in": "inches",
    "ft": "feet",
    "thou": "thousandths of an inch",
}


@dataclass(frozen=True)
class OpenShop:
    """A shop as it stands: its text, read, what is remembered of it, and how lengths are shown."""

    sheet: Sheet
    shop: Shop
    tables: Mapping[str, object]
    memory: ShopMemory
    style: LengthStyle


@dataclass(frozen=True)
class Card:
    """A thing in a sentence, and its form: each field with what it showed first."""

    thing: Thing
    slug: str
    title: str
    said: str
    fields: tuple[Shown, ...]
    base: int
    found: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    differs: tuple[str, ...] = ()
    opened: bool = False
    sharpens: bool = False
    removable: bool = False
    cuts: str = ""
    cuts_fault: str = ""
    unit: str = ""

    @property
    def called(self) -> str:
        """What it is called where it is to be changed."""
        return self.thing.name or self.title.lower()

    @property
    def new(self) -> bool:
        """Whether it is still to be added."""
        return self.thing.table in TABLES and not self.thing.name


def open_shop(request: HttpRequest, number: int) -> OpenShop:
    """The shop of that number, read.

    Raises
    ------
    MissingError
        There is none.
    DocumentError
        Its text has faults.
    """
    store = desk().store
    sheet = store.documents.sheet(number)
    if sheet.kind != "shop":
        raise MissingError(
            f"document {number} is no shop",
            where="shop",
            remedy="Choose one from the list of shops",
        )
    shop = shop_from_text(sheet.revision.text, file="shop")
    memory = shop_memory(
        shop,
        store.learned(shop.title),
        store.trials(shop=shop.title, forgotten=True),
        store.sharpenings(shop.title),
        today=today(),
    )
    tables = tables_of(sheet.revision.text)
    return OpenShop(sheet, shop, tables, memory, style_of(request, shop.habits.style))


def things(at: OpenShop, table: str) -> Iterator[Thing]:
    """All of a table, in its order."""
    listed = at.tables.get(table, [])
    key = "name" if table == "species" else "mark"
    for stored in listed if isinstance(listed, list) else []:
        yield Thing(table, str(stored[key]), str(stored.get("kind", "")), stored, units(at))


def card(
    at: OpenShop,
    thing: Thing,
    *,
    typed: Typed | None = None,
    rest: Sequence[str] = (),
    base: int | None = None,
    opened: bool = False,
) -> Card:
    """The card of a thing that is there; with what was ``typed`` and could not be kept."""
    title, said = _words(at, thing)
    where = f"cutter {thing.name.strip()}"
    return Card(
        thing=thing,
        slug=_slug(at, thing),
        title=title,
        said=said,
        fields=fields(thing, at.style, typed or Typed()),
        base=at.sheet.revision.number if base is None else base,
        found=tuple(each.said(finer(at.style)) for each in found_of(at, thing)),
        asks=tuple(asked(each) for each in suspects(at) if each.where == where)
        if thing.table == "cutter"
        else (),
        faults=tuple(rest),
        opened=opened,
        sharpens=thing.table == "cutter"
        and at.shop.cutters[_place(at, thing)].cut_size is not None,
        removable=thing.table in TABLES and len(list(things(at, thing.table))) > _least(thing),
        unit=unit_of(at.style),
    )


def new_card(
    at: OpenShop,
    table: str,
    kind: str = "",
    *,
    typed: Typed | None = None,
    rest: Sequence[str] = (),
) -> Card:
    """The form of a thing that is still to be added."""
    thing = Thing(table, "", kind, {"kind": kind} if kind else {}, units(at))
    what = kind_words(kind) if kind else table
    return Card(
        thing=thing,
        slug=f"new-{table}",
        title=f"A new {what}",
        said="",
        fields=fields(thing, at.style, typed or Typed()),
        base=at.sheet.revision.number,
        faults=tuple(rest),
        opened=True,
        unit=unit_of(at.style),
    )


def units(at: OpenShop) -> Unit:
    """The unit of bare numbers in its file."""
    return units_of(at.tables)


def stored(at: OpenShop, table: str) -> Mapping[str, object]:
    """A table that stands there once, empty where it does not."""
    found = at.tables.get(table)
    return found if isinstance(found, dict) else {}


def kind_words(kind: str) -> str:
    """A kind of cutter as a maker says it.

    >>> kind_words("v"), kind_words("tongue pair")
    ('V cutter', 'tongue pair')
    """
    return kind if kind == "tongue pair" else f"{'V' if kind == 'v' else kind} cutter"


def _least(thing: Thing) -> int:
    """How many a shop must have."""
    return 1 if thing.table == "machine" else 0


def _place(at: OpenShop, thing: Thing) -> int:
    """Place among its kind, counted from 0."""
    return [each.name for each in things(at, thing.table)].index(thing.name)


def _slug(at: OpenShop, thing: Thing) -> str:
    """What the card is called in the page: its place counted from 1, for marks may be odd."""
    if thing.table not in TABLES:
        return thing.table
    return f"{thing.table}-{_place(at, thing) + 1}"


def _words(at: OpenShop, thing: Thing) -> tuple[str, str]:
    """A title and what is said of a thing."""
    write, fine, shop = writer(at.style), finer(at.style), at.shop
    match thing.table:
        case "machine":
            machine = shop.machines[_place(at, thing)]
            return machine.mark, machine_said(machine, write, fine)
        case "cutter":
            cutter = shop.cutters[_place(at, thing)]
            return f"{cutter.mark}, {cutter_kind(cutter)}", cutter_said(cutter, write)
        case "gauge":
            gauge = shop.gauges[_place(at, thing)]
            return gauge.mark, gauge_said(gauge, write, fine)
        case "species":
            species = shop.species[_place(at, thing)]
            return species.name, species_said(species)
        case "habits":
            return "Habits", habits_said(shop.habits)
    return (
        "Name and unit",
        f"{shop.title}; a bare number in its file is in {_UNIT_WORDS[units(at)]}.",
    )


def found_of(at: OpenShop, thing: Thing) -> tuple[Found, ...]:
    """What trials found of a thing."""
    kinds = {
        "cutter": ("cutter",),
        "gauge": ("height zero", "fence zero"),
        "machine": ("lift",),
    }.get(thing.table, ())
    return at.memory.of(thing.name.strip(), *kinds)


def has_card(at: OpenShop, found: Found) -> bool:
    """Whether what was found is told beside a thing of the shop."""
    return any(found in found_of(at, thing) for table in TABLES for thing in things(at, table))


def suspects(at: OpenShop) -> list[Suspect]:
    """What to look at again in it."""
    return list(shop_suspects(at.shop, writer(at.style)))


def asked(suspect: Suspect) -> str:
    """What to ask of a figure before it is trusted."""
    return f"{suspect.what}. {suspect.ask}."
