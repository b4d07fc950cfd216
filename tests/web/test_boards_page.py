"""Boards on their page: shown as measured, changed one by one, pasted many at once."""

from __future__ import annotations

import json

import pytest
from django.http import HttpResponse
from django.test import Client
from hypothesis import given
from hypothesis import strategies as st

from faywright.app.documents import Documents
from faywright.errors import DocumentError, InputError
from faywright.piece.piece_file import piece_from_text
from faywright.shop.boards import Board
from faywright.web.desk import Desk
from faywright.web.pieces.pasted import Pasted, Understood, next_mark, understood
from faywright.web.readings_typed import cells

TEXT = (
    'faywright = "piece 1"\ntitle = "Gate"\nunits = "mm"\n'
    '[[part]]\nname = "lid"\ntimber = "softwood"\n'
)
LISTED = "mark;width;length;t1;t2\nX1;120,5;620;18,85;18,90\nX2;121;620;19,02;\n"


@pytest.fixture
def documents(desk: Desk) -> Documents:
    return desk.store.documents


def body(answer: HttpResponse) -> str:
    return answer.content.decode()


def meant(text: str, **said: object) -> Understood:
    about = {"units": "mm", "part": "lid", "mark": "B01", "width": 120, "length": 620} | said
    pasted = Pasted(text=text, **about)  # type: ignore[arg-type]
    return understood(pasted, TEXT, piece_from_text(TEXT, file="p", folder=None).piece)


def boards_of(documents: Documents, number: int) -> dict[str, Board]:
    text = documents.sheet(number).revision.text
    piece = piece_from_text(text, file="p", folder=None).piece
    return {board.mark: board for part in piece.parts for board in part.boards}


# What was pasted


@pytest.mark.parametrize(
    "text",
    [
        "18.85\n18.81\n18.84\n19.02\n19.01\n19.00",
        "18.85\t18.81\t18.84\n19.02\t19.01\t19.00\n",
        "18,85;18,81;18,84;19,02;19,01;19,00",
        "18.85, 18.81, 18.84\n19.02,19.01,19.00",
        "18,85 18,81 18,84\r\n\r\n19,02 19,01 19,00",
        "1.885 cm\n18.81 mm\n18.84\n\n19.02\n19.01\n19",
    ],
)
def test_a_column_is_understood_however_it_is_parted(text: str) -> None:
    found = meant(text)
    assert [board.mark for _, board in found.boards] == ["B01", "B02"]
    assert found.boards[0][1].readings.ravel().tolist() == pytest.approx([18.85, 18.81, 18.84])
    assert found.boards[1][1].readings.ravel().tolist() == pytest.approx([19.02, 19.01, 19.0])


def test_readings_at_both_edges_come_in_pairs() -> None:
    (board,) = (board for _, board in meant("19 18.9\n19.1 18.8", readings=4, across=2).boards)
    assert board.readings.tolist() == [[19.0, 18.9], [19.1, 18.8]]


def test_bare_numbers_are_in_the_unit_that_was_chosen() -> None:
    found = meant(".742\n3/4\n0.745 in", units="in")
    assert found.tables[0]["thickness"] == [".742 in", "3/4 in", "0.745 in"]
    assert found.boards[0][1].thickness == pytest.approx((0.742 + 0.75 + 0.745) / 3 * 25.4)


def test_a_list_with_a_header_says_all_itself() -> None:
    found = meant(LISTED, mark="", width="", length="")
    assert [board.width for _, board in found.boards] == [120.5, 121.0]
    assert found.boards[1][1].readings.size == 1


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("18.85\n18.81\n18.84\n19.02\n19.01", "the list:4: readings: 5 readings do not make"),
        ("18.85\nthick\n18.84", "the list:2: reading 'thick'"),
        ("18.85\n0\n18.84", "the list:2: reading '0': a reading of 0"),
        ("18.85\n1.881\n.7", "the list:3: reading '.7'"),
        ("mark,width,length,t1\nX1,120,620,18\nX1,120,620,18", "the list:3: board X1"),
        ("mark,width,length,thick\nX1,120,620,18", "the list:1: column thick"),
        ("mark,part,width,length,t1\nX1,door,120,620,18", "the list:2: board X1: column part"),
        ('mark,width,length,t1\nX1,"120,620,18', "the list:2: row"),
    ],
)
def test_faults_name_their_line(text: str, said: str) -> None:
    with pytest.raises(DocumentError) as told:
        meant(text)
    assert str(told.value.faults[0]).startswith(said)


@pytest.mark.parametrize(
    ("text", "about", "said"),
    [
        ("", {}, "no boards stand in it"),
        ("18\n18\n18", {"mark": "B"}, "'B' does not end with a number"),
        ("18", {"readings": 0}, "0 readings a board cannot be"),
        ("18", {"readings": 3, "across": 2}, "do not make 2 at each place"),
        ("18,85,18,81", {}, "could part readings, or be decimal"),
    ],
)
def test_what_cannot_be_meant_is_refused(text: str, about: dict[str, object], said: str) -> None:
    with pytest.raises(InputError, match=said):
        meant(text, **about)


def test_a_width_that_cannot_be_is_told() -> None:
    with pytest.raises(DocumentError, match="width"):
        meant("18\n18\n18", width="wide")


@given(
    st.lists(st.integers(100, 19999), min_size=1, max_size=60),
    st.sampled_from(["\n", "\t", ";", "; ", " ", ", ", "\r\n"]),
    st.booleans(),
)
def test_readings_are_found_again_whatever_parts_them(
    hundredths: list[int], between: str, comma: bool
) -> None:
    written = [f"{each / 100:.2f}" for each in hundredths]
    if comma:
        written = [each.replace(".", ",") for each in written]
    assert [cell.text for cell in cells(between.join(written))] == written


@given(st.text(max_size=60))
def test_any_text_is_understood_or_refused_in_words(text: str) -> None:
    try:
        found = meant(text, readings=1)
    except (DocumentError, InputError):
        return
    assert len(found.boards) == len(found.tables) > 0


@pytest.mark.parametrize(
    ("marks", "following"),
    [([], "B01"), (["B09"], "B10"), (["7"], "8"), (["L99", "strip"], "L100"), (["a"], "B01")],
)
def test_marks_are_numbered_on(marks: list[str], following: str) -> None:
    assert next_mark(marks) == following


# On its page


def paste(client: Client, piece: int, text: str, **more: object) -> HttpResponse:
    form: dict[str, object] = {
        "list": text,
        "part": "back board",
        "units": "mm",
        "readings": "3",
        "across": "1",
        "mark": "B13",
        "width": "120",
        "length": "620",
        "base": 1,
    }
    return client.post(f"/pieces/{piece}/boards/paste", form | more)  # type: ignore[return-value]


def test_boards_are_shown_with_mean_and_spread(client: Client, bench_id: int) -> None:
    shown = body(client.get(f"/pieces/{bench_id}/boards"))  # type: ignore[arg-type]
    assert "18.85; 18.81; 18.85; 18.82; 18.83 mm" in shown
    assert "<td>18.83 mm</td><td>0.04 mm</td>" in shown
    assert "<caption>" in shown


def test_a_board_that_was_chosen_shows_its_fields(client: Client, bench_id: int) -> None:
    shown = body(client.get(f"/pieces/{bench_id}/boards?board=B03"))  # type: ignore[arg-type]
    assert 'value="18.98; 19.03; 18.98; 18.97; 18.98"' in shown
    assert client.get(f"/pieces/{bench_id}/boards?board=Z9").status_code == 404


def test_readings_of_a_board_are_changed(
    client: Client, documents: Documents, bench_id: int
) -> None:
    path = json.dumps(["board", "D1", "thickness"])
    form = {"path": path, "kind": "readings", "value": "13.1 | 13; 13.2 | 13.1", "base": 1}
    answer = client.post(f"/pieces/{bench_id}/change", form)
    assert (answer.status_code, answer["Location"]) == (303, f"/pieces/{bench_id}/boards")
    board = boards_of(documents, bench_id)["D1"]
    assert board.readings.tolist() == [[13.1, 13.0], [13.2, 13.1]]


def test_one_board_is_added_and_removed(
    client: Client, documents: Documents, bench_id: int
) -> None:
    form = {"mark": "N1", "part": "runner", "width": "18", "length": "370", "base": "1"}
    form["thickness"] = "7.1; 7,2; 0.28 in"
    answer = client.post(f"/pieces/{bench_id}/add/board", form)
    assert (answer.status_code, answer["Location"]) == (303, f"/pieces/{bench_id}/boards")
    assert boards_of(documents, bench_id)["N1"].readings.size == 3
    drop = {"path": json.dumps(["board", "N1"]), "base": 2}
    client.post(f"/pieces/{bench_id}/remove", drop)
    assert "N1" not in boards_of(documents, bench_id)


def test_pasted_readings_are_shown_before_they_are_kept(
    client: Client, documents: Documents, bench_id: int
) -> None:
    answer = paste(client, bench_id, "18.85\n18.81\n18.84\n19.02\n19.01\n19.00\n")
    assert answer.status_code == 200
    assert "Keep 2 boards" in body(answer)
    assert documents.sheet(bench_id).revision.number == 1


def test_pasted_readings_are_kept_when_asked(
    client: Client, documents: Documents, bench_id: int
) -> None:
    answer = paste(client, bench_id, "18.85\n18.81\n18.84\n19.02\n19.01\n19.00\n", keep="true")
    assert answer.status_code == 303
    found = boards_of(documents, bench_id)
    assert found["B14"].readings.ravel().tolist() == [19.02, 19.01, 19.0]
    sheet = documents.sheet(bench_id)
    assert sheet.revision.what == "2 boards added: B13 to B14"
    assert documents.undo(bench_id, sheet.revision.number).revision.number == 1


def test_a_pasted_list_goes_in_with_its_own_marks(
    client: Client, documents: Documents, bench_id: int
) -> None:
    paste(client, bench_id, LISTED, keep="true")
    assert {"X1", "X2"} <= set(boards_of(documents, bench_id))


@pytest.mark.parametrize(
    ("text", "more", "said"),
    [
        ("18.85\nthick\n18.84", {}, "Line 2, reading"),
        ("18.85\n18.81\n18.84", {"mark": "B12"}, "mark B12 is that of a board already"),
        ("18.85\n18.81\n18.84", {"part": "door"}, "no part called"),
        ("18.85\n18.81\n18.84", {"width": ""}, "width"),
        ("18.85\n18.81\n18.84", {"readings": "many"}, "readings a board cannot be"),
    ],
)
def test_what_is_wrong_with_a_list_is_told_and_nothing_is_kept(
    client: Client, documents: Documents, bench_id: int, text: str, more: dict[str, str], said: str
) -> None:
    answer = paste(client, bench_id, text, keep="true", **more)
    assert answer.status_code == 422
    assert said in body(answer)
    assert text in body(answer).replace("\r\n", "\n")
    assert documents.sheet(bench_id).revision.number == 1


def test_a_piece_without_parts_says_that_they_come_first(client: Client, shop_id: int) -> None:
    begun = client.post("/pieces/new", {"title": "Door", "units": "mm", "shop": shop_id})
    shown = client.get(f"{begun['Location']}/boards").content.decode()
    assert "add one on the page of the piece first" in shown
