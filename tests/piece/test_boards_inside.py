"""A piece with its list of boards inside must say what the two files said together."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import DocumentError, InputError
from faywright.lengths import Unit
from faywright.piece.boards_inside import board_tables, with_boards_inside
from faywright.piece.model import Piece
from faywright.piece.piece_file import piece_from_text, read_piece

HEAD = 'faywright = "piece 1"\ntitle = "Gate"\nunits = "mm"  # as read\n'
PART = '[[part]]\nname = "lid"\ntimber = "softwood"\n'
LIST = '[boards]\ncsv = "boards.csv"\n'


def said(piece: Piece) -> list[tuple[object, ...]]:
    return [
        (b.mark, part.name, b.width, b.length, b.readings.tolist(), b.species, b.rings, b.moisture)
        for part in piece.parts
        for b in part.boards
    ]


def both(tmp_path: Path, text: str, content: str) -> tuple[Piece, Piece]:
    (tmp_path / "piece.toml").write_bytes(text.encode())
    (tmp_path / "boards.csv").write_bytes(content.encode())
    inside = with_boards_inside(text, content, file="boards.csv")
    assert "[boards]" not in inside
    found = piece_from_text(inside, file="piece.toml", folder=None)
    return read_piece(tmp_path / "piece.toml").piece, found.piece


@pytest.mark.parametrize(
    ("keys", "content"),
    [
        ("", "mark,part,width,length,t1,t2\nA,lid,120.5,900,18.75,18.8\nB,lid,99,900,18,\n"),
        ('part = "lid"\n', "mark;width;length;t1;t2\nA;120,5;900;18,75;18,80\n"),
        ('part = "lid"\nunits = "in"\n', "mark,width,length,t1\nA,4-3/4,36,.742\nB,5 in,36,3/4\n"),
        (
            'part = "lid"\n',
            "mark\twidth\tlength\tr1\tr2\to1\to2\nA\t12 cm\t900\t18\t19\t18.5\t19\n",
        ),
        ("", "mark,part,species,rings,moisture,width,length,t1\nA,lid,oak,30,9.5 %,99,900,18\n"),
        ("", "mark,part,rings,width,length,r1,t1,o1\n\nA,lid,quarter,99,900,18,18.1,18.2\n"),
        ("", "mark,part,width,length,t1\n"),
    ],
)
def test_a_piece_says_the_same_with_its_list_inside(
    tmp_path: Path, keys: str, content: str
) -> None:
    apart, inside = both(tmp_path, HEAD + PART + LIST + keys, content)
    assert said(inside) == said(apart)


@pytest.mark.parametrize("own", ["in", "cm", "thou"])
def test_figures_keep_their_unit_in_a_file_of_another(tmp_path: Path, own: Unit) -> None:
    text = HEAD.replace('"mm"', f'"{own}"') + PART + LIST + 'part = "lid"\nunits = "mm"\n'
    apart, inside = both(tmp_path, text, "mark,width,length,t1\nA,121,900,18.75\n")
    assert said(inside) == said(apart)
    assert inside.parts[0].boards[0].thickness == pytest.approx(18.75)


def test_boards_of_the_list_come_after_those_of_the_file(tmp_path: Path) -> None:
    own = '[[board]]\nmark = "Z"\npart = "lid"\nwidth = 90\nlength = 900\nthickness = 18\n'
    text = HEAD + LIST + 'part = "lid"\n' + own + PART
    apart, inside = both(tmp_path, text, "mark,width,length,t1\nA,99,900,18\nB,98,900,18\n")
    assert [board[0] for board in said(inside)] == ["Z", "A", "B"]
    assert said(inside) == said(apart)


def test_boards_in_one_line_stay_in_one_line(tmp_path: Path) -> None:
    board = '{ mark = "Z", part = "lid", width = 90, length = 900, thickness = 18 }'
    text = HEAD + f"board = [{board}]\n" + PART + LIST + 'part = "lid"\n'
    apart, inside = both(tmp_path, text, "mark,width,length,t1\nA,99,900,18\nB,98,900,18\n")
    assert said(inside) == said(apart)


def test_windows_line_ends_and_a_mark_of_byte_order_are_taken(tmp_path: Path) -> None:
    text = "\ufeff" + (HEAD + PART + LIST).replace("\n", "\r\n")
    content = "\ufeffmark,part,width,length,t1\r\nA,lid,99,900,18\r\nB,lid,99,900,18\r\n"
    apart, inside = both(tmp_path, text, content)
    assert said(inside) == said(apart)
    assert "\n" not in with_boards_inside(text, content, file="boards.csv").replace("\r\n", "")


def test_all_else_stays_byte_for_byte() -> None:
    text = HEAD + "\n# what it is made of\n" + PART + "\n" + LIST + '\n[[joint]]\nname = "j" # x\n'
    inside = with_boards_inside(text, "mark,part,width,length,t1\nA,lid,99,900,18\n", file="b.csv")
    assert inside.startswith(HEAD + "\n# what it is made of\n" + PART)
    assert '\n[[joint]]\nname = "j" # x\n' in inside


@given(
    readings=st.lists(
        st.integers(100, 20000).map(lambda hundredths: f"{hundredths / 100}"), min_size=1
    )
)
def test_every_reading_stays_as_it_was_written(readings: list[str]) -> None:
    header = ",".join(f"t{number + 1}" for number in range(len(readings)))
    content = f"mark,width,length,{header}\nA,99,900,{','.join(readings)}\n"
    (board,) = board_tables(content, file="b.csv", units="mm", own="mm", part="lid")
    thickness = board["thickness"]
    assert isinstance(thickness, list)
    assert [float(str(each)) for each in thickness] == [float(each) for each in readings]


def test_a_piece_without_a_list_is_refused() -> None:
    with pytest.raises(InputError, match="names no list of boards"):
        with_boards_inside(HEAD + PART, "mark\n", file="b.csv")


def test_a_list_without_a_header_is_refused() -> None:
    with pytest.raises(DocumentError, match="mark"):
        with_boards_inside(HEAD + PART + LIST, "1,2,3\n", file="b.csv")
