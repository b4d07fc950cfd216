"""Boards, cutters and settings drawn at random for property tests, in whole micrometres."""

from dataclasses import dataclass
from math import radians, tan

import numpy as np
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy
from numpy.typing import NDArray

from faywright.fit import Effect, Form, Quantity, Spread
from faywright.section import (
    Pass,
    Posture,
    Profile,
    bead_profile,
    core_profile,
    dovetail_profile,
    slot_profile,
    straight_profile,
    tongue_pair_profile,
    v_profile,
)

Floats = NDArray[np.float64]

STEADY = settings(derandomize=True, deadline=None, max_examples=60)

postures = st.sampled_from(Posture)


def lengths(low: float, high: float) -> SearchStrategy[float]:
    """Lengths from ``low`` to ``high``, both included. [mm]"""
    return st.integers(round(1000 * low), round(1000 * high)).map(lambda number: number / 1000)


thicknesses = lengths(12, 45)


@st.composite
def straight_cutters(draw: DrawFn) -> Profile:
    return straight_profile(draw(lengths(1.5, 10)), draw(lengths(8, 40)), draw(lengths(2, 6)))


@st.composite
def slot_cutters(draw: DrawFn) -> Profile:
    return slot_profile(draw(lengths(10, 24)), draw(lengths(1.5, 6)), draw(lengths(3, 8)))


@st.composite
def tongue_pairs(draw: DrawFn) -> Profile:
    return tongue_pair_profile(
        draw(lengths(16, 22)),
        draw(lengths(4, 8)),
        draw(lengths(4, 8)),
        draw(lengths(8, 12)),
        draw(lengths(3, 6)),
    )


@st.composite
def dovetails(draw: DrawFn) -> Profile:
    radius, angle = draw(lengths(6, 12)), draw(st.integers(5, 18))
    tallest = (radius - 2) / tan(radians(angle))
    return dovetail_profile(radius, draw(lengths(4, min(16, tallest))), angle)


v_cutters = st.builds(v_profile, lengths(4, 12), st.integers(45, 120))
bead_cutters = st.builds(bead_profile, lengths(2, 8), lengths(0.5, 3))
core_cutters = st.builds(core_profile, lengths(2, 8), lengths(8, 20))

cutters = st.one_of(
    straight_cutters(),
    slot_cutters(),
    tongue_pairs(),
    dovetails(),
    v_cutters,
    bead_cutters,
    core_cutters,
)


@st.composite
def passes(draw: DrawFn, *, posture: Posture | None = None) -> Pass:
    """One pass that leaves the back of a board at least 12 mm thick and 60 mm wide alone."""
    return Pass(
        draw(cutters),
        draw(lengths(1, 16)),
        draw(lengths(-6, 20)),
        draw(postures) if posture is None else posture,
    )


@dataclass(frozen=True)
class Mates:
    """A grooved and a tongued edge by their sizes, offsets from face A. [mm]"""

    grooved_thickness: float
    tongued_thickness: float
    wall: float
    width: float
    depth: float
    cheek: float
    tongue: float
    length: float


@st.composite
def mates(draw: DrawFn) -> Mates:
    """Tongue and groove as they may come out, fitting or not; every land is 1 mm or more."""
    grooved, tongued = draw(lengths(15, 40)), draw(lengths(15, 40))
    thinner = min(grooved, tongued)
    wall = draw(lengths(2, thinner / 2))
    width = draw(lengths(2, grooved - wall - 1))
    cheek = draw(lengths(max(1, wall - 1), wall + 1))
    tongue = draw(lengths(1, min(width + 0.5, thinner - cheek - 1)))
    depth = draw(lengths(4, 14))
    return Mates(grooved, tongued, wall, width, depth, cheek, tongue, depth + draw(lengths(-2, 1)))


QUANTITIES = (
    Quantity("thickness"),
    Quantity("height", "cheeks"),
    Quantity("fence", "groove"),
    Quantity("cutter", "C1"),
)
factors = st.integers(-400, 400).map(lambda number: number / 100)


@st.composite
def forms(draw: DrawFn) -> Form:
    """A linear form in some of ``QUANTITIES``."""
    of = st.dictionaries(st.sampled_from(QUANTITIES), factors)
    return Form(draw(lengths(-30, 30)), draw(of))


def readings() -> SearchStrategy[dict[Quantity, float]]:
    """A value for each of ``QUANTITIES``."""
    return st.fixed_dictionaries({quantity: lengths(0, 40) for quantity in QUANTITIES})


piles = st.lists(lengths(17, 23), min_size=1, max_size=7).map(np.array)
"""Best settings or thicknesses of a few boards, with ties now and then."""


@st.composite
def effects(draw: DrawFn, gaps: int) -> Effect:
    """One to five errors that reach ``gaps`` gaps any way there is, some of them twice."""
    count = draw(st.integers(1, 5))
    reach = st.lists(st.integers(-1, count - 1), min_size=gaps, max_size=gaps)
    terms = st.lists(st.tuples(factors, reach.map(np.array)), min_size=1, max_size=3)
    scales = st.lists(lengths(0, 2), min_size=count, max_size=count).map(np.array)
    spread = Spread(
        draw(st.sampled_from(["normal", "rectangular"])),
        draw(lengths(0, 0.5)),
        draw(lengths(-0.2, 0.2)),
    )
    return Effect(
        draw(st.sampled_from(["cutter", "height", "lift"])),
        spread,
        count,
        tuple(draw(terms)),
        draw(st.none() | scales),
    )


@st.composite
def gaps_and_effects(draw: DrawFn) -> tuple[Floats, list[Effect]]:
    """Nominal gaps and the errors that reach them."""
    nominal = np.array(draw(st.lists(lengths(-0.5, 0.5), min_size=1, max_size=6)))
    return nominal, draw(st.lists(effects(len(nominal)), min_size=1, max_size=4))
