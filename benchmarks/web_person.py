"""One of many who are at the pages at once: looks, edits, ticks setups off, tries cuts.

What the server said to have kept is remembered, to be compared afterwards.
"""

from __future__ import annotations

import html
import random
import re
import time
from collections import Counter, defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field

from benchmarks.web_client import Answer, Browser, RefusedError
from benchmarks.web_edits import JointEditor

MIX = {
    "list of pieces": 10,
    "piece": 18,
    "joint": 28,
    "setups": 6,
    "edit of one's own": 14,
    "edit of a shared piece": 5,
    "edit of a field that others edit too": 1,
    "setup ticked": 17.7,
    "trial cut": 0.3,
}
"""What people do, in shares of 100. An edit is: look while typing, and keep; who then leaves the
page alone lets it ask for all ways. A piece is its page and a row for each joint. A tick is on the
page of setups as it was opened last."""

LEFT_ALONE = 2.5
"""How long the page of a joint waits after an edit before it asks for all ways. [s]"""

CONFLICT, DIFFERENT = 409, 422


@dataclass
class Kept:
    """What a server has acknowledged."""

    said: Counter[tuple[int, str]] = field(default_factory=Counter)
    """Changes by piece and by what its history says of them."""
    agreed: set[tuple[int, str]] = field(default_factory=set)
    """Those that others may have made too: of two that put the same, the second changes nothing."""
    last: dict[tuple[int, int, str], str] = field(default_factory=dict)
    """Values that nobody else changes, by piece, joint and group."""
    ticks: dict[tuple[int, str], bool] = field(default_factory=dict)
    trials: set[int] = field(default_factory=set)
    conflicts: int = 0

    @property
    def changes(self) -> int:
        """How many, all kinds together."""
        edits = sum(self.said.values()) + len(self.agreed)
        return edits + len(self.ticks) + len(self.trials)


@dataclass
class Person:
    """A browser with a piece of its own, and a joint of its own in a piece that all share."""

    browser: Browser
    own: JointEditor
    shared: JointEditor
    contested: JointEditor
    joints: int
    chance: random.Random
    kept: Kept = field(default_factory=Kept)
    seconds: defaultdict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    turn: int = 0
    cards: dict[str, dict[str, str]] = field(default_factory=dict)
    edited: JointEditor | None = None

    def act(self, what: str) -> None:
        """Do one thing of the mix."""
        self.edited = None
        self._actions()[what]()
        self.turn += 1

    def pause(self) -> None:
        """Leave the page alone for so long that it asks for all ways after an edit."""
        if self.edited is not None:
            self._timed("all ways asked after an edit", self.edited.thoroughly())

    def open(self) -> None:
        """Begin the day: look at what one works on."""
        for editor in (self.own, self.shared, self.contested):
            editor.open()
        for place in range(1, self.joints + 1):
            self.browser.get(f"/pieces/{self.own.piece}/joints/{place}/row", part=True).told(200)

    def _actions(self) -> dict[str, Callable[[], None]]:
        return {
            "list of pieces": self._pieces,
            "piece": self._piece,
            "joint": self._joint,
            "setups": self._setups,
            "edit of one's own": lambda: self._edit(self.own, mine=True),
            "edit of a shared piece": lambda: self._edit(self.shared, mine=True),
            "edit of a field that others edit too": self._contest,
            "setup ticked": self._tick,
            "trial cut": self._try,
        }

    def _see(self, kind: str, path: str, *, part: bool = False) -> Answer:
        return self._timed(kind, self.browser.get(path, part=part).told(200))

    def _timed(self, kind: str, answer: Answer) -> Answer:
        self.seconds[kind].append(answer.seconds)
        return answer

    def _pieces(self) -> None:
        self._see("list of pieces", "/")

    def _piece(self) -> None:
        self._see("piece", f"/pieces/{self.own.piece}")
        for place in range(1, self.joints + 1):
            self._see("row of a joint", f"/pieces/{self.own.piece}/joints/{place}/row", part=True)

    def _joint(self) -> None:
        editor = self.chance.choice((self.own, self.own, self.shared))
        self._timed("joint", editor.open())

    def _setups(self) -> None:
        page = self._see("setups", f"/pieces/{self.own.piece}/setups?whole")
        self.cards = ticks_in(page.text)

    def _edit(self, editor: JointEditor, *, mine: bool) -> None:
        group, value = editor.next(self.turn + self.chance.randrange(3))
        if editor.form(group, value) == editor.form(group, editor.shown.get(group, "")):
            return  # as it is already
        if group != "fit":
            self._timed("look while typing", editor.preview(group, value))
        try:
            answer, said = editor.keep(group, value)
        except RefusedError as error:
            if mine or error.status != CONFLICT:
                raise
            self.kept.conflicts += 1
            editor.open()
            return
        self._timed("edit kept", answer)
        if mine:
            self.kept.said[editor.piece, said] += 1
            self.kept.last[editor.piece, editor.place, group] = value
        else:
            self.kept.agreed.add((editor.piece, said))
        self.edited = editor

    def _contest(self) -> None:
        self._edit(self.contested, mine=False)

    def _tick(self) -> None:
        if not self.cards:
            self._setups()
        form = self.chance.choice(list(self.cards.values()))
        path = f"/pieces/{self.own.piece}/setups/done"
        answer = self._timed("setup ticked", self.browser.post(path, form).told(200))
        self.kept.ticks[self.own.piece, form["cut"]] = form["done"] == "yes"
        self.cards |= ticks_in(answer.text)

    def _try(self) -> None:
        path = f"{self.own.address}/trial"
        form = readings(self._see("form of a trial", path).text, self.chance)
        answer = self._timed("trial cut", self.browser.post(path, form))
        if answer.status == DIFFERENT:  # it looks like a slip: they are sure
            again = {**form, **readings(answer.text, None), "sure": "yes"}
            answer = self._timed("trial cut", self.browser.post(path, again))
        number = answer.told(200).headers["HX-Trigger"]
        self.kept.trials.add(int(re.findall(r"trial (\d+)", number)[0]))


def ticks_in(page: str) -> dict[str, dict[str, str]]:
    """The forms by which setups are ticked off, by the cut that each is for."""
    found = {}
    for form in re.findall(r'<form class="tick".*?</form>', page, re.DOTALL):
        sent = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
        sent.pop("csrfmiddlewaretoken")
        found[sent["cut"]] = sent
    return found


def readings(page: str, chance: random.Random | None) -> dict[str, str]:
    """The form of a trial filled in: each reading as it should be, give or take what scatters.

    Without ``chance`` only what the form brings along.
    """
    form = re.findall(r'<form id="trial-form".*?</form>', page, re.DOTALL)[0]
    found = {}
    for element in re.findall(r'<input type="hidden"[^>]*>', form):
        name, value = re.findall(r'name="([^"]*)" value="([^"]*)"', element)[0]
        found[name] = html.unescape(value)
    found.pop("csrfmiddlewaretoken")
    if chance is not None:
        for name, nominal in _asked(form):
            found[name] = "; ".join(f"{nominal + chance.gauss(0, 0.01):.2f}" for _ in range(3))
    return found


def _asked(form: str) -> list[tuple[str, float]]:
    """The readings that a form asks for, and what they should be. [mm]"""
    first = form.partition("<fieldset>")[0]
    found = []
    for block in first.split('<div class="field')[1:]:
        name = re.findall(r'<input[^>]* name="([^"]*)"', block)[0]
        number = re.findall(r"(?:should read|planned for) ([\d.]+)", block)
        if number:
            found.append((name, float(number[0])))
    return found


def busy(person: Person, until: float, think: tuple[float, float] | None) -> None:
    """Act until a moment of the monotonic clock, thinking between for seconds from a range."""
    names, weights = list(MIX), list(MIX.values())
    while time.monotonic() < until:
        if think is not None:
            thought = person.chance.uniform(*think)
            time.sleep(min(thought, LEFT_ALONE))
            if thought > LEFT_ALONE:
                person.pause()
                time.sleep(thought - LEFT_ALONE)
        person.act(person.chance.choices(names, weights)[0])
