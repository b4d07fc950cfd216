"""The store: what the command line and the pages ask of the shop's memory."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import NoReturn, Self

from django.db import connections
from django.db.models import Q
from django.db.transaction import atomic

from faywright.app import models, reading
from faywright.app.connecting import (
    bring_up_to_date,
    connect,
    database_told,
    disconnect,
    snapshot,
)
from faywright.app.csv_folder import read_csv, write_csv
from faywright.app.documents import Documents
from faywright.app.json_text import contents_of_json, json_of
from faywright.app.memory import Memory, Row, memory_of
from faywright.app.merging import Imported, merged, restored
from faywright.app.places import Place
from faywright.app.records import (
    Contents,
    FeelRecord,
    Kept,
    KeptTrial,
    Learning,
    SharpenedRecord,
    TrialRecord,
)
from faywright.app.values import in_utc
from faywright.app.writing import Writer
from faywright.errors import InputError, MissingError


class Store:
    """The shop's memory, open. All that is written at once is kept, or nothing of it.

    Every method raises an InputError for a database that is locked, full, away or broken.
    """

    def __init__(self, place: Place, *, alias: str | None = None) -> None:
        """Connect, and bring the tables up to date.

        ``alias`` is the name by which Django is to know the store: ``"default"`` for tables of
        its own, such as sessions; without one the store has a name that no other has. Threads may
        share a store; each has a connection of its own.

        Raises
        ------
        InputError
            Another store is open under that name.
        """
        self.place = place
        self._alias = connect(place, alias)
        self.documents = Documents(self._alias, str(place))
        try:
            with database_told(str(place)):
                bring_up_to_date(self._alias, str(place))
        except BaseException:
            disconnect(self._alias)
            raise

    def close(self) -> None:
        """Close the connections of all threads; the store cannot be used any more."""
        disconnect(self._alias)

    def __enter__(self) -> Self:
        """The store itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it."""
        self.close()

    # What is asked of it.

    def learned(self, shop: str) -> Memory:
        """The latest of each unknown of a shop that no forgetting or sharpening did away with."""

        def ask(query: str, title: str) -> list[Row]:
            with connections[self._alias].cursor() as cursor:
                cursor.execute(query, [title])
                return list(cursor.fetchall())

        with self._reading():
            return memory_of(shop, ask)

    def trial(self, number: int) -> KeptTrial:
        """One trial by its number, forgotten or not.

        Raises
        ------
        InputError
            There is none of that number.
        """
        with self._reading():
            found = reading.trials(self._alias, Q(id=number))
        if not found:
            _no_trial(number)
        return found[0]

    def trials(
        self, *, shop: str | None = None, limit: int | None = None, forgotten: bool = False
    ) -> tuple[KeptTrial, ...]:
        """Trials, the latest first; with forgotten ones if asked for."""
        chosen = Q() if shop is None else Q(shop__title=shop)
        if not forgotten:
            chosen &= Q(forgotten__isnull=True)
        if limit is not None and limit < 1:
            what = f"{limit} trials cannot be listed"
            raise InputError(what, where="trials", remedy="Ask for 1 or more")
        with self._reading():
            return reading.trials(self._alias, chosen, limit=limit)

    def feels(self, shop: str, timber: str | None = None) -> tuple[Kept[FeelRecord], ...]:
        """How joints in a timber, or in all, felt; those of forgotten trials are left out."""
        with self._reading():
            return reading.feels(self._alias, reading.standing(shop, timber))

    def sharpenings(self, shop: str) -> tuple[Kept[SharpenedRecord], ...]:
        """Every sharpening of a shop's cutters, in the order they were recorded."""
        with self._reading():
            return reading.sharpenings(self._alias, Q(cutter__shop__title=shop))

    # What is told to it.

    def add_trial(self, record: TrialRecord) -> int:
        """Keep a trial; its number."""
        with self._writing() as writer:
            return writer.add_trial(record)

    def correct(
        self,
        number: int,
        record: TrialRecord,
        *,
        learned_anew: Mapping[int, Learning] | None = None,
    ) -> None:
        """Put ``record`` in the place of a trial.

        ``learned_anew`` tells what later trials teach, now that this one reads otherwise.

        Raises
        ------
        InputError
            A trial is not there.
        """
        with self._writing() as writer:
            writer.replace_trial(self._row(number), record)
            self._learn_anew(writer, learned_anew)

    def forget(
        self,
        number: int,
        *,
        at: datetime | None = None,
        learned_anew: Mapping[int, Learning] | None = None,
    ) -> None:
        """Leave a trial out of all that is learned; it stays on record, as forgotten.

        ``learned_anew`` tells what later trials teach without it. A trial that is forgotten
        already stays as it is.

        Raises
        ------
        InputError
            A trial is not there.
        """
        with self._writing() as writer:
            row = self._row(number)
            if row.forgotten is None:
                row.forgotten = in_utc(at or datetime.now(UTC), f"trial {number}: forgotten")
                row.save(using=self._alias, force_update=True)
            self._learn_anew(writer, learned_anew)

    def sharpened(self, record: SharpenedRecord) -> int:
        """Keep that a cutter was sharpened: earlier trials no longer tell its size."""
        with self._writing() as writer:
            return writer.add_sharpened(record)

    def add_feel(self, record: FeelRecord) -> int:
        """Keep how a joint felt; its number.

        Raises
        ------
        InputError
            The shop has no trial of that number.
        """
        with self._writing() as writer:
            return writer.add_feel(record)

    # All of it at once.

    def contents(self) -> Contents:
        """All that is in the store, as of one moment."""
        with self._reading():
            return reading.contents(self._alias)

    def add_contents(self, contents: Contents) -> Imported:
        """Add what another store held.

        Numbers are kept if this store is empty. Otherwise new ones are given, later than all that
        are here, and what is here already, equal in all but its number, is left alone.
        """
        with self._writing() as writer:
            here = reading.contents(self._alias)
            if here == Contents():
                return restored(writer, contents)
            return merged(writer, contents, here)

    def export_json(self) -> str:
        """All that is in the store, as JSON."""
        return json_of(self.contents())

    def import_json(self, text: str, *, where: str = "JSON") -> Imported:
        """Add what ``export_json`` gave; ``where`` names it in messages.

        Raises
        ------
        InputError
            It is not of that form, or of a version that is not known; nothing was added.
        """
        return self.add_contents(contents_of_json(text, where=where))

    def export_csv(self, folder: Path) -> tuple[Path, ...]:
        """Write all that is in the store to ``folder``, a CSV file a table.

        Raises
        ------
        InputError
            A file cannot be written.
        """
        return write_csv(self.contents(), folder)

    def import_csv(self, folder: Path) -> Imported:
        """Add what ``export_csv`` wrote.

        Raises
        ------
        InputError
            It is not of that form, or of a version that is not known; nothing was added.
        """
        return self.add_contents(read_csv(folder))

    @contextmanager
    def at_one_moment(self) -> Iterator[str]:
        """All that is read inside is of one moment; gives the name by which Django knows it."""
        with self._reading():
            yield self._alias

    @contextmanager
    def all_or_nothing(self) -> Iterator[str]:
        """All that is written inside is kept, or nothing of it; gives the name as above."""
        with database_told(str(self.place)), atomic(using=self._alias):
            yield self._alias

    @contextmanager
    def _reading(self) -> Iterator[None]:
        with database_told(str(self.place)), snapshot(self._alias):
            yield

    @contextmanager
    def _writing(self) -> Iterator[Writer]:
        with database_told(str(self.place)), atomic(using=self._alias):
            writer = Writer(self._alias)
            yield writer
            writer.finish()

    def _row(self, number: int) -> models.Trial:
        """A trial's row, held against others who would change it."""
        row = models.Trial.objects.using(self._alias).select_for_update().filter(id=number).first()
        if row is None:
            _no_trial(number)
        return row

    def _learn_anew(self, writer: Writer, learned_anew: Mapping[int, Learning] | None) -> None:
        for number, learning in (learned_anew or {}).items():
            writer.replace_learning(number, self._row(number).shop.title, learning)


def _no_trial(number: int) -> NoReturn:
    raise MissingError(
        f"there is no trial {number}", where="trial", remedy="Give the number of one that is listed"
    )
