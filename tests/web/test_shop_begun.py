"""Beginning from nothing, and what trial cuts taught of a shop, on its pages."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from html import unescape

import pytest
from django.test import Client

from faywright.app.bench import informed_plan
from faywright.app.records import FeelRecord
from faywright.app.trial_cut import tried
from faywright.app.trial_records import record_of
from faywright.lengths import LengthStyle
from faywright.piece.shop_file import shop_from_text
from faywright.piece.words import writer
from faywright.web.desk import Desk
from tests.app.hidden import C1, HEIGHT, Hidden, chest, shop
from tests.web.forms_read import form_with, forms_of

BEGUN = {"title": "Barn", "units": "in", "machine.mark": "table", "machine.speeds_rpm": "18,000"}


@pytest.fixture(name="browser")
def _browser(empty_desk: Desk) -> Client:  # noqa: ARG001 - the desk must be open
    return Client(headers={"host": "localhost"})


def said(client: Client, path: str) -> str:
    return unescape(client.get(path, follow=True).content.decode())


def test_an_empty_store_begins_with_the_shop(browser: Client) -> None:
    page = said(browser, "/shop")
    assert "First the shop, then a piece" in page
    assert 'href="/take-in"' in page


def test_a_shop_is_begun_with_its_first_machine_and_says_what_comes_next(
    browser: Client, empty_desk: Desk
) -> None:
    answer = browser.post("/shop/new", BEGUN)
    number = empty_desk.store.documents.listed("shop")[0].id
    assert answer.headers["Location"] == f"/shop/{number}"
    begun = shop_from_text(empty_desk.store.documents.sheet(number).revision.text, file="shop")
    assert (begun.title, begun.machines[0].speeds_rpm) == ("Barn", (18000,))
    assert begun.habits.style.style == "decimal inch"
    page = said(browser, "/shop")
    assert "Next: list the cutters" in page
    assert 'href="/pieces/new"' in page


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("title", ""),
        ("title", "x" * 201),
        ("units", "furlong"),
        ("machine.mark", ""),
        ("machine.speeds_rpm", ""),
        ("machine.speeds_rpm", "fast"),
        ("machine.speeds_rpm", "0"),
    ],
)
def test_what_no_shop_can_be_is_told_beside_its_field(
    browser: Client, empty_desk: Desk, name: str, wrong: str
) -> None:
    answer = browser.post("/shop/new", BEGUN | {name: wrong})
    assert answer.status_code == 422
    (form,) = (each for each in forms_of(answer.content) if each.action == "/shop/new")
    assert form.invalid == {name}
    kept = {key: text for key, text in (BEGUN | {name: wrong}).items() if key != "units"}
    assert {key: form.values[key] for key in kept} == kept
    assert empty_desk.store.documents.listed("shop") == ()


def test_two_shops_are_not_called_the_same_for_trials_are_kept_by_the_name(
    browser: Client, empty_desk: Desk
) -> None:
    browser.post("/shop/new", BEGUN)
    assert browser.post("/shop/new", BEGUN).status_code == 422
    browser.post("/shop/new", BEGUN | {"title": "Loft"})
    assert "Loft" in said(browser, "/shop")
    loft = empty_desk.store.documents.listed("shop")[0].id
    sent = form_with(browser.get(f"/shop/{loft}").content, table="shop").values
    answer = browser.post(f"/shop/{loft}/change", {**sent, "title": "Barn"})
    assert answer.status_code == 422
    assert form_with(answer.content, table="shop").invalid == {"title"}


def test_a_discarded_shop_is_brought_back(browser: Client, empty_desk: Desk) -> None:
    browser.post("/shop/new", BEGUN)
    number = empty_desk.store.documents.listed("shop")[0].id
    browser.post(f"/shop/{number}/discard")
    assert f'action="/shop/{number}/bring-back"' in said(browser, "/shop")
    browser.post(f"/shop/{number}/bring-back")
    assert "<h1>Barn</h1>" in said(browser, "/shop")


# What trials taught


@pytest.fixture(name="tried_shop")
def _tried_shop(desk: Desk, shop_id: int) -> int:
    """The demo's shop after two trial cuts, the second 140 m later."""
    for metres, ago in ((0.0, 9), (140.0, 2)):
        at = datetime.now(UTC) - timedelta(days=ago)
        now = informed_plan(chest(), shop(), desk.given, today=at.date())
        measured = Hidden({HEIGHT: 0.06, C1: -0.04}).measured(now.plan, now.known)
        outcome = tried(now.plan, now.known, measured, writer(LengthStyle("mm")))
        desk.store.add_trial(record_of(outcome, now.known, now.plan, at, metres=metres))
    return shop_id


def card(page: str, number: int) -> str:
    return page[page.index(f'id="cutter-{number}"') :].partition("<details")[0]


def test_what_trials_found_stands_beside_each_thing(client: Client, tried_shop: int) -> None:
    page = said(client, f"/shop/{tried_shop}")
    found = card(page, 1)
    assert "Trial cuts found cutter C1: 0.0" in found
    assert "it cuts 6.2" in found
    assert "9 times in 10 from" in found
    assert "by 2 trials; it has cut 140 m since new or sharpened" in found
    assert "Trial cuts found" not in card(page, 2)
    assert "Trial cuts found height by the depth gauge" in page


def test_a_trial_is_forgotten_and_stays_listed(client: Client, desk: Desk, tried_shop: int) -> None:
    page = client.get(f"/shop/{tried_shop}").content
    sent = form_with(page, trial="1").values
    assert client.post(f"/shop/{tried_shop}/forget", sent).status_code == 303
    after = said(client, f"/shop/{tried_shop}")
    assert "by 1 trial" in card(after, 1)
    assert '<th scope="row">1</th><td>forgotten</td>' in after
    assert len(desk.store.trials()) == 1


def test_a_sharpened_cutter_cuts_what_was_measured_since(client: Client, tried_shop: int) -> None:
    sent = {"thing": "C1", "cuts": "6.20"}
    assert client.post(f"/shop/{tried_shop}/sharpened", sent).status_code == 303
    found = card(said(client, f"/shop/{tried_shop}"), 1)
    assert "0.090 mm less than listed" in found
    assert "as measured anew" in found


@pytest.mark.parametrize("cuts", ["thin", "9"])
def test_a_sharpened_size_that_cannot_be_is_told_beside_its_field(
    client: Client, desk: Desk, tried_shop: int, cuts: str
) -> None:
    answer = client.post(f"/shop/{tried_shop}/sharpened", {"thing": "C1", "cuts": cuts})
    assert answer.status_code == 422
    assert form_with(answer.content, thing="C1", cuts=cuts).invalid == {"cuts"}
    assert desk.store.sharpenings("Lean-to shop") == ()


def test_how_joints_felt_is_told(client: Client, desk: Desk, tried_shop: int) -> None:
    felt = FeelRecord(
        shop="Lean-to shop",
        timber="softwood",
        word="hand push",
        mean=0.1,
        sd=0.03,
        at=datetime.now(UTC),
        trial=1,
    )
    desk.store.add_feel(felt)
    assert "softwood: 1 of the 3 reports" in said(client, f"/shop/{tried_shop}")


def test_the_chart_of_drift_has_its_figures_as_a_table(client: Client, tried_shop: int) -> None:
    page = said(client, f"/shop/{tried_shop}/drift")
    assert "<svg" in page
    assert "<caption>Cutter C1; above nought: more than listed</caption>" in page
    assert page.count('<th scope="row">trial 2 on') == page.count("<caption>")


def test_without_trials_drift_says_what_it_will_show(client: Client, shop_id: int) -> None:
    assert "Nothing has been learned yet" in said(client, f"/shop/{shop_id}/drift")
