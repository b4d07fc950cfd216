"""The timber page answers as the command does, and what was asked stays in its address."""

from __future__ import annotations

import json
from html import unescape
from typing import Any

import pytest
from django.test import Client
from typer.testing import CliRunner

from faywright.cli import app
from faywright.lengths import LengthStyle
from faywright.piece.words import writer
from faywright.timber.climate import rooms
from faywright.timber.moisture import equilibrium_moisture
from tests.web.forms_read import form_with, forms_of

WRITE = writer(LengthStyle("mm"))


def asked(client: Client, **query: str) -> str:
    answer = client.get("/timber", query)
    assert answer.status_code == 200, unescape(answer.content.decode())
    return unescape(answer.content.decode())


def commanded(*arguments: str) -> dict[str, Any]:
    """What the command answers to the same question."""
    ran = CliRunner().invoke(app, ["timber", *arguments, "--json"])
    assert ran.exit_code == 0, ran.output
    found: dict[str, Any] = json.loads(ran.output)
    return found


@pytest.mark.parametrize("rings", ["", "quarter", "30"])
@pytest.mark.parametrize(
    ("species", "start", "end", "width"),
    [
        ("white oak", "20 C 45 %", "20 C 65 %", "200"),
        ("Tilia americana", "12", "7", "8 in"),
        ("Scots pine", "68 F 35 %", "9 %", "95,5"),
    ],
)
def test_the_page_says_what_the_command_says(
    client: Client, species: str, start: str, end: str, width: str, rings: str
) -> None:
    page = asked(
        client, **{"species": species, "from": start, "to": end, "width": width, "rings": rings}
    )
    options = ["--rings", rings] if rings else []
    told = commanded(species, "--from", start, "--to", end, "--width", width, *options)
    assert told["species"] in page
    for moisture in (told["moisture_from_percent"], told["moisture_to_percent"]):
        assert f"{moisture:.1f}" in page
    assert len(told["boards"]) == (1 if rings else 3)
    for board in told["boards"]:
        way = "grows" if board["width_grows_mm"] > 0 else "shrinks"
        assert f"<td>{way} {WRITE(abs(board['width_grows_mm']))}</td>" in page
        assert f"<td>{100 * board['thickness_grows_share']:+.2f} %</td>" in page
    assert told["basis"].lower() in page.lower()
    for source in told["sources"].values():
        assert f"<td>{source}</td>" in page
    for remark in told["remarks"]:
        assert remark in page


def test_without_any_air_the_page_says_what_the_year_does_in_each_room(client: Client) -> None:
    page = asked(client, species="white oak", width="100")
    for line in CliRunner().invoke(app, ["timber", "white oak"]).output.splitlines()[1:11]:
        room, told = line.strip().split(": ", 1)
        assert room in rooms()
        row = page[page.index(f'<th scope="row">{room}</th>') :].split("</tr>")[0]
        for moved in told.split("it moves by ")[1].split(", "):
            assert f"<td>{moved.split(' ', 1)[1]}</td>" in row


def test_a_year_in_a_room_is_drawn_and_told_month_by_month(client: Client) -> None:
    page = asked(client, species="white oak", width="200", room="unheated porch", **{"from": "10"})
    assert "<svg" in page
    moisture = rooms()["unheated porch"].moisture_by_month
    rows = [part.split("</tr>")[0] for part in page.split('<tr><th scope="row">')]
    months = {row.split("</th>")[0]: row for row in rows}
    assert f"<td>{moisture[0]:.1f} %</td>" in months["January"]
    july = commanded("white oak", "--from", "10", "--to", f"{moisture[6]:.9f}", "--width", "200")
    width = 200 + july["boards"][0]["width_grows_mm"]
    assert f"<td>{WRITE(width)}</td>" in months["July"]


def test_air_tells_the_moisture_of_wood(client: Client) -> None:
    page = asked(client, temperature="68 F", humidity="50 %")
    assert f"{equilibrium_moisture(20, 50):.1f} % of its dry mass" in page


def test_a_meter_is_put_right_for_cold_wood(client: Client) -> None:
    assert "10.0 % of its dry mass" in asked(client, meter="9", wood="8.8 C", calibrated="20")


@pytest.mark.parametrize(
    ("units", "width", "shown"), [("decimal inch", "4", "4.000 in"), ("mm", "4", "4.00 mm")]
)
def test_a_bare_width_is_in_the_unit_that_is_chosen(
    client: Client, units: str, width: str, shown: str
) -> None:
    client.cookies["units"] = units
    assert f"A board {shown} wide" in asked(client, species="white oak", width=width)


@pytest.mark.parametrize(
    ("query", "wrong"),
    [
        ({"species": "evn wood"}, {"species"}),
        ({"species": "oak"}, {"species"}),
        ({"species": "white oak", "width": "-3"}, {"width"}),
        ({"species": "white oak", "rings": "plain"}, {"rings"}),
        ({"species": "white oak", "from": "20 C 120 %", "to": "8"}, {"from"}),
        ({"species": "white oak", "from": "8", "to": "wet"}, {"to"}),
        ({"species": "white oak", "from": "8"}, {"to"}),
        (
            {"species": "oakk", "width": "x", "rings": "z", "from": "q", "to": "300"},
            {"species", "width", "rings", "from", "to"},
        ),
        ({"temperature": "99", "humidity": "damp"}, {"temperature", "humidity"}),
        ({"humidity": "50"}, {"temperature"}),
        ({"meter": "3"}, {"meter"}),
        ({"meter": "9", "wood": "hot", "calibrated": "-20"}, {"wood", "calibrated"}),
        ({"meter": "9", "wood": "-1"}, {"wood"}),
    ],
)
def test_what_cannot_be_read_is_told_beside_its_field_and_stays_there(
    client: Client, query: dict[str, str], wrong: set[str]
) -> None:
    answer = client.get("/timber", query)
    assert answer.status_code == 422
    forms = [form for form in forms_of(answer.content) if form.method == "get"]
    assert set().union(*(form.invalid for form in forms)) == wrong
    typed = {name: text for form in forms for name, text in form.values.items()}
    assert {name: typed[name] for name in query} == query


def test_a_room_that_is_none_is_told(client: Client) -> None:
    answer = client.get("/timber", {"species": "white oak", "room": "barn"})
    assert form_with(answer.content, species="white oak").invalid == {"room"}


def test_a_name_of_several_timbers_leads_to_each_with_the_same_question(client: Client) -> None:
    page = client.get("/timber", {"species": "oak", "width": "90"}).content.decode()
    assert 'href="?species=Oak%2C+white&amp;width=90"' in page


def test_the_makers_own_timber_is_known(client: Client, shop_id: int) -> None:
    own = {"table": "species", "do": "add", "base": "1", "name": "Fen oak", "group": "hardwood"}
    figures = {"c_radial": "0.002", "c_tangential": "0.004"}
    assert client.post(f"/shop/{shop_id}/change", own | figures).status_code == 303
    page = asked(client, species="fen oak", width="200", **{"from": "10", "to": "13"})
    assert f"grows {WRITE(200 * 0.004 * 3)}" in page
    assert "your own figure" in page


def test_a_timber_of_which_no_movement_is_known_says_what_is_missing(
    client: Client, shop_id: int
) -> None:
    own = {"table": "species", "do": "add", "base": "1", "name": "Fen oak", "group": "hardwood"}
    client.post(f"/shop/{shop_id}/change", own)
    answer = client.get("/timber", {"species": "fen oak", "from": "10", "to": "13"})
    assert answer.status_code == 422
    assert "Give your own c_radial and c_tangential" in answer.content.decode()
