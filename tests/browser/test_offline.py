"""At a machine without a connection: nothing that was pressed or typed is lost, or done twice."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.conftest import Opening
from tests.browser.pages import AT, JOINT, settled
from tests.browser.served import Served, fetched

SETUPS, TRIAL = f"{AT}/setups", f"{JOINT}/trial"
AWAY = ("net::ERR_", "htmx:sendError", "htmx:afterRequest")
READ = {"stock": "19.00", "groove": "6.29", "tongue": "5.95"}


def trials(served: Served) -> int:
    page = fetched(served.address + TRIAL).decode()
    return len(re.findall(r"<strong>Trial \d+</strong>", page))


def done(served: Served) -> int:
    found = re.search(
        r'<span id="made">(\d+)', fetched(served.address + SETUPS + "?whole").decode()
    )
    assert found is not None
    return int(found[1])


def kept_a_copy(page: Page) -> Page:
    """The same page, once the tablet has a copy of it."""
    expect(page.locator("#offline")).to_contain_text("keeps a copy")
    return settled(page)


def press_done(page: Page, number: int) -> None:
    page.locator(f"#done-{number}").get_by_role("button", name="Done", exact=True).click()
    expect(page.locator("#unsent")).to_contain_text(f"Setup {number} done")


def read_trial(page: Page) -> None:
    for name, digits in READ.items():
        page.locator(f"#field-{name}").fill(digits)
    page.locator("#send").click()
    expect(page.locator("#unsent")).to_contain_text("Trial of back")


def come_back(page: Page) -> None:
    """The connection is there again, and what was kept is sent."""
    page.context.set_offline(False)
    expect(page.locator("#unsent")).to_be_empty(timeout=30_000)


def test_done_is_kept_while_away_and_sent_when_back(fresh: Served, opened: Opening) -> None:
    page = settled(opened(fresh.address + SETUPS, but_for=AWAY))
    page.context.set_offline(True)
    press_done(page, 1)
    expect(page.locator("#said")).to_contain_text("Kept on this tablet")
    assert done(fresh) == 0
    come_back(page)
    expect(page.locator("#done-1")).to_contain_text("Not done after all")
    assert done(fresh) == 1


def test_a_trial_is_kept_while_away_and_remembered_once(fresh: Served, opened: Opening) -> None:
    page = settled(opened(fresh.address + TRIAL, but_for=AWAY))
    page.context.set_offline(True)
    read_trial(page)
    assert trials(fresh) == 0
    come_back(page)
    expect(page.locator("main")).to_contain_text("sent")
    assert trials(fresh) == 1
    page.reload()
    settled(page)
    assert trials(fresh) == 1


def test_what_is_kept_outlives_the_page_and_is_told_on_the_next(
    fresh: Served, opened: Opening
) -> None:
    page = kept_a_copy(opened(fresh.address + SETUPS, but_for=AWAY))
    page.context.set_offline(True)
    press_done(page, 2)
    page.reload()
    expect(page.locator("#unsent")).to_contain_text("Setup 2 done")
    context = page.context
    page.close()
    again = context.new_page()
    again.goto(fresh.address + SETUPS)
    expect(again.locator("#unsent")).to_contain_text("Setup 2 done")
    come_back(again)
    assert done(fresh) == 1


def test_cards_go_on_working_without_a_connection(fresh: Served, opened: Opening) -> None:
    page = kept_a_copy(opened(fresh.address + SETUPS, but_for=AWAY))
    page.context.set_offline(True)
    page.reload()
    page.locator(".turn .next").click()
    expect(page.locator(".turn .at")).to_contain_text("2 of")
    expect(page.locator("#setup-2 .setting").first).to_be_in_viewport()
    page.keyboard.press("ArrowRight")
    expect(page.locator(".turn .at")).to_contain_text("3 of")


def test_a_server_that_was_killed_gets_what_was_kept_once_it_runs_again(
    fresh: Served, opened: Opening
) -> None:
    page = settled(opened(fresh.address + SETUPS, but_for=AWAY))
    fresh.kill()
    press_done(page, 1)
    press_done(page, 3)
    fresh.start()
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#unsent")).to_be_empty(timeout=30_000)
    assert done(fresh) == 2


def test_what_arrived_though_its_answer_was_lost_is_not_done_twice(
    fresh: Served, opened: Opening
) -> None:
    page = settled(opened(fresh.address + TRIAL, but_for=AWAY))
    page.route(re.compile("/trial$"), lambda route: (route.fetch(), route.abort("failed"))[1])
    read_trial(page)
    assert trials(fresh) == 1
    page.unroute_all()
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#unsent")).to_be_empty(timeout=30_000)
    assert trials(fresh) == 1
