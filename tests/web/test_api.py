"""Documents by the API, who may enter, and how each refusal is told."""

from __future__ import annotations

from base64 import b64encode
from datetime import UTC, datetime
from typing import Any

import pytest
from django.test import Client, override_settings

from faywright.errors import DisagreementError
from faywright.web.entry import accounts
from faywright.web.entry.attempts import FREE
from faywright.web.entry.mode import Mode
from tests.web.api_calls import (
    CELLAR,
    KNOWN_WORDS,
    get,
    post,
    put_width,
    refused,
    sent,
)
from tests.web.conftest import Start


def test_a_changed_field_leaves_every_other_line_as_it_is(client: Client, bench_id: int) -> None:
    before = get(client, f"documents/{bench_id}")["text"]
    after = put_width(client, bench_id, 1, "3-3/4 in").json()["document"]["text"]
    changed = [(a, b) for a, b in zip(before.split("\n"), after.split("\n"), strict=True) if a != b]
    assert changed == [("width = 96", 'width = "3-3/4 in"')]


def test_a_date_goes_into_a_document_and_comes_back(client: Client, shop_id: int) -> None:
    path, day = ["cutter", "C4", "diameter", "on"], {"date": "2026-11-01"}
    edit = {"do": "put", "path": path, "value": day}
    body: dict[str, Any] = {"base": 1, "what": "measured again", "edits": [edit]}
    changed = post(client, f"documents/{shop_id}/changes", body).json()["document"]
    assert "on = 2026-11-01" in changed["text"]
    body["edits"] = [edit | {"value": {"date": "2026-11-02"}}]
    differs = post(client, f"documents/{shop_id}/changes", body)
    assert differs.status_code == 409
    assert differs.json()["theirs"] == day


def test_changes_of_two_to_different_fields_are_both_kept(client: Client, bench_id: int) -> None:
    put_width(client, bench_id, 1, 95)
    edit = {"do": "put", "path": ["title"], "value": "Bench"}
    body = {"base": 1, "what": "title", "edits": [edit]}
    answer = post(client, f"documents/{bench_id}/changes", body).json()
    assert answer["over"]
    assert answer["document"]["title"] == "Bench"
    assert "width = 95" in answer["document"]["text"]


def test_who_was_slower_gets_both_values_and_the_document_as_it_is(
    client: Client, bench_id: int
) -> None:
    put_width(client, bench_id, 1, 95)
    answer = put_width(client, bench_id, 1, 94)
    refused(answer, 409)
    told = answer.json()
    assert (told["theirs"], told["mine"]) == (95, 94)
    assert told["current"]["revision"]["number"] == 2


def test_a_whole_text_on_top_of_a_newer_one_is_refused_with_the_newer(
    client: Client, bench_id: int
) -> None:
    text = get(client, f"documents/{bench_id}")["text"]
    put_width(client, bench_id, 1, 95)
    answer = sent(client, "PUT", f"documents/{bench_id}/text", {"base": 1, "text": text})
    refused(answer, 409)
    assert answer.json()["path"] is None
    assert answer.json()["theirs"] == answer.json()["current"]["text"]
    assert answer.json()["mine"] == text


def test_edits_of_one_request_are_kept_together_or_not_at_all(
    client: Client, bench_id: int
) -> None:
    edits = [
        {"do": "put", "path": ["title"], "value": "Bench"},
        {"do": "put", "path": ["board", "D1", "width"], "value": "wide"},
    ]
    body = {"base": 1, "what": "two fields", "edits": edits}
    error = refused(post(client, f"documents/{bench_id}/changes", body), 422)
    assert [fault["path"][-1] for fault in error["faults"]] == ["width"]
    assert get(client, f"documents/{bench_id}")["revision"]["number"] == 1


def test_what_was_removed_meanwhile_is_told_as_missing(client: Client, bench_id: int) -> None:
    edit = {"do": "put", "path": ["board", "B99", "width"], "value": 1}
    body = {"base": 1, "what": "width", "edits": [edit]}
    refused(post(client, f"documents/{bench_id}/changes", body), 404)


def test_undo_and_redo_go_back_and_forth(client: Client, bench_id: int) -> None:
    put_width(client, bench_id, 1, 95)
    back = post(client, f"documents/{bench_id}/undo", {"base": 2}).json()
    assert "width = 95" not in back["text"]
    assert "width = 95" in post(client, f"documents/{bench_id}/redo", {"base": 1}).json()["text"]
    refused(post(client, f"documents/{bench_id}/undo", {"base": 1}), 409)


def test_there_is_nothing_to_undo_at_first(client: Client, bench_id: int) -> None:
    refused(post(client, f"documents/{bench_id}/undo", {"base": 1}), 422)


def test_what_was_discarded_is_listed_apart(client: Client, bench_id: int) -> None:
    post(client, f"documents/{bench_id}/discard", {})
    assert get(client, "documents?kind=piece")["documents"] == []
    assert get(client, "documents?kind=piece&discarded=true")["documents"][0]["id"] == bench_id
    post(client, f"documents/{bench_id}/bring-back", {})
    assert get(client, "documents?kind=piece")["documents"][0]["id"] == bench_id


def test_files_with_a_fault_are_not_taken_in(client: Client) -> None:
    body = {"files": {"shop.toml": CELLAR, "piece.toml": 'faywright = "piece 1"\n'}}
    error = refused(post(client, "documents", body), 422)
    assert {fault["file"] for fault in error["faults"]} == {"piece.toml"}
    assert len(get(client, "documents?kind=shop")["documents"]) == 1


def test_nothing_is_served_elsewhere_under_api(client: Client) -> None:
    for address in ("", "nothing", "documents/", "pieces/one/plan.json", "documents/-1"):
        refused(client.get(f"/api/{address}"), 404)


@pytest.mark.parametrize("method", ["DELETE", "PATCH", "PUT"])
def test_a_method_that_cannot_be_used_is_told_with_those_that_can(
    client: Client, method: str
) -> None:
    answer = sent(client, method, "documents", {})
    refused(answer, 405)
    assert set(answer["Allow"].split(", ")) == {"GET", "POST"}


def test_a_query_that_is_not_known_is_refused(client: Client, bench_id: int) -> None:
    error = refused(client.get(f"/api/pieces/{bench_id}/questions?unit=mm"), 422)
    assert "units" in error["remedy"]
    refused(client.get("/api/documents?kind=piece&kind=shop"), 400)


def by_name(name: str, password: str) -> dict[str, str]:
    return {"Authorization": f"Basic {b64encode(f'{name}:{password}'.encode()).decode()}"}


def test_a_program_enters_by_name_and_password(start: Start) -> None:
    start(Mode.ACCOUNTS)
    accounts.add("ann", KNOWN_WORDS)
    client = Client(headers={"host": "localhost"})
    signed = by_name("ann", KNOWN_WORDS)
    body = {"files": {"shop.toml": CELLAR}}
    refused(post(client, "documents", body), 401)
    refused(post(client, "documents", body, headers=by_name("ann", "guessed")), 401)
    assert post(client, "documents", body, headers=signed).status_code == 201
    told = client.get("/api/documents?kind=shop", headers=signed).json()["documents"]
    assert told[0]["author"] == "ann"


def test_a_page_that_is_signed_in_needs_the_token_for_changes(start: Start) -> None:
    start(Mode.ACCOUNTS)
    accounts.add("ann", KNOWN_WORDS)
    client = Client(enforce_csrf_checks=True, headers={"host": "localhost"})
    assert client.login(username="ann", password=KNOWN_WORDS)
    body = {"files": {"shop.toml": CELLAR}}
    refused(post(client, "documents", body), 403)
    token = {"X-CSRFToken": get(client, "csrf-token")["token"]}
    assert post(client, "documents", body, headers=token).status_code == 201


def test_who_guesses_has_to_wait(start: Start) -> None:
    start(Mode.ACCOUNTS)
    client = Client(headers={"host": "localhost"})
    tries = [client.get("/api/archive", headers=by_name("ann", str(n))) for n in range(FREE + 1)]
    assert {answer.status_code for answer in tries[:-1]} == {401}
    refused(tries[-1], 429)
    assert int(tries[-1]["Retry-After"]) >= 1


@override_settings(FAYWRIGHT_MODE=Mode.LAN)
def test_nobody_enters_unsigned_on_the_network(client: Client) -> None:
    for address in ("documents?kind=piece", "openapi.json", "nothing"):
        refused(client.get(f"/api/{address}"), 401)
    assert "Basic" not in client.get("/api/archive")["WWW-Authenticate"]


def test_a_change_that_a_page_elsewhere_asks_for_is_refused(client: Client, bench_id: int) -> None:
    elsewhere = {"headers": {"Origin": "https://elsewhere.example"}}
    refused(post(client, f"documents/{bench_id}/discard", {}, **elsewhere), 403)


def test_an_error_of_ours_is_told_without_its_inside(
    client: Client, bench_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise RuntimeError("secret of the inside")

    monkeypatch.setattr("faywright.web.api.pieces.plan_json", fails)
    answer = client.get(f"/api/pieces/{bench_id}/plan.json")
    refused(answer, 500)
    assert "secret" not in answer.content.decode()


def test_a_disagreement_never_prints_a_number(
    client: Client, bench_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    def differs(*_: object) -> None:
        raise DisagreementError("formula and cut differ", where="joint", remedy="Report it")

    monkeypatch.setattr("faywright.web.api.pieces.plan_json", differs)
    assert refused(client.get(f"/api/pieces/{bench_id}/plan.json"), 500)["where"] == "joint"


def test_moments_are_in_utc(client: Client, bench_id: int) -> None:
    at = datetime.fromisoformat(get(client, f"documents/{bench_id}")["revision"]["at"])
    assert at.tzinfo == UTC
    assert abs((datetime.now(UTC) - at).total_seconds()) < 600
