"""The whole shop: machines, cutters, gauges and the maker's habits."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.shop.cutters import Cutter
from faywright.shop.gauges import Gauge, Use
from faywright.shop.machines import Machine
from faywright.timber.species import Species

Reference = Literal["far edge", "axis", "near edge"]

ASSUMED_GAUGE = Gauge(
    mark="assumed", uses=("height", "fence", "thickness"), resolution=0.02, repeatability=0.03
)
"""Stands in where no gauge is listed. Common practice, no source: 0.03 mm by the same hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How this maker likes to read and measure."""

    style: LengthStyle
    reference: Reference = "far edge"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """What the maker owns; ``species`` are those whose figures are the maker's own."""

    title: str
    machines: tuple[Machine, ...]
    cutters: tuple[Cutter, ...]
    gauges: tuple[Gauge, ...] = ()
    species: tuple[Species, ...] = ()
    habits: Habits = field(
        default_factory=lambda: Habits(style=LengthStyle(style="mm", places=2, denominator=64))
    )

    def __post_init__(self) -> None:
        """Each thing needs a mark of its own."""
        # A gauge whose zero was learned apart for each of its uses is there once for each.
        gauges: list[tuple[str, str]] = [
            (gauge.mark, use) for gauge in self.gauges for use in gauge.uses
        ]
        for kind, things in (
            ("machine", [(machine.mark, "") for machine in self.machines]),
            ("cutter", [(cutter.mark, "") for cutter in self.cutters]),
            ("gauge", gauges),
        ):
            for thing in things:
                if things.count(thing) > 1:
                    raise InputError(
                        f"{kind} {thing[0]!r} is listed twice",
                        where="shop",
                        remedy="Give each its own mark",
                    )
        if not self.machines:
            raise InputError("no machine listed", where="shop", remedy="List at least one")

    def gauge_for(self, use: Use) -> Gauge:
        """The finest gauge listed for a use; the assumed one where there is none."""
        fit = [gauge for gauge in self.gauges if use in gauge.uses]
        return min(fit, key=lambda gauge: gauge.standard_uncertainty, default=ASSUMED_GAUGE)
