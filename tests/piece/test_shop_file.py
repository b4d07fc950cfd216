import datetime
from pathlib import Path

import pytest

from faywright.errors import DocumentError
from faywright.lengths import LengthStyle
from faywright.piece.shop_file import read_shop, shop_from_text
from faywright.shop import (
    BeadCutter,
    CutSize,
    DovetailCutter,
    Fence,
    Gauge,
    Machine,
    Shop,
    SlotCutter,
    StraightCutter,
    TonguePairCutter,
    VCutter,
)
from tests.piece.examples import SHOP

HEAD = 'faywright = "shop 1"\ntitle = "Cellar"\n'
TABLE = '[[machine]]\nmark = "table 1"\nspeeds_rpm = [12000]\n'
DAY = datetime.date(2026, 9, 14)


@pytest.fixture(scope="module")
def shop() -> Shop:
    return shop_from_text(SHOP, file="shop.toml")


def test_every_kind_of_cutter_is_read_with_its_own_sizes(shop: Shop) -> None:
    marked = CutSize(marked=6.35, measured=6.29, how="trial slot", on=DAY)
    slot = CutSize(marked=6, measured=6.05, how="calipers", on=DAY)
    flare = CutSize(marked=12.7, measured=12.66)
    assert shop.cutters == (
        StraightCutter(
            mark="C1",
            diameter=marked,
            cutting_length=19,
            reach=45,
            flutes=2,
            runout=0.02,
            shank=6.35,
            max_speed_rpm=24000,
        ),
        SlotCutter(mark="C2", thickness=slot, diameter=40, slot_depth=12, reach=30, flutes=3),
        TonguePairCutter(
            mark="C3",
            tongue=CutSize(marked=6, measured=5.95),
            diameter=40,
            wing=7,
            tongue_length=9,
            reach=35,
            flutes=2,
        ),
        VCutter(mark="C4", diameter=12.7, angle_deg=90, reach=30, flutes=2),
        BeadCutter(mark="C5", radius=4, point=3, reach=30, flutes=2),
        DovetailCutter(mark="C6", diameter=flare, height=12, angle_deg=14, reach=30, flutes=2),
    )


def test_machine_gauges_and_habits_are_read(shop: Shop) -> None:
    fence = Fence(kind="pivoted", length=900, pivot_to_end=820, pivot_to_cutter=410)
    assert shop.machines == (
        Machine(
            mark="table 1",
            speeds_rpm=(10000, 14000, 18000, 22000),
            fence=fence,
            lift_pitch=1.5,
            table_opening=60,
        ),
    )
    assert shop.gauges[0] == Gauge(
        mark="calipers",
        uses=("thickness",),
        resolution=0.01,
        repeatability=0.02,
        zero_error=-0.01,
    )
    assert shop.habits.style == LengthStyle("mm", places=2)
    assert shop.title == "Lean-to shop"


def test_what_is_left_out_is_as_the_shop_itself_has_it() -> None:
    shop = shop_from_text(HEAD + TABLE, file="shop.toml")
    machine = Machine(mark="table 1", speeds_rpm=(12000,))
    assert shop.machines == (machine,)
    assert shop.habits.reference == Shop(title="", machines=(machine,), cutters=()).habits.reference


def test_a_cutter_says_no_more_than_it_must() -> None:
    cutter = '[[cutter]]\nmark = "C1"\nkind = "straight"\ndiameter = "1/2 in"\n'
    sizes = 'cutting_length = "1-1/4 in"\nreach = 50\nflutes = 2\n'
    shop = shop_from_text(HEAD + TABLE + cutter + sizes, file="shop.toml")
    assert shop.cutters == (
        StraightCutter(
            mark="C1",
            diameter=CutSize(marked=12.7),
            cutting_length=31.75,
            reach=50,
            flutes=2,
        ),
    )


@pytest.mark.parametrize(
    ("units", "style"), [("mm", "mm"), ("cm", "mm"), ("in", "decimal inch"), ("ft", "decimal inch")]
)
def test_lengths_are_shown_as_they_are_written_where_no_habit_says_otherwise(
    units: str, style: str
) -> None:
    shop = shop_from_text(f'{HEAD}units = "{units}"\n{TABLE}', file="shop.toml")
    assert shop.habits.style.style == style


def test_bare_numbers_are_of_the_unit_of_the_file_and_others_of_their_own() -> None:
    cellar = f'{HEAD}units = "cm"\n{TABLE}lift_pitch = 0.15\ntable_opening = "60 mm"\n'
    machine = shop_from_text(cellar, file="shop.toml").machines[0]
    assert (machine.lift_pitch, machine.table_opening) == (1.5, 60)


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_files_from_other_editors_are_read(tmp_path: Path, ending: str, mark: str) -> None:
    path = tmp_path / "shop.toml"
    path.write_bytes((mark + SHOP).replace("\n", ending).encode())
    assert read_shop(path) == shop_from_text(SHOP, file="shop.toml")


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (None, "it cannot be opened: no such file"),
        (b"title = 'T\xe4fer'", "byte 11 is not text in UTF-8"),
    ],
)
def test_a_file_that_cannot_be_read_is_a_fault_without_a_line(
    tmp_path: Path, content: bytes | None, expected: str
) -> None:
    path = tmp_path / "shop.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(DocumentError, match=expected) as caught:
        read_shop(path)
    assert (caught.value.faults[0].file, caught.value.faults[0].line) == (str(path), None)


def test_a_folder_is_no_shop_file(tmp_path: Path) -> None:
    with pytest.raises(DocumentError, match="the file: it cannot be opened"):
        read_shop(tmp_path)


def test_no_file_has_a_null_character_in_its_name() -> None:
    with pytest.raises(DocumentError, match="no file can have this name"):
        read_shop(Path("a\0b"))


def test_a_shop_without_a_machine_is_refused_as_a_whole() -> None:
    with pytest.raises(DocumentError, match=r"shop.toml:1: the whole file: no machine listed"):
        shop_from_text(HEAD, file="shop.toml")


def test_texts_may_hold_spaces_that_do_not_break() -> None:
    shop = shop_from_text(HEAD.replace("Cellar", "My\N{NO-BREAK SPACE}cellar") + TABLE, file="s")
    assert shop.title == "My\N{NO-BREAK SPACE}cellar"
