"""What a shop remembers of its hidden errors, and how that fades.

Each trial leaves one entry an unknown: what was believed after it. A belief after a trial holds
everything before it, so the last entry is all that is needed to go on. Entries of one trial keep
the correlations between their unknowns: a tongue may tell only the sum of two errors, and if
that were remembered as two separate facts, trial after trial would feign ever more certainty of
each.

Forgetting one trial (it was a wrong board, or the gauge was dropped afterwards) cannot be done
to its entries alone, for all later ones were made from them. It means taking its observations
out and working the chain out again with :func:`replayed`.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from faywright.errors import InputError
from faywright.trials.belief import Belief, Floats, Unknown
from faywright.trials.update import Observation, updated


@dataclass(frozen=True, slots=True, kw_only=True)
class Forgetting:
    """How fast what is known goes out of date: standard deviation of a random walk.

    Common practice, no source: a gauge zeroed with care is good to 0.02 mm for a month; a
    carbide cutter loses some hundredths over a kilometre of softwood, and whether it then cuts
    narrower by wear or wider by a bent shank cannot be said beforehand, so only the spread
    grows and the mean stays. ``zero`` and ``lift`` are per root of a day, ``cutter`` per root of
    a metre cut. [mm]
    """

    zero: float = 0.004
    lift: float = 0.002
    cutter: float = 0.001

    def __post_init__(self) -> None:
        """Nothing gets surer by lying about."""
        if not all(0 <= rate < math.inf for rate in (self.zero, self.lift, self.cutter)):
            raise InputError(
                f"rates of {self.zero:g}, {self.lift:g} and {self.cutter:g} mm are not all 0 or "
                "more",
                where="memory",
                remedy="Give finite rates of 0 or more",
            )

    def growth(self, unknown: Unknown, days: float, metres: float) -> float:
        """Variance gained in so many days and metres cut. [mm2]"""
        if unknown.kind == "cutter":
            return self.cutter**2 * metres
        if unknown.kind == "lift":
            return self.lift**2 * days
        # A setting is a thing of the past once made: how far it was off does not change.
        return 0.0 if unknown.kind == "setting" else self.zero**2 * days


USUAL = Forgetting()


@dataclass(frozen=True, kw_only=True)
class Entry:
    """What was believed of one unknown after a trial. [mm]

    ``cuts`` is how many metres were cut since, with the cutter it is of. ``trial`` names the
    trial, and ``correlations`` are those with other unknowns of the same trial. ``datum`` is
    what the unknown was counted from, as :func:`faywright.trials.observing.datums` gives it:
    when the maker then corrects the shop file, the same truth has to be told from the new
    figure.
    """

    unknown: Unknown
    mean: float
    sd: float
    on: datetime.date
    cuts: float = 0.0
    note: str = ""
    trial: str = ""
    correlations: Mapping[Unknown, float] = field(default_factory=dict)
    datum: float = 0.0

    def __post_init__(self) -> None:
        """A finite belief of something that lasts."""
        if self.unknown.kind == "setting":
            self._refuse("a setting is not made a second time", "Leave settings out of memory")
        if not (math.isfinite(self.mean) and 0 <= self.sd < math.inf and math.isfinite(self.datum)):
            self._refuse(
                f"a mean of {self.mean:g} mm with a deviation of {self.sd:g} mm cannot be",
                "Give finite numbers, the deviation 0 or more",
            )
        if not 0 <= self.cuts < math.inf:
            self._refuse(f"{self.cuts:g} m cut since cannot be", "Give metres, 0 or more")
        if not all(abs(each) <= 1 + 1e-9 for each in self.correlations.values()):
            self._refuse("a correlation is beyond 1", "Give correlations from -1 to 1")

    def _refuse(self, what: str, remedy: str) -> None:
        raise InputError(what, where=f"memory of the {self.unknown}", remedy=remedy)


def entries_of(
    belief: Belief,
    *,
    on: datetime.date,
    trial: str,
    datums: Mapping[Unknown, float] | None = None,
    note: str = "",
) -> tuple[Entry, ...]:
    """The entries a trial leaves: one for everything but settings, which do not last."""
    lasting = belief.marginal([u for u in belief.unknowns if u.kind != "setting"])
    known_from = datums or {}
    spread = np.where(lasting.deviation > 0, lasting.deviation, 1.0)
    correlation = lasting.covariance / np.outer(spread, spread)
    found = []
    for k, unknown in enumerate(lasting.unknowns):
        others = {
            other: float(correlation[k, j])
            for j, other in enumerate(lasting.unknowns)
            if j != k and correlation[k, j] != 0.0
        }
        mean, sd = lasting.of(unknown)
        entry = Entry(
            unknown=unknown,
            mean=mean,
            sd=sd,
            on=on,
            note=note,
            trial=trial,
            correlations=others,
            datum=known_from.get(unknown, 0.0),
        )
        found.append(entry)
    return tuple(found)


def measured_anew(
    mark: str, *, measured: float, listed: float, sd: float, on: datetime.date, note: str
) -> Entry:
    """The entry of a cutter come back from sharpening: only the new measurement counts. [mm]

    ``listed`` is the size in the shop file, ``sd`` the standard uncertainty of ``measured``.
    """
    return Entry(
        unknown=Unknown("cutter", mark),
        mean=measured - listed,
        sd=sd,
        on=on,
        note=note,
        datum=listed,
    )


def recalled(
    entries: Sequence[Entry],
    today: datetime.date,
    first: Belief,
    *,
    datums: Mapping[Unknown, float] | None = None,
    forgetting: Forgetting = USUAL,
) -> Belief:
    """What is believed today of everything in ``first``, by the last entry of each.

    ``first`` is what one would start from without memory: it stands in for what was never
    measured, and no variance grows beyond it. Give it for all that memory holds, not for one
    joint alone, or what two unknowns have in common is lost. ``entries`` are in the order they
    were made.

    Raises
    ------
    InputError
        An entry is from after ``today``.
    """
    last = {entry.unknown: entry for entry in entries if entry.unknown in first.unknowns}
    for entry in last.values():
        if entry.on > today:
            raise InputError(
                f"an entry of {entry.on} is later than today, {today}",
                where=f"memory of the {entry.unknown}",
                remedy="Set the clock right, or correct the date of the entry",
            )
    mean, covariance = first.mean.copy(), first.covariance.copy()
    places = {unknown: first.place(unknown) for unknown in last}
    now = datums or {}
    for unknown, entry in last.items():
        k = places[unknown]
        mean[k] = entry.mean + entry.datum - now.get(unknown, entry.datum)
        covariance[k, :] = covariance[:, k] = 0.0
        covariance[k, k] = entry.sd**2
    for unknown, entry in last.items():
        for other, correlation in entry.correlations.items():
            partner = last.get(other)
            if partner is not None and entry.trial and partner.trial == entry.trial:
                shared = correlation * entry.sd * partner.sd
                covariance[places[unknown], places[other]] = shared
    growth = [
        forgetting.growth(u, (today - last[u].on).days, last[u].cuts) if u in last else 0.0
        for u in first.unknowns
    ]
    return _aged(Belief(first.unknowns, mean, covariance), first, np.array(growth))


def replayed(
    prior: Belief,
    trials: Sequence[tuple[datetime.date, Sequence[Observation]]],
    *,
    cuts: Sequence[Mapping[Unknown, float]] = (),
    forgetting: Forgetting = USUAL,
) -> list[Belief]:
    """What was believed after each trial, worked out again from what was observed.

    ``prior`` is what was believed on the day of the first trial, of everything any trial speaks
    of; its variances are also the most that time brings back. ``cuts`` are the metres cut by
    each cutter before each trial since the one before it; none where left out.

    Raises
    ------
    InputError
        The trials are not in the order of their dates, or ``cuts`` are not as many.
    """
    dates = [on for on, _ in trials]
    if any(later < earlier for earlier, later in pairwise(dates)):
        raise InputError(
            "the trials are not in the order of their dates",
            where="memory",
            remedy="Give the earliest first",
        )
    if cuts and len(cuts) != len(trials):
        raise InputError(
            f"{len(cuts)} lists of metres cut do not go with {len(trials)} trials",
            where="memory",
            remedy="Give one for each trial, empty where nothing was cut",
        )
    belief, found = prior, []
    for k, (on, observations) in enumerate(trials):
        days = (on - dates[max(k - 1, 0)]).days
        metres: Mapping[Unknown, float] = cuts[k] if cuts else {}
        growth = [forgetting.growth(u, days, metres.get(u, 0.0)) for u in prior.unknowns]
        belief = updated(_aged(belief, prior, np.array(growth)), observations)
        found.append(belief)
    return found


def _aged(belief: Belief, first: Belief, growth: Floats) -> Belief:
    """Variances grown, but to no more than those of ``first``; what is shared stays shared."""
    limit, variance = first.covariance.diagonal(), belief.covariance.diagonal()
    over = variance > limit
    scale = np.sqrt(np.divide(limit, variance, out=np.ones(len(limit)), where=over))
    covariance = belief.covariance * np.outer(scale, scale)
    covariance += np.diag(np.clip(limit - covariance.diagonal(), 0.0, growth))
    return Belief(belief.unknowns, belief.mean, covariance)


@dataclass(frozen=True, slots=True)
class DriftPoint:
    """One entry on a chart of drift: its day, metres cut until then, mean and deviation. [m, mm]"""

    on: datetime.date
    metres: float
    mean: float
    sd: float


def drift(entries: Iterable[Entry]) -> tuple[DriftPoint, ...]:
    """How one unknown went from entry to entry, all told from the last entry's datum.

    Raises
    ------
    InputError
        The entries are of more than one unknown.
    """
    ordered = sorted(entries, key=lambda entry: entry.on)
    if len({entry.unknown for entry in ordered}) > 1:
        raise InputError(
            "entries of several unknowns are mixed",
            where="chart of drift",
            remedy="Give the entries of one unknown",
        )
    found, metres = [], 0.0
    for entry in ordered:
        mean = entry.mean + entry.datum - ordered[-1].datum
        found.append(DriftPoint(entry.on, metres, mean, entry.sd))
        metres += entry.cuts
    return tuple(found)
