"""The outline of a turning cutter: a half profile r(z) made of lines and arcs.

A profile starts on the spindle axis at the cutter's top (z = 0) and runs outwards and down.
Below its last point the last radius goes on: that is the shank or arbor. Each stretch has the
name of the part of the cutter it belongs to, so that a surface it leaves can be named.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NoReturn

import numpy as np
from numpy.typing import NDArray

from faywright.errors import RangeError

Floats = NDArray[np.float64]

CHORD_TOLERANCE = 1e-4
"""How far a chord may lie inside an arc of a profile. [mm]"""

ENDLESS = 1000.0
"""How far down a silhouette is drawn below the cutter's top; deeper than any machine. [mm]"""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight stretch to (``radius``, ``z``), cut by the cutter's ``part``."""

    radius: float
    z: float
    part: str


@dataclass(frozen=True, slots=True)
class Arc:
    """A round stretch to (``radius``, ``z``) about (``centre_radius``, ``centre_z``).

    The shorter way round is taken; ``centre`` must be as far from both ends.
    """

    radius: float
    z: float
    centre_radius: float
    centre_z: float
    part: str


@dataclass(frozen=True)
class Profile:
    """Half profile of a cutter, from the axis at its top outwards and down. [mm]

    Raises
    ------
    RangeError
        A figure is not finite, a radius is negative, the shank has none, the profile climbs
        again, or an arc's centre does not fit its ends.
    """

    stretches: tuple[Line | Arc, ...]

    def __post_init__(self) -> None:
        """Refuse what could not turn, or could not be a function r(z)."""
        if not self.stretches:
            _refuse("no stretch given", "Give at least a top and a side")
        for stretch in self.stretches:
            figures = [getattr(stretch, name) for name in stretch.__slots__ if name != "part"]
            if not all(math.isfinite(figure) for figure in figures):
                _refuse(f"{stretch.part!r} has a figure that is not finite", "Measure it again")
        points = self.half[0]
        if points[:, 0].min() < -1e-9:
            _refuse("a radius is below 0", "Measure radii outwards from the spindle axis")
        if len(points) < 2 or points[-1, 0] <= 0:
            _refuse(
                "the shank has no thickness", "End the profile at a radius above 0, the shank's"
            )
        if (np.diff(points[:, 1]) > 1e-9).any():
            _refuse("the profile climbs again after going down", "List it from the top down")

    @cached_property
    def half(self) -> tuple[Floats, tuple[str, ...]]:
        """Points (n, 2) as (radius, z), arcs as chords, and the part each stretch belongs to."""
        points = [(0.0, 0.0)]
        parts: list[str] = []
        for stretch in self.stretches:
            if isinstance(stretch, Arc):
                new = _chords(points[-1], stretch)
            else:
                new = [(stretch.radius, stretch.z)]
            new = [point for point in new if math.dist(point, points[-1]) > 0]
            points += new
            parts += [stretch.part] * len(new)
        return np.array(points), tuple(parts)

    @cached_property
    def silhouette(self) -> tuple[Floats, tuple[str, ...]]:
        """Closed outline (m, 2) about the axis as (y, z), and the name of each of its m edges.

        A name is the part with the side it is on: ``"side far"`` is away from the fence,
        ``"side near"`` towards it; a flat top has no side. The outline runs down the far side
        and up the near side.
        """
        half, parts = self.half
        flat_top = half[1, 1] == 0.0
        far = np.vstack([half[1:] if flat_top else half, [half[-1, 0], -ENDLESS]])
        near = far[::-1] if flat_top else far[:0:-1]
        far_parts = [*(parts[1:] if flat_top else parts), "shank"]
        names = [f"{part} far" for part in far_parts] + ["foot"]
        names += [f"{part} near" for part in far_parts[::-1]]
        if flat_top:
            names.append(parts[0])
        return np.vstack([far, near * (-1.0, 1.0)]), tuple(names)

    @property
    def radius(self) -> float:
        """Greatest radius. [mm]"""
        return float(self.half[0][:, 0].max())


def _refuse(what: str, remedy: str) -> NoReturn:
    raise RangeError(what, where="cutter profile", remedy=remedy)


def _chords(start: tuple[float, float], arc: Arc) -> list[tuple[float, float]]:
    centre = (arc.centre_radius, arc.centre_z)
    radius = math.dist(start, centre)
    if radius < 1e-9:
        _refuse(f"the arc {arc.part!r} has no radius", "Give a radius above 0")
    if abs(radius - math.dist((arc.radius, arc.z), centre)) > 1e-6:
        _refuse(
            f"the centre of an arc ({arc.centre_radius:g}, {arc.centre_z:g}) is not as far from "
            "both its ends",
            "Give the centre that both ends lie about",
        )
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    last = math.atan2(arc.z - centre[1], arc.radius - centre[0])
    turn = math.remainder(last - first, 2 * math.pi)
    if abs(turn) > math.pi - 1e-6:
        _refuse(f"the arc {arc.part!r} turns half round, either way", "Give it as two arcs")
    step = 2 * math.acos(max(0.0, 1 - CHORD_TOLERANCE / radius))
    count = max(1, math.ceil(abs(turn) / step))
    inner = [
        (
            centre[0] + radius * math.cos(first + turn * k / count),
            centre[1] + radius * math.sin(first + turn * k / count),
        )
        for k in range(1, count)
    ]
    return [*inner, (arc.radius, arc.z)]


def straight_profile(radius: float, cutting_length: float, shank_radius: float) -> Profile:
    """A plain cylinder: parts ``top`` and ``side``, then the shank. [mm]"""
    return Profile(
        (
            Line(radius, 0.0, "top"),
            Line(radius, -cutting_length, "side"),
            Line(shank_radius, -cutting_length, "shoulder"),
        )
    )


def slot_profile(radius: float, thickness: float, arbor_radius: float) -> Profile:
    """A flat wing on an arbor: parts ``top``, ``rim`` and ``underside``, then the arbor. [mm]"""
    return Profile(
        (
            Line(radius, 0.0, "top"),
            Line(radius, -thickness, "rim"),
            Line(arbor_radius, -thickness, "underside"),
        )
    )


def tongue_pair_profile(
    radius: float, wing: float, tongue: float, hub_radius: float, shank_radius: float
) -> Profile:
    """The tongue half of a matched pair: two wings with a hub between them. [mm]

    The hub leaves the nose of the tongue, the wings leave cheeks and shoulders.
    """
    return Profile(
        (
            Line(radius, 0.0, "top"),
            Line(radius, -wing, "upper rim"),
            Line(hub_radius, -wing, "upper underside"),
            Line(hub_radius, -wing - tongue, "hub"),
            Line(radius, -wing - tongue, "lower top"),
            Line(radius, -2 * wing - tongue, "lower rim"),
            Line(shank_radius, -2 * wing - tongue, "underside"),
        )
    )


def dovetail_profile(radius: float, height: float, angle_deg: float) -> Profile:
    """A dovetail cutter: widest at the top, flanks leaning ``angle_deg`` from the axis. [mm]"""
    neck = radius - height * math.tan(math.radians(angle_deg))
    return Profile((Line(radius, 0.0, "top"), Line(neck, -height, "flank")))


def v_profile(radius: float, included_angle_deg: float) -> Profile:
    """A V cutter with its point at the top and ``included_angle_deg`` between its flanks. [mm]"""
    if not 0 < included_angle_deg < 180:
        _refuse(f"an angle of {included_angle_deg:g} degrees makes no V", "Give one below 180")
    drop = radius / math.tan(math.radians(included_angle_deg / 2))
    return Profile((Line(radius, -drop, "flank"),))


def bead_profile(round_radius: float, point_radius: float) -> Profile:
    """A rounding-over cutter, point up: its hollow quarter leaves a bead. [mm]

    From a small flat of ``point_radius`` at the top, which cuts the quirk, the hollow sweeps
    outwards and down through a quarter circle of ``round_radius``.
    """
    return Profile(
        (
            Line(point_radius, 0.0, "point"),
            Arc(
                point_radius + round_radius,
                -round_radius,
                point_radius + round_radius,
                0.0,
                "hollow",
            ),
        )
    )


def core_profile(radius: float, length: float) -> Profile:
    """A round-nosed cutter: a half ball, then a cylinder; parts ``nose`` and ``side``. [mm]"""
    return Profile(
        (Arc(radius, -radius, 0.0, -radius, "nose"), Line(radius, -max(radius, length), "side"))
    )


def profile_of(stretches: Sequence[Line | Arc]) -> Profile:
    """A profile of any lines and arcs, checked."""
    return Profile(tuple(stretches))
