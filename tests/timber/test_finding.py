from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import InputError
from faywright.timber.finding import find_species
from faywright.timber.names import LooseName, loose_names
from faywright.timber.species import Species, own_species
from faywright.timber.species_table import species_table
from tests.strategies import STEADY

each_species = st.sampled_from(list(species_table().values()))
YEW = own_species("Yew, churchyard", {"mor": 90.0}, group="softwood", botanical="Taxus baccata")


def refused(text: str, *own: Species) -> InputError:
    with pytest.raises(InputError) as caught:
        find_species(text, own)
    assert caught.value.where == "species"
    return caught.value


def found_or_refused(text: str) -> str:
    try:
        return find_species(text).name
    except InputError as fault:
        return fault.remedy


@given(each_species, st.booleans(), st.sampled_from([str.upper, str.lower, str.title]))
@STEADY
def test_every_species_is_found_by_its_name_in_both_orders(
    one: Species, turned: bool, case: type[str]
) -> None:
    head, _, rest = one.name.partition(", ")
    assert find_species(case(f"{rest} {head}" if turned else one.name)) == one


@pytest.mark.parametrize("one", species_table().values(), ids=lambda one: one.name)
def test_every_species_is_found_by_its_own_name(one: Species) -> None:
    assert find_species(one.name) is one


@given(each_species, st.permutations(range(4)))
@STEADY
def test_words_may_stand_in_any_order(one: Species, order: list[int]) -> None:
    words = one.name.replace(",", "").split()
    shuffled = [words[place] for place in order if place < len(words)]
    assert find_species(" ".join(shuffled)) == one


@pytest.mark.parametrize("loose", loose_names().values(), ids=lambda loose: loose.name)
def test_every_loose_name_finds_its_species_or_asks(loose: LooseName) -> None:
    if len(loose.species) == 1:
        assert find_species(loose.name).name == loose.species[0]
        return
    fault = refused(loose.name)
    assert f"may mean {len(loose.species)} timbers: {loose.why}" in fault.what
    assert all(f"{name} (" in fault.remedy for name in loose.species)


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("redwood (European)", "Pine, Scots"),
        ("red deal", "Pine, Scots"),
        ("tulipwood", "Yellow-poplar"),
        ("poplar", "Yellow-poplar"),
        ("yellow poplar", "Yellow-poplar"),
        ("sapele", "Sapele"),
        ("sitka", "Spruce, Sitka"),
        ("okoumé", "Okoume"),
        ("American black walnut", "Walnut, black"),
        ("Quercus alba", "Oak, white"),
        ("Quercus petraea", "Oak, European"),
        ("FAGUS SYLVATICA", "Beech, European"),
        ("swietenia", "Mahogany, true"),
        ("western red cedar", "Cedar, western red"),
        ("douglas fir coast", "Douglas-fir, coast"),
        ("white oak timber", "Oak, white"),
    ],
)
def test_names_makers_use(said: str, meant: str) -> None:
    assert find_species(said).name == meant


@pytest.mark.parametrize(
    ("said", "count", "among"),
    [
        ("oak", 12, "Oak, European (0.16 / 0.36 %)"),
        ("pine", 13, "Pine, Scots (0.19 / 0.36 %)"),
        ("ash", 5, "Ash, white (0.169 / 0.274 %)"),
        ("beeches", 2, "Beech, American (0.19 / 0.431 %)"),
        ("cherry", 2, "Cherry, black (0.126 / 0.248 %)"),
        ("walnut", 2, "Walnut, European (0.18 / 0.29 %)"),
        ("white pine", 2, "Pine, western white (0.141 / 0.259 %)"),
        ("redwood", 2, "Pine, Scots (0.19 / 0.36 %)"),
        ("deal", 2, "Spruce, Norway (0.19 / 0.39 %)"),
        ("Quercus", 12, "Oak, black (shrinks 4.4 / 11.1 % in all)"),
        ("Pseudotsuga menziesii", 4, "Douglas-fir, interior north (0.13 / 0.241 %)"),
    ],
)
def test_a_name_of_several_asks_which_and_tells_how_they_move(
    said: str, count: int, among: str
) -> None:
    fault = refused(said)
    assert fault.what.startswith(f"{said!r} may mean {count} timbers")
    assert fault.remedy.startswith("Name one (movement for 1 % of moisture, radial / tangential): ")
    assert among in fault.remedy
    assert fault.remedy.count(";") == count - 1


def test_redwood_alone_says_why_it_asks() -> None:
    assert "the European trade's word for Scots pine" in refused("redwood").what


@pytest.mark.parametrize(
    ("said", "near"),
    [
        ("walnutt", "Walnut"),
        ("whte oak", "Oak, white"),
        ("yellowpoplar", "Yellow-poplar"),
        ("tulpiwood", "tulipwood"),
        ("mahagony", "mahogany"),
        ("fagus silvatica", "Fagus sylvatica"),
        ("pearwood", "Pear"),
    ],
)
def test_a_slip_of_the_pen_is_offered_what_comes_near(said: str, near: str) -> None:
    fault = refused(said)
    assert fault.what == f"no timber is called {said!r}"
    assert near in fault.remedy.removeprefix("Did you mean ").split("?")[0].split(" or ")
    assert fault.remedy.endswith("? If not, give it as a species of your own in the shop file")


def test_a_name_like_no_other_is_told_what_to_do() -> None:
    assert str(refused("xyzzy")) == (
        "species: no timber is called 'xyzzy'. Give it as a species of your own in the shop file."
    )


def test_a_long_name_is_cut_short_in_the_message() -> None:
    assert refused("z" * 5000).what == f"no timber is called '{'z' * 60}...'"


@pytest.mark.parametrize("text", ["", "  ", "?!", "\u0301"])
def test_no_name_at_all_is_refused(text: str) -> None:
    assert refused(text).what == "no timber is named"


@given(st.text(max_size=40))
@STEADY
def test_any_text_finds_a_species_or_says_why_not(text: str) -> None:
    assert found_or_refused(text)


# The maker's own


@pytest.mark.parametrize("said", ["churchyard yew", "Yew, churchyard", "yew", "taxus baccata"])
def test_a_makers_own_species_is_found_as_any_other(said: str) -> None:
    assert find_species(said, [YEW]) is YEW


def test_a_makers_own_comes_before_the_packaged_one_of_its_name() -> None:
    mine = own_species("White oak", {"mor": 95.0}, like=species_table()["Oak, white"])
    assert find_species("oak, white", [YEW, mine]) is mine
    remedy = refused("oak", mine).remedy
    assert "White oak (0.18 / 0.365 %)" in remedy
    assert "Oak, white" not in remedy


def test_a_makers_own_may_take_a_loose_name_and_settle_it() -> None:
    mine = own_species("Deal", {"mor": 80.0}, like=species_table()["Pine, Scots"])
    assert find_species("deal", [mine]) is mine
    assert find_species("poplar").name == "Yellow-poplar"


def test_two_of_the_makers_own_called_the_same_are_asked_about() -> None:
    other = own_species("churchyard yew", {"c_radial": 0.0014}, group="softwood")
    fault = refused("yew churchyard", YEW, other)
    assert fault.what == "'yew churchyard' may mean 2 timbers"
    assert "Yew, churchyard (movement not known)" in fault.remedy


def test_a_makers_own_is_offered_when_it_comes_near() -> None:
    assert "Yew, churchyard" in refused("churchyrd yew", YEW).remedy
