"""What the shop knows, in the terms of its own documents: sizes, zeros, and bands of fit."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Protocol, cast, get_args

from faywright.app.memory import Memory
from faywright.app.records import Learned, Learning, Rows
from faywright.errors import InputError
from faywright.fit.bands import Fit
from faywright.piece.learned import Lesson
from faywright.piece.model import Piece
from faywright.piece.plan import instruments_of
from faywright.shop.cutters import (
    CutSize,
    Cutter,
    DovetailCutter,
    SlotCutter,
    StraightCutter,
    TonguePairCutter,
)
from faywright.shop.gauges import Gauge, Use
from faywright.shop.inventory import Shop
from faywright.trials.belief import Belief, Unknown, UnknownKind
from faywright.trials.feel import Report, learned
from faywright.trials.memory import Entry, entries_of, recalled
from faywright.trials.observing import datums, first_belief
from faywright.trials.update import Observation

FEELS = ("snug", "sliding")
"""Fits that a maker's own feel moves."""

SURER = 0.95
"""Of the standard deviation at the start: what is known no better than that is not told of."""

LEAST_REPORTS = 3
"""Reports from which on a maker's feel moves a fit. Ours: fewer say little."""

NOTHING_CUT = MappingProxyType[str, float]({})


@dataclass(frozen=True, eq=False)
class Knowledge:
    """A shop as trials have taught it to be, and what they taught.

    ``shop`` has sizes and zeros as learned; ``belief`` counts from them. ``taught`` is what
    there are entries of.
    """

    shop: Shop
    belief: Belief
    taught: frozenset[Unknown]
    lessons: tuple[Lesson, ...]


class Taught(Protocol):
    """What a store has of one unknown."""

    @property
    def kind(self) -> str:
        """Which kind of unknown."""

    @property
    def owner(self) -> str:
        """Whose it is."""

    @property
    def mean(self) -> float:
        """Counted from the datum. [mm]"""

    @property
    def sd(self) -> float:
        """Standard deviation. [mm]"""

    @property
    def datum(self) -> float:
        """The figure in the shop file then. [mm]"""


def entries_in(memory: Memory) -> tuple[Entry, ...]:
    """What is remembered, as the room of trials takes it."""
    return entries_from(
        [(value, value.at, value.trial) for value in memory.values], memory.covariance
    )


def entries_from(
    values: Sequence[tuple[Taught, datetime.datetime, int | None]], covariance: Rows
) -> tuple[Entry, ...]:
    """Entries from what was stored, when, and by which trial."""
    unknowns = [Unknown(kind_of(value.kind), value.owner) for value, _, _ in values]
    found = []
    for k, (value, at, trial) in enumerate(values):
        correlations = {
            unknowns[j]: max(-1.0, min(1.0, covariance[k][j] / value.sd / other.sd))
            for j, (other, _, _) in enumerate(values)
            if j != k and covariance[k][j] and value.sd and other.sd
        }
        found.append(
            Entry(
                unknown=unknowns[k],
                mean=value.mean,
                sd=value.sd,
                on=at.date(),
                trial="" if trial is None else str(trial),
                correlations=correlations,
                datum=value.datum,
            )
        )
    return tuple(found)


def kind_of(text: str) -> UnknownKind:
    """A kind as it was stored.

    Raises
    ------
    InputError
        There is no such kind.
    """
    for kind in get_args(UnknownKind):
        if kind == text:
            return cast("UnknownKind", kind)
    raise InputError(
        f"an unknown of the kind {text!r} was stored",
        where="store",
        remedy="Use the version of the program that wrote it, or a newer one",
    )


def knowledge(
    shop: Shop,
    entries: Sequence[Entry],
    today: datetime.date,
    *,
    metres: Mapping[str, float] = NOTHING_CUT,
) -> Knowledge:
    """What a shop is by its documents and its entries.

    ``metres`` is how far cutters, by mark, have cut since their entries; it ages those.
    """
    first = belief_by_documents(shop)
    last = {entry.unknown: entry for entry in entries if entry.unknown in first.unknowns}
    worn = having_cut(entries, metres)
    known = recalled(worn, today, first, datums=figures(shop))
    as_taught = _taught(shop, known, last)
    shifted = recalled(worn, today, first, datums=figures(as_taught))
    lessons = tuple(
        Lesson(unknown, *known.of(unknown))
        for unknown in sorted(last)
        if _worth_telling(last[unknown], known.of(unknown), first.of(unknown)[1])
    )
    return Knowledge(as_taught, shifted, frozenset(last), lessons)


def _worth_telling(entry: Entry, known: tuple[float, float], first: float) -> bool:
    """Whether more is known than at the start: measured anew, known better, or found far off."""
    mean, deviation = known
    return not entry.trial or deviation < SURER * first or abs(mean) > first


def having_cut(entries: Sequence[Entry], metres: Mapping[str, float]) -> list[Entry]:
    """Entries after their cutters, by mark, have cut so far."""
    return [
        replace(each, cuts=each.cuts + metres[each.unknown.owner])
        if each.unknown.kind == "cutter" and each.unknown.owner in metres
        else each
        for each in entries
    ]


def entries_after(
    belief: Belief,
    observed: Sequence[Observation],
    taught: Collection[Unknown],
    *,
    on: datetime.date,
    trial: str,
    figures: Mapping[Unknown, float],
) -> tuple[Entry, ...]:
    """The entries a trial leaves: of what it spoke of, and of what was ``taught`` before.

    All the rest is as the documents have it; an entry of it would go on to say so when the maker
    has long measured it and put it right there.
    """
    spoken = {unknown for each in observed for unknown in each.row}
    kept = [unknown for unknown in belief.unknowns if unknown in spoken or unknown in taught]
    return entries_of(belief.marginal(kept), on=on, trial=trial, datums=figures)


def learning_of_entries(entries: Sequence[Entry], belief: Belief) -> Learning:
    """Entries as the store keeps them, with what they have in common in ``belief``."""
    lasting = belief.marginal([entry.unknown for entry in entries])
    return Learning(
        values=tuple(
            Learned(
                kind=entry.unknown.kind,
                owner=entry.unknown.owner,
                mean=entry.mean,
                sd=entry.sd,
                datum=entry.datum,
            )
            for entry in entries
        ),
        covariance=tuple(tuple(row) for row in lasting.covariance.tolist()),
    )


def figures(shop: Shop) -> dict[Unknown, float]:
    """What the shop's unknowns are counted from. [mm]"""
    return datums(instruments_of(shop), shop.cutters)


def belief_by_documents(shop: Shop) -> Belief:
    """What is believed before any trial, of all that a trial can teach."""
    return first_belief(instruments_of(shop), shop.machines[0], shop.cutters)


def _taught(shop: Shop, known: Belief, taught: Collection[Unknown]) -> Shop:
    """The shop with sizes and zeros as they are believed to be."""
    cutters = tuple(_cutter(cutter, known, taught) for cutter in shop.cutters)
    return replace(shop, cutters=cutters, gauges=tuple(_gauges(shop, known, taught)))


def _cutter(cutter: Cutter, known: Belief, taught: Collection[Unknown]) -> Cutter:
    unknown, size, listed = Unknown("cutter", cutter.mark), cutter.cut_size, cutter.fit_size
    if unknown not in taught or size is None or listed is None:
        return cutter
    mean, deviation = known.of(unknown)
    # What a cutter cuts in wood has its runout in it, as a trial slot has.
    learned_size = CutSize(
        marked=listed.marked,
        measured=size + mean,
        how="trial slot",
        on=listed.on,
        uncertainty=deviation,
    )
    match cutter:
        case StraightCutter() | DovetailCutter():
            return replace(cutter, diameter=learned_size)
        case SlotCutter():
            return replace(cutter, thickness=learned_size)
        case TonguePairCutter():
            return replace(cutter, tongue=learned_size)
    raise TypeError(f"no size of {type(cutter).__name__} decides a fit")


def _gauges(shop: Shop, known: Belief, taught: Collection[Unknown]) -> Iterator[Gauge]:
    """Gauges in their order; one whose zero was learned is there apart for that use.

    What a gauge that is also the calipers shows of a thickness has another zero.
    """
    instruments = instruments_of(shop)
    zeros: dict[Use, tuple[Gauge, Unknown]] = {
        "height": (instruments.height, Unknown("height zero", instruments.height.mark)),
        "fence": (instruments.fence, Unknown("fence zero", instruments.fence.mark)),
    }
    learned = {use: zero for use, zero in zeros.items() if zero[1] in taught}
    assumed = [gauge for gauge, _ in learned.values() if gauge not in shop.gauges]
    for gauge in dict.fromkeys((*shop.gauges, *assumed)):
        apart = [use for use, (own, _) in learned.items() if own == gauge]
        plain = tuple(use for use in gauge.uses if use not in apart)
        if gauge in assumed:
            plain = ()
        if plain:
            yield replace(gauge, uses=plain)
        for use in apart:
            mean, deviation = known.of(learned[use][1])
            yield replace(
                gauge,
                uses=(use,),
                zero_error=gauge.zero_error - mean,
                zero_uncertainty=deviation,
            )


def with_own_bands(piece: Piece, timbers: dict[str, Sequence[Report]]) -> Piece:
    """The piece with packaged fits moved to what this maker calls so; ``timbers`` by group."""
    return replace(
        piece,
        joints=tuple(
            replace(joint, fit=_own(joint.fit, piece.part(joint.groove.part).timber, timbers))
            for joint in piece.joints
        ),
    )


def _own(fit: Fit, timber: str, timbers: dict[str, Sequence[Report]]) -> Fit:
    reports = timbers.get(timber, ())
    if fit.name not in FEELS or fit.source == "the maker" or len(reports) < LEAST_REPORTS:
        return fit
    return learned(timber, reports).band(fit.name)
