"""Rows, framed panels and drawers of a piece, through files, plan, words and JSON."""

import json
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from faywright.errors import DocumentError, InputError
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
    with pytest.raises(InputError, match="do not stand in a row"):
        planned(PART, rail, boards(count=2), boards("rail", 2), pair, PORCH, PANEL)


def test_a_panel_of_an_unknown_joint_names_those_there_are() -> None:
    with pytest.raises(DocumentError, match='Use one of "back"'):
        porch(PANEL.replace('joint = "back"', 'joint = "bank"'))


def test_a_board_with_its_own_meter_reading_counts_where_assembly_is_not_given() -> None:
    wet = planned(PART, boards(count=5, more="moisture = 13\n"), JOINT, PORCH, PANEL)
    (row,) = wet.rows
    assert isinstance(row.row, Row)
    assert row.row.gap == 0.0
