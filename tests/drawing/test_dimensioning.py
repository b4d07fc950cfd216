import pytest

from faywright.drawing.dimensioning import Dimension, arrow_head, leader
from faywright.drawing.model import Mark, Outline, Polyline, Text
from faywright.errors import InputError


def tips(marks: tuple[Mark, ...] | list[Mark]) -> list[tuple[float, float]]:
    return [mark.points[0] for mark in marks if isinstance(mark, Outline) and mark.solid]


def upright(foot: float, at: float = 5.0) -> Dimension:
    return Dimension(start=(0, 0), end=(0, foot), axis="y", at=at, lines=("thickness", "19 mm"))


@pytest.mark.parametrize("foot", [0.1, 2.0, 6.5, 7.0, 60.0])
def test_the_heads_touch_both_ends_of_what_is_measured(foot: float) -> None:
    assert tips(upright(foot).marks) == [(5.0, 0.0), (5.0, foot)]


@pytest.mark.parametrize(("foot", "outside"), [(0.18, True), (19.0, False)])
def test_heads_point_in_from_outside_where_there_is_no_room(foot: float, outside: bool) -> None:
    first = next(mark for mark in upright(foot).marks if isinstance(mark, Outline))
    assert (min(y for _, y in first.points) < 0) is outside


@pytest.mark.parametrize(("at", "anchor"), [(5.0, "start"), (-5.0, "end")])
def test_lettering_stands_on_the_far_side_of_the_dimension_line(at: float, anchor: str) -> None:
    texts = [mark for mark in upright(19.0, at).marks if isinstance(mark, Text)]
    assert [text.text for text in texts] == ["thickness", "19 mm"]
    assert all(text.anchor == anchor and abs(text.at[0]) > 5 for text in texts)


def test_extension_lines_leave_bare_paper_beside_the_work() -> None:
    lines = [mark for mark in upright(19.0).marks if isinstance(mark, Polyline)]
    level = [run.points for run in lines if run.points[0][1] == run.points[1][1]]
    assert [(run[0][0], run[1][0]) for run in level] == [(0.8, 6.2), (0.8, 6.2)]


def test_a_dimension_along_x_writes_below_when_it_stands_below() -> None:
    dimension = Dimension(start=(0, 0), end=(30, 0), axis="x", at=6.0, lines=("30 mm",))
    (text,) = [mark for mark in dimension.marks if isinstance(mark, Text)]
    assert text.anchor == "middle"
    assert text.at[0] == 15.0
    assert text.bounds[1] > 6.0


def test_a_dimension_without_lettering_is_refused() -> None:
    with pytest.raises(InputError, match="no lettering given"):
        Dimension(start=(0, 0), end=(1, 0), axis="x", at=5.0, lines=())


def test_a_leader_ends_with_its_head_at_the_place() -> None:
    assert tips(leader([(0.0, 0.0), (2.0, 0.0), (5.0, 4.0)])) == [(5.0, 4.0)]


def test_a_head_lies_behind_its_tip() -> None:
    (tip, one, two) = arrow_head((0.0, 0.0), (3.0, 4.0)).points
    assert tip == (0.0, 0.0)
    assert (one[0] + two[0]) / (one[1] + two[1]) == pytest.approx(3 / 4)
