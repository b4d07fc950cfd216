"""Which grooves a cutter can make, and why not others."""

from __future__ import annotations

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
    (straight(6.48), {"groove_width": 6.35}, [grooves.ON_EDGE], ""),
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


UNEVEN = [18.7, 19.0, 19.3]


@pytest.mark.parametrize(("diameter", "able"), [(6.0, True), (6.3, False), (3.7, True)])
def test_uneven_boards_are_not_grooved_from_both_faces_by_a_cutter_with_no_width_to_spare(
    diameter: float, able: bool
) -> None:
    names, why = made(straight(diameter), grooved=UNEVEN, tongued=UNEVEN, groove_width=6.5)
    assert (grooves.BOTH_FACES in names) is able
    assert able or "0.30 mm off the middle one" in why[0]


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
