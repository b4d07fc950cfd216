"""Names of timber: what makes two of them the same, and the trade's loose ones."""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from faywright.errors import InputError
from faywright.timber.species_table import species_table

FILE = "timber/data/names.csv"

Key = tuple[str, ...]
"""Words of a name, made alike and put in one order."""

_FILLERS = frozenset({"wood", "timber", "lumber"})
_WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class LooseName:
    """A name of the trade, the species it may mean, and why it may mean several."""

    name: str
    species: tuple[str, ...]
    why: str
    source: str  # key in docs/references.md
    locator: str


def key_of(text: str) -> Key:
    """The words of a name in one order, without case, accents, hyphens, plurals and fillers.

    Examples
    --------
    >>> key_of("Oak, white") == key_of("white oaks") == key_of("WHITE-OAK timber")
    True
    """
    return tuple(sorted(words_of(text)))


def words_of(text: str) -> list[str]:
    """The same words in the order they were given."""
    plain = unicodedata.normalize("NFKD", text.casefold()).replace("'", "").replace("\u2019", "")
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    words = [_singular(word) for word in _WORD.findall(plain)]
    return [word for word in words if word not in _FILLERS] or words


def _singular(word: str) -> str:
    """The word without the ending of a plural; one that only looks plural loses it too."""
    if len(word) < 4 or word.endswith("ss"):
        return word
    if word.endswith("ies"):
        return word.removesuffix("ies") + "y"
    if word.endswith(("ches", "shes", "sses", "xes")):
        return word.removesuffix("es")
    return word.removesuffix("s")


@cache
def loose_names() -> Mapping[str, LooseName]:
    """The packaged loose names; read once, and not to be changed."""
    text = files("faywright").joinpath(FILE).read_text(encoding="utf-8")
    return MappingProxyType(parse_names(text.splitlines(), set(species_table()), where=FILE))


def parse_names(lines: Iterable[str], known: set[str], *, where: str) -> dict[str, LooseName]:
    """Read loose names from CSV ``lines``; ``where`` names them in messages.

    Raises
    ------
    InputError
        A name means a species that is not ``known``, is taken already, or may mean several
        species and does not say why.
    """
    table: dict[str, LooseName] = {}
    taken = {key_of(name): name for name in known}
    reader = csv.DictReader(lines, restval="")
    for cells in reader:
        place = f"{where} line {reader.line_num}"
        name, means = cells["name"], tuple(cells["species"].split("; "))
        for one in means:
            if one not in known:
                what = f"no species is called {one!r}"
                raise InputError(what, where=place, remedy="Use a name of the table of species")
        if len(means) > 1 and not cells["why"]:
            what = f"{name!r} may mean {len(means)} species"
            raise InputError(what, where=place, remedy="Say why")
        key = key_of(name)
        if key in taken:
            what = f"{name!r} is taken by {taken[key]!r}"
            raise InputError(what, where=place, remedy="Keep one")
        taken[key] = name
        table[name] = LooseName(name, means, cells["why"], cells["source"], cells["locator"])
    return table
