"""How many trial cuts it takes until a setting is right, by four ways of working.

Right is a mean clearance within 0.025 mm a side (0.001 in.) of the aim, on boards as they are on
average and with the settings where they really stand. Shops are as :mod:`benchmarks.trial_shop`
has them; the joint is cut in each of ``KINDS``. All ways work in the same shops, with the same
gauge, calipers and rules for what a setting is off by.

- **faywright**: starts from the plan's settings. Of each trial piece thickness, groove or tongue
  and the depth of the face-A cheek are read three times; ``advise`` says what to move, and whether
  to try again; 11 joints are to be cut. **until sure** goes on instead until the mean clearance is
  right with a chance of 9 in 10.
- **next piece**: a month and 40 m of cutting later, another pile in the same shop, with what is
  remembered of the first; or with **nothing remembered**. Zeros have drifted by 0.02 mm (sd), and
  cutters cut up to 0.012 mm narrower; neither is nulled or measured again.
- **whole error**: starts from the same settings. Groove and tongue of the trial piece are
  read once each, and the setting is moved by the whole of what the clearance is off (half of it
  where both faces are cut at one setting), until it reads within 0.025 mm.
- **from nominal**: starts from marked cutters and nominal boards, then as before, but moves by
  half of what the clearance is off each time, so as not to overshoot: creeping up on the fit.
- **by turns**: moves are made by turns of a key or screw and not by setting the gauge anew.
- **all-knowing**: sees what the setting is off as no maker can, and makes it anew until it is
  right. Nobody with that gauge can do better than set it again and again.

A trial counts when its correction is made: within 1 means that the setting was right from the
start, or after the first trial. ``at the end`` is the share right where the way says to stop,
and how many trials it took to say so.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np

from benchmarks.hidden import MARKED, NOMINAL
from benchmarks.panels import MACHINE, QUARTER
from benchmarks.tables import table
from benchmarks.trial_shop import (
    GAUGES,
    KINDS,
    WITHIN,
    Bench,
    Hidden,
    Kind,
    hidden_shop,
    solution_of,
)
from faywright.fit.forms import Quantity
from faywright.joints.solution import Solution
from faywright.joints.tongues import CHEEK_A
from faywright.shop.gauges import Gauge
from faywright.trials.belief import Belief
from faywright.trials.correction import Move, advise
from faywright.trials.memory import entries_of, recalled
from faywright.trials.observing import TrialPiece, first_belief, observed, with_settings
from faywright.trials.pair import Trial
from faywright.trials.update import updated

SEED, SHOPS, CALIBRATED = 29, 300, 2000
MOST_TRIALS = 6
ENOUGH = 0.9
JOINTS_LEFT = 11

BETWEEN_DAYS, BETWEEN_METRES = 30, 40.0
"""From one piece to the next."""

DRIFT, WEAR_MOST = 0.02, 0.012
"""What a zero drifts meanwhile (sd), and the most a cutter wears narrower. [mm]"""

FIRST_DAY = datetime.date(2024, 3, 1)

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Course:
    """How far the mean clearance was off before any trial, and after each, until the end. [mm]"""

    way: str
    gauge: str
    off: tuple[float, ...]

    @property
    def trials(self) -> int:
        """Trials until it was right; one more than there may be where it never was."""
        right = (k for k, off in enumerate(self.off) if abs(off) <= WITHIN)
        return next(right, MOST_TRIALS + 1)

    @property
    def right(self) -> bool:
        """Whether it was right at the end."""
        return abs(self.off[-1]) <= WITHIN


class _Work:
    """One way of working in one shop: a joint as it is set, and what became of it."""

    def __init__(self, hidden: Hidden, solution: Solution, generator: np.random.Generator) -> None:
        self.bench = Bench(hidden, solution, generator)
        groove = TrialPiece(mark="G1", solution=solution, side="groove")
        tongue = TrialPiece(mark="T1", solution=solution, side="tongue")
        self.trial = Trial(groove, tongue)
        self.off: list[float] = []
        self.aim = solution.task.target.play / 2

    def start(self, settings: Mapping[Quantity, float] | None = None) -> None:
        """Make every setting: as planned, but for those given."""
        made = settings or {}
        groove, tongue = (
            replace(
                piece,
                settings={
                    each: self.bench.make(piece, each, made.get(each, planned))
                    for each, planned in piece.as_set.items()
                },
            )
            for piece in self.trial.pieces
        )
        self.trial = Trial(groove, tongue)
        self.look()

    def look(self) -> None:
        """Note how far off things really are."""
        self.off.append(self.bench.clearance(*self.trial.pieces) - self.aim)

    def move(self, moves: Iterable[Move], *, turns: bool = False) -> None:
        """Make some settings anew, by the gauge or by ``turns``."""
        for each in moves:
            piece = self.trial.piece(each.side)
            if turns:
                shown = self.bench.turn(piece, each.quantity, each.by, each.to)
            else:
                shown = self.bench.make(piece, each.quantity, each.to)
            self.trial = self.trial.again({each.side: {each.quantity: shown}})
        self.look()


def faywright(
    hidden: Hidden,
    solution: Solution,
    generator: np.random.Generator,
    belief: Belief,
    *,
    turns: bool = False,
    sure: bool = False,
) -> tuple[_Work, Belief]:
    """Our way, to its end, and what is believed then."""
    work = _Work(hidden, solution, generator)
    first = advise(work.trial, belief)
    work.start({move.quantity: move.to for move in first.moves})
    belief = with_settings(belief, *work.trial.pieces)
    for number in range(1, MOST_TRIALS + 1):
        belief = _learned(work, belief, number)
        advice = advise(work.trial, belief, left=JOINTS_LEFT, cut=["groove"])
        work.move(advice.moves, turns=turns)
        belief = with_settings(belief, *work.trial.pieces)
        if _sure(work, belief) if sure else not advice.another:
            break
    return work, belief


def _sure(work: _Work, belief: Belief) -> bool:
    """Whether the mean clearance is right, as far as can be told."""
    off = NormalDist(*work.trial.off(belief, work.trial.play))
    return off.cdf(WITHIN) - off.cdf(-WITHIN) >= ENOUGH


def _learned(work: _Work, belief: Belief, number: int) -> Belief:
    """What is believed after one trial; the groove is measured with the first."""
    bench = work.bench
    for piece in work.trial.pieces:
        if piece.side == "groove" and number > 1:
            continue
        thickness = bench.offcut()
        cut = bench.cut(piece, thickness)
        size = "groove width" if piece.side == "groove" else "tongue thickness"
        readings = {size: bench.read(float(cut.size[0]))}
        if piece.side == "tongue":
            readings[f"depth of the {CHEEK_A}"] = bench.read(float(cut.near[0]))
        read = bench.read(float(thickness[0]))
        measured = replace(piece, mark=f"{piece.side} {number}", thickness=read)
        belief = updated(belief, observed(measured, readings))
    return belief


def by_error(
    hidden: Hidden,
    solution: Solution,
    generator: np.random.Generator,
    *,
    share: float,
    start: Mapping[Quantity, float] | None = None,
    turns: bool = False,
) -> _Work:
    """A trial piece read once, and a share of what it is off corrected, until it reads right."""
    work = _Work(hidden, solution, generator)
    work.start(start)
    bench = work.bench
    for _ in range(MOST_TRIALS):
        width, thickness = (
            bench.read(float(bench.cut(piece, bench.offcut()).size[0]), 1)[0]
            for piece in work.trial.pieces
        )
        over = (width - thickness) / 2 - work.aim
        if abs(over) <= WITHIN:
            work.look()
            break
        _correct(work, share * over, turns=turns)
    return work


def all_knowing(hidden: Hidden, solution: Solution, generator: np.random.Generator) -> _Work:
    """As near as the gauge can be set."""
    work = _Work(hidden, solution, generator)
    work.start()
    while abs(work.off[-1]) > WITHIN and len(work.off) <= MOST_TRIALS:
        piece = work.trial.adjusted
        own = work.bench.own[piece.side, _control(piece)]
        _correct(work, work.off[-1] - _slope(work) * own)
    return work


def _correct(work: _Work, over: float, *, turns: bool = False) -> None:
    """Move the setting that decides the fit by what the clearance is over."""
    piece = work.trial.adjusted
    control, by = _control(piece), -over / _slope(work)
    work.move([Move(piece.side, control, by, piece.as_set[control] + by)], turns=turns)


def _slope(work: _Work) -> float:
    """How much the clearance grows with the setting that decides it."""
    piece = work.trial.adjusted
    return work.trial.play[piece.side].coefficient(_control(piece))


def _control(piece: TrialPiece) -> Quantity:
    if piece.method.control is None:
        raise ValueError(f"nothing decides the size of a {piece.method.name}")
    return piece.method.control


def nominal_start(solution: Solution) -> dict[Quantity, float]:
    """The settings that decide sizes, from marked cutters and nominal boards. [mm]"""
    groove, tongue = solution.groove, solution.tongue
    width, found = MARKED[QUARTER], dict[Quantity, float]()
    if groove.control is not None:
        width = solution.task.target.width
        found[groove.control] = float(groove.control_for(width, NOMINAL))
    if tongue.control is not None:
        thickness = width - solution.task.target.play
        found[tongue.control] = float(tongue.control_for(thickness, NOMINAL))
    return found


FIRST, SURE, TURNS = "faywright", "faywright, until sure", "faywright, by turns"
SECOND, FORGOTTEN = "faywright, next piece", "faywright, next piece, nothing remembered"
WHOLE, WHOLE_TURNS = "whole error", "whole error, by turns"
CREEPING, KNOWING = "from nominal", "all-knowing"
WAYS = (FIRST, SURE, TURNS, SECOND, FORGOTTEN, WHOLE, WHOLE_TURNS, CREEPING, KNOWING)


def courses(*, shops: int, seed: int = SEED, progress: Progress | None = None) -> list[Course]:
    """Every shop, with every gauge, by every way."""
    found: list[Course] = []
    for number, (name, gauge) in enumerate(GAUGES.items()):
        for k in range(shops):
            if progress is not None:
                progress(number * shops + k, shops * len(GAUGES))
            for kind_number, kind in enumerate(KINDS):
                found += _courses(name, gauge, kind, (seed, number, k, kind_number))
    return found


def _courses(name: str, gauge: Gauge, kind: Kind, key: tuple[int, ...]) -> Iterable[Course]:
    hidden = hidden_shop(gauge, key)
    solution = solution_of(hidden, kind)

    def own(way: str) -> np.random.Generator:
        return np.random.default_rng((*key, 2, WAYS.index(way)))

    def course(way: str, work: _Work) -> Course:
        return Course(way, name, tuple(work.off))

    told = documents(solution)
    ours, belief = faywright(hidden, solution, own(FIRST), told)
    yield course(FIRST, ours)
    yield course(SURE, faywright(hidden, solution, own(SURE), told, sure=True)[0])
    yield course(TURNS, faywright(hidden, solution, own(TURNS), told, turns=True)[0])
    later = worn(hidden, (*key, 3))
    planned = solution_of(later, kind)
    for way, known in (
        (SECOND, remembered(belief, planned)),
        (FORGOTTEN, documents(planned)),
    ):
        yield course(way, faywright(later, planned, own(way), known)[0])
    yield course(WHOLE, by_error(hidden, solution, own(WHOLE), share=1.0))
    yield course(WHOLE_TURNS, by_error(hidden, solution, own(WHOLE_TURNS), share=1.0, turns=True))
    start = nominal_start(solution)
    yield course(CREEPING, by_error(hidden, solution, own(CREEPING), share=0.5, start=start))
    yield course(KNOWING, all_knowing(hidden, solution, own(KNOWING)))


def documents(solution: Solution) -> Belief:
    """What the maker's documents say."""
    cutters = {c.mark: c for c in (*solution.groove.cutters, *solution.tongue.cutters)}
    return first_belief(solution.task.instruments, MACHINE, cutters.values())


def worn(hidden: Hidden, seed: tuple[int, ...]) -> Hidden:
    """The same shop with the next pile: zeros have drifted, cutters have worn, none is measured."""
    generator = np.random.default_rng((*seed, 4))
    fresh = hidden_shop(hidden.gauge, seed).truth
    truth = replace(
        fresh,
        cutters={m: c - WEAR_MOST * generator.random() for m, c in hidden.truth.cutters.items()},
        measured=hidden.truth.measured,
        calipers_zero=hidden.truth.calipers_zero,
    )
    # The pile was read by calipers with another zero error: that is put right.
    shift = hidden.truth.calipers_zero - fresh.calipers_zero
    truth = replace(truth, readings=fresh.readings + shift)
    zeros = {k: z + DRIFT * float(generator.standard_normal()) for k, z in hidden.zeros.items()}
    return replace(hidden, truth=truth, zeros=zeros)


def remembered(belief: Belief, solution: Solution) -> Belief:
    """What the shop remembers a month later."""
    entries = [
        replace(entry, cuts=BETWEEN_METRES)
        for entry in entries_of(belief, on=FIRST_DAY, trial="first piece")
    ]
    today = FIRST_DAY + datetime.timedelta(days=BETWEEN_DAYS)
    return recalled(entries, today, documents(solution))


BEFORE, MEASURED = "before any trial", "after one, as it stood"
FORETOLD, MOVED = "for its correction, foretold", "for its correction, once made"


def held(
    *, shops: int, seed: int = SEED, progress: Progress | None = None
) -> dict[str, list[bool]]:
    """Whether the stated 90 % interval held the clearance of a joint, at each stage and gauge."""
    found: dict[str, list[bool]] = {}
    for number, (name, gauge) in enumerate(GAUGES.items()):
        for k in range(shops):
            if progress is not None:
                progress(number * shops + k, shops * len(GAUGES))
            kind = KINDS[k % len(KINDS)]
            for stage, inside in _held(gauge, kind, (seed, 10 + number, k)):
                found.setdefault(f"{name}: {stage}", []).append(inside)
    return found


def _held(gauge: Gauge, kind: Kind, key: tuple[int, ...]) -> Iterable[tuple[str, bool]]:
    hidden = hidden_shop(gauge, key)
    solution = solution_of(hidden, kind)
    work = _Work(hidden, solution, np.random.default_rng((*key, 2)))
    work.start()

    def inside(low: float, high: float) -> bool:
        return low <= work.bench.joint(*work.trial.pieces) <= high

    belief = with_settings(documents(solution), *work.trial.pieces)
    now = work.trial.clearance(belief)
    yield BEFORE, inside(now.low, now.high)
    belief = _learned(work, belief, 1)
    advice = advise(work.trial, belief, cut=["groove"])
    yield MEASURED, inside(advice.now.low, advice.now.high)
    work.move(advice.moves)
    yield FORETOLD, inside(advice.then.low, advice.then.high)
    made = work.trial.clearance(with_settings(belief, *work.trial.pieces))
    yield MOVED, inside(made.low, made.high)


def report(found: Sequence[Course], intervals: Mapping[str, Sequence[bool]]) -> str:
    """Both tables."""
    count = sum(course.way == FIRST and course.gauge == next(iter(GAUGES)) for course in found)
    stages = len(next(iter(intervals.values()), ()))
    return f"""\
Trial cuts until the mean clearance is within {WITHIN:g} mm a side of the aim; {count} joints a
row, {len(KINDS)} ways of cutting. "within" is the share of them in %; "right" is the share in %
where the way says to stop, "stops" the mean number of trials until then. More than {MOST_TRIALS}
trials are not made.

{_counts(found)}

Share of joints within the stated 90 % interval of their clearance, in %, with standard error;
{stages} shops a row.

{_intervals(intervals)}"""


def _counts(found: Sequence[Course]) -> str:
    rows = []
    for name in GAUGES:
        for way in WAYS:
            of = [course for course in found if course.way == way and course.gauge == name]
            trials = np.array([course.trials for course in of])
            within = [f"{100 * float((trials <= most).mean()):.1f}" for most in (0, 1, 2)]
            right = float(np.mean([course.right for course in of]))
            stops = float(np.mean([len(course.off) - 1 for course in of]))
            rows.append(
                [
                    f"{name}: {way}",
                    _number(float(np.quantile(trials, 0.5, method="higher"))),
                    _number(float(np.quantile(trials, 0.95, method="higher"))),
                    *within,
                    f"{100 * right:.1f}",
                    f"{stops:.1f}",
                ]
            )
    head = ["gauge with steps of [mm]: way", "median", "95 %", "within 0", "within 1", "within 2"]
    return table([*head, "right", "stops"], rows)


def _number(trials: float) -> str:
    return f"{trials:.0f}" if trials <= MOST_TRIALS else f"> {MOST_TRIALS}"


def _intervals(intervals: Mapping[str, Sequence[bool]]) -> str:
    rows = []
    for name, inside in intervals.items():
        share = sum(inside) / len(inside)
        error = (share * (1 - share) / len(inside)) ** 0.5
        rows.append([name, f"{100 * share:.1f} +- {100 * error:.1f}"])
    return table(["gauge with steps of [mm]: stage", "held"], rows)
