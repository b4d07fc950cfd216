import re

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from faywright.errors import InfeasibleError, InputError, RangeError
from faywright.timber.framed import Frame, FramedPanel, PanelRules, framed_panel
from faywright.timber.year import Swing
from tests.strategies import STEADY, lengths

shares = st.integers(0, 40).map(lambda number: number / 1000)


def swinging(swelling: float, shrinkage: float) -> Swing:
    return Swing(swelling=swelling, shrinkage=shrinkage, months=(-shrinkage,) * 6 + (swelling,) * 6)


def frame_of(width: float, height: float = 600, depth: float = 10) -> Frame:
    return Frame(opening_width=width, opening_height=height, groove_depth=depth)


frames = st.builds(
    Frame,
    opening_width=lengths(60, 900),
    opening_height=lengths(60, 900),
    groove_depth=lengths(4, 20),
)


@st.composite
def panels(draw: DrawFn) -> FramedPanel:
    frame, moves = draw(frames), swinging(draw(shares), draw(shares))
    try:
        return framed_panel(frame, moves, grain=draw(st.sampled_from(("upright", "level"))))
    except InfeasibleError:
        assume(False)
        raise


def test_a_panel_fills_opening_and_grooves_less_room_and_swelling() -> None:
    panel = framed_panel(frame_of(306), swinging(0.02, 0.0))
    assert panel.width == pytest.approx(325 / 1.026)  # 306 + 2 x 10 - 2 x 0.5
    assert panel.height == pytest.approx(619)
    assert panel.room == pytest.approx((326 - 325 / 1.026) / 2)


def test_a_level_grain_moves_in_height() -> None:
    upright = framed_panel(frame_of(300, 500), swinging(0.01, 0.01))
    level = framed_panel(frame_of(500, 300), swinging(0.01, 0.01), grain="level")
    assert (level.height, level.width) == (upright.width, upright.height)


def test_wood_that_does_not_move_needs_no_more_than_the_least_room() -> None:
    panel = framed_panel(frame_of(300), swinging(0.0, 0.0))
    assert (panel.room, panel.needs_pins) == (0.5, False)


@STEADY
@given(panels(), st.floats(0, 1))
def test_a_panel_never_bottoms_within_the_margin(panel: FramedPanel, part: float) -> None:
    swells = part * panel.rules.margin * panel.swing.swelling
    wide = panel.across * (1 + swells)
    assert wide <= panel.opening + 2 * panel.frame.groove_depth - 2 * panel.rules.room + 1e-9


@STEADY
@given(panels(), st.floats(0, 1))
def test_a_pinned_panel_never_leaves_its_grooves_within_the_margin(
    panel: FramedPanel, part: float
) -> None:
    shrinks = part * panel.rules.margin * panel.swing.shrinkage
    each_side = (panel.across * (1 - shrinks) - panel.opening) / 2
    assert each_side >= panel.rules.engagement - 1e-9


@STEADY
@given(panels(), st.floats(0, 1))
def test_a_panel_without_need_of_pins_may_drift_into_one_groove(
    panel: FramedPanel, part: float
) -> None:
    driest = panel.across * (1 - panel.rules.margin * panel.swing.shrinkage)
    other_side = driest - panel.opening - panel.frame.groove_depth
    assert panel.needs_pins == (other_side < panel.rules.engagement)
    changed = panel.at(-part * panel.swing.shrinkage)
    assert changed.far.size >= other_side - 1e-9


@STEADY
@given(panels(), st.floats(-0.04, 0.04))
def test_room_and_engagement_share_the_depth_of_the_groove(
    panel: FramedPanel, change: float
) -> None:
    state = panel.at(change)
    assert state.room.size + state.engaged.size == pytest.approx(panel.frame.groove_depth)
    assert panel.opening + 2 * state.engaged.size == pytest.approx(state.size.size)
    assert state.far.size == pytest.approx(2 * state.engaged.size - panel.frame.groove_depth)


@STEADY
@given(frames, shares, shares)
def test_the_depth_that_a_refusal_names_is_enough_and_a_little_less_is_not(
    frame: Frame, swelling: float, shrinkage: float
) -> None:
    moves = swinging(swelling, shrinkage)
    try:
        framed_panel(frame, moves)
    except InfeasibleError as refused:
        found = re.search(r"grooves ([\d.]+) mm deep", refused.remedy)
        assert found is not None
        depth = float(found[1])
        framed_panel(frame_of(frame.opening_width, depth=depth + 1e-9), moves)
        with pytest.raises(InfeasibleError):
            framed_panel(frame_of(frame.opening_width, depth=depth - 0.11), moves)


def test_a_wide_panel_in_shallow_grooves_is_refused_with_what_would_do() -> None:
    with pytest.raises(
        InfeasibleError,
        match=r"no panel has room in grooves 8 mm deep when wettest \(at most 799.4 mm today\) "
        r"and 3 mm of engagement when driest \(at least 816.6 mm today\)",
    ) as refused:
        framed_panel(frame_of(800, depth=8), swinging(0.015, 0.01))
    told = re.search(
        r"into (\d+) panels, none over an opening of more than (\d+) mm", refused.value.remedy
    )
    assert told is not None
    count, most = int(told[1]), int(told[2])
    framed_panel(frame_of(most, depth=8), swinging(0.015, 0.01))
    with pytest.raises(InfeasibleError):
        framed_panel(frame_of(most + 1, depth=8), swinging(0.015, 0.01))
    assert count * most >= 800 > (count - 1) * most


def test_no_number_of_panels_helps_where_a_groove_cannot_hold_its_engagement() -> None:
    with pytest.raises(InfeasibleError) as refused:
        framed_panel(frame_of(300, depth=3), swinging(0.01, 0.01))
    assert "muntins" not in refused.value.remedy


def test_the_year_of_a_panel_carries_the_scatter_of_boards() -> None:
    panel = framed_panel(frame_of(306), swinging(0.02, 0.01))
    january, july = panel.by_month[0], panel.by_month[6]
    assert january == panel.driest
    assert july == panel.wettest
    assert july.size.standard_uncertainty == pytest.approx(0.15 * 0.02 * panel.width)
    assert july.room.low == pytest.approx(0.5)
    assert january.engaged.size == pytest.approx((0.99 * panel.width - 306) / 2)


def test_a_grain_that_is_none_is_refused() -> None:
    with pytest.raises(InputError, match=r"grain .across. is not known\. Use upright or level"):
        framed_panel(frame_of(300), swinging(0, 0), grain="across")  # type: ignore[arg-type]  # the point


@pytest.mark.parametrize("field", ["opening_width", "opening_height", "groove_depth"])
def test_a_frame_without_a_size_is_refused(field: str) -> None:
    sizes = {"opening_width": 300.0, "opening_height": 300.0, "groove_depth": 10.0, field: 0.0}
    with pytest.raises(RangeError, match=f"{field.replace('_', ' ')} is 0"):
        Frame(**sizes)


@pytest.mark.parametrize(
    ("rules", "message"),
    [
        ({"margin": 0.5}, r"margin 0.5 times the movement is not between 1 and 3"),
        ({"engagement": 0.0}, r"engagement 0 mm is not between 0.5 and 50"),
        ({"room": -1.0}, r"room -1 mm is not between 0 and 10"),
    ],
)
def test_rules_beyond_reason_are_refused(rules: dict[str, float], message: str) -> None:
    with pytest.raises(RangeError, match=message):
        PanelRules(**rules)
