"""What the API tells of a shop: trials, what they taught, timber, and all of it at once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from django.test import Client
from typer.testing import CliRunner

from faywright.cli import app as command_line
from faywright.web.desk import open_desk
from tests.web.api_calls import (
    TRIED,
    get,
    post,
    put_width,
    refused,
)


def test_a_trial_is_told_as_on_the_command_line_and_moves_the_plan(
    client: Client, bench_id: int, shop_id: int
) -> None:
    before = get(client, f"pieces/{bench_id}/plan.json")
    told = post(client, f"pieces/{bench_id}/joints/1/trials", TRIED).json()
    assert told["trial"] == 1
    assert told["advice"]["as_set"]["chance"] > 0.5
    assert get(client, f"pieces/{bench_id}/plan.json")["learned"] != before["learned"] == []
    assert get(client, f"shops/{shop_id}/known")["known"]
    post(client, f"shops/{shop_id}/trials/1/forget", {})
    assert get(client, f"pieces/{bench_id}/plan.json") == before


def test_a_trial_that_is_sent_twice_under_one_key_counts_once(
    client: Client, bench_id: int, shop_id: int
) -> None:
    key = {"headers": {"X-Submission": "bench-tablet-0001"}}
    first = post(client, f"pieces/{bench_id}/joints/1/trials", TRIED, **key).json()
    assert post(client, f"pieces/{bench_id}/joints/1/trials", TRIED, **key).json() == first
    assert len(get(client, f"shops/{shop_id}/trials")["trials"]) == 1


def test_a_trial_only_looked_at_is_not_kept(client: Client, bench_id: int, shop_id: int) -> None:
    told = post(client, f"pieces/{bench_id}/joints/1/trials", {**TRIED, "keep": False}).json()
    assert told["advice"]
    assert told["trial"] is None
    assert get(client, f"shops/{shop_id}/trials")["trials"] == []


def test_every_reading_that_cannot_be_used_is_told(client: Client, bench_id: int) -> None:
    body = {"readings": {"tongue_mm": [5.9], "cheek_mm": [4.0]}}
    error = refused(post(client, f"pieces/{bench_id}/joints/2/trials", body), 422)
    paths = [fault["path"] for fault in error["faults"]]
    assert paths == [["readings", "tongue_mm"], ["readings", "cheek_mm"]]


def test_readings_keep_their_last_digit(client: Client, bench_id: int, shop_id: int) -> None:
    body = {"readings": {"tongue_mm": [5.930001], "stock_mm": [19.02]}}
    assert post(client, f"pieces/{bench_id}/joints/1/trials", body).json()["trial"] == 1
    [kept] = get(client, f"shops/{shop_id}/trials")["trials"]
    assert kept["measurements"][0]["readings_mm"] == [5.930001]


def test_how_it_felt_is_kept_with_its_trial(client: Client, bench_id: int, shop_id: int) -> None:
    post(client, f"pieces/{bench_id}/joints/1/trials", {**TRIED, "feel": "mallet"})
    [felt] = get(client, f"shops/{shop_id}/feels")["feels"]
    assert (felt["word"], felt["trial"], felt["joint"]) == ("mallet", 1, "back")


def test_a_sharpened_cutter_is_known_by_what_it_cuts_now(client: Client, shop_id: int) -> None:
    told = post(client, f"shops/{shop_id}/sharpened", {"cutter": "C3", "cuts_mm": 4.95}).json()
    [known] = told["known"]
    assert (known["of"], known["size_mm"]) == ("C3", 4.95)
    refused(post(client, f"shops/{shop_id}/sharpened", {"cutter": "C9"}), 422)
    refused(post(client, f"shops/{shop_id}/sharpened", {"cutter": "C3", "cuts_mm": 50}), 422)


def test_a_piece_is_no_shop(client: Client, bench_id: int) -> None:
    refused(client.get(f"/api/shops/{bench_id}/known"), 404)


def test_timber_answers_as_on_the_command_line(client: Client) -> None:
    asked = ["timber", "white ash", "--from", "8 %", "--to", "12 %", "--json"]
    said = json.loads(CliRunner().invoke(command_line, asked).output)
    assert get(client, "timber?species=white ash&from=8 %25&to=12 %25") == said


def test_only_one_end_is_refused_in_the_words_of_the_address(client: Client) -> None:
    error = refused(client.get("/api/timber?species=white ash&from=8 %25"), 422)
    assert "--" not in error["where"] + error["remedy"]


def test_what_is_taken_along_is_known_when_it_comes_back(client: Client, bench_id: int) -> None:
    put_width(client, bench_id, 1, 95)
    archive = client.get("/api/archive").content
    taken = client.post("/api/archive", archive, content_type="application/zip").json()
    assert taken["documents"] == {"added": 0, "known": 2}


def test_an_archive_brings_a_shop_to_another_computer(
    client: Client, bench_id: int, tmp_path: Path
) -> None:
    put_width(client, bench_id, 1, 95)
    archive = client.get("/api/archive").content
    open_desk(tmp_path / "other.sqlite3")
    taken = client.post("/api/archive", archive, content_type="application/zip").json()
    assert taken["documents"] == {"added": 2, "known": 0}
    [piece] = get(client, "documents?kind=piece")["documents"]
    assert piece["revisions"] == 2


@pytest.mark.parametrize("content", [b"PK\x05\x06" + bytes(18), b"no zip at all", bytes(999)])
def test_what_is_no_archive_is_refused(client: Client, content: bytes) -> None:
    refused(client.post("/api/archive", content, content_type="application/zip"), 422)
