"""Proportions where timber moves: play for the day of assembly and every season, and room."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.joints.moving import LEAST_BOTTOM, Moving
from faywright.joints.proportion import BOTTOM_GAP, KEPT_BAND, Target
from tests.joints.builders import SNUG, exactly, joint
from tests.joints.moves import STILL, Percent, moment, moving, row_moving
from tests.strategies import STEADY

GLUED = replace(SNUG, glued=True)
ASKED = (0.16, 0.36, 0.56)
"""Least play, play to aim for and most play of the snug fit, both sides. [mm]"""

percents = st.integers(-300, 300).map(lambda number: number / 100)


def target(moves: Moving | None, *, row: bool = False, **wishes: Any) -> Target:
    """A joint of 21 mm boards, of two parts or in a row."""
    other = None if row else [21.0] * 3
    return joint([21.0] * 3, other, moving=moves, **wishes).target


def assembled(found: Target, grooved: float, tongued: float) -> float:
    """Play once both sides have changed by these percents across. [mm]"""
    return found.width * (1 + grooved / 100) - found.thickness * (1 + tongued / 100)


def put_together_at(grooved: float, tongued: float) -> Moving:
    """Both sides change across until assembly, and stay so."""
    at: tuple[Percent, Percent] = (grooved, 0.0), (tongued, 0.0)
    return moving(moment("driest", *at), moment("wettest", *at), assembly=moment("assembly", *at))


def seasons(driest: float, wettest: float) -> Moving:
    """Only the tongue changes across, by these percents; put together as it was cut."""
    return moving(moment("driest", STILL, (driest, 0.0)), moment("wettest", STILL, (wettest, 0.0)))


# The day of assembly


@given(grooved=percents, tongued=percents)
@STEADY
def test_the_play_asked_for_is_that_of_the_assembled_joint(grooved: float, tongued: float) -> None:
    found = target(put_together_at(grooved, tongued))
    # What the play that is taken off would move itself is left out: 3 % of at most 0.43 mm.
    assert assembled(found, grooved, tongued) == pytest.approx(ASKED[1], abs=0.013)
    assert found.grows == pytest.approx((grooved - tongued) / 100 * 7.0, abs=0.011)
    assert found.play == exactly(found.width - found.thickness)


@given(grooved=percents, tongued=percents)
@STEADY
def test_the_band_is_shifted_with_the_play(grooved: float, tongued: float) -> None:
    found = target(put_together_at(grooved, tongued))
    assert [each + found.grows for each in found.band] == exactly([ASKED[0], ASKED[2]])
    assert found.play + found.grows == exactly(ASKED[1])


def test_a_given_groove_gets_the_tongue_that_fits_when_assembled() -> None:
    found = target(put_together_at(0.0, 2.0), groove_width=8.0)
    assert found.width == 8.0
    assert 8.0 - found.thickness * 1.02 == pytest.approx(ASKED[1], abs=0.004)


def test_a_given_tongue_gets_the_groove_that_fits_when_assembled() -> None:
    found = target(put_together_at(-2.0, 0.0), tongue_thickness=7.0)
    assert found.thickness == 7.0
    assert found.width * 0.98 - 7.0 == pytest.approx(ASKED[1], abs=0.01)


def test_without_movement_nothing_is_shifted_or_longer() -> None:
    assert target(moving()) == target(None)
    assert target(None).grows == 0.0


# The seasons


def test_a_fit_that_is_not_glued_leaves_the_seasons_room_at_both_ends() -> None:
    found = target(seasons(-1.0, 1.0))  # the tongue of 7 mm gains and loses 0.07
    assert found.band == exactly((0.16 + 0.07, 0.56 - 0.07))
    assert found.play == exactly(0.36)


def test_a_tongue_that_only_swells_later_starts_loose_enough() -> None:
    found = target(seasons(0.0, 3.6))  # 0.252 more
    assert found.band == exactly((0.412, 0.56))
    assert found.play == exactly(0.412)


def test_in_every_season_the_play_stays_in_the_fit() -> None:
    found = target(seasons(-1.2, 2.0))
    for play in found.band:
        for tongued in (-1.2, 2.0):
            changed = play - found.thickness * tongued / 100
            assert ASKED[0] - 0.002 <= changed <= ASKED[2] + 0.002


def test_a_glued_joint_keeps_the_whole_band() -> None:
    assert target(seasons(-1.0, 1.0), fit=GLUED).band == exactly((0.16, 0.56))


def test_a_glued_joint_is_still_cut_for_the_day_of_assembly() -> None:
    found = target(put_together_at(0.0, 1.0), fit=GLUED)
    assert found.grows == exactly(-0.07)
    assert found.band == exactly((0.23, 0.63))


def test_seasons_wider_than_the_fit_leave_the_band_as_it_is() -> None:
    assert target(seasons(-3.0, 3.0)).band == exactly((0.16, 0.56))


@pytest.mark.parametrize(("swing", "kept"), [(0.27, False), (0.29, True)])
def test_a_third_of_the_band_at_least_is_left_for_the_cutting(swing: float, kept: bool) -> None:
    assert KEPT_BAND == 0.3  # of 0.40 mm, so that the seasons may have 0.28
    found = target(seasons(0.0, 100 * swing / 7))
    assert (found.band == exactly((0.16, 0.56))) is kept


# Length and depth


def test_a_row_of_boards_gets_the_tongue_that_stays_in() -> None:
    found = target(row_moving(-2.0, 2.0), row=True)
    # 3 mm stay in: (3 + 120 x 0.052) / (1 + 0.013 - 0.026) = 9.362, and the usual is more
    assert (found.usual_length, found.length) == exactly((10.5, 10.5))
    wide = target(row_moving(-2.0, 2.0), row=True, width=180.0)
    assert (wide.usual_length, wide.length) == exactly((10.5, 12.6))  # 12.523
    assert wide.depth >= wide.length + BOTTOM_GAP - 1e-9


def test_a_usual_tongue_is_never_made_shorter_for_movement() -> None:
    assert target(row_moving(-0.1, 0.1), row=True).length == exactly(10.5)


@pytest.mark.parametrize("wishes", [{"tongue_length": 6.0}, {"groove_depth": 7.0}])
def test_lengths_that_the_maker_gives_are_kept(wishes: dict[str, float]) -> None:
    found = target(row_moving(-3.0, 3.0), row=True, width=180.0, **wishes)
    kept = {"tongue_length": found.length, "groove_depth": found.depth}
    assert {key: kept[key] for key in wishes} == wishes
    assert found.length <= 6.0


def test_glued_boards_in_a_row_keep_the_usual_tongue() -> None:
    assert target(row_moving(-3.0, 3.0), row=True, width=180.0, fit=GLUED).length == exactly(10.5)


def test_the_frame_of_a_panel_keeps_the_usual_tongue() -> None:
    assert target(row_moving(-3.0, 3.0), width=180.0).length == exactly(10.5)


def test_a_maker_may_ask_for_more_tongue_to_stay_in() -> None:
    season = (moment("driest", (0.0, -2.0)), moment("wettest", (0.0, 2.0)))
    found = target(moving(*season, engagement=6.0), row=True)
    assert found.length == exactly(12.5)  # (6 + 6.24) / 0.987 = 12.401


@given(grooved=percents, tongued=percents)
@STEADY
def test_the_groove_is_deep_enough_never_to_bottom(grooved: float, tongued: float) -> None:
    found = target(moving(moment("wettest", (0.0, grooved), (0.0, tongued))))
    lost = found.length * tongued / 100 - found.depth * grooved / 100
    # The last thousandths: the groove that is made deeper has more depth to lose.
    assert found.depth - found.length - 1.3 * lost >= LEAST_BOTTOM - 0.02
    assert found.depth - found.length >= BOTTOM_GAP - 1e-9


def test_a_tongue_that_swells_much_gets_a_deeper_groove() -> None:
    found = target(moving(moment("wettest", STILL, (0.0, 5.0))))
    assert found.depth - found.length == exactly(0.5 + 1.3 * 0.525)


def test_a_depth_that_is_given_gets_a_shorter_tongue() -> None:
    found = target(moving(moment("wettest", STILL, (0.0, 8.0))), groove_depth=10.0)
    assert found.depth == 10.0
    assert found.length == exactly(10.0 - 0.5 - 1.3 * 0.08 * 9.0)


def test_a_gap_that_is_given_is_kept() -> None:
    found = target(moving(moment("wettest", STILL, (0.0, 8.0))), bottom_gap=0.2)
    assert found.depth - found.length == exactly(0.2)
