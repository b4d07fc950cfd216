"""Files taken in become documents, or nothing is taken in and every fault is told."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faywright.app.documents import Documents
from faywright.errors import DocumentError, InputError
from faywright.web.desk import Desk
from faywright.web.pieces.taking_in import take_in, taken_in

SHOP = 'faywright = "shop 1"\ntitle = "Cellar"\n[[machine]]\nmark = "table"\nspeeds_rpm = [12000]\n'
PIECE = 'faywright = "piece 1"\ntitle = "Gate"\nshop = "shop.toml"\n'
PART = '[[part]]\nname = "lid"\ntimber = "softwood"\n'
LISTED = PIECE + PART + '[boards]\ncsv = "boards.csv"\npart = "lid"\n'
BOARDS = "mark,width,length,t1\nA,99,900,18\n"


@pytest.fixture
def documents(empty_desk: Desk) -> Documents:
    return empty_desk.store.documents


def faults(documents: Documents, texts: Mapping[str, str], **more: int) -> list[str]:
    with pytest.raises(DocumentError) as told:
        take_in(documents, texts, what="test", shop=more.get("shop"))
    return [str(fault) for fault in told.value.faults]


def counts(documents: Documents) -> tuple[int, int]:
    return len(documents.listed("shop")), len(documents.listed("piece"))


def test_a_piece_goes_with_the_shop_it_names_and_its_boards_stand_inside(
    documents: Documents,
) -> None:
    other = SHOP.replace("Cellar", "Barn")
    texts = {"b.toml": other, "shop.toml": SHOP, "piece.toml": LISTED, "boards.csv": BOARDS}
    piece = documents.sheet(taken_in(documents, texts, what="test"))
    assert piece.title == "Gate"
    assert documents.sheet(piece.shop or 0).title == "Cellar"
    assert 'mark = "A"' in piece.revision.text
    assert "boards.csv" not in piece.revision.text


def test_a_shop_alone_gives_its_own_number(documents: Documents) -> None:
    assert documents.sheet(taken_in(documents, {"shop.toml": SHOP}, what="test")).kind == "shop"


def test_folders_before_a_name_make_no_difference(documents: Documents) -> None:
    texts = {
        "C:\\work\\shop.toml": SHOP,
        "work/piece.toml": LISTED.replace('"boards.csv"', '"lists/boards.csv"'),
        "boards.csv": BOARDS,
    }
    take_in(documents, texts, what="test")
    assert counts(documents) == (1, 1)


def test_the_same_shop_is_not_there_twice(documents: Documents) -> None:
    first = take_in(documents, {"shop.toml": SHOP}, what="test")
    again = take_in(documents, {"shop.toml": SHOP, "piece.toml": PIECE}, what="test")
    assert again.shops == first.shops
    assert counts(documents) == (1, 1)


def test_another_shop_of_the_same_title_is_refused_unless_it_takes_the_place(
    documents: Documents,
) -> None:
    (number,) = take_in(documents, {"shop.toml": SHOP}, what="test").shops
    other = SHOP.replace("12000", "9000")
    (said,) = faults(documents, {"shop.toml": other})
    assert said.startswith("shop.toml:2: title: there is another shop called 'Cellar' already")
    assert take_in(documents, {"shop.toml": other}, what="mine", over=True).shops == (number,)
    assert documents.sheet(number).revision.text == other
    assert documents.revision(number, 1).text == SHOP


def test_a_piece_alone_goes_with_the_only_shop_there_is(documents: Documents) -> None:
    shop = taken_in(documents, {"shop.toml": SHOP}, what="test")
    piece = taken_in(documents, {"piece.toml": PIECE}, what="test")
    assert documents.sheet(piece).shop == shop


def test_a_piece_goes_with_the_shop_that_was_chosen(documents: Documents) -> None:
    taken_in(documents, {"shop.toml": SHOP}, what="test")
    barn = taken_in(documents, {"barn.toml": SHOP.replace("Cellar", "Barn")}, what="test")
    assert faults(documents, {"piece.toml": PIECE})[0].startswith("piece.toml: shop: it is not")
    piece = taken_in(documents, {"piece.toml": PIECE}, what="test", shop=barn)
    assert documents.sheet(piece).shop == barn


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        ({"piece.toml": PIECE}, "piece.toml: shop: it is not plain which shop"),
        ({"boards.csv": BOARDS}, "boards.csv: the list: no piece file among those given"),
        ({"p.toml": "title ="}, "p.toml:1: TOML: invalid value"),
        ({"p.toml": 'faywright = "chair 1"'}, "p.toml:1: faywright: 'chair 1' is not a kind"),
        ({"p.toml": 'faywright = "piece 2"'}, "p.toml:1: faywright: 'piece 2' is of a version"),
        ({"p.toml": LISTED, "s.toml": SHOP}, "p.toml:8: boards.csv: boards.csv is not among"),
        ({"p.toml": "[" * 5000}, "p.toml:1: TOML: "),
        ({"p.toml": f'faywright = "piece 1"\ntitle = "{"x" * 300}"'}, "p.toml:2: title: "),
        ({"s.toml": SHOP, "t.toml": SHOP}, "t.toml: title: the title 'Cellar' is that of another"),
    ],
)
def test_what_is_wrong_is_told_with_its_file_and_nothing_is_kept(
    documents: Documents, texts: Mapping[str, str], said: str
) -> None:
    assert faults(documents, texts)[0].startswith(said)
    assert counts(documents) == (0, 0)


def test_faults_of_all_files_are_told_with_their_lines(documents: Documents) -> None:
    texts = {
        "shop.toml": SHOP.replace("[12000]", "12000"),
        "piece.toml": LISTED.replace("softwood", "iron"),
        "boards.csv": BOARDS + "B,99,900,none\n",
    }
    said = faults(documents, texts)
    places = [each.partition(": ")[0] for each in said]
    assert places == ["shop.toml:5", "piece.toml:6", "boards.csv:3"]
    assert counts(documents) == (0, 0)


@pytest.mark.parametrize("path", ["/etc/passwd", "../../../etc/passwd", "nul\\0.csv", "", "."])
def test_a_list_is_never_opened_from_the_disk(documents: Documents, path: str) -> None:
    text = LISTED.replace("boards.csv", path.replace("\\", "\\\\"))
    said = faults(documents, {"piece.toml": text, "shop.toml": SHOP})
    assert "root:" not in " ".join(said)
    assert counts(documents) == (0, 0)


def test_two_files_of_one_name_are_refused(documents: Documents) -> None:
    with pytest.raises(InputError, match=r"two called shop\.toml"):
        take_in(documents, {"a/shop.toml": SHOP, "b/shop.toml": SHOP}, what="test")


def test_no_files_are_refused(documents: Documents) -> None:
    with pytest.raises(InputError, match="there are none"):
        take_in(documents, {}, what="test")


def test_a_mark_of_byte_order_is_left_out(documents: Documents) -> None:
    number = taken_in(documents, {"shop.toml": "\ufeff" + SHOP}, what="test")
    assert documents.sheet(number).revision.text == SHOP


# The page


@pytest.fixture
def page(empty_desk: Desk) -> Client:
    assert empty_desk.store.documents
    return Client(headers={"host": "localhost"})


def sent(page: Client, files: Mapping[str, str | bytes], **form: str) -> HttpResponse:
    uploads = [
        SimpleUploadedFile(name, held.encode() if isinstance(held, str) else held)
        for name, held in files.items()
    ]
    return page.post("/take-in", {"files": uploads, **form})  # type: ignore[return-value]


def body(answer: HttpResponse) -> str:
    return answer.content.decode()


def test_files_are_taken_in_together_and_the_piece_is_shown(
    page: Client, documents: Documents
) -> None:
    files = {"shop.toml": SHOP, "piece.toml": LISTED, "boards.csv": BOARDS}
    answer = sent(page, files)
    number = documents.listed("piece")[0].id
    assert (answer.status_code, answer["Location"]) == (303, f"/pieces/{number}")
    assert "taken in from shop.toml" in documents.sheet(number).revision.what


def test_a_text_is_taken_in_as_it_was_pasted(page: Client, documents: Documents) -> None:
    answer = page.post("/take-in", {"text": SHOP.replace("\n", "\r\n")})
    assert answer.status_code == 303
    assert documents.sheet(documents.listed("shop")[0].id).revision.text == SHOP


def test_what_was_given_out_is_taken_in_again(page: Client, documents: Documents) -> None:
    sent(page, {"shop.toml": SHOP, "piece.toml": PIECE})
    number = documents.listed("piece")[0].id
    held = page.get(f"/pieces/{number}/piece.toml").content
    assert sent(page, {"piece.toml": held}).status_code == 303
    assert documents.sheet(number + 1).revision.text == PIECE


def test_faults_are_listed_with_file_and_line(page: Client, documents: Documents) -> None:
    files = {"shop.toml": SHOP, "piece.toml": LISTED, "boards.csv": BOARDS + "B,99,900,none\n"}
    answer = sent(page, files)
    assert answer.status_code == 422
    assert "Nothing was taken in" in body(answer)
    assert "<strong>boards.csv, line 3</strong>" in body(answer)
    assert counts(documents) == (0, 0)


def test_names_of_files_are_never_more_than_text(page: Client) -> None:
    answer = sent(page, {"<script>x.toml": "title ="})
    assert answer.status_code == 422
    assert "<script>x" not in body(answer)


def test_a_list_alone_is_shown_on_the_page_of_boards_first(
    page: Client, documents: Documents
) -> None:
    sent(page, {"shop.toml": SHOP, "piece.toml": PIECE + PART})
    number = documents.listed("piece")[0].id
    listed = "mark,part,width,length,t1\nA,lid,99,900,18\n"
    answer = sent(page, {"boards.csv": listed}, piece=str(number))
    assert answer.status_code == 200
    assert "Keep 1 board" in body(answer)
    assert documents.sheet(number).revision.number == 1


def test_another_shop_of_the_same_title_needs_to_be_said(
    page: Client, documents: Documents
) -> None:
    sent(page, {"shop.toml": SHOP})
    other = SHOP.replace("12000", "9000")
    assert sent(page, {"shop.toml": other}).status_code == 422
    assert sent(page, {"shop.toml": other}, over="true").status_code == 303
    assert counts(documents) == (1, 0)


LARGE = b"#" * 2_000_001


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ({}, "none was chosen"),
        ({"run.exe": b"MZ"}, "it is of another kind"),
        ({"toml": b"title"}, "none|kind|TOML"),
        ({"a.toml": LARGE}, "2,000,001 bytes"),
        ({"a.csv": LARGE}, "2,000,001 bytes"),
        ({"a.toml": b"\xff\xfe"}, "byte 1 is not text in UTF-8"),
        ({"a.toml": b"title = 'x\x00y'"}, "TOML"),
        ({"a.toml": b"[" * 9000}, "TOML"),
        ({"a.toml": b"x = " + b"9" * 9000}, "thousands of digits"),
        ({"a.toml": b"a.b = 1\na = 2"}, "TOML"),
        ({"a.zip": b"PK"}, "not an archive"),
        ({"a.zip": b"PK", "b.toml": b"x"}, "beside other files"),
        ({"a.zip": b"P" * 20_000_001}, "20,000,001 bytes"),
        ({f"{n}.toml": b"x" for n in range(21)}, "21 at once are too many"),
    ],
)
def test_hostile_uploads_are_refused_in_words(
    page: Client, documents: Documents, files: dict[str, bytes], said: str
) -> None:
    answer = sent(page, files)
    assert answer.status_code == 422
    assert re.search(said, body(answer))
    assert counts(documents) == (0, 0)


@given(st.binary(max_size=300), st.sampled_from(["a.toml", "a.csv", "a.zip"]))
@settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_any_bytes_are_taken_or_refused_in_words(page: Client, held: bytes, name: str) -> None:
    answer = sent(page, {name: held})
    assert answer.status_code == 422
    assert "Nothing was taken in" in body(answer)


def test_an_archive_brings_a_whole_shop_and_twice_brings_it_once(
    page: Client, documents: Documents
) -> None:
    sent(page, {"shop.toml": SHOP, "piece.toml": PIECE})
    given_out = page.get("/archive.zip")
    assert given_out["Content-Disposition"] == 'attachment; filename="faywright.zip"'
    answer = sent(page, {"shop.zip": given_out.content})
    assert answer.status_code == 200
    assert "0 new, 2 here already" in body(answer)
    assert counts(documents) == (1, 1)
