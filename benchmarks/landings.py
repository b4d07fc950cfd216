"""The workshop's tables: what landed, and how good the plans' own chances were."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from benchmarks.panels import JOINT
from benchmarks.tables import table
from benchmarks.workshop import COMMON, KITS, SCATTERS, Panel

TOO_FAR = 2.0
"""Standard errors beyond which plan and workshop are said to differ."""

BINS = (0.0, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 1.0)


def share(of: Sequence[Panel]) -> tuple[float, float]:
    """Share of panels that landed, and its standard error.

    The error is that of one more panel landed and one more not, so that it is not 0 where all
    landed or none did.
    """
    count, tried = sum(panel.landed for panel in of), len(of)
    p = (count + 1) / (tried + 2)
    return count / tried, math.sqrt(p * (1 - p) / tried)


def surprise(of: Sequence[Panel]) -> float:
    """By how many standard errors more panels landed than the plans had promised.

    Under the plans' own chances the number that land is a sum of independent draws. Not-a-number
    where so nearly all are to land, or none, that less than one is to go the other way.
    """
    expected = sum(panel.predicted for panel in of)
    if not 1 <= expected <= len(of) - 1:
        return math.nan
    variance = sum(panel.predicted * (1 - panel.predicted) for panel in of)
    return (sum(panel.landed for panel in of) - expected) / math.sqrt(variance)


def _off(of: Sequence[Panel]) -> str:
    """The surprise as shown, with a word where it is more than chance explains."""
    found = surprise(of)
    if math.isnan(found):
        return "-"
    return f"{found:+.1f}{' !' if abs(found) > TOO_FAR else ''}"


def report(found: Sequence[Panel]) -> str:
    """The tables: what lands, and how good the plans' own chances are."""
    piles = sum(
        panel.way == COMMON and not panel.trial and panel.scatter == next(iter(SCATTERS))
        for panel in found
    )
    fit = JOINT.fit
    return f"""\
Panels of 12 boards in which all 11 joints land in {fit.low:.2f} to {fit.high:.2f} mm a side, in %,
with standard error; {piles} piles a scatter. Settings are those a dimension depends on: steps
that only clear waste are not counted.

{_landing(found)}

The plans' own chance beside what came of it, in %. "off" is the difference in standard errors,
marked ! beyond {TOO_FAR:g}: there the plan's model and this workshop differ by more than chance
explains. The plan reckons with a depth gauge nulled once, as uncertain as one reading; the second
pair of columns has that zero error left out of the truth, and the plan is then too careful. A
dash stands where less than one panel was to go the other way.

{_calibration(found)}

All plans by their own chance, with the gauge's zero error left out of the truth

{_reliability([panel for panel in found if panel.zero_known])}"""


def _landing(found: Sequence[Panel]) -> str:
    rows = []
    for way in (COMMON, *KITS):
        for trial in (False, True):
            row = [f"{way}, {'one trial cut a setting' if trial else 'no trial cut'}"]
            for scatter in SCATTERS:
                of = _of(found, way, scatter, trial=trial, zero_known=False)
                p, error = share(of)
                settings = sum(panel.settings for panel in of) / len(of)
                row += [f"{100 * p:.1f} +- {100 * error:.1f}", f"{settings:.1f}"]
            rows.append(row)
    head = ["scatter between boards (sd)"]
    for scatter in SCATTERS:
        head += [scatter, "settings"]
    return table(head, rows)


def _calibration(found: Sequence[Panel]) -> str:
    rows = []
    for way in KITS:
        for trial in (False, True):
            for scatter in SCATTERS:
                hidden = _of(found, way, scatter, trial=trial, zero_known=False)
                known = _of(found, way, scatter, trial=trial, zero_known=True)
                predicted = sum(panel.predicted for panel in hidden) / len(hidden)
                row = [f"{way}, {'trial' if trial else 'no trial'}, {scatter}"]
                row.append(f"{100 * predicted:.1f}")
                for of in (hidden, known):
                    row += [f"{100 * share(of)[0]:.1f}", _off(of)]
                rows.append(row)
    return table(["plan", "promised", "landed", "off", "no zero error", "off"], rows)


def _reliability(found: Sequence[Panel]) -> str:
    told = [panel for panel in found if not math.isnan(panel.predicted)]
    rows = []
    for low, high in pairwise(BINS):
        of = [p for p in told if low <= p.predicted and (p.predicted < high or high == 1.0)]
        if not of:
            continue
        p, error = share(of)
        mean = sum(panel.predicted for panel in of) / len(of)
        rows.append(
            [
                f"{100 * low:.0f} to {100 * high:.0f} %",
                f"{len(of)}",
                f"{100 * mean:.1f}",
                f"{100 * p:.1f} +- {100 * error:.1f}",
                _off(of),
            ]
        )
    return table(["promised", "panels", "mean", "landed", "off"], rows)


def _of(
    found: Sequence[Panel], way: str, scatter: str, *, trial: bool, zero_known: bool
) -> list[Panel]:
    return [
        panel
        for panel in found
        if panel.way == way
        and panel.scatter == scatter
        and panel.trial == trial
        and panel.zero_known == zero_known
    ]
