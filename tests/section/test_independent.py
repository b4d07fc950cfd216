"""The kernel against two other ways to work out a section, neither of which knows it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import pi, radians, tan

import numpy as np
import pytest

from faywright.section import (
    Arc,
    Line,
    Pass,
    Posture,
    Profile,
    Sections,
    bead_profile,
    core_profile,
    cut,
    dovetail_profile,
    profile_of,
    slot_profile,
    straight_profile,
    tongue_pair_profile,
    v_profile,
)
from tests.section import points
from tests.section.rectangles import DEEP, Cells, Step, SteppedPass, cells

POSTURES = {
    # flat, turned
    (False, False): Posture.ON_EDGE_A,
    (False, True): Posture.ON_EDGE_B,
    (True, False): Posture.FLAT_A,
    (True, True): Posture.FLAT_B,
}
BLANK_SIDES = {"face A": (0, 0), "edge": (1, 0)}
WIDTH = 100.0
REACH = 50.0
"""No pass of these tests reaches further than this into a board, so its back stands. [mm]"""

Draw = Callable[[float, float], float]


@dataclass(frozen=True)
class Cutter:
    """A cutter twice: as the kernel's profile, and by its r(z)."""

    profile: Profile
    radius: points.Radius
    round: bool = False


def straight(draw: Draw) -> Cutter:
    r, length, shank = draw(2, 8), draw(6, 30), draw(2, 6)
    return Cutter(straight_profile(r, length, shank), points.stepped((r, length), shank=shank))


def slot(draw: Draw) -> Cutter:
    r, wing, arbor = draw(10, 24), draw(1.5, 6), draw(3, 8)
    return Cutter(slot_profile(r, wing, arbor), points.stepped((r, wing), shank=arbor))


def tongue_pair(draw: Draw) -> Cutter:
    r, wing, tongue, hub, shank = draw(16, 22), draw(4, 8), draw(4, 8), draw(8, 12), draw(3, 6)
    steps = ((r, wing), (hub, wing + tongue), (r, 2 * wing + tongue))
    return Cutter(
        tongue_pair_profile(r, wing, tongue, hub, shank), points.stepped(*steps, shank=shank)
    )


def dovetail(draw: Draw) -> Cutter:
    r, height, angle = draw(6, 12), draw(4, 12), draw(5, 18)
    return Cutter(dovetail_profile(r, height, angle), points.dovetail(r, height, angle))


def v_point(draw: Draw) -> Cutter:
    r, angle = draw(4, 12), draw(45, 120)
    return Cutter(v_profile(r, angle), points.v_point(r, angle))


def bead(draw: Draw) -> Cutter:
    r, point = draw(2, 8), draw(0.5, 3)
    return Cutter(bead_profile(r, point), points.bead(r, point), round=True)


def core(draw: Draw) -> Cutter:
    r = draw(2, 8)
    return Cutter(core_profile(r, draw(8, 20)), points.core(r), round=True)


def ogee(draw: Draw) -> Cutter:
    p, hollow, swell = draw(0.5, 3), draw(2, 5), draw(2, 5)
    middle = p + hollow
    profile = profile_of(
        [
            Line(p, 0, "point"),
            Arc(middle, -hollow, middle, 0, "hollow"),
            Arc(middle + swell, -hollow - swell, middle, -hollow - swell, "swell"),
        ]
    )
    return Cutter(profile, points.ogee(p, hollow, swell), round=True)


KINDS = (straight, slot, tongue_pair, dovetail, v_point, bead, core, ogee)


def random_case(seed: int) -> tuple[Sections, points.Board, float]:
    """The kernel's section, the same board to be asked by points, and how exact it should be."""
    rng = np.random.default_rng(seed)
    thickness = rng.uniform(12, 40)
    runs, turning, margin = [], [], 1e-8
    for _ in range(rng.integers(1, 5)):
        cutter = KINDS[rng.integers(len(KINDS))](rng.uniform)
        flat, turned = bool(rng.integers(2)), bool(rng.integers(2))
        height = rng.uniform(1, thickness + 6 if flat else 24)
        axis = rng.uniform(-8, 22 if flat else thickness + 8)
        runs.append(Pass(cutter.profile, height, axis, POSTURES[flat, turned]))
        turning.append(points.TurningPass(cutter.radius, height, axis, flat, turned))
        if cutter.round:
            margin = 2e-4
    return (
        cut(thickness, WIDTH, runs),
        points.Board(thickness, WIDTH, tuple(turning)),
        margin,
    )


@pytest.mark.parametrize("seed", range(240))
def test_every_point_is_wood_or_not_as_r_of_z_says(seed: int) -> None:
    section, board, margin = random_case(seed)
    rng = np.random.default_rng(seed)
    asked = rng.uniform((0, 0), (board.thickness, REACH), (1500, 2))
    asked = np.concatenate([asked, points.beside(section.points, section.ends, 2 * margin)])
    kept = points.even_odd(asked, section.points, section.ends)
    doubtful = asked[kept != board.wood(asked)]
    doubtful = doubtful[points.from_outline(doubtful, section.points, section.ends) > margin]
    assert board.in_offcut(doubtful).all()
    assert section.area[0] == pytest.approx(points.shoelace(section.points), rel=1e-12)


# name: the sides and ledges of each step from the top down, the shank last
STEP_NAMES = {
    "straight": (("side", "top"), ("shank", "shoulder")),
    "slot": (("rim", "top"), ("shank", "underside")),
    "pair": (
        ("upper rim", "top"),
        ("hub", "upper underside"),
        ("lower rim", "lower top"),
        ("shank", "underside"),
    ),
}


def stepped_cutter(kind: str, draw: Callable[[float, float], int]) -> tuple[Profile, list[Step]]:
    """A cutter in whole micrometres, for the kernel and as a stack of steps."""
    if kind == "straight":
        radii, depths = [draw(2, 8), draw(2, 6)], [draw(6, 30)]
        profile = straight_profile(radii[0] / 1000, depths[0] / 1000, radii[1] / 1000)
    elif kind == "slot":
        radii, depths = [draw(10, 24), draw(3, 8)], [draw(1.5, 6)]
        profile = slot_profile(radii[0] / 1000, depths[0] / 1000, radii[1] / 1000)
    else:
        rim, hub, shank, wing, tongue = (
            draw(16, 22),
            draw(8, 12),
            draw(3, 6),
            draw(4, 8),
            draw(4, 8),
        )
        radii, depths = [rim, hub, rim, shank], [wing, wing + tongue, 2 * wing + tongue]
        sizes = [size / 1000 for size in (rim, wing, tongue, hub, shank)]
        profile = tongue_pair_profile(*sizes)
    names = STEP_NAMES[kind]
    steps = [
        Step(radius, depth, side, ledge)
        for radius, depth, (side, ledge) in zip(radii, [*depths, DEEP], names, strict=True)
    ]
    return profile, steps


def stepped_case(seed: int, grain: int) -> tuple[Sections, int, list[SteppedPass]]:
    """A case whose lengths are multiples of ``grain`` micrometres."""
    rng = np.random.default_rng(seed)

    def draw(low: float, high: float) -> int:
        return grain * int(rng.integers(round(1000 * low) // grain, round(1000 * high) // grain))

    thickness = draw(12, 40)
    runs, stepped = [], []
    for _ in range(rng.integers(1, 5)):
        profile, steps = stepped_cutter(str(rng.choice(list(STEP_NAMES))), draw)
        flat, turned = bool(rng.integers(2)), bool(rng.integers(2))
        height = draw(1, thickness / 1000 + 6 if flat else 24)
        axis = draw(-8, 22 if flat else thickness / 1000 + 8)
        runs.append(Pass(profile, height / 1000, axis / 1000, POSTURES[flat, turned]))
        stepped.append(SteppedPass(tuple(steps), height, axis, flat, turned))
    return cut(thickness / 1000, WIDTH, runs), thickness, stepped


# Eighths are exact in binary, so surfaces that should coincide do so to the last bit.
GRAINS = [*((seed, 1) for seed in range(120)), *((seed, 125) for seed in range(120))]


@pytest.mark.parametrize(("seed", "grain"), GRAINS)
def test_stepped_cuts_agree_with_exact_rectangles(seed: int, grain: int) -> None:
    section, thickness, stepped = stepped_case(seed, grain)
    before = cells(thickness, round(1000 * WIDTH), stepped)
    board = before.back_piece()
    assert section.area[0] == pytest.approx(board.area / 1e6, rel=1e-9)
    assert_same_outline(section, board)
    assert_named_where_they_stand(section, thickness, stepped)


@pytest.mark.parametrize(("seed", "grain"), GRAINS[::8])
def test_what_is_removed_and_what_is_left_make_the_board(seed: int, grain: int) -> None:
    section, thickness, stepped = stepped_case(seed, grain)
    before = cells(thickness, round(1000 * WIDTH), stepped)
    removed = Cells(before.us, before.vs, ~before.back_piece().wood).area / 1e6
    assert section.area[0] + removed == pytest.approx(thickness / 1000 * WIDTH, rel=1e-9)


def assert_same_outline(section: Sections, board: Cells) -> None:
    """Every edge lies on the exact outline, and together they are as long along each line."""
    outline = board.outline()
    found = dict.fromkeys(outline, 0.0)
    for start, end in zip(section.points, section.ends, strict=True):
        length = float(np.hypot(*(end - start)))
        if length < 1e-9:
            continue
        axis = int(np.argmin(np.abs(end - start)))
        assert abs(end[axis] - start[axis]) < 1e-9
        line = (axis, round(1000 * start[axis]))
        assert start[axis] == pytest.approx(line[1] / 1000, abs=1e-9, rel=0)
        low, high = sorted([start[1 - axis], end[1 - axis]])
        assert any(a / 1000 - 1e-9 < low and high < b / 1000 + 1e-9 for a, b in outline[line])
        found[line] += length
    exact = {line: sum(b - a for a, b in parts) / 1000 for line, parts in outline.items()}
    assert found == pytest.approx(exact, abs=1e-9, rel=0)


def assert_named_where_they_stand(
    section: Sections, thickness: int, stepped: list[SteppedPass]
) -> None:
    """Each edge carries the name of a surface that stands just there."""
    blank = BLANK_SIDES | {"face B": (0, thickness), "back": (1, round(1000 * WIDTH))}
    surfaces = [run.surfaces(thickness) for run in stepped]
    for start, end, k in zip(section.points, section.ends, section.source, strict=True):
        source = section.sources[k]
        named = blank if source.run is None else surfaces[source.run]
        axis, place = named[source.surface if source.run is None else source.part]
        assert [start[axis], end[axis]] == pytest.approx([place / 1000] * 2, abs=1e-9, rel=0)


def single_cut_areas() -> list[object]:
    """A cutter, its height, and the area it takes from an edge by a school formula. [mm, mm2]"""
    lean, half = tan(radians(14)), tan(radians(30))
    quarter = 3.0**2 * (1 - pi / 4)
    return [
        pytest.param(straight_profile(5, 30, 3), 9, 90, 1e-9, id="straight"),
        pytest.param(slot_profile(6, 3, 2), 8, 12 * 3 + 4 * 5, 1e-9, id="slot"),
        pytest.param(
            tongue_pair_profile(8, 2, 3, 4, 3), 9, 2 * 16 * 2 + 8 * 3 + 6 * 2, 1e-9, id="pair"
        ),
        pytest.param(dovetail_profile(8, 12, 14), 9, 9 * (16 - 9 * lean), 1e-9, id="dovetail"),
        pytest.param(v_profile(9, 60), 7, 49 * half, 1e-9, id="V"),
        pytest.param(bead_profile(3, 1), 3, 2 * 3 + 2 * quarter, 2e-3, id="bead"),
        pytest.param(core_profile(5, 20), 8, pi * 12.5 + 10 * 3, 2e-3, id="round nose"),
    ]


@pytest.mark.parametrize("posture", Posture)
@pytest.mark.parametrize(("profile", "height", "removed", "margin"), single_cut_areas())
def test_one_cut_takes_the_area_of_its_cutter(
    profile: Profile, height: float, removed: float, margin: float, posture: Posture
) -> None:
    section = cut(30.0, WIDTH, [Pass(profile, height, 14.0, posture)])
    assert 30.0 * WIDTH - section.area[0] == pytest.approx(removed, abs=margin, rel=0)
