"""What a trial says, in words and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from faywright.app.trial_cut import Outcome
from faywright.app.trial_setups import gauge_shows, setup_for
from faywright.fit.forms import Quantity
from faywright.piece.plan import Plan
from faywright.piece.rounded import mm
from faywright.piece.words import Write, changed, percent
from faywright.setups.setup import change_by
from faywright.trials.correction import Advice, Cause, Move
from faywright.trials.observing import TrialPiece
from faywright.trials.spreads import Clearance

FORMAT = "faywright trial 1"

CAUSES: dict[Cause, str] = {
    "boards": "the boards differ more than one setting can serve: sort them into more groups, or "
    "plane them again",
    "gauge": "the gauge that sets it is not good enough: use a finer one, or a stop",
    "calipers": "the calipers are not good enough: measure more often, or with better ones",
    "cutter": "the cutter decides the size, and no setting: measure what it cuts and plan again",
    "moved": "the setting did not stay where it was set: look at the lock of fence and lift",
}


def outcome_lines(outcome: Outcome, plan: Plan, write: Write, fine: Write) -> Iterator[str]:
    """Questions first; without any, what to move, what to expect, and whether to try again."""
    yield from _settings_lines(outcome, plan, write)
    if outcome.slips:
        yield "Before anything is moved or remembered:"
        for slip in outcome.slips:
            yield f"? {slip.question}"
        yield "Measure again and give the trial anew, or say --sure if the readings stand."
        return
    advice = outcome.advice
    for move in advice.moves:
        yield f"Move {moved(outcome, move, plan, write, fine)}."
    if not advice.moves:
        yield "Leave the settings alone."
    yield f"As it was set: {expected(advice.now, write)}."
    if advice.moves:
        yield f"Then: {expected(advice.then, write)}."
    yield from _another_lines(outcome, plan, write)
    yield from (f"What still keeps joints out of their band: {CAUSES[c]}." for c in advice.causes)


def _settings_lines(outcome: Outcome, plan: Plan, write: Write) -> Iterator[str]:
    """What gauges are taken to have shown, so that the maker can say if it was otherwise."""
    if made := list(as_set(outcome, plan, write, left=False)):
        yield f"Taken as set: {'; '.join(made)}."
    if left := list(as_set(outcome, plan, write, left=True)):
        yield (
            f"Taken as left since the last trial: {'; '.join(left)}. Say --anew if all were set "
            "anew."
        )


def _another_lines(outcome: Outcome, plan: Plan, write: Write) -> Iterator[str]:
    """Whether one more trial is worth it, and how to tell it what was moved."""
    yield another(outcome.advice)
    if told := " ".join(_to_tell(outcome, plan, write)):
        yield f"If you try another piece after these moves, tell it {told}."


def another(advice: Advice) -> str:
    """Whether one more trial is worth it."""
    if advice.another:
        return f"One more trial piece is worth it: it would save about {advice.saves:.1f} joints."
    return "Another trial piece would not be worth its time: go on."


def _to_tell(outcome: Outcome, plan: Plan, write: Write) -> Iterator[str]:
    """Options that tell the next trial what was moved for it."""
    for move in outcome.advice.moves:
        piece = outcome.trial.piece(move.side)
        setup = setup_for(plan, piece, move.quantity)
        if setup is not None:
            shown = write(gauge_shows(plan, piece, move.quantity, move.to))
            yield f"--set-{move.quantity.kind} '{setup.number}={shown}'"


def as_set(outcome: Outcome, plan: Plan, write: Write, *, left: bool) -> Iterator[str]:
    """The settings that what was measured speaks of, with what gauges are taken to have shown."""
    spoken = {unknown for each in outcome.observations for unknown in each.row}
    for piece in outcome.trial.pieces:
        for quantity, value in piece.as_set.items():
            setting = piece.setting(quantity)
            if setting in spoken and (setting in outcome.left) == left:
                told = f"{setting_named(plan, piece, quantity)}, {quantity.kind}"
                shown = write(gauge_shows(plan, piece, quantity, value))
                yield told if left else f"{told} {shown}"


def moved(outcome: Outcome, move: Move, plan: Plan, write: Write, fine: Write) -> str:
    """One move, with turns of the key or the fence's free end, and what the gauge will show."""
    piece, quantity = outcome.trial.piece(move.side), move.quantity
    raised, fence = (move.by, 0.0) if quantity.kind == "height" else (0.0, move.by)
    told = changed(change_by(plan.machine, raised, fence), fine)
    shown = write(gauge_shows(plan, piece, quantity, move.to))
    if not told:
        return f"{setting_named(plan, piece, quantity)}: set it anew, until the gauge shows {shown}"
    return f"{setting_named(plan, piece, quantity)}: {told}; the gauge then shows {shown}"


def setting_named(plan: Plan, piece: TrialPiece, quantity: Quantity) -> str:
    """A setting by the number of its setup, and what it is for."""
    setup = setup_for(plan, piece, quantity)
    what = quantity.key if quantity.key == piece.side else f"{piece.side}'s {quantity.key}"
    return f"the {what}" if setup is None else f"setup {setup.number} ({what})"


def expected(clearance: Clearance, write: Write) -> str:
    """The clearance of joints cut so, with its interval, and their chance to fit."""
    return (
        f"{write(clearance.mean)} of clearance a side ({write(clearance.low)} to "
        f"{write(clearance.high)}, 9 times in 10); chance of a joint to fit: "
        f"{percent(clearance.chance)}"
    )


def outcome_json(outcome: Outcome, plan: Plan) -> dict[str, Any]:
    """The outcome for programs, lengths in millimetres; no advice where there are questions."""
    advice = outcome.advice
    found: dict[str, Any] = {
        "format": FORMAT,
        "joint": outcome.measured.joint,
        "group": outcome.measured.group,
        "questions": [
            {
                "what": list(slip.what),
                "kind": slip.kind,
                "question": slip.question,
                "chance": round(slip.wrong, 4),
            }
            for slip in outcome.slips
        ],
        "advice": None,
        "believed": [
            {
                "kind": unknown.kind,
                "of": unknown.owner,
                "mean_mm": mm(outcome.after.of(unknown)[0]),
                "deviation_mm": mm(outcome.after.of(unknown)[1]),
            }
            for unknown in outcome.after.unknowns
        ],
    }
    if not outcome.slips:
        found["advice"] = {
            "moves": [_move_json(outcome, move, plan) for move in advice.moves],
            "as_set": _clearance_json(advice.now),
            "after_moves": _clearance_json(advice.then),
            "another_trial_saves_joints": round(advice.saves, 3),
            "another_trial_is_worth_it": advice.another,
            "causes": list(advice.causes),
        }
    return found


def _move_json(outcome: Outcome, move: Move, plan: Plan) -> dict[str, Any]:
    piece = outcome.trial.piece(move.side)
    setup = setup_for(plan, piece, move.quantity)
    return {
        "setup": None if setup is None else setup.number,
        "side": move.side,
        "setting": move.quantity.kind,
        "of": move.quantity.key,
        "by_mm": mm(move.by),
        "to_true_mm": mm(move.to),
        "gauge_shows_mm": mm(gauge_shows(plan, piece, move.quantity, move.to)),
    }


def _clearance_json(clearance: Clearance) -> dict[str, Any]:
    return {
        "clearance_per_side_mm": mm(clearance.mean),
        "low_90_mm": mm(clearance.low),
        "high_90_mm": mm(clearance.high),
        "chance": round(clearance.chance, 4),
    }
