"""Following a printed plan literally, with hidden errors, and measuring what comes out.

Rules, in the order of the sheet:

- Height and fence are set to what the gauge should show. Where the change from the setup before
  says that nothing moves, nothing is touched.
- With trial cuts, each final setup starts where the sheet says to start, an offcut of one of its
  boards is cut and measured three times, and what is over is corrected once, by the printed
  share and in the printed direction, unless it is no more than the sheet says to leave. The
  offcut's own thickness is measured as well where the sheet says that the reading follows it.
- "If it differs, note it as the cutter's size and plan again": a groove that turns out wider
  than printed by the mean of three readings makes the tongues to be that much thicker. Planning
  again does the same, and no more.
- Depth of groove and length of tongue are left as set: no clearance depends on them.
- An offcut runs along with the boards of each group, so that it stands ready for the next trial.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from benchmarks.hidden import Truth
from benchmarks.needle import Blade, Needles
from faywright.fit.bands import Fit
from faywright.joints.joint_errors import TRIAL_READINGS
from faywright.joints.method import Side
from faywright.joints.solution import Solution
from faywright.setups.setup import CheckReading, Setting, Setup
from faywright.shop.cutters import Cutter, SlotCutter, StraightCutter

Floats = NDArray[np.float64]

DEPTHS = (0.05, 0.5, 0.95)
"""Where the joint is pierced, as shares of the tongue's length from the edge."""

GROOVE_WIDTH, TONGUE_THICKNESS = "groove width", "tongue thickness"
NEAR = ("wall beside face A", "depth of the face-A cheek")
FURTHER = {"raise": 1.0, "back": 1.0, "lower": -1.0, "forward": -1.0}
"""Which way height and fence grow; the fence stands behind the cutter."""


def landed(clearance: Floats, fit: Fit) -> NDArray[np.bool_]:
    """Which joints of a panel are within their fit; ``clearance`` is per side. [mm]"""
    return (clearance >= fit.low) & (clearance <= fit.high)


def follow(
    solution: Solution,
    setups: Sequence[Setup],
    truth: Truth,
    generator: np.random.Generator,
    *,
    trial: bool,
) -> Floats:
    """Clearance per side of every joint after cutting all boards to the printed setups. [mm]"""
    bench = _Bench(solution, truth, generator)
    before: Setup | None = None
    for setup in setups:
        bench.setup(setup, before, trial=trial)
        before = setup
    play = bench.sizes("groove")[solution.first] - bench.sizes("tongue")[solution.second]
    return play / 2


def blade_of(cutter: Cutter, cuts: float) -> Blade:
    """A cutter of the plan with its true size in place of the measured one. [mm]"""
    if isinstance(cutter, SlotCutter):
        return Blade(diameter=cutter.diameter + cutter.runout, length=cuts)
    if isinstance(cutter, StraightCutter):
        return Blade(diameter=cuts, length=cutter.cutting_length)
    raise TypeError(f"no blade for {cutter.mark}")


def measured(truth: Truth, true: float, generator: np.random.Generator) -> float:
    """Mean of the readings of one dimension of a trial piece. [mm]"""
    lengths = np.full(TRIAL_READINGS, true)
    return float(truth.errors.read(lengths, truth.calipers_zero, generator).mean())


@dataclass(eq=False)
class _Bench:
    """The machine as it stands, and the boards as far as they are cut."""

    solution: Solution
    truth: Truth
    generator: np.random.Generator
    height: float = 0.0
    far: float = 0.0
    wider: float = 0.0
    pieces: dict[tuple[str, tuple[str, ...]], Needles] = field(default_factory=dict)

    def setup(self, setup: Setup, before: Setup | None, *, trial: bool) -> None:
        """Set the machine, make the trial cut if wanted, and cut the boards."""
        change = setup.change
        trial = trial and setup.final and any(map(_tried, setup.readings))
        if before is None or change is None or change.raised != 0 or trial:
            self.height = self._set(setup.height, start=trial)
        if before is None or change is None or change.fence != 0 or trial:
            self.far = self._set(setup.fence, start=trial)
        pieces = self._pieces(setup)
        if trial:
            self._trial(setup, pieces)
        self._cut(setup, pieces)

    def sizes(self, side: Side) -> Floats:
        """Width of groove or thickness of tongue of every board, as cut."""
        task = self.solution.task
        work = task.work(side)
        sizes = np.full(len(work), np.nan)
        for (of, marks), pieces in self.pieces.items():
            if of == side:
                sizes[[work.marks.index(mark) for mark in marks]] = pieces.size[:-1]
        return sizes

    def _set(self, setting: Setting, *, start: bool) -> float:
        """True length after setting the gauge to the printed figure."""
        shown = setting.shows
        if start and setting.start_shows is not None:
            shown = setting.start_shows
        printed = float(self.truth.errors.rounded(np.array(shown)))
        return printed - self.truth.gauge_zero + self._off()

    def _off(self) -> float:
        return self.truth.errors.setting * float(self.generator.standard_normal())

    def _pieces(self, setup: Setup) -> Needles:
        """Boards of a setup, and the offcut that goes with them as the last piece."""
        key = (setup.side, setup.marks)
        if key not in self.pieces:
            task = self.solution.task
            work = task.work(setup.side)
            members = np.array([work.marks.index(mark) for mark in setup.marks])
            board = int(self.generator.choice(members))
            spread = self.truth.errors.along * float(self.generator.standard_normal())
            offcut = self.truth.means[board] + spread
            thickness = np.append(self.truth.places[members], offcut)
            depths = task.target.length * np.array(DEPTHS)
            groove = setup.side == "groove"
            self.pieces[key] = Needles.through(thickness, depths, groove=groove)
        return self.pieces[key]

    def _cut(self, setup: Setup, pieces: Needles) -> None:
        run = setup.report.station.run
        blade = blade_of(run.cutter, self.truth.cutters[setup.cutter])
        top = self.height + self._over(run.cutter, run.top_over)
        most = self.truth.errors.ride_most
        for posture in run.postures:
            ride, stray = most * self.generator.random((2, len(pieces.thickness)))
            pieces.cut(blade, posture, top, self.far, ride, stray)

    def _over(self, cutter: Cutter, top_over: float) -> float:
        """From the point that is measured to up to the cutter's top, on the true cutter."""
        if top_over == 0:
            return 0.0
        if isinstance(cutter, SlotCutter):
            return self.truth.cutters[cutter.mark]
        raise TypeError(f"height of {cutter.mark} is measured to no point known here")

    def _trial(self, setup: Setup, pieces: Needles) -> None:
        """Cut the offcut, measure it, and correct the setting once."""
        offcut = pieces.only(np.array([len(pieces.thickness) - 1]))
        self._cut(setup, offcut)
        for reading in setup.readings:
            true = _true(reading, offcut)
            if true is None:
                continue
            over = measured(self.truth, true, self.generator) - self._wanted(reading, offcut)
            if abs(over) > reading.leave:
                self._correct(reading, over)

    def _correct(self, reading: CheckReading, over: float) -> None:
        correction = reading.correction
        if correction is None:
            self.wider = over if reading.what == GROOVE_WIDTH else self.wider
        elif correction.quantity == "height":
            self.height += FURTHER[correction.more] * over * correction.share + self._off()
        else:
            self.far += FURTHER[correction.more] * over * correction.share + self._off()

    def _wanted(self, reading: CheckReading, offcut: Needles) -> float:
        wanted = reading.shows
        if reading.per_thickness:
            thickness = measured(self.truth, float(offcut.thickness[0]), self.generator)
            wanted += reading.per_thickness * (thickness - reading.thickness)
        if reading.what == TONGUE_THICKNESS:
            wanted += self.wider
        return wanted


def _tried(reading: CheckReading) -> bool:
    return reading.what in (GROOVE_WIDTH, TONGUE_THICKNESS, *NEAR)


def _true(reading: CheckReading, offcut: Needles) -> float | None:
    """The dimension a reading asks for, as it really is; None for depths and lengths."""
    if reading.what in (GROOVE_WIDTH, TONGUE_THICKNESS):
        return float(offcut.size[0])
    if reading.what in NEAR:
        return float(offcut.near[0])
    return None
