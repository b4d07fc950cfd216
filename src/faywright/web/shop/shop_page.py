"""The page of a shop as values: its sections of cards, trials, and boards on hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from faywright.app.documents import Sheet
from faywright.app.shop_memory import ShopMemory, felt_lines, trial_readings
from faywright.piece.words import Write, finer, writer
from faywright.web.desk import desk
from faywright.web.pieces.going_back import Undoing, undoing_of
from faywright.web.shop.boards_on_hand import PieceBoards, boards_on_hand
from faywright.web.shop.shop_cards import (
    Card,
    OpenShop,
    asked,
    card,
    has_card,
    kind_words,
    new_card,
    stored,
    suspects,
    things,
    units,
)
from faywright.web.shop.shop_form import Thing
from faywright.web.shop.shop_keys import KINDS, TABLES
from faywright.web.timber.timbers import timbers
from faywright.web.typed import unit_of

TITLES = {
    "machine": "Machines",
    "cutter": "Cutters",
    "gauge": "Gauges",
    "species": "Timber with your own figures",
}
NONE = {
    "machine": "",
    "cutter": "None yet. List each cutter you would use for a joint.",
    "gauge": "None yet. List what sets fence and height, and what measures boards.",
    "species": "None: the published figures are taken.",
}
TRIALS_SHOWN = 20


@dataclass(frozen=True)
class Section:
    """Things of one table, those that can be added, and what to say where there are none."""

    table: str
    title: str
    cards: tuple[Card, ...]
    kinds: tuple[tuple[str, str], ...]
    none: str
    one: str
    asks: tuple[str, ...] = ()
    adding: Card | None = None


@dataclass(frozen=True)
class TrialLine:
    """A trial in the list."""

    number: int
    on: str
    piece: str
    joint: str
    read: str
    forgotten: bool


@dataclass(frozen=True)
class ShopPage:
    """All that the page of a shop shows."""

    sheet: Sheet
    about: Card
    habits: Card
    sections: tuple[Section, ...]
    learned: tuple[str, ...]
    taught: bool
    unit: str
    felt: tuple[str, ...]
    trials: tuple[TrialLine, ...]
    more_trials: int
    boards: tuple[PieceBoards, ...]
    timbers: Sequence[str]
    undoing: Undoing

    @property
    def base(self) -> int:
        """The revision that is shown."""
        return self.sheet.revision.number

    @property
    def lacks(self) -> tuple[str, ...]:
        """What a shop needs before a piece can be planned in it."""
        empty = {each.table for each in self.sections if not each.cards}
        return tuple(
            words
            for table, words in (
                ("cutter", "the cutters you use for joints, each as it really cuts"),
                ("gauge", "the gauges you set and measure with"),
            )
            if table in empty
        )


def shop_page(
    at: OpenShop, *, adding: tuple[str, str] | None = None, with_faults: Card | None = None
) -> ShopPage:
    """The whole page; ``adding`` opens the form of a new thing, ``with_faults`` replaces a card.

    A new thing is named by its table, and by its kind if it is a cutter.
    """
    write, memory = writer(at.style), at.memory
    new = with_faults if with_faults is not None and with_faults.new else None
    if new is None and adding is not None:
        new = new_card(at, *adding)
    found = ShopPage(
        sheet=at.sheet,
        about=card(at, Thing("shop", stored=at.tables, units=units(at))),
        habits=card(at, Thing("habits", stored=stored(at, "habits"), units=units(at))),
        sections=tuple(_section(at, table, new) for table in TABLES),
        learned=tuple(
            each.said(finer(at.style)) for each in memory.found if not has_card(at, each)
        ),
        taught=bool(memory.found),
        unit=unit_of(at.style),
        felt=tuple(felt_lines(memory.reports, write)),
        trials=tuple(_trials(memory, write)),
        more_trials=max(0, len(memory.trials) - TRIALS_SHOWN),
        boards=boards_on_hand(desk().store.documents, at.sheet.id, write),
        timbers=timbers(at.shop),
        undoing=undoing_of(at.sheet),
    )
    return found if with_faults is None or new is not None else _in_place(found, with_faults)


def _in_place(page: ShopPage, card_: Card) -> ShopPage:
    """The page with a card of the same place instead of its own."""

    def instead(each: Card) -> Card:
        return card_ if each.slug == card_.slug else each

    return replace(
        page,
        about=instead(page.about),
        habits=instead(page.habits),
        sections=tuple(
            replace(section, cards=tuple(map(instead, section.cards))) for section in page.sections
        ),
    )


def _section(at: OpenShop, table: str, new: Card | None) -> Section:
    cards = tuple(card(at, thing) for thing in things(at, table))
    apart = [each for each in suspects(at) if each.where == "gauges"] if table == "gauge" else []
    return Section(
        table=table,
        title=TITLES[table],
        cards=cards,
        kinds=tuple((kind, kind_words(kind)) for kind in KINDS) if table == "cutter" else (),
        none="" if cards else NONE[table],
        one={"species": "timber"}.get(table, table),
        asks=tuple(map(asked, apart)),
        adding=new if new is not None and new.thing.table == table else None,
    )


def _trials(memory: ShopMemory, write: Write) -> Iterator[TrialLine]:
    for trial in memory.trials[:TRIALS_SHOWN]:
        record = trial.record
        yield TrialLine(
            trial.id,
            f"{record.at:%Y-%m-%d}",
            record.piece,
            record.joint,
            trial_readings(trial, write),
            trial.forgotten is not None,
        )
