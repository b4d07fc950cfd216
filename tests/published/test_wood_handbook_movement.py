"""Wood Handbook, FPL-GTR-190 (2010), chapters 4 and 13: shrinkage and dimensional change.

Other sources that print a worked change of size stand at the end, each with its name. Sizes in
inches are left in inches, for a change has the unit of its size.
"""

from __future__ import annotations

import pytest

from faywright.timber.moisture import celsius, equilibrium_moisture
from faywright.timber.movement import (
    Movement,
    Shrinkage,
    across_thickness,
    across_width,
    implied_coefficient,
)

TABLES = [
    # species, coefficients of table 13-5 and shrinkages of tables 4-3 and 4-4, radial and
    # tangential, and fibre saturation the row was reckoned with. Pages seen down to walnut;
    # coefficients below it are from memory.
    ("red alder", 0.00151, 0.00256, 4.4, 7.3, 30),
    ("white ash", 0.00169, 0.00274, 4.9, 7.8, 30),
    ("American basswood", 0.00230, 0.00330, 6.6, 9.3, 30),
    ("American beech", 0.00190, 0.00431, 5.5, 11.9, 30),
    ("yellow birch", 0.00256, 0.00338, 7.3, 9.5, 30),
    ("black cherry", 0.00126, 0.00248, 3.7, 7.1, 30),
    ("American elm", 0.00144, 0.00338, 4.2, 9.5, 30),
    ("live oak", 0.00230, 0.00338, 6.6, 9.5, 30),
    ("sweetgum", 0.00183, 0.00365, 5.3, 10.2, 30),
    ("American sycamore", 0.00172, 0.00296, 5.0, 8.4, 30),
    ("black walnut", 0.00190, 0.00274, 5.5, 7.8, 30),
    ("yellow-poplar", 0.00158, 0.00289, 4.6, 8.2, 30),
    ("Port-Orford cedar", 0.00158, 0.00241, 4.6, 6.9, 30),
    ("coast Douglas-fir", 0.00165, 0.00267, 4.8, 7.6, 30),
    ("northern white cedar", 0.00101, 0.00229, 2.2, 4.9, 22),
    ("western redcedar", 0.00111, 0.00234, 2.4, 5.0, 22),
]

each_species = pytest.mark.parametrize(
    ("radial", "tangential", "radial_total", "tangential_total", "f"),
    [pytest.param(*row[1:], id=row[0]) for row in TABLES],
)


@each_species
def test_table_13_5_follows_from_total_shrinkage(
    radial: float, tangential: float, radial_total: float, tangential_total: float, f: float
) -> None:
    """To half of the last digit printed of the coefficient, and some of the shrinkage's."""
    assert implied_coefficient(radial_total, f) == pytest.approx(radial, abs=0.0000075)
    assert implied_coefficient(tangential_total, f) == pytest.approx(tangential, abs=0.0000075)


@each_species
def test_drying_from_fibre_saturation_to_nothing_is_the_total_shrinkage(
    radial: float, tangential: float, radial_total: float, tangential_total: float, f: float
) -> None:
    """Formula 13-3 with its own coefficient; with that of table 13-5 it is off by its rounding."""
    by_total = Shrinkage(None, None, radial_total, tangential_total, f)
    assert across_width(by_total, 0).change(100, f, 0) == pytest.approx(-tangential_total, 1e-9)
    assert across_width(by_total, 90).change(100, f, 0) == pytest.approx(-radial_total, 1e-9)
    both = Shrinkage(radial, tangential, radial_total, tangential_total, f)
    assert across_width(both, 0).change(100, f, 0) == pytest.approx(-tangential_total, abs=0.03)


CHERRY = Shrinkage(0.00126, 0.00248, 3.7, 7.1)
WALNUT = Shrinkage(0.00190, 0.00274, 5.5, 7.8)
MAPLE = Shrinkage(0.00165, 0.00353, 4.8, 9.9)
"""Sugar maple: coefficients seen, shrinkages from memory."""


def formula_13_2(size: float, coefficient: float, start: float, end: float) -> float:
    return size * coefficient * (end - start)


def formula_13_3(size: float, total: float, start: float, end: float) -> float:
    return size * (end - start) / (30 * 100 / total - 30 + start)


@pytest.mark.parametrize("end", [6.0, 7.3, 9.0, 12.0, 14.0])
def test_13_2_is_kept_exactly_from_10_percent(end: float) -> None:
    assert across_width(CHERRY, "flat").change(250, 10, end) == pytest.approx(
        formula_13_2(250, 0.00248, 10, end), rel=1e-12
    )


@each_species
@pytest.mark.parametrize(("start", "end"), [(6, 14), (14, 6), (8, 12), (12, 7)])
def test_13_2_is_kept_to_2_percent_of_the_change_from_elsewhere(
    radial: float,
    tangential: float,
    radial_total: float,
    tangential_total: float,
    f: float,
    start: float,
    end: float,
) -> None:
    shrinkage = Shrinkage(radial, tangential, radial_total, tangential_total, f)
    printed = formula_13_2(1, tangential, start, end)
    moved = across_width(shrinkage, 0).change(1, start, end)
    assert moved == pytest.approx(printed, rel=0.018)
    assert moved == pytest.approx(printed / (1 + tangential * (start - 10)), rel=1e-12)


@pytest.mark.parametrize(("start", "end"), [(30, 14), (14, 30), (25, 16.5), (6, 0), (2, 5), (0, 6)])
def test_13_3_is_kept_exactly_on_either_side_of_6_to_14_percent(start: float, end: float) -> None:
    assert across_width(WALNUT, "flat").change(80, start, end) == pytest.approx(
        formula_13_3(80, 7.8, start, end), rel=1e-12
    )
    assert across_thickness(WALNUT, "flat").change(80, start, end) == pytest.approx(
        formula_13_3(80, 5.5, start, end), rel=1e-12
    )


@pytest.mark.parametrize(("start", "end"), [(30, 8), (20, 4), (3, 12), (14, 30), (6, 14), (26, 11)])
def test_where_both_tables_agree_13_3_alone_tells_the_same_over_any_span(
    start: float, end: float
) -> None:
    assert across_width(CHERRY, "flat").change(100, start, end) == pytest.approx(
        formula_13_3(100, 7.1, start, end), rel=0.005
    )


# Worked examples in other print


def test_a_flat_sawn_board_of_alder_8_inches_wide_moves_an_eighth_for_6_percent() -> None:
    """A woodworking magazine, 2021: 8 in. at 0.0026 and 6 % of moisture makes 0.1248 in."""
    alder = Shrinkage(None, 0.0026, None, None)
    around_10 = across_width(alder, "flat").size(8, 10, 13) - across_width(alder, "flat").size(
        8, 10, 7
    )
    assert around_10 == pytest.approx(0.1248, abs=0.00005)
    assert across_width(alder, "flat").change(8, 8, 14) == pytest.approx(1 / 8, abs=0.001)


@pytest.fixture
def from_35_to_80() -> tuple[float, float]:
    """Moistures of wood in air of 35 and 80 % at 70 deg F; table 4-2 has 6.9 and 16.0."""
    dry, damp = (equilibrium_moisture(celsius(70), humidity) for humidity in (35, 80))
    assert (round(dry, 1), round(damp, 1)) == (6.9, 16.0)
    return dry, damp


SIXTEENTH = 1 / 16


@pytest.mark.parametrize("wood", [CHERRY, WALNUT], ids=["cherry", "walnut"])
def test_a_drawer_front_4_inches_high_grows_three_thirty_seconds(
    wood: Shrinkage, from_35_to_80: tuple[float, float]
) -> None:
    """A trade article on drawers, 2012: about 3/32 in. for flat-sawn cherry or walnut."""
    grown = across_width(wood, "flat").change(4, *from_35_to_80)
    assert grown == pytest.approx(3 / 32, abs=SIXTEENTH / 8)


def test_a_drawer_front_of_flat_sawn_maple_grows_an_eighth(
    from_35_to_80: tuple[float, float],
) -> None:
    """The same article: about 1/8 in. for 4 in. of hard maple."""
    assert across_width(MAPLE, "flat").change(4, *from_35_to_80) == pytest.approx(1 / 8, abs=0.008)


def test_a_drawer_side_of_quarter_sawn_maple_grows_12_thousandths_in_thickness(
    from_35_to_80: tuple[float, float],
) -> None:
    """The same article: 3/8 in. thick, 0.012 in.; a quarter-sawn side is tangential there."""
    grown = across_thickness(MAPLE, "quarter").change(3 / 8, *from_35_to_80)
    assert grown == pytest.approx(0.012, abs=0.0005)


@pytest.mark.parametrize("wood", [CHERRY, WALNUT, MAPLE], ids=["cherry", "walnut", "maple"])
def test_quarter_sawn_stock_moves_half_to_two_thirds_of_that(
    wood: Shrinkage, from_35_to_80: tuple[float, float]
) -> None:
    """The same article; a rule of thumb, which the tables keep to within a few hundredths."""
    flat, quarter = (
        across_width(wood, grain).change(4, *from_35_to_80) for grain in ("flat", "quarter")
    )
    assert 0.45 < quarter / flat < 0.72


@pytest.mark.parametrize("rings", [0, 45, 90])
def test_softwood_moves_about_1_percent_for_each_4_percent_of_moisture(rings: float) -> None:
    """American Wood Council, an answer on its pages: 1 % of the size, whatever the rings."""
    fir = Shrinkage(0.00165, 0.00267, 4.8, 7.6)
    assert across_width(fir, rings).change(100, 14, 10) == pytest.approx(-1, abs=0.35)


# FPL-RP-489 (Green, 1989): percent of shrinkage from green to M for most softwood lumber, page
# seen; that of cedars and redwood from memory. A straight line from its own fibre saturation.

LINES = [
    pytest.param(6.031, 0.215, id="width"),
    pytest.param(5.062, 0.181, id="thickness"),
    pytest.param(3.454, 0.157, id="width of cedar and redwood"),
    pytest.param(2.816, 0.128, id="thickness of cedar and redwood"),
]


def lumber(at_0: float, per_percent: float) -> tuple[Movement, float]:
    saturation = at_0 / per_percent
    return across_width(Shrinkage(None, None, None, at_0, saturation), "flat"), saturation


@pytest.mark.parametrize(("at_0", "per_percent"), LINES)
@pytest.mark.parametrize("moisture", [8, 11, 15, 19])
def test_the_lumber_formula_is_met_from_green(
    at_0: float, per_percent: float, moisture: float
) -> None:
    movement, green = lumber(at_0, per_percent)
    printed = at_0 - per_percent * moisture
    assert -movement.change(100, green, moisture) == pytest.approx(printed, rel=1e-9)


@pytest.mark.parametrize(("at_0", "per_percent"), LINES)
@pytest.mark.parametrize(("start", "end"), [(19, 8), (15, 19), (12, 9)])
def test_the_lumber_formula_is_met_between_two_moistures(
    at_0: float, per_percent: float, start: float, end: float
) -> None:
    """Its size is d1 (1 - S(M2)/100) / (1 - S(M1)/100), seen in another print."""
    movement, _ = lumber(at_0, per_percent)
    ratio = (100 - at_0 + per_percent * end) / (100 - at_0 + per_percent * start)
    assert movement.size(140, start, end) == pytest.approx(140 * ratio, rel=1e-12)


@pytest.mark.parametrize(
    ("at_0", "per_percent", "printed"), [(6.031, 0.215, 2.80), (5.062, 0.181, 2.35)]
)
def test_ps_20_70_shrinks_lumber_as_much_from_green_to_15_percent(
    at_0: float, per_percent: float, printed: float
) -> None:
    movement, green = lumber(at_0, per_percent)
    assert -movement.change(100, green, 15) == pytest.approx(printed, abs=0.01)
