from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from faywright.errors import RangeError
from faywright.shop import CutSize, Cutter
from tests.shop.owned import bead, dovetail, pair, slot, straight, v_shape

EVERY_KIND: tuple[Cutter, ...] = (straight(), slot(), pair(), v_shape(), bead(), dovetail())
Making = Callable[[], object]

# What a size cuts


def test_a_size_that_was_not_measured_cuts_its_mark_and_the_runout() -> None:
    assert CutSize(marked=12.7).cuts(0.04) == pytest.approx(12.74, abs=1e-12)


def test_a_size_measured_with_calipers_never_cuts_its_mark() -> None:
    size = CutSize(marked=12.7, measured=12.62, how="calipers")
    assert size.cuts(0.0) == 12.62
    assert size.cuts(0.04) == pytest.approx(12.66, abs=1e-12)


@pytest.mark.parametrize("runout", [0.0, 0.04, 0.2])
def test_a_trial_slot_has_the_runout_in_it(runout: float) -> None:
    assert CutSize(marked=12.7, measured=12.66, how="trial slot").cuts(runout) == 12.66


@pytest.mark.parametrize(
    ("size", "cuts"),
    [
        (CutSize(marked=12.0), 12.06),
        (CutSize(marked=12.0, measured=11.9, how="calipers"), 11.96),
        (CutSize(marked=12.0, measured=11.98, how="trial slot"), 11.98),
    ],
)
def test_the_reading_of_the_indicator_adds_once_to_the_width_of_a_slot(
    size: CutSize, cuts: float
) -> None:
    cutter = straight(size=size, runout=0.06)
    assert cutter.cut_diameter == pytest.approx(cuts, abs=1e-12)
    assert 2 * cutter.profile.half[0][1, 0] == pytest.approx(cuts, abs=1e-12)


@pytest.mark.parametrize(
    ("made", "diameter"),
    [(slot, 48.0), (pair, 46.0), (v_shape, 18.0), (dovetail, 14.0), (bead, 10.0)],
)
def test_runout_adds_once_to_what_any_cutter_sweeps(
    made: Callable[..., Cutter], diameter: float
) -> None:
    assert made().swept_diameter == pytest.approx(diameter, abs=1e-12)
    assert made(runout=0.06).swept_diameter == pytest.approx(diameter + 0.06, abs=1e-12)


@pytest.mark.parametrize("runout", [0.0, 0.06])
def test_runout_makes_neither_a_wing_nor_a_tongue_thicker(runout: float) -> None:
    assert slot(runout=runout).cut_thickness == 6.0
    assert pair(runout=runout).cut_tongue == 6.0


def test_a_wing_cuts_as_deep_and_a_pair_as_long_as_they_say() -> None:
    radii = slot(depth=12.0).profile.half[0][:, 0]
    assert radii.max() - radii[-1] == pytest.approx(12.0)
    radii = pair(length=10.0).profile.half[0][:, 0]
    assert radii.max() - radii[3] == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("cutter", "decides"),
    list(zip(EVERY_KIND, (12.7, 6.0, 6.0, None, None, None), strict=True)),
    ids=lambda each: type(each).__name__,
)
def test_some_cutters_have_a_size_that_decides_a_fit(cutter: Cutter, decides: float | None) -> None:
    size = cutter.fit_size
    assert (None if size is None else size.marked) == decides


def test_a_shank_is_never_thicker_than_the_slot_it_has_to_pass_through() -> None:
    assert straight(6.0, shank=8.0).swept_diameter == 6.0
    assert straight(20.0, shank=8.0).profile.half[0][-1, 0] == 4.0


def test_a_bead_without_a_flat_still_makes_a_cutter() -> None:
    assert bead(point=0.0).swept_diameter == pytest.approx(8.0)


def test_a_cutter_of_no_kind_has_no_profile() -> None:
    with pytest.raises(NotImplementedError):
        _ = Cutter(mark="C", flutes=2, reach=50).profile


# What is refused


@pytest.mark.parametrize("marked", [0.0, -6.0, 200.1, math.nan, math.inf])
def test_a_marked_size_that_no_cutter_has_is_refused(marked: float) -> None:
    said = f"^cutter: a marked size of {marked:g} mm is not between 0 and 200 mm. Give the size"
    with pytest.raises(RangeError, match=said):
        CutSize(marked=marked)


@pytest.mark.parametrize("measured", [0.5, 11.2, 14.1, 127.0])
def test_a_measurement_far_from_the_mark_is_refused(measured: float) -> None:
    said = f"measured {measured:g} mm is more than a tenth off the marked 12.7 mm. Measure again"
    with pytest.raises(RangeError, match=said):
        CutSize(marked=12.7, measured=measured)


@pytest.mark.parametrize("measured", [11.5, 13.9])
def test_a_measurement_near_the_mark_is_taken(measured: float) -> None:
    assert CutSize(marked=12.7, measured=measured).cuts(0.0) == measured


@pytest.mark.parametrize("cutter", EVERY_KIND, ids=lambda each: type(each).__name__)
@pytest.mark.parametrize(
    ("made_odd", "said"),
    [
        (lambda c: replace(c, flutes=0), "0 flutes are not between 1 and 12. Count the edges"),
        (lambda c: replace(c, flutes=13), "13 flutes are not between 1 and 12"),
        (
            lambda c: replace(c, reach=0.0),
            "a reach of 0 mm is not between 0 and 200 mm. Give how far",
        ),
        (lambda c: replace(c, reach=201.0), "a reach of 201 mm is not"),
        (lambda c: replace(c, reach=math.nan), "a reach of nan mm is not"),
        (
            lambda c: replace(c, runout=-0.01),
            "a runout of -0.01 mm is not between 0 and 1 mm. Give",
        ),
        (lambda c: replace(c, runout=1.1), "a runout of 1.1 mm is not"),
        (lambda c: replace(c, runout=math.nan), "a runout of nan mm is not"),
        (
            lambda c: replace(c, shank=1.9),
            "a shank of 1.9 mm is not between 2 and 40 mm. Measure",
        ),
        (lambda c: replace(c, shank=40.1), "a shank of 40.1 mm is not"),
        (
            lambda c: replace(c, max_speed_rpm=999),
            "a greatest speed of 999 rpm is not between 1,000 and",
        ),
        (
            lambda c: replace(c, max_speed_rpm=60001),
            "60001 rpm is not .* Read the marking",
        ),
    ],
)
def test_what_no_cutter_can_be_is_refused_by_its_mark(
    cutter: Cutter, made_odd: Callable[[Cutter], Cutter], said: str
) -> None:
    with pytest.raises(RangeError, match=f"^cutter {cutter.mark}: .*{said}"):
        made_odd(cutter)


@pytest.mark.parametrize("length", [0.0, -1.0, 150.1, math.nan])
def test_a_straight_cutter_needs_a_cutting_length(length: float) -> None:
    said = f"^cutter S1: a cutting length of {length:g} mm is not between 0 and 150 mm. Measure"
    with pytest.raises(RangeError, match=said):
        replace(straight(), cutting_length=length)


@pytest.mark.parametrize(
    ("diameter", "depth"), [(48.0, 0.0), (48.0, 24.0), (151.0, 12.0), (math.nan, 12.0)]
)
def test_a_slot_deeper_than_its_wing_is_refused(diameter: float, depth: float) -> None:
    said = f"^cutter W1: a slot depth of {depth:g} mm does not go with a diameter of {diameter:g}"
    with pytest.raises(RangeError, match=said):
        slot(diameter, depth=depth)


@pytest.mark.parametrize(
    ("wing", "length"), [(9.0, 0.0), (9.0, 23.0), (0.0, 10.0), (50.1, 10.0), (math.nan, 10.0)]
)
def test_a_pair_whose_wings_do_not_go_with_its_circle_is_refused(
    wing: float, length: float
) -> None:
    said = f"^cutter P1: a tongue length of {length:g} mm and wings of {wing:g} mm do not go with"
    with pytest.raises(RangeError, match=said):
        pair(wing=wing, length=length)


@pytest.mark.parametrize(
    ("making", "said"),
    [
        (lambda: v_shape(angle=19), "V1: an angle of 19 degrees and a diameter of 18 mm are not"),
        (lambda: v_shape(angle=161), "V1: an angle of 161 degrees"),
        (lambda: v_shape(diameter=0), "V1: an angle of 90 degrees and a diameter of 0 mm"),
        (lambda: v_shape(diameter=101), "diameter of 101 mm .* usual. Give the angle between"),
        (lambda: bead(radius=0), "B1: a radius of 0 mm and a point of 2 mm are not both usual"),
        (lambda: bead(radius=41), "B1: a radius of 41 mm"),
        (lambda: bead(point=-1), "a point of -1 mm are not both usual. Give the radius of the"),
        (lambda: dovetail(angle=0), "D1: flanks of 0 degrees over 10 mm leave no neck"),
        (lambda: dovetail(angle=46), "D1: flanks of 46 degrees"),
        (lambda: dovetail(height=0), "D1: flanks of 14 degrees over 0 mm"),
        (lambda: dovetail(height=30), "over 30 mm leave no neck. Give the height of the flank"),
    ],
)
def test_a_shape_that_cannot_be_ground_is_refused(making: Making, said: str) -> None:
    with pytest.raises(RangeError, match=f"^cutter .*{said}"):
        making()
