"""Hazards of a cut, read off the simulated cut itself; and the feed that goes with each pass.

The rules are the trade's; each says where it comes from. They never replace the machine's and
the cutter's manuals, local rules, or training.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from faywright.joints.method import Station
from faywright.joints.work import Work
from faywright.setups.simulate import PassResult
from faywright.shop.cutters import SlotCutter, TonguePairCutter
from faywright.shop.machines import Machine
from faywright.shop.practice import deepest_bite, rim_speed, spindle_speed

Severity = Literal["never", "danger", "care"]
Feed = Literal["right to left", "left to right"]

SHORTEST = 300.0
"""Shortest work fed by hand along a fence. [mm] Shaper manuals; common practice."""

NARROWEST = 75.0
"""Narrowest work fed without a push block or carrier. [mm] Shaper manuals; common practice."""

TALLEST_ON_END = 150.0
"""Tallest work stood on its end without a carriage. [mm] Common practice, no source."""

THIN = 3.0
TOO_THIN = 1.5
"""Wood left beside a cut: below ``THIN`` it is fragile, below ``TOO_THIN`` it is not cut. [mm]
Common practice, no source."""

BITE_MARGIN = 1.05

RIM_SPEED_WARNING = 56.0
"""Rim speed above which to think twice. [m/s] The top of the published tables by diameter."""

CAUTIONS = (
    "Stop the machine and isolate it from the mains before touching cutter, height or fence.",
    "Glasses, ear defenders, extraction and a mask on. No gloves or loose sleeves at the cutter.",
    "Smallest openings in table and fence, guard and pressure pads on, hands 100 mm away.",
    "Turn the cutter by hand before starting; make a trial cut in waste first.",
    "The machine's and the cutter's manuals, local rules and your training come before this plan.",
)
"""Cautions for every cut. Common practice; safety guidance for spindle moulders and 29 CFR
1910.213, as remembered."""


@dataclass(frozen=True, slots=True)
class Hazard:
    """What would hurt or spoil, how bad it is, and what to do.

    ``"never"`` is a cut that must not be made, ``"danger"`` one that can hurt, ``"care"`` one
    that can spoil the work. ``text`` has a pair of braces for each of ``lengths``, which are
    written in the maker's own style. [mm]
    """

    kind: str
    severity: Severity
    text: str
    lengths: tuple[float, ...] = ()

    def said(self, write: Callable[[float], str]) -> str:
        """The text with its lengths written."""
        return self.text.format(*(write(length) for length in self.lengths))


def feed_of(machine: Machine, result: PassResult) -> Feed:
    """Feed that meets the teeth where the pass leaves a new wall.

    Away from the fence that is the machine's usual feed. Where the only new wall is by the fence
    the teeth there run the other way, and so must the work.
    """
    usual: Feed = machine.outer_side_feed
    if result.fresh != "fence side":
        return usual
    return "left to right" if usual == "right to left" else "right to left"


def pass_hazards(
    machine: Machine, station: Station, work: Work, result: PassResult
) -> list[Hazard]:
    """Hazards of one pass over the cutter."""
    found = [*_direction(machine, result), *_body(machine, station, work, result)]
    bite = deepest_bite(station.run.cutter, work.timber)
    wing = isinstance(station.run.cutter, SlotCutter | TonguePairCutter)
    taken = result.bite_across if wing else result.bite_up
    if taken > bite * BITE_MARGIN:
        found.append(
            Hazard(
                "bite too deep",
                "danger",
                "{} in one pass is more than the {} this cutter should take in "
                f"{work.timber}: take it in more passes",
                (taken, bite),
            )
        )
    return found


def _direction(machine: Machine, result: PassResult) -> list[Hazard]:
    if result.fresh != "fence side":
        return []
    feed = feed_of(machine, result)
    if not result.wood_beyond:
        return [
            Hazard(
                "trapped",
                "never",
                "the work would run trapped between cutter and fence and be thrown",
            )
        ]
    return [
        Hazard(
            "feed reversed",
            "never",
            "the pass cuts only on the fence side: with the usual feed it climbs and snatches "
            f"(only {feed} would meet the teeth, and then the work is pushed off the fence)",
        )
    ]


def _body(machine: Machine, station: Station, work: Work, result: PassResult) -> list[Hazard]:
    found = []
    if result.rubs > 0:
        found.append(
            Hazard(
                "beyond the cutting edge",
                "never",
                f"the shank or arbor of {_plain(station.run.cutter.mark)} would rub on the work",
            )
        )
    if result.offcut > 0:
        found.append(
            Hazard(
                "loose offcut",
                "danger",
                "the waste comes away as a strip that can be thrown: keep clear of its path",
            )
        )
    posture = result.run.posture
    if posture.flat and isinstance(station.run.cutter, SlotCutter):
        found.append(
            Hazard(
                "work rides up",
                "care",
                "the cutter works above the table: hold the work down, what rides up is cut too "
                "deep",
            )
        )
    return found + _tall(machine, work, flat=posture.flat)


def _tall(machine: Machine, work: Work, *, flat: bool) -> list[Hazard]:
    """Work that stands taller than its base is wide."""
    base, tall = float(work.across.min()), float(work.deep.max())
    if flat:
        base, tall = float(work.deep.min()), float(work.across.max())
    if tall <= base:
        return []
    if work.end_grain and tall > TALLEST_ON_END:
        return [
            Hazard(
                "tall on end",
                "never",
                "the work would stand {} tall on its end, on {} of wood: it topples into the "
                "cutter without a tall carriage that holds it",
                (tall, base),
            )
        ]
    return [
        Hazard(
            "tall on edge",
            "danger",
            "the work stands {} tall on a base of {} against a fence {} high: hold it with a "
            "featherboard low down, and fit a taller fence unless this one is as tall",
            (tall, base, machine.fence.height),
        )
    ]


def setup_hazards(machine: Machine, station: Station, work: Work) -> list[Hazard]:
    """Hazards of a setup whatever the pass: speed, reach, sizes of the work, grain."""
    cutter = station.run.cutter
    found = _speed(machine, station)
    if station.height > cutter.reach + 1e-9:
        found.append(
            Hazard(
                "out of reach",
                "never",
                f"{_plain(cutter.mark)} would stand {{}} above the table, and its shank is safely "
                "held only to {}",
                (station.height, cutter.reach),
            )
        )
    opening = machine.table_opening
    if opening is not None and cutter.swept_diameter > opening:
        found.append(
            Hazard(
                "table opening",
                "never",
                f"{_plain(cutter.mark)} turns {{}} and the table opens {{}}",
                (cutter.swept_diameter, opening),
            )
        )
    short = float(work.along.min())
    narrow = float(work.across.min() if work.on_face else work.deep.min())
    if short < SHORTEST and work.end_grain:
        found.append(
            Hazard(
                "short bearing",
                "danger",
                "only {} of the work bears on the fence: use a carriage or a square block behind "
                "it, and close the fence opening with a false fence",
                (short,),
            )
        )
    elif short < SHORTEST:
        found.append(
            Hazard(
                "short work",
                "danger",
                "the shortest piece is {}: below {} use a carrier, or cut it from a longer piece "
                "afterwards",
                (short, SHORTEST),
            )
        )
    if narrow < NARROWEST:
        found.append(
            Hazard(
                "narrow work",
                "danger",
                "the narrowest piece is {}: below {} use push blocks or a carrier",
                (narrow, NARROWEST),
            )
        )
    if work.end_grain:
        found.append(
            Hazard(
                "end grain",
                "care",
                "end grain tears out where the cutter leaves it: back it up with a block, and cut "
                "it before any edge along the grain",
            )
        )
    return found


def _speed(machine: Machine, station: Station) -> list[Hazard]:
    cutter = station.run.cutter
    speed = spindle_speed(machine, cutter)
    if speed.speed_rpm is None:
        slowest = min(machine.speeds_rpm)
        return [
            Hazard(
                "over speed",
                "never",
                f"{_plain(cutter.mark)} may turn {speed.limit_rpm} rpm ({speed.source}), and "
                f"{_plain(machine.mark)} turns no slower than {slowest} rpm",
            )
        ]
    rim = rim_speed(cutter.swept_diameter, speed.speed_rpm)
    if rim > RIM_SPEED_WARNING:
        return [Hazard("rim speed", "danger", f"the rim runs at {rim:.0f} m/s")]
    return []


def wood_left_hazards(walls: Sequence[tuple[str, float]]) -> list[Hazard]:
    """Hazards of thin wood: pairs of what is left, and its least thickness. [mm]"""
    found = []
    for what, least in walls:
        if least < TOO_THIN:
            found.append(
                Hazard("too little left", "never", f"only {{}} would be left of {what}", (least,))
            )
        elif least < THIN:
            found.append(Hazard("little left", "care", f"only {{}} is left of {what}", (least,)))
    return found


def _plain(mark: str) -> str:
    """A maker's own name as text, whatever braces it has."""
    return mark.replace("{", "{{").replace("}", "}}")


def worst_first(hazards: Sequence[Hazard]) -> tuple[Hazard, ...]:
    """Each hazard once, the worst first."""
    order: dict[Severity, int] = {"never": 0, "danger": 1, "care": 2}
    return tuple(sorted(dict.fromkeys(hazards), key=lambda hazard: order[hazard.severity]))
