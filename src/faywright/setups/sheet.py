"""From a solved joint to its setups: references, tolerances, check readings, changes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from faywright.fit.forms import Quantity
from faywright.fit.spread import COVERAGE
from faywright.joints.gaps import BOTTOM, CHEEK_A, CHEEK_B, GapForm, formula_gaps, gap_forms
from faywright.joints.joint_errors import TRIAL_READINGS
from faywright.joints.method import Method, Reading
from faywright.joints.side_groups import SideGroup, known_values
from faywright.joints.solution import Solution
from faywright.joints.work import Work
from faywright.setups.hazards import THIN
from faywright.setups.report import StationReport, station_reports
from faywright.setups.setup import (
    Change,
    CheckReading,
    Correction,
    Direction,
    FencePlace,
    PassSheet,
    Setting,
    Setup,
    Tolerance,
    Working,
    change_by,
)
from faywright.shop.cutters import SlotCutter, StraightCutter
from faywright.shop.gauges import Gauge
from faywright.shop.machines import Machine
from faywright.shop.practice import spindle_speed

Bounded = tuple[str, NDArray[np.float64], tuple[float, float], GapForm]
"""A gap's name, its values over the joints, its bounds, and its closed form. [mm]"""

LEAST_BOTTOM_GAP = 0.3
"""Least room to leave under a tongue for dust and glue. [mm] Common practice, no source."""


def setups_of(solution: Solution, machine: Machine) -> tuple[Setup, ...]:
    """The setups of a joint in order of work: grooves first, then the tongues made to suit.

    They are numbered from 1.

    What does not differ from group to group is set once, for all boards. Groups whose boards
    all stand at the end of a row, where they meet nothing, need no setup.
    """
    found: list[Setup] = []
    bounded = tuple(_bounded(solution))
    for method, work, groups, meet in (
        (solution.groove, solution.task.grooved, solution.groove_groups, solution.first),
        (solution.tongue, solution.task.tongued, solution.tongue_groups, solution.second),
    ):
        needed = [group for group in groups if np.isin(group.members, meet).any()]
        for group, report in _in_order(machine, method, work, needed):
            builder = _Builder(solution, method, work, group, machine, bounded)
            before = found[-1] if found else None
            found.append(builder.setup(1 + len(found), report, before))
    return tuple(found)


def _in_order(
    machine: Machine, method: Method, work: Work, groups: Sequence[SideGroup]
) -> Iterator[tuple[SideGroup, StationReport]]:
    """Stations of a method, run by run: each group's own, or one for all where none differs."""
    reports = [station_reports(machine, method, work, group) for group in groups]
    thickest = max(range(len(groups)), key=lambda k: float(work.across[groups[k].members].max()))
    everyone = SideGroup(
        np.sort(np.concatenate([group.members for group in groups])), groups[thickest].settings
    )
    for run in method.runs:
        if method.control not in (run.height, run.far):
            yield from ((everyone, r) for r in reports[thickest] if r.station.run is run)
            continue
        for group, own in zip(groups, reports, strict=True):
            yield from ((group, report) for report in own if report.station.run is run)


@dataclass(frozen=True, eq=False)
class _Builder:
    solution: Solution
    method: Method
    work: Work
    group: SideGroup
    machine: Machine
    bounded: tuple[Bounded, ...]

    def setup(self, number: int, report: StationReport, before: Setup | None) -> Setup:
        """One station as a sheet."""
        station, run = report.station, report.station.run
        places = FencePlace(far_edge=station.far, axis=station.axis, near_edge=station.near)
        measured = station.height - run.top_over
        return Setup(
            number=number,
            joint=self.solution.task.wanted.name,
            side=self.method.side,
            method=self.method.name,
            stage=run.key,
            final=station.final,
            marks=tuple(self.work.labels[k] for k in self.group.members),
            cutter=run.cutter.mark,
            speed=spindle_speed(self.machine, run.cutter),
            height=self._setting("height", run.height, measured, final=station.final),
            cutter_top=station.height,
            measured_to=run.reference,
            fence=self._setting("fence", run.far, station.far, final=station.final),
            places=places,
            passes=self._passes(report),
            readings=self._readings(report) if station.final else (),
            hazards=report.hazards,
            cure=self.method.cure if station.final and run.key != "detail" else "",
            change=_change(self.machine, before, report),
            report=report,
        )

    def _setting(
        self, kind: Literal["height", "fence"], quantity: Quantity, true: float, *, final: bool
    ) -> Setting:
        gauge = self.solution.task.instruments.gauge_for(quantity)
        start = self._start(quantity, true, gauge)
        settled = final or math.isclose(self.group.settings[quantity], true, abs_tol=1e-9)
        return Setting(
            quantity=kind,
            true=true,
            shows=gauge.shows(true),
            tolerance=self._tolerance(quantity) if settled else None,
            start=start if settled else None,
            start_shows=gauge.shows(start) if settled and start is not None else None,
            working=self._working(quantity) if settled else None,
        )

    def _start(self, quantity: Quantity, true: float, gauge: Gauge) -> float | None:
        """Fat tongue or narrow groove by one standard uncertainty of the setting."""
        if quantity != self.method.control:
            return None
        coefficient = self.method.size.coefficient(quantity)
        curable = 1.0 if self.method.side == "tongue" else -1.0
        return true + math.copysign(gauge.standard_uncertainty, curable * coefficient)

    def _working(self, quantity: Quantity) -> Working | None:
        """The reading this setting is for, solved for the setting."""
        reading = next((r for r in self.method.readings if r.quantity == quantity), None)
        if reading is None or reading.form.constant:
            return None
        thickness = self._trial_thickness()
        known = known_values(self.method, self.group, thickness)
        size = float(reading.form.value(known))
        coefficient = reading.form.coefficient(quantity)
        sign = -1.0 if coefficient < 0 else 1.0
        terms = [(reading.what, sign * size)]
        for other, share in reading.form.coefficients.items():
            if other != quantity and other.kind != "lift":
                terms.append((_called(other), -sign * share * float(known[other])))
        terms.sort(key=lambda term: term[1] < 0)
        return Working(tuple(terms), abs(coefficient))

    def _trial_thickness(self) -> float:
        across = self.work.across[self.group.members]
        return float((across.min() + across.max()) / 2)

    def _readings(self, report: StationReport) -> tuple[CheckReading, ...]:
        run = report.station.run
        own = {run.height, run.far}
        joint = [each for each in self.method.runs if each.key != "detail"]
        chosen = [r for r in self.method.readings if r.quantity in own]
        if run is joint[-1]:
            chosen += [r for r in self.method.readings if r.quantity is None]
        return tuple(self._reading(reading) for reading in chosen)

    def _reading(self, reading: Reading) -> CheckReading:
        calipers = self.solution.task.instruments.calipers
        thickness = self._trial_thickness()
        known = known_values(self.method, self.group, thickness)
        reads = float(reading.form.value(known))
        return CheckReading(
            what=reading.what,
            thickness=thickness,
            thickness_shows=calipers.shows(thickness),
            size_word="wide" if self.work.on_face else "thick",
            reads=reads,
            shows=calipers.shows(reads),
            leave=COVERAGE * calipers.of_mean(TRIAL_READINGS),
            per_thickness=reading.form.coefficient(self.method.thickness),
            correction=_correction(reading, self.machine),
        )

    def _passes(self, report: StationReport) -> tuple[PassSheet, ...]:
        return tuple(
            PassSheet(
                down=self.work.called(result.run.posture.down),
                against=self.work.called(result.run.posture.against),
                feed=feed,
                fresh=result.fresh,
                bite_up=result.bite_up,
                bite_across=result.bite_across,
            )
            for result, feed in zip(report.results, report.feeds, strict=True)
        )

    def _tolerance(self, quantity: Quantity) -> Tolerance | None:
        """How far the setting may move before a joint of this group leaves its bounds."""
        found: list[Tolerance] = []
        side = self.method.side
        boards = self.solution.first if side == "groove" else self.solution.second
        here = np.isin(boards, self.group.members)
        for name, values, (low, high), form in self.bounded:
            share = form.coefficients(side).coefficient(quantity)
            if share == 0.0 or not here.any():
                continue
            inside = values[here]
            low_end = (low - float(inside.min())) / share
            high_end = (high - float(inside.max())) / share
            if share < 0:
                low_end, high_end = high_end, low_end
            if low_end > high_end:  # boards so far apart that no setting is right for all
                low_end = high_end = 0.0
            found.append(Tolerance(low=min(low_end, 0.0), high=max(high_end, 0.0), gap=name))
        found += self._deeper(quantity)
        if not found:
            return None
        tightest = min(found, key=lambda each: min(-each.low, each.high))
        return Tolerance(
            low=max(each.low for each in found),
            high=min(each.high for each in found),
            gap=tightest.gap,
        )

    def _deeper(self, quantity: Quantity) -> list[Tolerance]:
        """How much deeper a groove may go: wood left under it, and the length of the cutter."""
        if self.method.side != "groove":
            return []
        form = self.method.surfaces["bottom"][1]
        share = form.coefficient(quantity)
        if share <= 0:
            return []
        known = known_values(self.method, self.group, self.work.across[self.group.members])
        left = self.work.deep[self.group.members] - form.value(known) - THIN
        room = max(float(np.min(left)), 0.0) / share
        found = [Tolerance(low=-math.inf, high=room, gap="wood under the groove")]
        for run in self.method.runs:
            if run.height == quantity and isinstance(run.cutter, StraightCutter):
                longest = min(run.cutter.cutting_length, run.cutter.reach)
            elif run.far == quantity and isinstance(run.cutter, SlotCutter):
                longest = run.cutter.slot_depth
            else:
                continue
            longer = max(longest - self.group.settings[quantity], 0.0)
            found.append(Tolerance(low=-math.inf, high=longer, gap="cutting edge"))
        return found


def _bounded(solution: Solution) -> Iterable[Bounded]:
    """Gaps that bound a setting: the fit first, then what keeps faces flush and shoulders shut."""
    clearance = GapForm(0.5 * solution.groove.size, -0.5 * solution.tongue.size)
    yield ("clearance per side", solution.clearance, solution.band, clearance)
    values = formula_gaps(solution)
    forms = gap_forms(solution)
    wide = float("inf")
    if not solution.task.strip:
        for name in (CHEEK_A, CHEEK_B):
            if values[name].min() >= 0:
                yield (name, values[name], (0.0, wide), forms[name])
    yield (BOTTOM, values[BOTTOM], (LEAST_BOTTOM_GAP, wide), forms[BOTTOM])


def _called(quantity: Quantity) -> str:
    if quantity.kind == "thickness":
        return "board"
    if quantity.kind == "cutter":
        return f"cutter {quantity.key}"
    if quantity.kind == "height":
        return f"height of the {quantity.key}"
    return f"fence for the {quantity.key}"


def _correction(reading: Reading, machine: Machine) -> Correction | None:
    if reading.quantity is None:
        return None
    coefficient = reading.form.coefficient(reading.quantity)
    grows = coefficient > 0
    if reading.quantity.kind == "height":
        more: Direction = "lower" if grows else "raise"
        kind: Literal["height", "fence"] = "height"
    else:
        more = "forward" if grows == (machine.fence_side == "behind the cutter") else "back"
        kind = "fence"
    return Correction(quantity=kind, more=more, share=1 / abs(coefficient))


def _change(machine: Machine, before: Setup | None, report: StationReport) -> Change | None:
    """What moves from the setup before it, where the cutter stays in."""
    station = report.station
    if before is None or before.cutter != station.run.cutter.mark:
        return None
    return change_by(
        machine, station.height - before.cutter_top, station.far - before.places.far_edge
    )
