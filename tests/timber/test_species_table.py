from __future__ import annotations

from collections import Counter

import pytest

from faywright.errors import InputError, RangeError
from faywright.timber.measures import MEASURES, SEEN, SOURCES, Value
from faywright.timber.species import Species
from faywright.timber.species_table import COLUMNS, parse_species, species_table

ROW = {
    "name": "Elm, my",
    "botanical": "Ulmus",
    "group": "hardwood",
    "c_radial": "0.00144",
    "c_tangential": "0.00338",
    "moe_million_psi": "1.34",
    "hardness_lbf": "830",
    "source": "wood-handbook",
    "locator": "movement Table 13-5; strength Table 5-3b",
    "seen": "movement page; strength memory; moe sg_12 secondary",
}
OTHERS = ("start_of_shrinkage_percent", "disagreement", "note")
HEAD = tuple(dict.fromkeys((*ROW, *COLUMNS, *OTHERS)))


def parsed(*rows: dict[str, str]) -> dict[str, Species]:
    lines = [",".join(f'"{row.get(column, "")}"' for column in HEAD) for row in rows]
    return parse_species([",".join(HEAD), *lines], where="species.csv")


def test_printed_units_become_si() -> None:
    elm = parsed(ROW)["Elm, my"]
    assert (elm.botanical, elm.group, elm.c_radial) == ("Ulmus", "hardwood", 0.00144)
    assert elm.moe == pytest.approx(9239, abs=0.5)  # MPa
    assert elm.hardness == pytest.approx(3692, abs=0.5)  # N
    assert elm.mor is None


def test_movement_printed_in_percent_becomes_a_share() -> None:
    percent = {"c_radial": "", "c_tangential": "", "c_radial_percent": "0.20"}
    assert parsed(ROW | percent)["Elm, my"].c_radial == pytest.approx(0.0020)


def test_each_value_knows_its_table_and_how_it_was_read() -> None:
    elm = parsed(ROW)["Elm, my"]
    assert (elm.origins["moe"].table, elm.origins["moe"].seen) == ("Table 5-3b", "secondary")
    assert (elm.origins["hardness"].table, elm.origins["hardness"].seen) == ("Table 5-3b", "memory")
    assert (elm.origins["c_radial"].table, elm.origins["c_radial"].seen) == ("Table 13-5", "page")
    assert elm.origins["mor"].table == "Table 5-3b"
    assert "shrink_radial" not in elm.origins


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"c_radial": "small"}, "c_radial is 'small'. Write a plain number"),
        ({"start_of_shrinkage_percent": "?"}, "start_of_shrinkage_percent is '?'. Write a plain"),
        ({"c_radial_percent": "0.2"}, "c_radial_percent gives c_radial a second time. Fill one"),
        ({"group": "conifer"}, "group 'conifer'. Use one of softwood, hardwood, imported"),
        ({"name": ""}, "it has no name. Give it one"),
        ({"disagreement": "some"}, "disagreement is 'some'. Use neighbour species, group average"),
        ({"source": "hearsay"}, "source is 'hearsay'. Use one of wood-handbook"),
        ({"locator": "strength Table 5-3b"}, "c_radial has no table, or not how it was read."),
        ({"seen": "movement page; strength guessed"}, "moe has no table, or not how it was read."),
        ({"seen": "movement page"}, "moe has no table, or not how it was read. Fill locator and"),
    ],
)
def test_a_cell_that_cannot_be_used_is_refused_by_line(change: dict[str, str], said: str) -> None:
    with pytest.raises(InputError) as caught:
        parsed(ROW | {"name": "Elm, other"}, ROW | change)
    assert str(caught.value).startswith(f"species.csv line 3: {said}")


@pytest.mark.parametrize("figure", ["134", "-1.34", "nan"])
def test_a_figure_that_no_wood_has_is_refused_by_line(figure: str) -> None:
    with pytest.raises(RangeError, match=r"^species\.csv line 2: moe \(stiffness in bending\) of "):
        parsed(ROW | {"moe_million_psi": figure})


def test_a_species_listed_twice_is_refused_by_line() -> None:
    with pytest.raises(InputError, match=r"^species\.csv line 3: Elm, my is listed twice\. Keep o"):
        parsed(ROW, ROW)


# The packaged table


def test_there_are_105_species_by_the_handbook_and_23_by_european_tables() -> None:
    sources = Counter(one.origins["c_radial"].source for one in species_table().values())
    assert sources == {"wood-handbook": 105, "differential-shrinkage": 20, "parquet-movement": 3}
    groups = Counter(one.group for one in species_table().values())
    assert groups == {"hardwood": 61, "softwood": 43, "imported": 24}


@pytest.mark.parametrize(
    ("name", "radial", "tangential"),
    [
        ("Beech, European", 0.20, 0.41),
        ("Oak, European", 0.16, 0.36),
        ("Pine, Scots", 0.19, 0.36),
        ("Spruce, Norway", 0.19, 0.39),
        ("Sapele (European table)", 0.24, 0.32),
        ("Khaya (European table)", 0.12, 0.22),
        ("Cherry, European", 0.16, 0.26),
    ],
)
def test_european_tables_print_percent_for_each_percent(
    name: str, radial: float, tangential: float
) -> None:
    one = species_table()[name]
    assert (one.c_radial, one.c_tangential) == pytest.approx((radial / 100, tangential / 100))


@pytest.mark.parametrize("one", species_table().values(), ids=lambda one: one.name)
def test_every_value_there_is_has_a_source_a_table_and_how_it_was_read(one: Species) -> None:
    known = [value for value in MEASURES if one.value(value) is not None]
    assert known
    for value in known:
        origin = one.origins[value]
        assert origin.source in SOURCES
        assert origin.table
        assert origin.seen in SEEN


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("Birch, paper", "tension_perp"),
        ("Buckeye, yellow", "hardness"),
        ("Cedar, eastern red", "shear_par"),
        ("Honeylocust", "sg_12"),
        ("Oak, black", "c_tangential"),
        ("Sapele", "c_radial"),
        ("Spruce, white", "shrink_radial"),
        ("Teak", "compression_perp"),
    ],
)
def test_what_was_not_printed_stays_missing(name: str, value: Value) -> None:
    assert species_table()[name].value(value) is None


def test_no_imported_species_has_compression_across_or_a_gravity_at_12_percent() -> None:
    imported = [one for one in species_table().values() if one.group == "imported"]
    assert {(one.compression_perp, one.sg_12) for one in imported} == {(None, None)}


def test_european_tables_give_movement_and_nothing_else() -> None:
    european = [one for one in species_table().values() if "sg_green" not in one.origins]
    assert len(european) == 23
    movement = {"c_radial", "c_tangential"}
    for one in european:
        assert {value for value in MEASURES if one.value(value) is not None} == movement


def test_the_table_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        species_table()["Elm, my"] = parsed(ROW)["Elm, my"]  # type: ignore[index]  # as it should be
