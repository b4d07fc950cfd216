"""A whole job, from an empty shop to a corrected setting: the door of a small wall cupboard."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Mapping
from pathlib import Path

from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader
from typer.testing import CliRunner

from faywright.app.bench import informed_plan
from faywright.cli import app
from faywright.lengths import LengthStyle
from faywright.piece.opened import open_documents
from faywright.piece.plan import Plan
from faywright.piece.words import writer
from tests.browser.conftest import Opening
from tests.browser.pages import settled
from tests.browser.served import Served

CUTTERS = (
    ("straight", {"Mark": "small", "Diameter, as marked": "6.35", "Diameter, as measured": "6.33"}),
    (
        "straight",
        {"Mark": "large", "Diameter, as marked": "12.7", "Diameter, as measured": "12.66"},
    ),
)
EDGE = {"Length of its edge": "25", "Reach": "42"}
GAUGES = (
    (("thickness",), {"Mark": "calipers"}),
    (("height", "fence"), {"Mark": "depth gauge"}),
)
READINGS = (18.21, 18.24, 18.19, 18.02, 18.06, 18.03, 18.33, 18.30, 18.35, 18.11, 18.14, 18.10)


def labelled(page: Page, label: str) -> Locator:
    """What can be seen under a label, whatever its unit is."""
    return page.get_by_label(re.compile(rf"^\s*{re.escape(label)}( \[|$)")).locator("visible=true")


def fill(page: Page, typed: Mapping[str, str]) -> None:
    for label, value in typed.items():
        labelled(page, label).fill(value)


def begin_shop(page: Page) -> None:
    page.get_by_role("link", name="Begin a shop").click()
    fill(page, {"Name of the shop": "Towpath shop", "What you call your first machine": "table"})
    fill(page, {"Its speeds": "12000, 16000, 20000"})
    page.get_by_role("button", name="Begin the shop").click()
    for kind, typed in CUTTERS:
        page.get_by_role("link", name=f"Add {kind} cutter").click()
        fill(page, {**typed, **EDGE, "Flutes": "2"})
        page.get_by_role("button", name="Add it").click()
    for use, typed in GAUGES:
        page.get_by_role("link", name="Add gauge").click()
        fill(page, {**typed, "Smallest step it shows": "0.01", "Scatter": "0.02"})
        for each in use:
            labelled(page, each).check()
        page.get_by_role("button", name="Add it").click()


def begin_piece(page: Page) -> None:
    page.get_by_role("link", name="Pieces", exact=True).click()
    page.get_by_role("link", name="Begin a piece").click()
    fill(page, {"Title": "Cupboard door"})
    page.get_by_role("button", name="Begin it").click()
    page.locator("summary", has_text="Add a part").click()
    form = page.locator("#new-part")
    form.get_by_label("Name").fill("door board")
    form.get_by_role("button", name="Add a part").click()
    expect(page.locator("summary", has_text="door board")).to_be_visible()


def paste_boards(page: Page) -> None:
    page.get_by_role("link", name="Boards", exact=True).click()
    page.get_by_label("Readings, or a list").fill("\n".join(map(str, READINGS)))
    fill(page, {"Width of each": "95", "Length of each": "520"})
    fill(page, {"Mark of the first, to number on from": "K1"})
    page.get_by_role("button", name="Show how it is understood").click()
    page.get_by_role("button", name=re.compile("^Keep.* 4 boards")).click()
    expect(page.get_by_role("rowheader", name="K4")).to_be_visible()


def make_joint(page: Page) -> None:
    page.get_by_role("link", name="Back to Cupboard door").click()
    page.get_by_role("link", name="Add a joint").click()
    fill(page, {"Name": "door"})
    page.get_by_role("button", name="Make the joint").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("door")
    expect(page.locator(".verdict").first).to_contain_text("4 of 4 pieces fit")
    settled(page)


def deepen(page: Page) -> None:
    """Another depth changes drawing and gaps while it is typed, and the figures when kept."""
    drawing, gaps = page.locator(".fits"), page.get_by_role("region", name="Gaps")
    before = drawing.inner_html()
    depth = page.get_by_label(re.compile("^Groove depth"))
    depth.press_sequentially("9.5")
    expect(page.locator("#live")).to_contain_text("Not kept yet")
    assert drawing.inner_html() != before
    was = gaps.inner_text()
    fill(page, {"Bottom gap": "1.5"})
    page.keyboard.press("Tab")
    expect(gaps).to_contain_text("1.50 mm")
    assert gaps.inner_text() != was
    settled(page)
    expect(page.locator("#live")).not_to_contain_text("Not kept yet")


def tick_first(page: Page) -> None:
    page.get_by_role("link", name="Setups", exact=True).click()
    first = page.locator("#setup-1")
    first.get_by_role("button", name="Done").click()
    expect(first).to_contain_text("Not done after all")
    expect(page.locator("#made")).to_have_text("1")


def try_cut(page: Page, wide_by: float) -> dict[str, str]:
    """Readings as calipers type them; the groove comes out wider than it should by so much. [mm]"""
    page.get_by_role("link", name="Try this cut").first.click()
    typed = {}
    for field in page.locator("form.readings > .reading").all():
        hint = re.search(r"(\d+\.\d+) mm", field.locator(".quiet").inner_text())
        assert hint is not None
        name = field.locator("input[data-reading]").get_attribute("name") or ""
        typed[name] = f"{float(hint[1]) + (wide_by if name == 'groove' else 0):.2f}"
    page.locator("input[data-reading]").first.focus()
    for digits in typed.values():
        page.keyboard.type(digits)
        page.keyboard.press("Enter")
    expect(page.locator("#send")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator(".answer")).to_contain_text("Remembered as trial 1")
    return typed


def numbers_on(page: Page) -> list[str]:
    """What is to be set, card after card, without units."""
    found: list[str] = page.locator(".number .setting").all_text_contents()
    return [each.split()[0] for each in found]


def numbers_in(plan: Plan) -> list[str]:
    write = writer(LengthStyle("mm"))
    found = []
    for setup in plan.setups:
        edge = setup.reference(plan.shop.habits.reference)
        fence = {"far edge": setup.places.far_edge, "near edge": setup.places.near_edge}
        found += [write(setup.height.true), write(fence.get(edge, setup.places.axis))]
    return [each.split()[0] for each in found]


def downloaded(page: Page, link: str, to: Path) -> Path:
    with page.expect_download() as waiting:
        page.get_by_role("link", name=link).click()
    waiting.value.save_as(to)
    return to


def planned(piece: Path, store: str | None) -> Plan:
    """The same by the library."""
    read = open_documents(piece)
    today = datetime.datetime.now(datetime.UTC).date()
    return informed_plan(read.piece, read.shop, store, today=today).plan


def test_a_maker_goes_from_an_empty_shop_to_a_corrected_setting(
    empty: Served, opened: Opening, tmp_path: Path
) -> None:
    page = opened(empty.address)
    begin_shop(page)
    begin_piece(page)
    paste_boards(page)
    make_joint(page)
    deepen(page)
    tick_first(page)
    before = numbers_on(page)
    setups = page.url
    try_cut(page, wide_by=0.06)
    move = page.locator(".answer .setting").first.inner_text()
    assert re.match(r"(Raise|Lower|Move)", move), move
    page.locator(".answer").get_by_role("link", name=re.compile("setups|Setups")).click()
    after = numbers_on(page)
    assert after != before

    page.goto(setups.replace("/setups", ""))
    piece = downloaded(page, "Piece file", tmp_path / "piece.toml")
    page.goto(empty.address + "/shop/1")
    downloaded(page, "Shop file", tmp_path / "shop.toml")
    assert numbers_in(planned(piece, None)) == before
    learned = planned(piece, str(empty.store))
    assert numbers_in(learned) == after

    check_packet(page, setups, learned)
    check_command_line(piece, tmp_path / "out")
    check_archive(page, empty, tmp_path)


def check_packet(page: Page, setups: str, plan: Plan) -> None:
    """It opens, and has a sheet for every setup that leaves what the joint has."""
    page.goto(setups.replace("/setups", "/packet"))
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Make the packet").click()
    read = PdfReader(io.BytesIO(Path(waiting.value.path()).read_bytes()))
    text = " ".join(each.extract_text() for each in read.pages)
    assert "Cupboard door" in text
    for setup in plan.setups:
        if setup.final:
            assert re.search(rf"Setup (\d+ to )?{setup.number}\b", text)
            assert writer(LengthStyle("mm"))(setup.height.true) in text


def check_command_line(piece: Path, out: Path) -> None:
    ran = CliRunner().invoke(app, ["plan", str(piece), "-o", str(out)])
    assert ran.exit_code == 0, ran.output
    assert (out / "packet.pdf").is_file()


def check_archive(page: Page, served: Served, folder: Path) -> None:
    page.goto(served.address)
    archive = downloaded(page, "Archive of the whole shop", folder / "shop.zip")
    page.goto(served.address + "/take-in")
    page.get_by_label("Files").set_input_files(archive)
    page.get_by_role("button", name="Take in").click()
    expect(page.locator("main")).to_contain_text("0 new, 2 here already")
