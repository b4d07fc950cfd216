"""The form of a trial cut: what is asked, in the order one measures, and what was typed there."""

from __future__ import annotations

import uuid
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from faywright.app.trial_gauges import GaugeAsked, gauges_asked, group_cut_at, groups_of
from faywright.app.trial_readings import (
    PIECE,
    THICKNESS,
    Misread,
    MisreadError,
    Told,
    asked_first,
    names,
)
from faywright.app.trial_records import wearing
from faywright.drawing.model import Drawing
from faywright.drawing.reading_picture import reading_picture
from faywright.drawing.tightest import Tightest
from faywright.lengths import LengthStyle
from faywright.piece.plan import JointPlan, Plan
from faywright.piece.words import Write, writer
from faywright.trials.feel import WORDS

Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One field with what was typed there; ``was`` is what stands for it if nothing is."""

    name: str
    label: str
    hint: str = ""
    value: str = ""
    was: str = ""
    fault: str = ""
    picture: Drawing | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialForm:
    """Everything that is asked of a trial piece of one joint and group of boards."""

    joint: str
    group: str
    groups: tuple[str, ...]
    first: tuple[Entry, ...]
    more: tuple[Entry, ...]
    gauges: tuple[Entry, ...]
    feels: tuple[tuple[str, bool], ...]
    metres: Entry
    note: Entry
    anew: bool
    faults: tuple[str, ...]
    key: str

    @property
    def more_typed(self) -> bool:
        """Whether something stands in the fields that are folded away, or is wrong with it."""
        return any(each.value or each.fault for each in (*self.more, *self.gauges))


@dataclass(frozen=True)
class FormOf:
    """Builds the form of one joint and group."""

    plan: Plan
    joint: JointPlan
    group: str
    style: LengthStyle

    @property
    def write(self) -> Write:
        """Writes lengths as the maker asked for."""
        return writer(self.style)

    @property
    def gauges(self) -> tuple[GaugeAsked, ...]:
        """Settings of which it may be told what their gauges showed."""
        return gauges_asked(self.plan, self.joint.wanted.name, self.group)

    def form(self, typed: Typed, faults: Mapping[str, str]) -> TrialForm:
        """With what was typed, and what is wrong with it by field; the rest under ``""``."""
        first = asked_first(self.joint.solution)
        rest = [short for short in names(self.joint.solution) if short not in first]
        cutter = wearing(self.joint.solution)
        own = {*first, *rest, "metres", "note", *(gauge.name for gauge in self.gauges)}
        return TrialForm(
            joint=self.joint.wanted.name,
            group=self.group,
            groups=groups_of(self.plan, self.joint.wanted.name),
            first=tuple(self._reading(short, typed, faults) for short in first),
            more=tuple(self._reading(short, typed, faults) for short in rest),
            gauges=tuple(self._gauge(gauge, typed, faults) for gauge in self.gauges),
            feels=tuple((word, word == typed.get("feel")) for word in WORDS),
            metres=Entry(
                name="metres",
                label=f"Metres that cutter {cutter} has cut, since new or sharpened",
                value=typed.get("metres", ""),
                fault=faults.get("metres", ""),
            ),
            note=Entry(
                name="note",
                label="Note",
                value=typed.get("note", ""),
                fault=faults.get("note", ""),
            ),
            anew="anew" in typed,
            faults=tuple(fault for field, fault in faults.items() if field not in own),
            key=uuid.uuid4().hex,
        )

    def _reading(self, short: str, typed: Typed, faults: Mapping[str, str]) -> Entry:
        what = THICKNESS if short == PIECE else names(self.joint.solution)[short]
        return Entry(
            name=short,
            label=what[0].upper() + what[1:],
            hint=self._hint(what),
            value=typed.get(short, ""),
            fault=faults.get(short, ""),
            picture=None if short == PIECE else self._picture(what),
        )

    def _picture(self, what: str) -> Drawing | None:
        found = (
            reading_picture(cut, what)
            for cut in Tightest(self.joint.solution, self.joint.simulated).boards
        )
        return next((each for each in found if each is not None), None)

    def _hint(self, what: str) -> str:
        """What it should read."""
        readings = [
            reading
            for setup in sorted(
                self.joint.setups, key=lambda each: group_cut_at(self.plan, each) != self.group
            )
            for reading in setup.readings
        ]
        if what == THICKNESS and readings:
            return f"planned for {self.write(readings[0].thickness_shows)}"
        reading = next((each for each in readings if each.what == what), None)
        if reading is None:
            return ""
        told = f"should read {self.write(reading.shows)}"
        if not reading.per_thickness:
            return told
        return f"{told} on a piece {self.write(reading.thickness_shows)} {reading.size_word}"

    def _gauge(self, gauge: GaugeAsked, typed: Typed, faults: Mapping[str, str]) -> Entry:
        shown = self.write(gauge.shows)
        return Entry(
            name=gauge.name,
            label=f"{gauge.kind.capitalize()} at {gauge.of}, {gauge.measured}",
            hint=f"taken as {shown}",
            value=typed.get(gauge.name, ""),
            was=shown,
            fault=faults.get(gauge.name, ""),
        )


def other_setups(typed: Typed, gauges: Sequence[GaugeAsked]) -> bool:
    """Whether a form was made for other setups than there are now."""
    were = {name.removeprefix("was-") for name in typed if name.startswith("was-")}
    return bool(were) and were != {gauge.name for gauge in gauges}


def told_in(typed: Typed, joint: JointPlan, gauges: Sequence[GaugeAsked], write: Write) -> Told:
    """What a form tells; fields that are none of the form's are left alone.

    Raises
    ------
    MisreadError
        The metres are no number.
    """
    shown = {gauge: text for gauge in gauges if (text := _shown(typed, gauge, write))}
    return Told(
        joint=joint.wanted.name,
        texts={short: typed.get(short, "") for short in (PIECE, *names(joint.solution))},
        group=typed.get("group", "A"),
        set_height=tuple(_told(shown, "height")),
        set_fence=tuple(_told(shown, "fence")),
        feel=typed.get("feel") or None,
        metres=_metres(typed.get("metres", "")),
        note=typed.get("note", "").strip(),
        anew="anew" in typed,
        sure="sure" in typed,
    )


def _shown(typed: Typed, gauge: GaugeAsked, write: Write) -> str:
    """What a gauge showed: as typed, or as the page had it if the plan has moved since."""
    text = typed.get(gauge.name, "").strip()
    was = typed.get(f"was-{gauge.name}", "").strip()
    return text or (was if was != write(gauge.shows) else "")


def _told(shown: Mapping[GaugeAsked, str], kind: str) -> Iterator[str]:
    yield from (f"{gauge.setup}={text}" for gauge, text in shown.items() if gauge.kind == kind)


def _metres(text: str) -> float | None:
    if not text.strip():
        return None
    try:
        return float(text.strip().removesuffix("m").replace(",", "."))
    except ValueError:
        remedy = "Give metres as a number, such as 140"
        wrong = Misread("metres", "metres", f"{text[:40]!r} is not a number", remedy)
        raise MisreadError([wrong]) from None
