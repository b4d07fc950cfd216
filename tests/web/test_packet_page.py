"""What is printed or taken along."""

from __future__ import annotations

import json
from io import BytesIO

import pytest
from django.test import Client
from pypdf import PdfReader

from faywright.drawing.drawings import plan_drawings
from faywright.drawing.folder import drawing_files
from faywright.piece.plan import Plan
from faywright.piece.plan_json import plan_json
from faywright.web.desk import desk as open_desk
from faywright.web.desk import open_piece


@pytest.fixture(name="plan")
def _plan(bench_id: int) -> Plan:
    return open_desk().planner.plan(open_piece(bench_id).ground).plan


def words_in(pdf: bytes) -> str:
    return " ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


@pytest.mark.parametrize(("paper", "width"), [("a4", 595), ("us-letter", 612)])
def test_the_packet_comes_on_the_paper_that_is_asked_for(
    client: Client, bench_id: int, paper: str, width: int
) -> None:
    answer = client.get(f"/pieces/{bench_id}/packet.pdf", {"paper": paper, "only": "8"})
    assert answer.headers["Content-Type"] == "application/pdf"
    assert "attachment" in answer.headers["Content-Disposition"]
    page = PdfReader(BytesIO(answer.content)).pages[0]
    assert round(float(page.mediabox.width)) == width


def test_only_the_setups_that_are_asked_for_are_printed(client: Client, bench_id: int) -> None:
    all_of_it = len(PdfReader(BytesIO(client.get(f"/pieces/{bench_id}/packet.pdf").content)).pages)
    one = client.get(f"/pieces/{bench_id}/packet.pdf", {"only": "10"}).content
    assert len(PdfReader(BytesIO(one)).pages) < all_of_it


def test_the_packet_is_in_the_units_that_are_asked_for(client: Client, bench_id: int) -> None:
    client.cookies["units"] = "fraction inch"
    asked = {"units": "decimal inch", "only": "8"}
    told = words_in(client.get(f"/pieces/{bench_id}/packet.pdf", asked).content)
    assert "0.490" in told
    assert "12.45" not in told


@pytest.mark.parametrize(
    "asked",
    [{"paper": "a5"}, {"units": "ells"}, {"only": "four"}, {"only": "99"}, {"only": "1" * 9}],
)
def test_what_cannot_be_printed_is_told(
    client: Client, bench_id: int, asked: dict[str, str]
) -> None:
    assert client.get(f"/pieces/{bench_id}/packet.pdf", asked).status_code == 422


def test_every_file_of_the_plan_is_listed_and_there(
    client: Client, bench_id: int, plan: Plan
) -> None:
    page = client.get(f"/pieces/{bench_id}/packet").content.decode()
    names = [name for each in plan_drawings(plan) for name in drawing_files(each)]
    assert len(names) > 40
    for name in names:
        assert f'href="/pieces/{bench_id}/drawings/{name}"' in page
    for name in (names[0], "joint-1-back-groove-outline.dxf", "setup-08-along-feed.dxf"):
        answer = client.get(f"/pieces/{bench_id}/drawings/{name}")
        assert answer.status_code == 200
        kind = "image/svg+xml" if name.endswith("svg") else "image/vnd.dxf"
        assert answer.headers["Content-Type"].startswith(kind)


def test_a_file_is_what_the_folder_of_a_plan_would_have(
    client: Client, bench_id: int, plan: Plan
) -> None:
    each = next(iter(plan_drawings(plan)))
    answer = client.get(f"/pieces/{bench_id}/drawings/{each.stem}.dxf")
    assert answer.content.decode() == drawing_files(each)[f"{each.stem}.dxf"]()


@pytest.mark.parametrize("name", ["joint-9.svg", "joint-1-back.pdf", "..%2F..%2Fetc%2Fpasswd"])
def test_a_drawing_that_is_not_there_is_missing(client: Client, bench_id: int, name: str) -> None:
    assert client.get(f"/pieces/{bench_id}/drawings/{name}").status_code == 404


def test_the_plan_for_programs_is_that_of_the_command_line(
    client: Client, bench_id: int, plan: Plan
) -> None:
    answer = client.get(f"/pieces/{bench_id}/plan.json")
    assert json.loads(answer.content) == json.loads(json.dumps(plan_json(plan)))
    client.cookies["units"] = "decimal inch"
    assert client.get(f"/pieces/{bench_id}/plan.json").content == answer.content
