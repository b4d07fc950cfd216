"""Nonsense typed into every field of every form: told, kept on the page, and never stored."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Opening
from tests.browser.pages import AT, JOINT, PAGES, SHOP_AT, settled
from tests.browser.served import SHOP, Served, fetched

NONSENSE = ("abc", "1e999", "<b>3", "\N{WOOD}", "z" * 5000, "7\0", "nan", "-", "3 furlongs")
REFUSED = ("status of 404", "status of 409", "status of 422")
SENT = """async ([nonsense, every, words, wordy]) => {
  const holdsWords = each => words.includes(each.name) ||
    each.form.elements.kind?.value === 'text';
  const typed = each => each.name && holdsWords(each) === wordy && (
    each.localName === 'textarea' ||
    (each.localName === 'input' && ['text', 'date', 'number'].includes(each.type)));
  const told = page => [...page.querySelectorAll('.fault, [role=alert]')]
    .map(each => each.textContent.trim()).find(each => each) ?? '';
  const found = [];
  let turn = 0;
  for (const form of document.forms) {
    for (const field of [...form.elements].filter(typed)) {
      const chosen = every ? nonsense : [nonsense[turn % nonsense.length]];
      turn += 1;
      for (const text of chosen) {
        const body = new FormData(form, form.querySelector('button:not([type=button])'));
        for (const each of [...form.elements].filter(each => each.type === 'file'))
          body.delete(each.name);
        body.set(field.name, text);
        const values = new URLSearchParams(body);
        const answer = form.method === 'get' ? await fetch(`${form.action}?${values}`)
          : await fetch(form.action, {method: 'post', redirect: 'manual',
              body: form.enctype === 'multipart/form-data' ? body : values});
        const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
        const again = [...page.querySelectorAll(`[name="${CSS.escape(field.name)}"]`)];
        found.push({form: form.getAttribute('action'), name: field.name, text,
          status: answer.status, told: told(page),
          kept: again.some(each => each.value.trim() === text.replace('\\0', '\\ufffd').trim())});
      }
    }
  }
  return found;
}"""

KINDS = """() => [...document.querySelectorAll('input:not([type=hidden]), textarea')]
  .filter(each => each.form && each.form.method !== 'get')
  .map(each => new URL(each.form.action).pathname.replace(/[0-9]+/g, 'N'))"""
"""Where forms with something to type in are sent."""

WORDS = (
    *("title", "name", "mark", "species", "note", "botanical", "like", "fit.name"),
    *("machine.mark", "climate.season.0.name", "climate.season.1.name"),
)
"""Names of fields into which any words may be typed, or nearly any."""

FORMS = ("piece", "boards-one", "take-in", "joint", "trial", "shop-adding-a-cutter", "new-shop")
"""Pages with all kinds of forms that change something; others have some of the same."""

NAMING = ("new-piece", "new-joint")
"""Pages that have fields for words alone."""

QUESTIONS = ("packet", "timber", "timber-answered")
"""Pages whose forms change nothing: what they ask stands in the address."""


@dataclass(frozen=True)
class Sent:
    """A form that was sent with nonsense in one field, and what came back."""

    form: str
    name: str
    text: str
    status: int
    told: str
    kept: bool


def sent(page: Page, *, words: bool = False, every: bool = False) -> list[Sent]:
    found: list[Any] = page.evaluate(SENT, [NONSENSE, every, WORDS, words])
    return [Sent(**{**each, "text": each["text"][:20]}) for each in found]


def stored(served: Served) -> tuple[bytes, ...]:
    address = served.address
    paths = (
        f"{AT}/piece.toml",
        f"{SHOP_AT}/shop.toml",
        "/api/documents?kind=piece",
        "/api/documents?kind=shop",
        f"/api/shops/{SHOP}/trials",
    )
    return tuple(fetched(address + path) for path in paths)


def all_refused(page: Page, served: Served, *, every: bool = False) -> None:
    before = stored(served)
    found = sent(page, every=every)
    assert found
    for each in found:
        assert each.status == 422, each
        assert each.told, each
        assert each.kept, each
    assert stored(served) == before


@pytest.mark.parametrize("name", FORMS)
def test_nonsense_in_place_of_a_number_is_told_and_changes_nothing(
    served: Served, opened: Opening, name: str
) -> None:
    all_refused(settled(opened(served.address + PAGES[name], but_for=REFUSED)), served)


@pytest.mark.soak
@pytest.mark.parametrize("name", FORMS)
def test_every_nonsense_in_place_of_every_number_is_told(
    served: Served, opened: Opening, name: str
) -> None:
    page = settled(opened(served.address + PAGES[name], but_for=REFUSED))
    all_refused(page, served, every=True)


def test_the_forms_of_other_pages_are_of_those_kinds(served: Served, opened: Opening) -> None:
    page = opened(served.address, but_for=REFUSED)
    kinds: dict[str, set[str]] = {}
    for name, path in PAGES.items():
        page.goto(served.address + path)
        kinds[name] = set(page.evaluate(KINDS))
    known = set().union(*(kinds[name] for name in (*FORMS, *NAMING, *QUESTIONS)))
    assert set().union(*kinds.values()) <= known


@pytest.mark.parametrize("name", QUESTIONS)
def test_nonsense_in_a_question_breaks_nothing(served: Served, opened: Opening, name: str) -> None:
    page = opened(served.address + PAGES[name], but_for=REFUSED)
    for each in (*sent(page, every=True), *sent(page, words=True)):
        assert each.status < 500, each


@pytest.mark.soak
def test_odd_words_break_no_page(fresh: Served, opened: Opening) -> None:
    page = opened(fresh.address, but_for=REFUSED)
    for path in (PAGES[name] for name in (*FORMS, *NAMING)):
        page.goto(fresh.address + path)
        for each in sent(settled(page), words=True):
            assert each.status < 500, each
    for path in PAGES.values():
        answer = page.goto(fresh.address + path)
        assert answer is not None
        assert answer.status < 500, path


def test_what_was_typed_stays_beside_what_is_wrong_with_it(served: Served, opened: Opening) -> None:
    page = settled(opened(served.address + JOINT, but_for=REFUSED))
    depth = page.get_by_label(re.compile("^Groove depth"))
    depth.fill("<b>nine")
    page.keyboard.press("Tab")
    expect(depth).to_have_attribute("aria-invalid", "true")
    expect(depth).to_have_value("<b>nine")
    told = page.locator(f"#{(depth.get_attribute('aria-describedby') or '').split()[-1]}")
    expect(told).to_contain_text("<b>nine")
