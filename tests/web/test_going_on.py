"""No page is a dead end: undo comes back to where it was pressed, and an error says where to go."""

from __future__ import annotations

import pytest
from django.test import Client

from faywright.web.changing import Drop, Put, change
from faywright.web.desk import Desk
from tests.web.forms_read import form_with


def undone(client: Client, page: str) -> str:
    """Where one is after undo was pressed on a page."""
    form = form_with(client.get(page).content, back=page, base="2")
    return client.post(form.action, form.values)["Location"]


@pytest.mark.parametrize("page", ["joints/2", "boards"])
def test_undo_comes_back_to_the_page_it_was_pressed_on(
    client: Client, desk: Desk, bench_id: int, page: str
) -> None:
    change(desk.store.documents, bench_id, 1, [Put(("title",), "Settle")], what="title")
    address = f"/pieces/{bench_id}/{page}"
    assert undone(client, address) == address


def test_a_joint_is_found_where_it_stands_after_undo(
    client: Client, desk: Desk, bench_id: int
) -> None:
    seat = [Drop(("panel", "back")), Drop(("joint", "back"))]
    change(desk.store.documents, bench_id, 1, seat, what="joint back removed")
    assert undone(client, f"/pieces/{bench_id}/joints/1") == f"/pieces/{bench_id}/joints/2"


@pytest.mark.parametrize("back", ["https://elsewhere.example/", "//elsewhere.example", "/shop", ""])
def test_undo_goes_nowhere_else(client: Client, desk: Desk, bench_id: int, back: str) -> None:
    change(desk.store.documents, bench_id, 1, [Put(("title",), "Settle")], what="title")
    answer = client.post(f"/pieces/{bench_id}/undo", {"base": "2", "back": back})
    assert answer["Location"] == f"/pieces/{bench_id}"


@pytest.mark.parametrize("page", ["setups", "packet.pdf", "joints/2/trial"])
def test_a_joint_that_cannot_be_made_is_linked_from_what_it_stops(
    client: Client, desk: Desk, bench_id: int, page: str
) -> None:
    thick = [Put(("joint", "back", "tongue_thickness"), "19 mm")]
    change(desk.store.documents, bench_id, 1, thick, what="thick")
    answer = client.get(f"/pieces/{bench_id}/{page}")
    assert answer.status_code == 422
    assert f'href="/pieces/{bench_id}/joints/1"' in answer.content.decode()
