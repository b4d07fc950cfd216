"""Edits of joints as their page sends them, and the answers that draw them anew."""

from __future__ import annotations

import json
from dataclasses import dataclass, field

from benchmarks.web_client import Answer, Browser

FIELDS = ("groove_depth", "bottom_gap", "tongue_thickness", "film", "sanding", "fit")
"""Groups that are edited, by turns; the fit is chosen, all else is a length that is typed."""

DRAWN = "(<svg)"
"""Has to be in an answer: one that only says why there is no plan would be quick."""

_LENGTHS = {
    "groove_depth": (8.0, 0.01, 200),
    "bottom_gap": (0.8, 0.01, 60),
    "tongue_thickness": (6.1, 0.01, 40),
    "film": (0.02, 0.001, 40),
    "sanding": (0.02, 0.001, 40),
}
"""First value, step, and how many there are before they begin anew. [mm]"""

_FITS = ("snug", "sliding")
_FIT_KEYS = ("fit.kind", "fit.name", "fit.aim", "fit.low", "fit.high")


@dataclass
class JointEditor:
    """The form of one joint as one browser has it open."""

    browser: Browser
    piece: int
    place: int
    base: int = 0
    shown: dict[str, str] = field(default_factory=dict)

    @property
    def address(self) -> str:
        """Of its page."""
        return f"/pieces/{self.piece}/joints/{self.place}"

    def open(self) -> Answer:
        """Look at the page, and take from it what forms send along."""
        answer = self.browser.get(self.address).told(200)
        self.base = int(answer.found(r'id="base" name="at" value="(\d+)"'))
        for key in {*FIELDS} - {"fit"}:
            self.shown[key] = answer.found(rf'name="was:{key}"[^>]* value="([^"]*)"')
        self.shown["fit.kind"] = answer.found(r'name="was:fit.kind"[^>]* value="([^"]*)"')
        return answer

    def form(self, group: str, value: str) -> dict[str, str]:
        """A group of the form with one value typed, as the page sends it."""
        sent = {"group": group, "base": str(self.base), "at": str(self.base)}
        keys = _FIT_KEYS if group == "fit" else (group,)
        for key in keys:
            sent[key] = sent[f"was:{key}"] = self.shown.get(key, "")
        sent[_key(group)] = value
        return sent

    def next(self, turn: int) -> tuple[str, str]:
        """The group and the value that are typed in a turn, another each time."""
        group = FIELDS[turn % len(FIELDS)]
        if group == "fit":
            return group, _FITS[1 if self.shown["fit.kind"] == _FITS[0] else 0]
        first, step, most = _LENGTHS[group]
        return group, f"{first + step * (turn % most):.12g}"

    def preview(self, group: str, value: str) -> Answer:
        """What is seen while it is typed; nothing is kept."""
        answer = self.browser.post(f"{self.address}/live", self.form(group, value)).told(200)
        answer.found(DRAWN)
        return answer

    def keep(self, group: str, value: str) -> tuple[Answer, str]:
        """Keep a value; the answer, and what the history says of it."""
        answer = self.browser.post(f"{self.address}/change", self.form(group, value)).told(200)
        answer.found(DRAWN)
        told = json.loads(answer.headers["HX-Trigger"])
        self.base = int(answer.found(r'id="base" name="at" value="(\d+)"'))
        self.shown[_key(group)] = value
        return answer, str(told["said"]).partition(". Meanwhile ")[0]

    def kept(self, group: str, value: str) -> Answer:
        """The answer alone."""
        return self.keep(group, value)[0]

    def thoroughly(self) -> Answer:
        """All ways asked, as the page does by itself a moment after an edit."""
        answer = self.browser.get(f"{self.address}/live", part=True).told(200)
        answer.found(DRAWN)
        return answer


def _key(group: str) -> str:
    return "fit.kind" if group == "fit" else group
