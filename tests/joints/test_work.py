"""One side of a joint as it comes to the machine."""

from __future__ import annotations

import numpy as np
import pytest

from faywright.joints.wanted import EdgeName, Place
from faywright.joints.work import ASSUMED_SCATTER, Work, work_of
from faywright.shop import Board, Gauge
from tests.joints.builders import GAUGE, exactly, pile

WEDGE = Board(
    mark="B01",
    readings=np.array([[18.0, 18.5, 19.0], [18.2, 18.5, 19.2]]),
    width=120.0,
    length=640.0,
)


def work(edge: EdgeName, *boards: Board, zero: float = 0.0) -> Work:
    calipers = Gauge(
        mark="c", uses=("thickness",), resolution=0.01, repeatability=0.02, zero_error=zero
    )
    return work_of(boards or (WEDGE,), Place("backs", edge), "softwood", calipers)


# Edge, size across, size in depth, length fed, what lies along the fence when on edge

PLACES: list[tuple[EdgeName, float, float, float, str, bool]] = [
    ("reference edge", 18.1, 120.0, 640.0, "face A", False),
    ("opposite edge", 19.1, 120.0, 640.0, "face A", False),
    ("head end", 18.566666666666666, 640.0, 120.0, "face A", True),
    ("foot end", 18.566666666666666, 640.0, 120.0, "face A", True),
    ("face A", 120.0, 18.566666666666666, 640.0, "reference edge", False),
    ("face B", 120.0, 18.566666666666666, 640.0, "reference edge", False),
]


@pytest.mark.parametrize(("edge", "across", "deep", "along", "fence", "end_grain"), PLACES)
def test_each_edge_has_its_own_size_across_depth_and_length(
    edge: EdgeName, across: float, deep: float, along: float, fence: str, end_grain: bool
) -> None:
    found = work(edge)
    sizes = [found.across[0], found.deep[0], found.along[0]]
    assert sizes == exactly([across, deep, along])
    assert found.called("face A") == fence
    assert found.called("jointed edge") == edge
    assert found.end_grain is end_grain
    assert found.edges == (edge,)


def test_a_face_keeps_its_own_words_for_the_edges_beside_it() -> None:
    found = work("face A")
    assert found.called("face B") == "opposite edge"
    assert work("head end").called("face B") == "face B"
    assert found.called("back of beyond") == "back of beyond"


@pytest.mark.parametrize("edge", ["reference edge", "opposite edge", "head end"])
def test_the_zero_error_of_the_calipers_is_taken_off_a_thickness(edge: EdgeName) -> None:
    plain = work(edge).across
    assert work(edge, zero=0.05).across.tolist() == exactly((plain - 0.05).tolist())
    assert work(edge, zero=-0.05).across.tolist() == exactly((plain + 0.05).tolist())


def test_the_zero_error_is_taken_off_what_is_cut_into_a_face() -> None:
    assert work("face A", zero=0.05).deep[0] == exactly(work("face A").deep[0] - 0.05)
    assert work("face A", zero=0.05).across[0] == 120.0


def test_the_scatter_of_the_wood_counts_twice_and_that_of_the_calipers_in_the_mean_alone() -> None:
    (deviation,) = work("reference edge", *pile([19.0], scatter=0.06)).deviation
    reading = GAUGE.standard_uncertainty
    own = 0.06**2 - reading**2
    assert deviation == exactly((own * (1 + 1 / 3) + reading**2 / 3) ** 0.5)


def test_readings_that_scatter_less_than_the_calipers_leave_no_scatter_to_the_wood() -> None:
    (deviation,) = work("reference edge", *pile([19.0], scatter=0.001)).deviation
    assert deviation == exactly(GAUGE.standard_uncertainty / 3**0.5)


def test_boards_read_once_are_taken_to_scatter() -> None:
    board = Board(mark="B01", readings=np.array([[19.0]]), width=120.0, length=640.0)
    assumed = (2 * ASSUMED_SCATTER**2 + GAUGE.standard_uncertainty**2) ** 0.5
    assert work("reference edge", board).deviation.tolist() == exactly([assumed])


def test_a_width_is_known_as_well_as_the_calipers_read_it() -> None:
    assert work("face A").deviation.tolist() == exactly([GAUGE.standard_uncertainty])


def test_a_pile_knows_its_marks_its_middle_and_how_many_it_is() -> None:
    found = work("reference edge", *pile([19.0, 18.0, 20.0]))
    assert (found.marks, found.middle, len(found)) == (("B01", "B02", "B03"), 19.0, 3)
    assert str(found.place) == "reference edge of backs"
