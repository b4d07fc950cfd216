from __future__ import annotations

import pytest

from faywright.errors import InputError
from faywright.timber.names import LooseName, key_of, loose_names, parse_names
from faywright.timber.species_table import species_table

HEAD = "name,species,why,source,locator"
KNOWN = {"Oak, white", "Pine, Scots"}


def parsed(*rows: str) -> dict[str, LooseName]:
    return parse_names([HEAD, *rows], KNOWN, where="names.csv")


@pytest.mark.parametrize(
    "said",
    ["Oak, white", "white oak", "WHITE OAKS", "White-Oak", "oak (white)", " whíte  öak wood "],
)
def test_order_case_hyphens_plurals_and_accents_do_not_count(said: str) -> None:
    assert key_of(said) == key_of("white oak")


@pytest.mark.parametrize(
    ("many", "one"),
    [
        ("ashes", "ash"),
        ("beeches", "beech"),
        ("cherries", "cherry"),
        ("boxes", "box"),
        ("oaks", "oak"),
        ("cypresses", "cypress"),
        ("Scots' pines", "Scots pine"),
        ("scot\u2019s pine", "Scots pine"),
    ],
)
def test_one_and_many_are_the_same_timber(many: str, one: str) -> None:
    assert key_of(many) == key_of(one)


@pytest.mark.parametrize(
    ("one", "other"), [("redwood", "red"), ("cypress", "cypres"), ("black ash", "black oak")]
)
def test_unlike_names_stay_apart(one: str, other: str) -> None:
    assert key_of(one) != key_of(other)


@pytest.mark.parametrize("said", ["", "  ", "?!", "-"])
def test_a_name_without_letters_has_no_words(said: str) -> None:
    assert key_of(said) == ()


def test_wood_alone_is_not_dropped() -> None:
    assert key_of("wood") == ("wood",)


# Loose names


def test_a_row_is_read_as_it_stands() -> None:
    row = 'deal,"Pine, Scots; Oak, white",either,someone,page 3'
    assert parsed(row)["deal"] == LooseName(
        "deal", ("Pine, Scots", "Oak, white"), "either", "someone", "page 3"
    )


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("deal,Deal,,x,", "no species is called 'Deal'. Use a name of the table of species"),
        ("deal", "no species is called ''. Use"),
        ('deal,"Pine, Scots; Oak, white",,x,', "'deal' may mean 2 species. Say why"),
        ('white oak,"Oak, white",,x,', "'white oak' is taken by 'Oak, white'. Keep one"),
        ('Red-Deal,"Pine, Scots",,x,', "'Red-Deal' is taken by 'red deal'. Keep one"),
    ],
)
def test_a_row_that_cannot_be_used_is_refused_by_line(row: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        parsed('red deal,"Pine, Scots",,x,', row)
    assert str(caught.value).startswith(f"names.csv line 3: {said}")


@pytest.mark.parametrize("loose", loose_names().values(), ids=lambda loose: loose.name)
def test_every_packaged_name_means_species_there_are_and_says_why_if_several(
    loose: LooseName,
) -> None:
    assert set(loose.species) <= set(species_table())
    assert len(set(loose.species)) == len(loose.species) > 0
    assert loose.why or len(loose.species) == 1
    assert loose.source == "common-practice"


def test_the_table_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        loose_names()["wood"] = loose_names()["deal"]  # type: ignore[index]  # as it should be
