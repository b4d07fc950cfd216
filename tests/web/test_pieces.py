"""The list of pieces, beginning one, its page, its history, and what it gives out."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.http import HttpResponse
from django.test import Client

from faywright.app.documents import Documents
from faywright.piece.document import tables_of
from faywright.piece.piece_file import piece_from_text
from faywright.web.changing import Put, change, value_at
from faywright.web.desk import Desk

LIGHT = 150_000
"""Most that the first page may weigh with all that it loads. [bytes]"""


@pytest.fixture
def documents(desk: Desk) -> Documents:
    return desk.store.documents


@pytest.fixture
def alone(empty_desk: Desk) -> Client:
    assert not empty_desk.store.documents.listed("shop")
    return Client(headers={"host": "localhost"})


def body(answer: HttpResponse) -> str:
    return answer.content.decode()


def page(client: Client, address: str, status: int = 200) -> str:
    answer = client.get(address)
    assert answer.status_code == status
    return answer.content.decode()


def sent(client: Client, address: str, **form: object) -> HttpResponse:
    return client.post(address, form)  # type: ignore[return-value]


def text_of(documents: Documents, number: int) -> str:
    return documents.sheet(number).revision.text


# The list


def test_a_piece_is_listed_with_its_shop_and_what_it_is_made_of(
    client: Client, bench_id: int
) -> None:
    shown = page(client, "/")
    assert f'href="/pieces/{bench_id}"' in shown
    assert "2 joints, 16 boards, made in Lean-to shop" in shown


def test_the_first_page_is_light(client: Client) -> None:
    shown = page(client, "/")
    weight = len(shown.encode())
    for address in re.findall(r'(?:src|href)="/static/([^"?]+)', shown):
        found = finders.find(address)
        assert isinstance(found, str)
        weight += Path(found).stat().st_size
    weight += len(client.get("/drawing.css").content)
    assert weight <= LIGHT


def test_nothing_in_a_page_is_styled_or_scripted_in_place(client: Client, bench_id: int) -> None:
    for address in ("/", f"/pieces/{bench_id}", f"/pieces/{bench_id}/boards", "/take-in"):
        shown = page(client, address)
        assert not re.search(r"<style|\bstyle=|\bon[a-z]+=|hx-on|<script(?![^>]*\bsrc=)", shown)


def test_without_a_shop_one_is_offered_first(alone: Client) -> None:
    assert "/shop/new" in page(alone, "/")
    shown = page(alone, "/pieces/new")
    assert "there is none yet" in shown
    assert "/take-in" in shown
    assert "/shop/new" in shown


# Beginning one


def test_a_new_piece_is_empty_and_made_in_the_shop_that_was_chosen(
    client: Client, documents: Documents, shop_id: int
) -> None:
    answer = sent(client, "/pieces/new", title='A "door"', units="in", shop=shop_id)
    assert answer.status_code == 303
    sheet = documents.sheet(int(answer["Location"].rpartition("/")[2]))
    assert (sheet.title, sheet.shop) == ('A "door"', shop_id)
    assert tables_of(sheet.revision.text)["units"] == "in"
    assert "No joints yet" in page(client, answer["Location"])


@pytest.mark.parametrize(
    ("title", "units"), [("", "mm"), ("x" * 300, "mm"), ("two\nlines", "mm"), ("Door", "ells")]
)
def test_a_piece_that_cannot_be_begun_keeps_what_was_typed(
    client: Client, documents: Documents, shop_id: int, title: str, units: str
) -> None:
    answer = sent(client, "/pieces/new", title=title, units=units, shop=shop_id)
    assert answer.status_code == 422
    assert 'class="fault"' in body(answer)
    assert len(documents.listed("piece")) == 1


def test_a_shop_that_is_not_there_is_refused(client: Client) -> None:
    assert sent(client, "/pieces/new", title="Door", units="mm", shop=77).status_code == 422


# Its page


def test_joints_come_first_and_load_by_themselves(client: Client, bench_id: int) -> None:
    shown = page(client, f"/pieces/{bench_id}")
    headings = re.findall(r"<h2>([^<]+)", shown)
    assert headings[0] == "Joints"
    assert len(re.findall(r'hx-get="[^"]*/row" hx-trigger="revealed', shown)) == 2
    assert f'href="/pieces/{bench_id}/joints/1"' in shown


def test_what_is_odd_is_asked(client: Client, documents: Documents, bench_id: int) -> None:
    assert "Look at this first" not in page(client, f"/pieces/{bench_id}")
    odd = [Put(("board", "B03", "thickness"), [18.98, 1.903, 18.98, 18.97, 18.98])]
    change(documents, bench_id, 1, odd, what="odd")
    shown = page(client, f"/pieces/{bench_id}")
    assert "Look at this first" in shown
    assert "Is the decimal point in its place?" in shown


def test_a_piece_that_is_not_there_is_told(client: Client) -> None:
    page(client, "/pieces/99", 404)


ADDED = {
    "part": {"name": "seat", "timber": "hardwood", "species": "white oak", "rings": "30"},
    "panel": {"name": "seat row", "joint": "seat", "width": "400", "count": "4"},
    "framed": {
        "name": "end",
        "species": "white oak",
        "rings": "quarter",
        "opening_width": "280",
        "opening_height": "340",
        "groove_depth": "10",
    },
    "drawer": {
        "name": "till",
        "species": "white oak",
        "rings": "30",
        "opening_width": "240",
        "opening_height": "90",
    },
    "shelf": {
        "name": "tray",
        "species": "white oak",
        "span": "32 in",
        "width": "180",
        "thickness": "12",
        "load_kg": "6,5",
        "duration": "one year",
    },
}


@pytest.mark.parametrize("kind", ["part", "framed", "drawer", "shelf"])
def test_things_are_added_shown_and_removed(
    client: Client, documents: Documents, bench_id: int, kind: str
) -> None:
    first = text_of(documents, bench_id)
    form = ADDED[kind]
    answer = sent(client, f"/pieces/{bench_id}/add/{kind}", base=1, **form)
    assert (answer.status_code, answer["Location"]) == (303, f"/pieces/{bench_id}#{kind}")
    assert f"<summary>{form['name']}" in page(client, f"/pieces/{bench_id}")
    path = json.dumps([kind, form["name"]])
    assert sent(client, f"/pieces/{bench_id}/remove", path=path, base=2).status_code == 303
    assert tables_of(text_of(documents, bench_id)) == tables_of(first)


def test_numbers_of_a_new_thing_are_kept_as_they_were_typed(
    client: Client, documents: Documents, bench_id: int
) -> None:
    sent(client, f"/pieces/{bench_id}/add/shelf", base=1, **ADDED["shelf"])
    shelf = value_at(tables_of(text_of(documents, bench_id)), ("shelf", "tray"))
    assert isinstance(shelf, dict)
    assert (shelf["span"], shelf["width"], shelf["load_kg"]) == ("32 in", 180, 6.5)


def test_a_thing_with_faults_is_shown_again_with_them_beside_its_fields(
    client: Client, documents: Documents, bench_id: int
) -> None:
    form = ADDED["framed"] | {"opening_width": "9000", "rings": "round"}
    answer = sent(client, f"/pieces/{bench_id}/add/framed", base=1, **form)
    assert answer.status_code == 422
    shown = body(answer)
    assert 'name="rings" value="round"' in shown
    assert shown.count('class="fault"') >= 1
    assert "&#x27;round&#x27; is not known" in shown
    assert documents.sheet(bench_id).revision.number == 1


def test_a_thing_that_others_need_is_not_removed(
    client: Client, documents: Documents, bench_id: int
) -> None:
    path = json.dumps(["part", "runner"])
    answer = sent(client, f"/pieces/{bench_id}/remove", path=path, base=1)
    assert answer.status_code == 422
    assert "Part runner was not removed" in body(answer)
    assert documents.sheet(bench_id).revision.number == 1


def test_a_kind_that_pieces_have_not_is_told(client: Client, bench_id: int) -> None:
    assert sent(client, f"/pieces/{bench_id}/add/castle", base=1).status_code == 404


# The climate


def put_climate(
    client: Client, piece: int, form: str, typed: dict[str, str], base: int = 1
) -> HttpResponse:
    fields = {f"climate.{name.replace('__', '.')}": text for name, text in typed.items()}
    return sent(client, f"/pieces/{piece}/climate/{form}", base=base, **fields)


def climate_of(documents: Documents, number: int) -> dict[str, object]:
    found = value_at(tables_of(text_of(documents, number)), ("climate",))
    assert isinstance(found, dict)
    return found


def test_moisture_takes_the_place_of_air(
    client: Client, documents: Documents, bench_id: int
) -> None:
    was = {"was:climate.cutting.temperature": "18", "was:climate.cutting.humidity": "45"}
    typed = {"climate.cutting.moisture": "9,5 %"}
    answer = sent(client, f"/pieces/{bench_id}/climate/cutting", base=1, **was, **typed)
    assert answer.status_code == 303
    assert climate_of(documents, bench_id)["cutting"] == {"moisture": "9,5 %"}


def test_air_and_moisture_together_are_refused(
    client: Client, documents: Documents, bench_id: int
) -> None:
    typed = {
        "cutting__temperature": "18",
        "cutting__humidity": "45",
        "cutting__moisture": "9",
    }
    answer = put_climate(client, bench_id, "cutting", typed)
    assert answer.status_code == 422
    assert "both a moisture and the air are given" in body(answer)
    assert documents.sheet(bench_id).revision.number == 1


def test_assembly_that_is_emptied_is_left_out(
    client: Client, documents: Documents, bench_id: int
) -> None:
    put_climate(client, bench_id, "assembly", {"assembly__moisture": "10"})
    assert climate_of(documents, bench_id)["assembly"] == {"moisture": 10}
    was = {"was:climate.assembly.moisture": "10"}
    empty = {"climate.assembly.moisture": ""}
    sent(client, f"/pieces/{bench_id}/climate/assembly", base=2, **was, **empty)
    assert "assembly" not in climate_of(documents, bench_id)


def test_seasons_take_the_place_of_a_room_and_a_room_of_seasons(
    client: Client, documents: Documents, bench_id: int
) -> None:
    seasons = {
        "season__0__name": "winter",
        "season__0__months": "11 12 1 2 3 4",
        "season__0__temperature": "64 F",
        "season__0__humidity": "60",
        "season__1__name": "summer",
        "season__1__months": "5, 6, 7, 8, 9, 10",
        "season__1__moisture": "12",
    }
    assert put_climate(client, bench_id, "seasons", seasons).status_code == 303
    found = climate_of(documents, bench_id)
    assert "room" not in found
    assert found["season"] == [
        {"name": "winter", "months": [11, 12, 1, 2, 3, 4], "temperature": "64 F", "humidity": 60},
        {"name": "summer", "months": [5, 6, 7, 8, 9, 10], "moisture": 12},
    ]
    assert put_climate(client, bench_id, "room", {"room": "conservatory"}, 2).status_code == 303
    assert set(climate_of(documents, bench_id)) == {"cutting", "room"}


def test_a_month_without_a_season_is_told(client: Client, bench_id: int) -> None:
    one = {"season__0__name": "winter", "season__0__months": "1", "season__0__moisture": "9"}
    answer = put_climate(client, bench_id, "seasons", one)
    assert answer.status_code == 422
    assert 'role="alert"' in body(answer)
    assert 'value="winter"' in body(answer)


def test_a_year_month_by_month_takes_the_place_of_a_room(
    client: Client, documents: Documents, bench_id: int
) -> None:
    months = "8 8 9 10 11 12 13 13 12 11 9 8"
    assert (
        put_climate(client, bench_id, "monthly", {"monthly__moisture": months}).status_code == 303
    )
    assert set(climate_of(documents, bench_id)) == {"cutting", "monthly"}


def test_a_climate_is_begun_with_air_and_room(
    client: Client, documents: Documents, shop_id: int
) -> None:
    begun = sent(client, "/pieces/new", title="Door", units="mm", shop=shop_id)
    piece = int(begun["Location"].rpartition("/")[2])
    typed = {"cutting__temperature": "19", "cutting__humidity": "50", "room": "unheated porch"}
    assert put_climate(client, piece, "begin", typed).status_code == 303
    assert piece_from_text(text_of(documents, piece), file="p", folder=None).piece.climate


def test_a_climate_changed_by_someone_else_is_not_written_over(
    client: Client, documents: Documents, bench_id: int
) -> None:
    change(documents, bench_id, 1, [Put(("climate", "cutting", "humidity"), 50)], what="damper")
    was = {"was:climate.cutting.temperature": "18", "was:climate.cutting.humidity": "45"}
    typed = {"climate.cutting.temperature": "18", "climate.cutting.humidity": "40"}
    answer = sent(client, f"/pieces/{bench_id}/climate/cutting", base=1, **was, **typed)
    assert answer.status_code == 409
    assert "changed it meanwhile, to 50; yours was 40" in body(answer)
    again = sent(client, f"/pieces/{bench_id}/climate/cutting", base=2, **was, **typed)
    assert again.status_code == 303
    assert climate_of(documents, bench_id)["cutting"] == {"temperature": 18, "humidity": 40}


# Going back


def test_undo_and_redo_say_what_they_would_do(
    client: Client, documents: Documents, bench_id: int
) -> None:
    change(documents, bench_id, 1, [Put(("title",), "Settle")], what="title: Settle")
    assert "Undo takes back: title: Settle" in page(client, f"/pieces/{bench_id}")
    assert sent(client, f"/pieces/{bench_id}/undo", base=2).status_code == 303
    assert documents.sheet(bench_id).title == "Hall bench with a boarded back"
    assert "Redo puts again: title: Settle" in page(client, f"/pieces/{bench_id}")
    sent(client, f"/pieces/{bench_id}/redo", base=1)
    assert documents.sheet(bench_id).title == "Settle"


def test_undo_of_what_someone_else_changed_meanwhile_shows_the_history(
    client: Client, documents: Documents, bench_id: int
) -> None:
    for base, title in ((1, "Settle"), (2, "Stool")):
        change(documents, bench_id, base, [Put(("title",), title)], what=f"title: {title}")
    answer = sent(client, f"/pieces/{bench_id}/undo", base=2)
    assert answer.status_code == 409
    assert "It stands so" in body(answer)
    assert documents.sheet(bench_id).title == "Stool"


def test_history_tells_who_did_what_and_goes_back(
    client: Client, documents: Documents, bench_id: int
) -> None:
    first = text_of(documents, bench_id)
    edit = [Put(("title",), "Settle")]
    change(documents, bench_id, 1, edit, author="Ann", what="title: Settle")
    shown = page(client, f"/pieces/{bench_id}/history")
    assert "Title: Settle, by Ann" in shown
    sent(client, f"/pieces/{bench_id}/history/1/go-back", base=2)
    assert text_of(documents, bench_id) == first


def test_a_shop_has_a_history_too(client: Client, documents: Documents, shop_id: int) -> None:
    change(documents, shop_id, 1, [Put(("title",), "Barn")], what="title: Barn")
    assert "Title: Barn" in page(client, f"/shop/{shop_id}/history")
    sent(client, f"/shop/{shop_id}/undo", base=2)
    assert documents.sheet(shop_id).title == "Lean-to shop"


def test_a_discarded_piece_can_be_brought_back(
    client: Client, documents: Documents, bench_id: int
) -> None:
    sent(client, f"/pieces/{bench_id}/discard")
    shown = page(client, "/")
    assert "Discarded pieces (1)" in shown
    assert "There are no pieces yet" in shown
    assert "was discarded" in page(client, f"/pieces/{bench_id}")
    sent(client, f"/pieces/{bench_id}/bring-back")
    assert [each.id for each in documents.listed("piece")] == [bench_id]


def test_a_shop_in_use_is_not_discarded(
    client: Client, documents: Documents, shop_id: int, bench_id: int
) -> None:
    assert sent(client, f"/shop/{shop_id}/discard").status_code == 422
    sent(client, f"/pieces/{bench_id}/discard")
    assert sent(client, f"/shop/{shop_id}/discard").status_code in {302, 303}
    assert documents.listed("shop") == ()


@pytest.mark.parametrize("name", ["undo", "redo", "discard", "bring-back", "change", "remove"])
def test_nothing_is_changed_by_looking(client: Client, bench_id: int, name: str) -> None:
    page(client, f"/pieces/{bench_id}/{name}", 405)


def test_a_form_without_a_token_changes_nothing(documents: Documents, bench_id: int) -> None:
    client = Client(enforce_csrf_checks=True, headers={"host": "localhost"})
    assert sent(client, f"/pieces/{bench_id}/discard").status_code == 403
    assert documents.listed("piece")


# Its file


def test_the_piece_file_is_the_text_as_it_stands(
    client: Client, documents: Documents, bench_id: int
) -> None:
    answer = client.get(f"/pieces/{bench_id}/piece.toml")
    assert answer.content.decode() == text_of(documents, bench_id)
    assert answer["Content-Disposition"] == (
        'attachment; filename="hall-bench-with-a-boarded-back.toml"'
    )
    assert 'shop = "shop.toml"' in answer.content.decode()
