"""Every drawing of whole plans, drawn at random: nothing runs over anything."""

from __future__ import annotations

import pytest
import shapely

from faywright.drawing.drawings import PlanDrawing, plan_drawings
from faywright.drawing.heading import SHEET_WIDTH
from faywright.joints import grooves, tongues
from faywright.piece.plan import Plan
from tests.drawing.paper import legible
from tests.drawing.random_plans import plans

MARGINS = 12.0
MANY = 210
AT_ONCE = 12

NEVER_SAFE = {grooves.BOTH_FACES_INWARD, tongues.ON_EDGE_ONE_FACE}
"""Ways that are offered to be refused: no plan has them."""


def sound(each: PlanDrawing) -> bool:
    """Whether a drawing is legible, all of it on its sheet, and the sheet on paper."""
    drawing = each.drawing
    assert legible(drawing), each.stem
    (left, top), (wide, high) = drawing.origin, drawing.size
    sheet = shapely.box(left, top, left + wide, top + high)
    assert all(sheet.covers(shapely.box(*mark.bounds)) for mark in drawing.marks), each.stem
    assert wide - MARGINS <= SHEET_WIDTH + 1e-6, each.stem
    return True


def judged(seed: int, plan: Plan) -> int:
    """How many drawings a plan has, all of them sound."""
    drawings = list(plan_drawings(plan))
    for each in drawings:
        try:
            assert sound(each)
        except AssertionError as error:
            raise AssertionError(f"seed {seed}, {each.stem}: {error}") from error
    assert len({each.stem for each in drawings}) == len(drawings)
    return len(drawings)


@pytest.mark.parametrize("first", [1000, 2000, 3000, 4000])
def test_no_lettering_runs_over_anything_in_any_drawing(first: int) -> None:
    counts = [judged(seed, plan) for seed, plan in plans(first, AT_ONCE)]
    assert len(counts) == AT_ONCE
    assert min(counts) >= 6


@pytest.mark.soak
def test_no_lettering_runs_over_anything_in_very_many_plans() -> None:
    done = 0
    ways, families, styles, settings = set(), set(), set(), 0
    for seed, plan in plans(10_000, MANY):
        assert judged(seed, plan)
        done += 1
        for joint in plan.joints:
            ways |= {joint.solution.groove.name, joint.solution.tongue.name}
            families.add(joint.wanted.family)
            settings = max(settings, len(joint.solution.tongue_groups))
        styles.add(plan.shop.habits.style.style)
    assert done == MANY
    asked = {*grooves.GROOVE_METHODS, *tongues.TONGUE_METHODS, *tongues.HALF_METHODS}
    assert ways == asked - NEVER_SAFE
    assert families == {"tongue and groove", "loose tongue", "runner"}
    assert styles == {"mm", "decimal inch", "fraction inch"}
    assert settings > 2
