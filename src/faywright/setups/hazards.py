"""Hazards of a cut, read off the simulated cut itself; and the feed that goes with each pass.

The rules are the trade's; each says where it comes from. They never replace the machine's and
the cutter's manuals, local rules, or training.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from string import Formatter
from typing import Literal

from faywright.joints.method import Station
from faywright.joints.work import Work
from faywright.setups.simulate import NOTHING, PassResult
from faywright.shop.cutters import Cutter, SlotCutter, TonguePairCutter
from faywright.shop.machines import Machine
from faywright.shop.practice import (
    deepest_bite,
    largest_bite,
    least_shank,
    rim_speed,
    slow_start,
    spindle_speed,
)

Severity = Literal["never", "danger", "care"]
Feed = Literal["right to left", "left to right"]

THIN = 3.0
TOO_THIN = 1.5
"""Wood left beside a cut: below ``THIN`` it is fragile, below ``TOO_THIN`` it is not cut. [mm]
Common practice, no source."""

BITE_MARGIN = 1.05

RIM_SPEED_WARNING = 56.0
"""Rim speed above which to think twice. [m/s] The top of the published tables by diameter."""

SHAVING = 1.0
"""A cut no wider than this may be as deep as the cutting edge is long. [mm] Common practice, no
source: the last pass at full depth takes 0.5 to 1 mm."""

HANDS_AWAY = 100.0
"""How far hands keep from the cutter. [mm] Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Caution:
    """What holds for every cut. ``text`` has a pair of braces for each of ``lengths``. [mm]"""

    text: str
    lengths: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        """Every length has its place in the text."""
        _check_places(self.text, self.lengths)

    def said(self, write: Callable[[float], str]) -> str:
        """The text with its lengths written."""
        return self.text.format(*(write(length) for length in self.lengths))


def _check_places(text: str, lengths: tuple[float, ...]) -> None:
    places = sum(name is not None for _, name, _, _ in Formatter().parse(text))
    if places != len(lengths):
        raise ValueError(f"{len(lengths)} lengths for {places} places in {text!r}")


CAUTIONS = (
    Caution(
        "Stop the machine and isolate it from the mains before touching cutter, height or fence."
    ),
    Caution(
        "Glasses, ear defenders, extraction and a mask on. No gloves or loose sleeves at the "
        "cutter."
    ),
    Caution(
        "Smallest openings in table and fence, guard and pressure pads on, hands {} away.",
        (HANDS_AWAY,),
    ),
    Caution("Turn the cutter by hand before starting; make a trial cut in waste first."),
    Caution(
        "The machine's and the cutter's manuals, local rules and your training come before this "
        "plan."
    ),
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

    def __post_init__(self) -> None:
        """Every length has its place in the text."""
        _check_places(self.text, self.lengths)

    def said(self, write: Callable[[float], str]) -> str:
        """The text with its lengths written."""
        return Caution(self.text, self.lengths).said(write)


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
    """Hazards of one pass: which way it cuts, what touches wood, and how big the bite is."""
    if result.after.is_empty:
        return [Hazard("nothing left", "never", "the cut would leave nothing of the work")]
    cutter = station.run.cutter
    found = _direction(machine, result)
    if result.rubs > 0:
        found.append(
            Hazard(
                "beyond the cutting edge",
                "never",
                f"the shank or arbor of {plain(cutter.mark)} would rub on the work",
            )
        )
    bite = deepest_bite(cutter, work.timber)
    winged = isinstance(cutter, SlotCutter | TonguePairCutter)
    taken = result.bite_across if winged else result.bite_up
    if taken > bite * BITE_MARGIN and result.bite_across > SHAVING + NOTHING:
        found.append(
            Hazard(
                "bite too deep",
                "danger",
                "{} in one pass is more than the {} this cutter should take in "
                f"{work.timber}: take it in more passes",
                (taken, bite),
            )
        )
    bar = largest_bite(work.timber)
    if result.area > bar**2 * BITE_MARGIN:
        found.append(
            Hazard(
                "bite too big",
                "danger",
                "{} across by {} up in one pass is more wood than a bar {} square, the most to "
                f"take in {work.timber}: take it in more passes",
                (result.bite_across, result.bite_up, bar),
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


def setup_hazards(machine: Machine, station: Station) -> list[Hazard]:
    """Hazards of a cutter at its setting whatever the pass: speed, reach, shank, table opening."""
    cutter = station.run.cutter
    found = _speed(machine, cutter)
    if station.height > cutter.reach + 1e-9:
        found.append(
            Hazard(
                "out of reach",
                "never",
                f"{plain(cutter.mark)} would stand {{}} above the table, and its shank is safely "
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
                f"{plain(cutter.mark)} turns {{}} and the table opens {{}}",
                (cutter.swept_diameter, opening),
            )
        )
    shank = least_shank(cutter)
    if cutter.shank < shank:
        found.append(
            Hazard(
                "thin shank",
                "danger",
                f"{plain(cutter.mark)} turns {{}} on a shank of {{}}, which may bend: use one on a "
                "shank of {} or more",
                (cutter.swept_diameter, cutter.shank, shank),
            )
        )
    return found


def _speed(machine: Machine, cutter: Cutter) -> list[Hazard]:
    speed = spindle_speed(machine, cutter)
    if speed.speed_rpm is None:
        slowest = min(machine.speeds_rpm)
        return [
            Hazard(
                "over speed",
                "never",
                f"{plain(cutter.mark)} may turn {speed.limit_rpm} rpm ({speed.source}), and "
                f"{plain(machine.mark)} turns no slower than {slowest} rpm",
            )
        ]
    found = []
    rim = rim_speed(cutter.swept_diameter, speed.speed_rpm)
    if rim > RIM_SPEED_WARNING:
        found.append(Hazard("rim speed", "danger", f"the rim runs at {rim:.0f} m/s"))
    if slow_start(cutter) is not None:
        found.append(
            Hazard(
                "no marking",
                "care",
                f"{plain(cutter.mark)} has wings and no speed marked on it: start at "
                f"{speed.speed_rpm} rpm, and go faster only on its maker's word",
            )
        )
    return found


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


def plain(mark: str) -> str:
    """A maker's own name as text, whatever braces it has."""
    return mark.replace("{", "{{").replace("}", "}}")


def worst_first(hazards: Sequence[Hazard]) -> tuple[Hazard, ...]:
    """Each hazard once, the worst first."""
    order: dict[Severity, int] = {"never": 0, "danger": 1, "care": 2}
    return tuple(sorted(dict.fromkeys(hazards), key=lambda hazard: order[hazard.severity]))
