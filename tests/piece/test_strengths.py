"""Loads through a whole plan: stresses by plain arithmetic, and what a plan says of them."""

from __future__ import annotations

from typing import Any

import pytest

from faywright.errors import InputError, RangeError
from faywright.piece.plan import Plan
from faywright.piece.plan_json import plan_json
from faywright.piece.summary import decisions, summary
from tests.piece.porch import JOINT, PART, boards, planned, porch_bench

PUSHED = "load = { force = 300, along = 400 }\n"
SIDES = '[[part]]\nname = "side"\ntimber = "hardwood"\nspecies = "Even wood"\n'
RUNNER = '[[part]]\nname = "runner"\ntimber = "hardwood"\nspecies = "Even wood"\n'
HUNG = (
    '[[joint]]\nname = "drawer"\nfamily = "runner"\nstrip = "runner"\nfit = "sliding"\n'
    'groove = { part = "side", edge = "face B" }\ngroove_depth = 6.5\n'
)
SHELF = (
    '[[shelf]]\nname = "upper"\nspecies = "Even wood"\nspan = 800\nwidth = 250\n'
    "thickness = 18\nload_kg = 20\n"
)


def strength(plan: Plan) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = plan_json(plan)["joints"][0]["strength"]
    return found


def stress(verdict: dict[str, Any]) -> list[float]:
    return [check["found"] for check in verdict["checks"]]


def told(plan: Plan) -> str:
    return " ".join(summary(plan).split())


def weighed(stresses: list[float]) -> Any:
    return pytest.approx(stresses, abs=1e-4)


# A push on tongue and groove


def test_without_a_load_nothing_is_said_of_strength() -> None:
    plan = porch_bench(climate="")
    assert plan_json(plan)["joints"][0]["strength"] is None
    assert plan_json(plan)["shelves"] == []
    assert "allowed" not in told(plan)


def test_a_tongue_is_bent_and_sheared_at_its_root() -> None:
    plan = porch_bench(PUSHED, "")
    joint = plan_json(plan)["joints"][0]
    length, thin = (
        joint["target"]["tongue_length_mm"],
        joint["as_made"]["tongue_thickness_least_mm"],
    )
    tongue, _ = strength(plan)
    bent = 6 * 300 * (length / 2) / (400 * thin**2)
    assert stress(tongue) == weighed([bent, 1.5 * 300 / (400 * thin)])
    assert tongue["decided_by"] == "splitting at the root"


def test_a_groove_wall_is_bent_from_the_bottom_of_the_groove() -> None:
    plan = porch_bench(PUSHED + "offset = 5\n", "")
    target = plan_json(plan)["joints"][0]["target"]
    arm = target["groove_depth_mm"] - target["tongue_length_mm"] / 2
    _, wall = strength(plan)
    assert stress(wall) == weighed([6 * 300 * arm / (400 * 25), 1.5 * 300 / (400 * 5)])


def test_the_strongest_proportion_is_told_beside_a_push() -> None:
    assert "strongest: tongue" in told(porch_bench(PUSHED, ""))


@pytest.mark.parametrize(("force", "verdict"), [(100, "likely"), (500, "check it"), (2000, "no")])
def test_more_load_makes_a_worse_verdict(force: int, verdict: str) -> None:
    plan = porch_bench(PUSHED.replace("300", str(force)), "")
    assert {each["verdict"] for each in strength(plan)} == {verdict}
    assert plan.joints[0].settled is (verdict != "no")


def test_what_will_not_hold_is_a_decision() -> None:
    plan = porch_bench(PUSHED.replace("300", "2000"), "")
    found = decisions(plan.joints[0], "{:.2f} mm".format)
    assert [each.split(":")[0] for each in found] == ["tongue", "groove wall"]
    assert all("splitting at the root uses 3" in each for each in found)
    assert all("Make it thicker, or load it less" in each for each in found)


def test_what_holds_is_none() -> None:
    assert decisions(porch_bench(PUSHED, "").joints[0], "{:.2f} mm".format) == []


def test_the_caution_is_told_once_a_joint() -> None:
    assert told(porch_bench(PUSHED, "")).count("A guide for furniture") == 1


def allowed(plan: Plan) -> float:
    found: float = strength(plan)[0]["checks"][0]["allowed"]
    return found


def test_wood_in_a_damp_room_may_be_loaded_less() -> None:
    dry, damp = (
        f"[climate]\ncutting = {{ moisture = 10 }}\nmonthly = {{ moisture = [{f'{m}, ' * 12}] }}\n"
        for m in (8, 16)
    )
    plain = allowed(porch_bench(PUSHED, ""))
    assert allowed(porch_bench(PUSHED, dry)) == plain  # dry wood is not counted on to be stronger
    assert allowed(porch_bench(PUSHED, damp)) < 0.95 * plain


def test_a_lasting_load_may_be_less_than_a_short_one() -> None:
    short = PUSHED.replace("400 }", '400, duration = "ten minutes" }')
    knotty = PUSHED.replace("400 }", "400, strength_ratio = 0.5 }")
    plain = allowed(porch_bench(PUSHED, ""))
    assert allowed(porch_bench(short, "")) > plain
    assert allowed(porch_bench(knotty, "")) == pytest.approx(plain / 2, abs=1e-4)


def test_an_end_grain_tongue_breaks_over_its_fibres() -> None:
    joint = JOINT.replace(
        'part = "back", edge = "opposite edge"', 'part = "side", edge = "head end"'
    )
    (tongue, wall) = strength(planned(PART, SIDES, boards(), boards("side"), joint, PUSHED))
    failures = [check["failure"] for check in tongue["checks"]]
    assert failures == ["breaking at the root", "shearing along the grain"]
    assert wall["decided_by"] == "splitting at the root"


# A drawer


def hung(load: str) -> Plan:
    strips = boards("runner", 2, width=18).replace("19.0", "7.2").replace("18.9", "7.2")
    return planned(SIDES, RUNNER, boards("side", 2), strips, HUNG, load)


def test_a_runner_carries_the_front_half_of_what_is_still_inside() -> None:
    plan = hung("load = { drawer_kg = 8, pulled_out = 300 }\n")
    (runner,) = strength(plan)
    joint = plan_json(plan)["joints"][0]
    length, thin = (
        joint["target"]["tongue_length_mm"],
        joint["as_made"]["tongue_thickness_least_mm"],
    )
    # Of 600 mm the half is out. Its weight hangs 225 mm before the middle of the back half; the
    # front half inside, 150 mm from there, holds it up: 1.5 of the weight, on two runners.
    force = 8 * 9.80665 * 225 / 150 / 2
    bent = 6 * force * (length / 2) / (150 * thin**2)
    sheared, pressed = 1.5 * force / (150 * thin), force / (150 * length)
    assert runner["member"] == "runner"
    assert stress(runner) == weighed([bent, sheared, pressed])


def test_a_hand_on_the_front_of_a_drawer_adds_to_it() -> None:
    plain, leant = (
        stress(strength(hung(f"load = {{ drawer_kg = 8{more} }}\n"))[0])
        for more in ("", ", lean = 100")
    )
    # The hand stands 525 mm before the middle of the back half, and the weight 225 mm.
    share = 1 + 100 * 525 / (8 * 9.80665 * 225)
    assert leant == pytest.approx([each * share for each in plain], abs=2e-4)


def test_a_runner_that_stands_further_out_is_bent_more() -> None:
    plan = hung("load = { drawer_kg = 8 }\n")
    length = plan_json(plan)["joints"][0]["target"]["tongue_length_mm"]
    further = hung(f"load = {{ drawer_kg = 8, projection = {length + 4} }}\n")
    bent, bent_more = (stress(strength(each)[0])[0] for each in (plan, further))
    assert bent_more / bent == pytest.approx((length / 2 + 4) / (length / 2), abs=2e-3)


def test_a_runner_cannot_enter_further_than_it_stands_out() -> None:
    with pytest.raises(RangeError, match="on a projection of 3 mm"):
        hung("load = { drawer_kg = 8, projection = 3 }\n")


def test_a_drawer_pulled_out_of_its_case_hangs_on_nothing() -> None:
    with pytest.raises(RangeError, match="pulled out 600 mm of 600 mm"):
        hung("load = { drawer_kg = 8, pulled_out = 600 }\n")


# Shelves


def shelf(plan: Plan) -> dict[str, Any]:
    (found,) = plan_json(plan)["shelves"]
    assert found["name"] == "upper"
    verdict: dict[str, Any] = found["strength"]
    return verdict


def test_a_shelf_sags_by_bending_and_shear_and_half_as_much_again_in_years() -> None:
    weight, modulus, area, inertia = 20 * 9.80665, 1.1 * 12000, 250 * 18, 250 * 18**3 / 12
    bent = 5 * weight * 800**3 / (384 * modulus * inertia)
    sheared = 1.2 * weight * 800 / (8 * area * modulus / 16)
    found = shelf(planned(SHELF))
    assert stress(found) == weighed(
        [weight * 800 / 8 * 9 / inertia, 1.5 * weight / 2 / area, 1.5 * (bent + sheared)]
    )
    assert (found["decided_by"], found["checks"][2]["allowed"]) == ("sagging", 4.0)


def test_a_load_on_its_middle_bends_a_shelf_twice_as_much() -> None:
    even, centre = (stress(shelf(planned(text))) for text in (SHELF, SHELF + 'spread = "centre"\n'))
    assert centre[0] == pytest.approx(2 * even[0], abs=1e-4)
    assert centre[2] / even[2] == pytest.approx(1.6, abs=0.01)


def test_green_wood_sags_more_in_years() -> None:
    dry, green = (stress(shelf(planned(text)))[2] for text in (SHELF, SHELF + "creep = 2\n"))
    assert green / dry == pytest.approx(2 / 1.5, abs=1e-3)


def test_a_shelf_has_a_heading_of_its_own() -> None:
    found = summary(planned(SHELF))
    assert "\nSHELF: upper ---" in found
    assert "\n\nSETUPS, in order of work" in found


# What cannot be told


def test_a_load_on_wood_that_is_not_told_asks_for_it() -> None:
    with pytest.raises(InputError) as caught:
        porch_bench(PUSHED, "", part=PART.replace('species = "Even wood"\n', ""))
    assert str(caught.value) == (
        "load of joint 'back', part 'back': a load is given for its joint, and it has no species. "
        'Write species = "..." for the part, or leave out the load.'
    )


def test_strengths_that_no_table_has_are_asked_for_all_at_once() -> None:
    with pytest.raises(InputError) as caught:
        porch_bench(PUSHED, "", part=PART.replace("Even wood", "Scots pine"))
    assert caught.value.where == "load of joint 'back', part 'back'"
    assert caught.value.what.startswith(
        "Scots pine: no shear along the grain and no tension across the grain is known"
    )
    assert caught.value.remedy == (
        "Give your own shear_par, tension_perp for it in the shop file (MPa)"
    )


def test_only_strengths_that_decide_have_to_be_known() -> None:
    """No table has compression across the grain of sapele, which a shelf does not need."""
    assert planned(SHELF.replace("Even wood", "sapele")).shelves[0].holds


def test_a_shelf_whose_timber_has_no_strengths_is_named() -> None:
    with pytest.raises(InputError) as caught:
        planned(SHELF.replace("Even wood", "European beech"))
    assert caught.value.where == "shelf 'upper'"
    assert caught.value.what.startswith("European beech: no bending strength, no shear along")


def test_a_shelf_of_a_timber_that_is_not_known_stops_the_plan() -> None:
    with pytest.raises(InputError, match="'ash' may mean "):
        planned(SHELF.replace("Even wood", "ash"))


WET = f"[climate]\ncutting = {{ moisture = 10 }}\nmonthly = {{ moisture = [{'22, ' * 12}] }}\n"


def test_wood_too_wet_to_judge_is_a_decision_and_no_verdict() -> None:
    plan = porch_bench(PUSHED, WET)
    found = plan_json(plan)["joints"][0]
    assert (found["strength"], found["strongest_proportion"]) == (None, None)
    assert "as wet as 22.0 %, and above 20 %" in found["strength_not_judged"]
    assert "! Whether it holds its load is not told: the wood gets as wet as 22.0 %" in told(plan)
    assert not plan.joints[0].settled


def test_a_shelf_too_wet_to_judge_is_a_decision_and_no_verdict() -> None:
    plan = planned(SHELF, WET)
    (found,) = plan_json(plan)["shelves"]
    assert found["strength"] is None
    assert "above 20 %" in found["strength_not_judged"]
    assert "! Whether it holds its load is not told" in told(plan)
    assert not plan.settled


def test_a_shelf_that_will_not_hold_is_a_decision() -> None:
    weak = planned(SHELF.replace("load_kg = 20", "load_kg = 90"))
    assert "! slat: sagging uses" in told(weak)
    assert not weak.settled
    assert "!" not in told(planned(SHELF))


# Boards of several species

FRAIL = 'species = "western red cedar"\n'


def test_of_several_species_the_weakest_counts_and_is_named() -> None:
    texts = [PART, boards(count=2), boards("zz", 1).replace('"zz"', '"back"') + FRAIL, JOINT]
    tongue, wall = strength(planned(*texts, PUSHED))
    frail, _ = strength(
        planned(PART.replace("Even wood", "western red cedar"), boards(), JOINT, PUSHED)
    )
    assert tongue["member"] == "tongue of Cedar, western red"
    assert wall["member"] == "groove wall of Cedar, western red"
    assert tongue["checks"][0]["allowed"] == frail["checks"][0]["allowed"]


# The strongest proportion


def test_the_strongest_proportion_is_told_to_scripts() -> None:
    plan = porch_bench(PUSHED, "")
    strongest = plan.joints[0].strength
    assert strongest is not None
    assert strongest.proportion is not None
    found = plan_json(plan)["joints"][0]["strongest_proportion"]
    assert found["tongue_thickness_mm"] + 2 * found["wall_thickness_mm"] == pytest.approx(
        found["board_thickness_mm"] - strongest.proportion.play, abs=2e-4
    )
    assert found["carries_more_than_thirds_share"] >= 0
    assert found["caution"].startswith("A guide for furniture")
