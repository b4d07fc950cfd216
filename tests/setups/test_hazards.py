"""Cuts and their verdicts: which way the work is fed, and what must not be done.

Sources, as remembered and not read again: 29 CFR 1910.213 and the safety guidance for spindle
moulders (HSE WIS 18 and L114); the rest is common practice without a source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import pytest

from faywright.fit.forms import Quantity
from faywright.joints import grooves, tongues
from faywright.joints.method import Run, Station
from faywright.joints.wanted import EdgeName, Place
from faywright.joints.work import Work, work_of
from faywright.section.posture import Posture
from faywright.setups.hazards import (
    CAUTIONS,
    Hazard,
    feed_of,
    pass_hazards,
    setup_hazards,
    wood_left_hazards,
    worst_first,
)
from faywright.setups.report import station_reports
from faywright.setups.simulate import PassResult, run_passes
from faywright.shop import Cutter, Machine, Timber
from tests.joints.builders import (
    GAUGE,
    TABLE,
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

EDGE_A, EDGE_B, FLAT = Posture.ON_EDGE_A, Posture.ON_EDGE_B, Posture.FLAT_A
CLOCKWISE = Machine(mark="spindle", speeds_rpm=(10000,), rotation="clockwise")
BEFORE = Machine(mark="saw side", speeds_rpm=(10000,), fence_side="before the cutter")
BOTH = Machine(
    mark="both", speeds_rpm=(10000,), rotation="clockwise", fence_side="before the cutter"
)
RIGHT, LEFT = "right to left", "left to right"


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
    machine: Machine = TABLE
    thickness: float = 19.0
    width: float = 18.0
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
        return run_passes(self.thickness, float(self.work.deep[0]), passes)[-1]

    def hazards(self) -> list[Hazard]:
        """All that is hazardous in the last cut."""
        station = self.cuts[-1].station
        return [
            *pass_hazards(self.machine, station, self.work, self.result),
            *setup_hazards(self.machine, station, self.work),
        ]


def in_mm(length: float) -> str:
    return f"{length:g} mm"


def job(*cuts: Cut, **more: Any) -> Job:
    return Job(cuts, **more)


C6, C12 = straight(6.0), straight(12.0)
GROOVE = Cut(C6, EDGE_A, 5.0, 12.0)
OUTER = Cut(C6, EDGE_A, 5.0, 14.0)
INNER = Cut(C6, EDGE_A, 5.0, 10.0)
CHEEK = Cut(C12, EDGE_A, 5.0, 6.0)
OUTER_CHEEK = Cut(C12, EDGE_A, 5.0, 25.0)
AIR = Cut(C6, EDGE_A, 5.0, -1.0)
WHOLE_EDGE = Cut(straight(30.0), EDGE_A, 1.0, 25.0)
UPPER_CHEEK = Cut(slot(8.0), FLAT, 19.5, 8.0)
BEHIND = {"width": 120.0}

# A cut, the feed it asks for, and what it is called if it is hazardous. In the last column where
# the rule comes from: "practice" common practice, "HSE" and "CFR" as remembered.
TURNS = [
    ("a groove in fresh wood", job(GROOVE), RIGHT, "", "practice"),
    ("a cheek along the fence", job(CHEEK), RIGHT, "", "practice"),
    ("a second pass on the operator's side", job(GROOVE, OUTER), RIGHT, "", "practice"),
    ("a second pass by the fence", job(GROOVE, INNER), LEFT, "feed reversed", "practice"),
    ("the outer cheek, the work by the fence", job(OUTER_CHEEK), LEFT, "trapped", "HSE"),
    ("a pass that cuts nothing", job(AIR), RIGHT, "", "practice"),
    ("the same pass run again", job(GROOVE, GROOVE), RIGHT, "", "practice"),
    ("the whole edge taken", job(WHOLE_EDGE), RIGHT, "", "practice"),
    ("clockwise", job(GROOVE, machine=CLOCKWISE), LEFT, "", "practice"),
    (
        "clockwise, second pass outside",
        job(GROOVE, OUTER, machine=CLOCKWISE),
        LEFT,
        "",
        "practice",
    ),
    (
        "clockwise, second pass by the fence",
        job(GROOVE, INNER, machine=CLOCKWISE),
        RIGHT,
        "feed reversed",
        "practice",
    ),
    ("clockwise, trapped", job(OUTER_CHEEK, machine=CLOCKWISE), RIGHT, "trapped", "HSE"),
    ("fence before the cutter", job(GROOVE, machine=BEFORE), LEFT, "", "practice"),
    (
        "fence before it, second pass by it",
        job(GROOVE, INNER, machine=BEFORE),
        RIGHT,
        "feed reversed",
        "practice",
    ),
    ("fence before it, trapped", job(OUTER_CHEEK, machine=BEFORE), RIGHT, "trapped", "HSE"),
    ("both turned about", job(GROOVE, machine=BOTH), RIGHT, "", "practice"),
    ("both, by the fence", job(GROOVE, INNER, machine=BOTH), LEFT, "feed reversed", "practice"),
]


@pytest.mark.parametrize(
    ("cuts", "feed", "verdict"), [row[1:4] for row in TURNS], ids=[row[0] for row in TURNS]
)
def test_the_feed_meets_the_teeth_and_no_pass_climbs(cuts: Job, feed: str, verdict: str) -> None:
    assert feed_of(cuts.machine, cuts.result) == feed
    found = [h for h in cuts.hazards() if h.kind in ("trapped", "feed reversed")]
    assert [h.kind for h in found] == ([verdict] if verdict else [])
    assert all(h.severity == "never" for h in found)


FRESH = [
    (job(GROOVE), "outer side"),
    (job(GROOVE, OUTER), "outer side"),
    (job(GROOVE, INNER), "fence side"),
    (job(OUTER_CHEEK), "fence side"),
    (job(AIR), "nothing"),
    (job(GROOVE, GROOVE), "nothing"),
    (job(WHOLE_EDGE), "edge"),
]


@pytest.mark.parametrize(("cuts", "fresh"), FRESH)
def test_a_pass_knows_on_which_side_its_new_wall_is(cuts: Job, fresh: str) -> None:
    assert cuts.result.fresh == fresh


def test_turning_the_work_end_for_end_puts_the_second_wall_on_the_operators_side() -> None:
    far = [Cut(C6, posture, 5.0, 13.0) for posture in (EDGE_A, EDGE_B)]
    assert job(*far).result.fresh == "outer side"
    near = [Cut(C6, posture, 5.0, 12.0) for posture in (EDGE_A, EDGE_B)]
    assert job(*near).result.fresh == "fence side"


@dataclass(frozen=True)
class Row:
    """A cut, the hazard it has, how bad it is, and where the rule comes from."""

    name: str
    cuts: Job
    kind: str
    severity: str
    text: str
    source: str
    safe: Job = field(default_factory=lambda: job(GROOVE))


MARKED = straight(6.0, max_speed_rpm=9000)
BIG = slot(6.0, diameter=66, slot_depth=20, max_speed_rpm=16800)
UNMARKED = slot(6.0, diameter=100, slot_depth=20)
FAST = Machine(mark="fast", speeds_rpm=(16800,))
OPENING = Machine(mark="small", speeds_rpm=(10000,), table_opening=40.0)
SHORT_EDGE = straight(6.0, cutting_length=4.0)
FLAT_GROOVE = Cut(slot(4.0), FLAT, 11.0, 6.0)
RABBET = (Cut(C6, EDGE_A, 8.0, 14.0), Cut(straight(3.0), Posture.FLAT_B, 5.5, 8.0))

BODY = [
    Row(
        "a cutter slower than the machine turns",
        job(Cut(MARKED, EDGE_A, 5.0, 12.0)),
        "over speed",
        "never",
        "may turn 9000 rpm (marked on the cutter), and table turns no slower than 10000 rpm",
        "EN 847-1, as remembered: the marking is a limit",
    ),
    Row(
        "no speed slow enough without a marking",
        job(Cut(UNMARKED, FLAT, 11.0, 6.0), **BEHIND),
        "over speed",
        "never",
        "may turn 8000 rpm (rule of thumb for its diameter, for it has no marking)",
        "practice",
    ),
    Row(
        "a rim that runs fast",
        job(Cut(BIG, FLAT, 11.0, 6.0), machine=FAST, **BEHIND),
        "rim speed",
        "danger",
        "the rim runs at 58 m/s",
        "practice",
    ),
    Row(
        "out of reach",
        job(Cut(straight(6.0, reach=9.0), EDGE_A, 10.0, 12.0)),
        "out of reach",
        "never",
        "would stand 10 mm above the table, and its shank is safely held only to 9 mm",
        "practice",
    ),
    Row(
        "wider than the table opens",
        job(Cut(slot(4.0), FLAT, 11.0, 6.0), machine=OPENING, **BEHIND),
        "table opening",
        "never",
        "turns 60 mm and the table opens 40 mm",
        "practice",
    ),
    Row(
        "deeper than the edge is long",
        job(Cut(SHORT_EDGE, EDGE_A, 6.0, 12.0)),
        "beyond the cutting edge",
        "never",
        "the shank or arbor of C1 would rub",
        "practice",
        job(Cut(SHORT_EDGE, EDGE_A, 3.5, 12.0)),
    ),
    Row(
        "deeper than a wing reaches",
        job(Cut(slot(4.0, slot_depth=5.0), FLAT, 11.0, 6.0), **BEHIND),
        "beyond the cutting edge",
        "never",
        "the shank or arbor of S1 would rub",
        "practice",
        job(FLAT_GROOVE, **BEHIND),
    ),
    Row(
        "too deep a bite upwards",
        job(Cut(C12, EDGE_A, 9.0, 15.0), timber="hardwood"),
        "bite too deep",
        "danger",
        "9 mm in one pass is more than the 6 mm",
        "practice",
        job(Cut(C12, EDGE_A, 6.0, 15.0), timber="hardwood"),
    ),
    Row(
        "too deep a bite by a wing",
        job(Cut(slot(4.0), FLAT, 11.0, 9.0), timber="hardwood", **BEHIND),
        "bite too deep",
        "danger",
        "9 mm in one pass is more than the 6 mm",
        "practice",
        job(Cut(slot(4.0), FLAT, 11.0, 9.0), **BEHIND),
    ),
    Row(
        "too deep a bite by a matched pair",
        job(Cut(matched_pair(6.0), FLAT, 32.0, 13.9), width=120.0),
        "bite too deep",
        "danger",
        "13.9 mm in one pass is more than the 13 mm",
        "practice",
        job(Cut(matched_pair(6.0), FLAT, 32.0, 9.0), width=120.0),
    ),
    Row(
        "short work",
        job(GROOVE, length=299.0),
        "short work",
        "danger",
        "below 300 mm use a carrier",
        "practice",
        job(GROOVE, length=300.0),
    ),
    Row(
        "narrow work on the flat",
        job(Cut(C12, FLAT, 5.0, 6.0), width=74.0),
        "narrow work",
        "danger",
        "below 75 mm use push blocks",
        "CFR 1910.213 push blocks; practice for the width",
        job(Cut(C12, FLAT, 5.0, 6.0), width=75.0),
    ),
    Row(
        "end grain",
        job(GROOVE, edge="head end", length=19.0),
        "end grain",
        "care",
        "back it up with a block",
        "practice",
    ),
    Row(
        "tall on edge",
        job(GROOVE, width=120.0),
        "tall on edge",
        "danger",
        "stands 120 mm tall on a base of 19 mm",
        "practice",
        job(GROOVE, width=19.0),
    ),
    Row(
        "a face by a slot cutter, the board on its edge",
        job(Cut(slot(4.0), FLAT, 50.0, 6.0), edge="face A", width=120.0),
        "tall on edge",
        "danger",
        "stands 120 mm tall on a base of 19 mm",
        "practice",
        job(FLAT_GROOVE, **BEHIND),
    ),
    Row(
        "waste that comes away",
        job(*RABBET, width=120.0),
        "loose offcut",
        "danger",
        "can be thrown",
        "practice",
        job(RABBET[0], width=120.0),
    ),
    Row(
        "a wing above the table",
        job(FLAT_GROOVE, **BEHIND),
        "work rides up",
        "care",
        "hold the work down",
        "practice",
        job(Cut(C12, FLAT, 5.0, 6.0), **BEHIND),
    ),
]


@pytest.mark.parametrize("row", BODY, ids=[row.name for row in BODY])
def test_what_a_cut_would_do_is_named_with_how_bad_it_is(row: Row) -> None:
    (found,) = [h for h in row.cuts.hazards() if h.kind == row.kind]
    assert found.severity == row.severity
    assert row.text in found.said(in_mm)


@pytest.mark.parametrize("row", BODY, ids=[row.name for row in BODY])
def test_a_cut_without_that_fault_does_not_have_the_hazard(row: Row) -> None:
    assert row.kind not in [h.kind for h in row.safe.hazards()]


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


def test_hazards_come_once_and_the_worst_first() -> None:
    care, danger = Hazard("a", "care", "x"), Hazard("b", "danger", "x")
    never = Hazard("c", "never", "x")
    assert worst_first([care, danger, never, care, danger]) == (never, danger, care)


def test_the_cautions_put_isolating_the_machine_first_and_the_manuals_above_the_plan() -> None:
    assert "isolate it from the mains" in CAUTIONS[0]
    assert "manuals, local rules" in CAUTIONS[-1]


# Whole methods


def methods_reported(name: str, *cutters: Cutter) -> Sequence[tuple[str, str]]:
    task = joint([19.0, 19.2], [19.0, 19.2], groove_width=6.5)
    on_groove = name in grooves.GROOVE_METHODS
    cutter = cutters[0] if on_groove else straight(6.5, "G")
    groove = groove_by(task, name if on_groove else grooves.ON_EDGE, cutter)
    if on_groove:
        tongue = tongue_by(task, groove, tongues.FLAT, straight(18.0))
    else:
        tongue = tongue_by(task, groove, name, *cutters)
    solution = solved(task, groove, tongue)
    method = groove if on_groove else tongue
    work = task.grooved if on_groove else task.tongued
    reports = station_reports(TABLE, method, work, of_group(solution, method.side))
    return [(h.kind, h.severity) for report in reports for h in report.hazards]


SAFE = [
    (grooves.ON_EDGE, straight(6.5)),
    (grooves.BOTH_FACES, straight(4.5)),
    (grooves.TWO_PLACES, straight(4.5)),
    (grooves.FLAT, slot(4.5)),
    (tongues.FLAT, straight(18.0)),
    (tongues.FLAT, straight(4.0)),
    (tongues.ON_EDGE, straight(18.0)),
    (tongues.ON_EDGE, straight(4.0)),
    (tongues.FACE_A, slot(10.0)),
    (tongues.PAIR, matched_pair(6.14)),
]


@pytest.mark.parametrize(("name", "cutter"), SAFE)
def test_a_method_that_is_offered_never_climbs_or_traps(name: str, cutter: Cutter) -> None:
    assert "never" not in [severity for _, severity in methods_reported(name, cutter)]


@pytest.mark.parametrize(
    ("name", "cutter", "kind"),
    [
        (grooves.BOTH_FACES_INWARD, straight(4.5), "feed reversed"),
        (tongues.ON_EDGE_ONE_FACE, straight(18.0), "trapped"),
    ],
)
def test_a_method_that_climbs_or_traps_is_found_out_by_its_cut(
    name: str, cutter: Cutter, kind: str
) -> None:
    assert (kind, "never") in methods_reported(name, cutter)
