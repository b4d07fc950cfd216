"""From readings on a trial piece to observations, by the closed forms of the method that cut it.

There is no formula of any joint here: a form's coefficients say how each error reaches what is
measured. Whatever is off is counted as true less believed, so a height zero of 0.05 mm has the
cutter stand 0.05 mm higher than the gauge says.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from faywright.errors import InputError
from faywright.fit.forms import Form, Quantity
from faywright.fit.spread import Spread, one_sided
from faywright.joints.method import Method, Settings, Side
from faywright.joints.side_groups import SideGroup, known_values
from faywright.joints.solution import Solution
from faywright.joints.task import Instruments
from faywright.shop.cutters import MARKED_SIZE_HALF_WIDTH, Cutter
from faywright.shop.gauges import Gauge
from faywright.shop.machines import Machine
from faywright.trials.belief import Belief, Unknown
from faywright.trials.update import Observation

LASTING_RIDE = 0.5
"""Share of the variance of the work's ride that is the machine's own and lasts; the rest is new
in every pass. Common practice, no source: neither chips nor a hollow table explains it alone.
The two together are the ride of one pass as a plan takes it."""

NOT_SET = MappingProxyType[Quantity, float]({})
ONCE = MappingProxyType[Quantity, int]({})


def dimensions(solution: Solution, side: Side) -> Mapping[str, Form]:
    """What can be measured on a trial piece of one side, and its closed form. [mm]

    These are the check readings of the method, and what calipers reach between its surfaces and
    the faces of the board. What no setting and no cutter changes is left out.
    """
    method, work = solution.method(side), solution.task.work(side)
    found = {reading.what: reading.form for reading in method.readings}
    for surface, (axis, form) in method.surfaces.items():
        from_b = Form.of(method.thickness) - form
        name, dimension = {
            "face-A wall": (f"wall beside {work.called('face A')}", form),
            "face-B wall": (f"wall beside {work.called('face B')}", from_b),
            "face-A cheek": ("depth of the face-A cheek", form),
            "face-B cheek": ("depth of the face-B cheek", from_b),
            "reveal bottom": ("depth of reveal", form),
        }.get(surface, ("", form))
        if name and axis == 0:
            found.setdefault(name, dimension)
    return {
        name: form
        for name, form in found.items()
        if any(quantity.kind != "thickness" for quantity in form.coefficients)
    }


def measurable(solution: Solution, side: Side) -> tuple[str, ...]:
    """Names of what can be measured on a trial piece of one side."""
    return tuple(dimensions(solution, side))


@dataclass(frozen=True, kw_only=True, eq=False)
class TrialPiece:
    """A piece cut at the settings of one group of boards, to be measured. [mm]

    ``group`` counts from 0. ``thickness`` holds its readings (of its width, for a groove in a
    face) as the calipers show them; it may be empty where nothing measured depends on it.
    ``settings`` are those not made as the plan has them; ``times`` tells how often a setting was
    made before, since each time it is off by another amount.
    """

    mark: str
    solution: Solution
    side: Side
    group: int = 0
    thickness: tuple[float, ...] = ()
    settings: Settings = field(default_factory=lambda: NOT_SET)
    times: Mapping[Quantity, int] = field(default_factory=lambda: ONCE)

    def __post_init__(self) -> None:
        """A group there is, settings it has, and readings that can be."""
        groups = self.solution.groups(self.side)
        if not 0 <= self.group < len(groups):
            self._refuse(
                f"there is no group {self.group + 1} of the {self.side}",
                f"Give a group from 1 to {len(groups)}",
            )
        made = groups[self.group].settings
        strange = (set(self.settings) | set(self.times)) - set(made)
        if strange:
            self._refuse(
                f"the {self.side} has no setting {_called(min(strange))!r}",
                f"Its settings are: {', '.join(_called(each) for each in made) or 'none'}",
            )
        if not all(math.isfinite(value) for value in self.settings.values()):
            self._refuse("a setting is not a number", "Give what was set, in mm")
        if self.thickness:
            _mean(self.thickness, where=f"thickness of trial piece {self.mark}")

    @property
    def method(self) -> Method:
        """The method it is cut by."""
        return self.solution.method(self.side)

    @property
    def instruments(self) -> Instruments:
        """The gauges it is set and measured with."""
        return self.solution.task.instruments

    @property
    def as_set(self) -> Settings:
        """Every setting as the gauge had it, zero error taken off. [mm]"""
        return {**self.solution.groups(self.side)[self.group].settings, **self.settings}

    def again(self, mark: str, settings: Settings, thickness: Sequence[float] = ()) -> TrialPiece:
        """The next trial piece, after ``settings`` were made anew by the gauge."""
        times = {**self.times, **{each: self.times.get(each, 0) + 1 for each in settings}}
        made = {**self.settings, **settings}
        return replace(self, mark=mark, settings=made, times=times, thickness=tuple(thickness))

    def setting(self, quantity: Quantity) -> Unknown:
        """What one of its settings is off by itself.

        Only the setting that decides the size is made for each group; the others are made once
        for all of them.
        """
        name = f"{self.solution.task.wanted.name}, {self.side}, {_called(quantity)}"
        if quantity == self.method.control:
            name += f", group {self.group + 1}"
        again = self.times.get(quantity, 0)
        return Unknown("setting", f"{name}, made again {again}" if again else name)

    def row(self, form: Form) -> dict[Unknown, float]:
        """How much ``form`` grows with each unknown."""
        found: dict[Unknown, float] = {}
        for quantity, coefficient in form.coefficients.items():
            for unknown in self._unknowns(quantity):
                found[unknown] = found.get(unknown, 0.0) + coefficient
        return found

    def _unknowns(self, quantity: Quantity) -> tuple[Unknown, ...]:
        if quantity.kind == "cutter":
            return (Unknown("cutter", quantity.key),)
        if quantity.kind == "lift":
            return (Unknown("lift", self.solution.task.machine.mark),)
        if quantity.kind == "height":
            zero = Unknown("height zero", self.instruments.height.mark)
            return (zero, self.setting(quantity))
        if quantity.kind == "fence":
            zero = Unknown("fence zero", self.instruments.fence.mark)
            return (zero, self.setting(quantity))
        return ()  # its thickness is measured: what that is off is noise

    def _refuse(self, what: str, remedy: str) -> None:
        raise InputError(what, where=f"trial piece {self.mark}", remedy=remedy)


def observed(piece: TrialPiece, readings: Mapping[str, Sequence[float]]) -> tuple[Observation, ...]:
    """Observations from readings of a trial piece, by dimension, as the calipers show them. [mm]

    Repeated readings are averaged and the calipers' zero error is taken off. The same error of
    the piece's thickness, and the same ride of one pass, may be in several dimensions: they are
    noise those share.

    Raises
    ------
    InputError
        A dimension cannot be measured on this piece, or its readings are not lengths.
    """
    forms = dimensions(piece.solution, piece.side)
    found = []
    for name, values in readings.items():
        where = f"{name} of trial piece {piece.mark}"
        if name not in forms:
            listed = ", ".join(forms)
            raise InputError(
                f"{piece.method.name} has no {name!r} to measure",
                where=f"trial piece {piece.mark}",
                remedy=f"Measure: {listed}" if listed else "Nothing is cut here to be measured",
            )
        found.append(_observation(piece, where, forms[name], values))
    return tuple(found)


def _observation(
    piece: TrialPiece, where: str, form: Form, readings: Sequence[float]
) -> Observation:
    calipers = piece.instruments.calipers
    shared: dict[str, float] = {}
    thickness = 0.0
    follows = form.coefficient(piece.method.thickness)
    if follows:
        if not piece.thickness:
            raise InputError(
                "it follows the thickness of the piece, and that was not measured",
                where=where,
                remedy="Measure the thickness of the trial piece too",
            )
        thickness = _mean(piece.thickness, where=where) - calipers.zero_error
        shared[f"thickness of {piece.mark}"] = follows * calipers.of_mean(len(piece.thickness))
    passing = _passing_ride(piece.solution.task.machine)
    for quantity, coefficient in form.coefficients.items():
        if quantity.kind == "lift" and passing:
            shared[f"{quantity.key}, {piece.mark}"] = coefficient * passing
    group = SideGroup(piece.solution.groups(piece.side)[piece.group].members, piece.as_set)
    return Observation(
        what=where,
        row=piece.row(form),
        expected=float(form.value(known_values(piece.method, group, thickness))),
        read=_mean(readings, where=where) - calipers.zero_error,
        uncertainty=calipers.of_mean(len(readings)),
        shared=shared,
    )


def first_belief(instruments: Instruments, machine: Machine, cutters: Iterable[Cutter]) -> Belief:
    """What the shop's documents say of all that lasts, before anything was ever tried. [mm]

    Each is as the plan takes it when it works out the chance to fit:

    - the zero of a gauge is off by nought, give or take the gauge's standard uncertainty, for
      it was nulled by one reading;
    - a measured cutter cuts what was measured, give or take one reading of the calipers; one
      never measured may be anywhere within ``MARKED_SIZE_HALF_WIDTH`` of its mark, and the
      variance of that rectangle is taken;
    - work rides anywhere from nought to the machine's ``work_lift``: the mean is half of it, and
      of the variance of that rectangle ``LASTING_RIDE`` belongs to what lasts.
    """
    calipers = instruments.calipers
    ride = one_sided(machine.work_lift)
    known: dict[Unknown, tuple[float, float]] = {
        Unknown("height zero", instruments.height.mark): _of_gauge(instruments.height),
        Unknown("fence zero", instruments.fence.mark): _of_gauge(instruments.fence),
        Unknown("lift", machine.mark): (
            ride.mean,
            math.sqrt(LASTING_RIDE) * ride.standard_uncertainty,
        ),
    }
    for cutter in cutters:
        if cutter.fit_size is not None:
            measured = Spread("normal", calipers.standard_uncertainty)
            marked = Spread("rectangular", MARKED_SIZE_HALF_WIDTH)
            spread = marked if cutter.fit_size.measured is None else measured
            known[Unknown("cutter", cutter.mark)] = (0.0, spread.standard_uncertainty)
    return Belief.independent(known)


def with_settings(belief: Belief, *pieces: TrialPiece) -> Belief:
    """``belief`` joined with the settings of trial pieces that it does not speak of yet.

    A setting is off by nought, give or take the standard uncertainty of the gauge it was made by.
    """
    new: dict[Unknown, tuple[float, float]] = {}
    for piece in pieces:
        for quantity in piece.as_set:
            new[piece.setting(quantity)] = _of_gauge(piece.instruments.gauge_for(quantity))
    missing = {unknown: known for unknown, known in new.items() if unknown not in belief.unknowns}
    return belief.joined(Belief.independent(missing))


def datums(instruments: Instruments, cutters: Iterable[Cutter]) -> dict[Unknown, float]:
    """What the unknowns are counted from, so that unknown plus datum is the truth. [mm]

    For a cutter it is the size listed. A gauge shows its zero error too much, so what it says
    is less by that.
    """
    found = {
        Unknown("height zero", instruments.height.mark): -instruments.height.zero_error,
        Unknown("fence zero", instruments.fence.mark): -instruments.fence.zero_error,
    }
    for cutter in cutters:
        if cutter.cut_size is not None:
            found[Unknown("cutter", cutter.mark)] = cutter.cut_size
    return found


def _of_gauge(gauge: Gauge) -> tuple[float, float]:
    return 0.0, gauge.standard_uncertainty


def _passing_ride(machine: Machine) -> float:
    """Standard deviation of the ride of one pass about the machine's mean. [mm]"""
    return math.sqrt(1 - LASTING_RIDE) * one_sided(machine.work_lift).standard_uncertainty


def _called(quantity: Quantity) -> str:
    return f"{quantity.kind} for the {quantity.key}"


def _mean(readings: Sequence[float], *, where: str) -> float:
    """Mean of readings of a length, which are above 0."""
    if not readings:
        raise InputError("no readings", where=where, remedy="Give at least one")
    for reading in readings:
        if not (math.isfinite(reading) and reading > 0):
            raise InputError(
                f"a reading of {reading:g} mm cannot be",
                where=where,
                remedy="Leave out what was not measured; give lengths above 0",
            )
    return math.fsum(readings) / len(readings)
