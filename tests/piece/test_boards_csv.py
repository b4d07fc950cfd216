import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import DocumentError
from faywright.lengths import Unit
from faywright.piece.boards_csv import ListedBoard, boards_from_csv
from faywright.piece.model import Part
from tests.strategies import STEADY

SHELF = Part(name="shelf", timber="hardwood", boards=(), species="oak")
END = Part(name="end", timber="softwood", boards=())


def read(content: str, units: Unit = "mm") -> tuple[ListedBoard, ...]:
    parts = {"shelf": SHELF, "end": END}
    return boards_from_csv(content, file="boards.csv", units=units, parts=parts, part=SHELF)


@pytest.mark.parametrize(
    "content",
    [
        "mark,width,length,t1,t2\nA,140,820,22.05,22.11\n",
        "Mark ; WIDTH ; length ; T1 ; T2\nA ; 140 ; 820 ; 22,05 ; 22,11\n",
        "mark\twidth\tlength\tt1\tt2\nA\t140\t820\t22,05\t22.11\n",
        "\ufeffmark,width,length,t1,t2\r\nA,140,820,22.05,22.11\r\n\r\n\r\n",
        "\nmark,width,length,t1,t2\nA,140,820,22.05,22.11\n,,,,\n",
        '"mark","width","length","t1","t2"\n"A","14 cm","0.82 m","22,05","22,11"\n',
        "t2,length,mark,t1,width\n22.11,820,A,22.05,140\n",
        "mark,width,length,t1,t2,t3\nA,140,820,22.05,22.11\n",
        "mark,width,length,t1,t2,t3,,\nA,140,820,22.05,22.11,,,\n",
        "mark,width,length,t1,t2\rA,140,820,22.05,22.11\r",
    ],
)
def test_spreadsheets_write_the_same_board_in_many_ways(content: str) -> None:
    (found,) = read(content)
    board = found.board
    assert (found.part, board.mark, board.width, board.length) == ("shelf", "A", 140, 820)
    assert (board.timber, board.species) == ("hardwood", "oak")
    assert board.readings.tolist() == [[22.05], [22.11]]


def test_inches_may_be_marked_as_spreadsheets_quote_them() -> None:
    (found,) = read('mark,width,length,t1\nA,5-1/2",48,"13/16"""\n', units="in")
    assert (found.board.width, found.board.thickness) == (139.7, 20.6375)


@pytest.mark.parametrize(
    ("content", "readings"),
    [
        ("r1,r2,o1,o2\nA,1,1,5,6,7,8", [[5, 7], [6, 8]]),
        ("o1,r1\nA,1,1,7,5", [[5, 7]]),
        ("r1,t1,o1,r2,t2,o2\nA,1,1,1,2,3,4,5,6", [[1, 2, 3], [4, 5, 6]]),
        ("r1,r2,o1,o2\nA,1,1,5,,7,", [[5, 7]]),
    ],
)
def test_readings_at_the_reference_edge_come_first_across_the_board(
    content: str, readings: list[list[float]]
) -> None:
    assert read("mark,width,length," + content)[0].board.readings.tolist() == readings


def test_edges_are_read_equally_often() -> None:
    with pytest.raises(DocumentError, match=r"unequal numbers of readings: 2 in r1 ..., 1 in o1"):
        read("mark,width,length,r1,r2,o1,o2\nA,1,1,5,6,7,\n")


def test_a_row_may_name_another_part_and_species() -> None:
    content = "mark,part,species,width,length,t1\nA,,,1,1,5\nB,end,ash,1,1,5\nC,end,,1,1,5\n"
    assert [(each.part, each.board.timber, each.board.species) for each in read(content)] == [
        ("shelf", "hardwood", "oak"),
        ("end", "softwood", "ash"),
        ("end", "softwood", ""),
    ]


def test_without_a_part_for_all_there_must_be_a_column_for_it() -> None:
    with pytest.raises(
        DocumentError, match=r"boards.csv:1: column part: it is missing. Add it, or"
    ):
        boards_from_csv("mark,width,length,t1", file="boards.csv", units="mm", parts={})


@pytest.mark.parametrize("content", ["", "\n\n", "\ufeff\n", ",,,\n"])
def test_an_empty_list_says_how_to_begin(content: str) -> None:
    with pytest.raises(DocumentError, match=r"boards.csv:1: header: the list is empty. Begin"):
        read(content)


def test_a_quotation_mark_left_open_does_not_hide_earlier_faults() -> None:
    content = 'mark,width,length,t1\nA,x,1,5\nB,1,1,5\nC,"1,1,5\nD,1,1,5\n'
    with pytest.raises(DocumentError) as caught:
        read(content)
    assert [(fault.line, fault.field) for fault in caught.value.faults] == [
        (2, "board A: column width"),
        (4, "row"),
    ]


def test_lines_are_counted_through_cells_with_line_breaks() -> None:
    content = 'mark,species,width,length,t1\nA,"oak\n",1,1,5\nB,,1,1,x\n'
    with pytest.raises(DocumentError, match=r"^boards.csv:4: board B: column t1"):
        read(content)


micrometres = st.integers(1000, 200_000).map(lambda number: number / 1000)


@STEADY
@given(
    st.lists(st.lists(micrometres, min_size=1, max_size=5), min_size=1, max_size=5),
    st.sampled_from([(",", "."), (";", ","), ("\t", ","), (";", ".")]),
)
def test_what_was_written_is_what_is_read(
    boards: list[list[float]], signs: tuple[str, str]
) -> None:
    delimiter, point = signs
    lines = [["mark", "width", "length", "t1", "t2", "t3", "t4", "t5"]]
    lines += [
        [f"M{number}", "90", "400", *(f"{each:.4f}".replace(".", point) for each in readings)]
        for number, readings in enumerate(boards)
    ]
    found = read("\n".join(delimiter.join(line) for line in lines))
    assert [each.board.readings[:, 0].tolist() for each in found] == boards
    assert [each.line for each in found] == list(range(2, len(boards) + 2))


def test_ten_thousand_boards_are_read_while_one_waits() -> None:
    rows = (
        f"B{number},{90 + number / 1000:.3f},1200,{19 + number / 9999:.4f},{19 - number / 9999:.4f}"
        for number in range(10_000)
    )
    content = "mark,width,length,t1,t2\n" + "\n".join(rows)
    start = time.perf_counter()
    assert len(read(content)) == 10_000
    assert time.perf_counter() - start < 5  # about half a second; the rest is for a busy machine
