"""One trial from the words of a command or a form to its answer, kept in the store."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from itertools import takewhile
from pathlib import Path
from typing import Any

from faywright.app.bench import Informed, informed_plan, word_of
from faywright.app.opening import open_store
from faywright.app.recall import is_there
from faywright.app.records import FeelRecord, KeptTrial, TrialRecord
from faywright.app.trial_cut import Outcome, clearance_felt, joint_called, tried
from faywright.app.trial_readings import (
    PIECE,
    THICKNESS,
    Called,
    Misread,
    MisreadError,
    Told,
    asked_first,
    measured,
    names,
    option,
)
from faywright.app.trial_records import record_of, settings_of, wearing
from faywright.app.trial_words import outcome_json, outcome_lines
from faywright.errors import InputError
from faywright.joints.solution import Solution
from faywright.lengths import LengthStyle, Style, Unit
from faywright.piece.opened import open_documents
from faywright.piece.words import Write, finer, writer
from faywright.trials.belief import Unknown
from faywright.trials.feel import Word

Prompt = Callable[[str], str]

MOST_METRES = 1e6

STAYS, IN_A_ROW = timedelta(hours=12), 50
"""Trials of one joint in a row, within a day's work, are taken for pieces of one set-up."""


@dataclass(frozen=True, kw_only=True)
class Asked(Told):
    """A trial as a command tells it, with the files it speaks of."""

    piece: Path
    shop: Path | None
    store: str | None
    style: Style | None


@dataclass(frozen=True)
class Answer:
    """What is said, for people and for programs; ``questions`` tells whether it was a question."""

    lines: list[str]
    json: dict[str, Any]
    questions: bool


@dataclass(frozen=True, kw_only=True, eq=False)
class Tried:
    """A trial with what it says, not yet kept; ``write`` and ``fine`` write lengths."""

    told: Told
    informed: Informed
    outcome: Outcome
    feel: Word | None
    at: datetime
    write: Write
    fine: Write


def run_trial(asked: Asked, *, prompt: Prompt | None = None) -> Answer:
    """Plan with what is known, take the readings, answer, and remember.

    Raises
    ------
    InputError
        Something cannot be read, or there is no such joint, group or dimension.
    """
    if asked.feel is not None:
        word_of(asked.feel)  # before a plan is made
    documents = open_documents(asked.piece, asked.shop)
    at = datetime.now(UTC)
    informed = informed_plan(documents.piece, documents.shop, asked.store, today=at.date())
    style = documents.shop.habits.style if asked.style is None else LengthStyle(asked.style)
    told: Told = asked
    if prompt is not None:
        solution = joint_called(informed.plan, asked.joint).solution
        told = replace(asked, texts={**asked.texts, **_asked_for(solution, asked, prompt)})
    found = try_piece(
        told,
        informed,
        lambda: _trials(asked.store, informed.plan.shop.title),
        units=documents.piece.units,
        style=style,
        at=at,
    )
    number = None
    if asked.keep and not found.outcome.slips:
        with open_store(asked.store) as store:
            number = store.add_trial(record(found))
            feel = felt(found, number)
            if feel is not None:
                store.add_feel(feel)
    return answer(found, number)


def try_piece(
    told: Told,
    informed: Informed,
    trials: Callable[[], Sequence[KeptTrial]],
    *,
    units: Unit,
    style: LengthStyle,
    at: datetime,
    called: Called = option,
) -> Tried:
    """What a trial says; nothing is kept of it yet.

    ``trials`` gives those of the shop, the latest first; bare numbers are ``units``, and fields
    are ``called`` so in what is wrong with them.

    Raises
    ------
    MisreadError
        Something that was typed cannot be used.
    InputError
        There is no such joint, group or dimension, or nothing was read.
    """
    feel = None if told.feel is None else word_of(told.feel)
    write = writer(style)
    solution = joint_called(informed.plan, told.joint).solution
    informed = _having_cut(told, informed, solution, called)
    texts = {name: text for name, text in told.texts.items() if text}
    read = measured(told, texts, solution, units, called)
    earlier = frozenset() if told.anew else _made_before(told, informed, trials(), at)
    outcome = tried(informed.plan, informed.known, read, write, earlier=earlier)
    if told.sure:
        outcome = replace(outcome, slips=())
    return Tried(
        told=told,
        informed=informed,
        outcome=outcome,
        feel=feel,
        at=at,
        write=write,
        fine=finer(style),
    )


def answer(found: Tried, number: int | None) -> Answer:
    """What is said of a trial; ``number`` is the one it was kept under, if it was."""
    outcome, plan = found.outcome, found.informed.plan
    lines = list(outcome_lines(outcome, plan, found.write, found.fine))
    told = {**outcome_json(outcome, plan), "trial": number}
    if outcome.slips:
        lines += reckoned_with(found)
    if number is not None:
        lines += remembered(found, number)
    return Answer(lines, told, bool(outcome.slips))


def reckoned_with(found: Tried) -> list[str]:
    """What was known before a reading was asked about."""
    lessons = found.informed.known.lessons
    if not lessons:
        return []
    return ["What was reckoned with:", *(f"  {each.said(found.fine)}" for each in lessons)]


def remembered(found: Tried, number: int) -> list[str]:
    """What was kept."""
    lines = [f"Remembered as trial {number}."]
    if found.told.metres is not None:
        mark = wearing(found.outcome.joint.solution)
        lines.append(f"Cutter {mark} had cut {found.told.metres:g} m.")
    return lines


def record(found: Tried) -> TrialRecord:
    """What the store is to keep of a trial."""
    metres = 0.0 if found.told.metres is None else found.told.metres
    informed = found.informed
    return record_of(found.outcome, informed.known, informed.plan, found.at, metres=metres)


def felt(found: Tried, number: int) -> FeelRecord | None:
    """What the store is to keep of how it felt, with the trial of that number."""
    if found.feel is None:
        return None
    mean, deviation = clearance_felt(found.outcome)
    return FeelRecord(
        shop=found.informed.plan.shop.title,
        timber=found.outcome.joint.task.grooved.timber,
        word=found.feel,
        mean=mean,
        sd=deviation,
        at=found.at,
        trial=number,
        joint=found.told.joint,
    )


def _trials(store: str | None, shop: str) -> Sequence[KeptTrial]:
    if not is_there(store):
        return ()
    with open_store(store) as opened:
        return opened.trials(shop=shop, limit=IN_A_ROW)


def _made_before(
    told: Told, informed: Informed, trials: Sequence[KeptTrial], at: datetime
) -> frozenset[Unknown]:
    """Settings that the last trials spoke of, if they were just now and of the same joint."""
    same = takewhile(
        lambda each: (
            (each.record.piece, each.record.joint) == (informed.plan.piece.title, told.joint)
            and at - each.record.at < STAYS
        ),
        trials,
    )
    return frozenset().union(*(settings_of(each.record.measurements) for each in same))


def _having_cut(told: Told, informed: Informed, solution: Solution, called: Called) -> Informed:
    """With the cutter whose wear changes the fit as worn as its metres tell."""
    if told.metres is None:
        return informed
    if not 0 <= told.metres <= MOST_METRES:
        what = f"{told.metres:g} m cannot be"
        remedy = f"Give what the cutter has cut since new or sharpened, 0 to {MOST_METRES:g} m"
        raise MisreadError([Misread("metres", called("metres"), what, remedy)])
    try:
        known = informed.having_cut(wearing(solution), told.metres)
    except InputError as error:
        wrong = Misread("metres", error.where, error.what, error.remedy)
        raise MisreadError([wrong]) from None
    return replace(informed, known=known)


def _asked_for(solution: Solution, asked: Asked, prompt: Prompt) -> Mapping[str, str]:
    """Readings asked for, in the order one measures: the piece first, then what decides."""
    found = {}
    called = {PIECE: THICKNESS, **names(solution)}
    for short in asked_first(solution):
        if asked.texts.get(short):
            continue
        text = prompt(called[short]).strip()
        if text:
            found[short] = text
    return found
