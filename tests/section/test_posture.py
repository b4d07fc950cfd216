import numpy as np
import pytest
from hypothesis import given

from faywright.section import Pass, Posture, cut
from tests.section.points import Floats, from_outline
from tests.strategies import STEADY, lengths, passes, postures, thicknesses

MIRRORED = {Posture.ON_EDGE_A: Posture.ON_EDGE_B, Posture.FLAT_A: Posture.FLAT_B}


@pytest.mark.parametrize(
    ("posture", "down", "against"),
    [
        (Posture.ON_EDGE_A, "jointed edge", "face A"),
        (Posture.ON_EDGE_B, "jointed edge", "face B"),
        (Posture.FLAT_A, "face A", "jointed edge"),
        (Posture.FLAT_B, "face B", "jointed edge"),
    ],
)
def test_a_posture_says_what_is_down_and_what_is_against_the_fence(
    posture: Posture, down: str, against: str
) -> None:
    assert (posture.down, posture.against) == (down, against)


@pytest.mark.parametrize(
    ("posture", "machine"),
    [
        # 3 mm from face A and 7 mm from the edge of a 20 mm board: y from the fence, z up
        (Posture.ON_EDGE_A, (3, 7)),
        (Posture.ON_EDGE_B, (17, 7)),
        (Posture.FLAT_A, (7, 3)),
        (Posture.FLAT_B, (7, 17)),
    ],
)
def test_where_a_mark_on_the_board_comes_to_lie(
    posture: Posture, machine: tuple[float, float]
) -> None:
    assert posture.to_machine(np.array([3.0, 7.0]), 20.0).tolist() == list(machine)


@pytest.mark.parametrize("posture", Posture)
def test_what_is_down_lies_on_the_table_and_what_is_against_touches_the_fence(
    posture: Posture,
) -> None:
    sides = {"face A": [0.0, 9.0], "face B": [20.0, 9.0], "jointed edge": [6.0, 0.0]}
    assert posture.to_machine(np.array(sides[posture.down]), 20.0)[1] == 0
    assert posture.to_machine(np.array(sides[posture.against]), 20.0)[0] == 0


@given(postures, thicknesses, lengths(-5, 50), lengths(-5, 50))
@STEADY
def test_to_the_machine_and_back_changes_nothing(
    posture: Posture, thickness: float, u: float, v: float
) -> None:
    mark = np.array([[u, v], [v, u]])
    there = posture.to_joint(posture.to_machine(mark, thickness), thickness)
    here = posture.to_machine(posture.to_joint(mark, thickness), thickness)
    assert there == pytest.approx(mark, abs=1e-12)
    assert here == pytest.approx(mark, abs=1e-12)


@pytest.mark.parametrize("posture", Posture)
def test_boards_of_many_thicknesses_turn_at_once(posture: Posture) -> None:
    marks = np.array([[[3.0, 7.0], [0.0, 1.0]], [[4.0, 2.0], [9.0, 9.0]]])
    thickness = np.array([[20.0], [31.0]])
    together = posture.to_machine(marks, thickness)
    for k in range(2):
        alone = posture.to_machine(marks[k], float(thickness[k, 0]))
        assert together[k].tolist() == alone.tolist()
    assert posture.to_joint(together, thickness).tolist() == marks.tolist()


@pytest.mark.parametrize(("posture", "other"), MIRRORED.items())
@given(thicknesses, lengths(-5, 50), lengths(-5, 50))
@STEADY
def test_turning_a_board_over_twice_changes_nothing(
    posture: Posture, other: Posture, thickness: float, u: float, v: float
) -> None:
    def turned_over(mark: Floats) -> Floats:
        return other.to_joint(posture.to_machine(mark, thickness), thickness)

    mark = np.array([u, v])
    assert turned_over(mark) == pytest.approx(np.array([thickness - u, v]), abs=1e-12)
    assert turned_over(turned_over(mark)) == pytest.approx(mark, abs=1e-12)


@pytest.mark.parametrize(("posture", "other"), MIRRORED.items())
@given(thicknesses, passes())
@STEADY
def test_a_cut_from_face_b_is_the_mirror_image_of_the_cut_from_face_a(
    posture: Posture, other: Posture, thickness: float, run: Pass
) -> None:
    from_a, from_b = (
        cut(thickness, 90, [Pass(run.profile, run.height, run.axis, way)])
        for way in (posture, other)
    )
    mirrored = from_b.points * (-1, 1) + (thickness, 0)
    assert from_outline(mirrored, from_a.points, from_a.ends).max() < 1e-9
    assert from_b.area[0] == pytest.approx(from_a.area[0], rel=1e-12)
