"""Rows, framed panels and drawers of a piece, through files, plan, words and JSON."""

import json
from dataclasses import replace
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from faywright.drawing.years import years
from faywright.errors import DocumentError, InfeasibleError, InputError
from faywright.piece.plan import Plan
from faywright.piece.plan_json import SCHEMA_FILE, plan_json
from faywright.piece.summary import summary
from faywright.timber.rows import Row, ShortPile
from tests.piece.porch import JOINT, PART, PORCH, boards, planned

SCHEMA = json.loads(files("faywright").joinpath(SCHEMA_FILE).read_text(encoding="utf-8"))

PANEL = '[[panel]]\nname = "seat back"\njoint = "back"\nwidth = 500\n'
FRAMED = (
    '[[framed]]\nname = "end"\nspecies = "Even wood"\nrings = "flat"\n'
    "opening_width = 300\nopening_height = 400\ngroove_depth = 10\n"
)
DRAWER = (
    '[[drawer]]\nname = "till"\nspecies = "Even wood"\nrings = "quarter"\n'
    "opening_width = 400\nopening_height = 101\n"
)
MARGIN = 1.3


def porch(*wishes: str, count: int = 5, climate: str = PORCH) -> Plan:
    return planned(PART, boards(count=count), JOINT, climate, *wishes)


def told(plan: Plan) -> dict[str, Any]:
    found = plan_json(plan)
    Draft202012Validator(SCHEMA).validate(found)
    return found


def test_equal_boards_and_their_gaps_fill_the_width() -> None:
    (found,) = porch(PANEL + "count = 4\n").rows
    assert isinstance(found.row, Row)
    # 3 % wetter at 0.4 % for each percent swells a face by 1.2 %, times the margin at 4 gaps.
    face = 500 / (4 * (1 + MARGIN * 0.012))
    assert found.row.faces == pytest.approx([face] * 4)
    assert found.row.gap == pytest.approx(MARGIN * 0.012 * face)


def test_given_boards_stand_in_the_order_of_the_joint_and_say_what_is_left_over() -> None:
    plan = porch(PANEL)
    (panel,) = told(plan)["panels"]
    assert [board["mark"] for board in panel["boards"]] == ["b1", "b2", "b3", "b4", "b5"]
    faces = sum(board["face_mm"] for board in panel["boards"])
    assert faces + 5 * panel["gap_mm"] == pytest.approx(500, abs=0.01)
    assert panel["side_gap_mm"] == pytest.approx(panel["gap_mm"] / 2, abs=1e-4)


def test_the_wettest_month_closes_the_row_without_a_push() -> None:
    (panel,) = told(porch(PANEL + "count = 4\n"))["panels"]
    openings = [month["mm"] for month in panel["opening_by_month"]]
    assert min(openings) == pytest.approx(panel["gap_mm"] * (1 - 1 / MARGIN), abs=0.001)
    assert max(openings) == openings[5]  # June, in the dry spell


def test_a_pile_that_is_short_is_told_and_leaves_a_decision() -> None:
    plan = porch(PANEL, count=3)
    assert isinstance(plan.rows[0].row, ShortPile)
    assert told(plan)["panels"][0]["short_by_mm"] > 0
    assert not plan.settled
    assert "! 3 boards do not fill 500.00 mm" in " ".join(summary(plan).split())


def test_the_joint_leaves_the_gaps_to_its_panel() -> None:
    assert "Lay the boards" in summary(porch())
    words = summary(porch(PANEL))
    assert "Lay the boards" not in words
    assert "stands with panel seat back" in " ".join(words.split())
    assert told(porch(PANEL))["joints"][0]["seasons"]["gap_to_leave_when_laid_mm"] is None


def test_a_framed_panel_is_cut_to_swell_into_its_grooves() -> None:
    (panel,) = told(porch(FRAMED))["framed"]
    # 300 + 2 x (10 - 0.5) wide at the wettest, 1.2 % times the margin above today.
    assert panel["width_mm"] == pytest.approx(319 / (1 + MARGIN * 0.012), abs=1e-3)
    assert panel["height_mm"] == 419


def test_a_drawer_is_made_lower_by_what_its_sides_will_swell() -> None:
    (drawer,) = told(porch(DRAWER))["drawers"]
    # Quarter-sawn, it swells 0.2 % for each percent; 0.8 mm stay open.
    assert drawer["height_mm"] == pytest.approx(100.2 / (1 + MARGIN * 0.006), abs=1e-3)


@pytest.mark.parametrize("table", [PANEL, FRAMED, DRAWER])
def test_a_panel_without_a_climate_is_asked_for_one(table: str) -> None:
    with pytest.raises(DocumentError, match=r"without a climate.*Add a \[climate\] table"):
        porch(table, climate="")


def test_a_joint_that_is_no_row_has_no_panel() -> None:
    rail = PART.replace('"back"', '"rail"')
    pair = JOINT.replace('tongue = { part = "back"', 'tongue = { part = "rail"')
    with pytest.raises(DocumentError, match="do not stand in a row"):
        planned(PART, rail, boards(count=2), boards("rail", 2), pair, PORCH, PANEL)


def test_a_piece_made_in_python_is_held_to_its_joints_too() -> None:
    piece = porch(PANEL).piece
    with pytest.raises(InputError, match="no joint 'back'"):
        replace(piece, joints=())


def test_a_panel_of_an_unknown_joint_names_those_there_are() -> None:
    with pytest.raises(DocumentError, match='Use one of "back"'):
        porch(PANEL.replace('joint = "back"', 'joint = "bank"'))


def test_a_board_with_its_own_meter_reading_counts_where_assembly_is_not_given() -> None:
    wet = planned(PART, boards(count=5, more="moisture = 13\n"), JOINT, PORCH, PANEL)
    (row,) = wet.rows
    assert isinstance(row.row, Row)
    assert row.row.gap == 0.0


RUNNER = (
    '[[part]]\nname = "slip"\ntimber = "hardwood"\nspecies = "Even wood"\n'
    '[[joint]]\nname = "slips"\nfamily = "runner"\nstrip = "slip"\nfit = "sliding"\n'
    'groove = { part = "back", edge = "face B" }\n'
)


def test_runners_in_two_sides_are_no_row() -> None:
    slips = boards("slip", 2, width=20)
    panel = PANEL.replace('joint = "back"', 'joint = "slips"')
    with pytest.raises(DocumentError, match="do not stand in a row"):
        planned(PART, RUNNER, boards(count=2), slips, PORCH, panel)


def test_boards_joined_end_to_end_are_no_row() -> None:
    ends = JOINT.replace("reference edge", "head end").replace("opposite edge", "foot end")
    with pytest.raises(DocumentError, match="Name a joint between two edges"):
        planned(PART, boards(count=3), ends, PORCH, PANEL)


GLUED = JOINT.replace('fit = "snug"', 'fit = "glued"')


@pytest.mark.parametrize(
    ("joint", "laid", "said"),
    [
        (GLUED, "free sides", "joint 'back' is glued, and the row is laid with free sides"),
        (JOINT, "glued", "the row is glued, and the snug fit of joint 'back' is dry"),
    ],
)
def test_a_row_is_glued_where_its_joint_is(joint: str, laid: str, said: str) -> None:
    with pytest.raises(DocumentError, match=said):
        planned(PART, boards(count=5), joint, PORCH, PANEL + f'laid = "{laid}"\n')


def test_a_row_of_a_glued_joint_is_glued_unless_told() -> None:
    (found,) = planned(PART, boards(count=5), GLUED, PORCH, PANEL).rows
    assert found.row.task.laid == "glued"


def test_the_boards_of_a_joint_fill_one_row_only() -> None:
    other = PANEL.replace('"seat back"', '"seat front"')
    with pytest.raises(DocumentError, match='joint: "back" is that of line'):
        porch(PANEL + other)


def test_each_board_swings_from_its_own_meter_reading() -> None:
    """One dry board asks for the widest gap; what to expect is that of all together."""
    texts = [boards(count=4), boards(count=5, more="moisture = 8\n").split("[[board]]\n")[-1]]
    plan = planned(PART, texts[0], "[[board]]\n", texts[1], JOINT, PORCH, PANEL)
    (found,) = plan.rows
    assert isinstance(found.row, Row)
    assert found.assembled == pytest.approx((4 * 10 + 8) / 5)
    own = 1.012 / 0.992 - 1  # from 8 to 13 %, sizes as parts of that at 10 %
    assert found.row.gap == pytest.approx(MARGIN * own * max(found.row.faces))
    assert found.row.task.swing.months[0] == pytest.approx((4 * 0.012 + own) / 5)


def test_boards_of_sheet_stand_still() -> None:
    sheet = PART.replace('"softwood"', '"sheet"')
    (found,) = planned(sheet, boards(count=5), JOINT, PORCH, PANEL).rows
    assert isinstance(found.row, Row)
    assert (found.row.gap, found.row.task.swing.swelling) == (0.0, 0.0)


def test_a_loose_tongue_of_a_row_is_held_as_far_as_it_may_slide() -> None:
    strip = '[[part]]\nname = "slip"\ntimber = "sheet"\n'
    loose = JOINT.replace('"tongue and groove"', '"loose tongue"\nstrip = "slip"')
    loose = loose.replace("tongue = {", "second_groove = {").replace("snug", "panel")
    slip = '[[board]]\nmark = "s1"\npart = "slip"\nwidth = 60\nlength = 900\nthickness = [6.0]\n'
    plan = planned(PART, strip, boards(count=5), slip, loose, PORCH, PANEL)
    (joint,), (found,) = plan.joints, plan.rows
    assert isinstance(found.row, Row)
    target = joint.task.target
    shrinks = MARGIN * 0.008 * max(found.row.at_joints)
    held = 2 * target.length - target.depth
    assert found.row.engagement == pytest.approx(held - found.row.gap - shrinks)
    assert found.row.keeps_hold


@pytest.mark.parametrize(
    ("table", "place"), [(FRAMED, "framed panel 'end'"), (DRAWER, "drawer 'till'")]
)
def test_sheet_material_needs_no_room_to_move(table: str, place: str) -> None:
    with pytest.raises(InputError, match="'birch plywood' is sheet material") as caught:
        porch(table.replace("Even wood", "birch plywood"))
    assert caught.value.where == place


def test_grooves_too_shallow_for_a_framed_panel_name_it() -> None:
    with pytest.raises(InfeasibleError, match="framed panel 'end': no panel has room"):
        porch(FRAMED.replace("groove_depth = 10", "groove_depth = 4"))


def test_what_is_known_of_a_timbers_figures_is_told() -> None:
    words = " ".join(summary(porch(FRAMED.replace("Even wood", "sapele"))).split())
    assert "Of the timber, Sapele: a European table has movement for it" in words


def test_months_of_a_chart_are_those_of_the_boards() -> None:
    wet = planned(PART, boards(count=5, more="moisture = 12\n"), JOINT, PORCH, PANEL)
    (year,) = years(wet)
    assert year.assembly_moisture == 12
