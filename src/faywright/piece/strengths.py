"""Whether joints and shelves hold their loads: a guide for furniture, with its sums."""

from __future__ import annotations

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
from faywright.timber.members import Grain, LineLoad, groove_wall, tongue
from faywright.timber.runners import GRAVITY, Drawer, Runner, runner_under_drawer
from faywright.timber.species import Species
from faywright.timber.strength import ClearWood, Service
from faywright.timber.strongest import Proportion, Side, strongest_proportion
from faywright.timber.verdict import Verdict

Own = tuple[Species, ...]

PUBLISHED_AT = 12.0
"""Moisture at which strengths are published. [%]"""


@dataclass(frozen=True)
class Strength:
    """Verdicts on the parts of one joint, and the strongest proportion where that is free."""

    verdicts: tuple[Verdict, ...]
    proportion: Proportion | None = None

    @property
    def holds(self) -> bool:
        """Whether nothing is loaded beyond what is allowed."""
        return all(verdict.likely != "no" for verdict in self.verdicts)


def strength_of(solution: Solution, climate: PieceClimate | None, own: Own) -> Strength | None:
    """Whether a joint holds the load given for it; None where none is.

    Raises
    ------
    InputError
        A species is not known, or a strength of it is not published.
    """
    load = solution.task.wanted.load
    if load is None:
        return None
    service = _in_use(load.service, climate)
    if isinstance(load.carries, DrawerLoad):
        return _under_drawer(solution, load.carries, service, own)
    return _pushed(solution, load.carries, service, own)


@dataclass(frozen=True)
class ShelfStrength:
    """A shelf by its name, and whether it holds."""

    name: str
    verdict: Verdict


def shelf_strength(shelf: Shelf, climate: PieceClimate | None, own: Own) -> ShelfStrength:
    """Whether a shelf holds, and how far it sags in years."""
    found = slat(
        clear_wood_of(find_species(shelf.species, own)),
        _in_use(shelf.service, climate),
        shelf.beam,
        load=shelf.mass_kg * GRAVITY,
        spread=shelf.spread,
        creep=shelf.creep,
    )
    return ShelfStrength(shelf.name, found)


def _in_use(service: Service, climate: PieceClimate | None) -> Service:
    """The service with the wettest moisture of the room, where that is known."""
    wettest = PUBLISHED_AT if climate is None else climate.climate.wettest.moisture
    return replace(service, moisture=max(PUBLISHED_AT, wettest))


def _wood(work: Work, own: Own) -> ClearWood:
    """Strengths of a side: those of its first board."""
    part = f"part {work.place.part!r}"
    species = work.boards[0].species
    if not species:
        raise InputError(
            "a load is given for its joint, and it has no species",
            where=part,
            remedy='Write species = "..." for the part, or leave out the load',
        )
    try:
        return clear_wood_of(find_species(species, own))
    except InputError as error:
        raise InputError(f"{species}: {error.what}", where=part, remedy=error.remedy) from None


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
    return Strength((runner_under_drawer(_wood(task.tongued, own), service, drawer, runner),))


def _pushed(solution: Solution, load: LineLoad, service: Service, own: Own) -> Strength:
    """Tongue and groove wall pushed sideways, beside the strongest proportion there is."""
    task, groove = solution.task, solution.groove
    arms = (task.target.length / 2, task.target.depth - task.target.length / 2)
    sides = (
        Side(wood=_wood(task.tongued, own), arm=arms[0], grain=_grain(task.tongued)),
        Side(wood=_wood(task.grooved, own), arm=arms[1], grain=_grain(task.grooved)),
    )
    near = solution.sizes(groove, groove.surfaces["face-A wall"][1])
    far = task.grooved.across - solution.sizes(groove, groove.surfaces["face-B wall"][1])
    wall = float(min(near.min(), far.min()))
    thin = solution.range_of(solution.tongue)[0]
    verdicts = (
        tongue(sides[0].wood, service, load, sides[0].strip(thin)),
        groove_wall(sides[1].wood, service, load, sides[1].strip(wall)),
    )
    proportion = None
    if not task.strip and not task.offset_faces:
        proportion = strongest_proportion(
            service,
            load,
            board=task.tongued.middle,
            tongue_side=sides[0],
            wall_side=sides[1],
            play=task.target.play,
        )
    return Strength(verdicts, proportion)
