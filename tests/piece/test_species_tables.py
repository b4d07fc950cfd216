"""``[[species]]`` of a shop file: a maker's own figures, and what is said of each mistake."""

from __future__ import annotations

import pytest

from faywright.errors import DocumentError
from faywright.piece.shop_file import shop_from_text
from faywright.timber.finding import find_species
from faywright.timber.measures import MEASURES
from faywright.timber.species import Species

HEAD = 'faywright = "shop 1"\ntitle = "Cellar"\n'
TABLE = '[[machine]]\nmark = "table"\nspeeds_rpm = [18000]\n[[species]]\n'
"""The first key of the species stands on line 7."""


def own(*tables: str) -> tuple[Species, ...]:
    text = HEAD + TABLE + "[[species]]\n".join(f"{table}\n" for table in tables)
    return shop_from_text(text, file="shop.toml").species


def faults(*tables: str) -> list[str]:
    with pytest.raises(DocumentError) as caught:
        own(*tables)
    return [str(fault).removeprefix("shop.toml:") for fault in caught.value.faults]


YEW = 'name = "Yew"\ngroup = "softwood"\nc_radial = 0.0014\nc_tangential = 0.0021'


def test_a_shop_without_species_has_none() -> None:
    assert shop_from_text(HEAD + TABLE.replace("[[species]]\n", ""), file="s").species == ()


def test_own_figures_are_taken_with_their_source() -> None:
    (yew,) = own(YEW)
    assert (yew.name, yew.group, yew.c_radial, yew.c_tangential) == (
        *("Yew", "softwood", 0.0014, 0.0021),
    )
    assert yew.source_of("c_tangential") == "your own figure"
    assert yew.mor is None


def test_what_is_not_given_is_that_of_a_published_timber_it_is_like() -> None:
    oak = find_species("white oak")
    (mine,) = own('name = "Hedge oak"\nlike = "white oak"\nmor = 90\nbotanical = "Quercus robur"')
    assert (mine.mor, mine.moe, mine.c_radial) == (90.0, oak.moe, oak.c_radial)
    assert (mine.botanical, mine.group) == ("Quercus robur", "hardwood")
    assert mine.source_of("moe") == oak.source_of("moe")


def test_every_value_that_is_known_of_timber_can_be_given() -> None:
    values = {value: (measure.low + measure.high) / 2 for value, measure in MEASURES.items()}
    lines = "\n".join(f"{value} = {number}" for value, number in values.items())
    (mine,) = own(f'name = "Middling"\ngroup = "imported"\n{lines}')
    assert {value: mine.value(value) for value in MEASURES} == values


@pytest.mark.parametrize(
    ("table", "start"),
    [
        ('group = "softwood"', "6: species 1: name: it is missing. Add it."),
        ('name = "Yew"', "6: species 1 (Yew): no group is given. Give one of softwood, hardwood"),
        (
            'name = "Yew"\ngroup = "conifer"',
            "8: species 1 (Yew): group: 'conifer' is not known. Use one of \"softwood\"",
        ),
        (
            'name = "Yew"\nlike = "yuw wood"',
            "8: species 1 (Yew): like: no timber is called 'yuw wood'. ",
        ),
        (
            'name = "Yew"\nlike = "whte oak"',
            "8: species 1 (Yew): like: no timber is called 'whte oak'. Did you mean Oak, white",
        ),
        ('name = "Mine"\nlike = "ash"', "8: species 1 (Mine): like: 'ash' may mean "),
        (
            'name = "Yew"\ngroup = "softwood"\nc_radial = "0.1 %"',
            "9: species 1 (Yew): c_radial: '0.1 %' is text, where a number belongs",
        ),
        (
            'name = "Yew"\ngroup = "softwood"\nc_radial = 0.14',
            "9: species 1 (Yew): c_radial: radial movement of 0.14 is not between 0.0002 and "
            "0.008. Check the decimal point and the unit: parts of the size for each 1 % of "
            "moisture.",
        ),
        (
            'name = "Yew"\ngroup = "softwood"\nmor = 15000',
            "9: species 1 (Yew): mor: bending strength of 15000 is not between 10 and 350. Check "
            "the decimal point and the unit: MPa.",
        ),
        (
            'name = "Yew"\ngroup = "softwood"\nc_radial = 0.0021\nc_tangential = 0.0014',
            "6: species 1 (Yew): c_radial of 0.0021 is more than c_tangential of 0.0014. Check",
        ),
        (YEW + "\nc_axial = 0.0001", "11: species 1 (Yew): c_axial: it is not a known key."),
    ],
)
def test_a_mistake_says_where_what_and_what_to_write(table: str, start: str) -> None:
    (fault,) = faults(table)
    assert fault.startswith(start), fault


def test_a_species_is_listed_once() -> None:
    (fault,) = faults(YEW, YEW)
    assert fault == '12: species 2 (Yew): name: "Yew" is that of line 6 already. Give each its own.'
