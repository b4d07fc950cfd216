"""A solid panel in the grooves of a frame: never bottoms when wettest, still engaged when driest.

With an opening O between grooves of depth G, a panel that is P across the grain today

    never bottoms      P (1 + m s) <= O + 2 G - 2 r        s swelling, m margin, r least room
    stays when pinned  P (1 - m d) >= O + 2 e              d shrinkage, e least engagement
    stays when loose   P (1 - m d) >= O + G + e            pushed to the bottom of one groove

The largest panel that never bottoms is the one to cut: its engagement is the deepest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from faywright.errors import InfeasibleError, InputError, RangeError
from faywright.timber.movement import MARGIN
from faywright.timber.rows import LEAST_ENGAGEMENT
from faywright.timber.verdict import above_nought
from faywright.timber.year import Expected, Swing, expected

LEAST_ROOM = 0.5
"""Room that is left at the bottom of each groove even when wettest, for finish and dust.
Common practice, no source. [mm]"""

NARROWEST = 60
"""Openings narrower than this are not worth a panel. [mm]"""

FrameGrain = Literal["upright", "level"]
"""Which way a panel's grain runs: an upright one moves in width, a level one in height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The opening of a frame as it is seen, and how deep its grooves are on all four sides. [mm]"""

    opening_width: float
    opening_height: float
    groove_depth: float

    def __post_init__(self) -> None:
        """A frame has an opening and grooves."""
        above_nought(
            "frame",
            opening_width=self.opening_width,
            opening_height=self.opening_height,
            groove_depth=self.groove_depth,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelRules:
    """What a panel has to keep to: margin on its movement, engagement and room each side. [mm]"""

    margin: float = MARGIN
    engagement: float = LEAST_ENGAGEMENT
    room: float = LEAST_ROOM

    def __post_init__(self) -> None:
        """Figures within reason."""
        for name, value, low, high, unit in (
            ("margin", self.margin, 1, 3, "times the movement"),
            ("engagement", self.engagement, 0.5, 50, "mm"),
            ("room", self.room, 0, 10, "mm"),
        ):
            if not low <= value <= high:
                raise RangeError(
                    f"{name} {value:g} {unit} is not between {low} and {high}",
                    where="framed panel",
                    remedy="Check its units",
                )


@dataclass(frozen=True, slots=True)
class FramedState:
    """The panel at another moisture, across its grain. [mm]

    ``room`` and ``engaged`` are those of each side while it stands in the middle; ``far`` is what
    one side keeps when the other has been pushed to the bottom of its groove.
    """

    size: Expected
    room: Expected
    engaged: Expected
    far: Expected


@dataclass(frozen=True, slots=True, kw_only=True)
class FramedPanel:
    """A panel as it is to be cut today. [mm]

    ``across`` is its size across the grain, the most there may be; ``least_pinned`` the least
    that stays engaged when pins hold its middle, ``least_loose`` when nothing does. ``along`` is
    its size along the grain, in which it moves by nothing that counts.
    """

    frame: Frame
    grain: FrameGrain
    swing: Swing
    rules: PanelRules
    across: float
    along: float
    least_pinned: float
    least_loose: float

    @property
    def width(self) -> float:
        """Width to cut. [mm]"""
        return self.across if self.grain == "upright" else self.along

    @property
    def height(self) -> float:
        """Height to cut. [mm]"""
        return self.along if self.grain == "upright" else self.across

    @property
    def opening(self) -> float:
        """Opening across the grain. [mm]"""
        return _openings(self.frame, self.grain)[0]

    @property
    def room(self) -> float:
        """Room to leave today from each edge to the bottom of its groove, across the grain. [mm]"""
        return self.at(0.0).room.size

    @property
    def needs_pins(self) -> bool:
        """Whether it could leave one groove if it drifted into the other."""
        return self.across < self.least_loose

    def at(self, change: float) -> FramedState:
        """The panel after wood has changed by the share ``change`` of its size today."""
        grown, depth = self.across * change, self.frame.groove_depth
        beyond = self.across - self.opening  # what both grooves hold of it today
        return FramedState(
            size=expected(self.across, grown),
            room=expected(depth - beyond / 2, -grown / 2),
            engaged=expected(beyond / 2, grown / 2),
            far=expected(beyond - depth, grown),
        )

    @property
    def by_month(self) -> tuple[FramedState, ...]:
        """The panel in each month, January first."""
        return tuple(self.at(change) for change in self.swing.months)

    @property
    def driest(self) -> FramedState:
        """The panel at the driest."""
        return self.at(-self.swing.shrinkage)

    @property
    def wettest(self) -> FramedState:
        """The panel at the wettest."""
        return self.at(self.swing.swelling)


def framed_panel(
    frame: Frame,
    swing: Swing,
    *,
    grain: FrameGrain = "upright",
    rules: PanelRules | None = None,
) -> FramedPanel:
    """The largest panel that never bottoms in ``frame``.

    Raises
    ------
    InputError
        The grain runs neither way.
    InfeasibleError
        No size has room at the wettest and is engaged at the driest, even when it is pinned; the
        message says how deep grooves would have to be, or how wide an opening they serve.

    Examples
    --------
    >>> frame = Frame(opening_width=300, opening_height=600, groove_depth=10)
    >>> moves = Swing(swelling=0.01, shrinkage=0.01, months=(0.0,) * 12)
    >>> panel = framed_panel(frame, moves)
    >>> round(panel.width, 2), panel.height, round(panel.room, 2), panel.needs_pins
    (314.91, 619.0, 2.55, True)
    """
    if grain not in get_args(FrameGrain):
        raise InputError(
            f"grain {grain!r} is not known",
            where="framed panel",
            remedy=f"Use {' or '.join(get_args(FrameGrain))}",
        )
    rules = PanelRules() if rules is None else rules
    opening, other = _openings(frame, grain)
    depth, usable = frame.groove_depth, 2 * (frame.groove_depth - rules.room)
    swells, left = 1 + rules.margin * swing.swelling, 1 - rules.margin * swing.shrinkage
    panel = FramedPanel(
        frame=frame,
        grain=grain,
        swing=swing,
        rules=rules,
        across=(opening + usable) / swells,
        along=other + usable,
        least_pinned=(opening + 2 * rules.engagement) / left,
        least_loose=(opening + depth + rules.engagement) / left,
    )
    if panel.across < panel.least_pinned:
        raise _too_shallow(panel, swells, left)
    return panel


def _openings(frame: Frame, grain: FrameGrain) -> tuple[float, float]:
    """Opening across the grain of the panel, and along it. [mm]"""
    if grain == "upright":
        return frame.opening_width, frame.opening_height
    return frame.opening_height, frame.opening_width


def _too_shallow(panel: FramedPanel, swells: float, left: float) -> InfeasibleError:
    """Say which depth would do, and into how many openings this one would have to be parted."""
    rules, depth, opening = panel.rules, panel.frame.groove_depth, panel.opening
    needed = rules.room + ((opening + 2 * rules.engagement) * swells / left - opening) / 2
    remedy = f"Cut the grooves {math.ceil(10 * needed) / 10:g} mm deep"
    spare = 2 * (depth - rules.room) * left - 2 * rules.engagement * swells
    widest = math.floor(spare / (swells - left)) if spare > 0 else 0  # still wood always fits
    if widest >= NARROWEST:
        remedy += (
            f", or part the opening by muntins into {math.ceil(opening / widest)} panels, none "
            f"over an opening of more than {widest} mm"
        )
    return InfeasibleError(
        f"no panel has room in grooves {depth:g} mm deep when wettest (at most "
        f"{panel.across:.1f} mm today) and {rules.engagement:g} mm of engagement when driest (at "
        f"least {panel.least_pinned:.1f} mm today)",
        where=f"panel across an opening of {opening:g} mm",
        remedy=remedy,
    )
