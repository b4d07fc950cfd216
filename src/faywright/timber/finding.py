"""Finding the species a maker means by a common, botanical or loose name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from faywright.errors import InputError
from faywright.timber.names import Key, key_of, loose_names, words_of
from faywright.timber.species import Species
from faywright.timber.species_table import species_table

_MOST_SHOWN = 60  # characters of a name repeated in a message
_MOST_OFFERED = 4
_NEAR = 0.65  # share of letters alike from which a name is offered


@dataclass(frozen=True, slots=True)
class _Meant:
    """Species that a name may mean, and why if they are several."""

    species: tuple[Species, ...]
    why: str = ""


def find_species(text: str, own: Sequence[Species] = ()) -> Species:
    """The species a maker means; words may stand in any order.

    The maker's ``own`` species come first, then common, botanical and loose names, and last a
    part of a name that fits only one species ("sitka").

    Raises
    ------
    InputError
        Nothing is called so, and the message offers near names; or several are, and the message
        tells how each moves.

    Examples
    --------
    >>> find_species("white oak").name, find_species("Tilia americana").name
    ('Oak, white', 'Basswood, American')
    """
    asked = key_of(text)
    if not asked:
        raise InputError("no timber is named", where="species", remedy='Name one, as "white oak"')
    for meant in _readings(asked, own):
        if len(meant.species) == 1:
            return meant.species[0]
        if meant.species:
            raise _several(text, meant)
    raise _unknown(text, own)


def _readings(asked: Key, own: Sequence[Species]) -> Iterator[_Meant]:
    """What the words may mean, the surest way of reading them first."""
    yield _Meant(tuple(one for one in own if key_of(one.name) == asked))
    yield _Meant(tuple(one for one in own if key_of(one.botanical) == asked))
    yield from (names[asked] for names in _packaged() if asked in names)
    taken = {key_of(one.name) for one in own}
    common, botanical, _ = _packaged()
    yield _Meant((*_holding(asked, own), *_within(asked, common, taken)))
    yield _Meant(tuple(_within(asked, botanical, taken)))


@cache
def _packaged() -> tuple[Mapping[Key, _Meant], ...]:
    """Common, botanical and loose names, each by its words."""
    table = species_table()
    botanical: dict[Key, tuple[Species, ...]] = {}
    for one in table.values():
        if one.botanical:
            key = key_of(one.botanical)
            botanical[key] = (*botanical.get(key, ()), one)
    return (
        {key_of(one.name): _Meant((one,)) for one in table.values()},
        {key: _Meant(species) for key, species in botanical.items()},
        {
            key_of(loose.name): _Meant(tuple(table[name] for name in loose.species), loose.why)
            for loose in loose_names().values()
        },
    )


def _holding(asked: Key, own: Iterable[Species]) -> Iterator[Species]:
    """The maker's own species with all these words in their common name."""
    return (one for one in own if set(asked).issubset(key_of(one.name)))


def _within(asked: Key, names: Mapping[Key, _Meant], taken: set[Key]) -> Iterator[Species]:
    """Packaged species under names with all these words, unless the maker has one called so."""
    words = set(asked)
    for key, meant in names.items():
        if words.issubset(key):
            yield from (one for one in meant.species if key_of(one.name) not in taken)


def _several(text: str, meant: _Meant) -> InputError:
    """Which of these, and how each moves."""
    why = f": {meant.why}" if meant.why else ""
    listed = "; ".join(f"{one.name} ({_movement(one)})" for one in meant.species)
    return InputError(
        f"{_shown(text)} may mean {len(meant.species)} timbers{why}",
        where="species",
        remedy=f"Name one (movement for 1 % of moisture, radial / tangential): {listed}",
    )


def _movement(one: Species) -> str:
    if one.c_radial is not None and one.c_tangential is not None:
        return f"{100 * one.c_radial:.3g} / {100 * one.c_tangential:.3g} %"
    if one.shrink_radial is not None and one.shrink_tangential is not None:
        return f"shrinks {one.shrink_radial:g} / {one.shrink_tangential:g} % in all"
    return "movement not known"


def _unknown(text: str, own: Sequence[Species]) -> InputError:
    """No such timber, and the names that come near it."""
    offered = _offered(own)
    near = get_close_matches(" ".join(words_of(text)), offered, n=2 * _MOST_OFFERED, cutoff=_NEAR)
    names = list(dict.fromkeys(offered[words] for words in near))[:_MOST_OFFERED]
    meant = f"Did you mean {' or '.join(names)}? If not, give" if names else "Give"
    return InputError(
        f"no timber is called {_shown(text)}",
        where="species",
        remedy=f"{meant} it as a species of your own in the shop file",
    )


def _offered(own: Sequence[Species]) -> dict[str, str]:
    """Names to offer by their words: first words alone, packaged, loose, the maker's own."""
    common = [one.name for one in species_table().values()]
    heads = [name.split(",")[0] for name in common]
    botanical = [one.botanical for one in species_table().values() if one.botanical]
    names = [*heads, *common, *botanical, *loose_names(), *(one.name for one in own)]
    return {" ".join(words_of(order)): name for name in names for order in _orders(name)}


def _orders(name: str) -> tuple[str, str]:
    """A name as it is listed, and as it is said: "Oak, white" and "white Oak"."""
    head, _, rest = name.partition(",")
    return name, f"{rest} {head}"


def _shown(text: str) -> str:
    return repr(text if len(text) <= _MOST_SHOWN else text[:_MOST_SHOWN] + "...")
