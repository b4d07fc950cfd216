"""The common procedure: nominal sizes, one board measured, one setting for all.

The tongue is to be a third of a nominal board, which is the 1/4 in. cutter, less the play. The
groove is one pass of that cutter, taken at its marked size. Both cheeks are cut at one height, half
of what the first board, read once, is thicker than the tongue. With a trial cut, an offcut of that
board is grooved and tongued, groove and tongue are measured three times each, and the height is
corrected once by half of what the play is out: the procedure at its best.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from benchmarks.following import DEPTHS, measured
from benchmarks.hidden import NOMINAL, Truth
from benchmarks.needle import Blade, Needles
from benchmarks.panels import HALF, JOINT, QUARTER, QUARTER_INCH
from faywright.joints.method import shares
from faywright.section.posture import Posture
from faywright.shop.practice import SMALL_BITE

Floats = NDArray[np.float64]

SETTINGS = 2
LENGTH, DEPTH, REACH = 9.5, 10.5, 25.0
"""Length of tongue, depth of groove and length of cutting edge. [mm]"""


def common_way(truth: Truth, generator: np.random.Generator, *, trial: bool) -> Floats:
    """Clearance per side of every joint, boards in the order they lie. [mm]"""
    errors = truth.errors

    def off() -> float:
        return errors.setting * float(generator.standard_normal())

    def set_to(length: float) -> float:
        return float(errors.rounded(np.array(length))) - truth.gauge_zero + off()

    spread = errors.along * float(generator.standard_normal())
    thickness = np.append(truth.places, truth.means[0] + spread)
    fence = set_to((NOMINAL + QUARTER_INCH) / 2)
    grooves = _grooves(truth, thickness, fence, generator)
    tongue = QUARTER_INCH - 2 * JOINT.fit.aim
    height = set_to((float(truth.readings[0, 0]) - tongue) / 2)
    exposed = set_to(LENGTH)
    if trial:
        offcut = _tongues(truth, thickness[-1:], height, exposed, generator)
        width = measured(truth, float(grooves.size[-1]), generator)
        thick = measured(truth, float(offcut.size[0]), generator)
        height += (2 * JOINT.fit.aim - (width - thick)) / 2 + off()
    tongues = _tongues(truth, thickness[:-1], height, exposed, generator)
    return (grooves.size[1:-1] - tongues.size[:-1]) / 2


def _grooves(
    truth: Truth, thickness: Floats, far: float, generator: np.random.Generator
) -> Needles:
    pieces = Needles.through(thickness, LENGTH * np.array(DEPTHS), groove=True)
    blade = Blade(diameter=truth.cutters[QUARTER], length=REACH)
    for height in shares(DEPTH, SMALL_BITE):
        _run(truth, pieces, blade, Posture.ON_EDGE_A, height, far, generator)
    return pieces


def _tongues(
    truth: Truth, thickness: Floats, height: float, far: float, generator: np.random.Generator
) -> Needles:
    pieces = Needles.through(thickness, LENGTH * np.array(DEPTHS), groove=False)
    blade = Blade(diameter=truth.cutters[HALF], length=REACH)
    for posture in (Posture.FLAT_A, Posture.FLAT_B):
        _run(truth, pieces, blade, posture, height, far, generator)
    return pieces


def _run(
    truth: Truth,
    pieces: Needles,
    blade: Blade,
    posture: Posture,
    height: float,
    far: float,
    generator: np.random.Generator,
) -> None:
    ride, stray = truth.errors.ride_most * generator.random((2, len(pieces.thickness)))
    pieces.cut(blade, posture, height, far, ride, stray)
