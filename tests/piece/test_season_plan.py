"""A whole plan with a climate: what it says of the seasons, and that it says nothing without."""

from __future__ import annotations

from typing import Any

import pytest

from faywright.errors import InputError, PlanError
from faywright.piece.plan import Plan
from faywright.piece.plan_json import plan_json
from faywright.piece.summary import decisions, summary
from tests.piece.porch import (
    CUT,
    JOINT,
    PART,
    PORCH,
    STILL,
    YEAR,
    boards,
    planned,
    porch_bench,
)

GLUED = JOINT.replace('"snug"', '"glued"')


def told(plan: Plan) -> str:
    """The summary in one line."""
    return " ".join(summary(plan).split())


def joint(plan: Plan) -> dict[str, Any]:
    found: dict[str, Any] = plan_json(plan)["joints"][0]
    return found


def decided(plan: Plan) -> list[str]:
    return decisions(plan.joints[0], "{:.2f} mm".format)


def mm(length: float) -> Any:
    return pytest.approx(length, abs=1e-4)


# Numbers


def test_the_gap_to_lay_and_the_year_are_those_of_plain_arithmetic() -> None:
    found = joint(porch_bench())
    length = found["target"]["tongue_length_mm"]
    # The last board has no tongue: its face is 120 mm wide, and that before it less the tongue.
    gap, last = 1.3 * 120 * 0.004 * 3, 120 - length / 2
    seasons = found["seasons"]
    assert seasons["gap_to_leave_when_laid_mm"] == mm(gap)
    assembly, dry, wet = seasons["moments"]
    assert [each["name"] for each in seasons["moments"]] == [
        *("assembly", "driest (dry spell)", "wettest (wet half)"),
    ]
    assert assembly["faces_open_greatest_mm"] == mm(gap)
    assert dry["faces_open_greatest_mm"] == mm(gap + last * 0.004 * 2)
    assert wet["faces_open_least_mm"] == mm(gap - last * 0.004 * 3)
    assert dry["tongue_in_groove_least_mm"] == mm(length * 0.992 - gap - last * 0.008)
    for at, moisture in zip(seasons["moments"], (10, 8, 13), strict=True):
        assert at["moisture_least_percent"] == at["moisture_greatest_percent"] == moisture


def test_the_clearance_of_a_season_is_that_of_a_groove_and_a_tongue_that_grew() -> None:
    found = joint(porch_bench())
    made = found["as_made"]
    for at, change in zip(found["seasons"]["moments"], (0.0, -0.004, 0.006), strict=True):
        # Flat boards get 0.2 % thicker for each percent: 2 less, then 3 more.
        least = made["groove_width_least_mm"] - made["tongue_thickness_greatest_mm"]
        most = made["groove_width_greatest_mm"] - made["tongue_thickness_least_mm"]
        bounds = (least * (1 + change) / 2 - 1e-4, most * (1 + change) / 2 + 1e-4)
        assert bounds[0] <= at["clearance_per_side_least_mm"] <= bounds[1]
        assert bounds[0] <= at["clearance_per_side_greatest_mm"] <= bounds[1]


def test_quarter_sawn_boards_open_half_as_much() -> None:
    quarter = porch_bench(part=PART + 'rings = "quarter-sawn"\n')
    assert joint(quarter)["seasons"]["gap_to_leave_when_laid_mm"] == mm(1.3 * 120 * 0.002 * 3)


def test_a_board_with_a_meter_reading_of_its_own_counts_with_that() -> None:
    wetter = boards().replace('mark = "b2"', 'mark = "b2"\nmoisture = 12')
    assembly = joint(planned(PART, wetter, JOINT, PORCH))["seasons"]["moments"][0]
    assert (assembly["moisture_least_percent"], assembly["moisture_greatest_percent"]) == (10, 12)


def test_an_assembly_that_is_wetter_leaves_less_of_a_gap() -> None:
    later = planned(
        PART, boards(), JOINT, CUT.replace("\ncut", "\nassembly = { moisture = 12 }\ncut"), YEAR
    )
    assert joint(later)["seasons"]["gap_to_leave_when_laid_mm"] == mm(1.3 * 120 * 0.004)


def test_the_climate_is_told_with_the_plan() -> None:
    assert plan_json(porch_bench())["climate"] == {
        "room": "the room",
        "moisture_at_cutting_percent": 10.0,
        "moisture_at_assembly_percent": None,
        "drift_between_cuts_percent": 0.5,
        "moisture_by_month_percent": [13.0] * 3 + [8.0] * 6 + [13.0] * 3,
    }


def test_a_named_room_and_an_assembly_are_told_with_the_plan() -> None:
    named = (
        '[climate]\nroom = "unheated porch"\ncutting = { temperature = 20, humidity = 50 }\n'
        "assembly = { moisture = 11 }\n"
    )
    found = plan_json(porch_bench(climate=named))["climate"]
    assert (found["room"], found["moisture_at_assembly_percent"]) == ("unheated porch", 11.0)
    assert len(found["moisture_by_month_percent"]) == 12


# Words


def test_the_words_tell_the_gap_to_lay_and_why() -> None:
    plan = porch_bench()
    assert (
        "Lay the boards 1.87 mm apart today: a face 120.00 mm wide grows 1.44 mm until it is "
        "wettest, times 1.3" in told(plan)
    )
    assert "Moisture of the wood: assembly 10.0 %, driest (dry spell) 8.0 %" in told(plan)


def test_boards_laid_at_their_wettest_are_laid_close() -> None:
    damp = CUT.replace("moisture = 10", "moisture = 13") + YEAR
    assert "Lay the boards close today" in told(porch_bench(climate=damp))


def test_a_tongue_made_longer_says_why() -> None:
    wide = planned(PART, boards(width=320), JOINT, PORCH)
    target = joint(wide)["target"]
    longer = target["tongue_length_mm"] - target["usual_tongue_length_mm"]
    assert target["usual_tongue_length_mm"] == mm(19.01 / 2)
    assert longer > 1
    assert "mm more than usual, so that 3.00 mm stays in" in told(wide)
    assert decided(wide) == []


def test_what_moisture_adds_is_among_the_errors() -> None:
    sources = {share["source"] for share in joint(porch_bench())["errors"]["shares"]}
    assert "moisture between groove and tongue" in sources


# Nothing of it without a climate


def test_without_a_climate_nothing_is_said_of_moisture() -> None:
    plan = porch_bench(climate="")
    assert plan_json(plan)["climate"] is None
    assert joint(plan)["seasons"] is None
    assert not {"moisture", "movement", "season", "wettest", "apart"} & set(told(plan).split())
    target = joint(plan)["target"]
    assert target["usual_tongue_length_mm"] == target["tongue_length_mm"]
    assert target["play_grows_until_assembly_mm"] == 0


def test_a_climate_that_does_not_change_changes_nothing() -> None:
    with_climate, without = (
        plan_json(porch_bench(climate=STILL)),
        plan_json(porch_bench(climate="")),
    )
    seasons = with_climate["joints"][0].pop("seasons")
    without["joints"][0].pop("seasons")
    with_climate.pop("climate")
    without.pop("climate")
    assert with_climate == without
    assert seasons["gap_to_leave_when_laid_mm"] == 0
    assert decided(porch_bench(climate=STILL)) == decided(porch_bench(climate="")) == []


def test_boards_without_species_are_no_matter_without_a_climate() -> None:
    plain = PART.replace('species = "Even wood"\n', "")
    assert joint(porch_bench(climate="", part=plain))["seasons"] is None


# Glued, and of sheet


def two_parts(fit: str) -> str:
    other = '[[part]]\nname = "rail"\ntimber = "softwood"\nspecies = "Even wood"\nrings = 90\n'
    joint = JOINT.replace('tongue = { part = "back"', 'tongue = { part = "rail"')
    return other + boards("rail") + joint.replace('"snug"', f'"{fit}"')


def band(plan: Plan) -> float:
    """How wide the band is that is cut for. [mm a side]"""
    cut = joint(plan)["as_cut"]
    width: float = cut["high_per_side_mm"] - cut["low_per_side_mm"]
    return width


def test_a_dry_joint_is_cut_to_a_narrower_band_for_its_seasons() -> None:
    # A third of 19 mm of the rail moves 0.4 and not 0.2 % for each of 5 percents between seasons.
    plain, moved = (planned(PART, boards(), two_parts("snug"), text) for text in ("", PORCH))
    assert band(plain) - band(moved) == pytest.approx(19 / 3 * 0.002 * 5 / 2, abs=0.002)
    assert decided(moved) == []


def test_glued_joints_are_cut_to_the_whole_band() -> None:
    plain, moved = (planned(PART, boards(), two_parts("glued"), text) for text in ("", PORCH))
    assert band(moved) == mm(band(plain))


def test_glued_boards_lay_no_gap() -> None:
    plan = planned(PART, boards(), GLUED, PORCH)
    assert joint(plan)["seasons"]["gap_to_leave_when_laid_mm"] == 0
    assert "Lay the boards" not in told(plan)
    assert "Clearance a side through the year" not in told(plan)


def test_an_end_grain_tongue_keeps_its_length_in_a_groove_whose_depth_moves() -> None:
    end = two_parts("snug").replace(
        '{ part = "rail", edge = "opposite', '{ part = "rail", edge = "head'
    )
    found = joint(planned(PART, boards(), end.replace("head edge", "head end"), PORCH))
    depth = found["target"]["groove_depth_mm"]
    length = found["target"]["tongue_length_mm"]
    for at, grown in zip(found["seasons"]["moments"], (0.0, -0.008, 0.012), strict=True):
        assert at["tongue_in_groove_least_mm"] == mm(length)
        assert at["bottom_least_mm"] == mm(depth * (1 + grown) - length)


def test_sheet_does_not_move_and_needs_no_species() -> None:
    sheet = PART.replace('"softwood"\nspecies = "Even wood"', '"sheet"')
    plan = porch_bench(part=sheet)
    assert joint(plan)["seasons"]["gap_to_leave_when_laid_mm"] == 0
    assert joint(plan)["target"]["tongue_length_mm"] == mm(19.01 / 2)


# What is left to decide


def test_a_short_tongue_is_lost_when_the_row_is_laid_and_the_plan_says_so() -> None:
    plan = porch_bench("tongue_length = 3\n")
    gap, dry = 1.3 * 120 * 0.012, (117 + 120) / 2 * 0.008
    assert decided(plan) == [
        f"assembly: only {3 - gap:.2f} mm of the tongue stays in. Make it longer, or use "
        "narrower boards",
        f"driest (dry spell): only {3 * 0.992 - gap - dry:.2f} mm of the tongue "
        "stays in. Make it longer, or use narrower boards",
        f"wettest (wet half): only {3 * 1.012 - gap + 117 * 0.012:.2f} mm of the tongue stays "
        "in. Make it longer, or use narrower boards",
    ]
    assert not plan.joints[0].settled
    assert "! driest (dry spell): only" in told(plan)


def test_a_tongue_that_falls_out_is_told_so() -> None:
    plan = planned(PART, boards(width=240), JOINT, "tongue_length = 4\n", PORCH)
    assert decided(plan)[1].startswith("driest (dry spell): the tongue leaves its groove")
    assert " 0.00 mm of the tongue is still in its groove" in told(plan)


def test_the_same_tongue_is_sound_where_nothing_moves() -> None:
    assert porch_bench("tongue_length = 3\n", STILL).joints[0].settled


def test_a_maker_who_is_content_with_less_is_told_less() -> None:
    assert decided(porch_bench("tongue_length = 4\nengagement = 0.5\n")) == []


# What cannot be reckoned


@pytest.mark.parametrize(
    ("species", "what"),
    [
        ("", "board b1 has no species, and a climate is given"),
        ('species = "ash"\n', "'ash' may mean "),
        ('species = "evn wood"\n', "no timber is called 'evn wood'"),
    ],
)
def test_a_board_whose_timber_is_not_known_stops_the_plan(species: str, what: str) -> None:
    with pytest.raises(InputError) as caught:
        porch_bench(part=PART.replace('species = "Even wood"\n', species))
    assert caught.value.what.startswith(what)
    assert "part 'back'" in caught.value.where
    assert caught.value.remedy


def test_one_board_of_another_timber_is_named() -> None:
    text = boards().replace('mark = "b2"', 'mark = "b2"\nspecies = "ash"')
    with pytest.raises(PlanError, match="board b2 of part 'back': 'ash' may mean"):
        planned(PART, text, JOINT, PORCH)


def test_wood_above_fibre_saturation_keeps_its_size() -> None:
    # Western red cedar begins to shrink at 22 %: a board read at 28 % is as large as at 22 %.
    part = PART.replace("Even wood", "western red cedar")
    at_22, at_28 = (
        joint(planned(part, boards(more=f"moisture = {read}\n"), JOINT, PORCH))["seasons"]
        for read in (22, 28)
    )
    for one, other in zip(at_22["moments"], at_28["moments"], strict=True):
        assert one | {"moisture_least_percent": 0, "moisture_greatest_percent": 0} == other | {
            "moisture_least_percent": 0,
            "moisture_greatest_percent": 0,
        }
