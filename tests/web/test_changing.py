"""Changing a document: each field by itself, two people at once, and all of it undone again."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from django.http import HttpResponse
from django.test import Client
from hypothesis import given, settings
from hypothesis import strategies as st

from faywright.app.documents import Documents
from faywright.errors import DocumentError, InputError, MissingError
from faywright.piece.document import tables_of
from faywright.piece.piece_file import piece_from_text
from faywright.web.changing import (
    Add,
    Changed,
    DiffersError,
    Drop,
    Edit,
    NamedPath,
    Put,
    change,
    value_at,
)
from faywright.web.demo import put_demo
from faywright.web.desk import Desk, close_desk, open_desk

DEPTH = ("joint", "drawer runner", "groove_depth")


@pytest.fixture
def documents(desk: Desk) -> Documents:
    return desk.store.documents


def text_of(documents: Documents, number: int) -> str:
    return documents.sheet(number).revision.text


def field_of(documents: Documents, number: int, path: NamedPath) -> object:
    return value_at(tables_of(text_of(documents, number)), path)


def put(
    documents: Documents, number: int, base: int, path: NamedPath, value: str | float | None
) -> Changed:
    what = f"{path[-1]}: {value}"
    return change(documents, number, base, [Put(path, value)], author="Ann", what=what)


def sent(
    client: Client,
    piece: int,
    path: NamedPath,
    value: str,
    *,
    part: bool = True,
    base: int = 1,
    was: str = "",
    kind: str = "length",
    odd: dict[str, str] | None = None,
) -> HttpResponse:
    form = {"path": json.dumps(path), "kind": kind, "value": value, "was": was, "base": base}
    form |= odd or {}
    headers = {"HX-Request": "true"} if part else {}
    return client.post(f"/pieces/{piece}/change", form, headers=headers)  # type: ignore[return-value]


def body(answer: HttpResponse) -> str:
    return answer.content.decode()


# One person


def test_a_change_keeps_all_other_lines_byte_for_byte(documents: Documents, bench_id: int) -> None:
    before = text_of(documents, bench_id)
    put(documents, bench_id, 1, DEPTH, 7)
    after = text_of(documents, bench_id)
    assert after == before.replace("groove_depth = 6.5", "groove_depth = 7")


def test_a_faulty_change_is_not_kept_and_names_its_field(
    documents: Documents, bench_id: int
) -> None:
    with pytest.raises(DocumentError) as told:
        put(documents, bench_id, 1, DEPTH, "deep")
    assert told.value.faults[0].path == ("joint", 1, "groove_depth")
    assert documents.sheet(bench_id).revision.number == 1


def test_what_changes_nothing_makes_no_revision(documents: Documents, bench_id: int) -> None:
    put(documents, bench_id, 1, DEPTH, 6.5)
    assert documents.sheet(bench_id).revision.number == 1


# Two people


def test_changes_of_two_fields_are_both_kept_and_told(documents: Documents, bench_id: int) -> None:
    put(documents, bench_id, 1, ("title",), "Bench")
    changed = put(documents, bench_id, 1, DEPTH, 7)
    assert changed.over == ("Ann: title: Bench",)
    assert field_of(documents, bench_id, ("title",)) == "Bench"
    assert field_of(documents, bench_id, DEPTH) == 7


def test_what_a_page_knows_of_is_not_told_to_it(documents: Documents, bench_id: int) -> None:
    put(documents, bench_id, 1, ("title",), "Bench")
    changed = change(documents, bench_id, 1, [Put(DEPTH, 7)], what="depth", seen=2)
    assert changed.over == ()


def test_changes_of_one_field_keep_the_first_and_tell_both(
    documents: Documents, bench_id: int
) -> None:
    put(documents, bench_id, 1, DEPTH, 7)
    with pytest.raises(DiffersError, match=r"Ann changed it meanwhile, to 7; yours was 8") as told:
        put(documents, bench_id, 1, DEPTH, 8)
    assert (told.value.theirs, told.value.mine) == (7, 8)
    assert field_of(documents, bench_id, DEPTH) == 7


def test_the_same_change_twice_is_no_conflict(documents: Documents, bench_id: int) -> None:
    put(documents, bench_id, 1, DEPTH, 7)
    assert put(documents, bench_id, 1, DEPTH, 7).sheet.revision.number == 2


def test_a_field_of_a_joint_that_was_removed_is_missing(
    documents: Documents, bench_id: int
) -> None:
    change(documents, bench_id, 1, [Drop(("joint", "drawer runner"))], what="removed")
    with pytest.raises(MissingError, match="there is no joint 'drawer runner'"):
        put(documents, bench_id, 2, DEPTH, 7)


def test_a_field_is_found_where_its_joint_stands_by_now(
    documents: Documents, bench_id: int
) -> None:
    drops: list[Edit] = [Drop(("panel", "back")), Drop(("joint", "back"))]
    change(documents, bench_id, 1, drops, what="removed")
    put(documents, bench_id, 1, DEPTH, 7)
    assert value_at(tables_of(text_of(documents, bench_id)), ("joint", 0, "groove_depth")) == 7


# On pages


def test_a_field_is_kept_as_it_was_typed_and_its_page_says_so(
    client: Client, documents: Documents, bench_id: int
) -> None:
    answer = sent(client, bench_id, ("panel", "back", "width"), "52 in", was="1320")
    assert answer.status_code == 200
    assert field_of(documents, bench_id, ("panel", "back", "width")) == "52 in"
    said = json.loads(answer["HX-Trigger"])["said"]
    assert said == "width of panel back: 52 in, was 1320 mm"
    assert '<input type="hidden" id="base" name="at" value="2" hx-swap-oob="true">' in body(answer)
    assert 'value="52 in"' in body(answer) or "1320.80 mm" in body(answer)


def test_a_field_that_was_left_as_it_was_is_not_written(
    client: Client, documents: Documents, bench_id: int
) -> None:
    answer = sent(client, bench_id, ("panel", "back", "width"), "1320", was="1320")
    assert answer.status_code == 200
    assert documents.sheet(bench_id).revision.number == 1


def test_a_bare_number_is_in_the_unit_that_is_shown(
    client: Client, documents: Documents, bench_id: int
) -> None:
    client.cookies["units"] = "decimal inch"
    sent(client, bench_id, ("panel", "back", "width"), "51.5")
    assert field_of(documents, bench_id, ("panel", "back", "width")) == "51.5 in"


def test_a_fault_stands_beside_its_field_with_what_was_typed(
    client: Client, documents: Documents, bench_id: int
) -> None:
    answer = sent(client, bench_id, ("panel", "back", "width"), "wide", was="1320")
    assert answer.status_code == 422
    assert 'value="wide"' in body(answer)
    assert 'aria-invalid="true"' in body(answer)
    assert 'name="was" value="1320"' in body(answer)
    assert documents.sheet(bench_id).revision.number == 1


def test_a_plain_form_goes_back_to_its_page(client: Client, bench_id: int) -> None:
    answer = sent(client, bench_id, ("panel", "back", "width"), "1300", part=False)
    assert (answer.status_code, answer["Location"]) == (303, f"/pieces/{bench_id}")


def test_a_plain_form_with_a_fault_gets_a_whole_page(client: Client, bench_id: int) -> None:
    answer = sent(client, bench_id, ("panel", "back", "width"), "wide", part=False)
    assert answer.status_code == 422
    assert "<h1>Hall bench" in body(answer)


@pytest.mark.parametrize("part", [True, False])
def test_two_values_of_one_field_are_both_shown(
    client: Client, documents: Documents, bench_id: int, part: bool
) -> None:
    path = ("panel", "back", "width")
    put(documents, bench_id, 1, path, 1300)
    answer = sent(client, bench_id, path, "1310", was="1320", part=part)
    assert answer.status_code == 409
    assert '<button name="value" value="1300">Keep theirs</button>' in body(answer)
    assert '<button name="value" value="1310">Put mine</button>' in body(answer)
    assert field_of(documents, bench_id, path) == 1300


def test_mine_is_put_in_place_of_theirs_when_asked_again(
    client: Client, documents: Documents, bench_id: int
) -> None:
    path = ("panel", "back", "width")
    put(documents, bench_id, 1, path, 1300)
    assert sent(client, bench_id, path, "1310", was="1300", base=2).status_code == 200
    assert field_of(documents, bench_id, path) == 1310


def test_theirs_is_kept_when_asked(client: Client, documents: Documents, bench_id: int) -> None:
    path = ("panel", "back", "width")
    put(documents, bench_id, 1, path, 1300)
    answer = sent(client, bench_id, path, "1300", was="1300", base=2)
    assert 'value="1300"' in body(answer)
    assert documents.sheet(bench_id).revision.number == 2


def test_a_change_on_top_of_anothers_tells_of_theirs(
    client: Client, documents: Documents, bench_id: int
) -> None:
    put(documents, bench_id, 1, ("joint", "back", "film"), 0.05)
    answer = sent(client, bench_id, ("panel", "back", "width"), "1310", was="1320")
    assert "Meanwhile Ann: film: 0.05" in json.loads(answer["HX-Trigger"])["said"]


def test_a_field_of_something_removed_says_so(
    client: Client, documents: Documents, bench_id: int
) -> None:
    change(documents, bench_id, 1, [Drop(("panel", "back"))], what="removed")
    answer = sent(client, bench_id, ("panel", "back", "width"), "1310", was="1320")
    assert answer.status_code == 409
    assert "there is no panel &#x27;back&#x27;" in body(answer)


def test_another_name_of_a_part_goes_to_all_that_name_it(
    client: Client, documents: Documents, bench_id: int
) -> None:
    answer = sent(client, bench_id, ("part", "back board", "name"), "slat", kind="text")
    assert answer["HX-Refresh"] == "true"
    text = text_of(documents, bench_id)
    assert "back board" not in text.replace("back boards", "")
    assert len(piece_from_text(text, file="p", folder=None).piece.part("slat").boards) == 12


def test_another_name_of_a_joint_goes_to_its_row(
    client: Client, documents: Documents, bench_id: int
) -> None:
    sent(client, bench_id, ("joint", "back", "name"), "boards", kind="text")
    assert field_of(documents, bench_id, ("panel", "back", "joint")) == "boards"


def test_a_name_that_is_taken_is_refused_beside_its_field(client: Client, bench_id: int) -> None:
    answer = sent(client, bench_id, ("part", "runner", "name"), "drawer side", kind="text")
    assert answer.status_code == 422
    assert "already" in body(answer)


def test_boards_listed_meanwhile_do_not_stop_another_name(
    client: Client, documents: Documents, bench_id: int
) -> None:
    board = {"mark": "R3", "part": "runner", "width": 18, "length": 370, "thickness": [7.1, 7.2]}
    change(documents, bench_id, 1, [Add("board", board)], what="board added")  # type: ignore[arg-type]
    assert (
        sent(client, bench_id, ("part", "runner", "name"), "rail", kind="text").status_code == 200
    )
    assert field_of(documents, bench_id, ("board", "R3", "part")) == "rail"


@pytest.mark.parametrize("units", ["in", "cm", "m", "thou"])
def test_another_unit_changes_no_length(
    client: Client, documents: Documents, bench_id: int, units: str
) -> None:
    before = piece_from_text(text_of(documents, bench_id), file="p", folder=None).piece
    sent(client, bench_id, ("units",), units, kind="choice", was="mm")
    after = piece_from_text(text_of(documents, bench_id), file="p", folder=None).piece
    assert after.units == units
    assert after.panels == before.panels
    assert after.joints == before.joints
    for one, other in zip(before.parts, after.parts, strict=True):
        for board, same in zip(one.boards, other.boards, strict=True):
            assert (board.width, board.length) == (same.width, same.length)
            assert board.readings.tolist() == same.readings.tolist()


@pytest.mark.parametrize(
    "odd",
    [
        {"path": ""},
        {"path": "{}"},
        {"path": "[]"},
        {"path": "[" * 2000},
        {"path": '[["a"]]'},
        {"path": "[true]"},
        {"kind": "code"},
        {"base": "one"},
        {"base": "-1"},
        {"base": "9" * 40},
        {"at": "x"},
        {"path": json.dumps(["x"] * 20)},
    ],
)
def test_forms_that_are_not_ours_are_refused(
    client: Client, documents: Documents, bench_id: int, odd: dict[str, str]
) -> None:
    answer = sent(client, bench_id, ("title",), "Bench", odd=odd)
    assert answer.status_code == 422
    assert documents.sheet(bench_id).revision.number == 1


@pytest.mark.parametrize(
    "path", [("nothing", "at all"), ("joint", 7, "name"), ("title", "deeper"), ("joint", -1, "fit")]
)
def test_paths_that_lead_nowhere_are_refused(
    client: Client, documents: Documents, bench_id: int, path: NamedPath
) -> None:
    assert sent(client, bench_id, path, "x", kind="text").status_code in {409, 422}
    assert documents.sheet(bench_id).revision.number == 1


@given(value=st.text(max_size=40), kind=st.sampled_from(["length", "text", "whole", "readings"]))
@settings(max_examples=25, deadline=None)
def test_whatever_is_typed_is_kept_or_refused_in_words(value: str, kind: str) -> None:
    with demo() as (documents, number):
        client = Client(headers={"host": "localhost"})
        answer = sent(client, number, ("board", "D1", "length"), value, kind=kind)
        assert answer.status_code in {200, 422}
        piece_from_text(text_of(documents, number), file="p", folder=None)


# Random work, and all of it undone


@contextmanager
def demo() -> Iterator[tuple[Documents, int]]:
    with TemporaryDirectory() as folder:
        documents = open_desk(Path(folder) / "shop.sqlite3").store.documents
        try:
            put_demo(documents)
            yield documents, documents.listed("piece")[0].id
        finally:
            close_desk()


lengths = st.one_of(st.floats(1, 30).map(lambda x: round(x, 2)), st.sampled_from(["1/2 in", "x"]))
marks = st.sampled_from(["B01", "B02", "D1", "N1", "N2"])
edits = st.one_of(
    st.builds(Put, st.just(DEPTH), st.none() | lengths),
    st.builds(Put, st.just(("title",)), st.sampled_from(["Bench", "Settle", ""])),
    st.builds(Put, st.just(("climate", "drift")), st.none() | st.floats(0, 6)),
    st.builds(Put, st.just(("joint", "back", "fit")), st.sampled_from(["snug", "glued", "tight"])),
    st.builds(lambda mark, size: Put(("board", mark, "width"), size), marks, lengths),
    st.builds(lambda mark: Drop(("board", mark)), marks),
    st.builds(
        lambda mark, size: Add(
            "board",
            {"mark": mark, "part": "runner", "width": size, "length": 370, "thickness": [7.1, 7]},
        ),
        marks,
        lengths,
    ),
    st.sampled_from([Drop(("panel", "back")), Drop(("climate",)), Drop(("part", "runner"))]),
)


@given(work=st.lists(st.tuples(edits, st.integers(0, 2)), max_size=10))
@settings(max_examples=20, deadline=None)
def test_random_work_stays_readable_and_undoes_to_the_first_text(
    work: list[tuple[Edit, int]],
) -> None:
    with demo() as (documents, number):
        first = text_of(documents, number)
        for edit, behind in work:
            base = max(1, documents.sheet(number).revision.number - behind)
            try:
                change(documents, number, base, [edit], what="work")
            except (DocumentError, InputError):
                continue
            piece_from_text(text_of(documents, number), file="p", folder=None)
        last = text_of(documents, number)
        back_to_the_first(documents, number)
        assert text_of(documents, number) == first
        while (sheet := documents.sheet(number)).can_redo:
            documents.redo(number, sheet.revision.number)
        assert text_of(documents, number) == last


def back_to_the_first(documents: Documents, number: int) -> None:
    while (sheet := documents.sheet(number)).can_undo:
        documents.undo(number, sheet.revision.number)
