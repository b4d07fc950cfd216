from pathlib import Path

import pytest

from faywright.errors import DocumentError
from faywright.fit.bands import Fit, fit_called
from faywright.joints.wanted import EdgeDetail, Place, WantedJoint
from faywright.piece.piece_file import PieceFile, piece_from_text, read_piece
from tests.piece.examples import BOARDS, PIECE, edited


@pytest.fixture(name="door")
def _door(tmp_path: Path) -> PieceFile:
    (tmp_path / "boards.csv").write_text(BOARDS, encoding="utf-8")
    (tmp_path / "door.toml").write_text(PIECE, encoding="utf-8")
    return read_piece(tmp_path / "door.toml")


def test_parts_get_the_boards_of_the_file_and_then_those_of_its_list(door: PieceFile) -> None:
    marks = {part.name: [board.mark for board in part.boards] for part in door.piece.parts}
    assert marks == {"board": ["D1", "D2", "D3"], "strip": ["S1"], "ledge": ["L1", "L2"]}


def test_boards_have_the_timber_and_unless_they_say_otherwise_species_of_their_part(
    door: PieceFile,
) -> None:
    boards = [board for part in door.piece.parts for board in part.boards]
    assert {board.mark: (board.timber, board.species) for board in boards} == {
        "D1": ("softwood", "larch"),
        "D2": ("softwood", "Douglas fir"),
        "D3": ("softwood", "larch"),
        "S1": ("sheet", ""),
        "L1": ("hardwood", "oak"),
        "L2": ("hardwood", "ash"),
    }


@pytest.mark.parametrize(
    ("mark", "readings"),
    [
        ("D1", [[19.05], [19.02], [19.08]]),
        ("D2", [[19.1, 19.0], [19.12, 19.02]]),
        ("S1", [[6.1]]),
        ("L2", [[22.15], [22.1]]),
    ],
)
def test_readings_run_down_the_board_and_across_it(
    door: PieceFile, mark: str, readings: list[list[float]]
) -> None:
    boards = {board.mark: board for part in door.piece.parts for board in part.boards}
    assert boards[mark].readings.tolist() == readings


def test_lengths_carry_their_own_unit_or_that_of_the_file(door: PieceFile) -> None:
    _, second, _ = door.piece.part("board").boards
    assert (second.width, second.length) == (120.65, 1900)


def test_joints_say_what_is_wanted(door: PieceFile) -> None:
    boards, ledges = door.piece.joints
    assert boards == WantedJoint(
        name="door boards",
        family="tongue and groove",
        groove=Place("board", "reference edge"),
        tongue=Place("board", "opposite edge"),
        fit=fit_called("snug", "softwood"),
        free_order=False,
        groove_depth=9.525,
        film=0.05,
        detail=EdgeDetail("V", 3),
        groove_method="on edge, both faces",
        most_settings=2,
    )
    assert ledges == WantedJoint(
        name="ledges",
        family="loose tongue",
        groove=Place("ledge", "reference edge"),
        second_groove=Place("ledge", "opposite edge"),
        strip="strip",
        fit=Fit(name="own", aim=0.1, low=-0.05, high=0.2),
    )


OWN_FIT = "fit = { aim = 0.1, low = -0.05, high = 0.2 }"


@pytest.mark.parametrize(("timber", "fit_timber"), [("sheet", "sheet"), ("softwood", "hardwood")])
def test_a_bought_strip_brings_its_fit_and_a_made_one_takes_that_of_the_groove(
    tmp_path: Path, timber: str, fit_timber: str
) -> None:
    (tmp_path / "boards.csv").write_text(BOARDS, encoding="utf-8")
    text = edited(PIECE, OWN_FIT, 'fit = "glued"')
    text = edited(text, 'timber = "sheet"', f'timber = "{timber}"')
    piece = piece_from_text(text, file="door.toml", folder=tmp_path).piece
    assert piece.joints[1].fit == fit_called("glued", fit_timber)


def test_the_shop_file_is_beside_the_piece_file(door: PieceFile, tmp_path: Path) -> None:
    assert door.shop_path == tmp_path / "shop.toml"


SMALL = 'faywright = "piece 1"\ntitle = "Shelf"\n[[part]]\nname = "shelf"\ntimber = "hardwood"\n'


def test_a_piece_may_name_no_shop_and_have_no_joints_yet() -> None:
    found = piece_from_text(SMALL, file="shelf.toml", folder=None)
    assert found.shop_path is None
    assert found.piece.part("shelf").boards == ()


def test_without_a_folder_no_list_of_boards_is_looked_for() -> None:
    text = SMALL + '[boards]\ncsv = "boards.csv"\n'
    with pytest.raises(DocumentError, match=r"shelf.toml:6: boards: no list of boards can be"):
        piece_from_text(text, file="shelf.toml", folder=None)


def test_boards_in_another_unit_than_the_file_say_so_once(tmp_path: Path) -> None:
    table = "mark,width,length,t1\nA,5 1/2,48,13/16\n"
    (tmp_path / "boards.csv").write_text(table, encoding="utf-8")
    text = SMALL + '[boards]\ncsv = "boards.csv"\nunits = "in"\npart = "shelf"\n'
    board = piece_from_text(text, file="shelf.toml", folder=tmp_path).piece.parts[0].boards[0]
    assert (board.width, board.thickness) == (139.7, 20.6375)


def test_a_fault_in_the_list_of_boards_does_not_make_joints_miss_their_boards(
    tmp_path: Path,
) -> None:
    (tmp_path / "boards.csv").write_text(edited(BOARDS, "22.11", "x"), encoding="utf-8")
    with pytest.raises(DocumentError) as caught:
        piece_from_text(PIECE, file="door.toml", folder=tmp_path)
    assert [fault.field for fault in caught.value.faults] == ["board L1: column t2"]
