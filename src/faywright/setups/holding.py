"""Hazards of how the work is held: what it bears on, how it stands, and what comes away.

Like those of the cutter they are read off the simulated cut, and never replace manuals, local
rules or training.
"""

from __future__ import annotations

import math

from faywright.joints.method import Station
from faywright.joints.work import Work
from faywright.setups.hazards import Hazard
from faywright.setups.simulate import PassResult
from faywright.shop.machines import Machine

SHORTEST = 300.0
"""Shortest work fed by hand along a fence. [mm] Shaper manuals; common practice."""

NARROWEST = 75.0
"""Narrowest work fed without a push block or carrier. [mm] Shaper manuals; common practice."""

TALLEST_ON_END = 150.0
"""Tallest work stood on its end without a carriage. [mm] Common practice, no source."""

OPENING_ROOM = 6.0
"""Room taken to be left at each side of the cutter in fence and table, where it is not known. [mm]
Common practice, no source."""

LEAST_BEARING = 50.0
"""Least bearing on each side of an opening when the work is half past it. [mm] Common practice,
no source."""


def opening_of(machine: Machine, station: Station) -> float:
    """The widest gap along the feed that the work has to bridge, in fence or table. [mm]

    The fence opens where the cutter comes through it, with ``OPENING_ROOM`` at each side; the
    table as the machine says, or else likewise round the cutter.
    """
    radius, axis = station.radius, station.axis
    through = 2 * math.sqrt(radius**2 - axis**2) if abs(axis) < radius else 0.0
    fence = through + 2 * OPENING_ROOM if through else 0.0
    table = machine.table_opening
    return max(fence, 2 * (radius + OPENING_ROOM) if table is None else table)


def size_hazards(machine: Machine, station: Station, work: Work) -> list[Hazard]:
    """Hazards of work too short or narrow to be held, and of end grain."""
    found = _short(machine, station, work)
    narrow = float(work.across.min() if work.on_face else work.deep.min())
    if narrow < NARROWEST:
        found.append(
            Hazard(
                "narrow work",
                "danger",
                "the narrowest piece is {}: below {} use push blocks or a carrier",
                (narrow, NARROWEST),
            )
        )
    if work.end_grain:
        found.append(
            Hazard(
                "end grain",
                "care",
                "end grain tears out where the cutter leaves it: back it up with a block, and cut "
                "it before any edge along the grain",
            )
        )
    return found


def _short(machine: Machine, station: Station, work: Work) -> list[Hazard]:
    """The worst of what shortness along the feed does."""
    short, opening = float(work.along.min()), opening_of(machine, station)
    bears = (short - opening) / 2
    if bears <= 0:
        return [
            Hazard(
                "no bearing",
                "danger",
                "{} of work does not bridge the opening of {} at the cutter and would tip into "
                "it: only clamped to a carriage, or cut from a longer piece afterwards",
                (short, opening),
            )
        ]
    if bears < LEAST_BEARING or (work.end_grain and short < SHORTEST):
        return [
            Hazard(
                "short bearing",
                "danger",
                "only {} of the work bears on each side of the opening of {} at the cutter: use "
                "a carriage or a square block behind it, and close the opening with a false fence",
                (bears, opening),
            )
        ]
    if short < SHORTEST:
        return [
            Hazard(
                "short work",
                "danger",
                "the shortest piece is {}: below {} use a carrier, or cut it from a longer piece "
                "afterwards",
                (short, SHORTEST),
            )
        ]
    return []


def holding_hazards(machine: Machine, work: Work, result: PassResult) -> list[Hazard]:
    """Hazards of how the work lies in one pass, and of what the pass takes from under it."""
    found = _offcuts(result)
    if result.faces_up:
        found.append(
            Hazard(
                "work rides up",
                "care",
                "the cutter works above wood that stays: hold the work down, what rides up is cut "
                "too deep",
            )
        )
    if result.off_fence > 0:
        found.append(
            Hazard(
                "bearing cut away",
                "danger",
                "the whole of what runs along the fence is cut away: set the outfeed half of the "
                "fence forward by {}, or the work swings into the cutter",
                (result.off_fence,),
            )
        )
    if result.off_table > 0:
        found.append(
            Hazard(
                "bearing cut away",
                "danger",
                "the whole of what lies on the table is cut away: pack the table up by {} behind "
                "the cutter, or the work drops onto it",
                (result.off_table,),
            )
        )
    return found + _tall(machine, work, flat=result.run.posture.flat)


def _offcuts(result: PassResult) -> list[Hazard]:
    if result.offcut_trapped:
        return [
            Hazard(
                "trapped offcut",
                "never",
                "the waste would come away as a strip between cutter and fence and be thrown",
            )
        ]
    if result.offcut > 0:
        return [
            Hazard(
                "loose offcut",
                "danger",
                "the waste comes away as a strip that can be thrown: keep clear of its path",
            )
        ]
    return []


def _tall(machine: Machine, work: Work, *, flat: bool) -> list[Hazard]:
    """Work that stands taller than its base is wide, and than the fence behind it is high."""
    base, tall = float(work.across.min()), float(work.deep.max())
    if flat:
        base, tall = float(work.deep.min()), float(work.across.max())
    if tall <= base:
        return []
    if work.end_grain and tall > TALLEST_ON_END:
        return [
            Hazard(
                "tall on end",
                "never",
                "the work would stand {} tall on its end, on {} of wood: it topples into the "
                "cutter without a tall carriage that holds it",
                (tall, base),
            )
        ]
    if tall <= machine.fence.height and not work.end_grain:
        return []
    return [
        Hazard(
            "tall on edge",
            "danger",
            "the work stands {} tall on a base of {} against a fence {} high: hold it with a "
            "featherboard low down, and fit a fence as tall as the work",
            (tall, base, machine.fence.height),
        )
    ]
