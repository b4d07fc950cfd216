"""What the API tells of a piece: the plan, its drawings, and which cuts are made."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.test import Client
from typer.testing import CliRunner

from faywright.cli import app as command_line
from tests.web.api_calls import (
    CELLAR,
    get,
    post,
    refused,
)


def test_the_plan_is_letter_by_letter_that_of_the_command_line(
    client: Client, bench_id: int, tmp_path: Path
) -> None:
    bench = Path(__file__).parents[2] / "examples" / "hall-bench" / "piece.toml"
    store = str(tmp_path / "none.sqlite3")
    asked = ["plan", str(bench), "-o", str(tmp_path / "out"), "--store", store]
    CliRunner().invoke(command_line, asked)
    written = (tmp_path / "out" / "plan.json").read_text(encoding="utf-8")
    assert client.get(f"/api/pieces/{bench_id}/plan.json").content.decode() == written


def test_a_joint_by_itself_is_told_as_in_the_plan(client: Client, bench_id: int) -> None:
    whole = get(client, f"pieces/{bench_id}/plan.json")["joints"]
    for number, name in enumerate(("back", "drawer runner"), 1):
        alone = get(client, f"pieces/{bench_id}/joints/{number}")
        [same] = [joint for joint in whole if joint["name"] == name]
        assert alone["joint"] | {"setups": []} == same | {"setups": []}
        assert [setup["number"] for setup in alone["setups"]] == alone["joint"]["setups"]


def test_a_suspect_reading_is_asked_about_in_the_units_asked_for(
    client: Client, bench_id: int
) -> None:
    edit = {"do": "put", "path": ["board", "D1", "thickness", 1], "value": 1.302}
    body = {"base": 1, "what": "a slip", "edits": [edit]}
    assert post(client, f"documents/{bench_id}/changes", body).status_code == 200
    for units, said in (("mm", " mm"), ("decimal inch", " in")):
        found = get(client, f"pieces/{bench_id}/questions?units={units}")["suspect"]
        assert found
        assert said in found[0]["what"]


def test_drawings_are_listed_by_the_names_they_are_served_under(
    client: Client, bench_id: int
) -> None:
    listed = get(client, f"pieces/{bench_id}/drawings")["drawings"]
    names = [name for each in listed for name in each["files"]]
    assert len(names) == len(set(names)) > 20
    for name in (names[0], names[-1], "joint-1-back-groove-board-outline.dxf"):
        if name in names:
            kind = client.get(f"/api/pieces/{bench_id}/drawings/{name}")["Content-Type"]
            assert kind.split(";")[0] in ("image/svg+xml", "image/vnd.dxf")
    refused(client.get(f"/api/pieces/{bench_id}/drawings/joint-9.svg"), 404)


def test_a_section_is_written_in_the_units_asked_for(client: Client, bench_id: int) -> None:
    address = f"/api/pieces/{bench_id}/joints/1/section.svg"
    assert " mm</text>" in client.get(address).content.decode()
    assert " in</text>" in client.get(f"{address}?units=decimal%20inch").content.decode()


def test_the_packet_has_the_setups_asked_for(client: Client, bench_id: int) -> None:
    address = f"/api/pieces/{bench_id}/packet.pdf"
    assert client.get(f"{address}?only=5").content.startswith(b"%PDF")
    refused(client.get(f"{address}?only=99"), 422)
    refused(client.get(f"{address}?only=five"), 422)
    refused(client.get(f"{address}?paper=a5"), 422)


def test_a_joint_that_cannot_be_made_is_told_as_such(client: Client, bench_id: int) -> None:
    shop = post(client, "documents", {"files": {"shop.toml": CELLAR}}).json()["shops"][0]
    text = get(client, f"documents/{bench_id}")["text"]
    body = {"files": {"piece.toml": text}, "shop": shop}
    piece = post(client, "documents", body).json()["pieces"][0]
    error = refused(client.get(f"/api/pieces/{piece}/plan.json"), 422)
    assert "cutter" in error["what"] + error["remedy"]


def test_a_cut_stays_marked_however_the_setups_are_numbered(client: Client, bench_id: int) -> None:
    setups = get(client, f"pieces/{bench_id}/setups")["setups"]
    last = setups[-1]["cut"]
    made = post(client, f"pieces/{bench_id}/setups/done", {"cut": last}).json()["setups"][-1]
    assert made["done"]["as_set"]
    assert made["done"]["height_mm"] == made["height_mm"]
    other = {"cut": last, "height_mm": made["height_mm"] + 1}
    again = post(client, f"pieces/{bench_id}/setups/done", other).json()["setups"][-1]
    assert not again["done"]["as_set"]
    gone = post(client, f"pieces/{bench_id}/setups/not-done", {"cut": last}).json()["setups"][-1]
    assert gone["done"] is None


def test_a_cut_that_the_plan_does_not_have_cannot_be_marked(client: Client, bench_id: int) -> None:
    refused(post(client, f"pieces/{bench_id}/setups/done", {"cut": "0" * 32}), 404)


@pytest.mark.parametrize("address", ["plan.json", "questions", "joints", "setups", "drawings"])
def test_a_shop_is_no_piece(client: Client, shop_id: int, address: str) -> None:
    refused(client.get(f"/api/pieces/{shop_id}/{address}"), 404)
