"""The benchmarks measure what they say: never how fast, always whether rightly."""

from __future__ import annotations

import random
import subprocess
import sys
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from pypdf import PdfReader

from benchmarks import (
    drawing,
    landings,
    memory,
    plain_drawings,
    promise,
    speed,
    timber,
    trial_shop,
    trials,
    workshop,
)
from benchmarks.common_way import common_way
from benchmarks.following import follow, landed
from benchmarks.hidden import HIDDEN, MARKED, NONE, Truth, truth_of
from benchmarks.lining import SHEETS, lining
from benchmarks.measuring import alone
from benchmarks.needle import Blade, Needles
from benchmarks.one_plan import DEMO
from benchmarks.panels import JOINT, MACHINE, QUARTER, SLOT
from benchmarks.plain_packet import plain_packet
from benchmarks.tables import table
from benchmarks.web_bare import ANSWER
from benchmarks.web_client import Browser, RefusedError
from benchmarks.web_crowd import Crowd, lost, ninety_fifth
from benchmarks.web_long import planned as planned_after
from benchmarks.web_person import MIX, readings
from benchmarks.web_pieces import lining_text
from benchmarks.web_server import bare, serving
from benchmarks.workshop import COMMON, KITS, STRAIGHT_ONLY, WITH_SLOT, planned
from faywright.joints.grooves import ON_EDGE as ONE_PASS
from faywright.joints.method import Method, Settings
from faywright.joints.tongues import FACE_A, FLAT, ON_EDGE
from faywright.joints.work import Work
from faywright.piece.piece_file import piece_from_text
from faywright.piece.words import final_setups
from faywright.section.cutting import Pass, cut
from faywright.section.posture import Posture
from faywright.setups.choice import Choice, Way, choose
from faywright.setups.sheet import setups_of

SCATTER = 0.13
Floats = NDArray[np.float64]

EXACT = truth_of(NONE, SCATTER, (3,))
"""A pile and a shop where everything is as measured."""


@cache
def choice() -> Choice:
    return choose(workshop.task_of(EXACT), workshop.cutters_of(EXACT, MARKED))


@cache
def kinds() -> dict[str, Way]:
    return kinds_of(choice())


def kinds_of(made: Choice) -> dict[str, Way]:
    """One way for each pair of methods."""
    found: dict[str, Way] = {}
    for way in made.ways:
        found.setdefault(f"{way.groove.name}; {way.tongue.name}", way)
    return found


def clearance(way: Way, truth: Truth, *, trial: bool) -> Floats:
    setups = setups_of(way.solution, MACHINE)
    generator = np.random.default_rng(1)
    return follow(way.solution, setups, truth, generator, trial=trial)


def same(found: object, wanted: object) -> bool:
    return found == pytest.approx(wanted, abs=1e-6, rel=0)


def test_ways_of_every_kind_are_followed() -> None:
    assert len(kinds()) >= 8


@pytest.mark.parametrize("kind", sorted(kinds()))
@pytest.mark.parametrize("trial", [False, True])
def test_without_errors_the_printed_plan_gives_the_planned_clearance(
    kind: str, trial: bool
) -> None:
    way = kinds()[kind]
    assert same(clearance(way, EXACT, trial=trial), way.solution.clearance)


@pytest.mark.parametrize("scatter", workshop.SCATTERS)
def test_without_errors_every_planned_panel_lands(scatter: str) -> None:
    found = workshop.panels(piles=1, errors=NONE)
    plans = [panel for panel in found if panel.way != COMMON and panel.scatter == scatter]
    assert len(plans) == 8
    assert all(panel.landed for panel in plans)


@pytest.mark.parametrize("tongue", [FLAT, ON_EDGE, FACE_A])
def test_a_trial_cut_takes_out_the_zero_error_of_the_gauge(tongue: str) -> None:
    way = kinds()[f"{ONE_PASS}; {tongue}"]
    off = replace(EXACT, gauge_zero=0.2)
    assert same(clearance(way, off, trial=True), way.solution.clearance)


@pytest.mark.parametrize(("tongue", "less"), [(FLAT, 0.2), (ON_EDGE, 0.2), (FACE_A, 0.0)])
def test_a_zero_error_untried_matters_where_two_faces_decide(tongue: str, less: float) -> None:
    way = kinds()[f"{ONE_PASS}; {tongue}"]
    found = clearance(way, replace(EXACT, gauge_zero=0.2), trial=False)
    assert same(found, way.solution.clearance - less)


def test_a_groove_wider_than_printed_makes_the_tongues_thicker() -> None:
    way = kinds()[f"{ONE_PASS}; {FLAT}"]
    worn = replace(EXACT, cutters={**EXACT.cutters, QUARTER: EXACT.cutters[QUARTER] + 0.12})
    assert same(clearance(way, worn, trial=False), way.solution.clearance + 0.06)
    assert same(clearance(way, worn, trial=True), way.solution.clearance)


def test_what_the_sheet_says_to_leave_is_left() -> None:
    way = kinds()[f"{ONE_PASS}; {FACE_A}"]
    leave = max(r.leave for setup in setups_of(way.solution, MACHINE) for r in setup.readings)
    worn = {**EXACT.cutters, QUARTER: EXACT.cutters[QUARTER] + leave / 2}
    found = clearance(way, replace(EXACT, cutters=worn), trial=True)
    assert same(found, way.solution.clearance + leave / 4)


def test_planning_again_with_the_groove_as_measured_does_the_same() -> None:
    wider = replace(EXACT, measured={**EXACT.measured, QUARTER: EXACT.measured[QUARTER] + 0.03})
    again = choose(workshop.task_of(wider), workshop.cutters_of(wider, MARKED))
    before = tongue_reads(kinds()[f"{ONE_PASS}; {FLAT}"])
    after = tongue_reads(kinds_of(again)[f"{ONE_PASS}; {FLAT}"])
    assert same(after, [each + 0.03 for each in before])


def tongue_reads(way: Way) -> list[float]:
    setups = setups_of(way.solution, MACHINE)
    return [setup.readings[0].reads for setup in setups if setup.side == "tongue" and setup.final]


def test_a_straight_kit_is_planned_as_if_there_were_no_other_cutters() -> None:
    kit = KITS[STRAIGHT_ONLY]
    truth = truth_of(HIDDEN, SCATTER, (4,))
    task = workshop.task_of(truth)
    whole = planned(choose(task, workshop.cutters_of(truth, MARKED)), kit, seed=1)
    alone_ = planned(choose(task, workshop.cutters_of(truth, kit)), kit, seed=1)
    assert [s.height.true for s in whole.setups] == [s.height.true for s in alone_.setups]
    assert [s.marks for s in whole.setups] == [s.marks for s in alone_.setups]


@pytest.mark.parametrize("kind", sorted(kinds()))
def test_the_needle_meets_what_the_kernel_leaves(kind: str) -> None:
    solution = kinds()[kind].solution
    task = solution.task
    for method, work, groups in (
        (solution.groove, task.grooved, solution.groove_groups),
        (solution.tongue, task.tongued, solution.tongue_groups),
    ):
        board = int(groups[0].members[0])
        _compare_with_kernel(method, groups[0].settings, work, board)


def _compare_with_kernel(method: Method, settings: Settings, work: Work, board: int) -> None:
    generator = np.random.default_rng(5)
    thickness, width = float(work.across[board]), float(work.deep[board])
    depths = np.array([0.5, 4.5, 9.0])
    groove = method.side == "groove"
    needles = Needles.through(np.array([thickness]), depths, groove=groove)
    passes = []
    for station in method.stations(settings, float(work.across.max()), work.timber):
        for run in station.passes():
            ride, stray = 0.02 * generator.random(2)
            passes.append(Pass(run.profile, run.height - ride, run.axis - stray, run.posture))
            mark = station.run.cutter.mark
            length = EXACT.cutters[SLOT] if mark == SLOT else 25.0
            blade = Blade(diameter=station.run.cutter.swept_diameter, length=length)
            riding, straying = np.array([ride]), np.array([stray])
            needles.cut(blade, run.posture, run.height, station.far, riding, straying)
    polygon = cut(thickness, width, passes).polygons[0]
    for depth, low, high in zip(depths, needles.low[:, 0], needles.high[:, 0], strict=True):
        line = shapely.LineString([(0, depth), (thickness, depth)])
        wood = shapely.intersection(polygon, line)
        left = [part.bounds for part in shapely.get_parts(wood)]
        expected = (
            (min(part[2] for part in left), max(part[0] for part in left))
            if groove
            else (min(part[0] for part in left), max(part[2] for part in left))
        )
        assert (low, high) == pytest.approx(expected, abs=1e-9)


def test_a_pass_through_the_middle_of_a_tongue_is_refused() -> None:
    needles = Needles.through(np.array([19.0]), np.array([5.0]), groove=False)
    with pytest.raises(ValueError, match="middle of the tongue"):
        needles.cut(
            Blade(diameter=4, length=20), Posture.ON_EDGE_A, 10, 11, np.zeros(1), np.zeros(1)
        )


def test_passes_that_leave_a_rib_in_a_groove_are_refused() -> None:
    needles = Needles.through(np.array([19.0]), np.array([5.0]), groove=True)
    blade, none = Blade(diameter=4, length=20), np.zeros(1)
    needles.cut(blade, Posture.ON_EDGE_A, 10, 8, none, none)
    with pytest.raises(ValueError, match="rib"):
        needles.cut(blade, Posture.ON_EDGE_A, 10, 13, none, none)


def test_one_setting_does_not_serve_boards_that_scatter_much() -> None:
    exact = truth_of(NONE, 0.25, (3,))
    found = common_way(exact, np.random.default_rng(1), trial=True)
    assert not landed(found, JOINT.fit).all()


def test_one_setting_serves_boards_that_are_all_the_same() -> None:
    exact = truth_of(NONE, 0.0, (3,))
    assert same(common_way(exact, np.random.default_rng(1), trial=True), JOINT.fit.aim)


def test_the_same_shop_comes_back_from_the_same_seed() -> None:
    one, two = truth_of(HIDDEN, SCATTER, (7,)), truth_of(HIDDEN, SCATTER, (7,))
    assert (one.readings == two.readings).all()
    assert one.cutters == two.cutters
    assert (one.readings != truth_of(HIDDEN, SCATTER, (8,)).readings).any()


def test_more_panels_than_promised_are_a_surprise_upwards() -> None:
    found = workshop.panels(piles=1)
    lucky = [replace(panel, predicted=0.5, landed=True) for panel in found]
    assert landings.surprise(lucky) == pytest.approx(len(lucky) ** 0.5)


def test_where_all_are_to_land_there_is_no_telling() -> None:
    sure = [replace(panel, predicted=0.9999) for panel in workshop.panels(piles=1)]
    assert np.isnan(landings.surprise(sure))


def test_the_workshop_report_has_a_row_for_each_way() -> None:
    text = landings.report(workshop.panels(piles=1))
    for way in (COMMON, STRAIGHT_ONLY, WITH_SLOT):
        assert f"{way}, no trial cut" in text
        assert f"{way}, one trial cut a setting" in text


def test_a_broken_promise_is_said_plainly() -> None:
    broken = promise.Result(
        what="a thing", measured="1", promise="2", kept=False, peer="another", ratio=1.5
    )
    assert "NOT KEPT" in promise.report([broken])
    assert "kept" in promise.report([replace(broken, kept=True)])
    assert "kept" not in promise.report([replace(broken, kept=None)]).lower()
    growing = [speed.Large(10, 1.0, 50.0), speed.Large(100, 20.0, 600.0)]
    told = speed.large_report(growing)
    assert "NOT KEPT from 10 to 100 boards" in told
    assert "Below 500 MB for 100 boards: NOT KEPT" in told


def test_every_speed_is_taken_beside_a_peer() -> None:
    results = [*speed.kernel(1, 20), *speed.sampling(1, 500), *speed.help_page(1)]
    assert all(result.ratio > 0 and result.peer for result in results)


def test_timber_is_measured_beside_peers() -> None:
    results = [timber.year(1), timber.look_up(1)]
    assert all(result.ratio > 0 and result.peer for result in results)


def test_a_piece_without_its_climate_still_plans() -> None:
    text = timber.without_climate(DEMO.read_text(encoding="utf-8"))
    read = piece_from_text(text, file="piece.toml", folder=DEMO.parent).piece
    assert read.climate is None
    assert (len(read.joints), len(read.panels)) == (2, 0)


def test_every_kind_of_drawing_is_taken_beside_a_peer() -> None:
    results = list(drawing.drawings(1, [lining(1)]))
    assert len(results) == 8
    assert all(result.ratio > 0 and result.peer for result in results)


def test_every_packet_is_taken_beside_plain_pages() -> None:
    warm, cold = drawing.packets(1, [1])
    assert (warm.what, cold.what) == ("packet of 4 sheets, warm", "packet of 4 sheets, cold")
    assert warm.ratio > 0
    assert cold.ratio > 0


@pytest.mark.parametrize("walls", [1, 2])
def test_a_lining_has_as_many_sheets_as_are_counted(walls: int) -> None:
    assert len(list(final_setups(lining(walls).setups))) == walls * SHEETS


def test_the_promised_packets_are_measured() -> None:
    assert {walls * SHEETS for walls in drawing.WALLS} == set(drawing.PACKET_SECONDS)


def test_the_plain_packet_has_as_many_pages_as_asked_for() -> None:
    assert len(PdfReader(BytesIO(plain_packet(3))).pages) == 3


def test_a_peer_writes_every_mark_of_a_drawing() -> None:
    (joint,) = drawing.composed(lining(1))["joint"]
    marks = plain_drawings.plain(joint())
    written = plain_drawings.xml(marks)
    assert written.count("<path") == len(marks.runs) > 100
    assert written.count("<text") == len(joint().texts) > 10
    entities = plain_drawings.plain_dxf(marks).partition("ENTITIES")[2]
    assert entities.count("\nLWPOLYLINE\n") == len(marks.runs)
    assert entities.count("\nTEXT\n") == len(marks.texts)


def test_a_large_panel_is_planned_in_a_process_of_its_own() -> None:
    (large,) = speed.large_panels([3])
    assert large.seconds > 0
    assert 5 < large.megabytes < 5000


def test_a_command_that_fails_is_an_error() -> None:
    assert alone([sys.executable, "-c", "print('done')"]).printed == "done"
    with pytest.raises(subprocess.CalledProcessError):
        alone([sys.executable, "-c", "raise SystemExit(3)"])


def test_columns_line_up() -> None:
    lines = table(["a", "b"], [["long name", "1"], ["x", "22"]]).splitlines()
    assert lines[2:] == ["long name   1", "x          22"]


FLAWLESS = trial_shop.gauge(1e-9, 0.0)


def exact_shop(**zeros: float) -> trial_shop.Hidden:
    """A shop for trials where everything is as measured, but for zeros of the gauge."""
    shop = trial_shop.hidden_shop(FLAWLESS, (5,), NONE)
    return replace(shop, zeros={"height": 0.0, "fence": 0.0} | zeros)


@pytest.mark.parametrize("kind", trial_shop.KINDS)
def test_in_a_shop_without_errors_the_planned_settings_are_right(kind: trial_shop.Kind) -> None:
    shop = exact_shop()
    planned = trial_shop.solution_of(shop, kind)
    work = trials.by_error(shop, planned, np.random.default_rng(1), share=1.0)
    assert same(work.off, [0.0, 0.0])


@pytest.mark.parametrize("kind", trial_shop.KINDS)
def test_what_a_setting_is_off_by_in_the_shop_is_what_its_closed_form_says(
    kind: trial_shop.Kind,
) -> None:
    shop = exact_shop(height=0.05, fence=-0.02)
    planned = trial_shop.solution_of(shop, kind)
    work = trials.by_error(shop, planned, np.random.default_rng(1), share=0.0)
    play = work.trial.play
    foretold = sum(
        form.coefficient(quantity) * shop.zeros[quantity.kind]
        for form in play.values()
        for quantity in form.coefficients
        if quantity.kind in shop.zeros
    )
    assert same(work.off[0], foretold)


@pytest.mark.parametrize("kind", trial_shop.KINDS)
def test_the_whole_error_moved_is_right_where_nothing_scatters(kind: trial_shop.Kind) -> None:
    shop = exact_shop(height=0.08, fence=0.11)
    planned = trial_shop.solution_of(shop, kind)
    work = trials.by_error(shop, planned, np.random.default_rng(1), share=1.0)
    assert same(work.off[-1], 0.0)
    assert same(trials.all_knowing(shop, planned, np.random.default_rng(1)).off[-1], 0.0)


def test_a_turn_of_the_key_keeps_what_the_setting_was_off_by() -> None:
    shop = exact_shop()
    work = trials.by_error(
        shop,
        trial_shop.solution_of(shop, trial_shop.KINDS[0]),
        np.random.default_rng(1),
        share=0.0,
    )
    piece, bench = work.trial.tongue, work.bench
    control = piece.method.control
    assert control is not None
    bench.own["tongue", control] = 0.07
    before = bench.really(piece)[control]
    shown = bench.turn(piece, control, -0.07, piece.as_set[control])
    after = bench.really(piece.again("T2", {control: shown}))[control]
    assert after - before == pytest.approx(-0.07, abs=5 * trial_shop.KEY)


def test_trials_are_counted_until_the_setting_is_right() -> None:
    assert trials.Course("", "", (0.01,)).trials == 0
    assert trials.Course("", "", (0.04, -0.03, 0.02, 0.04)).trials == 2
    assert not trials.Course("", "", (0.04, -0.03, 0.02, 0.04)).right
    assert trials.Course("", "", (0.04, 0.03)).trials > trials.MOST_TRIALS


def test_the_trial_report_has_a_row_for_each_way_and_stage() -> None:
    intervals = trials.held(shops=3)
    text = trials.report(trials.courses(shops=1), intervals)
    for gauge in trial_shop.GAUGES:
        for way in trials.WAYS:
            assert f"{gauge}: {way}  " in text
        assert f"{gauge}: {trials.MOVED}" in text
    assert all(len(inside) == 3 for inside in intervals.values())


def test_the_shop_s_memory_is_measured_beside_peers() -> None:
    results = [memory.update(1), memory.remembered(1, 20)]
    assert all(result.ratio > 0 and result.peer for result in results)


def test_the_large_piece_of_the_pages_is_one() -> None:
    read = piece_from_text(lining_text("Long hall"), file="piece", folder=None).piece
    assert (len(read.joints), sum(len(part.boards) for part in read.parts)) == (40, 200)


def test_the_peer_of_pages_answers_forms(tmp_path: Path) -> None:
    with bare(tmp_path) as peer:
        browser = Browser(peer.port)
        answer = browser.post("/", {"a": "1", "b": "2"}).told(200)
        browser.close()
    assert (answer.headers["X-Fields"], answer.raw) == ("2", ANSWER)


def test_what_a_crowd_was_told_is_found_and_what_it_was_not_is_missed(tmp_path: Path) -> None:
    store = str(tmp_path / "shop.sqlite3")
    with serving(tmp_path, store) as server:
        crowd = Crowd(server, 1, names=False)
        (person,) = crowd.people
        crowd.open()
        for what in MIX:
            person.act(what)
        assert planned_after(server, person.browser, 1).after > 20
        with pytest.raises(RefusedError, match="404"):
            person.browser.get("/pieces/999").told(200)
        crowd.close()
    kept = person.kept
    assert (sum(kept.said.values()), len(kept.agreed)) == (2, 1)
    assert (len(kept.ticks), len(kept.trials)) == (1, 1)
    assert lost(store, [kept]) == []
    kept.said[person.own.piece, "what was never said"] += 1
    kept.last[person.own.piece, 1, "film"] = "0.77"
    kept.ticks[person.own.piece, "0" * 32] = True
    kept.trials.add(7)
    assert len(lost(store, [kept])) == 4


def test_ninety_five_of_a_hundred_are_below() -> None:
    assert ninety_fifth(list(map(float, range(101)))) == 95


def test_hidden_fields_of_a_trial_are_sent_back_and_its_readings_filled_in() -> None:
    page = (
        '<form id="trial-form"><input type="hidden" name="csrfmiddlewaretoken" value="x">'
        '<input type="hidden" name="called" value="it&#x27;s">'
        '<div class="field reading"><input id="f" name="groove" value="">'
        "should read 6.50 mm</div><fieldset></fieldset></form>"
    )
    filled = readings(page, random.Random(1))  # noqa: S311 - no secret
    assert filled["called"] == "it's"
    assert all(abs(float(each) - 6.5) < 0.1 for each in filled["groove"].split("; "))
    assert set(readings(page, None)) == {"called"}
