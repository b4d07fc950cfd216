"""Readings of a trial that look like slips, asked about while the piece is still in the hand.

Nothing is ever dropped or changed here: a slip is a question to the maker. [mm]
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from faywright.errors import InputError, RangeError
from faywright.trials.belief import Belief, Unknown
from faywright.trials.misreadings import Cause, Kind, causes
from faywright.trials.update import Observation
from faywright.trials.weighing import Outlook, Weighed, weigh

ASKED = 0.05
"""Chance that something is wrong from which on it is asked about. Chosen by simulation: of
trials without a slip about 3 in 1000 are asked about, and of slips that move a reading by more
than 7 standard deviations of what the others foretell at least 95 in 100 are found."""

MENTIONED = 0.1
"""Chance from which on another explanation is named in the question."""


@dataclass(frozen=True, kw_only=True)
class Slip:
    """What may have gone wrong with readings ``at`` of a trial. [mm]

    ``meant`` is what each would have read without it, as the gauge shows it; for readings that
    nothing fits, what was expected. ``chance`` is that of this explanation, ``wrong`` that
    anything at all is wrong with the first of them.
    """

    kind: Kind
    at: tuple[int, ...]
    what: tuple[str, ...]
    meant: tuple[float, ...]
    chance: float
    wrong: float
    question: str


def suspects(
    belief: Belief,
    observations: Sequence[Observation],
    *,
    cutter_radius: float,
    write: Callable[[float], str],
    settings: Collection[Unknown] = (),
    zero_error: float = 0.0,
) -> tuple[Slip, ...]:
    """Slips to ask the maker about, the likeliest first.

    ``settings`` are unknowns whose setting was measured to an edge of the cutter: of these a
    wrong edge shifts every reading that follows from them. ``zero_error`` of the calipers is in
    what they show, and so in the digits that slips are made with. ``write`` writes a length.

    Raises
    ------
    RangeError
        The radius is not that of a cutter.
    InputError
        A setting is none of the unknowns believed in.
    """
    if not 0 < cutter_radius <= 200:
        raise RangeError(
            f"a cutter radius of {cutter_radius:g} mm",
            where="slips of a trial",
            remedy="Give half the cutting diameter, above 0 and at most 200 mm",
        )
    if not math.isfinite(zero_error):
        raise InputError(
            f"a zero error of {zero_error:g} mm",
            where="slips of a trial",
            remedy="Give what the calipers show when closed",
        )
    for setting in settings:
        belief.place(setting)
    if not observations:
        return ()
    possible = causes(
        observations,
        cutter_radius=cutter_radius,
        zero_error=zero_error,
        settings=settings,
        write=write,
    )
    outlook = Outlook.of(belief, observations)
    shown = tuple(each.read + zero_error for each in observations)
    trial = _Trial(
        names=tuple(each.what for each in observations),
        shown=shown,
        foretold=tuple(np.subtract(shown, outlook.residuals).tolist()),
        write=write,
    )
    return tuple(_asked(weigh(outlook, possible), trial))


def _asked(weighed: Weighed, trial: _Trial) -> Iterator[Slip]:
    """A slip for each reading that something is wrong with, unless one before covers it."""
    covered: set[int] = set()
    for at in np.argsort(-weighed.wrong, kind="stable").tolist():
        if weighed.wrong[at] < ASKED or at in covered:
            continue
        (best, chance), *others = _explanations(weighed, at)
        covered.update(best.at)
        question = trial.question(best)
        question += "".join(
            f" Or {trial.happened(cause)}?" for cause, other in others[:2] if other >= MENTIONED
        )
        yield Slip(
            kind=best.kind,
            at=best.at,
            what=tuple(trial.names[each] for each in best.at),
            meant=trial.meant(best),
            chance=chance,
            wrong=float(weighed.wrong[at]),
            question=question,
        )


def _explanations(weighed: Weighed, at: int) -> list[tuple[Cause, float]]:
    """Causes that reach a reading and their chances, the likeliest first."""
    reaching = [
        (cause, chance)
        for cause, chance in zip(weighed.causes, weighed.chances.tolist(), strict=True)
        if at in cause.at
    ]
    return sorted(reaching, key=lambda each: -each[1])


@dataclass(frozen=True)
class _Trial:
    """What is needed to ask: names, readings as shown, what was foretold, and how to write."""

    names: tuple[str, ...]
    shown: tuple[float, ...]
    foretold: tuple[float, ...]
    write: Callable[[float], str]

    def meant(self, cause: Cause) -> tuple[float, ...]:
        """What each reading would have been; for one that nothing fits, what was foretold."""
        if cause.kind == "nothing fits":
            return tuple(self.foretold[at] for at in cause.at)
        return tuple(
            self.shown[at] + shift for at, shift in zip(cause.at, cause.shifts, strict=True)
        )

    def question(self, cause: Cause) -> str:
        """The whole question to the maker."""
        first = cause.at[0]
        if cause.kind == "nothing fits":
            return (
                f"{self.names[first]} reads {self.write(self.shown[first])} where "
                f"{self.write(self.foretold[first])} was foretold, and no slip explains it. "
                "Will you measure it again?"
            )
        read = "; ".join(
            f"{self.names[at]} reads {self.write(self.shown[at])} where {self.write(meant)} "
            "would fit"
            for at, meant in zip(cause.at, self.meant(cause), strict=True)
        )
        happened = self.happened(cause)
        return f"{read}. {happened[0].upper()}{happened[1:]}?"

    def happened(self, cause: Cause) -> str:
        """What may have gone wrong, as a question without its mark."""
        shown, meant = self.shown[cause.at[0]], self.meant(cause)[0]
        size = self.write(abs(meant - shown))
        if cause.setting is not None:
            return (
                f"was the {cause.setting} measured to the wrong edge of the cutter, so that it "
                f"is {self.write(abs(cause.off))} off"
            )
        all_of_it = "were all read" if len(cause.at) > 1 else "was it read"
        inches = "in inches and written as mm" if meant > shown else "in mm and written as inches"
        return {
            "wrong edge": f"was it measured to another edge of the cutter, {size} away",
            "other unit": f"{all_of_it} {inches}",
            "fraction": f"was a fraction of an inch misread, {size} from the one that was meant",
            "decimal point": "did the decimal point slip",
            "digits": f"were two digits exchanged, {self.write(meant)} being meant",
            "turn": f"was the thimble or the scale misread by {size}",
            "swapped": f"did it change places with {self.names[cause.at[-1]]}",
            "nothing fits": "is it none of these, so that it wants measuring again",
        }[cause.kind]
