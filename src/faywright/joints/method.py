"""A method: one way to cut a groove or a tongue, in closed form and as runs over the machine."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from faywright.fit.forms import Form, Quantity, Value
from faywright.section.cutting import Pass
from faywright.section.posture import Posture
from faywright.shop.boards import Timber
from faywright.shop.cutters import Cutter, SlotCutter
from faywright.shop.practice import deepest_bite

Side = Literal["groove", "tongue"]
Settings = Mapping[Quantity, float]
Reference = Literal["cutter top", "wing's lower edge", "lower wing's top"]

ANY_SIZE = (0.0, math.inf)

OVERLAP = 0.5
"""By how much neighbouring passes overlap, so that no rib is left between them. [mm]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One cutter in one family of settings: what is set, and what its parts leave.

    ``height`` is where the point it is measured to stands above the table: the cutter's top, or
    what ``reference`` says, ``top_over`` below the top. ``far`` is where the far edge stands out
    from the fence. ``makes`` has a mapping from parts of the cutter to surfaces for each of
    ``postures``. ``outer`` is the setting that decides the fit; it is brought to its final value
    last, and once. ``rise`` and ``widen`` tell how height and fence get there:

    - ``"once"``: no steps;
    - ``"bite"``: steps no bigger than the cutter should take in one pass;
    - ``"width"``: steps that leave no rib, for a cut wider than the cutter;
    - ``"from above"``: a wing that comes down through the waste to its final height.
    """

    key: str
    cutter: Cutter
    postures: tuple[Posture, ...]
    height: Quantity
    far: Quantity
    makes: tuple[Mapping[str, str], ...]
    outer: Literal["height", "fence"]
    rise: Literal["once", "bite", "width", "from above"]
    widen: Literal["once", "bite", "width"]
    reference: Reference = "cutter top"
    top_over: float = 0.0

    def heights(self, settings: Settings, thickest: float, timber: Timber) -> list[float]:
        """Heights of the cutter's top above the table, the final one last. [mm]"""
        top = settings[self.height] + self.top_over
        if self.rise == "once":
            return [top]
        if self.rise == "bite":
            return shares(top, deepest_bite(self.cutter, timber))
        wing = wing_of(self.cutter)
        if self.rise == "width":
            return shares(top, wing - OVERLAP)
        waste = thickest + OVERLAP - (top - wing)
        count = max(1, math.ceil((waste - OVERLAP) / (wing - OVERLAP) - 1e-9))
        return [top + k * (wing - OVERLAP) for k in range(count - 1, -1, -1)]

    def fars(self, settings: Settings, timber: Timber) -> list[float]:
        """Places of the far edge out from the fence, the final one last. [mm]"""
        far = settings[self.far]
        if self.widen == "once":
            return [far]
        if self.widen == "bite":
            return shares(far, deepest_bite(self.cutter, timber))
        return shares(far, self.cutter.swept_diameter - OVERLAP)


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One setting of the machine within a run, and whether it is the final one. [mm]

    ``height`` is from the table to the cutter's top, whatever is measured to.
    """

    run: Run
    height: float
    far: float
    final: bool

    @property
    def radius(self) -> float:
        """Greatest radius of the cutter, from its far edge to the axis."""
        return self.run.cutter.profile.radius

    @property
    def axis(self) -> float:
        """Fence to spindle axis; negative behind the fence face."""
        return self.far - self.radius

    @property
    def near(self) -> float:
        """Fence to the near edge; negative behind the fence face."""
        return self.far - 2 * self.radius

    def passes(self) -> tuple[Pass, ...]:
        """The passes made here, one a posture, for the kernel."""
        profile = self.run.cutter.profile
        return tuple(
            Pass(profile, self.height, self.axis, posture, makes)
            for posture, makes in zip(self.run.postures, self.run.makes, strict=True)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What to measure on the trial piece: a dimension, and the setting that moves it.

    ``quantity`` is None where no setting moves it and the cutter itself decides.
    """

    what: str
    form: Form
    quantity: Quantity | None


@dataclass(frozen=True, kw_only=True)
class Method:
    """One way to cut a groove or a tongue.

    ``surfaces`` gives for each named surface the axis it is measured along (0 for u, 1 for v)
    and its place in closed form. ``size`` is the width of the groove or the thickness of the
    tongue. ``fixed`` holds settings the target decides; ``control`` is the one left to decide
    the size, None where cutters or the part itself do. ``runs`` are in the order of work.
    ``cure`` tells which way an error can still be cured by running the work again. Outside
    ``limits`` of size the closed form does not hold, and the method is not offered.
    """

    name: str
    side: Side
    surfaces: Mapping[str, tuple[Literal[0, 1], Form]]
    size: Form
    fixed: Settings
    control: Quantity | None
    runs: tuple[Run, ...]
    readings: tuple[Reading, ...]
    cure: str = ""
    never: str = ""
    limits: tuple[float, float] = ANY_SIZE
    cutter_sizes: Mapping[Quantity, float] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)

    @property
    def thickness(self) -> Quantity:
        """The thickness of the boards this method cuts."""
        return Quantity("thickness", self.side)

    @property
    def follows(self) -> float:
        """How much the size grows when the board is 1 thicker."""
        return self.size.coefficient(self.thickness)

    @property
    def cutters(self) -> tuple[Cutter, ...]:
        """The cutters it needs, each once."""
        return tuple({run.cutter.mark: run.cutter for run in self.runs}.values())

    def control_for(self, size: Value, thickness: Value) -> Value:
        """The control setting that gives ``size`` on boards of ``thickness``. [mm]"""
        if self.control is None:
            raise TypeError(f"{self.name} has no setting that decides its size")
        values: dict[Quantity, Value] = {**self.known(), self.thickness: thickness}
        values[self.control] = 0.0
        return (size - self.size.value(values)) * (1 / self.size.coefficient(self.control))

    def known(self) -> dict[Quantity, Value]:
        """Fixed settings and the sizes of cutters."""
        return {**self.fixed, **self.cutter_sizes}

    def stations(self, settings: Settings, thickest: float, timber: Timber) -> tuple[Station, ...]:
        """Every setting of the machine it takes, clearing ones first in each run."""
        found: list[Station] = []
        for run in self.runs:
            heights = run.heights(settings, thickest, timber)
            fars = run.fars(settings, timber)
            if run.outer == "height":
                places = [(height, far) for height in heights for far in fars]
            else:
                places = [(height, far) for far in fars for height in heights]
            found += [
                Station(run=run, height=h, far=f, final=k == len(places) - 1)
                for k, (h, f) in enumerate(places)
            ]
        return tuple(found)


def wing_of(cutter: Cutter) -> float:
    """Thickness of a wing cutter's slot; 0 for cutters without a wing. [mm]"""
    return cutter.cut_thickness if isinstance(cutter, SlotCutter) else 0.0


def shares(whole: float, most: float) -> list[float]:
    """``whole`` reached in equal steps of at most ``most``. [mm]

    Examples
    --------
    >>> shares(9.0, 4.0)
    [3.0, 6.0, 9.0]
    """
    count = max(1, math.ceil(whole / most - 1e-9))
    return [whole * (k + 1) / count for k in range(count)]
