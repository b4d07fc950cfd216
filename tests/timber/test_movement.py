from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from faywright.errors import InputError, RangeError
from faywright.timber.moisture import equilibrium_moisture
from faywright.timber.movement import (
    RING_ANGLES,
    Grain,
    Movement,
    Shrinkage,
    across_thickness,
    across_width,
    implied_coefficient,
)
from tests.strategies import STEADY

CHERRY = Shrinkage(0.00126, 0.00248, 3.7, 7.1)
CEDAR = Shrinkage(0.00111, 0.00234, 2.4, 5.0, 22.0)

angles = st.floats(0, 90)
moistures = st.floats(0, 30)


@st.composite
def shrinkages(draw: DrawFn) -> Shrinkage:
    """Some species, with coefficient, total shrinkage or both, livelier along the rings."""
    radial = draw(st.floats(1.5, 6))
    tangential = radial + draw(st.floats(0.5, 6))
    off = draw(st.floats(0.8, 1.25))
    known = draw(st.sampled_from(["both", "coefficients", "totals"]))
    coefficients = [off * implied_coefficient(total) for total in (radial, tangential)]
    if known == "totals":
        return Shrinkage(None, None, radial, tangential)
    if known == "coefficients":
        return Shrinkage(coefficients[0], coefficients[1], None, None)
    return Shrinkage(coefficients[0], coefficients[1], radial, tangential)


@st.composite
def movements(draw: DrawFn) -> Movement:
    across = draw(st.sampled_from([across_width, across_thickness]))
    return across(draw(shrinkages()), draw(angles))


@STEADY
@given(movements(), moistures)
def test_without_a_change_of_moisture_nothing_moves(movement: Movement, moisture: float) -> None:
    assert movement.change(200, moisture, moisture) == 0
    assert movement.size(200, moisture, moisture) == 200


@STEADY
@given(movements(), moistures, moistures)
def test_wetter_wood_is_wider(movement: Movement, one: float, two: float) -> None:
    dry, wet = sorted([one, two])
    assert movement.change(100, dry, wet) >= 0 >= movement.change(100, wet, dry)
    if wet - dry > 0.001:
        assert movement.change(100, dry, wet) > 0 > movement.change(100, wet, dry)


@STEADY
@given(movements(), st.lists(moistures, min_size=1, max_size=8))
def test_wood_wetted_and_dried_comes_back_to_its_size(
    movement: Movement, year: list[float]
) -> None:
    size = 300.0
    for start, end in zip(year, [*year[1:], year[0]], strict=True):
        size = movement.size(size, start, end)
    assert size == pytest.approx(300, rel=1e-13)


@STEADY
@given(movements(), moistures, moistures, moistures)
def test_a_change_in_two_steps_is_the_change_in_one(
    movement: Movement, start: float, between: float, end: float
) -> None:
    halfway = movement.size(100, start, between)
    in_steps = movement.change(100, start, between) + movement.change(halfway, between, end)
    assert in_steps == pytest.approx(movement.change(100, start, end), abs=1e-11)


@STEADY
@given(movements(), st.sampled_from([6.0, 14.0]))
def test_the_laws_meet_at_6_and_at_14_percent(movement: Movement, edge: float) -> None:
    before, at, after = (movement.relative_size(edge + step) for step in (-1e-9, 0.0, 1e-9))
    assert before < at < after
    assert after - before < 1e-10


@STEADY
@given(shrinkages(), st.sampled_from([6.0, 14.0]))
def test_where_both_tables_agree_there_is_no_corner(shrinkage: Shrinkage, edge: float) -> None:
    agreed = replace(shrinkage, radial_coefficient=None, radial_total=4.0)
    movement = across_width(agreed, 90)
    below, above = movement.change(1, edge, edge - 0.5), movement.change(1, edge, edge + 0.5)
    assert below == pytest.approx(-above, rel=1e-9)


@STEADY
@given(shrinkages(), angles, moistures, moistures)
def test_a_board_moves_between_its_radial_and_its_tangential_change(
    shrinkage: Shrinkage, angle: float, start: float, end: float
) -> None:
    radial, tangential = (across_width(shrinkage, rings).change(1, start, end) for rings in (90, 0))
    for across in (across_width, across_thickness):
        moved = across(shrinkage, angle).change(1, start, end)
        assert min(radial, tangential) - 1e-12 <= moved <= max(radial, tangential) + 1e-12


@STEADY
@given(shrinkages(), angles)
def test_the_thickness_lies_square_to_the_width(shrinkage: Shrinkage, angle: float) -> None:
    thickness = across_thickness(shrinkage, angle).relative_size(20.0)
    assert thickness == pytest.approx(across_width(shrinkage, 90 - angle).relative_size(20.0))


@STEADY
@given(shrinkages(), angles, angles)
def test_width_moves_less_the_steeper_the_rings(
    shrinkage: Shrinkage, one: float, two: float
) -> None:
    flatter, steeper = sorted([one, two])
    less = across_width(shrinkage, steeper).coefficient
    assert less <= across_width(shrinkage, flatter).coefficient + 1e-15


@STEADY
@given(movements(), moistures, st.lists(moistures, min_size=1, max_size=20))
def test_an_array_has_the_figures_of_its_entries(
    movement: Movement, start: float, ends: list[float]
) -> None:
    table = np.array(ends)
    each = [movement.change(150, start, end) for end in ends]
    assert movement.change(150, start, table).tolist() == pytest.approx(each, rel=1e-12, abs=1e-12)
    sizes = [movement.size(150, start, end) for end in ends]
    assert movement.size(150, start, table).tolist() == pytest.approx(sizes, rel=1e-13)


@STEADY
@given(movements(), moistures, moistures)
def test_a_change_has_the_unit_of_its_size(movement: Movement, start: float, end: float) -> None:
    inches = movement.change(10 / 25.4, start, end)
    assert 25.4 * inches == pytest.approx(movement.change(10, start, end), rel=1e-12, abs=1e-15)


def test_single_figures_give_plain_floats() -> None:
    movement = across_width(CHERRY, 20)
    assert type(movement.relative_size(8)) is float
    assert type(movement.size(100, 8, 12)) is float
    assert type(movement.standard_uncertainty(movement.change(100, 8, 12))) is float


def test_a_year_of_air_by_the_hour_makes_a_year_of_widths() -> None:
    hours = np.arange(8760)
    humidity = 50 + 15 * np.sin(2 * np.pi * hours / 8760)
    widths = across_width(CHERRY, "flat").size(300, 8, equilibrium_moisture(20, humidity))
    assert widths.shape == (8760,)
    assert widths.argmax() == humidity.argmax()
    assert 299 < widths.min() < 300 < widths.max() < 304


@pytest.mark.parametrize("grain", RING_ANGLES)
def test_a_cut_by_name_is_its_angle(grain: Grain) -> None:
    assert across_width(CHERRY, grain) == across_width(CHERRY, RING_ANGLES[grain])


def test_flat_and_quarter_are_the_tabled_directions_exactly() -> None:
    assert across_width(CHERRY, "flat").coefficient == 0.00248
    assert across_width(CHERRY, "quarter").coefficient == 0.00126
    assert across_thickness(CHERRY, "flat").coefficient == 0.00126
    assert across_thickness(CHERRY, "quarter").coefficient == 0.00248
    assert across_width(CHERRY, "rift").coefficient == pytest.approx((0.00248 + 0.00126) / 2)


@pytest.mark.parametrize("angle", [10.0, 30.0, 72.5])
def test_between_them_the_squares_of_cosine_and_sine_share(angle: float) -> None:
    a = math.radians(angle)
    shared = 0.00248 * math.cos(a) ** 2 + 0.00126 * math.sin(a) ** 2
    assert across_width(CHERRY, angle).coefficient == pytest.approx(shared, rel=1e-12)


# What is not known


def test_the_total_shrinkage_alone_will_do_and_the_basis_says_so() -> None:
    movement = across_width(Shrinkage(None, None, None, 7.8), "flat")
    assert movement.coefficient == 7.8 / (3000 - 20 * 7.8)
    assert movement.basis == "tangential coefficient 0.00274 worked out from the total shrinkage"


def test_the_coefficient_alone_will_do_and_the_basis_says_so() -> None:
    movement = across_width(Shrinkage(None, 0.0025, None, None), "flat")
    assert movement.change(100, 10, 25) == pytest.approx(0.25 * 15)
    assert movement.basis == (
        "tangential coefficient, used beyond 6 to 14 % for want of the total shrinkage"
    )


def test_both_figures_are_used_each_where_it_holds() -> None:
    said = "tangential coefficient from 6 to 14 %, total shrinkage outside"
    assert across_width(CHERRY, "flat").basis == said
    assert across_width(CHERRY, 20).basis == f"{said}; {said.replace('tangential', 'radial')}"


def test_figures_that_disagree_are_used_and_told() -> None:
    """True mahogany: the Handbook's two tables rest on different boards."""
    mahogany = Shrinkage(0.00172, 0.00238, 3.0, 4.1)
    movement = across_width(mahogany, "flat")
    assert movement.coefficient == 0.00238
    assert movement.basis.endswith("which disagrees: it would make the coefficient 0.00141")


@pytest.mark.parametrize("rings", [0.5, "rift", "quarter"])
def test_a_direction_that_counts_must_be_known(rings: Grain | float) -> None:
    with pytest.raises(InputError, match=r"neither the radial coefficient nor .* Enter the radial"):
        across_width(Shrinkage(None, 0.0025, None, 7.1), rings)


def test_a_direction_that_does_not_count_need_not_be_known() -> None:
    assert across_width(Shrinkage(None, 0.0025, None, 7.1), "flat").coefficient == 0.0025
    assert across_thickness(Shrinkage(None, 0.0025, None, 7.1), 90).coefficient == 0.0025
    assert across_width(Shrinkage(0.0013, None, None, None), "quarter").coefficient == 0.0013


# What cannot be


@pytest.mark.parametrize(
    ("species", "moisture", "said"),
    [
        (CHERRY, 34, r"^movement: moisture of 34 % is outside 0 to 30 %: above that, fibre sat"),
        (CHERRY, 30.001, r"moisture of 30\.001 % .* exactly 30 % for wood that was sized green"),
        (CEDAR, 23, r"moisture of 23 % is outside 0 to 22 %"),
        (CHERRY, -1, r"moisture of -1 %"),
        (CHERRY, math.nan, r"moisture of nan %"),
    ],
)
def test_moisture_beyond_fibre_saturation_is_refused_at_either_end(
    species: Shrinkage, moisture: float, said: str
) -> None:
    movement = across_width(species, "flat")
    for start, end in ((moisture, 10.0), (10.0, moisture)):
        with pytest.raises(RangeError, match=said):
            movement.change(100, start, end)


def test_of_many_moistures_the_first_wrong_one_is_named() -> None:
    with pytest.raises(RangeError, match=r"^movement, entry 2 of 3: moisture of 31 %"):
        across_width(CHERRY, 0).size(100, 8, np.array([8.0, 31.0, 32.0]))


@pytest.mark.parametrize("size", [0.0, -5.0, math.inf, math.nan])
def test_a_size_that_is_none_is_refused(size: float) -> None:
    with pytest.raises(RangeError, match=rf"a size of {size:g}\. Give a measured size"):
        across_width(CHERRY, 0).change(size, 8, 10)


@pytest.mark.parametrize("angle", [-1, 90.5, math.nan, 180])
def test_an_angle_beyond_a_quarter_turn_is_refused(angle: float) -> None:
    with pytest.raises(RangeError, match=rf"angle of the rings: {angle:g} deg is outside 0 to 90"):
        across_thickness(CHERRY, angle)


def test_an_unknown_way_of_sawing_is_refused_by_name() -> None:
    unknown: Grain = "plain"  # type: ignore[assignment]  # as a document might have it
    with pytest.raises(InputError, match=r"'plain' is no way of sawing\. Use flat, rift, quarter"):
        across_width(CHERRY, unknown)


@pytest.mark.parametrize("coefficient", [0.248, 0.0, -0.001, 0.00009, 0.0101, math.nan])
def test_a_coefficient_in_percent_is_refused(coefficient: float) -> None:
    said = rf"radial coefficient of {coefficient:g} is outside 0\.0001 to 0\.01\. Give the fraction"
    with pytest.raises(RangeError, match=said):
        replace(CHERRY, radial_coefficient=coefficient)
    with pytest.raises(RangeError, match="a tangential coefficient"):
        replace(CHERRY, tangential_coefficient=coefficient)


@pytest.mark.parametrize("total", [0.071, 0.0, -7.1, 26, math.nan])
def test_a_total_shrinkage_as_a_fraction_is_refused(total: float) -> None:
    said = rf"total tangential shrinkage of {total:g} % is outside 0\.5 to 25 %\. Give percent"
    with pytest.raises(RangeError, match=said):
        replace(CHERRY, tangential_total=total)
    with pytest.raises(RangeError, match="a total radial shrinkage"):
        replace(CHERRY, radial_total=total)


@pytest.mark.parametrize("saturation", [0.3, 19.9, 36, math.nan])
def test_fibre_saturation_is_that_of_a_wood(saturation: float) -> None:
    with pytest.raises(RangeError, match=rf"fibre saturation at {saturation:g} % is outside 20 to"):
        replace(CHERRY, fibre_saturation=saturation)


@pytest.mark.parametrize("saturation", [20, 35])
def test_fibre_saturation_may_lie_at_either_end(saturation: float) -> None:
    assert across_width(replace(CHERRY, fibre_saturation=saturation), 0).size(1, saturation, 0) < 1


def test_boards_of_a_species_differ_by_15_percent_of_a_movement() -> None:
    movement = across_width(CHERRY, 0)
    assert movement.standard_uncertainty(-2.0) == pytest.approx(0.3)
    assert movement.standard_uncertainty(np.array([2.0, -4.0])).tolist() == pytest.approx(
        [0.3, 0.6]
    )
