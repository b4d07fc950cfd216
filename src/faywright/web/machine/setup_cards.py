"""Setups as cards to stand before: one number to set at a time, all else within reach of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString

from faywright.app.bench import Ground
from faywright.app.cuts_done import Done, cuts_of
from faywright.app.kept import TURN, Kept
from faywright.app.trial_gauges import group_cut_at
from faywright.drawing.model import Drawing
from faywright.drawing.packet_sheet import Figures, sheet_words, views_of
from faywright.lengths import LengthStyle
from faywright.piece.plan import Plan
from faywright.piece.words import Write, finer, writer
from faywright.setups.setup import Setup
from faywright.web.templatetags.faywright import inline

KEPT, FOLDED = 4, 60
"""Plans whose cards are kept: some 30 kB a card, most of it drawings, and a tenth folded up."""

DRAWN, DRAWN_FOLDED = 100, 3000
"""Setups whose drawings are kept, of some 20 kB, and of 3 kB folded up."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number to set: what it is measured from and to, what the gauge shows, and its working."""

    name: str
    number: str
    unit: str
    measured: str
    set_by: tuple[str, ...]
    working: tuple[str, ...]
    decides: bool


@dataclass(frozen=True, slots=True)
class Check:
    """A reading to take after the cut, and what to do if it is more or less."""

    what: str
    reads: str
    leave: str
    more: str
    less: str


@dataclass(frozen=True, slots=True)
class Tick:
    """Whether a cut is made; ``before`` says what was set, where the plan has changed since."""

    number: int
    cut: str
    height: float
    fence: float
    done: Done | None
    as_set: bool
    before: str = ""

    @property
    def settings(self) -> tuple[tuple[str, str], ...]:
        """Fields that carry what is set, to the last digit. [mm]"""
        return (("height", repr(self.height)), ("fence", repr(self.fence)))

    @property
    def made(self) -> bool:
        """Whether it was made as the plan has it now."""
        return self.done is not None and self.as_set


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """All that one needs at one setup."""

    number: int
    joint: str
    joint_place: int
    group: str
    stage: str
    clears: bool
    cutter: str
    change: str
    height: Figure
    fence: Figure
    along: SafeString
    above: SafeString
    passes: tuple[str, ...]
    hazards: tuple[tuple[str, str], ...]
    checks: tuple[Check, ...]
    trial_piece: str
    remember: str
    count: str
    marks: tuple[str, ...]
    tick: Tick


def cards(
    ground: Ground, plan: Callable[[], Plan], style: LengthStyle, done: Mapping[str, Done]
) -> Iterator[Card]:
    """A card for every setup of the ``plan`` made on a ground, in the order of work.

    The cards before anything is cut are kept, for whoever comes back from the machine to them.
    """
    write = writer(style)
    for card in _kept.get((ground.mark, style), lambda: _unticked(plan, style)):
        at = card.tick
        yield replace(
            card, tick=tick(at.number, at.cut, (at.height, at.fence), done.get(at.cut), write)
        )


def _unticked(make: Callable[[], Plan], style: LengthStyle) -> tuple[Card, ...]:
    plan = make()  # before it is our turn: who plans one of the joints already waits for theirs
    with TURN:
        return _drawn_up(plan, style)


def _drawn_up(plan: Plan, style: LengthStyle) -> tuple[Card, ...]:
    write = writer(style)
    figures = Figures(plan, style, write, finer(style), _not_drawn)
    places = {joint.name: place for place, joint in enumerate(plan.piece.joints, 1)}
    return tuple(
        _card(
            figures,
            setup,
            places[setup.joint],
            tick(setup.number, cut, (setup.height.true, setup.places.far_edge), None, write),
        )
        for setup, cut in zip(plan.setups, cuts_of(plan.setups), strict=True)
    )


_kept = Kept[tuple[Card, ...]](KEPT, folded=FOLDED)
_drawn = Kept[tuple[SafeString, SafeString]](DRAWN, folded=DRAWN_FOLDED)


def _card(figures: Figures, setup: Setup, place: int, made: Tick) -> Card:
    page = sheet_words(figures, setup, ())
    along, above = _views(figures.plan, setup, figures.style)
    return Card(
        number=setup.number,
        joint=setup.joint,
        joint_place=place,
        group=group_cut_at(figures.plan, setup),
        stage=setup.stage,
        clears=not setup.final,
        cutter=page["cutter-line"],
        change=page["change"] or _no_change(setup),
        height=_figure(page["height"]),
        fence=_figure(page["fence"]),
        along=along,
        above=above,
        passes=tuple(page["passes"]),
        hazards=tuple((each["lead"], each["text"]) for each in page["hazards"]),
        checks=tuple(Check(**row) for row in page["checks"]),
        trial_piece=page["trial"],
        remember=page["remember"],
        count=page["count"],
        marks=tuple(page["pieces"]),
        tick=made,
    )


def _views(plan: Plan, setup: Setup, style: LengthStyle) -> tuple[SafeString, SafeString]:
    """Both drawings of a setup; of joints that are as they were, nothing is drawn anew."""
    mark = next(each.mark for each in plan.joints if each.wanted.name == setup.joint)
    key = (mark, setup.number, style, plan.shop.habits.reference)

    def draw() -> tuple[SafeString, SafeString]:
        along, above = views_of(plan, setup, style)
        return inline(along()), inline(above())

    return _drawn.get(key, draw)


def _not_drawn(name: str, drawing: Drawing) -> dict[str, object]:
    raise AssertionError(f"{name} is drawn elsewhere: {drawing.title}")


def _no_change(setup: Setup) -> str:
    if setup.change is None:
        return f"put in cutter {setup.cutter}; set height and fence anew"
    return "nothing moves"


def _figure(page: Mapping[str, Any]) -> Figure:
    """A number as the sheet has it."""
    return Figure(
        name=page["name"],
        number=page["number"],
        unit=page["unit"],
        measured=page["measured"],
        set_by=tuple(page["set-by"]),
        working=tuple(page["notes"]),
        decides=page["decides"],
    )


def tick(
    number: int, cut: str, settings: tuple[float, float], done: Done | None, write: Write
) -> Tick:
    """Whether a setup is done, and how it was set if that was otherwise.

    ``settings`` are its height, and its fence to the far edge. [mm]
    """
    as_set = done is not None and done.as_set(*settings)
    before = ""
    if done is not None and not as_set:
        before = f"height {write(done.height)}, fence {write(done.fence)} to the far edge"
    return Tick(number, cut, *settings, done, as_set=as_set, before=before)


def first_undone(shown: Sequence[Card]) -> int | None:
    """The number of the setup to go on with; None where all are done."""
    return next((card.number for card in shown if not card.tick.made), None)
