"""Cuts and their verdicts: which way the work is fed, and what must not be done.

What a source says is told with it. Those named were remembered and not read again: 29 CFR
1910.213 (woodworking machinery), EN 847-1 (marking of cutters), and the guidance of the British
safety body for spindle moulders (HSE WIS 18 and L114).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn
from pypdf import PdfReader

from faywright.drawing.packet import packet
from faywright.errors import InfeasibleError
from faywright.fit.forms import Quantity
from faywright.joints import grooves, tongues
from faywright.joints.method import Run, Station
from faywright.joints.task import JointTask
from faywright.joints.wanted import EdgeName, Place
from faywright.joints.work import Work, work_of
from faywright.lengths import LengthStyle
from faywright.piece.model import Part, Piece
from faywright.piece.opened import open_documents
from faywright.piece.plan import Plan, plan
from faywright.piece.plan_json import plan_json
from faywright.piece.summary import summary
from faywright.piece.words import writer
from faywright.section.posture import Posture
from faywright.setups.hazards import (
    CAUTIONS,
    Caution,
    Hazard,
    feed_of,
    wood_left_hazards,
    worst_first,
)
from faywright.setups.holding import opening_of
from faywright.setups.report import station_hazards, station_reports
from faywright.setups.simulate import PassResult, run_passes
from faywright.shop import Cutter, Fence, Machine, Shop, Timber
from tests.joints.builders import (
    GAUGE,
    TABLE,
    exactly,
    groove_by,
    joint,
    matched_pair,
    of_group,
    pile,
    slot,
    solved,
    straight,
    tongue_by,
)
from tests.setups.test_choice import questions, shops
from tests.strategies import STEADY

EDGE_A, EDGE_B, FLAT, FLAT_B = (
    Posture.ON_EDGE_A,
    Posture.ON_EDGE_B,
    Posture.FLAT_A,
    Posture.FLAT_B,
)
RIGHT, LEFT = "right to left", "left to right"
MADE, CARE, REFUSED = "made", "made with care", "refused"

HIGH = Fence(height=150.0)
SPEEDS = (10000, 16000, 18000, 22000)
STEADY_TABLE = Machine(mark="table", speeds_rpm=SPEEDS, fence=HIGH)
"""A table with a fence higher than most boards are wide."""

LOW_FENCE = replace(STEADY_TABLE, fence=Fence(height=75.0))
CLOCKWISE = replace(STEADY_TABLE, rotation="clockwise")
BEFORE = replace(STEADY_TABLE, fence_side="before the cutter")
BOTH = replace(CLOCKWISE, fence_side="before the cutter")
FAST = replace(STEADY_TABLE, speeds_rpm=(16800,))
OPEN_64 = replace(STEADY_TABLE, table_opening=64.0)
OPEN_40 = replace(STEADY_TABLE, table_opening=40.0)


@dataclass(frozen=True)
class Cut:
    """One cutter at one setting, and how the work lies."""

    cutter: Cutter
    posture: Posture
    height: float
    far: float

    @property
    def station(self) -> Station:
        """As a station of a run."""
        run = Run(
            key="cut",
            cutter=self.cutter,
            postures=(self.posture,),
            height=Quantity("height"),
            far=Quantity("fence"),
            makes=({},),
            outer="fence",
            rise="once",
            widen="once",
        )
        return Station(run=run, height=self.height, far=self.far, final=True)


@dataclass(frozen=True)
class Job:
    """Cuts on one board, of which the last is judged."""

    cuts: tuple[Cut, ...]
    machine: Machine = STEADY_TABLE
    thickness: float = 19.0
    width: float = 120.0
    length: float = 640.0
    timber: Timber = "softwood"
    edge: EdgeName = "reference edge"

    @property
    def work(self) -> Work:
        """The board as it comes to the machine."""
        boards = pile([self.thickness], width=self.width, length=self.length)
        return work_of(boards, Place("part", self.edge), self.timber, GAUGE)

    @property
    def result(self) -> PassResult:
        """What the last cut does."""
        passes = [run for cut in self.cuts for run in cut.station.passes()]
        return run_passes(float(self.work.across[0]), float(self.work.deep[0]), passes)[-1]

    @property
    def feed(self) -> str:
        """Which way the last cut is fed."""
        return feed_of(self.machine, self.result)

    def hazards(self) -> list[Hazard]:
        """All that is hazardous in the last cut."""
        return station_hazards(self.machine, self.cuts[-1].station, self.work, (self.result,))


@dataclass(frozen=True)
class Whole:
    """A whole method on a pile of boards, as it is judged before it is offered."""

    name: str
    cutter: Cutter
    thickness: float = 19.0
    feed: str = RIGHT

    def hazards(self) -> list[Hazard]:
        """All that is hazardous at any of its settings."""
        thick = [self.thickness, self.thickness]
        task = joint(thick, thick, groove_width=6.35, machine=STEADY_TABLE)
        on_groove = self.name in grooves.GROOVE_METHODS
        if on_groove:
            groove = groove_by(task, self.name, self.cutter)
            tongue = tongue_by(task, groove, tongues.FLAT, straight(18.0))
        else:
            groove = groove_by(task, grooves.ON_EDGE, straight(6.35, "G"))
            tongue = tongue_by(task, groove, self.name, self.cutter)
        solution = solved(task, groove, tongue)
        method = groove if on_groove else tongue
        work = task.grooved if on_groove else task.tongued
        group = of_group(solution, method.side)
        reports = station_reports(STEADY_TABLE, method, work, group)
        return [hazard for report in reports for hazard in report.hazards]


def job(*cuts: Cut, **more: Any) -> Job:
    return Job(cuts, **more)


def wing(thickness: float, **more: Any) -> Cutter:
    """A slot cutter with its greatest speed marked."""
    return slot(thickness, **{"max_speed_rpm": 16000, **more})


def in_mm(length: float) -> str:
    return f"{length:g} mm"


C6, C12 = straight(6.0), straight(12.0)
GROOVE, OUTER, INNER = (Cut(C6, EDGE_A, 3.0, far) for far in (12.0, 14.0, 10.0))
CHEEK, OUTER_CHEEK = Cut(C12, EDGE_A, 5.0, 6.0), Cut(C12, EDGE_A, 5.0, 25.0)
FLAT_CHEEK = Cut(C12, FLAT, 5.0, 6.0)
FLAT_GROOVE = Cut(wing(4.0), FLAT, 11.0, 6.0)
PAIR = matched_pair(6.0, max_speed_rpm=18000)
SHAVE_BELOW = Cut(straight(30.0, shank=12), EDGE_A, 1.0, 25.0)
SHAVE_EDGE = Cut(straight(25.0, cutting_length=30), FLAT, 25.0, 1.0)
KERF = Cut(straight(3.0), FLAT_B, 5.5, 8.0)

CFR = "29 CFR 1910.213, from memory: "
HSE = "HSE WIS 18, from memory: "
EN = "EN 847-1, from memory: "
PRACTICE = "common practice, no source"
TURNING = "derived: the teeth there run with the feed; " + PRACTICE
NO_TRAP = HSE + "work is not run between cutter and fence"
HOLDERS = HSE + "short work in jigs or holders; " + PRACTICE + " for the lengths"
PUSHED = CFR + "push sticks or blocks where hands come near; " + PRACTICE + " for the width"
MARKING = EN + "the speed marked is a limit"


@dataclass(frozen=True)
class Row:
    """A cut with its verdict, every kind of hazard it has, and where the rule comes from.

    ``says`` is part of what is said of it.
    """

    name: str
    cuts: Job | Whole
    verdict: str
    kinds: str
    source: str
    feed: str = RIGHT
    says: str = ""


TABLE_OF_CUTS = [
    # Feed, climbing, trapped work: the board 19 mm thick stands 120 mm high at a 150 mm fence.
    Row("a groove in fresh wood", job(GROOVE), MADE, "", PRACTICE),
    Row("a cheek along the fence", job(CHEEK), MADE, "", PRACTICE),
    Row("widened on the operator's side", job(GROOVE, OUTER), MADE, "", TURNING),
    Row("widened by the fence", job(GROOVE, INNER), REFUSED, "feed reversed", TURNING, LEFT),
    Row("the outer cheek", job(OUTER_CHEEK), REFUSED, "trapped", NO_TRAP, LEFT),
    Row("a pass through air", job(Cut(C6, EDGE_A, 3.0, -1.0)), MADE, "", PRACTICE),
    Row("the same pass run again", job(GROOVE, GROOVE), MADE, "", PRACTICE),
    Row(
        "turned, the far edge beyond the middle",
        job(Cut(C6, EDGE_A, 3.0, 13.0), Cut(C6, EDGE_B, 3.0, 13.0)),
        MADE,
        "",
        TURNING,
    ),
    Row(
        "turned, the near edge beyond the middle",
        job(Cut(C6, EDGE_A, 3.0, 12.0), Cut(C6, EDGE_B, 3.0, 12.0)),
        REFUSED,
        "feed reversed",
        TURNING,
        LEFT,
    ),
    Row("clockwise", job(GROOVE, machine=CLOCKWISE), MADE, "", TURNING, LEFT),
    Row(
        "clockwise, widened outside", job(GROOVE, OUTER, machine=CLOCKWISE), MADE, "", TURNING, LEFT
    ),
    Row(
        "clockwise, widened by the fence",
        job(GROOVE, INNER, machine=CLOCKWISE),
        REFUSED,
        "feed reversed",
        TURNING,
    ),
    Row("clockwise, outer cheek", job(OUTER_CHEEK, machine=CLOCKWISE), REFUSED, "trapped", NO_TRAP),
    Row("fence before the cutter", job(GROOVE, machine=BEFORE), MADE, "", TURNING, LEFT),
    Row(
        "fence before it, widened by the fence",
        job(GROOVE, INNER, machine=BEFORE),
        REFUSED,
        "feed reversed",
        TURNING,
    ),
    Row(
        "fence before it, outer cheek",
        job(OUTER_CHEEK, machine=BEFORE),
        REFUSED,
        "trapped",
        NO_TRAP,
    ),
    Row("both turned about", job(GROOVE, machine=BOTH), MADE, "", TURNING),
    Row(
        "both turned about, widened by the fence",
        job(GROOVE, INNER, machine=BOTH),
        REFUSED,
        "feed reversed",
        TURNING,
        LEFT,
    ),
    # Speed
    Row(
        "marked slower than the machine turns",
        job(Cut(straight(6.0, max_speed_rpm=9000), EDGE_A, 3.0, 12.0)),
        REFUSED,
        "over speed",
        MARKING,
        says="may turn 9000 rpm (marked on the cutter), and table turns no slower than 10000 rpm",
    ),
    Row(
        "no speed slow enough for an unmarked wing of 100 mm",
        job(Cut(slot(4.0, diameter=100), FLAT, 11.0, 6.0)),
        REFUSED,
        "over speed, work rides up",
        PRACTICE,
        says="may turn 8000 rpm (rule of thumb for its diameter, for it has no marking)",
    ),
    Row(
        "an unmarked wing of 60 mm starts slow",
        job(Cut(slot(4.0), FLAT, 11.0, 6.0)),
        CARE,
        "no marking, work rides up",
        PRACTICE,
        says="start at 10000 rpm",
    ),
    Row(
        "a rim at 58 m/s: 66 mm at 16800 rpm",
        job(Cut(slot(6.0, diameter=66, max_speed_rpm=16800), FLAT, 11.0, 6.0), machine=FAST),
        CARE,
        "rim speed, work rides up",
        "common practice: the top of published tables by diameter",
        says="the rim runs at 58 m/s",
    ),
    Row(
        "a rim past 70 m/s whatever is marked: 100 mm at 16800 rpm",
        job(Cut(slot(4.0, diameter=100, max_speed_rpm=16800), FLAT, 11.0, 6.0), machine=FAST),
        REFUSED,
        "over speed, work rides up",
        "German trade guidance for hand feed, from memory: noise and bursting above 70 m/s",
        says="its rim would pass 70 m/s",
    ),
    # The cutter: reach, edge, shank, bite
    Row(
        "out of the cutter's reach",
        job(*(Cut(straight(6.0, reach=9.0), EDGE_A, h, 12.0) for h in (7.5, 10.0))),
        REFUSED,
        "out of reach",
        PRACTICE,
        says="would stand 10 mm above the table, and its shank is safely held only to 9 mm",
    ),
    Row(
        "deeper than the edge is long",
        job(Cut(straight(12.0, cutting_length=4, shank=12), EDGE_A, 6.0, 15.0)),
        REFUSED,
        "beyond the cutting edge",
        PRACTICE,
        says="the shank or arbor of C1 would rub",
    ),
    Row(
        "deeper than a wing reaches",
        job(Cut(wing(4.0, slot_depth=5.0), FLAT, 11.0, 6.0)),
        REFUSED,
        "beyond the cutting edge, work rides up",
        PRACTICE,
    ),
    Row(
        "32 mm on a shank of 6 mm",
        job(Cut(straight(32.0), EDGE_A, 5.0, 6.0)),
        CARE,
        "thin shank",
        PRACTICE,
        says="turns 32 mm on a shank of 6 mm, which may bend: use one on a shank of 12 mm",
    ),
    Row(
        "wider than the table opens",
        job(Cut(wing(4.0), FLAT, 11.0, 6.0), machine=OPEN_40),
        REFUSED,
        "table opening, work rides up",
        PRACTICE,
        says="turns 60 mm and the table opens 40 mm",
    ),
    Row(
        "9 mm up in hardwood, 6 mm wide",
        job(Cut(C12, EDGE_A, 9.0, 6.0), timber="hardwood"),
        CARE,
        "bite too deep",
        PRACTICE,
        says="9 mm in one pass is more than the 6 mm",
    ),
    Row(
        "9 mm up in hardwood, in two passes",
        job(Cut(C12, EDGE_A, 4.5, 6.0), Cut(C12, EDGE_A, 9.0, 6.0), timber="hardwood"),
        MADE,
        "",
        PRACTICE,
    ),
    Row(
        "a wing 9 mm into hardwood",
        job(Cut(wing(4.0), FLAT, 11.0, 9.0), timber="hardwood"),
        CARE,
        "bite too deep, work rides up",
        PRACTICE,
        says="9 mm in one pass is more than the 6 mm",
    ),
    Row(
        "20 by 6 mm of hardwood at once: 120 mm2",
        job(Cut(straight(20.0), EDGE_A, 6.0, 30.0), timber="hardwood", thickness=40.0),
        CARE,
        "bite too big",
        PRACTICE,
        says="20 mm across by 6 mm up in one pass is more wood than a bar 9 mm square",
    ),
    Row(
        "20 by 6 mm of softwood: 120 mm2 of 121",
        job(Cut(straight(20.0), EDGE_A, 6.0, 30.0), thickness=40.0),
        MADE,
        "",
        PRACTICE,
    ),
    Row(
        "a matched pair at full depth: 13.9 mm by 13 mm of wood",
        job(Cut(PAIR, FLAT, 32.0, 13.9)),
        CARE,
        "bite too big, bite too deep, work rides up",
        PRACTICE,
    ),
    Row(
        "a matched pair in a bite of 9 mm: 117 mm2",
        job(Cut(PAIR, FLAT, 32.0, 9.0)),
        CARE,
        "work rides up",
        PRACTICE,
    ),
    # The work: how it bears and stands. C6 in front of the fence: the table opens 6 + 2 * 6.
    Row("300 mm long", job(GROOVE, length=300.0), MADE, "", HOLDERS),
    Row(
        "299 mm long",
        job(GROOVE, length=299.0),
        CARE,
        "short work",
        HOLDERS,
        says="below 300 mm use a carrier",
    ),
    Row("118 mm long", job(GROOVE, length=118.0), CARE, "short work", HOLDERS),
    Row(
        "116 mm long",
        job(GROOVE, length=116.0),
        CARE,
        "short bearing",
        HOLDERS,
        says="only 49 mm of the work bears on each side of the opening of 18 mm",
    ),
    Row(
        "60 mm long over a table opening of 64 mm",
        job(GROOVE, length=60.0, machine=OPEN_64),
        CARE,
        "no bearing",
        HOLDERS,
        says="60 mm of work does not bridge the opening of 64 mm",
    ),
    Row("75 mm wide on the flat", job(FLAT_CHEEK, width=75.0), MADE, "", PUSHED),
    Row(
        "74 mm wide on the flat",
        job(FLAT_CHEEK, width=74.0),
        CARE,
        "narrow work",
        PUSHED,
        says="below 75 mm use push blocks",
    ),
    Row(
        "120 mm high at a fence of 75 mm",
        job(GROOVE, machine=LOW_FENCE),
        CARE,
        "tall on edge",
        PRACTICE,
        says="stands 120 mm tall on a base of 19 mm against a fence 75 mm high",
    ),
    Row(
        "a face cut with the board on its edge, at a fence of 75 mm",
        job(Cut(wing(4.0), FLAT, 50.0, 6.0), edge="face A", machine=LOW_FENCE),
        CARE,
        "tall on edge, work rides up",
        PRACTICE,
        says="stands 120 mm tall on a base of 19 mm",
    ),
    Row(
        "end grain, 320 mm wide, flat",
        job(FLAT_CHEEK, edge="head end", width=320.0),
        CARE,
        "end grain",
        PRACTICE,
        says="back it up with a block, and cut it before any edge along the grain",
    ),
    Row(
        "the end of a rail 60 mm wide: the fence opens 12 + 2 * 6",
        job(FLAT_CHEEK, edge="head end", width=60.0),
        CARE,
        "end grain, short bearing",
        HOLDERS,
        says="only 18 mm of the work bears on each side of the opening of 24 mm",
    ),
    Row(
        "640 mm tall on its end",
        job(GROOVE, edge="head end", width=320.0),
        REFUSED,
        "end grain, tall on end",
        PRACTICE,
        says="would stand 640 mm tall on its end, on 19 mm of wood",
    ),
    Row(
        "140 mm tall on its end",
        job(GROOVE, edge="head end", width=320.0, length=140.0),
        CARE,
        "end grain, tall on edge",
        PRACTICE,
    ),
    # What comes away, lifts, or loses its bearing
    Row("a groove by a wing above the table", job(FLAT_GROOVE), CARE, "work rides up", PRACTICE),
    Row(
        "a cheek by a wing from the table", job(Cut(wing(8.0), FLAT, 6.0, 8.0)), MADE, "", PRACTICE
    ),
    Row(
        "the waste beside a rabbet, between cutter and fence",
        job(Cut(C6, EDGE_A, 8.0, 16.0), Cut(C6, FLAT_B, 3.2, 8.0)),
        REFUSED,
        "trapped offcut",
        NO_TRAP,
    ),
    Row(
        "the waste above a wing",
        job(KERF, Cut(wing(4.0), FLAT, 14.0, 8.0)),
        CARE,
        "loose offcut, work rides up",
        PRACTICE,
        says="can be thrown",
    ),
    Row(
        "the whole edge taken, flat",
        job(SHAVE_EDGE),
        CARE,
        "bearing cut away",
        PRACTICE,
        says="set the outfeed half of the fence forward by 1 mm",
    ),
    Row(
        "the whole edge taken, on edge",
        job(SHAVE_BELOW),
        CARE,
        "bearing cut away",
        PRACTICE,
        says="pack the table up by 1 mm behind the cutter",
    ),
    Row(
        "more than there is of the board",
        job(Cut(straight(25.0), FLAT, 25.0, 20.0), width=15.0),
        REFUSED,
        "narrow work, nothing left",
        PRACTICE,
    ),
    # Whole methods, with the wood they leave of boards 120 mm wide
    Row("walls of 6.3 mm", Whole(grooves.ON_EDGE, straight(6.35)), MADE, "", PRACTICE),
    Row(
        "walls of 2.3 mm",
        Whole(grooves.ON_EDGE, straight(6.35), 11.0),
        CARE,
        "little left",
        PRACTICE,
        says="only 2.325 mm is left of the wall at face A",
    ),
    Row(
        "walls of 1 mm",
        Whole(grooves.ON_EDGE, straight(6.35), 8.35),
        REFUSED,
        "too little left",
        PRACTICE,
        says="only 1 mm would be left of the wall at face",
    ),
    Row("a groove from both faces", Whole(grooves.BOTH_FACES, straight(4.5)), MADE, "", TURNING),
    Row(
        "the same, widened towards the fence",
        Whole(grooves.BOTH_FACES_INWARD, straight(4.5)),
        REFUSED,
        "feed reversed",
        TURNING,
    ),
    Row("a groove at two places", Whole(grooves.TWO_PLACES, straight(4.5)), MADE, "", TURNING),
    Row("a tongue flat", Whole(tongues.FLAT, straight(18.0)), MADE, "", PRACTICE),
    Row("a tongue on edge", Whole(tongues.ON_EDGE, straight(18.0)), MADE, "", PRACTICE),
    Row(
        "a tongue on edge, one face to the fence",
        Whole(tongues.ON_EDGE_ONE_FACE, straight(18.0)),
        REFUSED,
        "trapped",
        NO_TRAP,
    ),
    Row(
        "a tongue longer than its cutter is wide",
        Whole(tongues.FLAT, straight(4.0)),
        CARE,
        "trial first",
        PRACTICE,
        says="the last of 3 fence positions at this height",
    ),
    Row(
        "a tongue by a wing, from face A",
        Whole(tongues.FACE_A, wing(10.0)),
        CARE,
        "work rides up",
        PRACTICE,
    ),
    Row(
        "a tongue by a matched pair",
        Whole(tongues.PAIR, PAIR),
        CARE,
        "work rides up",
        PRACTICE,
    ),
]

each_row = pytest.mark.parametrize("row", TABLE_OF_CUTS, ids=[row.name for row in TABLE_OF_CUTS])


def verdict_of(hazards: Sequence[Hazard]) -> str:
    if any(hazard.severity == "never" for hazard in hazards):
        return REFUSED
    return CARE if hazards else MADE


@each_row
def test_a_cut_has_its_verdict_and_no_other_hazard_than_its_own(row: Row) -> None:
    found = row.cuts.hazards()
    assert sorted({hazard.kind for hazard in found}) == [
        each for each in row.kinds.split(", ") if each
    ]
    assert verdict_of(found) == row.verdict


@each_row
def test_a_cut_is_fed_against_the_teeth(row: Row) -> None:
    assert row.cuts.feed == row.feed


@pytest.mark.parametrize(
    "row", [row for row in TABLE_OF_CUTS if row.says], ids=lambda row: row.name
)
def test_a_hazard_is_told_with_its_figures(row: Row) -> None:
    assert any(row.says in hazard.said(in_mm) for hazard in row.cuts.hazards())


FRESH = [
    (job(GROOVE), "outer side"),
    (job(GROOVE, OUTER), "outer side"),
    (job(GROOVE, INNER), "fence side"),
    (job(OUTER_CHEEK), "fence side"),
    (job(Cut(C6, EDGE_A, 3.0, -1.0)), "nothing"),
    (job(GROOVE, GROOVE), "nothing"),
    (job(SHAVE_BELOW), "edge"),
]


@pytest.mark.parametrize(("cuts", "fresh"), FRESH)
def test_a_pass_knows_on_which_side_its_new_wall_is(cuts: Job, fresh: str) -> None:
    assert cuts.result.fresh == fresh


# By hand: twice the root of radius squared less axis squared, 6 mm at each side; in the table the
# diameter and 6 mm at each side.
OPENINGS = [
    (Cut(C6, EDGE_A, 3.0, 12.0), STEADY_TABLE, 18.0),
    (Cut(C12, FLAT, 5.0, 6.0), STEADY_TABLE, 24.0),
    (Cut(wing(4.0), FLAT, 11.0, 6.0), OPEN_40, 48.0),
    (Cut(wing(4.0), FLAT, 11.0, 6.0), OPEN_64, 64.0),
]


@pytest.mark.parametrize(("cut", "machine", "opening"), OPENINGS)
def test_work_has_to_bridge_the_wider_opening_of_fence_and_table(
    cut: Cut, machine: Machine, opening: float
) -> None:
    assert opening_of(machine, cut.station) == exactly(opening)


LEFT_OVER = [
    (1.49, "too little left", "never"),
    (1.5, "little left", "care"),
    (2.99, "little left", "care"),
    (3.0, None, None),
]


@pytest.mark.parametrize(("least", "kind", "severity"), LEFT_OVER)
def test_thin_wood_is_warned_of_and_too_thin_wood_never_left(
    least: float, kind: str | None, severity: str | None
) -> None:
    found = wood_left_hazards([("the wall at face A", least)])
    assert [(h.kind, h.severity) for h in found] == ([(kind, severity)] if kind else [])
    told = [h.said(in_mm) for h in found]
    assert all(f"only {in_mm(least)}" in text and "the wall at face A" in text for text in told)


# A tongue whose nose the last fence position does not reach


def test_a_trial_comes_first_wherever_the_last_position_does_not_reach_the_nose() -> None:
    """Cutters of 3 to 12 mm for a tongue 9.5 mm long: those below 9.5 mm leave some of it."""
    told = {
        diameter: "trial first"
        in {h.kind for h in Whole(tongues.FLAT, straight(diameter)).hazards()}
        for diameter in (3.0, 6.0, 9.4, 9.6, 12.0)
    }
    assert told == {3.0: True, 6.0: True, 9.4: True, 9.6: False, 12.0: False}


def test_the_trial_is_asked_for_at_every_position_it_has_to_run_through() -> None:
    task = joint([19.0] * 2, [19.0] * 2, groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35, "G"))
    tongue = tongue_by(task, groove, tongues.FLAT, straight(4.0))
    group = of_group(solved(task, groove, tongue), "tongue")
    reports = station_reports(TABLE, tongue, task.tongued, group)
    top = max(report.station.height for report in reports)
    asked = [r.station for r in reports if "trial first" in {h.kind for h in r.hazards}]
    assert asked == [r.station for r in reports if r.station.height == top]
    assert [station.far for station in asked] == exactly([9.5 / 3, 19 / 3, 9.5])
    assert [station.final for station in asked] == [False, False, True]


# How hazards and cautions are said


def test_hazards_come_once_and_the_worst_first() -> None:
    care, danger = Hazard("a", "care", "x"), Hazard("b", "danger", "x")
    never = Hazard("c", "never", "x")
    assert worst_first([care, danger, never, care, danger]) == (never, danger, care)


def test_the_cautions_put_isolating_the_machine_first_and_the_manuals_above_the_plan() -> None:
    assert "isolate it from the mains" in CAUTIONS[0].text
    assert "manuals, local rules" in CAUTIONS[-1].text


def test_cautions_are_written_in_the_makers_own_units() -> None:
    inches = " ".join(each.said(writer(LengthStyle("decimal inch"))) for each in CAUTIONS)
    assert "hands 3.937 in away" in inches
    assert " mm" not in inches


@pytest.mark.parametrize("row", TABLE_OF_CUTS, ids=lambda row: row.name)
def test_no_hazard_speaks_of_millimetres_to_a_maker_in_inches(row: Row) -> None:
    said = [h.said(writer(LengthStyle("decimal inch"))) for h in row.cuts.hazards()]
    assert not [text for text in said if re.search(r"\bmm\b", text)]


@pytest.mark.parametrize("lengths", [(), (1.0, 2.0)])
def test_a_length_without_a_place_in_the_text_is_refused(lengths: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="lengths for 1 places"):
        Caution("{} away", lengths)
    with pytest.raises(ValueError, match="lengths for 1 places"):
        Hazard("kind", "care", "{} away", lengths)


def test_braces_in_the_mark_of_a_cutter_are_only_a_mark() -> None:
    cuts = job(Cut(straight(6.0, "{}", reach=9.0), EDGE_A, 10.0, 12.0))
    assert any("{} would stand 10 mm" in h.said(in_mm) for h in cuts.hazards())


# What is printed


DEMO = Path(__file__).parents[2] / "examples" / "hall-bench" / "piece.toml"
BAD = {"never": 0, "danger": 1, "care": 2}


@cache
def printed() -> Plan:
    """Short, narrow boards, their tongue cut by an unmarked wing: dangers and cares together."""
    documents = open_documents(DEMO)
    task = joint([19.0, 19.05, 19.1], tongue_method=tongues.FACE_A, width=70.0, length=280.0)
    shop = replace(documents.shop, cutters=(straight(6.35, "C1"), straight(12.7, "C2"), slot(4.5)))
    return plan(piece_of(task), shop)


def piece_of(task: JointTask) -> Piece:
    """The piece that has just this joint, each board with a mark of its own."""
    works = {work.place.part: work for work in (task.grooved, task.tongued)}
    parts = tuple(
        Part(
            name=name,
            timber=work.timber,
            boards=tuple(replace(board, mark=f"{name} {board.mark}") for board in work.boards),
        )
        for name, work in works.items()
    )
    return Piece(title="piece", units="mm", parts=parts, joints=(task.wanted,))


def test_the_plan_looked_at_has_setups_with_both_dangers_and_cares() -> None:
    assert any(
        {h.severity for h in setup.hazards} == {"danger", "care"} for setup in printed().setups
    )


def test_hazards_stand_worst_first_in_the_json() -> None:
    for setup in plan_json(printed())["setups"]:
        order = [BAD[hazard["severity"]] for hazard in setup["hazards"]]
        assert order == sorted(order)


def test_hazards_stand_worst_first_in_the_summary() -> None:
    text = summary(printed())
    leads = re.findall(r"^   (DANGER|take care), |^(\d+)(?: to \d+)?  ", text, re.MULTILINE)
    blocks = "".join("|" if number else lead[0] for lead, number in leads).split("|")
    assert any(set(block) == {"D", "t"} for block in blocks)
    assert all(block == "".join(sorted(block)) for block in blocks)


def test_hazards_stand_worst_first_on_the_sheets() -> None:
    write = writer(printed().shop.habits.style)
    pages = [page.extract_text() for page in PdfReader(BytesIO(packet(printed()))).pages]
    text = "".join("".join(pages).split())
    for setup in (setup for setup in printed().setups if setup.final):
        said = ["".join(hazard.said(write).split()) for hazard in setup.hazards]
        assert re.search(".*?".join(re.escape(each) for each in said), text)


def test_a_thin_board_that_would_be_left_too_thin_stops_the_plan() -> None:
    """The middle board leaves a wall of 2.825 mm, the thinnest 0.825 mm."""
    task = joint([12.0, 12.0, 12.0, 10.0], [12.0] * 4, groove_width=6.35, offset=2.825)
    shop = Shop(title="shop", machines=(TABLE,), cutters=(straight(6.35), straight(12.7, "C2")))
    with pytest.raises(InfeasibleError, match=r"only 0\.82\d* mm would be left of the wall"):
        plan(piece_of(task), shop)


@st.composite
def machines(draw: DrawFn) -> Machine:
    return Machine(
        mark="any",
        speeds_rpm=draw(st.sampled_from([(8000, 24000), (18000,), SPEEDS])),
        rotation=draw(st.sampled_from(["anticlockwise", "clockwise"])),
        fence_side=draw(st.sampled_from(["behind the cutter", "before the cutter"])),
        table_opening=draw(st.sampled_from([None, 50.0, 90.0])),
    )


@given(task=questions(), cutters=shops(), machine=machines())
@settings(STEADY, max_examples=25)
def test_whatever_there_is_no_setup_that_is_printed_must_never_be_made(
    task: JointTask, cutters: list[Cutter], machine: Machine
) -> None:
    shop = Shop(title="shop", machines=(machine,), cutters=tuple(cutters))
    with suppress(InfeasibleError):  # an answer as good as any: it names what binds
        for setup in plan(piece_of(task), shop).setups:
            severities = [hazard.severity for hazard in setup.hazards]
            assert "never" not in severities
            assert severities == sorted(severities, key=lambda each: BAD[each])
