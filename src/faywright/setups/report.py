"""A method run on one board: every station with its passes, feeds and hazards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from faywright.joints.method import Method, Station
from faywright.joints.side_groups import SideGroup, known_values
from faywright.joints.work import Work
from faywright.setups.hazards import (
    Feed,
    Hazard,
    feed_of,
    pass_hazards,
    setup_hazards,
    wood_left_hazards,
    worst_first,
)
from faywright.setups.holding import holding_hazards, size_hazards
from faywright.setups.simulate import NOTHING, PassResult, run_passes
from faywright.shop.machines import Machine


@dataclass(frozen=True, eq=False)
class StationReport:
    """One setting of the machine, what each of its passes does, and what is hazardous.

    ``board`` is the number of the board that was run, among those of the work.
    """

    station: Station
    board: int
    results: tuple[PassResult, ...]
    feeds: tuple[Feed, ...]
    hazards: tuple[Hazard, ...]


def station_reports(
    machine: Machine, method: Method, work: Work, group: SideGroup
) -> tuple[StationReport, ...]:
    """Run the thickest board of a group through the method and look at each pass."""
    across = work.across[group.members]
    board = int(group.members[int(np.argmax(across))])
    stations = method.stations(group.settings, float(across.max()), work.timber)
    passes = [run for station in stations for run in station.passes()]
    results = run_passes(float(work.across[board]), float(work.deep[board]), passes)
    left = wood_left_hazards(wood_left(method, group, work))
    reports, at = [], 0
    for station in stations:
        own = results[at : at + len(station.run.postures)]
        at += len(own)
        hazards = [
            *station_hazards(machine, station, work, own),
            *left,
            *trial_first(station, stations),
        ]
        feeds = tuple(feed_of(machine, result) for result in own)
        reports.append(StationReport(station, board, own, feeds, worst_first(hazards)))
    return tuple(reports)


def station_hazards(
    machine: Machine, station: Station, work: Work, results: Sequence[PassResult]
) -> list[Hazard]:
    """All that is hazardous at one setting of the machine: cutter, work, and each pass."""
    hazards = [*setup_hazards(machine, station), *size_hazards(machine, station, work)]
    for result in results:
        hazards += pass_hazards(machine, station, work, result)
        hazards += holding_hazards(machine, work, result)
    return hazards


def trial_first(station: Station, stations: Sequence[Station]) -> list[Hazard]:
    """A caution where earlier fence positions finish wood that the last one does not reach.

    A correction found at the last position would come too late for that wood, such as the nose
    of a tongue that is longer than its cutter is wide.
    """
    run = [each for each in stations if each.run is station.run]
    last = run[-1]
    at_height = [each for each in run if abs(each.height - last.height) < NOTHING]
    finish = [each for each in at_height if max(each.near, 0.0) < last.near - NOTHING]
    if not finish or station not in at_height:
        return []
    return [
        Hazard(
            "trial first",
            "care",
            f"the last of {len(at_height)} fence positions at this height does not reach what the "
            "first cuts: take the trial piece alone through all of them, measure and correct, and "
            "only then cut the work at each, with the corrected height",
        )
    ]


def wood_left(method: Method, group: SideGroup, work: Work) -> list[tuple[str, float]]:
    """What a method leaves of the boards of a group, and the least thickness of it. [mm]"""
    across = work.across[group.members]
    known = known_values(method, group, across)

    def least(form: object) -> float:
        return float(np.min(np.asarray(form)))

    if method.side == "tongue":
        return [("the tongue", least(method.size.value(known)))]
    walls = [method.surfaces[name][1].value(known) for name in ("face-A wall", "face-B wall")]
    bottom = method.surfaces["bottom"][1].value(known)
    return [
        (f"the wall at {method.names['face A']}", least(walls[0])),
        (f"the wall at {method.names['face B']}", least(across - walls[1])),
        ("the wood under the groove", least(work.deep[group.members] - bottom)),
    ]
