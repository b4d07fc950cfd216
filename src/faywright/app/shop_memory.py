"""What a shop has learned: values and words that the command line and the pages share."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from faywright.app.bench import reports_in
from faywright.app.knowledge import FEELS, LEAST_REPORTS, Knowledge, entries_in, knowledge
from faywright.app.memory import Memory
from faywright.app.records import Kept, KeptTrial, SharpenedRecord
from faywright.drawing.drift_chart import REACH
from faywright.errors import InputError
from faywright.lengths import Unit
from faywright.piece.learned import Lesson
from faywright.piece.values import UnreadError, length
from faywright.piece.words import Write, counted
from faywright.shop.cutters import CutSize, Cutter
from faywright.shop.inventory import Shop
from faywright.trials.feel import Report, learned

SHOWN = 20
"""Trials that are listed."""


@dataclass(frozen=True, slots=True)
class Found:
    """What trials found of one unknown: how many told of it, and what a cutter cuts now. [mm]

    ``size`` is None for what is no cutter, ``metres`` where nobody told how far it had cut.
    """

    lesson: Lesson
    trials: int
    size: float | None = None
    metres: float | None = None

    def said(self, fine: Write) -> str:
        """All of it in words: the figure, the interval that holds it 9 times in 10, by what."""
        mean, reach = self.lesson.mean, REACH * self.lesson.deviation
        told = self.lesson.said(fine)
        if self.size is None:
            told += f", 9 times in 10 from {fine(mean - reach)} to {fine(mean + reach)}"
        else:
            told += (
                f"; it cuts {fine(self.size)}, 9 times in 10 from {fine(self.size - reach)} to "
                f"{fine(self.size + reach)}"
            )
        told += f"; by {counted(self.trials, 'trial')}" if self.trials else "; as measured anew"
        if self.metres is not None:
            told += f"; it has cut {self.metres:g} m since new or sharpened"
        return told


@dataclass(frozen=True, eq=False)
class ShopMemory:
    """A shop by its file, and all that is remembered of it; ``trials`` are the latest first."""

    shop: Shop
    known: Knowledge
    trials: tuple[KeptTrial, ...]
    found: tuple[Found, ...]
    reports: Mapping[str, Sequence[Report]]

    def of(self, owner: str, *kinds: str) -> tuple[Found, ...]:
        """What was found of a cutter or gauge by its mark."""
        return tuple(
            each
            for each in self.found
            if each.lesson.unknown.owner == owner and each.lesson.unknown.kind in kinds
        )


def shop_memory(
    shop: Shop,
    memory: Memory,
    trials: tuple[KeptTrial, ...] = (),
    sharpenings: Sequence[Kept[SharpenedRecord]] = (),
    *,
    today: datetime.date,
) -> ShopMemory:
    """What ``memory`` and ``trials``, forgotten ones among them, tell of a shop."""
    known = knowledge(shop, entries_in(memory), today)
    told, metres = _counts(trials, sharpenings), dict(memory.cut)
    sizes = {cutter.mark: cutter.cut_size for cutter in known.shop.cutters}
    found = tuple(
        Found(
            lesson,
            told[lesson.unknown.kind, lesson.unknown.owner],
            sizes.get(lesson.unknown.owner) if lesson.unknown.kind == "cutter" else None,
            (metres.get(lesson.unknown.owner) or None) if lesson.unknown.kind == "cutter" else None,
        )
        for lesson in known.lessons
    )
    return ShopMemory(shop, known, trials, found, reports_in(memory.feels))


def _counts(
    trials: Sequence[KeptTrial], sharpenings: Sequence[Kept[SharpenedRecord]]
) -> Counter[tuple[str, str]]:
    """How many trials told of each unknown; of a cutter, since it was sharpened last."""
    last = {each.record.cutter: each.record.at for each in sharpenings}
    told: Counter[tuple[str, str]] = Counter()
    for trial in trials:
        if trial.forgotten is not None:
            continue
        spoken = {
            (share.kind, share.owner) for each in trial.record.measurements for share in each.row
        }
        told.update(
            (kind, owner)
            for kind, owner in spoken
            if kind != "cutter" or owner not in last or trial.record.at > last[owner]
        )
    return told


def trial_readings(trial: KeptTrial, write: Write) -> str:
    """What was read on a trial piece."""
    return ", ".join(
        f"{each.what} {' '.join(write(reading) for reading in each.readings)}"
        for each in trial.record.measurements
    )


def felt_lines(reports: Mapping[str, Sequence[Report]], write: Write) -> Iterator[str]:
    """What this maker calls snug and sliding, or how much is missing to say so."""
    for timber, said in reports.items():
        if len(said) < LEAST_REPORTS:
            yield f"{timber}: {len(said)} of the {LEAST_REPORTS} reports it takes to move a fit"
            continue
        feel = learned(timber, said)
        for name in FEELS:
            fit = feel.band(name)
            yield (
                f"{timber}, {name}: {write(fit.low)} to {write(fit.high)} a side, aim "
                f"{write(fit.aim)} (from {len(said)} reports)"
            )


def sharpenable(shop: Shop, mark: str, *, where: str) -> Cutter:
    """The cutter of a shop that is called so, and decides a size.

    Raises
    ------
    InputError
        There is none.
    """
    decide = [each for each in shop.cutters if each.cut_size is not None]
    for cutter in decide:
        if cutter.mark == mark:
            return cutter
    listed = ", ".join(each.mark for each in decide)
    raise InputError(
        f"no cutter called {mark!r} decides a size", where=where, remedy=f"Use {listed}"
    )


def size_now(cutter: Cutter, text: str, *, bare: Unit, where: str) -> float:
    """What a cutter cuts now, as typed; a bare number is in ``bare``. [mm]

    Raises
    ------
    InputError
        It is no length, or none that this cutter can cut.
    """
    try:
        size = length(bare).read(text)
    except UnreadError as unread:
        raise InputError(unread.what, where=where, remedy=unread.remedy) from None
    listed = cutter.fit_size
    if listed is not None:
        CutSize(marked=listed.marked, measured=size)  # refuses what no cutter can be
    return size


def came_back(
    shop: Shop, cutter: Cutter, size: float | None, at: datetime.datetime
) -> SharpenedRecord:
    """What is kept of a cutter that came back from sharpening; ``size`` as measured since."""
    calipers = shop.gauge_for("thickness")
    return SharpenedRecord(
        shop=shop.title,
        cutter=cutter.mark,
        at=at,
        size=size,
        sd=None if size is None else calipers.standard_uncertainty,
        listed=None if size is None else cutter.cut_size,
    )
