"""Choosing among the ways to cut a joint: safe first, then the chance to fit, then the work."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from faywright.errors import InfeasibleError, InputError
from faywright.fit.forms import Form, Quantity, Value
from faywright.joints.details import with_detail
from faywright.joints.grooves import (
    BOTH_FACES_INWARD,
    GROOVE_METHODS,
    Declined,
    groove_methods,
)
from faywright.joints.method import Method
from faywright.joints.side_groups import SideGroup
from faywright.joints.solution import Solution, solve
from faywright.joints.task import JointTask
from faywright.joints.tongues import (
    HALF_METHODS,
    ON_EDGE_ONE_FACE,
    TONGUE_METHODS,
    TongueJob,
    strip_as_it_is,
    tongue_methods,
)
from faywright.joints.work import Work
from faywright.setups.hazards import Hazard, worst_first
from faywright.setups.report import StationReport, station_reports
from faywright.shop.cutters import Cutter

SCREENING_TRIALS, LEAST_TRIALS = 2000, 200
SCREENING_DRAWS = 400_000
"""Boards times trials when ways are compared: large piles get fewer trials."""

SAME_CHANCE, SAME_FAILURE = 0.005, 0.3
"""Ways count as equally sure to fit within this chance of the best, or this share of its failures.
"""

NEVER_OFFERED = (BOTH_FACES_INWARD, ON_EDGE_ONE_FACE)
"""Methods that climb or trap the work with any cutter: why they are refused explains nothing."""

NEAR_PROPORTION = 0.15
"""A cutter this near the wanted width of groove, as a share of it, keeps the proportion."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """Which methods with which cutters, whatever they cut: enough to go the same way again."""

    groove: str
    groove_cutters: tuple[str, ...]
    tongue: str
    tongue_cutters: tuple[str, ...]

    def allows(self, method: Method) -> bool:
        """Whether a method, before a detail is added to it, is one of the two."""
        on_groove = method.side == "groove"
        name = self.groove if on_groove else self.tongue
        marks = self.groove_cutters if on_groove else self.tongue_cutters
        own = tuple(cutter.mark for cutter in method.cutters)
        # A detail, if there is one, has its cutter after the method's own.
        return method.name == name and own == marks[: len(own)]


@dataclass(frozen=True, kw_only=True, eq=False)
class Way:
    """One safe way to cut the whole joint: its chance to fit and what it takes."""

    solution: Solution
    hazards: tuple[Hazard, ...]
    setups: int
    passes: int

    @property
    def groove(self) -> Method:
        """How the groove is cut."""
        return self.solution.groove

    @property
    def tongue(self) -> Method:
        """How the tongue is cut."""
        return self.solution.tongue

    @property
    def recipe(self) -> Recipe:
        """What it takes to go the same way with other boards or sizes."""
        return Recipe(
            self.groove.name,
            tuple(cutter.mark for cutter in self.groove.cutters),
            self.tongue.name,
            tuple(cutter.mark for cutter in self.tongue.cutters),
        )

    @property
    def chance(self) -> float:
        """Chance that all joints fit after a trial cut at each setting, as screened."""
        return self.solution.tested.all_fit

    @property
    def proportioned(self) -> bool:
        """Whether the groove is as wide as wanted, to within ``NEAR_PROPORTION``."""
        wanted = self.solution.task.target.width
        width = float(self.solution.sizes(self.groove, self.groove.size).mean())
        return abs(width / wanted - 1) <= NEAR_PROPORTION

    def rank(self, best: float) -> tuple[int, bool, int, int, int]:
        """The surer to fit first, then sound proportions, fewer setups, passes and dangers.

        ``best`` is the best chance of all ways; chances fall in steps below it, finer ones the
        surer the best is.
        """
        dangers = sum(hazard.severity == "danger" for hazard in self.hazards)
        step = int((best - self.chance) / max(SAME_CHANCE, SAME_FAILURE * (1 - best)))
        return (step, not self.proportioned, self.setups, self.passes, dangers)


@dataclass(frozen=True, slots=True)
class Refused:
    """A method that must not be used with these cutters, and why."""

    method: str
    cutters: tuple[str, ...]
    why: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Choice:
    """The chosen way, all safe ways in order of rank, and what was refused or declined.

    ``allowed`` are the ways that use what methods the maker insists on, in order of rank.
    """

    chosen: Way
    ways: tuple[Way, ...]
    allowed: tuple[Way, ...]
    refused: tuple[Refused, ...]
    declined: tuple[Declined, ...]
    forced: bool


def choose(
    task: JointTask, cutters: Sequence[Cutter], *, seed: int = 1, like: Recipe | None = None
) -> Choice:
    """Rank every safe way the cutters on hand can make the joint.

    With ``like``, only those methods and cutters are looked at: much quicker, for a joint of
    which no more than a dimension has changed.

    Raises
    ------
    InfeasibleError
        Nothing on hand can make it safely, or the way the maker forces is not safe.
    InputError
        A method is forced by a name that does not exist.
    """
    _check_forced(task)
    maker = _Maker(task, cutters, seed, like)
    ways = list(maker.ways())
    best = max((way.chance for way in ways), default=0.0)
    ways.sort(key=lambda way: way.rank(best))
    wanted = task.wanted
    allowed = [
        way
        for way in ways
        if wanted.groove_method in (None, way.groove.name)
        and wanted.tongue_method in (None, way.tongue.name)
    ]
    if not allowed:
        raise _infeasible(task, maker)
    return Choice(
        chosen=allowed[0],
        ways=tuple(ways),
        allowed=tuple(allowed),
        refused=tuple(dict.fromkeys(maker.refused)),
        declined=tuple(dict.fromkeys(maker.declined)),
        forced=wanted.groove_method is not None or wanted.tongue_method is not None,
    )


def _check_forced(task: JointTask) -> None:
    wanted = task.wanted
    tongues = HALF_METHODS if wanted.half else TONGUE_METHODS
    for name, known, side in (
        (wanted.groove_method, GROOVE_METHODS, "groove"),
        (wanted.tongue_method, tongues, "tongue"),
    ):
        if name is not None and name not in known:
            raise InputError(
                f"there is no {side} method {name!r}",
                where=f"joint {wanted.name!r}",
                remedy=f"Use one of: {'; '.join(m for m in known if m not in NEVER_OFFERED)}",
            )


def _infeasible(task: JointTask, maker: _Maker) -> InfeasibleError:
    wanted = task.wanted
    where = f"joint {wanted.name!r}"
    asked = {wanted.groove_method, wanted.tongue_method} - {None}
    for refused in maker.refused:
        if refused.method in asked:
            return InfeasibleError(
                f"{refused.method!r} must not be used: {'; '.join(refused.why)}",
                where=where,
                remedy="Leave the method out and take the one that ranks first",
            )
    reasons = "; ".join(dict.fromkeys(f"{d.method}: {d.why}" for d in maker.declined))
    refusals = [
        f"{r.method}: {', '.join(r.why)}" for r in maker.refused if r.method not in NEVER_OFFERED
    ]
    if refusals and not asked:
        return InfeasibleError(
            f"no safe way with the cutters and machine on hand ({'; '.join(refusals)}"
            f"{'; ' if reasons else ''}{reasons})",
            where=where,
            remedy="Change what that names: another cutter, speed, proportion or longer work",
        )
    detail = wanted.detail
    if detail is not None and any(detail.kind in each.method for each in maker.declined):
        return InfeasibleError(
            f"the {detail.kind} along the joint cannot be cut ({reasons})",
            where=where,
            remedy="Leave the detail out, change its size, or list a cutter for it",
        )
    target = task.target
    return InfeasibleError(
        f"no cutter on hand makes it this way ({reasons or 'none is listed that could'})",
        where=where,
        remedy=f"It wants a groove {target.width:.2f} mm wide and {target.depth:.1f} mm deep: add "
        "a cutter for that, or give groove_width to suit one you own",
    )


class _Maker:
    """Builds the safe ways of one joint; every method is looked at once."""

    def __init__(
        self, task: JointTask, cutters: Sequence[Cutter], seed: int, like: Recipe | None
    ) -> None:
        self.task, self.cutters, self.seed, self.like = task, cutters, seed, like
        self.declined: list[Declined] = []
        self.refused: list[Refused] = []
        self._solved: dict[object, Solution] = {}
        self._seen: dict[object, tuple[StationReport, ...]] = {}

    def ways(self) -> Iterator[Way]:
        """Every pair of a safe groove method and a safe tongue method."""
        for cutter in self.cutters:
            made = groove_methods(
                self.task.target, self.task.grooved, cutter, exact=self.task.strip
            )
            width = self.task.target.width
            for groove in self._safe(made, size=width, shoulder=0.0, cheek=float("inf")):
                for tongue in self._tongues(groove):
                    solution = self._solution(groove, tongue)
                    if self._holds(solution):
                        yield self._way(solution)

    def _safe(
        self, made: Iterator[Method | Declined], *, size: float, shoulder: float, cheek: float
    ) -> Iterator[Method]:
        """Methods that can be offered; the others are noted with their reasons."""
        detail = self.task.wanted.detail
        for method in made:
            if isinstance(method, Method) and self.like and not self.like.allows(method):
                continue
            if isinstance(method, Method) and detail is not None:
                method = with_detail(  # noqa: PLW2901 - the detail becomes part of it
                    method, detail, self.cutters, shoulder=shoulder, cheek=cheek
                )
            if isinstance(method, Declined):
                self.declined.append(method)
                continue
            hazards = [h for report in self._reports(method, size) for h in report.hazards]
            never = [h.said(millimetres) for h in hazards if h.severity == "never"]
            if method.never:
                never.append(method.never)
            if never:
                marks = tuple(cutter.mark for cutter in method.cutters)
                self.refused.append(Refused(method.name, marks, tuple(dict.fromkeys(never))))
            else:
                yield method

    def _tongues(self, groove: Method) -> Iterator[Method]:
        task = self.task
        if task.strip:
            yield strip_as_it_is(task.tongued)
            return
        known = _typical(groove, task.grooved, task.target.width)
        wall = _number(groove.surfaces["face-A wall"][1], known)
        job = TongueJob(
            work=task.tongued,
            length=task.target.length,
            near=self._near(wall, self._thickness(groove)),
            thickness=self._thickness(groove),
            half=task.wanted.half,
            centred=groove.follows != 0,
            given=task.target.given,
        )
        cheek = min((float(task.tongued.across.min()) - job.thickness) / 2, job.near)
        made = tongue_methods(job, self.cutters)
        cheek = 0.0 if job.half else cheek
        yield from self._safe(made, size=job.thickness, shoulder=job.length, cheek=cheek)

    def _near(self, wall: float, thickness: float) -> float:
        """Where the face-A cheek should be: over its wall, or centred for a groove in a face."""
        if self.task.grooved.on_face:
            return (self.task.tongued.middle - thickness) / 2
        return wall + self.task.target.play / 2

    def _thickness(self, groove: Method) -> float:
        """Thickness of the tongue that suits a groove. [mm]"""
        target = self.task.target
        known = _typical(groove, self.task.grooved, target.width)
        return _number(groove.size, known) - target.play

    def _holds(self, solution: Solution) -> bool:
        """Whether every board's size is within what its method can make at one setting."""
        if solution.holds:
            return True
        for method in (solution.groove, solution.tongue):
            least, most = solution.range_of(method)
            cutters = " and ".join(cutter.mark for cutter in method.cutters)
            if least < method.limits[0] or most > method.limits[1]:
                self.declined.append(
                    Declined(
                        f"{method.name} with {cutters}",
                        f"boards that share a setting would need {least:.2f} to {most:.2f} mm, "
                        f"and it can make {method.limits[0]:.2f} to {method.limits[1]:.2f}",
                    )
                )
        return False

    def _way(self, solution: Solution) -> Way:
        groove, tongue = solution.groove, solution.tongue
        sides = ((groove, solution.groove_groups), (tongue, solution.tongue_groups))
        sizes = (self.task.target.width, self._thickness(groove))
        hazards: list[Hazard] = []
        setups = passes = 0
        for (method, groups), size in zip(sides, sizes, strict=True):
            boards = sum(len(group.members) for group in groups)
            for report in self._reports(method, size):
                run = report.station.run
                own = method.control in (run.height, run.far)
                hazards += report.hazards
                setups += len(groups) if own else 1
                passes += len(report.results) * boards
        return Way(solution=solution, hazards=worst_first(hazards), setups=setups, passes=passes)

    def _solution(self, groove: Method, tongue: Method) -> Solution:
        """The same closed forms have the same solution, whichever cutter makes them."""
        key = (_signature(groove), _signature(tongue))
        if key not in self._solved:
            boards = max(len(self.task.grooved), len(self.task.tongued))
            trials = max(LEAST_TRIALS, min(SCREENING_TRIALS, SCREENING_DRAWS // boards))
            self._solved[key] = solve(self.task, groove, tongue, trials=trials, seed=self.seed)
        return replace(self._solved[key], groove=groove, tongue=tongue)

    def _reports(self, method: Method, size: float) -> tuple[StationReport, ...]:
        """What every pass does to the middle board, at settings made for it."""
        marks = tuple(cutter.mark for cutter in method.cutters)
        key = (method.side, method.name, marks, tuple(sorted(method.fixed.items())), size)
        if key not in self._seen:
            work = self.task.work(method.side)
            typical = _typical(method, work, size)
            settings = {q: float(v) for q, v in typical.items() if q.kind in ("height", "fence")}
            middle = np.argsort(work.across, kind="stable")[len(work) // 2]
            group = SideGroup(np.array([middle]), settings)
            self._seen[key] = station_reports(self.task.machine, method, work, group)
        return self._seen[key]


def _typical(method: Method, work: Work, size: float) -> dict[Quantity, Value]:
    """Settings that give the middle board ``size``."""
    known = {**method.known(), method.thickness: work.middle}
    if method.control is not None:
        known[method.control] = method.control_for(size, work.middle)
    return known


def _signature(method: Method) -> object:
    return (
        method.name,
        tuple(sorted(method.size.coefficients.items())),
        tuple(sorted(method.fixed.items())),
        tuple(sorted(method.cutter_sizes.items())),
    )


def millimetres(length: float) -> str:
    """A length as reasons for refusing have it."""
    return f"{length:.2f} mm"


def _number(form: Form, known: Mapping[Quantity, Value]) -> float:
    return float(form.value(known))
