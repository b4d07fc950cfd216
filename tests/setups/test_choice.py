"""Choosing among ways: safe first, then sure to fit, then sound, then the least work."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from faywright.errors import InfeasibleError, InputError
from faywright.joints import grooves, tongues
from faywright.joints.gaps import simulate
from faywright.joints.task import JointTask
from faywright.joints.wanted import EdgeDetail
from faywright.setups.choice import NEVER_OFFERED, SAME_CHANCE, Choice, Refused, Way, choose
from faywright.setups.sheet import setups_of
from faywright.shop import Cutter, Machine
from tests.joints.builders import TABLE, exactly, joint, matched_pair, slot, straight
from tests.strategies import STEADY, lengths

EVEN = [19.0, 19.01, 18.99, 19.0]
UNEVEN = [18.5, 18.8, 19.0, 19.2, 19.5]
KIT = (straight(6.35, "C1"), straight(12.7, "C2"), straight(4.5, "C4"), slot(4.78, "S1"))


def chosen(thicknesses: Sequence[float], cutters: Sequence[Cutter] = KIT, **wishes: Any) -> Choice:
    return choose(joint(thicknesses, **wishes), cutters)


def names(way: Way) -> tuple[str, str]:
    return way.groove.name, way.tongue.name


def refusal(error: pytest.ExceptionInfo[InfeasibleError]) -> str:
    return str(error.value)


# The order of ways


def test_ways_come_in_order_of_chance_proportion_setups_passes_and_dangers() -> None:
    choice = chosen(UNEVEN)
    best = max(way.chance for way in choice.ways)
    ranks = [way.rank(best) for way in choice.ways]
    assert ranks == sorted(ranks)
    assert choice.chosen is choice.ways[0]
    assert len(choice.ways) >= 8


def test_no_way_that_is_offered_has_a_cut_that_must_never_be_made() -> None:
    for way in chosen(UNEVEN, (*KIT, matched_pair(6.35))).ways:
        assert "never" not in [hazard.severity for hazard in way.hazards]
        sheets = setups_of(way.solution, TABLE)
        assert "never" not in [h.severity for sheet in sheets for h in sheet.hazards]


def test_every_way_that_is_offered_cuts_what_its_formulas_say() -> None:
    for way in chosen(UNEVEN, (*KIT, matched_pair(6.35))).ways:
        assert np.isfinite(simulate(way.solution).gaps["bottom"]).all()


HARD: list[tuple[tuple[Cutter, ...], dict[str, Any]]] = [
    ((straight(6.3), straight(18.0, "C2")), {"groove_width": 6.5}),
    ((straight(6.3), straight(18.0, "C2")), {"groove_width": 6.5, "most_settings": 1}),
    ((straight(3.6), straight(18.0, "C2")), {"groove_width": 6.5, "most_settings": 1}),
    *(
        ((cutter, straight(18.0, "C2"), matched_pair(tongue)), {})
        for cutter in (straight(6.35), straight(4.5), slot(4.5))
        for tongue in (4.0, 5.9, 9.0)
    ),
]


@pytest.mark.parametrize(("cutters", "wishes"), HARD)
def test_a_width_two_passes_cannot_make_is_declined_before_it_is_cut(
    cutters: tuple[Cutter, ...], wishes: dict[str, Any]
) -> None:
    choice = chosen([18.7, 18.9, 19.0, 19.3], cutters, **wishes)
    assert all(np.isfinite(simulate(way.solution).gaps["bottom"]).all() for way in choice.ways)


def test_boards_too_uneven_for_one_setting_are_told_the_widths_it_would_take() -> None:
    cutters = (straight(6.3), straight(18.0, "C2"))
    choice = chosen([18.7, 18.9, 19.0, 19.3], cutters, groove_width=6.5, most_settings=1)
    reasons = {d.method: d.why for d in choice.declined}
    why = reasons[f"{grooves.BOTH_FACES} with C1"]
    assert "boards that share a setting would need 6.15 to 6.75 mm" in why
    assert "it can make 6.40 to 12.50" in why


def test_an_uneven_pile_is_cut_from_one_face() -> None:
    way = chosen(UNEVEN, scatter=0.05).chosen
    assert way.groove.follows == way.tongue.follows == 0
    assert way.chance >= 0.9


def test_ways_as_sure_as_each_other_go_by_proportion_then_by_setups() -> None:
    choice = chosen(EVEN)
    best = max(way.chance for way in choice.ways)
    sure = [way for way in choice.ways if best - way.chance < SAME_CHANCE]
    sound = [way for way in sure if way.proportioned]
    assert choice.chosen is sound[0]
    assert choice.chosen.setups == min(way.setups for way in sound)


def test_a_cutter_that_keeps_the_proportion_is_taken_before_one_that_does_not() -> None:
    near, thin = straight(6.5, "near"), straight(5.0, "thin")
    choice = chosen(EVEN, (thin, near, straight(18.0, "C2")))
    assert choice.chosen.groove.cutters[0].mark == "near"
    off = {names(w)[0]: w.groove.cutters[0].mark for w in choice.ways if not w.proportioned}
    assert off == {grooves.ON_EDGE: "thin"}


def test_setups_and_passes_are_those_of_the_sheets_for_an_even_pile() -> None:
    for way in chosen([19.0] * 3, (*KIT, matched_pair(6.35))).ways:
        sheets = setups_of(way.solution, TABLE)
        assert way.setups == len(sheets)
        assert way.passes == sum(len(sheet.passes) * len(sheet.marks) for sheet in sheets)


def test_the_hazards_of_a_way_are_those_of_its_sheets_for_an_even_pile() -> None:
    for way in chosen([19.0] * 3, KIT).ways:
        sheets = setups_of(way.solution, TABLE)
        assert {h.kind for h in way.hazards} == {h.kind for s in sheets for h in s.hazards}


def test_the_same_question_has_the_same_answer() -> None:
    one, other = chosen(UNEVEN), chosen(UNEVEN)
    assert [names(way) for way in one.ways] == [names(way) for way in other.ways]
    assert one.chosen.chance == other.chosen.chance


def test_a_method_that_climbs_is_refused_and_never_offered() -> None:
    choice = chosen(EVEN)
    refused = {refused.method for refused in choice.refused}
    assert {grooves.BOTH_FACES_INWARD, tongues.ON_EDGE_ONE_FACE} <= refused
    offered = {name for way in choice.ways for name in names(way)}
    assert not refused & offered


def test_a_refusal_names_method_cutters_and_reasons() -> None:
    refused = {r.method: r for r in chosen(EVEN).refused}
    climbs = refused[grooves.BOTH_FACES_INWARD]
    assert isinstance(climbs, Refused)
    assert climbs.cutters == ("C4",)
    assert any("climbs" in why for why in climbs.why)
    assert any("set to the far edge instead" in why for why in climbs.why)


# What the maker asks for


@pytest.mark.parametrize(
    ("groove", "tongue"),
    [
        (grooves.BOTH_FACES, tongues.FLAT),
        (grooves.TWO_PLACES, tongues.ON_EDGE),
        (grooves.FLAT, tongues.FACE_A),
        (grooves.ON_EDGE, None),
        (None, tongues.ON_EDGE),
    ],
)
def test_a_forced_method_is_taken_whatever_ranks_above_it(
    groove: str | None, tongue: str | None
) -> None:
    choice = chosen(UNEVEN, groove_method=groove, tongue_method=tongue)
    assert groove in (None, choice.chosen.groove.name)
    assert tongue in (None, choice.chosen.tongue.name)
    assert choice.forced
    assert not chosen(UNEVEN).forced


FORCED_UNSAFE = [
    ({"groove_method": grooves.BOTH_FACES_INWARD}, "climbs and snatches"),
    ({"tongue_method": tongues.ON_EDGE_ONE_FACE}, "trapped between cutter and fence"),
]


@pytest.mark.parametrize(("wish", "reason"), FORCED_UNSAFE)
def test_a_forced_method_that_hurts_is_refused_with_the_reason(
    wish: dict[str, Any], reason: str
) -> None:
    with pytest.raises(InfeasibleError, match=reason) as error:
        chosen(EVEN, **wish)
    assert f"{next(iter(wish.values()))!r} must not be used" in refusal(error)
    assert "Leave the method out" in error.value.remedy


UNKNOWN = [
    ({"groove_method": "by hand"}, "groove", grooves.GROOVE_METHODS, False),
    ({"tongue_method": "by hand"}, "tongue", tongues.TONGUE_METHODS, False),
    ({"tongue_method": tongues.FLAT}, "tongue", tongues.HALF_METHODS, True),
]


@pytest.mark.parametrize(("wish", "side", "known", "half"), UNKNOWN)
def test_a_method_that_does_not_exist_is_answered_with_those_that_do(
    wish: dict[str, Any], side: str, known: tuple[str, ...], half: bool
) -> None:
    with pytest.raises(InputError, match=f"there is no {side} method") as error:
        chosen(EVEN, half=half, **wish)
    offered = error.value.remedy.removeprefix("Use one of: ").split("; ")
    assert offered == [name for name in known if name not in NEVER_OFFERED]


@pytest.mark.parametrize("half", [False, True])
def test_a_half_tongue_is_cut_by_half_methods_only(half: bool) -> None:
    ways = chosen(EVEN, half=half, groove_width=6.35).ways
    known = tongues.HALF_METHODS if half else tongues.TONGUE_METHODS
    assert {way.tongue.name for way in ways} <= set(known)


def test_a_thickness_asked_for_is_the_thickness_cut() -> None:
    choice = chosen(EVEN, tongue_thickness=7.0)
    for way in choice.ways:
        sizes = way.solution.sizes(way.tongue, way.tongue.size)
        assert np.abs(sizes - 7.0).max() <= 0.2


def test_a_matched_pair_of_another_thickness_than_asked_for_is_declined() -> None:
    choice = chosen(EVEN, (*KIT, matched_pair(6.0)), tongue_thickness=7.0)
    reasons = {d.method: d.why for d in choice.declined}
    assert reasons["cutter P1"] == "it leaves a tongue 6.00 mm thick, 7.00 is wanted"


def test_a_strip_is_used_as_it_is() -> None:
    task = joint([19.0, 19.0], [6.0, 6.0], strips=True)
    assert {way.tongue.name for way in choose(task, KIT).ways} == {tongues.STRIP}


# Nothing on hand


def test_without_a_cutter_the_answer_names_what_is_wanted() -> None:
    with pytest.raises(InfeasibleError, match="no cutter on hand") as error:
        chosen(EVEN, ())
    assert "none is listed that could" in refusal(error)
    assert "It wants a groove 6.69 mm wide and 10.5 mm deep" in error.value.remedy


def test_without_a_fitting_cutter_the_answer_says_why_each_will_not_do() -> None:
    with pytest.raises(InfeasibleError) as error:
        chosen(EVEN, (straight(12.7, "C2"), straight(2.0, "C3"), slot(1.0)))
    told = refusal(error)
    assert "cutter C2: it cuts 12.70 mm, wider than the groove's 6.69" in told
    assert "cutter C3: two passes of 2.00 mm leave a rib" in told
    assert "cutter S1: its 1.00 mm does not make a groove 6.69 mm wide" in told


FAST = Machine(mark="fast", speeds_rpm=(24000,))
SMALL = Machine(mark="small", speeds_rpm=(10000,), table_opening=10.0)


@pytest.mark.parametrize(
    ("machine", "cutters", "reason"),
    [
        (FAST, (straight(6.35, max_speed_rpm=18000),), "may turn 18000 rpm"),
        (TABLE, (straight(6.35, reach=10.49),), "cutter C1: it cuts 10.5 mm deep"),
        (SMALL, (slot(6.35),), "turns 60.00 mm and the table opens 10.00 mm"),
        (FAST, (slot(6.35),), "may turn 16000 rpm"),
    ],
)
def test_speed_reach_and_opening_are_refused_with_their_figures(
    machine: Machine, cutters: Sequence[Cutter], reason: str
) -> None:
    with pytest.raises(InfeasibleError, match=reason):
        chosen(EVEN, cutters, machine=machine)


def test_a_wing_that_would_stand_beyond_its_reach_is_not_offered_above_the_tongue() -> None:
    low = slot(4.78, "S1", reach=19.6)
    choice = chosen([19.0] * 3, (straight(6.35, "C1"), straight(12.7, "C2"), low))
    refused = {r.method: " ".join(r.why) for r in choice.refused}
    assert "safely held only to 19.60 mm" in refused[tongues.FACE_A]
    assert tongues.FACE_A not in {way.tongue.name for way in choice.ways}


def test_too_thin_a_wall_is_refused_with_what_would_be_left() -> None:
    with pytest.raises(InfeasibleError, match=r"only 1\.00 mm would be left of the wall"):
        chosen([8.35] * 2, (straight(6.35), straight(12.7, "C2")), groove_width=6.35)


def test_a_detail_that_cannot_be_cut_is_the_reason_given() -> None:
    with pytest.raises(InfeasibleError, match="no V cutter is listed"):
        chosen(EVEN, detail=EdgeDetail("V", 3.0))


def test_a_half_tongue_with_a_detail_says_why_not() -> None:
    with pytest.raises(InfeasibleError, match=r"the face-A cheek is only 0\.0 mm") as error:
        chosen(EVEN, detail=EdgeDetail("square reveal", 3.0), half=True)
    assert "climbs" not in refusal(error)


def test_a_way_found_for_one_cutter_keeps_its_own_settings_beside_another() -> None:
    choice = chosen(EVEN, (straight(5.0, "thin"), straight(7.0, "thick"), straight(18.0, "C2")))
    for way in choice.ways:
        width = way.solution.sizes(way.groove, way.groove.size)
        thickness = way.solution.sizes(way.tongue, way.tongue.size)
        assert float(np.median(width - np.median(thickness))) == pytest.approx(0.36, abs=0.06)
    one_pass = [w for w in choice.ways if w.groove.name == grooves.ON_EDGE]
    widths = {float(w.solution.sizes(w.groove, w.groove.size)[0]) for w in one_pass}
    assert sorted(widths) == exactly([5.0, 7.0])


# Whatever there is


@st.composite
def shops(draw: DrawFn) -> list[Cutter]:
    """Some cutters of each kind, in sizes that may or may not suit."""
    sizes = draw(st.lists(lengths(3, 20), min_size=1, max_size=3))
    wings = draw(st.lists(lengths(2, 12), max_size=2))
    pairs = draw(st.lists(lengths(4, 9), max_size=1))
    return [
        *(straight(size, f"C{k}") for k, size in enumerate(sizes)),
        *(slot(size, f"S{k}") for k, size in enumerate(wings)),
        *(matched_pair(size, f"P{k}") for k, size in enumerate(pairs)),
    ]


@st.composite
def questions(draw: DrawFn) -> JointTask:
    """Joints of boards from one pile or from two, sound or not."""
    middle = draw(st.sampled_from([12.0, 15.0, 19.0, 25.0]))
    pile = st.lists(lengths(middle - 0.4, middle + 0.4), min_size=2, max_size=4)
    grooved = draw(pile)
    count = len(grooved)
    kind = draw(st.sampled_from(["in a row", "two piles", "thin tongues", "strips"]))
    share = {"thin tongues": 0.7, "strips": 0.33}.get(kind, 1.0)
    near = lengths(share * middle - 0.3, share * middle + 0.3)
    other = st.lists(near, min_size=count, max_size=count)
    wishes: dict[str, Any] = {
        "strips": kind == "strips",
        "half": kind != "strips" and draw(st.booleans()),
        "groove_width": draw(st.none() | lengths(3, 9)),
        "offset": draw(st.none() | lengths(2, 9)),
        "most_settings": draw(st.sampled_from([None, 1, 2])),
        "free_order": draw(st.booleans()),
        "timber": draw(st.sampled_from(["softwood", "hardwood"])),
    }
    if kind != "strips" and not wishes["half"]:
        wishes["detail"] = draw(st.none() | st.just(EdgeDetail("square reveal", 2.0)))
    return joint(grooved, None if kind == "in a row" else draw(other), **wishes)


def check_all(choice: Choice) -> None:
    for way in choice.ways[:12]:
        assert np.isfinite(simulate(way.solution).gaps["bottom"]).all()
        for setup in setups_of(way.solution, TABLE):
            tolerances = (setup.height.tolerance, setup.fence.tolerance)
            assert all(t is None or t.low <= 0 <= t.high for t in tolerances)


@given(task=questions(), cutters=shops())
@settings(STEADY, max_examples=25)
def test_whatever_there_is_every_way_offered_can_be_cut_and_set(
    task: JointTask, cutters: list[Cutter]
) -> None:
    with suppress(InfeasibleError):  # an answer as good as any: it names what binds
        check_all(choose(task, cutters))
