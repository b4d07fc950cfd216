"""Cards at the machine: everything the plan says of a setup, and what is done of it."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from threading import Thread

import pytest
from django.test import Client

from faywright.app.cuts_done import cuts_of
from faywright.app.kept import TURN
from faywright.lengths import LengthStyle, Style
from faywright.piece.plan import Plan
from faywright.piece.plan_json import plan_json
from faywright.piece.words import writer
from faywright.web.desk import STYLES, Desk, open_piece
from faywright.web.desk import desk as open_desk
from faywright.web.machine import setups_page
from faywright.web.machine.bench_desk import cuts_done
from faywright.web.machine.setup_cards import cards
from tests.web.forms_read import Sent, form_with

KEY = "0123456789abcdef"


def address(bench: int) -> str:
    return f"/pieces/{bench}/setups"


def text_of(part: str) -> str:
    """A part of a page as it is read: tags gone, spaces single."""
    bare = re.sub(r"<svg.*?</svg>", " ", part, flags=re.DOTALL)
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", "", bare))).strip()


def cards_in(page: str) -> list[str]:
    return [text_of(card) for card in re.findall(r"<article.*?</article>", page, re.DOTALL)]


@pytest.fixture(name="plan")
def _plan(bench_id: int) -> Plan:
    return open_desk().planner.plan(open_piece(bench_id).ground).plan


def shown(client: Client, bench: int, style: str = "mm") -> str:
    client.cookies["units"] = style
    answer = client.get(address(bench))
    assert answer.status_code == 200
    return answer.content.decode()


def test_every_setup_has_a_card_in_the_order_of_work(
    client: Client, bench_id: int, plan: Plan
) -> None:
    cards = cards_in(shown(client, bench_id))
    count = len(plan.setups)
    assert len(cards) == count
    for number, (card, setup) in enumerate(zip(cards, plan.setups, strict=True), 1):
        assert card.startswith(f"{number} of {count}: {setup.joint}, {setup.stage}")


@pytest.mark.parametrize("style", STYLES)
def test_every_number_reading_and_hazard_of_the_plan_stands_on_its_card(
    client: Client, bench_id: int, plan: Plan, style: Style
) -> None:
    write = writer(LengthStyle(style))
    cards = cards_in(shown(client, bench_id, style))
    told = plan_json(plan)["setups"]
    assert isinstance(told, list)
    for card, setup, values in zip(cards, told, plan.setups, strict=True):
        bare = card.replace("\xa0", " ")
        for number in said_of(setup):
            assert write(number) in bare
        for each in values.readings:
            assert f"{each.what}" in bare
        for hazard in values.hazards:
            assert hazard.said(write) in bare
        for mark in setup["boards"]:
            assert mark in bare
        assert setup["cutter"] in bare
        assert f"{setup['spindle_speed_rpm']} rpm" in bare


def said_of(setup: dict[str, object]) -> Iterator[float]:
    """Every length of a setup in the plan's JSON that a maker sets or reads. [mm]"""
    height, readings = setup["height"], setup["check_readings"]
    assert isinstance(height, dict)
    assert isinstance(readings, list)
    yield from (height["true_mm"], height["gauge_shows_mm"])
    if height["first_trial_gauge_shows_mm"] is not None:
        yield height["first_trial_gauge_shows_mm"]
    for key in ("fence_as_measured_mm", "fence_to_axis_mm", "fence_to_near_edge_mm"):
        value = setup[key]
        assert isinstance(value, float | int)
        yield abs(value)
    for reading in readings:
        yield from (reading["calipers_show_mm"], reading["leave_alone_within_mm"])


def test_the_worst_hazard_of_a_card_stands_first(client: Client, bench_id: int) -> None:
    for card in cards_in(shown(client, bench_id)):
        if "Danger:" in card and "Take care:" in card:
            assert card.index("Danger:") < card.index("Take care:")


def test_manuals_and_local_rules_come_first_and_are_told_once(
    client: Client, bench_id: int
) -> None:
    page = text_of(shown(client, bench_id))
    assert page.count("manuals, local rules and your training come before this plan") == 1


def test_a_change_is_told_in_turns_of_the_key(client: Client, bench_id: int, plan: Plan) -> None:
    cards = cards_in(shown(client, bench_id))
    changed = [k for k, setup in enumerate(plan.setups) if setup.change and setup.change.raised]
    assert changed
    assert all("turns of the key" in cards[k] for k in changed)
    assert all(
        f"put in cutter {setup.cutter}" in card
        for card, setup in zip(cards, plan.setups, strict=True)
        if setup.change is None
    )


def test_nothing_is_written_into_the_page_that_its_policy_forbids(
    client: Client, bench_id: int
) -> None:
    page = shown(client, bench_id)
    assert not re.search(r"<style|\sstyle=|\son[a-z]+=|<script(?![^>]*\ssrc=)", page)


# Done


def tick_of(client: Client, bench: int, number: int) -> Sent:
    return form_with(client.get(address(bench)).content, number=str(number)).values


def test_done_is_kept_with_what_was_set_when_and_by_whom(
    client: Client, bench_id: int, plan: Plan
) -> None:
    answer = client.post(f"{address(bench_id)}/done", tick_of(client, bench_id, 2))
    assert answer.headers["Location"] == f"{address(bench_id)}?whole#setup-2"
    (done,) = cuts_done().of(bench_id).values()
    assert done.as_set(plan.setups[1].height.true, plan.setups[1].places.far_edge)
    page = text_of(shown(client, bench_id))
    assert "1 done: go on with setup 1" in page
    assert "Not done after all" in page


def test_a_part_of_the_page_comes_back_where_only_that_was_asked_for(
    client: Client, bench_id: int
) -> None:
    fields = tick_of(client, bench_id, 1)
    answer = client.post(f"{address(bench_id)}/done", fields, headers={"HX-Request": "true"})
    assert answer.headers["HX-Trigger"] == '{"said": "Setup 1 is done."}'
    assert answer.content.decode().startswith("<form")
    fields = form_with(answer.content, number="1").values
    assert fields["done"] == "no"
    client.post(f"{address(bench_id)}/done", fields)
    assert not cuts_done().of(bench_id)


def test_a_form_that_arrives_again_does_not_undo_what_came_after_it(
    client: Client, bench_id: int
) -> None:
    fields = tick_of(client, bench_id, 1)
    client.post(f"{address(bench_id)}/done", fields)
    client.post(f"{address(bench_id)}/done", {**fields, "done": "no", "submission": KEY})
    client.post(f"{address(bench_id)}/done", fields)
    assert not cuts_done().of(bench_id)


def test_a_setup_that_changed_is_not_done_any_more_and_says_how_it_was(
    client: Client, bench_id: int
) -> None:
    fields = tick_of(client, bench_id, 4)
    cuts_done().tick(bench_id, str(fields["cut"]), 9.5, float(str(fields["fence"])), author="Ann")
    page = shown(client, bench_id)
    card = cards_in(page)[3]
    assert "at other settings: height 9.50 mm, fence" in card
    assert text_of(page).count("0 done") == 1


def test_a_hair_is_no_change(bench_id: int, plan: Plan) -> None:
    setup = plan.setups[0]
    done = cuts_done().tick(
        bench_id,
        cuts_of(plan.setups)[0],
        setup.height.true + 0.004,
        setup.places.far_edge,
        author="",
    )
    assert done.as_set(setup.height.true, setup.places.far_edge)


def test_cuts_that_differ_by_their_height_alone_are_told_apart(plan: Plan) -> None:
    found = cuts_of(plan.setups)
    assert len(set(found)) == len(found) == len(plan.setups)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("number", "one"),
        ("number", ""),
        ("cut", "lid"),
        ("height", "high"),
        ("height", "nan"),
        ("fence", "1e9"),
        ("submission", "!"),
    ],
)
def test_what_no_card_sends_is_refused(
    client: Client, bench_id: int, field: str, value: str
) -> None:
    fields = tick_of(client, bench_id, 1) | {field: value}
    assert client.post(f"{address(bench_id)}/done", fields).status_code == 422
    assert not cuts_done().of(bench_id)


def test_a_piece_that_is_not_there_has_no_setups(client: Client, shop_id: int) -> None:
    assert client.get("/pieces/999/setups").status_code == 404
    fields = {"number": "1", "cut": "0" * 32, "height": "1", "fence": "1", "done": "yes"}
    assert client.post("/pieces/999/setups/done", fields).status_code == 404
    assert client.post(f"/pieces/{shop_id}/setups/done", fields).status_code == 404


# Many joints


def test_a_large_piece_says_first_what_is_being_planned(
    client: Client, bench_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(setups_page, "MANY", 2)
    page = shown(client, bench_id)
    assert "Planning 2 joints of Hall bench" in page
    assert f'hx-get="{address(bench_id)}?part=cards"' in page
    assert "<article" not in page
    part = client.get(f"{address(bench_id)}?part=cards").content.decode()
    assert part.startswith('<div id="cards">')
    assert cards_in(part) == cards_in(client.get(f"{address(bench_id)}?whole").content.decode())
    assert len(cards_in(part)) > 2


# The copy for when there is no connection


def test_the_worker_is_served_from_the_top(client: Client) -> None:
    answer = client.get("/offline.js")
    assert answer.headers["Content-Type"].startswith("text/javascript")
    assert "no-cache" in answer.headers["Cache-Control"]


def test_scripts_reach_for_nothing_elsewhere() -> None:
    web = Path(__file__).parents[2] / "src" / "faywright" / "web"
    scripts = [*web.glob("static/faywright/*.js"), web / "data" / "offline.js"]
    assert len(scripts) > 5
    for script in scripts:
        assert not re.search(r"https?://|\beval\(|innerHTML|new Function", script.read_text())


def test_cards_wait_for_a_plan_without_keeping_others_from_theirs(
    desk: Desk, bench_id: int
) -> None:
    ground = replace(open_piece(bench_id).ground, mark=b"not drawn yet")
    free: list[bool] = []

    def another() -> None:
        free.append(TURN.acquire(blocking=False))
        if free[-1]:
            TURN.release()

    def plan() -> Plan:
        thread = Thread(target=another)
        thread.start()
        thread.join()
        return desk.planner.plan(ground).plan

    assert list(cards(ground, plan, ground.shop.habits.style, {}))
    assert free == [True]
