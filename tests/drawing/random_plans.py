"""Whole plans at random, from documents as a maker would write them. [mm]"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import count
from typing import TypeAlias

from faywright.errors import InfeasibleError
from faywright.joints import tongues
from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import Plan, plan
from faywright.piece.shop_file import shop_from_text
from tests.joints.cases import GROOVES, TONGUES, GrooveCase, TongueCase

Value: TypeAlias = "str | float | bool | list[Value] | dict[str, Value]"
Table: TypeAlias = dict[str, Value]

NAMES = (
    "back",
    "Rückwand, unten links",
    "задняя стенка шкафа",
    "引き出しの側板",
    "πλαϊνό συρταριού",
    "لوح الظهر",
    "the long boards from the loft over the workshop, second stack from the left, the dry ones",
    'drawer side 3/4" x 5-1/2"',
    "Donaudampfschifffahrtsgesellschaftskapitänskajütenschrankrückwandbretter",
    "W" * 30,
    "A & B <left>",
)
MARKS = ("B", "№", "Brett vom Dachboden ", "板", "w/", "ш", "third plank from the left, ")
STYLES: tuple[Table, ...] = (
    {"style": "mm", "places": 2},
    {"style": "mm", "places": 3},
    {"style": "decimal inch", "places": 3},
    {"style": "decimal inch", "places": 4},
    {"style": "fraction inch", "denominator": 64},
    {"style": "fraction inch", "denominator": 16},
)
DETAILS = ("V", "bead", "square reveal")
FOR_DETAILS: tuple[Table, ...] = (
    {"mark": "V", "kind": "v", "diameter": 16, "angle_deg": 90, "reach": 60, "flutes": 2},
    {"mark": "Q", "kind": "bead", "radius": 2, "point": 2, "reach": 60, "flutes": 2},
)


def plans(first: int, wanted: int) -> Iterator[tuple[int, Plan]]:
    """The first ``wanted`` plans that there are from seed ``first`` on, each with its seed."""
    found = 0
    for seed in count(first):
        try:
            planned = random_plan(seed)
        except InfeasibleError:
            continue  # no safe way with these cutters and boards: others are drawn
        yield seed, planned
        found += 1
        if found == wanted:
            return
        assert found * 8 + 40 > seed - first, "hardly any of the pieces can be planned"


def random_plan(seed: int) -> Plan:
    """The plan of a piece of one to three joints; the seed decides all of it."""
    chance = random.Random(seed)  # noqa: S311 - nothing secret
    documents = _Documents(chance)
    for number in range(chance.choice((1, 1, 2, 3))):
        documents.add_joint(number)
    piece = piece_from_text(_written(documents.piece), file="piece.toml", folder=None).piece
    return plan(piece, shop_from_text(_written(documents.shop), file="shop.toml"))


@dataclass
class _Documents:
    """Piece and shop in the making; every part has a name and every board a mark of its own."""

    chance: random.Random
    parts: list[Value] = field(default_factory=list)
    boards: list[Value] = field(default_factory=list)
    joints: list[Value] = field(default_factory=list)
    cutters: list[Value] = field(default_factory=list)

    @property
    def piece(self) -> Table:
        """The piece file."""
        head: Table = {"faywright": "piece 1", "title": self.chance.choice(NAMES), "units": "mm"}
        return head | {"part": self.parts, "board": self.boards, "joint": self.joints}

    @property
    def shop(self) -> Table:
        """The shop file."""
        chance = self.chance
        habits = {"reference": chance.choice(("far edge", "axis", "near edge"))}
        machine: Table = {
            "mark": "table",
            "speeds_rpm": [8000, 10000, 14000, 18000, 22000],
            "rotation": chance.choice(("anticlockwise", "clockwise")),
            "fence_side": chance.choice(("behind the cutter", "before the cutter")),
        }
        gauges: list[Value] = [
            {
                "mark": "dial",
                "uses": ["height", "fence", "thickness"],
                "resolution": 0.01,
                "repeatability": 0.02,
                "zero_error": chance.choice((0.0, 0.05)),
            }
        ]
        return {
            "faywright": "shop 1",
            "title": chance.choice(NAMES),
            "habits": {**chance.choice(STYLES), **habits},
            "machine": [machine],
            "cutter": [*self.cutters, *FOR_DETAILS],
            "gauge": gauges,
        }

    def add_joint(self, number: int) -> None:
        """A joint with boards and cutters of its own."""
        chance = self.chance
        one, other = chance.choice(list(GROOVES.values())), chance.choice(list(TONGUES.values()))
        if chance.random() < 0.2:
            other = TONGUES["strip"]
        middle = round(chance.uniform(6, 60), 2)
        width = round(middle * chance.uniform(0.27, 0.37), 2)
        self._add_cutters(number, one, other, middle, width)
        timber = chance.choice(("softwood", "hardwood"))
        joint: Table = {
            "name": f"{chance.choice(NAMES)} {number}" if number else chance.choice(NAMES),
            "fit": {"name": "own", "aim": 0.18, "low": 0.08, "high": 0.28},
            "order": chance.choice(("free", "as listed")),
        }
        if chance.random() < 0.7:
            joint["method"] = {"groove": one.method, "tongue": other.method}
        if other.method == tongues.STRIP:
            self._with_strip(joint, number, timber, middle, width, one=one.one)
        else:
            self._with_tongue(joint, number, timber, middle, width)
            joint["half"] = other.half
            if chance.random() < 0.2:
                joint["detail"] = {"kind": chance.choice(DETAILS), "size": 2}
        if chance.random() < 0.3 and "pair" not in other.cutters:
            joint |= {"fit": chance.choice(("snug", "sliding", "glued")), "film": 0.05}
        self.joints.append(joint)

    def _with_tongue(
        self, joint: Table, number: int, timber: str, middle: float, width: float
    ) -> None:
        chance = self.chance
        boards = self._add_part(number, "", timber, middle, chance.randint(2, 14))
        other = boards
        if chance.random() < 0.3:
            near = round(middle * chance.uniform(0.8, 1.2), 2)
            other = self._add_part(number, " too", timber, max(near, 6.0), 1)
        joint |= {
            "family": "tongue and groove",
            "groove": {"part": boards, "edge": "reference edge"},
            "tongue": {"part": other, "edge": "opposite edge"},
            "groove_width": width,
            "tongue_length": round(min(max(width * chance.uniform(0.8, 1.3), 2.0), 14.0), 2),
        }

    def _with_strip(
        self, joint: Table, number: int, timber: str, middle: float, width: float, *, one: bool
    ) -> None:
        chance = self.chance
        loose = chance.random() < 0.5
        boards = self._add_part(number, "", timber, middle, chance.randint(2, 6))
        strip = self._add_part(number, " strip", "sheet", width, 1, spread=0.02, wide=60.0)
        edge = "reference edge" if loose else chance.choice(("reference edge", "face A", "face B"))
        joint |= {
            "family": "loose tongue" if loose else "runner",
            "groove": {"part": boards, "edge": edge},
            "strip": strip,
            "groove_depth": round(min(max(width, 3.0), middle / 2 if "face" in edge else 12.0), 2),
        }
        if loose:
            joint["second_groove"] = {"part": boards, "edge": "opposite edge"}
        if one:
            joint["groove_width"] = round(width + 0.36, 2)

    def _add_part(
        self,
        number: int,
        kind: str,
        timber: str,
        middle: float,
        many: int,
        *,
        spread: float | None = None,
        wide: float | None = None,
    ) -> str:
        """A part and its boards; returns its name."""
        chance = self.chance
        name = f"{chance.choice(NAMES)}{kind} {number}"
        self.parts.append({"name": name, "timber": timber})
        mark, width = chance.choice(MARKS), wide or round(chance.uniform(60, 420), 1)
        scatter = chance.choice((0.02, 0.15, 0.5)) if spread is None else spread
        for k in range(many):
            thick = middle + chance.uniform(-scatter, scatter)
            readings: list[Value] = [round(thick + chance.gauss(0, 0.02), 2) for _ in range(3)]
            board: Table = {"mark": f"{mark}{number}{kind[1:2]}{k + 1:02}", "part": name}
            board |= {"width": width, "length": 640, "thickness": readings}
            self.boards.append(board)
        return name

    def _add_cutters(
        self, number: int, one: GrooveCase, other: TongueCase, middle: float, width: float
    ) -> None:
        size = round(width * one.share, 2) if not one.one else width
        made = [_slot(size) if one.wing else _straight(size)]
        for kind in other.cutters:
            if kind == "pair":
                made.append(_pair(round(width - 0.36, 2)))
            elif "wing" in kind:
                made.append(_slot(round(middle * 0.6, 2) if kind == "thick wing" else 2.5))
            else:
                made.append(_straight({"wide": 18.0, "narrow": 9.0, "small": 4.0}[kind]))
        for k, cutter in enumerate(made):
            self.cutters.append({"mark": f"C{number}{k}", **cutter})


def _straight(size: float) -> Table:
    cutter: Table = {"kind": "straight", "diameter": {"marked": size}, "cutting_length": 50}
    return cutter | {"reach": 80, "flutes": 2, "shank": min(12.0, max(size, 6.0))}


def _slot(size: float) -> Table:
    cutter: Table = {"kind": "slot", "thickness": {"marked": size}, "diameter": 64}
    return cutter | {"slot_depth": 22, "reach": 150, "flutes": 3}


def _pair(size: float) -> Table:
    cutter: Table = {"kind": "tongue pair", "tongue": {"marked": size}, "diameter": 48}
    return cutter | {"wing": 30, "tongue_length": 14, "reach": 150, "flutes": 2}


def _written(table: Table) -> str:
    """A table as a TOML document."""
    return "".join(f"{key} = {_value(value)}\n" for key, value in table.items())


def _value(value: Value) -> str:
    if isinstance(value, dict):
        inner = ", ".join(f"{key} = {_value(each)}" for key, each in value.items())
        return f"{{ {inner} }}"
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    return json.dumps(value, ensure_ascii=False)
