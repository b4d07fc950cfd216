from __future__ import annotations

from dataclasses import FrozenInstanceError
from typing import get_args

import pytest

from faywright.errors import InputError, RangeError
from faywright.timber.measures import MEASURES, Value
from faywright.timber.species import Density, Direction, Species, own_species
from faywright.timber.species_table import species_table

CHERRY = species_table()["Cherry, black"]
PAPER_BIRCH = species_table()["Birch, paper"]
SCOTS_PINE = species_table()["Pine, Scots"]


def test_a_missing_strength_names_species_table_and_what_to_give() -> None:
    with pytest.raises(InputError) as caught:
        PAPER_BIRCH.need("tension_perp")
    assert str(caught.value) == (
        "species Birch, paper: no tension across the grain is known: none was taken from Wood "
        "Handbook, FPL-GTR-190 (2010), Table 5-3b. Give your own tension_perp for it in the shop "
        "file (MPa)."
    )


def test_a_value_of_a_kind_that_was_never_looked_up_names_no_table() -> None:
    with pytest.raises(InputError, match=r"^species Pine, Scots: no shear along the grain is kno"):
        SCOTS_PINE.need("shear_par")
    with pytest.raises(InputError, match=r"known\. Give your own shear_par"):
        SCOTS_PINE.need("shear_par")


def test_what_is_known_is_given() -> None:
    assert CHERRY.need("c_tangential") == 0.00248
    assert CHERRY.need("shear_par") == pytest.approx(11.72, abs=0.005)  # 1,700 psi


def test_a_source_names_table_and_how_it_was_read() -> None:
    handbook = "Wood Handbook, FPL-GTR-190 (2010)"
    assert CHERRY.source_of("c_radial") == f"{handbook}, Table 13-5; page seen"
    assert CHERRY.source_of("moe") == f"{handbook}, Table 5-3b; secondary copy seen"
    assert CHERRY.source_of("hardness") == f"{handbook}, Table 5-3b; from memory"
    assert SCOTS_PINE.source_of("c_radial") == (
        "German timber-trade association, table of differential shrinkage; page seen"
    )


def test_a_missing_value_has_no_source() -> None:
    assert PAPER_BIRCH.source_of("tension_perp") == ""
    assert SCOTS_PINE.source_of("mor") == ""


def test_a_species_cannot_be_changed() -> None:
    with pytest.raises(FrozenInstanceError):
        CHERRY.mor = 1.0  # type: ignore[misc]  # that it is refused is the point


# Class of density


@pytest.mark.parametrize(
    ("group", "gravity", "timber"),
    [
        ("hardwood", 0.44, "softwood"),
        ("hardwood", 0.45, "hardwood"),
        ("softwood", 0.45, "softwood"),
        ("softwood", 0.50, "softwood"),
        ("softwood", 0.51, "hardwood"),
        ("imported", 0.44, "softwood"),
        ("imported", 0.47, "hardwood"),
    ],
)
def test_light_timber_is_soft_and_dense_timber_hard_whatever_the_tree(
    group: str, gravity: float, timber: Density
) -> None:
    assert Species(name="it", group=group, sg_12=gravity).timber == timber  # type: ignore[arg-type]  # a plain str of the table above


def test_a_gravity_on_green_volume_is_brought_to_12_percent_first() -> None:
    assert Species(name="it", group="imported", sg_green=0.425).timber == "hardwood"
    assert Species(name="it", group="imported", sg_green=0.415).timber == "softwood"


def test_without_a_gravity_the_tree_decides() -> None:
    assert SCOTS_PINE.timber == "softwood"
    assert species_table()["Beech, European"].timber == "hardwood"
    assert species_table()["Wenge"].timber == "hardwood"


@pytest.mark.parametrize(
    ("name", "timber", "kind"),
    [
        ("Oak, white", "hardwood", "hardwood"),
        ("Pine, eastern white", "softwood", "softwood"),
        ("Yellow-poplar", "softwood", "hardwood"),
        ("Balsa", "softwood", "hardwood"),
        ("Pine, longleaf", "hardwood", "softwood"),
        ("Mahogany, true", "hardwood", "hardwood"),
    ],
)
def test_density_is_not_botany(name: str, timber: Density, kind: Density) -> None:
    one = species_table()[name]
    assert (one.timber, one.botanical_kind) == (timber, kind)


# Movement by the shrinkage


def test_a_coefficient_follows_from_the_shrinkage() -> None:
    assert CHERRY.coefficient_by_shrinkage("tangential") == pytest.approx(7.1 / (3000 - 20 * 7.1))
    cedar = species_table()["Cedar, western red"]
    assert cedar.coefficient_by_shrinkage("radial") == pytest.approx(2.4 / (2200 - 12 * 2.4))


@pytest.mark.parametrize("direction", get_args(Direction))
def test_nothing_deviates_where_only_one_of_the_two_is_known(direction: Direction) -> None:
    assert SCOTS_PINE.coefficient_by_shrinkage(direction) is None
    assert SCOTS_PINE.deviation(direction) is None
    assert species_table()["Sapele"].coefficient_by_shrinkage(direction) is not None
    assert species_table()["Sapele"].deviation(direction) is None
    assert not species_table()["Sapele"].shows_both


# A maker's own


def test_a_species_of_the_makers_own_has_what_was_given_and_no_more() -> None:
    yew = own_species("Yew", {"shear_par": 12.0}, group="softwood", botanical="Taxus baccata")
    assert (yew.name, yew.botanical, yew.shear_par) == ("Yew", "Taxus baccata", 12.0)
    assert yew.source_of("shear_par") == "your own figure"
    with pytest.raises(InputError, match=r"^species Yew: no bending strength is known\. Give your"):
        yew.need("mor")


def test_a_species_like_another_keeps_the_rest_with_its_source() -> None:
    mine = own_species("My birch", {"tension_perp": 5.0}, like=PAPER_BIRCH)
    assert mine.need("tension_perp") == 5.0
    assert mine.source_of("tension_perp") == "your own figure"
    assert (mine.group, mine.botanical) == ("hardwood", "Betula papyrifera")
    for value in MEASURES:
        if value != "tension_perp":
            assert mine.value(value) == PAPER_BIRCH.value(value)
            assert mine.source_of(value) == PAPER_BIRCH.source_of(value)


def test_an_own_figure_takes_the_place_of_a_published_one() -> None:
    mine = own_species("My cherry", {"mor": 90.0}, like=CHERRY)
    assert (mine.mor, mine.source_of("mor")) == (90.0, "your own figure")


def test_own_movement_is_not_held_against_the_tables() -> None:
    khaya = species_table()["Mahogany, African"]
    assert own_species("Mine", {"mor": 80.0}, like=khaya).disagreement == "source data"
    assert own_species("Mine", {"c_radial": 0.0012}, like=khaya).disagreement is None


def test_wood_rich_in_extractives_starts_to_shrink_later_when_it_is_like_one() -> None:
    redwood = species_table()["Redwood, old-growth"]
    assert own_species("Mine", {"shrink_radial": 2.8}, like=redwood).start_of_shrinkage == 22


def test_an_own_species_needs_a_group_or_one_it_is_like() -> None:
    with pytest.raises(InputError, match=r"^species Yew: no group is given\. Give one of softwood"):
        own_species("Yew", {"mor": 80.0})


def test_a_value_called_what_none_is_called_is_refused() -> None:
    with pytest.raises(InputError, match=r"no value is called 'shear'\. Use c_radial, .*shear_par"):
        own_species("Yew", {"shear": 12.0}, group="softwood")


@pytest.mark.parametrize(
    ("value", "number"),
    [
        ("c_tangential", 0.25),
        ("c_radial", 0.0),
        ("shrink_radial", 0.049),
        ("sg_12", 640.0),
        ("mor", 14600.0),
        ("moe", 11.6),
        ("shear_par", -1.0),
        ("hardness", float("nan")),
        ("tension_perp", float("inf")),
    ],
)
def test_a_figure_in_another_unit_is_refused_with_the_unit(value: Value, number: float) -> None:
    measure = MEASURES[value]
    with pytest.raises(RangeError) as caught:
        own_species("Yew", {value: number}, group="softwood")
    assert caught.value.where == "species Yew"
    assert f"{value} ({measure.words}) of {number:g} is not between" in caught.value.what
    assert measure.unit in caught.value.remedy


@pytest.mark.parametrize("value", get_args(Value))
def test_a_figure_at_either_end_of_what_wood_can_have_will_do(value: Value) -> None:
    for number in (MEASURES[value].low, MEASURES[value].high):
        assert own_species("Yew", {value: number}, group="softwood").need(value) == number


@pytest.mark.parametrize(
    ("less", "more", "low", "high"),
    [
        ("c_radial", "c_tangential", 0.0016, 0.0031),
        ("shrink_radial", "shrink_tangential", 4.0, 8.0),
        ("sg_green", "sg_12", 0.5, 0.6),
    ],
)
def test_figures_that_were_swapped_are_refused(
    less: str, more: str, low: float, high: float
) -> None:
    own_species("Yew", {less: low, more: low}, group="softwood")
    said = rf"^species Yew: {less} of {high:g} is more than {more} of {low:g}\. Check whether"
    with pytest.raises(RangeError, match=said):
        own_species("Yew", {less: high, more: low}, group="softwood")


@pytest.mark.parametrize("start", [19.9, 35.1, float("nan")])
def test_a_start_of_shrinkage_that_no_wood_has_is_refused(start: float) -> None:
    with pytest.raises(RangeError, match=r"^species Yew: shrinkage from .* is not from 20 to 35 %"):
        Species(name="Yew", group="softwood", start_of_shrinkage=start)


def test_a_species_has_a_name_and_a_group_there_is() -> None:
    with pytest.raises(InputError, match=r"^species: it has no name\. Give it one"):
        own_species(" ", {}, group="softwood")
    with pytest.raises(InputError, match=r"^species Yew: group 'conifer'\. Use one of softwood"):
        Species(name="Yew", group="conifer")  # type: ignore[arg-type]  # what a file may hold
