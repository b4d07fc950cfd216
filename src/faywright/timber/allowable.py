"""From the mean strength of clear wood to what a part may be loaded to, factor by factor."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from faywright.errors import InputError
from faywright.timber.strength import (
    CALLED,
    ClearWood,
    Duration,
    Service,
    five_percent,
    moisture_share,
)
from faywright.timber.strength_factors import strength_factors

Own = Literal["bending", "shear", "tension across", "compression across"]
"""Properties with a chain of factors of their own."""

Property = Literal["bending", "shear", "rolling shear", "tension across", "compression across"]
"""What a part may fail in. Rolling shear is across the grain: it rolls fibre over fibre."""

GUIDE = "A guide for furniture: not for structures, nor where a failure could hurt someone."
"""Carried by every result."""

ROLLING_SHARE = 0.18
"""Rolling shear over shear along the grain: the low end of 18 to 28 %. Wood Handbook (2010),
ch. 5, from memory."""

RADIAL_SHARE = 1 / 3
"""Most that tension across the grain may be of the allowable shear: the radial tension rule of
curved members, from memory. No allowable tension across the grain is published."""


@dataclass(frozen=True, slots=True)
class Factor:
    """One step from a mean to an allowable stress, what it stands for, and its source."""

    name: str
    value: float
    source: str
    divides: bool = False

    @property
    def multiplier(self) -> float:
        """What the step does to the stress before it."""
        return 1 / self.value if self.divides else self.value

    def words(self) -> str:
        """The step as it stands in a chain."""
        return f"{'/' if self.divides else 'x'} {figure(self.value)} ({self.name})"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowable:
    """The stress a part may be loaded to, with every factor on the way to it.

    ``of`` is what it allows, ``mean_of`` the published property it comes from. ``remark`` tells
    which of two ways was taken; it is empty where there is one.
    """

    of: Property
    mean_of: Own
    mean_mpa: float
    factors: tuple[Factor, ...]
    remark: str = ""
    caution: str = GUIDE

    @property
    def value_mpa(self) -> float:
        """The mean by all the factors. [MPa]"""
        return self.mean_mpa * math.prod(factor.multiplier for factor in self.factors)

    def words(self) -> str:
        """The chain from the mean to the allowable stress, in one line."""
        steps = " ".join(factor.words() for factor in self.factors)
        start = f"{figure(self.mean_mpa)} MPa (mean {CALLED[self.mean_of]})"
        remark = f"; {self.remark}" if self.remark else ""
        return f"{start} {steps} = {self.value_mpa:.3g} MPa{remark}"


def allowable(wood: ClearWood, of: Property, service: Service) -> Allowable:
    """The stress that a part of ``wood`` may be loaded to in ``service``.

    The mean, by moisture, by what the weakest piece in twenty has of it, by the strength ratio,
    over the divisor for ten years of load and safety, by the duration of the load (as ASTM D245
    and D2555 and the NDS do it). Compression across the grain dents and does not break: it goes
    by the mean, and neither knots nor duration count. Rolling shear is a share of shear.
    Tension across the grain is the lower of its own chain and a third of the allowable shear.

    Raises
    ------
    InputError
        The property is unknown, or tension across the grain is needed and not known.

    Examples
    --------
    >>> pine = ClearWood(kind="softwood", bending=59, elasticity=8500, compression_perp=3,
    ...     shear_parallel=6.2, tension_perp=2.1)
    >>> allowable(pine, "compression across", Service()).words()
    '3 MPa (mean compression across the grain) x 1 (12 % moisture) / 1.67 (safety) = 1.8 MPa'
    """
    if of not in get_args(Property):
        known = ", ".join(get_args(Property))
        raise InputError(f"property {of!r}", where="strength", remedy=f"Use one of {known}")
    if of == "rolling shear":
        name = "rolling shear over shear along the grain"
        source = "Wood Handbook (2010), ch. 5; from memory: 18 to 28 %"
        return _share_of_shear(wood, of, Factor(name, ROLLING_SHARE, source), service)
    if of == "tension across":
        return _tension_across(wood, service)
    return _chain(wood, of, service)


def _chain(wood: ClearWood, of: Own, service: Service) -> Allowable:
    """A property's own way down from its mean."""
    wet, how = moisture_share(wood, of, service.moisture)
    moisture = Factor(f"{figure(service.moisture)} % moisture", wet, how)
    divisor = strength_factors()[f"{wood.kind} divisor", of]
    if of == "compression across":
        safety = Factor("safety", divisor.value, divisor.source, divides=True)
        factors: tuple[Factor, ...] = (moisture, safety)
    else:
        safety_name = f"ten years of load and safety, {wood.kind}"
        safety = Factor(safety_name, divisor.value, divisor.source, divides=True)
        factors = (moisture, _weakest(of), _stock(service), safety, _lasting(service.duration))
    return Allowable(of=of, mean_of=of, mean_mpa=wood.mean(of), factors=factors)


def _weakest(of: Own) -> Factor:
    variation = strength_factors()["variation", of]
    name = f"weakest in twenty, scatter {100 * variation.value:.0f} %"
    return Factor(name, five_percent(variation.value), variation.source)


def _stock(service: Service) -> Factor:
    if service.strength_ratio == 1:
        return Factor("clear straight stock", 1.0, "assumed, unless the maker says otherwise")
    return Factor("strength ratio of the stock", service.strength_ratio, "the maker")


def _lasting(duration: Duration) -> Factor:
    published = strength_factors()["duration", duration]
    named = f"{duration} load" if duration in ("permanent", "impact") else f"load for {duration}"
    return Factor(named, published.value, published.source)


def _share_of_shear(wood: ClearWood, of: Property, share: Factor, service: Service) -> Allowable:
    shear = _chain(wood, "shear", service)
    factors = (*shear.factors, share)
    return Allowable(of=of, mean_of="shear", mean_mpa=shear.mean_mpa, factors=factors)


def _tension_across(wood: ClearWood, service: Service) -> Allowable:
    """The lower of the two ways, saying which it is and what the other would allow."""
    own = _chain(wood, "tension across", service)
    rule = Factor("of the allowable shear", RADIAL_SHARE, "radial tension rule; from memory")
    third = _share_of_shear(wood, "tension across", rule, service)
    if own.value_mpa <= third.value_mpa:
        lower, other, called = own, third, "a third of the allowable shear"
    else:
        lower, other, called = third, own, "its own published mean"
    return Allowable(
        of=lower.of,
        mean_of=lower.mean_of,
        mean_mpa=lower.mean_mpa,
        factors=lower.factors,
        remark=f"the lower of two: {called} would allow {other.value_mpa:.3g} MPa",
    )


def figure(value: float) -> str:
    """A number with the four digits that count, written out.

    Examples
    --------
    >>> figure(12.3456), figure(6.0), figure(123456.7)
    ('12.35', '6', '123457')
    """
    return f"{value:.4g}" if abs(value) < 9999.5 else f"{value:.0f}"
