"""What to do after a trial cut: which way to move and how far, what to expect, when to stop.

A setting that is made anew is off by something new. What the old one was off by itself is gone
with it; what lasts (zeros, cutters, ride) is counted in. So a setting is worth making anew only
if what it is off by is more than what the gauge scatters.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import Literal

from faywright.fit.forms import Quantity
from faywright.joints.joint_errors import TRIAL_READINGS
from faywright.joints.method import Side
from faywright.trials.belief import Belief, Unknown
from faywright.trials.observing import TrialPiece, observed, with_settings
from faywright.trials.pair import Parts, Trial
from faywright.trials.spreads import Clearance
from faywright.trials.update import updated

WORTH_A_PIECE = 0.25
"""Joints that another trial has to save, on average, to be worth a test piece and its time. Common
practice, no source: a quarter of a spoilt joint."""

SAME_CHANCE = 0.001
"""Chances to fit that differ by no more are taken for equal: then it is closeness to the plan that
decides."""

SURE = 0.9
"""Chance to fit from which on no cause of misses is looked for."""

MATTERS = 0.25
"""Share of the spread from which on a cause is named."""

STRAYED = 3.0
"""A setting this many standard uncertainties of its gauge off did not stay where it was set."""

LIKELY = tuple(NormalDist().inv_cdf((k + 0.5) / 25) for k in range(25))
"""What a standard normal draw may be, each as likely as the others."""

Cause = Literal["moved", "boards", "gauge", "calipers", "cutter"]
"""What keeps joints out of their band: a setting that did not stay where it was set; boards that
differ at one setting; a gauge that cannot set any closer; calipers that cannot tell any closer;
a cutter that decides the size, where no setting does."""


@dataclass(frozen=True, slots=True)
class Move:
    """A setting to be made anew. [mm]

    ``by`` is how far cutter or fence really have to go, ``to`` what the gauge, zeroed as ever,
    then has to say. The two differ by what the old setting was off by itself: it may be moved
    without the gauge having to say anything else.
    """

    side: Side
    quantity: Quantity
    by: float
    to: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What to do after a trial. [mm]

    ``moves`` are empty where everything is best left alone; ``following`` are the pieces with
    them made. ``now`` is a joint as things are set, ``then`` after the moves. ``saves`` is how
    many joints one more trial would save on average. ``causes`` name what keeps joints out of
    their band, the largest first, and ``strayed`` the settings that did not stay where they were
    set.
    """

    moves: tuple[Move, ...]
    following: Trial
    now: Clearance
    then: Clearance
    saves: float
    causes: tuple[Cause, ...]
    strayed: tuple[Unknown, ...]

    @property
    def another(self) -> bool:
        """Whether one more trial piece is worth it."""
        return self.saves >= WORTH_A_PIECE


def advise(
    trial: Trial, belief: Belief, *, left: int | None = None, cut: Collection[Side] = ()
) -> Advice:
    """What to move after a trial, what to expect of it, and whether to try once more.

    The setting that decides the fit is moved where that raises the chance to fit, others where
    what they decide comes closer to the plan. Settings that ``belief`` does not speak of are taken
    for not yet made: to correct those costs nothing. ``left`` is how many joints are still to be
    cut at these settings, all of the group if not given. The boards of sides in ``cut`` are all
    cut already, and nothing is moved there.
    """
    before = _State(trial, with_settings(belief, *trial.pieces))
    state, moves = before, list[Move]()
    for aim in _aims(trial, cut):
        move = state.move(aim)
        after = state.after(move)
        made = trial.piece(aim.side).setting(aim.quantity) in belief.unknowns
        if abs(move.by) >= state.least(aim, made=made) and after.better(state, aim):
            moves.append(move)
            state = after
    now = trial.clearance(before.belief)
    then = state.trial.clearance(state.belief) if moves else now
    outlook = _Outlook.of(state)
    strayed = tuple(_strayed(before))
    movable = outlook.decides and trial.adjusted.side not in cut
    count = len(trial.joints) if left is None else left
    return Advice(
        moves=tuple(moves),
        following=state.trial,
        now=now,
        then=then,
        saves=count * outlook.gain if movable else 0.0,
        causes=(*(("moved",) if strayed else ()), *_causes(outlook, then)),
        strayed=strayed,
    )


@dataclass(frozen=True, slots=True)
class _Aim:
    """A setting, and the dimension of the joint that it is for."""

    side: Side
    quantity: Quantity
    parts: Parts
    decides: bool


def _aims(trial: Trial, cut: Collection[Side]) -> Iterator[_Aim]:
    """Every setting that may be moved; the one that decides the fit is last, to suit the others.

    Where the tongue is fitted to the groove, the groove's own deciding setting is left alone.
    """
    for piece in trial.pieces:
        if piece.side in cut:
            continue
        seen = {piece.method.control}
        for reading in piece.method.readings:
            if reading.quantity is not None and reading.quantity not in seen:
                seen.add(reading.quantity)
                yield _Aim(piece.side, reading.quantity, {piece.side: reading.form}, decides=False)
    piece = trial.adjusted
    if piece.method.control is not None and piece.side not in cut:
        yield _Aim(piece.side, piece.method.control, trial.play, decides=True)


@dataclass(frozen=True, eq=False)
class _State:
    """Pieces as they are set, and what is believed with their settings in it."""

    trial: Trial
    belief: Belief

    def _over(self, aim: _Aim) -> float:
        """How far beyond where it should be a setting is. [mm]"""
        return self.off(aim)[0] / aim.parts[aim.side].coefficient(aim.quantity)

    def least(self, aim: _Aim, *, made: bool) -> float:
        """The least move worth making: what the gauge scatters, or what it shows. [mm]"""
        gauge = self.trial.piece(aim.side).instruments.gauge_for(aim.quantity)
        return gauge.standard_uncertainty if made else gauge.resolution / 2

    def move(self, aim: _Aim) -> Move:
        """The setting made anew so that what it is for is expected where the plan has it."""
        here = self.trial.piece(aim.side).as_set[aim.quantity]
        anew = self.after(Move(aim.side, aim.quantity, 0.0, here))
        to = here - anew._over(aim)
        return Move(aim.side, aim.quantity, -self._over(aim), to)

    def after(self, move: Move) -> _State:
        """What a move makes of it."""
        trial = self.trial.again({move.side: {move.quantity: move.to}})
        return _State(trial, with_settings(self.belief, *trial.pieces))

    def off(self, aim: _Aim) -> tuple[float, float]:
        """How far what a setting is for is from the plan: mean and deviation. [mm]"""
        return self.trial.off(self.belief, aim.parts)

    def better(self, other: _State, aim: _Aim) -> bool:
        """Whether this is likelier to fit, or else closer to the plan."""
        here, there = self.off(aim), other.off(aim)
        if aim.decides:
            gained = self._chance(*here) - self._chance(*there)
            if abs(gained) > SAME_CHANCE:
                return gained > 0
        return math.hypot(*here) < math.hypot(*there)

    def _chance(self, off: float, deviation: float) -> float:
        return self.trial.spreads(off, deviation).chance(self.trial.solution.band)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Outlook:
    """What one more trial would do, and what the spread of the clearance is made of. [mm2]

    ``gain`` is how much it would raise the chance of a joint to fit. ``boards`` is the variance
    at one setting, ``unread`` what one more trial would leave open, ``unset`` the rest of it, and
    ``off`` the square of what the mean is off the plan.
    """

    decides: bool
    gain: float
    boards: float
    unread: float
    unset: float
    off: float

    @staticmethod
    def of(state: _State) -> _Outlook:
        trial, piece = state.trial, state.trial.adjusted
        off, deviation = trial.off(state.belief, trial.play)
        known = _State(trial, _tried_again(piece, state.belief))
        _, unread = trial.off(known.belief, trial.play)
        unset = max(deviation**2 - unread**2, 0.0)
        control, gain = piece.method.control, 0.0
        if control is not None:
            aim = _Aim(piece.side, control, trial.play, decides=True)
            anew = known.after(Move(piece.side, control, 0.0, piece.as_set[control]))
            corrected = trial.spreads(0.0, anew.off(aim)[1]).chance(trial.solution.band)
            found = (off + math.sqrt(unset) * draw for draw in (LIKELY if unset > 0 else (0.0,)))
            left = [trial.spreads(each, unread).chance(trial.solution.band) for each in found]
            gain = sum(max(0.0, corrected - each) for each in left) / len(left)
        return _Outlook(
            decides=control is not None,
            gain=gain,
            boards=float((trial.board_deviations**2).mean() + trial.planned.var()),
            unread=unread**2,
            unset=unset,
            off=off**2,
        )


def _tried_again(piece: TrialPiece, belief: Belief) -> Belief:
    """What would be believed after one more piece at the same settings, but for its mean.

    How sure one becomes does not depend on what is read.
    """
    control = piece.method.control
    size = next((r.what for r in piece.method.readings if r.quantity == control), None)
    if size is None:
        return belief
    any_length = (1.0,) * TRIAL_READINGS
    more = replace(piece, mark=f"{piece.mark}, once more", thickness=any_length)
    return updated(belief, observed(more, {size: any_length}))


def _strayed(state: _State) -> Iterator[Unknown]:
    for piece in state.trial.pieces:
        for quantity in piece.as_set:
            setting = piece.setting(quantity)
            mean, _ = state.belief.of(setting)
            if abs(mean) > STRAYED * piece.instruments.gauge_for(quantity).standard_uncertainty:
                yield setting


def _causes(outlook: _Outlook, then: Clearance) -> tuple[Cause, ...]:
    """What spreads the clearance the most, where joints still miss their band."""
    if then.chance >= SURE:
        return ()
    shares: dict[Cause, float] = {"boards": outlook.boards, "calipers": outlook.unread}
    if outlook.decides:
        shares["gauge"] = outlook.unset
    else:
        shares["cutter"] = outlook.unset + outlook.off
    whole = sum(shares.values())
    ordered = sorted(shares, key=lambda cause: -shares[cause])
    return tuple(cause for cause in ordered if shares[cause] >= MATTERS * whole)
