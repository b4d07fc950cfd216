"""What a maker does at the bench with the shop's memory: plan with it, and try."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from faywright.app.knowledge import Knowledge, entries_in, knowledge, with_own_bands
from faywright.app.memory import Felt, Memory
from faywright.app.recall import recall
from faywright.errors import InputError
from faywright.piece.model import Piece
from faywright.piece.plan import Plan, plan
from faywright.shop.inventory import Shop
from faywright.trials.feel import WORDS, Report, Word

Store = str | Path | None


@dataclass(frozen=True, eq=False)
class Informed:
    """A plan made with all that the shop knows, and what that is.

    ``shop`` is as its documents have it, ``known`` as it is believed to be on the day.
    """

    plan: Plan
    known: Knowledge
    shop: Shop
    memory: Memory
    today: datetime.date

    def having_cut(self, cutter: str, metres: float) -> Knowledge:
        """What is known now that a cutter has cut so many metres since new or sharpened.

        It wore since its last trial, so that its size is known less well; its mean stays, and
        with it the plan.

        Raises
        ------
        InputError
            Those are fewer metres than it had cut before.
        """
        told = dict(self.memory.cut)
        if cutter not in told:  # nothing was told before: what it cut since cannot be known
            return self.known
        since = metres - told[cutter]
        if since < 0:
            raise InputError(
                f"{metres:g} m are fewer than the {told[cutter]:g} m it had cut by its last trial",
                where=f"metres of cutter {cutter}",
                remedy="Give all it has cut since new or sharpened, or tell the shop that it was "
                "sharpened since",
            )
        return knowledge(self.shop, entries_in(self.memory), self.today, metres={cutter: since})


@dataclass(frozen=True, eq=False)
class Ground:
    """What a plan is made on: a piece with the maker's own bands, and the shop as it is known.

    ``shop`` is as its documents have it, ``known`` as it is believed to be on the day. ``mark``
    stands for all of it where it is kept; two that say the same have the same.
    """

    piece: Piece
    known: Knowledge
    shop: Shop
    memory: Memory
    today: datetime.date
    mark: bytes = b""

    def informed(self, made: Plan) -> Informed:
        """The plan made on it, with what was reckoned with."""
        told = replace(made, learned=self.known.lessons)
        return Informed(told, self.known, self.shop, self.memory, self.today)


def ground_of(piece: Piece, shop: Shop, memory: Memory, *, today: datetime.date) -> Ground:
    """A piece and a shop, with what trials have taught of them."""
    known = knowledge(shop, entries_in(memory), today)
    return Ground(with_own_bands(piece, reports_in(memory.feels)), known, shop, memory, today)


def informed_plan(
    piece: Piece, shop: Shop, store: Store = None, *, today: datetime.date
) -> Informed:
    """The plan of a piece in a shop as its trials have taught it to be.

    Raises
    ------
    InputError
        The store cannot be read.
    """
    ground = ground_of(piece, shop, recall(shop.title, store), today=today)
    return ground.informed(plan(ground.piece, ground.known.shop))


def reports_in(feels: Sequence[Felt]) -> dict[str, Sequence[Report]]:
    """How joints felt, by timber group."""
    found: dict[str, list[Report]] = {}
    for feel in feels:
        report = Report(word_of(feel.word), feel.mean, min(feel.sd, 1.0))
        found.setdefault(feel.timber, []).append(report)
    return {timber: tuple(reports) for timber, reports in found.items()}


def word_of(text: str) -> Word:
    """One of the five words.

    Raises
    ------
    InputError
        It is another.
    """
    for word in WORDS:
        if word == text.strip().lower():
            return word
    raise InputError(
        f"{text!r} is not known", where="--feel", remedy=f"Use one of {', '.join(WORDS)}"
    )
