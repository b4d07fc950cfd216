"""One trial from the words of a command or a form to its answer, kept in the store."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from itertools import takewhile
from pathlib import Path
from typing import Any, Literal

from faywright.app.bench import Informed, informed_plan, word_of
from faywright.app.opening import open_store
from faywright.app.recall import is_there
from faywright.app.records import FeelRecord
from faywright.app.trial_cut import (
    Measured,
    Outcome,
    Shown,
    clearance_felt,
    joint_called,
    tried,
    useful,
)
from faywright.app.trial_records import (
    record_of,
    settings_of,
    wearing,
)
from faywright.app.trial_words import outcome_json, outcome_lines
from faywright.errors import InputError
from faywright.joints.method import Method, Side
from faywright.joints.solution import Solution
from faywright.lengths import LengthStyle, Style, Unit
from faywright.piece.opened import open_documents
from faywright.piece.values import UnreadError, length
from faywright.piece.words import finer, writer
from faywright.trials.belief import Unknown
from faywright.trials.feel import Word
from faywright.trials.observing import dimensions, measurable

Prompt = Callable[[str], str]

PIECE = "stock"

MOST_METRES = 1e6

STAYS, IN_A_ROW = timedelta(hours=12), 50
"""Trials of one joint in a row, within a day's work, are taken for pieces of one set-up."""

DECIMAL_COMMA = re.compile(r"[^,.;/]*\d,\d[^,.;/]*")
"""A single comma between digits and no other sign of fractions: 6,31 is a bit more than 6."""


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A trial as it was written: readings as text by short names, and what goes with them."""

    piece: Path
    shop: Path | None
    joint: str
    texts: Mapping[str, str | None]
    group: str
    set_height: tuple[str, ...]
    set_fence: tuple[str, ...]
    feel: str | None
    metres: float | None
    note: str
    anew: bool
    sure: bool
    keep: bool
    store: str | None
    style: Style | None


@dataclass(frozen=True)
class Answer:
    """What is said, for people and for programs; ``questions`` tells whether it was a question."""

    lines: list[str]
    json: dict[str, Any]
    questions: bool


def run_trial(asked: Asked, *, prompt: Prompt | None = None) -> Answer:
    """Plan with what is known, take the readings, answer, and remember.

    Raises
    ------
    InputError
        Something cannot be read, or there is no such joint, group or dimension.
    """
    feel = None if asked.feel is None else word_of(asked.feel)
    documents = open_documents(asked.piece, asked.shop)
    at = datetime.now(UTC)
    informed = informed_plan(documents.piece, documents.shop, asked.store, today=at.date())
    style = documents.shop.habits.style if asked.style is None else LengthStyle(asked.style)
    write, fine = writer(style), finer(style)
    solution = joint_called(informed.plan, asked.joint).solution
    informed = _having_cut(asked, informed, solution)
    texts = {name: text for name, text in asked.texts.items() if text}
    if prompt is not None:
        texts |= _asked_for(solution, texts, prompt)
    measured = _measured(asked, texts, solution, documents.piece.units)
    earlier = frozenset() if asked.anew else _made_before(asked, informed, at)
    outcome = tried(informed.plan, informed.known, measured, write, earlier=earlier)
    if asked.sure:
        outcome = replace(outcome, slips=())
    lines = list(outcome_lines(outcome, informed.plan, write, fine))
    told = outcome_json(outcome, informed.plan)
    if outcome.slips and informed.known.lessons:
        lessons = informed.known.lessons
        lines += ["What was reckoned with:", *(f"  {each.said(fine)}" for each in lessons)]
    told["trial"] = None
    if asked.keep and not outcome.slips:
        told["trial"] = _kept(asked, outcome, informed, at, feel)
        lines.append(f"Remembered as trial {told['trial']}.")
        if asked.metres is not None:
            lines.append(f"Cutter {wearing(solution)} had cut {asked.metres:g} m.")
    return Answer(lines, told, bool(outcome.slips))


def _made_before(asked: Asked, informed: Informed, at: datetime) -> frozenset[Unknown]:
    """Settings that the last trials spoke of, if they were just now and of the same joint."""
    if not is_there(asked.store):
        return frozenset()
    plan = informed.plan
    with open_store(asked.store) as store:
        trials = store.trials(shop=plan.shop.title, limit=IN_A_ROW)
    same = takewhile(
        lambda each: (
            (each.record.piece, each.record.joint) == (plan.piece.title, asked.joint)
            and at - each.record.at < STAYS
        ),
        trials,
    )
    return frozenset().union(*(settings_of(each.record.measurements) for each in same))


def _having_cut(asked: Asked, informed: Informed, solution: Solution) -> Informed:
    """With the cutter whose wear changes the fit as worn as its metres tell."""
    if asked.metres is None:
        return informed
    if not 0 <= asked.metres <= MOST_METRES:
        raise InputError(
            f"{asked.metres:g} m cannot be",
            where="--metres",
            remedy=f"Give what the cutter has cut since new or sharpened, 0 to {MOST_METRES:g} m",
        )
    return replace(informed, known=informed.having_cut(wearing(solution), asked.metres))


def _asked_for(solution: Solution, given: Mapping[str, str], prompt: Prompt) -> dict[str, str]:
    """Readings asked for, in the order one measures: the piece first, then what decides."""
    found = {}
    named = {name: short for short, name in _names(solution).items()}
    for what in ("thickness of the trial piece", *useful(solution)):
        short = PIECE if what.startswith("thickness of the trial") else named.get(what)
        if short is None or short in given:
            continue
        text = prompt(what).strip()
        if text:
            found[short] = text
    return found


def _names(solution: Solution) -> dict[str, str]:
    """What the short names of readings stand for in this joint."""
    names = [*measurable(solution, "groove"), *measurable(solution, "tongue")]
    words = {
        "tongue": "tongue thickness",
        "length": "tongue length",
        "cheek": "depth of the face-A cheek",
        "groove": "groove width",
        "depth": "groove depth",
    }
    found = {short: name for short, name in words.items() if name in names}
    wall = next((name for name in names if name.startswith("wall beside")), None)
    return found if wall is None else {**found, "wall": wall}


def _measured(asked: Asked, texts: Mapping[str, str], solution: Solution, units: Unit) -> Measured:
    names = _names(solution)
    readings = {}
    for short, text in texts.items():
        if short == PIECE:
            continue
        if short not in names:
            raise InputError(
                f"this joint has no {short} to measure",
                where=f"--{short}",
                remedy=_worth(solution),
            )
        if PIECE not in texts and _follows(solution, names[short]):
            raise InputError(
                "it follows the thickness of the trial piece, and that was not measured",
                where=f"--{short}",
                remedy=f"Give the thickness with --{PIECE}",
            )
        readings[names[short]] = _lengths(text, units, f"--{short}")
    if not readings:
        raise InputError(
            "nothing was read", where=f"trial of joint {asked.joint!r}", remedy=_worth(solution)
        )
    stock = texts.get(PIECE)
    return Measured(
        joint=asked.joint,
        readings=readings,
        thickness=() if stock is None else _lengths(stock, units, f"--{PIECE}"),
        group=asked.group.strip().upper(),
        shown=(
            *(_shown("height", text, units) for text in asked.set_height),
            *(_shown("fence", text, units) for text in asked.set_fence),
        ),
        note=asked.note,
    )


def _follows(solution: Solution, name: str) -> bool:
    """Whether a dimension is another on a thicker piece."""
    sides: tuple[tuple[Side, Method], ...] = (
        ("groove", solution.groove),
        ("tongue", solution.tongue),
    )
    forms = [
        (method, found[name])
        for side, method in sides
        if name in (found := dimensions(solution, side))
    ]
    return any(form.coefficient(method.thickness) != 0 for method, form in forms)


def _worth(solution: Solution) -> str:
    """Which readings there are, the useful ones first."""
    named = {name: short for short, name in _names(solution).items()}
    first = [named[name] for name in useful(solution) if name in named]
    if not named:
        return "Nothing is cut here that could be measured"
    rest = [short for short in named.values() if short not in first]
    told = f"Measure {', '.join(f'--{each}' for each in first)}" if first else "Measure"
    if rest:
        told += f"{'; there is also' if first else ''} {', '.join(f'--{each}' for each in rest)}"
    return told


def _lengths(text: str, units: Unit, where: str) -> tuple[float, ...]:
    """Readings, with semicolons or commas between.

    A comma with a space after it is between two readings; one between digits is a decimal comma
    where nothing else in the text is a point or a fraction.
    """
    found: list[float] = []
    for part in re.split(r";|,\s+", text.strip()):
        if DECIMAL_COMMA.fullmatch(part):
            found.append(_one(part, units, where))
        elif "," in part and not re.search(r"[./]", part):
            raise InputError(
                f"{part!r} may be read in several ways",
                where=where,
                remedy="Put a semicolon between readings",
            )
        else:
            found += [_one(each, units, where) for each in part.split(",")]
    return tuple(found)


def _shown(kind: Literal["height", "fence"], text: str, units: Unit) -> Shown:
    """What a gauge showed, with the number of the setup before it if there is one."""
    number, equals, rest = text.rpartition("=")
    where = f"--set-{kind}"
    if not equals:
        return Shown(kind, _one(rest, units, where))
    if not number.strip().isdecimal():
        raise InputError(
            f"{number.strip()!r} is not the number of a setup",
            where=where,
            remedy="Write it as 6=12.7: number, equals sign, what the gauge showed",
        )
    return Shown(kind, _one(rest, units, where), int(number))


def _one(text: str, units: Unit, where: str) -> float:
    try:
        return length(units).read(text.strip())
    except UnreadError as unread:
        raise InputError(unread.what, where=where, remedy=unread.remedy) from None


def _kept(
    asked: Asked, outcome: Outcome, informed: Informed, at: datetime, feel: Word | None
) -> int:
    """Store the trial, and how it felt; its number."""
    metres = 0.0 if asked.metres is None else asked.metres
    record = record_of(outcome, informed.known, informed.plan, at, metres=metres)
    with open_store(asked.store) as store:
        number = store.add_trial(record)
        if feel is not None:
            mean, deviation = clearance_felt(outcome)
            store.add_feel(
                FeelRecord(
                    shop=record.shop,
                    timber=outcome.joint.task.grooved.timber,
                    word=feel,
                    mean=mean,
                    sd=deviation,
                    at=at,
                    trial=number,
                    joint=asked.joint,
                )
            )
    return number
