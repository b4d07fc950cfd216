"""What is left of a published mean: scatter, moisture, knots, duration."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import InputError, RangeError
from faywright.timber.allowable import GUIDE, Own, Property, allowable
from faywright.timber.strength import (
    ClearWood,
    Duration,
    Measured,
    Service,
    at_moisture,
    five_percent,
    knot_ratio,
    moisture_share,
)
from faywright.timber.strength_factors import parse_strength_factors
from tests.strategies import STEADY, lengths
from tests.timber.strips import DRY, PINE, WALNUT, chain_of, services, timbers

OWN: tuple[Own, ...] = ("bending", "shear", "tension across", "compression across")
properties = st.sampled_from((*OWN, "rolling shear"))

# The chain


@STEADY
@given(timbers(), services, properties)
def test_the_printed_chain_works_out_to_the_allowable(
    wood: ClearWood, service: Service, of: Property
) -> None:
    found = allowable(wood, of, service)
    assert chain_of(found) == pytest.approx(found.value_mpa, rel=2e-3)
    assert found.caution == GUIDE


@pytest.mark.parametrize(
    ("wood", "of", "expected"),
    [
        (PINE, "bending", 60 * 0.7368 / 2.1),
        (WALNUT, "bending", 100 * 0.7368 / 2.3),
        (PINE, "shear", 6.2 * 0.7697 / 2.1),
        (WALNUT, "rolling shear", 9.4 * 0.7697 / 2.3 * 0.18),
        (PINE, "compression across", 3.0 / 1.67),
        (WALNUT, "compression across", 7.0 / 1.67),
        (PINE, "tension across", 2.1 * 0.58875 / 2.1),  # its own chain is the lower here
        (WALNUT, "tension across", 9.4 * 0.7697 / 2.3 / 3),  # and the third of shear here
    ],
)
def test_an_allowable_for_ten_years_worked_by_hand(
    wood: ClearWood, of: Property, expected: float
) -> None:
    assert allowable(wood, of, DRY).value_mpa == pytest.approx(expected, rel=1e-9)


def test_every_factor_has_a_name_and_a_source() -> None:
    factors = allowable(WALNUT, "tension across", DRY).factors
    assert [factor.name for factor in factors] == [
        "12 % moisture",
        "weakest in twenty, scatter 14 %",
        "clear straight stock",
        "ten years of load and safety, hardwood",
        "load for ten years",
        "of the allowable shear",
    ]
    assert all(factor.source for factor in factors)


@pytest.mark.parametrize(
    ("wood", "ending"),
    [
        (WALNUT, "= 1.05 MPa; the lower of two: its own published mean would allow 1.23 MPa"),
        (
            PINE,
            "= 0.589 MPa; the lower of two: a third of the allowable shear would allow 0.757 MPa",
        ),
    ],
)
def test_it_says_which_way_to_tension_across_was_lower(wood: ClearWood, ending: str) -> None:
    assert allowable(wood, "tension across", DRY).words().endswith(ending)


@STEADY
@given(timbers(), services)
def test_tension_across_is_never_above_a_third_of_the_shear(
    wood: ClearWood, service: Service
) -> None:
    third = allowable(wood, "shear", service).value_mpa / 3
    assert allowable(wood, "tension across", service).value_mpa <= third * (1 + 1e-12)


@STEADY
@given(timbers(), services, properties)
def test_an_allowable_is_well_below_the_mean(
    wood: ClearWood, service: Service, of: Property
) -> None:
    found = allowable(wood, of, replace(service, duration="permanent"))
    assert 0 < found.value_mpa < 0.61 * found.mean_mpa


@STEADY
@given(timbers(), services, properties, lengths(6.0, 20.0))
def test_damper_timber_is_never_stronger(
    wood: ClearWood, service: Service, of: Property, moisture: float
) -> None:
    dry, damp = sorted((service.moisture, moisture))
    drier = allowable(wood, of, replace(service, moisture=dry)).value_mpa
    assert allowable(wood, of, replace(service, moisture=damp)).value_mpa <= drier


@pytest.mark.parametrize("of", ["bending", "shear", "rolling shear", "tension across"])
def test_a_longer_load_allows_less(of: Property) -> None:
    spans: tuple[Duration, ...] = ("permanent", "ten years", "one year", "two months", "impact")
    found = [allowable(WALNUT, of, Service(duration=each)).value_mpa for each in spans]
    assert found == sorted(found)
    assert len(set(found)) == len(found)


@pytest.mark.parametrize("of", ["bending", "shear", "rolling shear", "tension across"])
def test_knots_take_their_ratio(of: Property) -> None:
    half = allowable(WALNUT, of, Service(strength_ratio=0.5)).value_mpa
    assert half == pytest.approx(allowable(WALNUT, of, Service()).value_mpa / 2)


def test_neither_knots_nor_duration_count_for_dents() -> None:
    poor = Service(duration="permanent", strength_ratio=0.5)
    best = allowable(PINE, "compression across", Service(duration="impact"))
    assert allowable(PINE, "compression across", poor).value_mpa == best.value_mpa


# Moisture


def test_moisture_up_to_twelve_percent_changes_nothing() -> None:
    for moisture in (0.0, 6.0, 12.0):
        assert moisture_share(PINE, "bending", moisture)[0] == 1.0


def test_halfway_to_twenty_percent_half_the_trend_is_lost() -> None:
    assert moisture_share(PINE, "bending", 16.0)[0] == pytest.approx(1 - 0.25 / 2)
    assert moisture_share(PINE, "bending", 20.0)[0] == pytest.approx(0.75)


def test_known_green_properties_are_used_before_the_trend() -> None:
    wood = replace(PINE, green=replace(PINE, bending=36.0, tension_perp=None))
    share, how = moisture_share(wood, "bending", 18.5)
    assert share == pytest.approx(math.sqrt(0.6))
    assert "between dry and green" in how
    trend, _ = moisture_share(PINE, "tension across", 18.5)
    assert moisture_share(wood, "tension across", 18.5)[0] == trend


def test_timber_that_is_stronger_green_gains_nothing_here() -> None:
    wood = replace(PINE, green=replace(PINE, bending=66.0))
    assert moisture_share(wood, "bending", 20.0)[0] == 1.0


@STEADY
@given(lengths(10, 200), lengths(10, 200), lengths(4, 60), lengths(21, 28))
def test_moisture_moves_a_property_between_dry_and_green(
    dry: float, green: float, moisture: float, begins: float
) -> None:
    found = at_moisture(dry, green, max(moisture, 12), begins=begins)
    assert min(dry, green) - 1e-9 <= found <= max(dry, green) + 1e-9


@pytest.mark.parametrize(
    ("dry", "green", "moisture", "begins"),
    [(0, 5, 12, 25), (5, -1, 12, 25), (5, math.inf, 12, 25), (5, 3, 3, 25), (5, 3, 12, 12)],
)
def test_moistures_and_properties_out_of_reach_are_refused(
    dry: float, green: float, moisture: float, begins: float
) -> None:
    with pytest.raises(RangeError, match="strength at a moisture"):
        at_moisture(dry, green, moisture, begins=begins)


# Scatter and knots


@pytest.mark.parametrize("variation", [-0.01, 0.61, math.nan, math.inf])
def test_a_scatter_that_leaves_nothing_is_refused(variation: float) -> None:
    with pytest.raises(RangeError, match=r"as a share, from 0 to 0\.6"):
        five_percent(variation)


def test_one_piece_in_twenty_of_a_normal_population_is_weaker() -> None:
    below = 0.5 * math.erfc((1 - five_percent(0.2)) / 0.2 / math.sqrt(2))
    assert below == pytest.approx(0.05, abs=2e-5)


def test_a_knot_at_the_edge_does_more_harm() -> None:
    assert knot_ratio(10, 50, at_edge=False) == pytest.approx(0.8)
    assert knot_ratio(10, 50, at_edge=True) == pytest.approx(0.64)
    assert knot_ratio(0, 50, at_edge=True) == 1


def test_a_knot_as_wide_as_the_part_is_refused() -> None:
    with pytest.raises(RangeError, match=r"knot 50 mm wide in a part 50 mm wide"):
        knot_ratio(50, 50, at_edge=True)


# What is refused


def test_missing_tension_across_is_asked_for_only_where_it_is_needed() -> None:
    wood = replace(PINE, tension_perp=None)
    assert allowable(wood, "bending", DRY).value_mpa > 0
    with pytest.raises(
        InputError,
        match=r"strength of an invented pine: tension across the grain is not known\. Enter its",
    ):
        allowable(wood, "tension across", DRY)


@pytest.mark.parametrize(
    ("field", "value", "named"),
    [
        ("bending", 8600.0, "bending of 8600 MPa"),  # psi
        ("elasticity", 12.3, "elasticity of 12.3 MPa"),  # GPa
        ("shear_parallel", -9.0, "shear of -9 MPa"),
        ("tension_perp", 0.0, "tension across of 0 MPa"),
        ("compression_perp", math.nan, "compression across of nan MPa"),
    ],
)
def test_a_figure_that_is_no_woods_is_refused(field: str, value: float, named: str) -> None:
    with pytest.raises(RangeError, match=rf"invented pine: {named} is not that of a wood\. Give"):
        replace(PINE, **{field: value})  # type: ignore[arg-type]  # one number, by its name


@pytest.mark.parametrize(
    ("field", "value", "named"),
    [
        ("duration", "a while", "duration 'a while'. Use one of permanent, ten years"),
        ("strength_ratio", 1.2, "strength ratio of 1.2"),
        ("strength_ratio", 0.0, "strength ratio of 0"),
        ("moisture", 25.0, "moisture of 25 %"),
        ("moisture", -1.0, "moisture of -1 %"),
    ],
)
def test_a_service_that_cannot_be_judged_is_refused(
    field: str, value: str | float, named: str
) -> None:
    with pytest.raises(InputError, match=named):
        replace(DRY, **{field: value})  # type: ignore[arg-type]  # one field, by its name


def test_unknown_kinds_and_properties_are_refused() -> None:
    with pytest.raises(InputError, match=r"kind 'plywood'\. Use softwood or hardwood"):
        replace(PINE, kind="plywood")  # type: ignore[arg-type]  # from a document
    with pytest.raises(InputError, match=r"property 'torsion'\. Use one of bending, shear"):
        allowable(PINE, "torsion", DRY)  # type: ignore[arg-type]  # from a document


@pytest.mark.parametrize(
    ("row", "named"),
    [
        ("variation,,0.16,key,place,", "line 2: of is blank"),
        ("variation,bending,much,key,place,", "line 2: value is 'much'"),
        ("variation,bending,-0.1,key,place,", "line 2: value is '-0.1'"),
        ("variation,bending,0.1,key,place,\nvariation,bending,0.1,key,place,", "listed twice"),
    ],
)
def test_a_faulty_table_names_its_line(row: str, named: str) -> None:
    lines = ["factor,of,value,source,locator,note", *row.split("\n")]
    with pytest.raises(InputError, match=named):
        parse_strength_factors(lines, where="table")


@pytest.mark.parametrize("of", ["bending", "elasticity", *OWN])
def test_every_property_has_its_published_figure(of: Measured) -> None:
    assert PINE.mean(of) > 0
