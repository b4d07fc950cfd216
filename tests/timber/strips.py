"""Timbers and members drawn at random, and sums read back as a learner would work them out."""

import re

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

from faywright.timber.allowable import Allowable
from faywright.timber.members import Strip
from faywright.timber.strength import ClearWood, Service
from faywright.timber.verdict import Working
from tests.strategies import lengths

WALNUT = ClearWood(
    name="an invented walnut",
    kind="hardwood",
    bending=100.0,
    elasticity=11600.0,
    compression_perp=7.0,
    shear_parallel=9.4,
    tension_perp=4.8,
)
PINE = ClearWood(
    name="an invented pine",
    kind="softwood",
    bending=60.0,
    elasticity=8500.0,
    compression_perp=3.0,
    shear_parallel=6.2,
    tension_perp=2.1,
)
DRY = Service(duration="ten years")

NUMBER = re.compile(r"\d+(?:\.\d+)?")
ARITHMETIC = re.compile(r"[\d. +*/()]+")


def worked_out(written: str) -> float:
    """The value of a printed sum, where x multiplies and ^ raises to a power."""
    python = written.replace("x", "*").replace("^", "**")
    assert ARITHMETIC.fullmatch(python), written
    return float(eval(python))  # noqa: S307  # nothing but digits and signs gets here


def sum_of(working: Working) -> float:
    """What a learner gets who works out the printed line."""
    return worked_out(working.sum)


def chain_of(allowable: Allowable) -> float:
    """What a learner gets from the printed chain, names in brackets left out."""
    printed = allowable.words().split(" = ")[0]
    return worked_out(re.sub(r" MPa| \([^)]*\)", "", printed))


@st.composite
def timbers(draw: DrawFn) -> ClearWood:
    """A timber with figures that wood can have."""
    return ClearWood(
        kind=draw(st.sampled_from(["softwood", "hardwood"])),
        bending=draw(st.integers(40, 200)),
        elasticity=draw(st.integers(5000, 20000)),
        compression_perp=draw(st.integers(2, 20)),
        shear_parallel=draw(st.integers(4, 20)),
        tension_perp=draw(lengths(1.0, 10.0)),
    )


services: SearchStrategy[Service] = st.builds(
    Service,
    duration=st.sampled_from(["permanent", "ten years", "impact"]),
    strength_ratio=lengths(0.3, 1.0),
    moisture=lengths(6.0, 20.0),
)
strips: SearchStrategy[Strip] = st.builds(
    Strip,
    thickness=lengths(1.0, 30.0),
    arm=lengths(0.5, 30.0),
    grain=st.sampled_from(["along the edge", "out of the edge"]),
)
