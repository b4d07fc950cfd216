"""What may be asked of a joint, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from faywright.errors import InputError, RangeError
from faywright.joints.loads import DrawerLoad, Load
from faywright.joints.wanted import EdgeDetail, Place, WantedJoint
from faywright.timber.strength import Service
from tests.joints.builders import SNUG


def wanted(**wishes: Any) -> WantedJoint:
    asked: dict[str, Any] = {
        "name": "back",
        "family": "tongue and groove",
        "groove": Place("backs", "reference edge"),
        "tongue": Place("backs", "opposite edge"),
        "fit": SNUG,
    }
    return WantedJoint(**(asked | wishes))


SIZES = [
    ("tongue_thickness", 0.49, "between 0.5 and 100 mm"),
    ("tongue_length", 101.0, "between 0.5 and 100 mm"),
    ("groove_width", 0.0, "between 0.5 and 100 mm"),
    ("groove_depth", -3.0, "between 0.5 and 100 mm"),
    ("bottom_gap", 10.1, "between 0 and 10 mm"),
    ("offset", -0.1, "between 0 and 200 mm"),
    ("film", 1.1, "between 0 and 1 mm"),
    ("sanding", -0.1, "between 0 and 1 mm"),
]


@pytest.mark.parametrize(("name", "size", "limits"), SIZES)
def test_a_size_out_of_reason_is_refused_with_its_limits(
    name: str, size: float, limits: str
) -> None:
    with pytest.raises(RangeError, match=f"joint 'back': {name} {size:g} mm is not {limits}"):
        wanted(**{name: size})


SECOND = Place("backs", "opposite edge")
RAILS = Place("rails", "head end")
HANGS = Load(carries=DrawerLoad(mass_kg=5.0), service=Service())
PARTS: list[tuple[dict[str, Any], str]] = [
    ({"tongue": None}, "needs a tongue or a strip"),
    ({"strip": "strips"}, "needs a tongue or a strip to enter the groove, not both"),
    ({"second_groove": SECOND}, "only a loose tongue has a second groove"),
    ({"family": "loose tongue"}, "joins two grooves with a strip"),
    ({"family": "loose tongue", "tongue": None, "strip": "s"}, "joins two grooves with a strip"),
    ({"tongue": None, "strip": "s", "half": True}, "a strip is not cut: it has no half tongue"),
    ({"tongue": None, "strip": "s", "detail": EdgeDetail("V", 2.0)}, "no half tongue, no detail"),
    ({"tongue": None, "strip": "s", "tongue_thickness": 6.0}, "its own thickness"),
    ({"tongue": Place("backs", "reference edge")}, "cannot meet itself"),
    ({"most_settings": 0}, "most_settings is 0"),
    ({"engagement": 3.0, "fit": replace(SNUG, glued=True)}, "it is glued: nothing opens"),
    ({"engagement": 3.0, "tongue": RAILS}, "its boards do not stand in a row: nothing opens"),
    ({"load": HANGS}, "a drawer hangs on a runner or on a half tongue"),
]


@pytest.mark.parametrize(("wishes", "reason"), PARTS)
def test_parts_that_make_no_joint_are_refused(wishes: dict[str, Any], reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        wanted(**wishes)


@pytest.mark.parametrize("size", [0.5, 100.0])
def test_sizes_at_the_limits_are_taken(size: float) -> None:
    assert wanted(groove_width=size).groove_width == size


def test_a_loose_tongue_needs_two_grooves_and_a_strip() -> None:
    found = wanted(family="loose tongue", tongue=None, strip="s", second_groove=SECOND)
    assert found.second_groove == SECOND


def test_dry_boards_in_a_row_may_ask_for_an_engagement() -> None:
    assert wanted(engagement=2.0).opens


@pytest.mark.parametrize(
    "wishes",
    [
        {"half": True, "tongue": RAILS},
        {"family": "runner", "tongue": None, "strip": "runner"},
    ],
)
def test_a_drawer_hangs_on_a_runner_or_a_half_tongue(wishes: dict[str, Any]) -> None:
    assert wanted(load=HANGS, **wishes).load is HANGS
