"""What a trial says, for a page: the correction first, in words to be read at arm's length."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass

from faywright.app.submissions import Answer
from faywright.app.trial_run import Tried, remembered
from faywright.app.trial_setups import gauge_shows, setup_for
from faywright.app.trial_words import CAUSES, another, as_set, expected, setting_named
from faywright.piece.plan import Plan
from faywright.piece.words import MOVES, PAST, Write
from faywright.setups.setup import Change, change_by
from faywright.trials.correction import Move

CLOSE = 0.01
"""A turn of the key is said as one part of so many if that is as near as this. [turns]"""


@dataclass(frozen=True, slots=True)
class MoveTold:
    """One move: of which setting, what to do, and what its gauge then shows."""

    setup: int | None
    kind: str
    of: str
    do: str
    shows: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialTold:
    """The answer to a trial that was kept."""

    trial: int
    group: str
    taken: tuple[str, ...]
    left: tuple[str, ...]
    moves: tuple[MoveTold, ...]
    now: str
    then: str
    again: bool
    another: str
    causes: tuple[str, ...]
    kept: tuple[str, ...]

    def json(self) -> dict[str, object]:
        """As plain values, to be kept."""
        return asdict(self)


def told_of(found: Tried, number: int) -> TrialTold:
    """What a trial that was kept as ``number`` says."""
    outcome, plan, write = found.outcome, found.informed.plan, found.write
    advice = outcome.advice
    return TrialTold(
        trial=number,
        group=outcome.measured.group,
        taken=tuple(as_set(outcome, plan, write, left=False)),
        left=tuple(as_set(outcome, plan, write, left=True)),
        moves=tuple(_move(found, move, plan) for move in advice.moves),
        now=expected(advice.now, write),
        then=expected(advice.then, write),
        again=advice.another,
        another=another(advice),
        causes=tuple(CAUSES[cause] for cause in advice.causes),
        kept=tuple(remembered(found, number)),
    )


def told_again(answer: Answer) -> TrialTold:
    """What ``TrialTold.json`` gave."""
    values = dict(answer)
    for name in ("taken", "left", "causes", "kept"):
        values[name] = tuple(_listed(values[name]))
    values["moves"] = tuple(
        MoveTold(**move) for move in _listed(values["moves"]) if isinstance(move, dict)
    )
    return TrialTold(**values)  # type: ignore[arg-type] # as they were kept


def _listed(values: object) -> list[object]:
    return list(values) if isinstance(values, list | tuple) else []


def _move(found: Tried, move: Move, plan: Plan) -> MoveTold:
    piece, quantity = found.outcome.trial.piece(move.side), move.quantity
    setup = setup_for(plan, piece, quantity)
    raised, fence = (move.by, 0.0) if quantity.kind == "height" else (0.0, move.by)
    shows = found.write(gauge_shows(plan, piece, quantity, move.to))
    return MoveTold(
        setup=None if setup is None else setup.number,
        kind=quantity.kind,
        of=setting_named(plan, piece, quantity),
        do=done_by(change_by(plan.machine, raised, fence), found.fine) or "Set it anew",
        shows=shows,
    )


def done_by(change: Change, fine: Write) -> str:
    """A move of cutter or fence as something to do; empty where there is none."""
    if abs(change.raised) > 1e-6:
        return _lifted(change, fine)
    if abs(change.fence) > 1e-6:
        end = change.fence_end
        told = f"{_capital(MOVES[change.fence_way])}, {fine(abs(change.fence))}"
        return told if end is None else f"{told}: {fine(abs(end))} at its free end"
    return ""


def _lifted(change: Change, fine: Write) -> str:
    up = change.raised > 0
    told = f"{_capital(MOVES['raise' if up else 'lower'])} {fine(abs(change.raised))}"
    if change.turns is None:
        return told
    turns = abs(change.turns)
    if up:
        return f"{told}: {turned(turns)} of the key"
    return f"{told}: {turned(turns + PAST)} of the key down, then {turned(PAST)} up"


def turned(turns: float) -> str:
    """Turns of the key, small ones as a part of one.

    >>> turned(0.04), turned(0.5), turned(0.42), turned(1.6)
    ('1/25 turn', '1/2 turn', '0.42 turns', '1.60 turns')
    """
    parts = round(1 / turns) if turns > 0.001 else 1000
    if parts >= 2 and abs(1 / parts - turns) < CLOSE:
        return f"1/{parts} turn"
    return f"{turns:.2f} turns"


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]


def moved_gauges(told: TrialTold) -> Mapping[str, str]:
    """What gauges show after the moves, by the names of their fields, for the next trial."""
    return {
        f"set-{move.kind}-{move.setup}": move.shows for move in told.moves if move.setup is not None
    }
