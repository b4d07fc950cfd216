"""Slats and shelves: bending, shear and sag of a plain beam with its grain along the span."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from faywright.errors import InputError, RangeError
from faywright.timber.allowable import allowable, figure
from faywright.timber.strength import ClearWood, Service, moisture_share
from faywright.timber.verdict import (
    SAG_SHARE,
    Check,
    SagLimit,
    Verdict,
    Working,
    above_nought,
    not_negative,
)

LoadPlace = Literal["centre", "even"]
"""The load stands on the middle of the span, or is spread evenly over it."""

TRUE_STIFFNESS = 1.10
"""True modulus along the grain over the published one, which has shear's part of the sag in it.
Wood Handbook (2010), ch. 5, from memory."""

STIFFNESS_OVER_SHEAR = 16.0
"""True modulus along the grain over the shear modulus. Wood Handbook (2010), ch. 9, from
memory; it is 7 for black cherry and 16 for Douglas-fir, so shear is not made too little of."""

CREEP = 1.5
"""Sag in time over sag at once, for dry timber; 2 where it was built in green. Wood Handbook,
from memory."""

MOMENT = {"centre": 4, "even": 8}
"""Greatest moment is load times span over this."""

BENDING_SAG = {"centre": (1, 4), "even": (5, 32)}
"""Sag by bending is W L^3 / (E b h^3) times this: 12/48, and 12 x 5/384."""

SHEAR_SAG = {"centre": 4, "even": 8}
"""Sag by shear is 1.2 W L / (G b h) over this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """A slat or shelf lying on two supports. [mm]

    ``width`` is across the grain, ``thickness`` upright. Ends held in dados count as lying free,
    which is on the safe side.
    """

    span: float
    width: float
    thickness: float

    def __post_init__(self) -> None:
        """All sizes above 0, and the span longer than the beam is thick."""
        above_nought("beam", span=self.span, width=self.width, thickness=self.thickness)
        if self.span < 2 * self.thickness:
            raise RangeError(
                f"a span of {self.span:g} mm on a thickness of {self.thickness:g} mm",
                where="beam",
                remedy="Give a span of at least twice the thickness: shorter ones are no beams",
            )


def slat(
    wood: ClearWood,
    service: Service,
    beam: Beam,
    *,
    load: float,
    spread: LoadPlace = "even",
    creep: float = CREEP,
    sag_share: float = SAG_SHARE,
) -> Verdict:
    """A slat or shelf under a total ``load`` [N], its own weight included by the maker.

    Sag is that of mean stiffness, elastic bending and shear, times ``creep`` for what it gains
    in years, against the span over ``sag_share``. The softest board in twenty sags more than
    half as much again.

    Examples
    --------
    >>> pine = ClearWood(kind="softwood", bending=59, elasticity=8500, compression_perp=3,
    ...     shear_parallel=6.2, tension_perp=2.1)
    >>> shelf = slat(pine, Service(), Beam(span=800, width=250, thickness=18), load=300)
    >>> shelf.likely, shelf.deciding.failure, f"{shelf.deciding.found:.2f} mm"
    ('likely', 'sagging', '2.66 mm')
    """
    if spread not in get_args(LoadPlace):
        known = " or ".join(get_args(LoadPlace))
        raise InputError(f"load spread {spread!r}", where="beam", remedy=f"Use {known}")
    not_negative("beam", load=load)
    above_nought("beam", share_of_the_span=sag_share)
    if not 1 <= creep <= 3:
        raise RangeError(
            f"a creep factor of {creep:g}",
            where="beam",
            remedy="Give sag in time over sag at once: 1.5 for dry timber, 2 for green",
        )
    stands = "on the middle of the span" if spread == "centre" else "evenly over the span"
    return Verdict(
        member="slat",
        load_case=f"{figure(load)} N stand {stands}; the beam lies on two supports",
        checks=(
            Check(
                failure="breaking in the middle",
                working=bending(beam, load, spread),
                limit=allowable(wood, "bending", service),
            ),
            Check(
                failure="shearing at a support",
                working=shear(beam, load),
                limit=allowable(wood, "shear", service),
            ),
            Check(
                failure="sagging",
                working=sag(beam, load, spread, modulus=stiffness(wood, service), creep=creep),
                limit=SagLimit(beam.span, sag_share),
            ),
        ),
    )


def stiffness(wood: ClearWood, service: Service) -> float:
    """Mean true modulus along the grain, at the moisture in service. [MPa]"""
    wet, _ = moisture_share(wood, "elasticity", service.moisture)
    return TRUE_STIFFNESS * wood.mean("elasticity") * wet


def bending(beam: Beam, load: float, spread: LoadPlace) -> Working:
    """Bending stress in the middle: 6 M / (b h^2). [MPa]"""
    span, width, thick = beam.span, beam.width, beam.thickness
    over = MOMENT[spread]
    return Working(
        lengths=_sizes(beam),
        sum=f"6 x ({figure(load)} x {figure(span)} / {over}) / "
        f"({figure(width)} x {figure(thick)}^2)",
        result=6 * load * span / over / (width * thick**2),
        unit="MPa",
    )


def shear(beam: Beam, load: float) -> Working:
    """Greatest shear stress, at a support that carries half the load: 1.5 V / (b h). [MPa]"""
    width, thick = beam.width, beam.thickness
    return Working(
        lengths=(("width", width), ("thickness", thick)),
        sum=f"1.5 x ({figure(load)} / 2) / ({figure(width)} x {figure(thick)})",
        result=1.5 * load / 2 / (width * thick),
        unit="MPa",
    )


def sag(
    beam: Beam, load: float, spread: LoadPlace, *, modulus: float, creep: float = 1.0
) -> Working:
    """Sag in the middle, by bending and by shear, times ``creep``. [mm]

    ``modulus`` is the true one along the grain, a sixteenth of it that of shear. [MPa] Even:
    5 W L^3 / (384 E I) + 1.2 W L / (8 A G); centre: W L^3 / (48 E I) + 1.2 W L / (4 A G).
    """
    span, width, thick = beam.span, beam.width, beam.thickness
    times, over = BENDING_SAG[spread]
    shear_over = SHEAR_SAG[spread]
    ratio = STIFFNESS_OVER_SHEAR
    unit_sag = load * span / (modulus * width * thick)
    return Working(
        lengths=_sizes(beam),
        sum=f"{figure(creep)} x {figure(load)} x {figure(span)} / "
        f"({figure(modulus)} x {figure(width)} x {figure(thick)}) x "
        f"({times} x ({figure(span)} / {figure(thick)})^2 / {over} "
        f"+ 1.2 x {ratio:g} / {shear_over})",
        result=creep * unit_sag * (times * (span / thick) ** 2 / over + 1.2 * ratio / shear_over),
        unit="mm",
    )


def _sizes(beam: Beam) -> tuple[tuple[str, float], ...]:
    return (("span", beam.span), ("width", beam.width), ("thickness", beam.thickness))
