"""Slips of reading: found in simulated trials, weighed as by brute force, and asked about."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from faywright.errors import InputError, RangeError
from faywright.lengths import LengthStyle, write_length
from faywright.trials.belief import Belief, Unknown
from faywright.trials.misreadings import (
    NOTHING_FITS,
    Cause,
    Kind,
    causes,
    exchanged_digits,
)
from faywright.trials.slips import Slip, suspects
from faywright.trials.update import Observation, log_evidence, surprise
from faywright.trials.weighing import Outlook, weigh

Floats = NDArray[np.float64]

HEIGHT, FENCE = Unknown("height zero", "dial"), Unknown("fence zero", "rule")
CUTTER, LIFT = Unknown("cutter", "C6"), Unknown("lift", "table")
GROOVE_FENCE, GROOVE_HEIGHT, TONGUE_FENCE, TONGUE_HEIGHT = (
    Unknown("setting", name)
    for name in ("groove, fence", "groove, height", "tongue, fence", "tongue, height")
)
FENCES = (GROOVE_FENCE, TONGUE_FENCE)
RADIUS = 3.175
INCH = 25.4

BELIEF = Belief.independent(
    {
        HEIGHT: (0.0, 0.04),
        FENCE: (0.0, 0.05),
        CUTTER: (0.0, 0.03),
        LIFT: (0.03, 0.02),
        GROOVE_FENCE: (0.0, 0.03),
        GROOVE_HEIGHT: (0.0, 0.03),
        TONGUE_FENCE: (0.0, 0.03),
        TONGUE_HEIGHT: (0.0, 0.03),
    }
)

PIECE: dict[str, tuple[dict[Unknown, float], float]] = {
    "depth of groove": ({HEIGHT: 1, GROOVE_HEIGHT: 1, LIFT: -1}, 8.25),
    "wall beside face A": ({FENCE: 1, GROOVE_FENCE: 1, CUTTER: -1}, 5.84),
    "width of groove": ({CUTTER: 1}, 6.36),
    "wall beside face B": ({FENCE: -1, GROOVE_FENCE: -1}, 7.15),
    "thickness of tongue": ({HEIGHT: -2, TONGUE_HEIGHT: -2, LIFT: 2}, 6.03),
    "depth of cheek": ({HEIGHT: 1, TONGUE_HEIGHT: 1, LIFT: -1}, 6.82),
    "length of tongue": ({FENCE: 1, TONGUE_FENCE: 1}, 7.64),
}
NAMES = tuple(PIECE)
EXPECTED = np.array([expected for _, expected in PIECE.values()])
ROWS = np.array([BELIEF.weights(row) for row, _ in PIECE.values()])


def millimetres(length: float) -> str:
    return write_length(length, LengthStyle("mm"))


def trial(read: Sequence[float] | Floats, uncertainty: float = 0.02) -> list[Observation]:
    return [
        Observation(
            what=what, row=row, expected=expected, read=float(reading), uncertainty=uncertainty
        )
        for (what, (row, expected)), reading in zip(PIECE.items(), read, strict=True)
    ]


def asked(read: Sequence[float] | Floats, uncertainty: float = 0.02) -> tuple[Slip, ...]:
    return suspects(
        BELIEF,
        trial(read, uncertainty),
        cutter_radius=RADIUS,
        write=millimetres,
        settings=FENCES,
    )


def changed(**readings: float) -> Floats:
    read = EXPECTED.copy()
    for name, reading in readings.items():
        read[NAMES.index(name.replace("_", " "))] = reading
    return read


# Simulated trials: what is really off, what is then cut, and what is read and written down

Slipping = Callable[[Floats, int, np.random.Generator], tuple[Floats, tuple[int, ...]]]


def cut_and_read(
    generator: np.random.Generator, uncertainty: float, moved: dict[Unknown, float] | None = None
) -> Floats:
    off = BELIEF.mean + BELIEF.root @ generator.standard_normal(len(BELIEF.mean))
    for unknown, by in (moved or {}).items():
        off[BELIEF.place(unknown)] += by
    noise = uncertainty * generator.standard_normal(len(EXPECTED))
    found: Floats = np.round(EXPECTED + ROWS @ off + noise, 2)
    return found


def one_of(*factors_or_steps: float, times: bool = False) -> Slipping:
    """One reading moved, or multiplied, by one of the numbers."""

    def slip(
        read: Floats, at: int, generator: np.random.Generator
    ) -> tuple[Floats, tuple[int, ...]]:
        by = float(generator.choice(factors_or_steps))
        found = read.copy()
        found[at] = round(found[at] * by, 3) if times else found[at] + by
        return found, (at,)

    return slip


def all_in_inches(read: Floats, _: int, __: np.random.Generator) -> tuple[Floats, tuple[int, ...]]:
    return np.round(read / INCH, 3), tuple(range(len(read)))


def two_digits(
    read: Floats, at: int, generator: np.random.Generator
) -> tuple[Floats, tuple[int, ...]]:
    found = read.copy()
    written = exchanged_digits(millimetres(float(read[at])))
    if written:
        found[at] = generator.choice(written)
    return found, (at,)


def swapped(read: Floats, _: int, generator: np.random.Generator) -> tuple[Floats, tuple[int, ...]]:
    pairs = [(2, 4), (1, 4), (3, 6), (0, 6)]  # tongue and groove first
    one, other = pairs[generator.integers(len(pairs))]
    found = read.copy()
    found[[one, other]] = read[[other, one]]
    return found, (one, other)


SLIPS: dict[str, tuple[Kind, Slipping, float]] = {
    # the kind it should be called, how it is made, how often at least it is called so
    "wrong edge": ("wrong edge", one_of(-2 * RADIUS, -RADIUS, RADIUS, 2 * RADIUS), 0.75),
    "other unit": ("other unit", one_of(INCH, 1 / INCH, times=True), 0.95),
    "all in inches": ("other unit", all_in_inches, 0.95),
    "fraction": ("fraction", one_of(*(s * INCH / d for d in (64, 32, 16) for s in (-1, 1))), 0.85),
    "decimal point": ("decimal point", one_of(10, 0.1, times=True), 0.93),
    "turn": ("turn", one_of(-1.0, -0.5, 0.5, 1.0), 0.85),
    "digits": ("digits", two_digits, 0.85),
    "swapped": ("swapped", swapped, 0.93),
    "nothing fits": ("nothing fits", one_of(-2.2, -1.3, 1.33, 2.13, 3.83, 4.6), 0.80),
}
"""One reading alone cannot tell an edge measured wrongly from a setting made wrongly (of the
length of the tongue), nor half a millimetre from 1/64 in. where scatter covers the difference."""


def far_enough(read: Floats, sound: Floats, uncertainty: float) -> bool:
    """Whether a slip moves a reading by 7 standard deviations of what the others foretell."""
    at = int(np.abs(read - sound).argmax())
    here, there = (surprise(BELIEF, trial(each, uncertainty))[at] for each in (read, sound))
    return abs(here - there) > 7


def simulate(
    slip: Slipping, uncertainty: float, count: int, kind: Kind
) -> tuple[float, float, float]:
    """Shares of slips found, called by their kind, and of trials with a question too many."""
    generator = np.random.default_rng(20)
    found, named, false, done = 0, 0, 0, 0
    while done < count:
        sound = cut_and_read(generator, uncertainty)
        read, hit = slip(sound, int(generator.integers(len(sound))), generator)
        if (read <= 0).any() or not far_enough(read, sound, uncertainty):
            continue
        done += 1
        slips = asked(read, uncertainty)
        on_it = [each for each in slips if set(each.at) & set(hit)]
        found += bool(on_it)
        named += any(each.kind == kind for each in on_it)
        false += any(not set(each.at) & set(hit) for each in slips)
    return found / count, named / count, false / count


def false_alarms(uncertainty: float, count: int) -> float:
    generator = np.random.default_rng(21)
    return (
        sum(bool(asked(cut_and_read(generator, uncertainty), uncertainty)) for _ in range(count))
        / count
    )


def test_2000_trials_without_a_slip_raise_fewer_than_1_question_in_100() -> None:
    assert false_alarms(0.02, 2000) <= 0.01


@pytest.mark.parametrize("name", SLIPS)
def test_of_slips_of_a_reading_95_in_100_are_found(name: str) -> None:
    kind, slip, least = SLIPS[name]
    found, named, false = simulate(slip, 0.02, 200, kind)
    assert found >= 0.95
    assert named >= least
    assert false <= 0.02


@pytest.mark.soak
@pytest.mark.parametrize("uncertainty", [0.01, 0.03])
def test_finer_and_coarser_gauges_do_as_well(uncertainty: float) -> None:
    assert false_alarms(uncertainty, 2000) <= 0.01
    for name, (kind, slip, _) in SLIPS.items():
        found, named, _ = simulate(slip, uncertainty, 300, kind)
        assert found >= 0.95, name
        assert named >= 0.70, name


def test_a_fence_set_to_the_wrong_edge_is_told_from_a_wrong_reading() -> None:
    generator = np.random.default_rng(22)
    named = 0
    for _ in range(200):
        by = float(generator.choice([-RADIUS, RADIUS]))
        slips = asked(cut_and_read(generator, 0.02, {GROOVE_FENCE: by}))
        named += [(each.kind, each.at) for each in slips] == [("set to wrong edge", (1, 3))]
    assert named >= 190


# Weighed as by brute force


def apart(one: Cause, other: Cause) -> bool:
    if one.setting is not None and one.setting == other.setting:
        return False
    return one.setting is not None or other.setting is not None or not set(one.at) & set(other.at)


def taken_back(
    observations: Sequence[Observation], found: Sequence[Cause], lost: Sequence[int]
) -> list[Observation]:
    shift = dict.fromkeys(range(len(observations)), 0.0)
    for cause in found:
        for at, by in zip(cause.at, cause.shifts, strict=True):
            shift[at] += by
    return [
        replace(each, read=each.read + shift[at])
        for at, each in enumerate(observations)
        if at not in lost
    ]


@pytest.mark.parametrize(
    "read",
    [
        changed(width_of_groove=6.86, wall_beside_face_B=7.35),
        changed(wall_beside_face_A=5.84 + RADIUS, wall_beside_face_B=7.15 - RADIUS),
        changed(width_of_groove=63.6, wall_beside_face_B=8.3),
    ],
    ids=["two moved", "setting to the axis", "decimal point"],
)
def test_chances_are_those_of_counting_out_every_supposition(read: Floats) -> None:
    observations = [
        replace(each, shared={"thickness": 0.02} if "wall" in each.what else {})
        for each in trial(read)[1:4]
    ]
    possible = causes(
        observations,
        cutter_radius=RADIUS,
        zero_error=0.0,
        settings=FENCES,
        write=millimetres,
    )
    weights: dict[tuple[tuple[int, ...], tuple[int, ...]], float] = {}
    for lost in [(), (0,), (1,), (2,), (0, 1), (0, 2), (1, 2)]:
        for together in range(3 - len(lost)):
            for chosen in combinations(range(len(possible)), together):
                found = [possible[k] for k in chosen]
                clash = any(c.setting is None and set(c.at) & set(lost) for c in found)
                if clash or not all(apart(a, b) for a, b in combinations(found, 2)):
                    continue
                log = log_evidence(BELIEF, taken_back(observations, found, lost))
                log += sum(each.log_chance for each in found) + NOTHING_FITS * len(lost)
                weights[chosen, lost] = math.exp(log)
    total = sum(weights.values())
    weighed = weigh(Outlook.of(BELIEF, observations), possible)
    for k in range(len(possible)):
        exact = sum(w for (chosen, _), w in weights.items() if k in chosen) / total
        assert weighed.chances[k] == pytest.approx(exact, rel=1e-7, abs=1e-12)
    for at in range(3):
        exact = sum(w for (_, lost), w in weights.items() if at in lost) / total
        assert weighed.chances[len(possible) + at] == pytest.approx(exact, rel=1e-7, abs=1e-12)
        exact = sum(
            w
            for (chosen, lost), w in weights.items()
            if at in lost or any(at in possible[k].at for k in chosen)
        )
        assert weighed.wrong[at] == pytest.approx(exact / total, rel=1e-7)


# What is asked


def test_readings_as_expected_raise_no_question() -> None:
    assert asked(EXPECTED) == ()


def test_no_readings_raise_no_question() -> None:
    assert suspects(BELIEF, [], cutter_radius=RADIUS, write=millimetres) == ()


@pytest.mark.parametrize(
    ("name", "reading", "kind", "question"),
    [
        (
            "width of groove",
            63.6,
            "decimal point",
            "width of groove reads 63.60 mm where 6.36 mm would fit. Did the decimal point slip?",
        ),
        (
            "depth of groove",
            0.324,
            "other unit",
            "depth of groove reads 0.32 mm where 8.23 mm would fit. "
            "Was it read in inches and written as mm?",
        ),
        (
            "width of groove",
            6.36 + INCH / 64,
            "fraction",
            "width of groove reads 6.76 mm where 6.36 mm would fit. Was a fraction of an inch "
            "misread, 0.40 mm from the one that was meant?",
        ),
        (
            "wall beside face A",
            5.84 + 2 * RADIUS,
            "wrong edge",
            "wall beside face A reads 12.19 mm where 5.84 mm would fit. Was it measured to "
            "another edge of the cutter, 6.35 mm away?",
        ),
        (
            "length of tongue",
            5.35,
            "nothing fits",
            "length of tongue reads 5.35 mm where 7.64 mm was foretold, and no slip explains it. "
            "Will you measure it again?",
        ),
        (
            "wall beside face B",
            1.75,
            "digits",
            "wall beside face B reads 1.75 mm where 7.15 mm would fit. "
            "Were two digits exchanged, 7.15 mm being meant?",
        ),
    ],
)
def test_the_question_says_what_was_read_and_what_would_fit(
    name: str, reading: float, kind: Kind, question: str
) -> None:
    (slip,) = asked(changed(**{name.replace(" ", "_"): reading}))
    assert (slip.kind, slip.what) == (kind, (name,))
    assert slip.question == question


def test_a_swap_names_both_readings_once() -> None:
    read = changed(width_of_groove=6.03, thickness_of_tongue=6.36)
    (slip,) = asked(read, uncertainty=0.01)
    assert slip.kind == "swapped"
    assert slip.what == ("width of groove", "thickness of tongue")
    assert slip.meant == pytest.approx((6.36, 6.03))
    assert "Did it change places with thickness of tongue?" in slip.question


def test_two_slips_at_once_are_both_asked_about() -> None:
    slips = asked(changed(width_of_groove=63.6, length_of_tongue=8.14))
    assert {each.kind for each in slips} == {"decimal point", "turn"}


def test_where_one_reading_cannot_tell_both_explanations_are_named() -> None:
    (slip,) = asked(changed(length_of_tongue=7.64 + RADIUS))
    assert slip.kind == "set to wrong edge"
    assert (
        "Was the setting of tongue, fence measured to the wrong edge of the cutter, so that it "
        "is 3.18 mm off?"
    ) in slip.question
    assert "Or was it measured to another edge of the cutter, 3.18 mm away?" in slip.question
    assert slip.chance < 0.9 < slip.wrong


def test_a_cutter_setting_not_told_of_is_not_suspected() -> None:
    read = changed(wall_beside_face_A=5.84 + RADIUS, wall_beside_face_B=7.15 - RADIUS)
    with_it = asked(read)
    without = suspects(BELIEF, trial(read), cutter_radius=RADIUS, write=millimetres)
    assert [each.kind for each in with_it] == ["set to wrong edge"]
    assert {each.kind for each in without} == {"wrong edge"}
    assert {each.at for each in without} == {(1,), (3,)}


def test_slips_are_made_with_what_the_calipers_show() -> None:
    """They show 0.10 mm too much: 6.46 was meant, 64.60 written, 64.50 observed."""
    (slip,) = suspects(
        BELIEF,
        trial(changed(width_of_groove=64.5)),
        cutter_radius=RADIUS,
        write=millimetres,
        zero_error=0.1,
    )
    assert slip.kind == "decimal point"
    assert slip.meant == pytest.approx((6.46,))


def test_a_reading_that_nothing_ties_down_is_not_suspected_of_a_fraction() -> None:
    """A fence only known to a millimetre may well stand 1/64 in. off."""
    vague = Belief.independent({FENCE: (0.0, 1.0), TONGUE_FENCE: (0.0, 0.03)})
    only = trial(changed(length_of_tongue=7.64 + INCH / 64))[-1:]
    assert suspects(vague, only, cutter_radius=RADIUS, write=millimetres) == ()


def test_a_bigger_misfit_is_never_less_suspect() -> None:
    steps = np.arange(0.05, 0.30, 0.05)
    wrong = []
    for step in steps:
        observations = trial(changed(width_of_groove=6.36 + step))
        possible = causes(
            observations, cutter_radius=RADIUS, zero_error=0.0, settings=(), write=lambda _: ""
        )
        wrong.append(float(weigh(Outlook.of(BELIEF, observations), possible).wrong[2]))
    assert all(one <= other for one, other in pairwise(wrong))
    assert wrong[0] < 0.01
    assert wrong[-1] > 0.99


def test_fractions_have_no_digits_to_exchange() -> None:
    assert exchanged_digits("1/2 + .007 in") == []
    assert exchanged_digits("0.507 in") == [
        pytest.approx(each * INCH) for each in (5.007, 0.057, 0.570)
    ]


def test_before_anything_is_read_a_reading_is_a_slip_once_in_a_hundred() -> None:
    observations = trial(EXPECTED)[:1]
    possible = causes(
        observations, cutter_radius=1.0, zero_error=0.0, settings=(), write=millimetres
    )
    stretched = {"other unit", "decimal point"}  # their densities are not chances
    chances = [math.exp(each.log_chance) for each in possible if each.kind not in stretched]
    kinds = {each.kind for each in possible if each.kind not in stretched}
    assert sum(chances) == pytest.approx(0.01 / 7 * len(kinds))


def possible_of(observations: Sequence[Observation]) -> list[Cause]:
    return causes(
        observations,
        cutter_radius=RADIUS,
        zero_error=0.0,
        settings=FENCES,
        write=millimetres,
    )


def test_a_wrong_edge_moves_every_reading_as_its_setting_reaches_it() -> None:
    edges = [each for each in possible_of(trial(EXPECTED)) if each.setting == GROOVE_FENCE]
    assert sorted(each.off for each in edges) == [-2 * RADIUS, -RADIUS, RADIUS, 2 * RADIUS]
    for each in edges:
        assert each.at == (1, 3)
        assert each.shifts == (-each.off, each.off)  # it would read less at A without it


def test_readings_all_in_inches_are_weighed_by_the_density_of_lengths_in_inches() -> None:
    whole = [each for each in possible_of(trial(EXPECTED)) if len(each.at) == len(NAMES)]
    to_inches, to_mm = (math.exp(each.log_chance) for each in whole)
    assert to_inches * to_mm == pytest.approx(0.0025**2)
    assert to_inches / to_mm == pytest.approx(INCH ** (2 * len(NAMES)))


# What is refused


@pytest.mark.parametrize("radius", [0.0, -3.0, math.nan, 300.0])
def test_a_cutter_without_a_radius_is_refused(radius: float) -> None:
    with pytest.raises(RangeError, match="Give half the cutting diameter"):
        suspects(BELIEF, trial(EXPECTED), cutter_radius=radius, write=millimetres)


def test_a_setting_that_is_not_believed_in_is_refused() -> None:
    stray = Unknown("setting", "mortise, fence")
    with pytest.raises(InputError, match="nothing is believed of the setting of mortise, fence"):
        suspects(
            BELIEF, trial(EXPECTED), cutter_radius=RADIUS, write=millimetres, settings=(stray,)
        )


def test_a_zero_error_that_is_not_a_number_is_refused() -> None:
    with pytest.raises(InputError, match="Give what the calipers show when closed"):
        suspects(
            BELIEF, trial(EXPECTED), cutter_radius=RADIUS, write=millimetres, zero_error=math.nan
        )
