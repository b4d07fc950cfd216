"""Tongues and groove walls: strips that stand out of the wood and are pushed sideways.

Stresses are those of a plain cantilever. On parts as short as they are thick that is rough, and
a sharp inside corner raises the stress at the root, which is not counted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from faywright.errors import InputError
from faywright.timber.allowable import Property, allowable, figure
from faywright.timber.strength import ClearWood, Service
from faywright.timber.verdict import Check, Verdict, Working, above_nought, not_negative

Grain = Literal["along the edge", "out of the edge"]
"""How the grain runs in the strip. Along a long-grain edge it breaks by splitting; out of an end
it breaks over its fibres."""

FAILURES: dict[Grain, tuple[tuple[str, Property], tuple[str, Property]]] = {
    "along the edge": (
        ("splitting at the root", "tension across"),
        ("shearing off at the root", "rolling shear"),
    ),
    "out of the edge": (
        ("breaking at the root", "bending"),
        ("shearing along the grain", "shear"),
    ),
}
"""Failure in bending and in shear, and the property that resists each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineLoad:
    """A force pushing sideways [N], spread evenly over a length of the joint. [mm]"""

    force: float
    along: float

    def __post_init__(self) -> None:
        """A force of 0 or more, on some length."""
        not_negative("load on the joint", force=self.force)
        above_nought("load on the joint", length_loaded=self.along)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What stands from its root: ``thickness`` there, and the load's lever ``arm``. [mm]

    For a tongue the arm runs from its shoulder, for a groove wall from the groove's bottom, to
    the middle of where they press on each other.
    """

    thickness: float
    arm: float
    grain: Grain = "along the edge"

    def __post_init__(self) -> None:
        """Thickness and arm above 0, and a grain that is known."""
        above_nought("strip", thickness=self.thickness, lever_arm=self.arm)
        if self.grain not in get_args(Grain):
            known = " or ".join(get_args(Grain))
            raise InputError(f"grain {self.grain!r}", where="strip", remedy=f"Use {known}")

    def bending(self, load: LineLoad) -> Working:
        """Bending stress at the root: 6 F a / (b t^2). [MPa]"""
        force, along, arm, thick = load.force, load.along, self.arm, self.thickness
        return Working(
            lengths=(("lever arm", arm), ("thickness", thick), ("loaded over", along)),
            sum=f"6 x {figure(force)} x {figure(arm)} / ({figure(along)} x {figure(thick)}^2)",
            result=6 * force * arm / (along * thick**2),
            unit="MPa",
        )

    def shear(self, load: LineLoad) -> Working:
        """Greatest shear stress at the root: 1.5 F / (b t). [MPa]"""
        force, along, thick = load.force, load.along, self.thickness
        return Working(
            lengths=(("thickness", thick), ("loaded over", along)),
            sum=f"1.5 x {figure(force)} / ({figure(along)} x {figure(thick)})",
            result=1.5 * force / (along * thick),
            unit="MPa",
        )

    def checks(self, wood: ClearWood, service: Service, load: LineLoad) -> tuple[Check, ...]:
        """Both failures at the root."""
        return tuple(
            Check(failure=failure, working=working, limit=allowable(wood, of, service))
            for (failure, of), working in zip(
                FAILURES[self.grain], (self.bending(load), self.shear(load)), strict=True
            )
        )


def tongue(wood: ClearWood, service: Service, load: LineLoad, strip: Strip) -> Verdict:
    """A tongue pushed sideways, at its root.

    Examples
    --------
    >>> walnut = ClearWood(kind="hardwood", bending=101, elasticity=11600, compression_perp=7,
    ...     shear_parallel=9.4, tension_perp=4.8)
    >>> found = tongue(walnut, Service(), LineLoad(force=300, along=400),
    ...     Strip(thickness=6, arm=4))
    >>> found.likely, found.deciding.failure
    ('likely', 'splitting at the root')
    >>> found.deciding.working.line("{:.2f} mm".format)
    'lever arm 4.00 mm, thickness 6.00 mm, loaded over 400.00 mm; in N and mm: \
6 x 300 x 4 / (400 x 6^2) = 0.5 MPa'
    """
    return Verdict(
        member="tongue",
        load_case="the tongue is pushed sideways, evenly along the joint",
        checks=strip.checks(wood, service, load),
    )


def groove_wall(wood: ClearWood, service: Service, load: LineLoad, strip: Strip) -> Verdict:
    """A groove's wall pushed outwards by the tongue, at its root beside the groove's bottom."""
    return Verdict(
        member="groove wall",
        load_case="the tongue pushes one groove wall outwards, evenly along the joint",
        checks=strip.checks(wood, service, load),
    )


def shelf_in_dado(
    wood: ClearWood, service: Service, *, reaction: float, along: float, depth: float
) -> Verdict:
    """A shelf's end resting in a dado: p = R / (b depth), against compression across its grain.

    ``reaction`` is the load on this end [N], ``along`` the shelf's width and ``depth`` how far
    it enters the dado. [mm] The side's end grain under it is harder than the shelf.
    """
    not_negative("shelf in a dado", reaction=reaction)
    above_nought("shelf in a dado", length_loaded=along, depth=depth)
    pressed = Check(
        failure="crushing in the dado",
        working=bearing(reaction, along, ("dado depth", depth)),
        limit=allowable(wood, "compression across", service),
    )
    return Verdict(
        member="shelf end",
        load_case="the shelf's end rests evenly on the whole dado",
        checks=(pressed,),
    )


def bearing(force: float, along: float, depth: tuple[str, float]) -> Working:
    """Pressure of a force on a strip that it rests on: p = R / (b depth). [MPa]"""
    return Working(
        lengths=(("loaded over", along), depth),
        sum=f"{figure(force)} / ({figure(along)} x {figure(depth[1])})",
        result=force / (along * depth[1]),
        unit="MPa",
    )
