"""A species of timber: its published properties, each with its source, or a maker's own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal, get_args

from faywright.errors import InputError, RangeError
from faywright.timber.measures import MEASURES, YOUR_OWN, Origin, Value
from faywright.timber.movement import implied_coefficient

Group = Literal["softwood", "hardwood", "imported"]
"""As the published tables part them; all imported species here are hardwoods by botany."""

Density = Literal["softwood", "hardwood"]
Direction = Literal["radial", "tangential"]
Disagreement = Literal["neighbour species", "group average", "source data"]
"""Why a coefficient lies over 5 % off the shrinkages of its species: it is that of a neighbour
species, or of a mixture sold together, or the two tables have different sources."""

LIGHT, DENSE = 0.45, 0.50
"""Specific gravity at 12 % below which timber is light, and above which it is dense."""

FAR_APART = 25.0
"""A coefficient this far off is to be shown beside what the shrinkages say. [%]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """Properties of a species; None where no table gave one. Botanical names are from memory.

    Movement is for each 1 % of moisture, as a share of the size, good from 6 to 14 %; shrinkage
    is from green to ovendry, in % of the green size; specific gravities are of ovendry mass.
    Strengths are means of small clear pieces at 12 % moisture [MPa]: never a load to design with.
    """

    name: str
    botanical: str = ""
    group: Group
    c_radial: float | None = None
    c_tangential: float | None = None
    shrink_radial: float | None = None
    shrink_tangential: float | None = None
    start_of_shrinkage: float = 30.0  # moisture below which it shrinks [%]
    sg_green: float | None = None
    sg_12: float | None = None
    mor: float | None = None  # modulus of rupture [MPa]
    moe: float | None = None  # modulus of elasticity in bending [MPa]
    compression_perp: float | None = None  # at the proportional limit [MPa]
    shear_par: float | None = None  # [MPa]
    tension_perp: float | None = None  # [MPa]
    hardness: float | None = None  # force that presses a ball of 11.3 mm in by half [N]
    origins: Mapping[Value, Origin] = field(
        default_factory=lambda: MappingProxyType({}), hash=False, repr=False
    )  # of each value; of a missing one, where it was looked for
    disagreement: Disagreement | None = None
    note: str = ""

    def __post_init__(self) -> None:
        """Every value is one that wood can have, and tangential is no less than radial."""
        if not self.name.strip():
            raise InputError("it has no name", where="species", remedy="Give it one")
        if self.group not in get_args(Group):
            raise InputError(
                f"group {self.group!r}",
                where=f"species {self.name}",
                remedy=f"Use one of {', '.join(get_args(Group))}",
            )
        if not 20 <= self.start_of_shrinkage <= 35:
            raise RangeError(
                f"shrinkage from {self.start_of_shrinkage:g} % of moisture is not from 20 to 35 %",
                where=f"species {self.name}",
                remedy="Give 30 %, or 22 % for wood rich in extractives",
            )
        for value in MEASURES:
            self._check(value)
        self._in_order("c_radial", "c_tangential")
        self._in_order("shrink_radial", "shrink_tangential")
        self._in_order("sg_green", "sg_12")

    def value(self, value: Value) -> float | None:
        """A value by its name."""
        found: float | None = getattr(self, value)
        return found

    def need(self, value: Value) -> float:
        """A value that must be there.

        Raises
        ------
        InputError
            It is missing; the message names the table it was looked for in, and what to give.
        """
        found = self.value(value)
        if found is None:
            raise self._missing([value])
        return found

    def require(self, *values: Value) -> None:
        """Refuse to go on without these values; all that are missing are named at once.

        Raises
        ------
        InputError
            Some are missing; the message names the table they were looked for in, and what to
            give.
        """
        missing = [value for value in values if self.value(value) is None]
        if missing:
            raise self._missing(missing)

    def _missing(self, missing: Sequence[Value]) -> InputError:
        *others, last = (f"no {MEASURES[value].words}" for value in missing)
        words = f"{', '.join(others)} and {last}" if others else last
        units = ", ".join(dict.fromkeys(MEASURES[value].unit for value in missing))
        origin = self.origins.get(missing[0])
        looked = f": none was taken from {origin.place}" if origin else ""
        return InputError(
            f"{words} is known{looked}",
            where=f"species {self.name}",
            remedy=f"Give your own {', '.join(missing)} for it in the shop file ({units})",
        )

    def source_of(self, value: Value) -> str:
        """Where a value comes from, in words; empty for a value that is missing or unsourced."""
        origin = self.origins.get(value)
        return str(origin) if origin is not None and self.value(value) is not None else ""

    @property
    def botanical_kind(self) -> Density:
        """Softwood if it is a conifer, hardwood if not, whatever its density."""
        return "softwood" if self.group == "softwood" else "hardwood"

    @property
    def timber(self) -> Density:
        """Class of density, as fits and bites have it: our rule, no source.

        Light timber (specific gravity at 12 % below 0.45) counts as softwood and dense timber
        (above 0.50) as hardwood, whatever tree it comes from. Between the two, or with no
        gravity known, conifers are softwood and all others hardwood. A gravity on green volume is
        first brought to 12 % (Wood Handbook (2010), ch. 4, from memory): G / (1 - 0.159 G).
        """
        gravity = self.sg_12
        if gravity is None and self.sg_green is not None:
            gravity = self.sg_green / (1 - 0.265 * 0.6 * self.sg_green)
        if gravity is None or LIGHT <= gravity <= DENSE:
            return self.botanical_kind
        return "softwood" if gravity < LIGHT else "hardwood"

    def coefficient_by_shrinkage(self, direction: Direction) -> float | None:
        """What the coefficient would be by the shrinkage; None where that is not known."""
        total = self.shrink_radial if direction == "radial" else self.shrink_tangential
        return None if total is None else implied_coefficient(total, self.start_of_shrinkage)

    def deviation(self, direction: Direction) -> float | None:
        """How far the coefficient lies above that by the shrinkage [%]; None without both."""
        own = self.c_radial if direction == "radial" else self.c_tangential
        other = self.coefficient_by_shrinkage(direction)
        return None if own is None or other is None else 100 * (own / other - 1)

    @property
    def shows_both(self) -> bool:
        """Whether coefficient and shrinkages lie so far apart that both answers are to be shown."""
        apart = [self.deviation(direction) for direction in get_args(Direction)]
        return any(abs(each) > FAR_APART for each in apart if each is not None)

    @property
    def remarks(self) -> tuple[str, ...]:
        """What to know of its figures before trusting them, as sentences without their end."""
        found = [self.note] if self.note else []
        if self.shows_both:
            found.append(
                "its coefficients and total shrinkages disagree "
                f"({self.disagreement or 'the tables differ'}); within 6 to 14 % the coefficients "
                "are taken"
            )
        return tuple(f"{self.name}: {each}" for each in found)

    def _check(self, value: Value) -> None:
        number, measure = self.value(value), MEASURES[value]
        if number is not None and not measure.low <= number <= measure.high:
            raise RangeError(
                f"{value} ({measure.words}) of {number:g} is not between "
                f"{measure.low:g} and {measure.high:g}",
                where=f"species {self.name}",
                remedy=f"Check the decimal point and the unit: {measure.unit}",
            )

    def _in_order(self, less: Value, more: Value) -> None:
        low, high = self.value(less), self.value(more)
        if low is not None and high is not None and low > high:
            raise RangeError(
                f"{less} of {low:g} is more than {more} of {high:g}",
                where=f"species {self.name}",
                remedy="Check whether the two were swapped",
            )


def own_species(
    name: str,
    values: Mapping[str, float],
    *,
    group: Group | None = None,
    like: Species | None = None,
    botanical: str = "",
) -> Species:
    """A maker's own species: as much as is known, in the units of MEASURES.

    With ``like``, whatever is not given is taken from that species with its source; a group must
    be given without it.

    Raises
    ------
    InputError
        No group is known, or a value is called what no value is called.
    RangeError
        A value is none that wood can have.

    Examples
    --------
    >>> yew = own_species("Yew", {"c_radial": 0.0014, "c_tangential": 0.0021}, group="softwood")
    >>> yew.c_tangential, yew.source_of("c_tangential")
    (0.0021, 'your own figure')
    """
    group = group or (like.group if like else None)
    if group is None:
        raise InputError(
            "no group is given",
            where=f"species {name}",
            remedy=f"Give one of {', '.join(get_args(Group))}, or a species it is like",
        )
    given = {_value_called(called, name): number for called, number in values.items()}
    start = like or Species(name=name, group=group)
    kept = {value: number for value in MEASURES if (number := start.value(value)) is not None}
    moves = any(MEASURES[value].kind in {"movement", "shrinkage"} for value in given)
    mine = Origin(YOUR_OWN, "", YOUR_OWN)
    return Species(
        name=name,
        botanical=botanical or start.botanical,
        group=group,
        start_of_shrinkage=start.start_of_shrinkage,
        origins=MappingProxyType({**start.origins, **dict.fromkeys(given, mine)}),
        disagreement=None if moves else start.disagreement,
        note=start.note,
        **{**kept, **given},
    )


def _value_called(called: str, species: str) -> Value:
    for value in MEASURES:
        if value == called:
            return value
    raise InputError(
        f"no value is called {called!r}",
        where=f"species {species}",
        remedy=f"Use {', '.join(MEASURES)}",
    )
