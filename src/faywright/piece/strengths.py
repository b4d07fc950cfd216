"""Whether joints and shelves hold their loads: a guide for furniture, with its sums."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from faywright.errors import InputError
from faywright.joints.loads import DrawerLoad
from faywright.joints.solution import Solution
from faywright.joints.work import Work
from faywright.piece.climate_table import PieceClimate
from faywright.piece.load_tables import Shelf
from faywright.timber.beams import slat
from faywright.timber.figures import clear_wood_of
from faywright.timber.finding import find_species
from faywright.timber.measures import Value
from faywright.timber.members import Grain, LineLoad, Strip, groove_wall, tongue
from faywright.timber.runners import GRAVITY, Drawer, Runner, runner_under_drawer
from faywright.timber.species import Species
from faywright.timber.strength import WETTEST, ClearWood, Service
from faywright.timber.strongest import Proportion, Side, strongest_proportion
from faywright.timber.verdict import Verdict

Own = tuple[Species, ...]

PUBLISHED_AT = 12.0
"""Moisture at which strengths are published. [%]"""


ALONG: tuple[Value, ...] = ("shear_par", "tension_perp")
OUT_OF: tuple[Value, ...] = ("mor", "shear_par")
RUNNER: tuple[Value, ...] = (*ALONG, "compression_perp")
SHELF: tuple[Value, ...] = ("mor", "shear_par", "moe")
"""What has to be known of the timber of a tongue or wall whose grain runs along the edge or out of
it, of a runner, and of a shelf."""


@dataclass(frozen=True)
class Strength:
    """Verdicts on the parts of one joint, and the strongest proportion where that is free.

    ``unjudged`` says why there are no verdicts; it is empty where there are.
    """

    verdicts: tuple[Verdict, ...]
    proportion: Proportion | None = None
    unjudged: str = ""

    @property
    def holds(self) -> bool:
        """Whether it is known that nothing is loaded beyond what is allowed."""
        return not self.unjudged and all(verdict.likely != "no" for verdict in self.verdicts)


def strength_of(solution: Solution, climate: PieceClimate | None, own: Own) -> Strength | None:
    """Whether a joint holds the load given for it; None where none is.

    Of boards of several species the weakest counts.

    Raises
    ------
    InputError
        A species is not known, or a strength of it is not published.
    """
    load = solution.task.wanted.load
    if load is None:
        return None
    unjudged = _too_wet(climate)
    if unjudged:
        return Strength((), unjudged=unjudged)
    service = _in_use(load.service, climate)
    try:
        if isinstance(load.carries, DrawerLoad):
            return _under_drawer(solution, load.carries, service, own)
        return _pushed(solution, load.carries, service, own)
    except InputError as error:
        where = f"load of joint {solution.task.wanted.name!r}, {error.where}"
        raise type(error)(error.what, where=where, remedy=error.remedy) from None


@dataclass(frozen=True)
class ShelfStrength:
    """A shelf by its name, and whether it holds; None where ``unjudged`` says why not told."""

    name: str
    verdict: Verdict | None
    unjudged: str = ""

    @property
    def holds(self) -> bool:
        """Whether it is known to hold."""
        return self.verdict is not None and self.verdict.likely != "no"


def shelf_strength(shelf: Shelf, climate: PieceClimate | None, own: Own) -> ShelfStrength:
    """Whether a shelf holds, and how far it sags in years.

    Raises
    ------
    InputError
        Its species is not known, or a strength of it is not published.
    """
    unjudged = _too_wet(climate)
    if unjudged:
        return ShelfStrength(shelf.name, None, unjudged)
    try:
        wood = clear_wood_of(find_species(shelf.species, own), SHELF)
    except InputError as error:
        where = f"shelf {shelf.name!r}"
        raise InputError(_whose(error, shelf.species), where=where, remedy=error.remedy) from None
    found = slat(
        wood,
        _in_use(shelf.service, climate),
        shelf.beam,
        load=shelf.mass_kg * GRAVITY,
        spread=shelf.spread,
        creep=shelf.creep,
    )
    return ShelfStrength(shelf.name, found)


def _wettest(climate: PieceClimate | None) -> float:
    """The wettest that wood gets, where that is known, but no drier than it was tested. [%]"""
    return PUBLISHED_AT if climate is None else max(PUBLISHED_AT, climate.climate.wettest.moisture)


def _too_wet(climate: PieceClimate | None) -> str:
    """Why no strength can be told; empty where one can."""
    wettest = _wettest(climate)
    if wettest <= WETTEST:
        return ""
    return f"the wood gets as wet as {wettest:.1f} %, and above {WETTEST:g} % no strength is judged"


def _in_use(service: Service, climate: PieceClimate | None) -> Service:
    """The service with the wettest moisture there is."""
    return replace(service, moisture=_wettest(climate))


def _woods(work: Work, needed: tuple[Value, ...], own: Own) -> tuple[ClearWood, ...]:
    """Strengths of the species on a side, each once."""
    part = f"part {work.place.part!r}"
    found = []
    for species in dict.fromkeys(board.species for board in work.boards):
        if not species:
            raise InputError(
                "a load is given for its joint, and it has no species",
                where=part,
                remedy='Write species = "..." for the part, or leave out the load',
            )
        try:
            found.append(clear_wood_of(find_species(species, own), needed))
        except InputError as error:
            raise InputError(_whose(error, species), where=part, remedy=error.remedy) from None
    return tuple(found)


def _whose(error: InputError, species: str) -> str:
    """The fault with the species as the maker wrote it, unless it names that itself."""
    return error.what if repr(species) in error.what else f"{species}: {error.what}"


def _weakest(
    woods: tuple[ClearWood, ...], judged: Callable[[ClearWood], Verdict]
) -> tuple[ClearWood, Verdict]:
    """The wood that uses most of what it is allowed, named where there are others."""
    wood, verdict = max(
        ((wood, judged(wood)) for wood in woods), key=lambda found: found[1].utilisation
    )
    if len(woods) > 1:
        verdict = replace(verdict, member=f"{verdict.member} of {wood.name}")
    return wood, verdict


def _grain(work: Work) -> Grain:
    return "out of the edge" if work.end_grain else "along the edge"


def _under_drawer(solution: Solution, carries: DrawerLoad, service: Service, own: Own) -> Strength:
    """The runner, or the half tongue a drawer hangs on: it carries at its root."""
    task = solution.task
    engaged = task.target.length
    drawer = Drawer(
        mass_kg=carries.mass_kg,
        length=float(task.grooved.along.min()),
        pulled_out=carries.pulled_out,
        lean=carries.lean,
    )
    runner = Runner(
        thickness=solution.range_of(solution.tongue)[0],
        projection=engaged if carries.projection is None else carries.projection,
        engagement=engaged,
    )
    _, verdict = _weakest(
        _woods(task.tongued, RUNNER, own),
        lambda wood: runner_under_drawer(wood, service, drawer, runner),
    )
    return Strength((verdict,))


def _pushed(solution: Solution, load: LineLoad, service: Service, own: Own) -> Strength:
    """Tongue and groove wall pushed sideways, beside the strongest proportion there is."""
    task, groove = solution.task, solution.groove
    arms = (task.target.length / 2, task.target.depth - task.target.length / 2)
    near = solution.sizes(groove, groove.surfaces["face-A wall"][1])
    far = task.grooved.across - solution.sizes(groove, groove.surfaces["face-B wall"][1])
    wall = float(min(near.min(), far.min()))
    thin = solution.range_of(solution.tongue)[0]

    def strip(work: Work, arm: float, thickness: float) -> Strip:
        return Strip(thickness=thickness, arm=arm, grain=_grain(work))

    thin_strip, thin_wall = strip(task.tongued, arms[0], thin), strip(task.grooved, arms[1], wall)
    tongue_wood, of_tongue = _weakest(
        _woods(task.tongued, _needed(task.tongued), own),
        lambda wood: tongue(wood, service, load, thin_strip),
    )
    wall_wood, of_wall = _weakest(
        _woods(task.grooved, _needed(task.grooved), own),
        lambda wood: groove_wall(wood, service, load, thin_wall),
    )
    proportion = None
    if not task.strip and not task.offset_faces:
        proportion = strongest_proportion(
            service,
            load,
            board=task.tongued.middle,
            tongue_side=Side(wood=tongue_wood, arm=arms[0], grain=_grain(task.tongued)),
            wall_side=Side(wood=wall_wood, arm=arms[1], grain=_grain(task.grooved)),
            play=task.target.play,
        )
    return Strength((of_tongue, of_wall), proportion)


def _needed(work: Work) -> tuple[Value, ...]:
    """What has to be known of a side that is pushed."""
    return OUT_OF if work.end_grain else ALONG
