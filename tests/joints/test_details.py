"""Profiles along the joint: what they take off the arris, and when they cannot be cut."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import numpy as np
import pytest

from faywright.errors import RangeError
from faywright.joints import grooves, tongues
from faywright.joints.details import LEAST_SHOULDER, with_detail
from faywright.joints.gaps import simulate
from faywright.joints.grooves import Declined
from faywright.joints.method import Method
from faywright.joints.wanted import EdgeDetail
from faywright.section.cutting import Sections
from faywright.setups.sheet import setups_of
from faywright.shop import BeadCutter, Cutter, VCutter
from tests.joints.builders import (
    TABLE,
    cut_by,
    exactly,
    groove_by,
    joint,
    solved,
    straight,
    tongue_by,
)

LENGTH, CHEEK = 9.5, 6.255
V90 = VCutter(mark="V1", flutes=2, reach=30, diameter=20, angle_deg=90)
V120 = VCutter(mark="V2", flutes=2, reach=30, diameter=40, angle_deg=120)
BEAD = BeadCutter(mark="Q1", flutes=2, reach=30, radius=4.0, point=3.0)
PLAIN = straight(18.0, "C2")
Kind = Literal["V", "bead", "square reveal"]


def both_sides() -> tuple[Method, Method]:
    task = joint([19.0] * 2, [19.0] * 2, groove_width=6.85, tongue_length=LENGTH)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.85))
    return groove, tongue_by(task, groove, tongues.FLAT, PLAIN)


def detailed(kind: Kind, size: float, *cutters: Cutter) -> tuple[Method, Method]:
    """Groove and tongue with a detail; it must be possible."""
    groove, tongue = both_sides()
    wanted = EdgeDetail(kind, size)
    one = with_detail(groove, wanted, cutters, shoulder=0.0, cheek=float("inf"))
    two = with_detail(tongue, wanted, cutters, shoulder=LENGTH, cheek=CHEEK)
    assert isinstance(one, Method)
    assert isinstance(two, Method)
    return one, two


def declined(kind: Kind, size: float, *cutters: Cutter) -> Declined:
    found = with_detail(
        both_sides()[1], EdgeDetail(kind, size), cutters, shoulder=LENGTH, cheek=CHEEK
    )
    assert isinstance(found, Declined)
    return found


def section(method: Method) -> Sections:
    settings = dict(method.fixed)
    if method.control is not None:
        settings[method.control] = float(np.asarray(method.control_for(19.0 - 2 * CHEEK, 19.0)))
    return cut_by(method, settings, 19.0)


def span(board: Sections, surface: str, axis: int) -> tuple[float, float]:
    low, high = board.span(surface, axis)
    return float(low[0]), float(high[0])


# What they cut

PROFILES = [("V", 2.0, V90), ("bead", 4.0, BEAD), ("square reveal", 3.0, PLAIN)]


@pytest.mark.parametrize("size", [1.0, 2.5, 4.0])
@pytest.mark.parametrize(("cutter", "slope"), [(V90, 1.0), (V120, 3**0.5)])
def test_a_v_is_as_wide_as_asked_on_the_face_of_either_board(
    cutter: VCutter, slope: float, size: float
) -> None:
    groove, tongue = detailed("V", size, cutter)
    for board, shoulder in ((section(groove), 0.0), (section(tongue), LENGTH)):
        assert span(board, "V", 1) == exactly((shoulder, shoulder + size))
        assert span(board, "V", 0) == exactly((0.0, size / slope))


def test_a_v_leaves_cheek_and_shoulder_below_it_alone() -> None:
    _, tongue = detailed("V", 2.5, V90)
    board = section(tongue)
    assert span(board, "face-A cheek", 0) == exactly((CHEEK, CHEEK))
    assert span(board, "face-A shoulder", 0) == exactly((2.5, CHEEK))
    assert "V, near side" not in board.surfaces()


def test_a_bead_rounds_the_arris_of_the_tongued_board_only() -> None:
    groove, tongue = detailed("bead", 4.0, BEAD)
    board = section(tongue)
    assert span(board, "bead", 1) == exactly((LENGTH, LENGTH + 4.0))
    assert span(board, "bead", 0) == exactly((0.0, 4.0))
    assert groove == both_sides()[0]


def test_a_bead_takes_the_corner_outside_a_quarter_circle() -> None:
    _, tongue = detailed("bead", 4.0, BEAD)
    taken = section(both_sides()[1]).area[0] - section(tongue).area[0]
    assert taken == pytest.approx(4.0**2 * (1 - np.pi / 4), abs=1e-3)


@pytest.mark.parametrize("size", [1.0, 3.0, 5.5])
def test_a_square_reveal_is_as_wide_as_deep(size: float) -> None:
    _, tongue = detailed("square reveal", size, PLAIN)
    board = section(tongue)
    assert span(board, "reveal bottom", 1) == exactly((LENGTH, LENGTH + size))
    assert span(board, "reveal wall", 0) == exactly((0.0, size))
    taken = section(both_sides()[1]).area[0] - board.area[0]
    assert taken == exactly(size * size)


@pytest.mark.parametrize(
    ("kind", "size", "cutter"),
    PROFILES,
)
def test_a_detail_leaves_all_gaps_as_they_are(kind: Kind, size: float, cutter: Cutter) -> None:
    groove, tongue = detailed(kind, size, cutter)
    task = joint([19.0] * 2, [19.0] * 2, groove_width=6.85, tongue_length=LENGTH)
    plain = simulate(solved(task, *both_sides())).gaps
    found = simulate(solved(task, groove, tongue)).gaps
    assert set(found) == set(plain)
    for name, values in plain.items():
        assert found[name].tolist() == exactly(values.tolist())


READINGS = [
    ("V", 2.0, V90, "width of the V on the face"),
    ("bead", 4.0, BEAD, "width of the bead"),
    ("square reveal", 3.0, PLAIN, "width of reveal"),
]


@pytest.mark.parametrize(("kind", "size", "cutter", "what"), READINGS)
def test_the_width_of_a_detail_is_a_check_reading(
    kind: Kind, size: float, cutter: Cutter, what: str
) -> None:
    _, tongue = detailed(kind, size, cutter)
    reading = next(r for r in tongue.readings if r.what == what)
    assert reading.form.value(tongue.known()) == exactly(size)


@pytest.mark.parametrize(("kind", "size", "cutter", "what"), READINGS)
def test_every_reading_of_a_joint_with_a_detail_is_asked_for_once(
    kind: Kind, size: float, cutter: Cutter, what: str
) -> None:
    task = joint([19.0] * 2, [19.0] * 2, groove_width=6.85, tongue_length=LENGTH)
    setups = setups_of(solved(task, *detailed(kind, size, cutter)), TABLE)
    asked = [(setup.side, r.what) for setup in setups for r in setup.readings]
    assert len(asked) == len(set(asked))
    assert ("tongue", what) in asked
    assert ("groove", "groove width") in asked


def test_the_correction_of_a_v_follows_its_slope() -> None:
    _, tongue = detailed("V", 2.0, V120)
    reading = next(r for r in tongue.readings if r.what.startswith("width of the V"))
    assert reading.quantity is not None
    wider = dict(tongue.fixed)
    wider[reading.quantity] += 0.1
    board = section(replace(tongue, fixed=wider))
    low, high = span(board, "V", 1)
    grown = high - low - 2.0
    assert grown == exactly(0.1 * reading.form.coefficient(reading.quantity))
    assert grown == exactly(0.1 * 3**0.5)


def test_the_detail_is_cut_last() -> None:
    for method in detailed("V", 2.0, V90):
        assert [run.key for run in method.runs][-1] == "detail"
        assert "detail" not in [run.key for run in method.runs][:-1]


# When they cannot be cut

REASONS: list[tuple[Kind, float, tuple[Cutter, ...], str, str]] = [
    ("V", 2.0, (PLAIN,), "V of 2.0 mm", "no V cutter is listed"),
    ("V", 6.0, (V90,), "V of 6.0 mm", "V1 would stand 6.5 mm high"),
    (
        "V",
        3.0,
        (VCutter(mark="V3", flutes=2, reach=3, diameter=20, angle_deg=90),),
        "V of 3.0 mm",
        "V3 would stand 3.5 mm high",
    ),
    (
        "V",
        3.0,
        (VCutter(mark="V4", flutes=2, reach=30, diameter=6, angle_deg=90),),
        "V of 3.0 mm",
        "V4 would stand 3.5 mm high",
    ),
    ("bead", 3.0, (BEAD,), "bead of 3.0 mm", "no bead cutter of that radius is listed"),
    ("bead", 6.0, (BEAD,), "bead of 6.0 mm", "the face-A cheek is only 6.3 mm"),
    ("square reveal", 6.0, (PLAIN,), "square reveal of 6.0 mm", "the face-A cheek is only 6.3 mm"),
]


@pytest.mark.parametrize(("kind", "size", "cutters", "what", "why"), REASONS)
def test_a_detail_that_cannot_be_cut_is_declined_with_the_reason(
    kind: Kind, size: float, cutters: tuple[Cutter, ...], what: str, why: str
) -> None:
    found = declined(kind, size, *cutters)
    assert found.method == what
    assert why in found.why


def test_a_reveal_wider_than_any_straight_cutter_is_declined() -> None:
    task = joint([19.0] * 2, [19.0] * 2, groove_width=6.85, tongue_length=LENGTH)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.85))
    small = straight(4.0, "C3")
    tongue = tongue_by(task, groove, tongues.FLAT, small)
    wanted = EdgeDetail("square reveal", 4.5)
    found = with_detail(tongue, wanted, [small], shoulder=LENGTH, cheek=CHEEK)
    assert found == Declined("square reveal of 4.5 mm", "no straight cutter is that wide")


@pytest.mark.parametrize("kind", ["bead", "square reveal"])
def test_a_shoulder_is_left_beside_a_detail_for_the_joint_to_close_on(kind: Kind) -> None:
    groove, tongue = both_sides()
    bead = replace(BEAD, radius=4.0)
    for spare, made in ((1e-6, True), (-1e-6, False)):
        cheek = 4.0 + LEAST_SHOULDER + spare
        wanted = EdgeDetail(kind, 4.0)
        found = with_detail(tongue, wanted, [bead, PLAIN], shoulder=LENGTH, cheek=cheek)
        assert isinstance(found, Method) is made
    assert with_detail(groove, EdgeDetail(kind, 4.0), [], shoulder=0.0, cheek=0.0) is groove


@pytest.mark.parametrize("size", [0.0, -1.0, 30.1])
def test_a_detail_without_a_sensible_size_is_refused(size: float) -> None:
    with pytest.raises(RangeError, match="is not between 0 and 30 mm"):
        EdgeDetail("V", size)
