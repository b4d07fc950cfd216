"""From what calipers show on a trial piece to an outcome, and to what is kept of it."""

from dataclasses import replace
from functools import cache

import pytest

from faywright.app.bench import Informed
from faywright.app.knowledge import knowledge
from faywright.app.memory import Memory
from faywright.app.trial_cut import (
    Measured,
    Outcome,
    Shown,
    clearance_felt,
    joint_called,
    tried,
    useful,
)
from faywright.app.trial_records import (
    observations_in,
    record_of,
    settings_of,
)
from faywright.app.trial_setups import gauge_shows, setup_for, true_at
from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.plan import plan
from faywright.piece.words import writer
from faywright.shop.inventory import Reference, Shop
from faywright.trials.belief import Unknown
from tests.app.hidden import HEIGHT, NOW, Hidden, chest, pieces, shop

WRITE = writer(LengthStyle("mm"))
TRUE = Hidden({})


@cache
def fresh(reference: Reference = "far edge") -> Informed:
    own: Shop = replace(shop(), habits=replace(shop().habits, reference=reference))
    known = knowledge(own, [], NOW.date())
    return Informed(plan(chest(), known.shop), known, own, Memory(), NOW.date())


def measured(**more: object) -> Measured:
    return replace(TRUE.measured(fresh().plan, fresh().known), **more)  # type: ignore[arg-type]  # of all kinds


def outcome(**more: object) -> Outcome:
    return tried(fresh().plan, fresh().known, measured(**more), WRITE)


def numbers() -> dict[str, int]:
    """Setups of the tongue by what they set."""
    tongue = pieces(fresh().plan)[1]
    return {
        f"{q.kind} {q.key}": s.number
        for q in tongue.as_set
        if (s := setup_for(fresh().plan, tongue, q)) is not None
    }


def test_readings_as_planned_leave_everything_alone() -> None:
    found = outcome()
    assert found.slips == ()
    assert found.advice.moves == ()
    assert found.advice.now.chance > 0.9


def test_readings_of_both_sides_are_taken_apart() -> None:
    whats = [each.what for each in outcome().observations]
    assert whats == [
        "groove width of trial piece sides, groove",
        "groove depth of trial piece sides, groove",
        "tongue thickness of trial piece sides, tongue",
        "tongue length of trial piece sides, tongue",
    ]


def test_what_decides_is_measured_first() -> None:
    solution = joint_called(fresh().plan, "sides").solution
    names = useful(solution)
    assert names[0] == "groove width"
    assert "tongue thickness" in names
    assert not set(names) - {
        "groove width",
        "groove depth",
        "wall beside face A",
        "tongue thickness",
        "tongue length",
        "depth of the face-A cheek",
    }


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"joint": "lid"}, "no joint called 'lid'.*Use one of 'sides'"),
        ({"group": "Q"}, "there is no group 'Q'.*Use one of A"),
        ({"readings": {"reveal": (3.0,)}}, "'reveal' cannot be measured.*Measure groove width"),
        ({"readings": {}}, "nothing was read.*Measure groove width"),
        ({"readings": {"groove width": (-1.0,)}}, "a reading of -1 mm cannot be"),
        ({"thickness": ()}, "follows the thickness of the piece"),
        ({"shown": (Shown("fence", 12.0),)}, "no fence decides the fit.*Name the setup"),
        ({"shown": (Shown("height", 12.0, 99),)}, "setup 99 makes no height"),
    ],
)
def test_what_does_not_go_with_the_joint_is_refused(change: dict[str, object], words: str) -> None:
    with pytest.raises(InputError, match=words):
        outcome(**change)


def test_a_slip_is_asked_about() -> None:
    readings = dict(measured().readings)
    (width,) = readings["groove width"]
    found = outcome(readings={**readings, "groove width": (width * 10,)})
    assert [slip.kind for slip in found.slips] == ["decimal point"]


def test_a_setting_made_otherwise_is_no_error_of_the_gauge() -> None:
    tongue = pieces(fresh().plan)[1]
    control = tongue.method.control
    assert control is not None
    planned = gauge_shows(fresh().plan, tongue, control, tongue.as_set[control])
    readings = dict(measured().readings)
    (thickness,) = readings["tongue thickness"]
    lower = {**readings, "tongue thickness": (thickness + 0.2,)}
    told = outcome(readings=lower, shown=(Shown("height", planned - 0.1),))
    number = numbers()[f"height {control.key}"]
    by_number = outcome(readings=lower, shown=(Shown("height", planned - 0.1, number),))
    assert told.after.of(HEIGHT)[0] == pytest.approx(outcome().after.of(HEIGHT)[0], abs=1e-6)
    assert by_number.after.of(HEIGHT) == told.after.of(HEIGHT)
    assert outcome(readings=lower).after.of(HEIGHT)[0] < -0.02


@pytest.mark.parametrize("reference", ["far edge", "axis", "near edge"])
def test_a_fence_is_told_to_the_edge_this_maker_measures_to(reference: Reference) -> None:
    informed = fresh(reference)
    groove = pieces(informed.plan)[0]
    (fence,) = [q for q in groove.as_set if q.kind == "fence"]
    setup = setup_for(informed.plan, groove, fence)
    assert setup is not None
    shown = gauge_shows(informed.plan, groove, fence, groove.as_set[fence])
    zero = informed.shop.gauge_for("fence").zero_error
    assert shown == pytest.approx(setup.places.to(setup.reference(reference)) + zero)
    assert true_at(informed.plan, groove, fence, shown) == pytest.approx(groove.as_set[fence])


def test_a_setting_of_every_setup_can_be_told() -> None:
    assert len(set(numbers().values())) >= 1
    for name, number in numbers().items():
        kind = "height" if name.startswith("height") else "fence"
        found = outcome(shown=(Shown(kind, 10.0, number),))  # type: ignore[arg-type]  # one of the two
        assert any(piece.settings for piece in found.trial.pieces)


# How it felt


def test_the_clearance_that_was_felt_is_that_of_the_pieces() -> None:
    mean, deviation = clearance_felt(outcome())
    assert mean == pytest.approx(TRUE.clearance(fresh().plan, fresh().known), abs=1e-6)
    calipers = shop().gauge_for("thickness").standard_uncertainty
    assert deviation == pytest.approx(calipers / 2**0.5)


def test_a_size_that_was_not_measured_makes_the_felt_clearance_less_sure() -> None:
    readings = {"groove width": measured().readings["groove width"]}
    mean, deviation = clearance_felt(outcome(readings=readings))
    assert mean == pytest.approx(TRUE.clearance(fresh().plan, fresh().known), abs=0.03)
    assert deviation > clearance_felt(outcome())[1]


# What is kept


def test_what_is_kept_can_be_learned_from_again() -> None:
    found = outcome(note="first of the day")
    record = record_of(found, fresh().known, fresh().plan, NOW, metres=12.0)
    again = [replace(each, what="") for each in observations_in(record.measurements)]
    assert again == [replace(each, what="") for each in found.observations]
    assert (record.piece, record.joint, record.group) == ("Chest", "sides", "A")
    assert (record.cutter, record.metres, record.note) == ("C1", 12.0, "first of the day")
    assert record.measurements[0].readings == found.measured.readings["groove width"]


def test_nothing_is_kept_of_settings_or_of_cutters_that_were_not_used() -> None:
    record = record_of(outcome(), fresh().known, fresh().plan, NOW)
    kept = {(each.kind, each.owner) for each in record.learning.values}
    assert ("cutter", "C1") in kept
    assert not {("cutter", "C3"), ("cutter", "C4")} & kept
    assert not any(kind == "setting" for kind, _ in kept)


def test_settings_that_were_left_are_kept_as_noise() -> None:
    first = outcome()
    made = settings_of(record_of(first, fresh().known, fresh().plan, NOW).measurements)
    second = tried(fresh().plan, fresh().known, measured(), WRITE, earlier=made)
    record = record_of(second, fresh().known, fresh().plan, NOW)
    assert second.left == {each for each in made if each in second.before.unknowns} != set()
    assert not any(s.kind == "setting" for each in record.measurements for s in each.row)
    assert settings_of(record.measurements) >= made


def test_a_setting_that_was_told_is_made_anew() -> None:
    made = settings_of(record_of(outcome(), fresh().known, fresh().plan, NOW).measurements)
    told = measured(shown=(Shown("height", 12.4),))
    control = pieces(fresh().plan)[1].method.control
    assert control is not None
    second = tried(fresh().plan, fresh().known, told, WRITE, earlier=made)
    anew: Unknown = pieces(fresh().plan)[1].setting(control)
    assert anew in made - second.left
    assert second.left
