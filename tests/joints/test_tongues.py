"""Which tongues the cutters on hand can make, and why not others."""

from __future__ import annotations

from typing import Any

import pytest

from faywright.joints import grooves, tongues
from faywright.joints.grooves import Declined
from faywright.joints.method import Method
from faywright.joints.tongues import TongueJob, strip_as_it_is, tongue_methods
from faywright.shop import Cutter, StraightCutter
from tests.joints.builders import (
    exactly,
    groove_by,
    joint,
    matched_pair,
    slot,
    straight,
    tongue_job,
)


def job(**wishes: Any) -> TongueJob:
    """A tongue 5.99 thick and 10.5 long on boards 21 thick, 7.5 from face A."""
    task = joint([21.0] * 2, [21.0] * 2, **({"groove_width": 6.35, "tongue_length": 10.5} | wishes))
    return tongue_job(task, groove_by(task, grooves.ON_EDGE, straight(6.35)))


def made(*cutters: Cutter, **wishes: Any) -> tuple[set[str], list[str]]:
    """Names of methods, and reasons."""
    found = list(tongue_methods(job(**wishes), cutters))
    names = {m.name for m in found if isinstance(m, Method)}
    return names, [m.why for m in found if isinstance(m, Declined)]


ONE_FACE = tongues.ON_EDGE_ONE_FACE
BOTH = {tongues.FLAT, tongues.ON_EDGE}
CUTTERS: list[tuple[tuple[Cutter, ...], set[str], str]] = [
    ((straight(12.7),), {*BOTH, ONE_FACE}, ""),
    ((straight(6.0),), BOTH, ""),
    (
        (straight(12.7, cutting_length=9.0),),
        {tongues.FLAT},
        "it cuts 9.0 mm deep, the tongue is 10.5",
    ),
    ((slot(4.78),), {tongues.FACE_A}, ""),
    ((slot(4.78, slot_depth=10.0),), set(), "it cuts 10.0 mm deep, the tongue is 10.5"),
    ((slot(0.5),), set(), "it is too thin to clear a cheek"),
    ((slot(4.78, reach=21.4),), set(), "it reaches 21.4 mm above the table, the work 21.5"),
    ((matched_pair(6.0),), {tongues.PAIR}, ""),
    (
        (matched_pair(6.0, tongue_length=10.0),),
        set(),
        "it leaves 10.0 mm of tongue, 10.5 is wanted",
    ),
    ((matched_pair(6.0, wing=7.0),), set(), "its wings of 7.0 mm do not clear cheeks of 7.5"),
    ((matched_pair(6.0, reach=33.0),), set(), "it reaches 33.0 mm above the table"),
    ((matched_pair(7.0),), set(), "it leaves a tongue 7.00 mm thick, 5.99 is wanted"),
]


@pytest.mark.parametrize(("cutters", "names", "why"), CUTTERS)
def test_cutters_make_the_tongues_they_can_and_say_why_not_the_others(
    cutters: tuple[Cutter, ...], names: set[str], why: str
) -> None:
    found, reasons = made(*cutters)
    assert found == names
    assert [why in reason for reason in reasons] == ([True] if why else [])


def test_a_cutter_too_short_for_the_cheek_cannot_cut_it_flat() -> None:
    names, reasons = made(straight(12.7, cutting_length=7.0))
    assert names == set()
    assert reasons[0] == "it cuts 7.0 mm deep, the cheek is 7.5"


def test_a_straight_cutter_below_and_a_slot_cutter_above_make_one_tongue_together() -> None:
    found = [
        m for m in tongue_methods(job(), [straight(12.7), slot(4.78)]) if isinstance(m, Method)
    ]
    together = {tuple(c.mark for c in m.cutters) for m in found if m.name == tongues.FACE_A}
    assert together == {("S1",), ("C1", "S1")}


def test_a_straight_cutter_too_short_for_the_lower_cheek_is_left_out_of_it() -> None:
    short = straight(12.7, reach=7.4)
    found = [m for m in tongue_methods(job(), [short, slot(4.78)]) if isinstance(m, Method)]
    assert {tuple(c.mark for c in m.cutters) for m in found} == {("S1",)}


def test_a_half_tongue_has_one_cheek_one_shoulder_and_no_pair() -> None:
    found = list(tongue_methods(job(half=True), [straight(12.7), slot(4.78), matched_pair(6.0)]))
    assert {m.name for m in found if isinstance(m, Method)} == set(tongues.HALF_METHODS)
    for method in found:
        assert isinstance(method, Method)
        assert "face-A shoulder" not in method.surfaces
        assert method.surfaces["face-A cheek"][1].value({}) == 0.0


def test_a_half_tongue_needs_a_cutter_that_reaches_its_one_deep_cheek() -> None:
    names, reasons = made(straight(12.7, reach=14.0), half=True)
    assert tongues.HALF_FLAT not in names
    assert reasons == ["it cuts 14.0 mm deep, the cheek is 15.0"]


def test_a_pair_is_not_held_to_a_thickness_nobody_asked_for() -> None:
    task = joint([21.0] * 2, [21.0] * 2)
    groove = groove_by(task, grooves.TWO_PLACES, straight(5.0))
    found = list(tongue_methods(tongue_job(task, groove), [matched_pair(6.0)]))
    assert isinstance(found[0], Method)
    assert found[0].size.value(found[0].known()) == exactly(6.0)


THIN = [12.0, 14.0]


@pytest.mark.parametrize(
    "cutter",
    [slot(4.78), matched_pair(5.99, wing=30), straight(30.0)],
    ids=["wing", "pair", "plain"],
)
def test_no_tongue_is_cut_from_one_face_of_a_board_that_ends_below_it(cutter: Cutter) -> None:
    task = joint([21.0] * 2, THIN, groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    found = list(tongue_methods(tongue_job(task, groove), [cutter]))
    names = {m.name for m in found if isinstance(m, Method)}
    assert not names & {tongues.FACE_A, tongues.PAIR}
    if not isinstance(cutter, StraightCutter):
        (no,) = [m.why for m in found if isinstance(m, Declined)]
        assert "7.5 mm from face A, leaves no shoulder on a board of 12.0 mm" in no


def test_a_tongue_as_thick_as_its_board_is_no_tongue() -> None:
    task = joint([21.0] * 2, [6.0, 21.0], groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    reasons = list(tongue_methods(tongue_job(task, groove), [straight(18.0)]))
    assert isinstance(reasons[0], Method)
    thin = joint([21.0] * 2, [5.9, 21.0], groove_width=6.35)
    (no,) = tongue_methods(tongue_job(thin, groove), [straight(18.0)])
    assert isinstance(no, Declined)
    assert "leaves no shoulder on a board of 5.9 mm" in no.why


def test_a_strip_needs_no_runs_and_no_setting() -> None:
    task = joint([19.0] * 2, [6.0] * 2, strips=True)
    strip = strip_as_it_is(task.tongued)
    assert (strip.runs, strip.control, strip.readings) == ((), None, ())
    assert strip.size.value({strip.thickness: 6.1}) == exactly(6.1)
