"""Documents broken in one place, and every word they must get for it.

The cases stand in ``broken/*.txt``: ``--`` is what stands in the example, ``++`` what it becomes
(without one its lines go), ``==`` the faults that come of it, one each. Between `` ... `` stand
the parts that a fault must have, in order, the first at its start.
"""

from pathlib import Path
from typing import NamedTuple

import pytest

from faywright.errors import DocumentError
from faywright.piece.piece_file import piece_from_text
from faywright.piece.shop_file import shop_from_text
from tests.piece.examples import BOARDS, PIECE, SHOP, edited


class Case(NamedTuple):
    old: str
    new: str
    expected: list[str]


def cases(name: str) -> list[Case]:
    text = (Path(__file__).parent / "broken" / name).read_text(encoding="utf-8")
    return [_case(block.splitlines()) for block in text.split("\n\n")]


def _case(lines: list[str]) -> Case:
    old, new, expected = (
        [line[3:] for line in lines if line.startswith(sign)] for sign in ("--", "++", "==")
    )
    ending = "" if new else "\n"
    return Case("\n".join(old) + ending, "\n".join(new), expected)


def says(error: DocumentError, expected: list[str]) -> bool:
    faults = str(error).splitlines()
    return len(faults) == len(expected) and all(map(_holds, faults, expected))


def _holds(fault: str, expected: str) -> bool:
    at = 0
    for number, part in enumerate(expected.split(" ... ")):
        found = fault.find(part, at)
        if found < 0 or (number == 0 and found > 0):
            return False
        at = found + len(part)
    return True


@pytest.fixture(autouse=True)
def _folder_with_boards(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("boards.csv").write_text(BOARDS, encoding="utf-8")


@pytest.mark.parametrize(("old", "new", "expected"), cases("shop.txt"))
def test_a_broken_shop_file_says_where_what_and_what_to_write(
    old: str, new: str, expected: list[str]
) -> None:
    with pytest.raises(DocumentError) as caught:
        shop_from_text(edited(SHOP, old, new), file="shop.toml")
    assert says(caught.value, expected), str(caught.value)


@pytest.mark.parametrize(("old", "new", "expected"), cases("piece.txt"))
def test_a_broken_piece_file_says_where_what_and_what_to_write(
    old: str, new: str, expected: list[str]
) -> None:
    with pytest.raises(DocumentError) as caught:
        piece_from_text(edited(PIECE, old, new), file="piece.toml", folder=Path())
    assert says(caught.value, expected), str(caught.value)


@pytest.mark.parametrize(("old", "new", "expected"), cases("boards.txt"))
def test_a_broken_list_of_boards_says_where_what_and_what_to_write(
    old: str, new: str, expected: list[str]
) -> None:
    Path("boards.csv").write_text(edited(BOARDS, old, new), encoding="utf-8")
    with pytest.raises(DocumentError) as caught:
        piece_from_text(PIECE, file="piece.toml", folder=Path())
    assert says(caught.value, expected), str(caught.value)


def test_all_faults_are_listed_by_line_and_those_of_the_list_of_boards_last() -> None:
    text = edited(PIECE, 'title = "Garden door"', "title = 7")
    text = edited(text, "most_settings = 2", "most_settings = 2.5")
    text = edited(text, "width = 18", 'width = "18 mn"')
    Path("boards.csv").write_text(edited(BOARDS, "22.11", "x"), encoding="utf-8")
    with pytest.raises(DocumentError) as caught:
        piece_from_text(text, file="piece.toml", folder=Path())
    places = [(fault.file, fault.line) for fault in caught.value.faults]
    assert places == [
        ("piece.toml", 2),
        ("piece.toml", 42),
        ("piece.toml", 62),
        ("boards.csv", 2),
    ]


def test_several_fields_of_one_table_are_faulted_in_one_run() -> None:
    text = edited(SHOP, "cutting_length = 19\nreach = 45", "cutting_length = true")
    text = edited(text, "runout = 0.02", "run_out = 0.02")
    with pytest.raises(DocumentError) as caught:
        shop_from_text(text, file="shop.toml")
    fields = [fault.field.removeprefix("cutter 1 (C1): ") for fault in caught.value.faults]
    assert fields == ["reach", "cutting_length", "run_out"]


DEEP = 'faywright = "shop 1"\nx = ' + "[" * 50_000 + "]" * 50_000
HEX = 'faywright = "shop 1"\nunits = 0x' + "f" * 5000
LONG = 'faywright = "shop 1"\ntitle = "x"\nunits = ' + "9" * 5000


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (DEEP, "s: TOML: lists or tables stand too deep ... Lay them out flat"),
        (LONG, "s:3: TOML: a number of thousands of digits ... a length that a board can have"),
        ("", 's:1: faywright: it is missing ... faywright = "shop 1"'),
        ("x =", "s:1: TOML: ... end of the file ... Write one key = value"),
        (HEX, "s:2: units: a number of more than 60 digits ... Use one of"),
    ],
)
def test_a_text_that_is_hardly_toml_is_a_fault_too(text: str, expected: str) -> None:
    with pytest.raises(DocumentError) as caught:
        shop_from_text(text, file="s")
    assert _holds(str(caught.value), expected), str(caught.value)
