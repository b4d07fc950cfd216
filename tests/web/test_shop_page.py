"""The page of a shop: everything in the shop file can be set and removed there, and is judged."""

from __future__ import annotations

import datetime
import re
import tomllib
from dataclasses import dataclass, field
from typing import Any, Protocol

import pytest
from django.test import Client

from faywright.piece.shop_file import shop_from_text
from faywright.web.desk import Desk
from tests.test_documents_reference import COMMON, SECTIONS, rows
from tests.web.forms_read import PageForm, Sent, form_with
from tests.web.whole_shop import SHOP

FIXED = {"faywright"}
"""Kind of document and its version: no maker changes it."""

TABLES = {"habits", "machine", "cutter", "gauge", "species"}
"""Keys of the top that are tables; they have headings of their own."""


@dataclass(frozen=True)
class Typed:
    """What is typed into a field, what the file has then, and what is refused there."""

    good: str | list[str]
    stored: object
    wrong: str | list[str]
    also: Sent = field(default_factory=dict)


PLACES: dict[str, tuple[str, str, str]] = {
    "The top of a shop file": ("shop", "", ""),
    "`[habits]`": ("habits", "", ""),
    "`[[machine]]`": ("machine", "long table", ""),
    "`fence` of a machine": ("machine", "long table", "fence."),
    COMMON: ("cutter", "S1", ""),
    "A size that decides a fit": ("cutter", "S1", "diameter."),
    '`kind = "straight"`': ("cutter", "S1", ""),
    '`kind = "slot"`': ("cutter", "S2", ""),
    '`kind = "tongue pair"`': ("cutter", "T1", ""),
    '`kind = "v"`': ("cutter", "V1", ""),
    '`kind = "bead"`': ("cutter", "B1", ""),
    '`kind = "dovetail"`': ("cutter", "D1", ""),
    "`[[gauge]]`": ("gauge", "calipers", ""),
    "`[[species]]`": ("species", "Bog oak", ""),
}
"""Table and mark of a thing that has the keys of a heading, and what stands before them."""

INNER = {("long table", "fence"), ("S1", "diameter")}
"""Tables inside things; they have headings of their own, too."""

SIZES = {("S2", "thickness"), ("T1", "tongue"), ("D1", "diameter")}
"""Keys whose value is a size that decides a fit."""

LONG = "x" * 201
TYPED: dict[tuple[str, str], Typed] = {
    ("", "title"): Typed("Cellar shop", "Cellar shop", LONG),
    ("", "units"): Typed("in", "in", "furlong"),
    ("", "style"): Typed("fraction inch", "fraction inch", "cubits", {"places": ""}),
    ("", "places"): Typed("3", 3, "9"),
    ("", "denominator"): Typed("32", 32, "7"),
    ("", "reference"): Typed("axis", "axis", "the middle"),
    ("long table", "mark"): Typed("old table", "old table", LONG),
    ("long table", "speeds_rpm"): Typed("10,000, 12 500; 9000", [10000, 12500, 9000], "8000, fast"),
    ("long table", "rotation"): Typed("clockwise", "clockwise", "sideways"),
    ("long table", "fence_side"): Typed("before the cutter", "before the cutter", "above"),
    ("long table", "lift_pitch"): Typed("1/16 in", "1/16 in", "99"),
    ("long table", "table_opening"): Typed("65", 65, "900"),
    ("long table", "work_lift"): Typed("0.05", 0.05, "5"),
    ("long table", "fence.kind"): Typed("sliding", "sliding", "bent"),
    ("long table", "fence.length"): Typed("3 ft", "3 ft", "-3"),
    ("long table", "fence.height"): Typed("100", 100, "2 m"),
    ("long table", "fence.pivot_to_end"): Typed("750", 750, "none"),
    ("long table", "fence.pivot_to_cutter"): Typed("340", 340, "900"),
    ("S1", "mark"): Typed("S9", "S9", "S2"),
    ("S1", "kind"): Typed("v", "v", "spoon", {"angle_deg": "90", "diameter": "20"}),
    ("S1", "flutes"): Typed("3", 3, "two"),
    ("S1", "reach"): Typed("41.5", 41.5, "0"),
    ("S1", "runout"): Typed("0.01", 0.01, "5"),
    ("S1", "shank"): Typed("1/2 in", "1/2 in", "100"),
    ("S1", "max_speed_rpm"): Typed("24000", 24000, "10"),
    ("S1", "cutting_length"): Typed("25", 25, "200"),
    ("S1", "diameter.marked"): Typed("7.9", 7.9, "no"),
    ("S1", "diameter.measured"): Typed("7,98", "7,98 mm", "12"),
    ("S1", "diameter.how"): Typed("calipers", "calipers", "by eye"),
    ("S1", "diameter.on"): Typed("2026-11-02", datetime.date(2026, 11, 2), "yesterday"),
    ("S2", "thickness"): Typed("6", 6, "thin"),
    ("S2", "diameter"): Typed("48", 48, "a"),
    ("S2", "slot_depth"): Typed("11", 11, "40"),
    ("T1", "tongue"): Typed("6.2", 6.2, "thick"),
    ("T1", "diameter"): Typed("44", 44, "10"),
    ("T1", "wing"): Typed("8", 8, "60"),
    ("T1", "tongue_length"): Typed("9", 9, "30"),
    ("V1", "diameter"): Typed("15", 15, "400"),
    ("V1", "angle_deg"): Typed("60", 60, "2"),
    ("B1", "radius"): Typed("3", 3, "90"),
    ("B1", "point"): Typed("5.5", 5.5, "90"),
    ("D1", "diameter"): Typed("12.7", 12.7, "3/4"),
    ("D1", "height"): Typed("11", 11, "0"),
    ("D1", "angle_deg"): Typed("7,5", 7.5, "80"),
    ("calipers", "mark"): Typed("long calipers", "long calipers", "height gauge"),
    ("calipers", "uses"): Typed(["height", "thickness"], ["height", "thickness"], ["weight"]),
    ("calipers", "resolution"): Typed("0.02", 0.02, "9"),
    ("calipers", "repeatability"): Typed("0.03", 0.03, "9"),
    ("calipers", "zero_error"): Typed("-0.02", -0.02, "9"),
    ("Bog oak", "name"): Typed("Fen oak", "Fen oak", LONG),
    ("Bog oak", "group"): Typed("imported", "imported", "rock"),
    ("Bog oak", "like"): Typed("red oak", "red oak", "oak"),
    ("Bog oak", "botanical"): Typed("Quercus", "Quercus", LONG),
    ("Bog oak", "c_radial"): Typed("0.0018", 0.0018, "0.18"),
    ("Bog oak", "c_tangential"): Typed("0,0036", 0.0036, "0.0001"),
    ("Bog oak", "shrink_radial"): Typed("5.6", 5.6, "56"),
    ("Bog oak", "shrink_tangential"): Typed("10.5", 10.5, "105"),
    ("Bog oak", "sg_green"): Typed("0.6", 0.6, "6"),
    ("Bog oak", "sg_12"): Typed("0.7", 0.7, "7"),
    ("Bog oak", "mor"): Typed("101", 101, "1"),
    ("Bog oak", "moe"): Typed("11500", 11500, "11.5"),
    ("Bog oak", "compression_perp"): Typed("8", 8, "800"),
    ("Bog oak", "shear_par"): Typed("12", 12, "much"),
    ("Bog oak", "tension_perp"): Typed("5.5", 5.5, "55"),
    ("Bog oak", "hardness"): Typed("6100", 6100, "6"),
}


def documented() -> list[tuple[str, str, str, bool]]:
    """Table, mark and field of every key in the reference, and whether it may be left out."""
    found = []
    for heading, (table, mark, before) in PLACES.items():
        for key, left_out in rows(heading).items():
            if key not in FIXED | TABLES and (mark, f"{before}{key}") not in INNER:
                found.append((table, mark, f"{before}{key}", left_out.strip() != "needed"))
    return found


KEYS = documented()
EACH = pytest.mark.parametrize(("table", "mark", "key"), [key[:3] for key in KEYS])


@pytest.fixture(name="shop")
def _shop(empty_desk: Desk) -> int:
    documents = empty_desk.store.documents
    return documents.begin("shop", SHOP, title="Ropewalk shop", what="begun").id


@pytest.fixture(name="browser")
def _browser(shop: int) -> Client:  # noqa: ARG001 - there is a shop to look at
    return Client(headers={"host": "localhost"})


class Page(Protocol):
    """An answer with a page in it."""

    @property
    def content(self) -> bytes:
        """The page."""


def text(desk: Desk, shop: int) -> str:
    return desk.store.documents.sheet(shop).revision.text


def form(page: Page, table: str, mark: str) -> PageForm:
    """The form of a thing on a page of the shop."""
    return form_with(page.content, table=table, thing=mark)


def name_of(mark: str, key: str) -> str:
    """The name of the field of a key; a size is typed as it is marked."""
    return f"{key}.marked" if (mark, key) in SIZES else key


def send(client: Client, shop: int, table: str, mark: str, typed: Sent, **headers: str) -> Any:
    """Type into the form of a thing and send it, with all else as the page showed it."""
    there = form(client.get(f"/shop/{shop}"), table, mark)
    data = {**there.values, "do": "save", **typed}
    return client.post(f"/shop/{shop}/change", data, headers=headers)


def stored(shop_text: str, table: str, mark: str, key: str) -> object:
    """What a shop file has of a key."""
    tables = tomllib.loads(shop_text)
    if table == "shop":
        return tables.get(key)
    found: Any = tables[table]
    if isinstance(found, list):
        found = next(each for each in found if mark in (each.get("mark"), each.get("name")))
    for step in key.split("."):
        found = found.get(step) if isinstance(found, dict) else None
    return found


def test_every_key_of_the_reference_is_tried() -> None:
    headings = [heading for heading in SECTIONS if heading in PLACES] + [COMMON]
    assert set(headings) == set(PLACES)
    assert {(mark, key) for _, mark, key, _ in KEYS} == set(TYPED)


@EACH
def test_a_key_is_set_as_it_was_typed_and_nothing_else_is_changed(
    browser: Client, empty_desk: Desk, shop: int, table: str, mark: str, key: str
) -> None:
    typed = TYPED[mark, key]
    before = text(empty_desk, shop)
    answer = send(browser, shop, table, mark, {name_of(mark, key): typed.good, **typed.also})
    assert answer.status_code == 303, answer.content.decode()
    after = text(empty_desk, shop)
    named = str(typed.stored) if key in {"mark", "name"} else mark
    now = stored(after, table, named, key)
    assert (now["marked"] if isinstance(now, dict) else now) == typed.stored
    assert "# kept where it stands" in after
    shop_from_text(after, file="shop")
    changed = set(before.splitlines()) ^ set(after.splitlines())
    assert key in {"kind", "units", "style"} or len(changed) <= 2


@pytest.mark.parametrize(("table", "mark", "key", "optional"), KEYS)
def test_a_key_that_may_be_left_out_is_removed_and_a_needed_one_is_asked_for(
    browser: Client, empty_desk: Desk, shop: int, table: str, mark: str, key: str, optional: bool
) -> None:
    before = text(empty_desk, shop)
    also: Sent = {"fence.kind": ""} if key.startswith("fence.pivot") else {}
    also |= {"places": ""} if key == "style" else {}
    answer = send(browser, shop, table, mark, {name_of(mark, key): "", **also})
    if optional:
        assert answer.status_code == 303, answer.content.decode()
        assert stored(text(empty_desk, shop), table, mark, key) is None
    else:
        assert answer.status_code == 422
        assert form(answer, table, mark).invalid == {name_of(mark, key)}
        assert text(empty_desk, shop) == before


@EACH
def test_what_cannot_be_is_told_beside_its_field_and_nothing_that_was_typed_is_lost(
    browser: Client, empty_desk: Desk, shop: int, table: str, mark: str, key: str
) -> None:
    name, wrong = name_of(mark, key), TYPED[mark, key].wrong
    before = text(empty_desk, shop)
    answer = send(browser, shop, table, mark, {name: wrong})
    assert answer.status_code == 422
    again = form(answer, table, mark)
    assert again.invalid == {name}
    assert again.values[name] == wrong or name in CHOSEN
    assert text(empty_desk, shop) == before


CHOSEN = {
    *("units", "style", "reference", "rotation", "fence_side", "fence.kind", "kind", "group"),
    *("diameter.how", "uses"),
}
"""Fields in which a browser offers what can be, and nothing else."""


def test_a_form_that_was_left_alone_writes_no_revision(
    browser: Client, empty_desk: Desk, shop: int
) -> None:
    for table, mark in (("machine", "long table"), ("cutter", "S1"), ("habits", "")):
        assert send(browser, shop, table, mark, {}).status_code == 303
    assert len(empty_desk.store.documents.history(shop)) == 1


@pytest.mark.parametrize("units", ["decimal inch", "fraction inch"])
def test_looking_in_inches_stores_nothing_in_inches_but_what_is_typed_so(
    browser: Client, empty_desk: Desk, shop: int, units: str
) -> None:
    browser.cookies["units"] = units
    assert send(browser, shop, "cutter", "S1", {"reach": "1.5"}).status_code == 303
    after = text(empty_desk, shop)
    assert stored(after, "cutter", "S1", "reach") == "1.5 in"
    assert stored(after, "cutter", "S1", "cutting_length") == 22


def test_another_unit_leaves_every_length_as_long_as_it_was(
    browser: Client, empty_desk: Desk, shop: int
) -> None:
    before = shop_from_text(text(empty_desk, shop), file="shop")
    send(browser, shop, "shop", "", {"units": "in"})
    after = shop_from_text(text(empty_desk, shop), file="shop")
    assert (after.machines, after.cutters, after.gauges) == (
        before.machines,
        before.cutters,
        before.gauges,
    )


# Adding and removing


NEW: dict[str, Sent] = {
    "machine": {"mark": "spindle", "speeds_rpm": "3000, 4500"},
    "gauge": {"mark": "dial", "uses": ["height"], "resolution": "0.01", "repeatability": "0.01"},
    "species": {"name": "Pear", "group": "hardwood", "c_radial": "0.0015", "c_tangential": "0.003"},
}
COMMON_TYPED: Sent = {"mark": "N1", "reach": "30", "flutes": "2"}
NEW_CUTTERS: dict[str, Sent] = {
    "straight": {"diameter.marked": "6", "cutting_length": "20"},
    "slot": {"thickness.marked": "4", "diameter": "45", "slot_depth": "10"},
    "tongue pair": {"tongue.marked": "6", "diameter": "42", "wing": "7", "tongue_length": "9"},
    "v": {"diameter": "16", "angle_deg": "90"},
    "bead": {"radius": "4", "point": "5"},
    "dovetail": {"diameter.marked": "14", "height": "12", "angle_deg": "7"},
}
ADDED = [
    *((table, table, typed) for table, typed in NEW.items()),
    *((kind, "cutter", COMMON_TYPED | typed) for kind, typed in NEW_CUTTERS.items()),
]


@pytest.mark.parametrize(("add", "table", "typed"), ADDED)
def test_a_thing_is_added_and_removed_again(
    browser: Client, empty_desk: Desk, shop: int, add: str, table: str, typed: Sent
) -> None:
    new = form_with(browser.get(f"/shop/{shop}", {"add": add}).content, table=table, do="add")
    assert set(typed) <= new.names
    answer = browser.post(f"/shop/{shop}/change", {**new.values, **typed})
    assert answer.status_code == 303, answer.content.decode()
    mark = str(typed.get("mark", typed.get("name")))
    assert mark in text(empty_desk, shop)
    page = browser.get(f"/shop/{shop}")
    away = form_with(page.content, table=table, thing=mark).values | {"do": "remove"}
    assert browser.post(f"/shop/{shop}/change", away).status_code == 303
    assert tomllib.loads(text(empty_desk, shop)) == tomllib.loads(SHOP)


@pytest.mark.parametrize(("add", "table", "typed"), ADDED)
def test_a_new_thing_without_its_mark_is_shown_again_as_it_was_typed(
    browser: Client, empty_desk: Desk, shop: int, add: str, table: str, typed: Sent
) -> None:
    name = "name" if table == "species" else "mark"
    new = form_with(browser.get(f"/shop/{shop}", {"add": add}).content, table=table, do="add")
    answer = browser.post(f"/shop/{shop}/change", {**new.values, **typed, name: ""})
    assert answer.status_code == 422
    again = form_with(answer.content, table=table, do="add")
    assert again.invalid == {name}
    assert {key: again.values[key] for key in typed if key != name} == {
        key: value for key, value in typed.items() if key != name
    }
    assert text(empty_desk, shop) == SHOP


def test_the_last_machine_stays(browser: Client, empty_desk: Desk, shop: int) -> None:
    for mark in ("small table", "long table"):
        sent = form_with(browser.get(f"/shop/{shop}").content, table="machine", thing=mark).values
        answer = browser.post(f"/shop/{shop}/change", {**sent, "do": "remove"})
    assert answer.status_code == 422
    assert "no machine listed" in answer.content.decode().lower()
    assert len(tomllib.loads(text(empty_desk, shop))["machine"]) == 1


def test_a_fence_of_which_nothing_is_said_any_more_is_no_table(
    browser: Client, empty_desk: Desk, shop: int
) -> None:
    keys = ("kind", "length", "height", "pivot_to_end", "pivot_to_cutter")
    send(browser, shop, "machine", "long table", {f"fence.{key}": "" for key in keys})
    assert stored(text(empty_desk, shop), "machine", "long table", "fence") is None


def test_a_size_alone_becomes_a_table_with_its_measurement(
    browser: Client, empty_desk: Desk, shop: int
) -> None:
    send(browser, shop, "cutter", "S2", {"thickness.measured": "6.3"})
    assert stored(text(empty_desk, shop), "cutter", "S2", "thickness") == {
        "marked": "1/4 in",
        "measured": 6.3,
    }


# Others at the same shop


def test_a_change_of_another_field_is_put_on_top_and_said(
    browser: Client, empty_desk: Desk, shop: int
) -> None:
    old = form(browser.get(f"/shop/{shop}"), "cutter", "S1").values
    send(browser, shop, "cutter", "S1", {"flutes": "4"})
    answer = browser.post(
        f"/shop/{shop}/change", {**old, "reach": "33", "do": "save"}, headers={"HX-Request": "true"}
    )
    assert answer.status_code == 200
    assert "flutes" in answer.headers["HX-Trigger"]
    after = text(empty_desk, shop)
    assert [stored(after, "cutter", "S1", key) for key in ("flutes", "reach")] == [4, 33]


@pytest.mark.parametrize(("choice", "kept"), [({}, 33), ({"theirs": "reach"}, 44)])
def test_a_change_of_the_same_field_shows_both_and_lets_one_choose(
    browser: Client, empty_desk: Desk, shop: int, choice: Sent, kept: int
) -> None:
    old = form(browser.get(f"/shop/{shop}"), "cutter", "S1").values
    send(browser, shop, "cutter", "S1", {"reach": "44"})
    mine = {**old, "reach": "33", "flutes": "5", "do": "save"}
    answer = browser.post(f"/shop/{shop}/change", mine)
    assert answer.status_code == 409
    assert "put 44 here meanwhile; yours is 33" in answer.content.decode()
    both = form(answer, "cutter", "S1")
    again = browser.post(f"/shop/{shop}/change", {**both.values, "do": "save", **choice})
    assert again.status_code == 303
    after = text(empty_desk, shop)
    assert [stored(after, "cutter", "S1", key) for key in ("reach", "flutes")] == [kept, 5]


def test_a_thing_that_someone_removed_is_missing(browser: Client, shop: int) -> None:
    old = form(browser.get(f"/shop/{shop}"), "cutter", "V1").values
    browser.post(f"/shop/{shop}/change", {**old, "do": "remove"})
    assert browser.post(f"/shop/{shop}/change", {**old, "reach": "20"}).status_code == 404


# What stands around the things


def test_a_figure_to_be_doubted_is_asked_about_beside_its_cutter(
    browser: Client, shop: int
) -> None:
    page = browser.get(f"/shop/{shop}").content.decode()
    card = page[page.index('id="cutter-2"') : page.index('id="cutter-3"')]
    assert "Look again: its thickness is marked 6.35 mm, and was not measured" in card


def test_the_shop_file_is_given_as_it_is(browser: Client, shop: int) -> None:
    answer = browser.get(f"/shop/{shop}/shop.toml")
    assert answer.content.decode() == SHOP
    assert answer.headers["Content-Disposition"] == 'attachment; filename="ropewalk-shop.toml"'


def test_an_undone_change_is_as_it_was(browser: Client, empty_desk: Desk, shop: int) -> None:
    send(browser, shop, "cutter", "S1", {"reach": "44"})
    browser.post(f"/shop/{shop}/undo", {"base": "2"})
    assert text(empty_desk, shop) == SHOP


@pytest.mark.parametrize("path", ["", "/change", "/drift", "/shop.toml"])
def test_no_piece_is_taken_for_a_shop(client: Client, bench_id: int, path: str) -> None:
    ask = client.post if path == "/change" else client.get
    assert ask(f"/shop/{bench_id}{path}").status_code == 404


def test_boards_of_every_piece_are_listed_with_a_way_to_them(
    client: Client, shop_id: int, bench_id: int
) -> None:
    page = client.get(f"/shop/{shop_id}").content.decode()
    assert f'href="/pieces/{bench_id}/boards"' in page
    assert re.search(r"B01</th><td>back board</td><td>120.80 mm by 620.00 mm</td>", page)
