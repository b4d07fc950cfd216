"""Tongues, groove walls, runners, slats and shelves under load."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import InputError, RangeError
from faywright.timber.allowable import GUIDE
from faywright.timber.beams import Beam, LoadPlace, sag, slat, stiffness
from faywright.timber.members import LineLoad, Strip, groove_wall, shelf_in_dado, tongue
from faywright.timber.runners import GRAVITY, Drawer, Runner, runner_under_drawer
from faywright.timber.strength import ClearWood, Service
from faywright.timber.verdict import COMFORTABLE, SagLimit, Verdict
from tests.strategies import STEADY, lengths
from tests.timber.strips import DRY, PINE, WALNUT, strips, sum_of, timbers

forces = lengths(1, 2000)
loads = st.builds(LineLoad, force=forces, along=lengths(20, 1000))
beams = st.builds(Beam, span=lengths(100, 2000), width=lengths(20, 600), thickness=lengths(5, 45))
drawers = st.builds(
    Drawer,
    mass_kg=lengths(0.5, 40),
    length=lengths(450, 600),
    pulled_out=lengths(0, 400),
    lean=lengths(0, 100),
)
RUNNER = Runner(thickness=10, projection=12, engagement=8)
SHELF = Beam(span=800, width=250, thickness=18)


def written(length: float) -> str:
    return f"{length:.2f} mm"


def inches(length: float) -> str:
    return f"{length / 25.4:.3f} in"


def stress(verdict: Verdict, failure: str) -> float:
    (found,) = [check.found for check in verdict.checks if failure in check.failure]
    return found


# Tongue and groove wall


@STEADY
@given(loads, strips)
def test_double_the_thickness_quarters_bending_and_halves_shear(
    load: LineLoad, strip: Strip
) -> None:
    thick = replace(strip, thickness=2 * strip.thickness)
    assert thick.bending(load).result == pytest.approx(strip.bending(load).result / 4)
    assert thick.shear(load).result == pytest.approx(strip.shear(load).result / 2)


@STEADY
@given(loads, strips)
def test_bending_goes_by_lever_and_force_and_shear_by_force_alone(
    load: LineLoad, strip: Strip
) -> None:
    far, strong = replace(strip, arm=3 * strip.arm), replace(load, force=3 * load.force)
    assert far.bending(load).result == pytest.approx(3 * strip.bending(load).result)
    assert far.shear(load).result == strip.shear(load).result
    assert strip.bending(strong).result == pytest.approx(3 * strip.bending(load).result)
    assert strip.shear(strong).result == pytest.approx(3 * strip.shear(load).result)


@STEADY
@given(timbers(), loads, strips, forces, lengths(0.5, 30))
def test_more_force_or_lever_never_uses_less(
    wood: ClearWood, load: LineLoad, strip: Strip, more: float, longer: float
) -> None:
    used = tongue(wood, DRY, load, strip).utilisation
    heavier = replace(load, force=load.force + more)
    assert tongue(wood, DRY, heavier, strip).utilisation > used
    assert tongue(wood, DRY, load, replace(strip, arm=strip.arm + longer)).utilisation >= used


@STEADY
@given(loads, strips, lengths(0.1, 10))
def test_stress_does_not_hang_on_the_size_of_the_drawing(
    load: LineLoad, strip: Strip, scale: float
) -> None:
    """Lengths by a scale and force by its square: the same newtons on each square millimetre."""
    big = LineLoad(force=load.force * scale**2, along=load.along * scale)
    grown = Strip(thickness=strip.thickness * scale, arm=strip.arm * scale, grain=strip.grain)
    assert grown.bending(big).result == pytest.approx(strip.bending(load).result)
    assert grown.shear(big).result == pytest.approx(strip.shear(load).result)


def test_a_tongue_on_a_long_grain_edge_splits_and_one_on_an_end_breaks() -> None:
    load, strip = LineLoad(force=300, along=400), Strip(thickness=6, arm=6)
    along = tongue(WALNUT, DRY, load, strip)
    out = tongue(WALNUT, DRY, load, replace(strip, grain="out of the edge"))
    assert along.deciding.failure == "splitting at the root"
    assert {check.failure for check in out.checks} == {
        "breaking at the root",
        "shearing along the grain",
    }
    assert out.utilisation < along.utilisation / 5


def test_a_short_lever_shears_before_it_splits() -> None:
    load = LineLoad(force=300, along=400)
    assert tongue(WALNUT, DRY, load, Strip(thickness=6, arm=1)).deciding.failure == (
        "shearing off at the root"
    )
    assert groove_wall(WALNUT, DRY, load, Strip(thickness=6, arm=6)).deciding.failure == (
        "splitting at the root"
    )


def test_no_load_uses_nothing() -> None:
    found = tongue(PINE, DRY, LineLoad(force=0, along=100), Strip(thickness=6, arm=4))
    assert found.utilisation == 0
    assert found.likely == "likely"


@pytest.mark.parametrize(("share", "said"), [(0.7, "likely"), (0.8, "check it"), (1.01, "no")])
def test_the_verdict_goes_by_the_share_of_what_is_allowed(share: float, said: str) -> None:
    strip, unit = Strip(thickness=6, arm=4), LineLoad(force=1, along=100)
    whole = 1 / tongue(PINE, DRY, unit, strip).utilisation
    assert COMFORTABLE == 0.75
    assert tongue(PINE, DRY, LineLoad(force=share * whole, along=100), strip).likely == said


# Sums as printed


@STEADY
@given(timbers(), loads, strips)
def test_a_strips_printed_sum_works_out(wood: ClearWood, load: LineLoad, strip: Strip) -> None:
    for check in tongue(wood, DRY, load, strip).checks:
        assert sum_of(check.working) == pytest.approx(check.found, rel=5e-3)


@STEADY
@given(beams, forces, st.sampled_from(["even", "centre"]))
def test_a_slats_printed_sum_works_out(beam: Beam, load: float, spread: LoadPlace) -> None:
    for check in slat(PINE, DRY, beam, load=load, spread=spread).checks:
        assert sum_of(check.working) == pytest.approx(check.found, rel=5e-3)


@STEADY
@given(drawers)
def test_a_runners_printed_sums_work_out(drawer: Drawer) -> None:
    found = runner_under_drawer(PINE, DRY, drawer, RUNNER)
    assert found.load is not None
    assert sum_of(found.load) == pytest.approx(found.load.result, rel=5e-3)
    for check in found.checks:
        assert sum_of(check.working) == pytest.approx(check.found, rel=5e-3)


def test_the_makers_inches_stand_before_a_sum_in_millimetres() -> None:
    working = Strip(thickness=6.35, arm=12.7).bending(LineLoad(force=100, along=254))
    assert working.line(inches) == (
        "lever arm 0.500 in, thickness 0.250 in, loaded over 10.000 in; in N and mm: "
        "6 x 100 x 12.7 / (254 x 6.35^2) = 0.744 MPa"
    )


def test_a_sag_is_also_written_as_the_maker_writes_lengths() -> None:
    (check,) = [each for each in slat(PINE, DRY, SHELF, load=300).checks if each.most == 4]
    assert check.words(inches).endswith("= 2.66 mm (0.105 in), 67 % of 0.157 in allowed")
    assert check.words(written).endswith("= 2.66 mm, 67 % of 4.00 mm allowed")


def test_words_give_verdict_load_sums_limit_and_caution() -> None:
    lines = runner_under_drawer(WALNUT, DRY, Drawer(mass_kg=12, length=450), RUNNER).words(written)
    assert lines[0] == (
        "runner: likely to hold; splitting at the root decides, at 36 % of what is allowed"
    )
    assert lines[1].startswith("a drawer of 12 kg stands 50 % out; of what is still inside,")
    assert lines[2].endswith("(117.7 x 168.8) / (225 / 2) / 2 = 88.3 N")
    assert len(lines) == 3 + 3 + 2
    assert lines[-2].startswith("allowed for splitting at the root: 9.4 MPa (mean shear along")
    assert lines[-1] == GUIDE


# Runners


@pytest.mark.parametrize(
    ("out", "share"),
    [
        (0.0, 1 / 4),  # closed: each half of each runner has a quarter of the weight
        (0.5, 3 / 4),  # half out: the fronts hold 3/2 of it, the backs hold 1/2 of it down
    ],
)
def test_load_on_the_front_half_of_a_runner(out: float, share: float) -> None:
    drawer = Drawer(mass_kg=10, length=400, pulled_out=400 * out)
    assert drawer.front_load().result == pytest.approx(share * 10 * GRAVITY)


@STEADY
@given(drawers)
def test_front_and_back_of_the_runners_balance_the_drawer(drawer: Drawer) -> None:
    weight = drawer.mass_kg * GRAVITY
    front = 2 * drawer.front_load().result
    back = weight + drawer.lean - front  # upwards on the drawer
    case_front = drawer.length - drawer.out  # from the drawer's back
    turning = (
        front * (case_front - drawer.inside / 4)
        + back * (case_front - 3 * drawer.inside / 4)
        - weight * drawer.length / 2
        - drawer.lean * drawer.length
    )
    assert turning == pytest.approx(0, abs=1e-6 * (weight + drawer.lean) * drawer.length)


@STEADY
@given(drawers, lengths(1, 40))
def test_a_drawer_further_out_never_uses_less(drawer: Drawer, more: float) -> None:
    further = replace(drawer, pulled_out=drawer.out + more)
    used = runner_under_drawer(PINE, DRY, drawer, RUNNER).utilisation
    assert runner_under_drawer(PINE, DRY, further, RUNNER).utilisation > used


def test_a_drawer_is_judged_half_out_unless_told() -> None:
    told = Drawer(mass_kg=10, length=400, pulled_out=200)
    assert Drawer(mass_kg=10, length=400).front_load() == told.front_load()


def test_a_runner_presses_at_the_middle_of_its_engagement() -> None:
    found = runner_under_drawer(PINE, DRY, Drawer(mass_kg=10, length=400), RUNNER)
    force, along = 0.75 * 10 * GRAVITY, 100
    assert stress(found, "splitting") == pytest.approx(6 * force * (12 - 4) / (along * 100))
    assert stress(found, "shearing") == pytest.approx(1.5 * force / (along * 10))
    assert stress(found, "crushing") == pytest.approx(force / (along * 8))


# Slats and shelves


@STEADY
@given(beams, forces, st.sampled_from(["even", "centre"]))
def test_sag_is_that_of_a_beam_twice_as_stiff_at_half_the_load(
    beam: Beam, load: float, spread: LoadPlace
) -> None:
    one = sag(beam, load, spread, modulus=9000).result
    assert sag(beam, 2 * load, spread, modulus=18000).result == pytest.approx(one)
    assert sag(beam, load, spread, modulus=9000, creep=2).result == pytest.approx(2 * one)


@STEADY
@given(beams, forces)
def test_a_load_on_the_middle_is_worse_than_an_even_one(beam: Beam, load: float) -> None:
    even = slat(PINE, DRY, beam, load=load)
    centre = slat(PINE, DRY, beam, load=load, spread="centre")
    assert stress(centre, "breaking") == pytest.approx(2 * stress(even, "breaking"))
    assert stress(centre, "shearing") == stress(even, "shearing")
    assert stress(centre, "sagging") > 1.5 * stress(even, "sagging")


def test_a_damp_shelf_sags_more() -> None:
    damp = Service(moisture=20.0)
    assert stiffness(PINE, damp) == pytest.approx(0.87 * 1.1 * 8500)
    dry = stress(slat(PINE, DRY, SHELF, load=100), "sagging")
    assert stress(slat(PINE, damp, SHELF, load=100), "sagging") == pytest.approx(dry / 0.87)


def test_the_sag_allowed_is_a_share_of_the_span() -> None:
    assert SagLimit(800).most == 4
    limit = slat(PINE, DRY, SHELF, load=100, sag_share=300).checks[-1].limit
    assert limit == SagLimit(800, 300)
    assert "common practice, no source" in limit.words()


def test_a_shelf_presses_on_the_floor_of_its_dado() -> None:
    found = shelf_in_dado(PINE, DRY, reaction=150, along=250, depth=6)
    assert found.deciding.found == pytest.approx(0.1)
    assert found.utilisation == pytest.approx(0.1 / (3 / 1.67))


# What is refused


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_negative_and_endless_loads_are_refused(bad: float) -> None:
    with pytest.raises(RangeError, match="load on the joint: force is"):
        LineLoad(force=bad, along=10)
    with pytest.raises(RangeError, match="drawer: mass is"):
        Drawer(mass_kg=bad, length=400)
    with pytest.raises(RangeError, match="drawer: lean is"):
        Drawer(mass_kg=5, length=400, lean=bad)
    with pytest.raises(RangeError, match="beam: load is"):
        slat(PINE, DRY, SHELF, load=bad)
    with pytest.raises(RangeError, match="shelf in a dado: reaction is"):
        shelf_in_dado(PINE, DRY, reaction=bad, along=250, depth=6)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_sizes_that_are_not_above_nought_are_refused(bad: float) -> None:
    with pytest.raises(RangeError, match=r"strip: thickness is .* Give a finite figure above 0"):
        Strip(thickness=bad, arm=4)
    with pytest.raises(RangeError, match="strip: lever arm is"):
        Strip(thickness=6, arm=bad)
    with pytest.raises(RangeError, match="length loaded is"):
        LineLoad(force=1, along=bad)
    with pytest.raises(RangeError, match="beam: span is"):
        replace(SHELF, span=bad)
    with pytest.raises(RangeError, match="depth is"):
        shelf_in_dado(PINE, DRY, reaction=10, along=250, depth=bad)
    with pytest.raises(RangeError, match="runner: engagement is"):
        replace(RUNNER, engagement=bad)


@pytest.mark.parametrize("out", [-1.0, 400.0, 500.0, math.nan])
def test_a_drawer_that_is_not_partly_inside_is_refused(out: float) -> None:
    with pytest.raises(RangeError, match=r"drawer: pulled out .* from 0 to less than its length"):
        Drawer(mass_kg=5, length=400, pulled_out=out)


def test_a_runner_engaged_further_than_it_stands_out_is_refused() -> None:
    with pytest.raises(RangeError, match="engagement of 9 mm on a projection of 8 mm"):
        Runner(thickness=10, projection=8, engagement=9)


def test_a_span_hardly_longer_than_the_thickness_is_refused() -> None:
    with pytest.raises(RangeError, match="shorter ones are no beams"):
        Beam(span=30, width=100, thickness=18)


@pytest.mark.parametrize("creep", [0.9, 3.1, math.nan])
def test_a_creep_factor_out_of_reach_is_refused(creep: float) -> None:
    with pytest.raises(RangeError, match=r"1\.5 for dry timber, 2 for green"):
        slat(PINE, DRY, SHELF, load=100, creep=creep)


def test_unknown_grain_and_load_places_are_refused() -> None:
    with pytest.raises(InputError, match=r"grain 'short'\. Use along the edge or out of the edge"):
        Strip(thickness=6, arm=4, grain="short")  # type: ignore[arg-type]  # from a document
    with pytest.raises(InputError, match=r"load spread 'ends'\. Use centre or even"):
        slat(PINE, DRY, SHELF, load=1, spread="ends")  # type: ignore[arg-type]  # from a document
