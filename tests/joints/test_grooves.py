"""Which grooves a cutter can make, and why not others."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given

from faywright.joints import grooves
from faywright.joints.grooves import Declined, groove_methods
from faywright.shop import Cutter
from tests.joints.builders import exactly, groove_by, joint, slot, straight
from tests.strategies import STEADY, lengths

PILE = [19.0, 19.0, 19.0]


def made(cutter: Cutter, *, exact: bool = False, **wishes: Any) -> tuple[list[str], list[str]]:
    """Names of methods, and reasons."""
    task = joint(wishes.pop("grooved", PILE), wishes.pop("tongued", PILE), **wishes)
    found = list(groove_methods(task.target, task.grooved, cutter, exact=exact))
    names = [m.name for m in found if not isinstance(m, Declined)]
    return names, [m.why for m in found if isinstance(m, Declined)]


TWO_PASSES = [grooves.TWO_PLACES, grooves.BOTH_FACES, grooves.BOTH_FACES_INWARD]
CUTTERS: list[tuple[Cutter, dict[str, Any], list[str], str]] = [
    (straight(6.35), {}, [grooves.ON_EDGE, *TWO_PASSES], ""),
    (straight(4.5), {}, TWO_PASSES, ""),
    (straight(4.5), {"offset": 5.0}, [grooves.TWO_PLACES], ""),
    (straight(6.35), {"groove_width": 6.35}, [grooves.ON_EDGE], ""),
    (straight(6.36), {"groove_width": 6.35}, [grooves.ON_EDGE], ""),
    # Near enough: the tongue is made to suit, and a second pass would only rub.
    (straight(6.30), {"groove_width": 6.35}, [grooves.ON_EDGE], ""),
    (straight(6.51), {"groove_width": 6.35}, [], "it cuts 6.51 mm, wider than the groove's 6.35"),
    (straight(8.0), {}, [], "it cuts 8.00 mm, wider than the groove's 6.69"),
    (straight(3.2), {}, [], "two passes of 3.20 mm leave a rib in a groove 6.69 mm wide"),
    (straight(6.35, reach=9.0), {}, [], "it cuts 9.0 mm deep, the groove is 10.5"),
    (straight(6.35, cutting_length=8.0), {}, [], "it cuts 8.0 mm deep, the groove is 10.5"),
    (slot(4.78), {}, [grooves.FLAT], ""),
    (slot(6.69), {}, [grooves.FLAT], ""),
    (slot(3.2), {}, [], "its 3.20 mm does not make a groove 6.69 mm wide"),
    (slot(4.78, slot_depth=10.0), {}, [], "it cuts 10.0 mm deep, the groove is 10.5"),
    (slot(4.78, reach=12.0), {}, [], "it reaches 12.0 mm above the table"),
]


@pytest.mark.parametrize(("cutter", "wishes", "names", "why"), CUTTERS)
def test_a_cutter_makes_the_grooves_it_can_and_says_why_not_the_others(
    cutter: Cutter, wishes: dict[str, Any], names: list[str], why: str
) -> None:
    assert made(cutter, **wishes) == (names, [why] if why else [])


TWICE: list[tuple[str, Cutter]] = [
    (grooves.TWO_PLACES, straight(4.5)),
    (grooves.BOTH_FACES, straight(4.5)),
    (grooves.FLAT, slot(4.5)),
]


@pytest.mark.parametrize(("name", "cutter"), TWICE)
def test_two_passes_make_no_groove_narrower_than_the_cutter_or_with_a_rib(
    name: str, cutter: Cutter
) -> None:
    assert groove_by(joint(PILE, PILE), name, cutter).limits == exactly((4.6, 8.9))


@pytest.mark.parametrize(
    ("name", "cutter"), [(grooves.ON_EDGE, straight(6.35)), (grooves.FLAT, slot(6.35))]
)
def test_one_pass_makes_the_one_width_there_is(name: str, cutter: Cutter) -> None:
    method = groove_by(joint(PILE, PILE, groove_width=6.35), name, cutter)
    assert method.limits == (0.0, math.inf)
    assert method.control is None


def test_the_wall_a_single_pass_leaves_must_be_worth_keeping() -> None:
    assert grooves.ON_EDGE in made(straight(6.35), offset=3.0)[0]
    assert grooves.ON_EDGE not in made(straight(6.35), offset=2.9)[0]


@given(diameter=lengths(4.8, 7.5))
@STEADY
def test_one_pass_is_centred_whatever_the_cutter(diameter: float) -> None:
    method = groove_by(joint(PILE, PILE), grooves.ON_EDGE, straight(diameter))
    low, high = (
        method.surfaces[name][1].value(method.known()) for name in ("face-A wall", "face-B wall")
    )
    assert low + high == exactly(19.0)
    assert high - low == exactly(diameter)


@given(offset=lengths(3, 9))
@STEADY
def test_an_offset_puts_the_near_wall_where_it_was_asked_for(offset: float) -> None:
    task = joint(PILE, PILE, offset=offset, groove_width=6.35)
    for name, cutter in (
        (grooves.ON_EDGE, straight(6.35)),
        (grooves.TWO_PLACES, straight(4.5)),
        (grooves.FLAT, slot(4.5)),
    ):
        method = groove_by(task, name, cutter)
        assert method.surfaces["face-A wall"][1].value(method.known()) == exactly(offset)


def test_a_strip_needs_the_groove_as_wide_as_it_asks_for() -> None:
    task = joint(PILE, [6.0] * 3, strips=True)
    for diameter, one in ((6.36, True), (6.55, True), (6.57, False)):
        found = groove_methods(task.target, task.grooved, straight(diameter), exact=True)
        names = [m.name for m in found if not isinstance(m, Declined)]
        assert (grooves.ON_EDGE in names) is one


def test_a_second_pass_that_would_only_rub_is_not_planned() -> None:
    assert made(straight(6.3), groove_width=6.41)[0] == [grooves.ON_EDGE, *TWO_PASSES]
    assert made(straight(6.32), groove_width=6.41)[0] == [grooves.ON_EDGE]
