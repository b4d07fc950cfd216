"""Leaving one trial out of what is known: what came after it is worked out anew."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from faywright.app.knowledge import (
    belief_by_documents,
    entries_after,
    entries_from,
    figures,
    having_cut,
    learning_of_entries,
)
from faywright.app.opening import open_store
from faywright.app.recall import is_there
from faywright.app.records import Kept, KeptTrial, Learning, SharpenedRecord, TrialRecord
from faywright.app.trial_records import (
    observations_in,
)
from faywright.errors import InputError
from faywright.fit.spread import Spread, one_sided
from faywright.piece.plan import instruments_of
from faywright.shop.cutters import MARKED_SIZE_HALF_WIDTH
from faywright.shop.inventory import Shop
from faywright.trials.belief import Belief, Unknown
from faywright.trials.memory import Entry, measured_anew, recalled
from faywright.trials.update import Observation, updated

if TYPE_CHECKING:
    from faywright.app.store import Store


def forget(number: int, shop: Shop, store: str | Path | None = None) -> None:
    """Leave one trial out of all that is learned, and work out anew what came after it.

    Raises
    ------
    InputError
        There is no such trial of this shop.
    """
    if not is_there(store):
        raise InputError(
            f"there is no trial {number}: nothing is remembered yet",
            where="forget",
            remedy="Check --store, or leave it out",
        )
    with open_store(store) as opened:
        forget_in(opened, number, shop)


def forget_in(store: Store, number: int, shop: Shop) -> None:
    """As ``forget``, in a store that is open.

    Raises
    ------
    InputError
        There is no such trial of this shop.
    """
    found = store.trial(number)
    if found.record.shop != shop.title:
        raise InputError(
            f"trial {number} is of the shop {found.record.shop!r}",
            where="forget",
            remedy=f"Give a number that is listed for {shop.title!r}",
        )
    kept = [each for each in reversed(store.trials(shop=shop.title)) if each.id != number]
    anew = learned_anew(kept, store.sharpenings(shop.title), shop, after=number)
    store.forget(number, learned_anew=anew)


def learned_anew(
    trials: Sequence[KeptTrial],
    sharpenings: Sequence[Kept[SharpenedRecord]],
    shop: Shop,
    *,
    after: int,
) -> dict[int, Learning]:
    """What each trial with a number above ``after`` teaches, by all of ``trials`` before it."""
    past = _Past(shop, [each.record for each in sharpenings])
    found: dict[int, Learning] = {}
    for trial in trials:
        if trial.id > after:
            found[trial.id] = past.teaches(trial)
        past.add(trial, found.get(trial.id, trial.record.learning))
    return found


@dataclass
class _Past:
    """Trials gone through so far, and what each of them taught."""

    shop: Shop
    sharpenings: Sequence[SharpenedRecord]
    _taught: list[tuple[TrialRecord, tuple[Entry, ...]]] = field(default_factory=list)

    def add(self, trial: KeptTrial, learning: Learning) -> None:
        """One more trial, and what it taught."""
        values = [(value, trial.record.at, trial.id) for value in learning.values]
        self._taught.append((trial.record, entries_from(values, learning.covariance)))

    def teaches(self, trial: KeptTrial) -> Learning:
        """What a trial teaches after those."""
        record = trial.record
        entries = having_cut(self._entries(record.at), self._cut(record))
        # Trials taken in from elsewhere may be of an earlier day than those before them.
        on = max([record.at.date(), *(entry.on for entry in entries)])
        listed, first = figures(self.shop), belief_by_documents(self.shop)
        own = {(each.kind, each.owner): each.datum for each in record.learning.values}
        then = {
            unknown: own.get((unknown.kind, unknown.owner), listed.get(unknown, 0.0))
            for unknown in first.unknowns
        }
        # The trial counts from figures that those before it may have moved away from the list.
        moved = [listed.get(unknown, 0.0) - then[unknown] for unknown in first.unknowns]
        first = Belief(first.unknowns, first.mean + moved, first.covariance)
        observed = observations_in(record.measurements)
        belief = recalled(entries, on, first, datums=then)
        belief = updated(_with_settings(belief, observed, self.shop), observed)
        taught = {entry.unknown for entry in entries} & set(first.unknowns)
        learned = entries_after(belief, observed, taught, on=on, trial=str(trial.id), figures=then)
        return learning_of_entries(learned, belief)

    def _entries(self, at: datetime.datetime) -> list[Entry]:
        """What counted at a moment: of a cutter, only what came after it was last sharpened."""
        sharpened = {each.cutter: each for each in self._sharpened(at)}
        found = [
            entry
            for record, entries in self._taught
            for entry in entries
            if not (
                entry.unknown.kind == "cutter"
                and entry.unknown.owner in sharpened
                and sharpened[entry.unknown.owner].at > record.at
            )
        ]
        known = {entry.unknown for entry in found}
        for mark, record in sharpened.items():
            if Unknown("cutter", mark) in known:
                continue
            if record.size is not None and record.sd is not None and record.listed is not None:
                found.append(
                    measured_anew(
                        mark,
                        measured=record.size,
                        listed=record.listed,
                        sd=record.sd,
                        on=record.at.date(),
                        note=record.note,
                    )
                )
        return found

    def _cut(self, record: TrialRecord) -> dict[str, float]:
        """Metres that the trial's cutter had cut since the last trial that told, if it tells."""
        if not record.metres:
            return {}
        sharpened = [each.at for each in self._sharpened(record.at) if each.cutter == record.cutter]
        told = [
            other.metres
            for other, _ in self._taught
            if other.cutter == record.cutter
            and other.metres
            and not any(at > other.at for at in sharpened)
        ]
        if not told and not sharpened:
            return {}
        return {record.cutter: max(0.0, record.metres - (told[-1] if told else 0.0))}

    def _sharpened(self, at: datetime.datetime) -> list[SharpenedRecord]:
        """Sharpenings until a moment, the latest last."""
        return sorted(
            (each for each in self.sharpenings if each.at <= at), key=lambda each: each.at
        )


def _with_settings(belief: Belief, observed: Sequence[Observation], shop: Shop) -> Belief:
    """``belief`` with all else the observations speak of: settings, and what the shop had then."""
    spoken = {unknown: None for each in observed for unknown in each.row}
    new = {each: (0.0, _spread(each, shop)) for each in spoken if each not in belief.unknowns}
    return belief.joined(Belief.independent(new)) if new else belief


def _spread(unknown: Unknown, shop: Shop) -> float:
    """Standard deviation at first of what the shop's documents do not name (any more). [mm]"""
    gauges = instruments_of(shop)
    if unknown.kind == "cutter":
        return Spread("rectangular", MARKED_SIZE_HALF_WIDTH).standard_uncertainty
    if unknown.kind == "lift":
        return one_sided(shop.machines[0].work_lift).standard_uncertainty
    if unknown.kind == "fence zero" or ", fence for the " in unknown.owner:
        return gauges.fence.standard_uncertainty
    return gauges.height.standard_uncertainty
