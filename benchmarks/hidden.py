"""What is hidden from the maker: true sizes of boards and cutters, and errors of the gauges.

Assumptions of the virtual workshop. None has a published source: they are common practice.

- A cutter cuts anywhere from 0.10 mm under its marked size up to it. The maker measured it once,
  on a trial slot, with the calipers.
- Calipers: readings scatter by 0.02 mm (one standard deviation), the display steps by 0.01 mm,
  and all readings share a zero error of 0.01 mm (sd) of which the maker knows nothing.
- Depth gauge: all settings share a zero error of 0.03 mm (sd) of which the maker knows nothing.
  Every setting, and every correction of one, is off by another 0.03 mm (sd). Height and fence
  are set to the printed figure rounded to 0.01 mm.
- Boards: the pile's mean is anywhere within 0.3 mm of 19 mm; boards scatter about it by 0.05,
  0.13 or 0.25 mm (sd; 0.002, 0.005 and 0.010 in.), and along one board by 0.03 mm (sd). The maker
  reads five places; a joint is judged at a sixth, the same for both edges of a board.
- Work rides off the table, and strays from the fence, by anything from 0 to 0.02 mm, anew in
  every pass of every board.

What the plan is told: readings of the boards, measured cutters, calipers that repeat to 0.02 mm,
a depth gauge that repeats to 0.03 mm, a work lift of 0.02 mm. It is told of no zero error, and
takes the gauge's zero to be as uncertain as one reading; otherwise its model of errors is meant
to be the same as the list above. A second run of the same plans has the depth gauge's zero error
left out, as after careful nulling. (The calipers' zero error is the same in what they say of
cutters, boards and trial cuts, and all but cancels.)
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchmarks.panels import FIVE_MM, HALF, HALF_INCH, QUARTER, QUARTER_INCH, SLOT

Floats = NDArray[np.float64]

BOARDS = 12
PLACES = 5
NOMINAL = 19.0
"""Thickness of board the maker asked for. [mm]"""

MARKED = {QUARTER: QUARTER_INCH, HALF: HALF_INCH, SLOT: FIVE_MM}


@dataclass(frozen=True, slots=True, kw_only=True)
class Errors:
    """How large the hidden errors are: standard deviations, or the most where so named. [mm]"""

    cutter_under_most: float = 0.10
    reading: float = 0.02
    calipers_zero: float = 0.01
    gauge_zero: float = 0.03
    setting: float = 0.03
    along: float = 0.03
    pile_most: float = 0.3
    ride_most: float = 0.02
    step: float = 0.01

    def read(self, true: Floats, zero: float, generator: np.random.Generator) -> Floats:
        """What calipers show for true lengths, to a step of the display."""
        return self.rounded(true + zero + self.reading * generator.standard_normal(true.shape))

    def rounded(self, lengths: Floats) -> Floats:
        """To a step of the display; as they are where it has none."""
        return np.round(lengths / self.step) * self.step if self.step else lengths


HIDDEN = Errors()
NONE = Errors(
    cutter_under_most=0.0,
    reading=0.0,
    calipers_zero=0.0,
    gauge_zero=0.0,
    setting=0.0,
    along=0.0,
    ride_most=0.0,
    step=0.0,
)
"""Everything is as measured, set and read."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Truth:
    """One shop and one pile as they really are, and as the maker measured them. [mm]

    ``means`` are the boards' mean thicknesses, ``places`` those where joints are judged.
    ``readings`` (boards, places) and ``measured`` cutters are the maker's.
    """

    errors: Errors
    cutters: dict[str, float]
    measured: dict[str, float]
    gauge_zero: float
    calipers_zero: float
    means: Floats
    places: Floats
    readings: Floats


def truth_of(errors: Errors, scatter: float, seed: tuple[int, ...]) -> Truth:
    """A shop and a pile drawn at random; ``scatter`` is between boards. [mm, sd]

    The same draws are made whatever the size of the errors, so that two sets of errors with the
    same ``seed`` differ in nothing else.
    """
    generator = np.random.default_rng(seed)
    gauge_zero, calipers_zero = generator.standard_normal(2) * (
        errors.gauge_zero,
        errors.calipers_zero,
    )
    under = errors.cutter_under_most * generator.random(len(MARKED))
    cutters = {mark: size - u for (mark, size), u in zip(MARKED.items(), under, strict=True)}
    pile = NOMINAL + errors.pile_most * generator.uniform(-1, 1)
    means: Floats = pile + scatter * generator.standard_normal(BOARDS)
    there = errors.along * generator.standard_normal((BOARDS, PLACES + 1))
    local = means[:, None] + there
    cut = np.array(list(cutters.values()))
    return Truth(
        errors=errors,
        cutters=cutters,
        measured=dict(
            zip(cutters, errors.read(cut, calipers_zero, generator).tolist(), strict=True)
        ),
        gauge_zero=float(gauge_zero),
        calipers_zero=float(calipers_zero),
        means=means,
        places=local[:, -1],
        readings=errors.read(local[:, :-1], calipers_zero, generator),
    )
