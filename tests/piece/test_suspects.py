import datetime
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.lengths import LengthStyle
from faywright.piece.model import Part, Piece
from faywright.piece.size_suspects import size_suspects
from faywright.piece.suspects import Suspect, suspects
from faywright.shop import Board, CutSize, Gauge, Habits, Machine, Shop, StraightCutter
from tests.strategies import STEADY

MACHINE = Machine(mark="table 1", speeds_rpm=(12000,))
GAUGE = Gauge(
    mark="calipers", uses=("height", "fence", "thickness"), resolution=0.01, repeatability=0.02
)
DAY = datetime.date(2026, 9, 14)
SOUND = [[19.05, 19.02, 19.08], [19.11, 19.06, 19.09], [18.99, 19.03, 19.0]]


Readings = Sequence[float] | Sequence[Sequence[float]]


def board(mark: str, readings: Readings) -> Board:
    """A board with readings along it, or a list across it for each place along."""
    along = np.array(readings, dtype=float)
    return Board(mark=mark, readings=along.reshape(len(along), -1), width=120, length=900)


def shop(*cutters: StraightCutter, gauges: tuple[Gauge, ...] = (GAUGE,), style: str = "mm") -> Shop:
    styles = {"mm": LengthStyle("mm"), "in": LengthStyle("fraction inch")}
    habits = Habits(style=styles[style])
    return Shop(title="s", machines=(MACHINE,), cutters=cutters, gauges=gauges, habits=habits)


def asked(pile: Sequence[Readings], style: str = "mm") -> tuple[Suspect, ...]:
    """What is asked about boards B1, B2 ... with these readings."""
    boards = tuple(board(f"B{number}", each) for number, each in enumerate(pile, start=1))
    part = Part(name="lid", timber="softwood", boards=boards)
    return suspects(Piece(title="p", units="mm", parts=(part,), joints=()), shop(style=style))


def test_readings_that_agree_raise_no_question() -> None:
    assert asked([*SOUND]) == ()


@pytest.mark.parametrize(
    ("reading", "ask"),
    [
        (1.904, "Is the decimal point in its place? 19.04 mm would fit"),
        (190.4, "Is the decimal point in its place? 19.04 mm would fit"),
        (3.4, "Is it a fraction written down as a decimal? 19.05 mm would fit"),
        (3.4 * 25.4, "Is it a fraction written down as a decimal? 19.05 mm would fit"),
    ],
)
def test_a_reading_off_the_pile_is_asked_about_with_what_would_fit(
    reading: float, ask: str
) -> None:
    (suspect,) = asked([*SOUND, [19.05, reading, 19.05]])
    assert suspect.where == "board B4, reading 2"
    assert suspect.what == f"{reading:.2f} mm, where most of lid is about 19.05 mm"
    assert suspect.ask == ask


@pytest.mark.parametrize(
    ("middle", "reading", "ask"),
    [
        (38.1, 1.5, "Was it read in inches and written down as millimetres? 38.10 mm would fit"),
        (6.0, 152.4, "Was it read in millimetres and written down as inches? 6.00 mm would fit"),
    ],
)
def test_the_other_unit_is_asked_about(middle: float, reading: float, ask: str) -> None:
    pile: list[Readings] = [[middle, middle + 0.02, middle - 0.02]] * 3
    (suspect,) = asked([*pile, [middle, reading, middle]])
    assert (suspect.where, suspect.ask) == ("board B4, reading 2", ask)


def test_a_board_noted_in_the_other_unit_throughout_is_asked_about_once() -> None:
    pile: list[Readings] = [[38.1, 38.1, 38.1]] * 3
    (suspect,) = asked([*pile, [1.5, 1.501, 1.499]])
    assert suspect == Suspect(
        "board B4",
        "all its readings are about 1.50 mm, where most of lid is about 38.10 mm",
        "Was it read in inches and written down as millimetres? 38.10 mm would fit",
    )


def test_questions_are_put_in_the_lengths_the_shop_reads() -> None:
    (suspect,) = asked([*SOUND, [19.05, 190.5, 19.05]], style="in")
    assert suspect.what == "7-1/2 in, where most of lid is about 3/4 in"


def test_a_pile_of_two_thicknesses_does_not_hide_a_slip() -> None:
    thick: list[Readings] = [[25.05, 25.02, 25.08], [25.11, 25.06, 25.09], [25.0, 25.03, 25.0]]
    (suspect,) = asked([*SOUND, *thick, [25.02, 25.0, 25.03], [19.05, 1.905, 19.05]])
    assert suspect.where == "board B8, reading 2"
    assert suspect.ask == "Is the decimal point in its place? 19.05 mm would fit"


def test_a_board_read_more_often_than_usual_asks_nothing_of_the_others() -> None:
    assert asked([*SOUND, [19.05, 19.06, 19.04, 19.05, 19.05]]) == ()


def test_a_thick_board_is_no_slip_but_may_belong_elsewhere() -> None:
    (suspect,) = asked([*SOUND, [25.05, 25.02, 25.08]])
    assert suspect == Suspect(
        "board B4",
        "all its readings are about 25.05 mm, where most of lid is about 19.07 mm",
        "Does it belong to this part?",
    )


def test_a_wedge_is_asked_about() -> None:
    pile: list[Readings] = [[[19.0, 19.0], [19.02, 19.02], [19.0, 19.0]]] * 3
    (suspect,) = asked([*pile, [[19.0, 19.4], [19.02, 19.42], [19.0, 19.4]]])
    assert suspect.where == "board B4"
    assert suspect.what == "it is 0.40 mm thicker at one edge than at the other"
    assert suspect.ask.startswith("Measure it again; if it is so, plane it true")


@pytest.mark.parametrize(("name", "size"), [("width", 1191.0), ("length", 62.0)])
def test_a_size_many_times_off_is_asked_about(name: str, size: float) -> None:
    def sized(number: int, **off: float) -> Board:
        sizes = {"width": 119.0, "length": 620.0, **off}
        return Board(
            mark=f"B{number}",
            readings=np.full((3, 1), 19.0),
            width=sizes["width"],
            length=sizes["length"],
        )

    boards = (*map(sized, range(3)), sized(3, **{name: size}))
    part = Part(name="lid", timber="softwood", boards=boards)
    (suspect,) = size_suspects(part, lambda mm: f"{mm:.0f} mm")
    usual = {"width": "119", "length": "620"}[name]
    assert suspect.what == f"its {name} is {size:.0f} mm, where {usual} mm is usual"


@pytest.mark.parametrize("places", [[19.06, 19.6, 19.05, 19.04], [19.06, 18.1, 19.05, 19.04]])
def test_a_reading_off_its_own_board_is_asked_about(places: list[float]) -> None:
    pile: list[Readings] = [[*each, 19.04] for each in SOUND]
    (suspect,) = asked([*pile, places])
    middle = sorted(places)[1:3]
    assert suspect == Suspect(
        "board B4, reading 2",
        f"{places[1]:.2f} mm, where the middle of its board's readings is "
        f"{sum(middle) / 2 + 1e-9:.2f} mm",
        "Measure it again there",
    )


@pytest.mark.parametrize(
    ("readings", "where"),
    [
        ([18.75, 19.05, 18.76], "board B4"),
        ([18.45, 19.05, 18.46], "board B4, reading 2"),
        ([18.75, 19.05, 19.06], "board B4"),
    ],
)
def test_of_three_readings_two_thin_ends_are_snipe_unless_they_are_very_thin(
    readings: list[float], where: str
) -> None:
    assert [each.where for each in asked([*SOUND, readings])] == [where]


def test_of_two_readings_far_apart_either_may_be_wrong() -> None:
    found = asked([*SOUND, [19.05, 19.6]])
    assert [each.where for each in found] == [
        "board B4, reading 1",
        "board B4, reading 2",
        "board B4",
    ]


def test_rough_stock_may_scatter_more_before_a_reading_stands_off() -> None:
    rough: list[Readings] = [[19.4, 18.9, 19.1, 18.7, 19.0], [18.8, 19.3, 19.0, 19.2, 18.6]]
    assert [
        each for each in asked([*rough, [19.0, 19.5, 18.9, 19.2, 19.1]]) if "," in each.where
    ] == []


def test_readings_across_a_board_are_named_by_its_edges() -> None:
    pile: list[Readings] = [[[19.0, 19.1, 19.2]] * 4, [[19.0, 19.1, 19.2]] * 4]
    wrong = [[19.0, 19.1, 19.2], [1.9, 191.0, 1.92], [19.0, 19.1, 19.2], [19.0, 19.1, 19.2]]
    assert [each.where for each in asked([*pile, wrong])] == [
        "board B3, reading 2 along the reference edge",
        "board B3, reading 2, 2 from the reference edge",
        "board B3, reading 2 along the opposite edge",
    ]


@pytest.mark.parametrize(
    ("readings", "ends"),
    [
        ([18.96, 19.05, 19.05, 19.04], "head"),
        ([19.04, 19.05, 19.05, 18.96], "foot"),
        ([18.96, 19.05, 19.05, 18.97], "head and foot"),
        ([18.65, 19.05, 19.05, 19.05], "head"),
    ],
)
def test_thin_ends_are_called_snipe(readings: list[float], ends: str) -> None:
    pile: list[Readings] = [[*each, 19.04] for each in SOUND]
    (suspect,) = asked([*pile, readings])
    drop = 19.05 - min(readings)
    assert suspect.where == "board B4"
    assert suspect.what == (
        f"snipe at {ends}: up to {drop:.2f} mm thinner than its middle, 19.05 mm"
    )


@pytest.mark.parametrize(("end", "count"), [(19.01, 0), (18.99, 1)])
def test_snipe_begins_beyond_a_twentieth_of_a_millimetre(end: float, count: int) -> None:
    assert len(asked([[end, 19.05, 19.05], [19.05, 19.06, 19.05]])) == count


def test_boards_sniped_one_like_the_other_are_all_asked_about() -> None:
    found = asked([[18.9, 19.05, 18.91], [18.92, 19.06, 18.9], [18.93, 19.05, 18.9]])
    assert [each.where for each in found] == ["board B1", "board B2", "board B3"]
    assert all(each.what.startswith("snipe at head and foot") for each in found)


def test_an_end_of_rough_stock_must_be_thinner_by_more_than_its_scatter() -> None:
    rough: list[Readings] = [[18.9, 19.13, 18.95, 19.04, 18.88], [19.1, 18.92, 19.16, 18.98, 19.0]]
    assert asked(rough) == ()
    assert len(asked([*rough, [18.55, 19.0, 19.0, 19.0, 19.0]])) == 1


def test_a_board_with_fewer_readings_than_the_others_is_asked_about() -> None:
    assert asked([*SOUND, [19.05, 19.06]]) == (
        Suspect(
            "board B4",
            "2 readings, where most of lid has 3",
            "Was one left out? Measure it again",
        ),
    )


READ_MORE = "Read each board at three places or more along it, so that its scatter is known"


def test_one_reading_says_nothing_of_scatter() -> None:
    what = "one reading along it, so that its scatter is not known"
    assert asked([*SOUND, [19.05]]) == (Suspect("board B4", what, READ_MORE),)


def test_one_reading_for_each_board_is_asked_about_once() -> None:
    what = "each board has one reading along it"
    assert asked([[19.05], [19.1], [19.0]]) == (Suspect("part lid", what, READ_MORE),)


def cutter(mark: str, size: CutSize) -> StraightCutter:
    return StraightCutter(mark=mark, diameter=size, cutting_length=20, reach=40, flutes=2)


def in_shop(found: Shop) -> tuple[Suspect, ...]:
    return suspects(Piece(title="p", units="mm", parts=(), joints=()), found)


def test_a_cutter_never_measured_is_asked_about() -> None:
    assert in_shop(shop(cutter("C1", CutSize(marked=6.35)))) == (
        Suspect(
            "cutter C1",
            "its diameter is marked 6.35 mm, and was not measured",
            "Cut a trial piece, measure it, and write down what it is",
        ),
    )


@pytest.mark.parametrize(("days", "stale"), [(730, False), (731, True)])
def test_a_measurement_grows_old_beside_the_newest_of_the_shop(days: int, stale: bool) -> None:
    day = DAY - datetime.timedelta(days=days)
    old = cutter("C1", CutSize(marked=6, measured=6, on=day))
    new = cutter("C2", CutSize(marked=8, measured=8, on=DAY))
    undated = cutter("C3", CutSize(marked=8, measured=8))
    expected = f"its diameter was measured on {day}, over two years before 2026-09-14"
    found = [(each.where, each.what) for each in in_shop(shop(old, new, undated))]
    assert found == ([("cutter C1", expected)] if stale else [])


def test_a_use_without_a_gauge_is_asked_about() -> None:
    gauge = Gauge(mark="b", uses=("fence",), resolution=0.01, repeatability=0.02)
    found = in_shop(shop(gauges=(gauge,)))
    what = "none is listed for {}; steps of 0.02 mm and a scatter of 0.03 mm are assumed"
    assert [each.what for each in found] == [what.format("height"), what.format("thickness")]
    assert str(found[0]).endswith("assumed. List the one you use, and what it repeats to.")


thicknesses = st.integers(600, 6000).map(lambda number: number / 100)


@STEADY
@given(thicknesses, st.sampled_from([10.0, 0.1, 25.4, 1 / 25.4]), st.integers(0, 2))
def test_every_slipped_reading_is_found_in_a_sound_pile(
    middle: float, factor: float, at: int
) -> None:
    pile: list[Readings] = [[middle, middle + 0.02, middle - 0.01]] * 4
    wrong = [middle, middle + 0.02, middle - 0.01]
    wrong[at] *= factor
    if 1 <= wrong[at] <= 200:  # what lies beyond is refused when it is read
        wheres = [each.where for each in asked([*pile, wrong])]
        assert wheres == [f"board B5, reading {at + 1}"]


@STEADY
@given(thicknesses, st.lists(st.lists(st.integers(-24, 24), min_size=4, max_size=4), max_size=6))
def test_scatter_of_calipers_alone_raises_no_question(
    middle: float, scatter: list[list[int]]
) -> None:
    pile: list[Readings] = [[middle + each / 1000 for each in row] for row in scatter]
    assert asked(pile) == ()
