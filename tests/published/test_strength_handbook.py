"""Strength of timber: handbook figures and formulas of mechanics.

Wood Handbook, FPL-GTR-190 (2010), chapters 5 and 9; ASTM D245 and D2555; the load duration
factors of the NDS; a published test of joints. Each says whether a page was seen, or the value
remembered. Sums of mechanics are checked by integrating the beam numerically.
"""

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_bvp  # type: ignore[import-untyped] # it comes without types

from faywright.timber.beams import Beam, LoadPlace, bending, sag, shear, slat
from faywright.timber.members import LineLoad, Strip
from faywright.timber.strength import (
    ClearWood,
    Duration,
    Service,
    at_moisture,
    five_percent,
)
from faywright.timber.strength_factors import strength_factors

Floats = NDArray[np.float64]

PSI = 0.45359237 * 9.80665 / 0.0254**2 / 1e6
"""One pound-force on a square inch, from its definition. [MPa]"""

# Scatter


TABLE_5_6 = [
    # property, printed coefficient of variation (from memory), share of the mean at 5 %
    ("bending", 0.16, 0.737),
    ("shear", 0.14, 0.770),
    ("tension across", 0.25, 0.589),  # ASTM D2555, from memory: the usual assumption
]


@pytest.mark.parametrize(("of", "variation", "share"), TABLE_5_6)
def test_five_percent_values(of: str, variation: float, share: float) -> None:
    assert strength_factors()["variation", of].value == variation
    assert five_percent(variation) == pytest.approx(share, abs=0.0005)


D2555_GREEN = [
    # species, property, mean and standard deviation (ASTM D2555, a secondary copy seen)
    ("white fir", "bending", 5854, 949),
    ("white fir", "elasticity", 1161, 249),
    ("white fir", "shear", 756, 78),
    ("white fir", "compression across", 282, 79),
    ("baldcypress", "bending", 6640, 1062),
    ("baldcypress", "shear", 812, 114),
    ("baldcypress", "compression across", 403, 113),
]


@pytest.mark.parametrize(("species", "of", "mean", "deviation"), D2555_GREEN)
def test_the_scatter_taken_is_no_less_than_that_of_measured_species(
    species: str, of: str, mean: float, deviation: float
) -> None:
    taken = strength_factors()["variation", of].value
    assert taken > deviation / mean - 0.0025, species


@pytest.mark.parametrize(
    ("of", "mean", "deviation"), [("bending", 6640, 1062), ("shear", 812, 114)]
)
def test_five_percent_value_of_baldcypress(of: str, mean: float, deviation: float) -> None:
    share = five_percent(strength_factors()["variation", of].value)
    assert mean * share == pytest.approx(mean - 1.645 * deviation, rel=1e-3)


JOINTS = [
    # Eckelman, Uysal, Haviarova, BioResources 11(3), 2016 (page seen): mean, standard deviation,
    # published lower limits at 75 % confidence for 75 % of joints, and 95 % for 95 %. [Nm]
    ("red oak", 353, 48, 318, 266),
    ("white oak", 358, 62, 314, 240),
]


@pytest.mark.parametrize(("species", "mean", "deviation", "loose", "strict"), JOINTS)
def test_a_measured_series_of_joints_has_its_five_percent_value_among_its_published_limits(
    species: str, mean: float, deviation: float, loose: float, strict: float
) -> None:
    """Confidence in a sample lowers the strict limit below the plain 5 % value, a little."""
    found = mean * five_percent(deviation / mean)
    assert strict < found < loose, species
    assert found == pytest.approx(strict, rel=0.07)


# Factors


D245 = [
    # ASTM D245, from memory: property, softwood, hardwood
    ("bending", 2.1, 2.3),
    ("shear", 2.1, 2.3),
    ("compression across", 1.67, 1.67),
]


@pytest.mark.parametrize(("of", "softwood", "hardwood"), D245)
def test_divisors(of: str, softwood: float, hardwood: float) -> None:
    assert strength_factors()["softwood divisor", of].value == softwood
    assert strength_factors()["hardwood divisor", of].value == hardwood


NDS_DURATION: list[tuple[Duration, float]] = [
    # page seen
    ("permanent", 0.9),
    ("ten years", 1.0),
    ("two months", 1.15),
    ("seven days", 1.25),
    ("ten minutes", 1.6),
    ("impact", 2.0),
    ("one year", 1.075),  # another published value
]


@pytest.mark.parametrize(("duration", "factor"), NDS_DURATION)
def test_load_duration_factors(duration: Duration, factor: float) -> None:
    assert strength_factors()["duration", duration].value == factor
    assert Service(duration=duration).duration == duration


# Moisture: green and 12 % means of the Wood Handbook (2010), page seen


PAIRS = [
    # species, property, green, 12 %, printed in psi (elasticity in millions of them)
    ("ponderosa pine", "bending", 5100, 9400),
    ("ponderosa pine", "elasticity", 1.00, 1.29),
    ("ponderosa pine", "shear", 700, 1130),
    ("shortleaf pine", "bending", 7400, 13100),
    ("sugar pine", "shear", 720, 1130),
    ("redwood, old-growth", "bending", 7500, 10000),
    ("redwood, old-growth", "shear", 800, 940),
]


@pytest.mark.parametrize(("species", "of", "green", "dry"), PAIRS)
def test_the_moisture_formula_meets_both_printed_ends(
    species: str, of: str, green: float, dry: float
) -> None:
    assert at_moisture(dry, green, 12) == pytest.approx(dry), (species, of)
    assert at_moisture(dry, green, 25) == pytest.approx(green)
    assert at_moisture(dry, green, 18.5) == pytest.approx(np.sqrt(dry * green))


@pytest.mark.parametrize(
    ("species", "green", "dry", "of"),
    [(species, green, dry, of) for species, of, green, dry in PAIRS if of != "elasticity"],
)
def test_the_middle_trend_at_twenty_percent_is_near_what_the_printed_pairs_give(
    species: str, green: float, dry: float, of: str
) -> None:
    """Means of many species against single ones: within a sixth."""
    trend = strength_factors()["at 20 % moisture", of].value
    assert at_moisture(dry, green, 20) / dry == pytest.approx(trend, rel=1 / 6), species


# Mechanics: Wood Handbook (2010), ch. 9, and any textbook


def integrated(
    moment: Callable[[Floats], Floats], span: float, modulus: float, inertia: float
) -> float:
    """Sag in the middle of a free beam: E I y'' = -M with no sag at its supports."""
    x = np.linspace(0, span, 401)
    found = solve_bvp(
        lambda x, y: np.vstack([y[1], -moment(x) / (modulus * inertia)]),
        lambda a, b: np.array([a[0], b[0]]),
        x,
        np.zeros((2, x.size)),
        tol=1e-8,
    )
    assert found.success
    return float(found.sol(span / 2)[0])


def sheared(force: Callable[[Floats], Floats], span: float, area: float, g: float) -> float:
    """Sag in the middle by shear: the integral of 1.2 V / (A G) from a support."""
    x = np.linspace(0, span / 2, 20001)
    return float(np.trapezoid(1.2 * force(x) / (area * g), x))


BEAMS = [Beam(span=800, width=250, thickness=18), Beam(span=300, width=60, thickness=45)]


@pytest.mark.parametrize("beam", BEAMS)
@pytest.mark.parametrize("spread", ["even", "centre"])
def test_sag_agrees_with_the_beam_integrated_numerically(beam: Beam, spread: LoadPlace) -> None:
    load, modulus, span = 300.0, 9000.0, beam.span

    def shear_force(x: Floats) -> Floats:
        return load * (0.5 - x / span) if spread == "even" else np.full_like(x, load / 2)

    def moment(x: Floats) -> Floats:
        near = np.minimum(x, span - x)
        return load * near * (span - near) / (2 * span) if spread == "even" else load * near / 2

    inertia = beam.width * beam.thickness**3 / 12
    by_bending = integrated(moment, span, modulus, inertia)
    by_shear = sheared(shear_force, span, beam.width * beam.thickness, modulus / 16)
    found = sag(beam, load, spread, modulus=modulus).result
    assert found == pytest.approx(by_bending + by_shear, rel=1e-5)


@pytest.mark.parametrize("beam", BEAMS)
def test_shear_adds_its_printed_share_to_a_centre_load(beam: Beam) -> None:
    """1 + 19.2 (h/L)^2 with G = E/16."""
    alone = 300 * beam.span**3 / (48 * 9000 * beam.width * beam.thickness**3 / 12)
    added = 1 + 19.2 * (beam.thickness / beam.span) ** 2
    assert sag(beam, 300, "centre", modulus=9000).result == pytest.approx(alone * added)


def test_true_stiffness_gives_back_the_published_one_on_a_test_piece() -> None:
    """Small clear pieces are 2 in. deep over 28 in., loaded in the middle (ASTM D143, from memory).

    The modulus worked out from their whole sag is the published one; 1.10 times it is the true.
    """
    inch = 25.4
    piece = Beam(span=28 * inch, width=2 * inch, thickness=2 * inch)
    inertia = piece.width * piece.thickness**3 / 12
    found = sag(piece, 500, "centre", modulus=1.10 * 10000).result
    apparent = 500 * piece.span**3 / (48 * inertia * found)
    assert apparent == pytest.approx(10000, rel=0.003)


def test_shelf_by_hand_in_pounds_and_inches() -> None:
    """30 in. span, 10 in. wide, 3/4 in. thick, 60 lb even: M = W L/8 and sigma = 6M/(b h^2)."""
    inch, pound = 25.4, 0.45359237 * 9.80665
    beam = Beam(span=30 * inch, width=10 * inch, thickness=0.75 * inch)
    assert bending(beam, 60 * pound, "even").result == pytest.approx(240 * PSI)
    assert shear(beam, 60 * pound).result == pytest.approx(6 * PSI)
    centre = 5 * 60 * 30**3 / (384 * 1.2e6 * 10 * 0.75**3 / 12)
    found = sag(beam, 60 * pound, "even", modulus=1.2e6 * PSI).result / inch
    assert found == pytest.approx(centre * (1 + 15.36 * (0.75 / 30) ** 2))


def test_creep_of_dry_timber_is_half_as_much_again() -> None:
    """Wood Handbook (2010), from memory: long-term sag 1.5 times the elastic one if dry."""
    pine = ClearWood(
        kind="softwood",
        bending=9400 * PSI,
        elasticity=1.29e6 * PSI,
        compression_perp=580 * PSI,
        shear_parallel=1130 * PSI,
        tension_perp=420 * PSI,
    )
    beam = BEAMS[0]
    lasting = slat(pine, Service(), beam, load=200).checks[-1].found
    at_once = sag(beam, 200, "even", modulus=1.10 * 1.29e6 * PSI).result
    assert lasting == pytest.approx(1.5 * at_once)


def test_root_stress_agrees_with_the_stress_integrated_over_the_section() -> None:
    """Linear stress across the root must hold the moment F a; parabolic shear must sum to F."""
    force, along, strip = 250.0, 300.0, Strip(thickness=7.0, arm=5.0)
    load = LineLoad(force=force, along=along)
    z = np.linspace(-3.5, 3.5, 20001)
    linear = strip.bending(load).result * z / 3.5
    parabolic = strip.shear(load).result * (1 - (z / 3.5) ** 2)
    assert np.trapezoid(linear * z, z) * along == pytest.approx(force * 5.0, rel=1e-6)
    assert np.trapezoid(parabolic, z) * along == pytest.approx(force, rel=1e-6)
