"""The page of a piece tells what the year does to its rows, panels and drawers."""

from __future__ import annotations

from html import unescape

from django.test import Client

from faywright.app.documents import Documents
from faywright.web.desk import Desk, open_piece
from faywright.web.pieces.piece_year import year_of

SHELF = """
[[shelf]]
name = "tray"
species = "white oak"
span = 820
width = 180
thickness = 12
load_kg = 6
"""


def add(documents: Documents, piece: int, table: str) -> None:
    sheet = documents.sheet(piece)
    documents.revise(
        piece, sheet.revision.number, sheet.revision.text + table, title=sheet.title, what="more"
    )


def test_a_row_has_its_gap_and_its_year(client: Client, bench_id: int) -> None:
    page = unescape(client.get(f"/pieces/{bench_id}/year").content.decode())
    assert ">Panel: back</p>" in page
    assert "Leave 3.97 mm at each joint today, 1.99 mm at each side." in page
    assert page.count("<figure") == 1


def test_a_shelf_is_judged(client: Client, desk: Desk, bench_id: int) -> None:
    add(desk.store.documents, bench_id, SHELF)
    page = client.get(f"/pieces/{bench_id}/year").content.decode()
    assert ">Shelf: tray</p>" in page


def test_the_year_is_said_as_the_whole_plan_has_it(
    client: Client, desk: Desk, bench_id: int
) -> None:
    ground = open_piece(bench_id).ground
    plan = desk.planner.plan(ground).plan
    page = unescape(client.get(f"/pieces/{bench_id}/year").content.decode())
    lines = [line for each in year_of(plan, ground.shop.habits.style).told for line in each.lines]
    assert len(lines) > 5
    assert all(line in page for line in lines)


def test_the_page_loads_it_where_there_is_something_to_tell(client: Client, bench_id: int) -> None:
    assert f'hx-get="/pieces/{bench_id}/year"' in client.get(f"/pieces/{bench_id}").content.decode()
