"""What to move after a trial, and what for: by hand, by cutting again, and by sampling."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faywright.errors import InputError
from faywright.fit.forms import Quantity
from faywright.joints import grooves, tongues
from faywright.joints.method import Method
from faywright.joints.solution import Solution
from faywright.joints.task import Instruments
from faywright.shop import Cutter, Gauge
from faywright.trials.belief import Belief, Unknown
from faywright.trials.correction import WORTH_A_PIECE, Advice, advise
from faywright.trials.observing import (
    TrialPiece,
    first_belief,
    measurable,
    observed,
    with_settings,
)
from faywright.trials.pair import Trial
from faywright.trials.update import Observation, updated
from tests.joints.builders import (
    GAUGE,
    INSTRUMENTS,
    TABLE,
    cut_by,
    groove_by,
    joint,
    matched_pair,
    measured,
    slot,
    solved,
    straight,
    tongue_by,
)
from tests.joints.cases import GROOVES, TONGUES, Drawn, drawn_joints
from tests.joints.test_method import size_of, with_bigger_cutter
from tests.strategies import STEADY, lengths
from tests.trials.cutting import by_calipers, flat_joint, piece_of

FEW = settings(STEADY, max_examples=5)

HEIGHT, FENCE = Unknown("height zero", "dial"), Unknown("fence zero", "dial")
GROOVE_CUTTER = Unknown("cutter", "C1")
TONGUE_HEIGHT = Quantity("height", "tongue")
CHEEK_A, CHEEK_B = Quantity("height", "face-A cheek"), Quantity("height", "face-B cheek")
NEAR, FAR = Quantity("fence", "near wall"), Quantity("fence", "far wall")
SIGMA = GAUGE.standard_uncertainty


def trial_of(solution: Solution, **more: object) -> Trial:
    return Trial(piece_of(solution, "groove", **more), piece_of(solution, "tongue", **more))


def cutters_of(solution: Solution) -> list[Cutter]:
    return [*solution.groove.cutters, *solution.tongue.cutters]


def from_documents(trial: Trial) -> Belief:
    """What the documents say, with the pieces' settings."""
    task = trial.solution.task
    first = first_belief(task.instruments, task.machine, cutters_of(trial.solution))
    return with_settings(first, *trial.pieces)


def told(
    trial: Trial,
    off: Mapping[Unknown, float] | None = None,
    unsure: Mapping[Unknown, float] | None = None,
) -> Belief:
    """Everything known exactly, nothing off, but for what is said."""
    off, unsure = off or {}, unsure or {}
    unknowns = from_documents(trial).unknowns
    return Belief.independent({u: (off.get(u, 0.0), unsure.get(u, 0.0)) for u in unknowns})


def planned(trial: Trial) -> float:
    return float(trial.planned.mean())


def in_a_row(groove: str, tongue: str, count: int = 3, **wishes: object) -> Solution:
    task = joint([19.0] * count, groove_width=6.5, **wishes)  # type: ignore[arg-type]  # wishes of all kinds go through
    made = groove_by(task, groove, straight(6.5 if groove == grooves.ON_EDGE else 4.5))
    cutters: Mapping[str, tuple[Cutter, ...]] = {
        tongues.FACE_A: (slot(12.0),),
        tongues.PAIR: (matched_pair(6.14),),
    }
    return solved(
        task, made, tongue_by(task, made, tongue, *cutters.get(tongue, (straight(18.0, "C2"),)))
    )


def with_strips(groove: str) -> Solution:
    task = joint([19.0] * 3, [6.0] * 3, strips=True)
    made = groove_by(task, groove, straight(4.5))
    return solved(task, made, tongue_by(task, made, tongues.STRIP))


# By hand

Moves = dict[Quantity, float]

BY_HAND: Mapping[str, tuple[Solution, Mapping[Unknown, float], Moves]] = {
    # (g - T + 2 h) / 2: the cutter stands 0.06 too high, so the gauge has to show 0.06 less.
    "flat, high": (
        in_a_row(grooves.ON_EDGE, tongues.FLAT),
        {HEIGHT: 0.06},
        {TONGUE_HEIGHT: -0.06},
    ),
    # The groove is 0.08 wide: the tongue has to be 0.08 thicker, half of it on either face.
    "flat, wide groove": (
        in_a_row(grooves.ON_EDGE, tongues.FLAT),
        {GROOVE_CUTTER: 0.08},
        {TONGUE_HEIGHT: -0.04},
    ),
    # t = h_B - h_A: what both heights have in common changes nothing but where the tongue is.
    "face A, wide groove": (
        in_a_row(grooves.ON_EDGE, tongues.FACE_A),
        {GROOVE_CUTTER: 0.08},
        {CHEEK_B: 0.08},
    ),
    "face A, high": (
        in_a_row(grooves.ON_EDGE, tongues.FACE_A),
        {HEIGHT: 0.06},
        {CHEEK_A: -0.06, CHEEK_B: -0.06},
    ),
    # 2 b - T: both walls go out by what the fence is too far back; the tongue takes it up.
    "two passes": (
        in_a_row(grooves.BOTH_FACES, tongues.FLAT),
        {FENCE: 0.05},
        {TONGUE_HEIGHT: -0.05},
    ),
    "strip, two passes": (
        with_strips(grooves.BOTH_FACES),
        {FENCE: 0.06},
        {Quantity("fence", "groove"): -0.06},
    ),
    # Near wall n - D, far wall f: the fence is off for both of them.
    "strip, two places": (
        with_strips(grooves.TWO_PLACES),
        {FENCE: 0.06},
        {NEAR: -0.06, FAR: -0.06},
    ),
    # A fat cutter moves the near wall alone, and the fence for it cures that.
    "strip, fat cutter": (
        with_strips(grooves.TWO_PLACES),
        {GROOVE_CUTTER: 0.05},
        {NEAR: 0.05},
    ),
}


def fits_moves(advice: Advice, wanted: Moves) -> bool:
    """Whether these are the moves, besides those of depths and lengths that are off as well."""
    sized = {m.quantity: m.by for m in advice.moves if m.quantity in (*wanted, *DECIDING)}
    return sized == pytest.approx(wanted, abs=1e-12)


DECIDING = (TONGUE_HEIGHT, CHEEK_A, CHEEK_B, NEAR, FAR)


@pytest.mark.parametrize("case", BY_HAND)
def test_the_move_is_what_one_works_out_by_hand(case: str) -> None:
    solution, off, wanted = BY_HAND[case]
    trial = trial_of(solution)
    advice = advise(trial, told(trial, off))
    assert fits_moves(advice, wanted)
    assert planned(trial) == pytest.approx(float(solution.clearance.mean()), abs=1e-12)
    assert advice.then.mean == pytest.approx(planned(trial), abs=1e-12)
    for move in advice.moves:
        assert move.to == pytest.approx(trial.piece(move.side).as_set[move.quantity] + move.by)
        assert advice.following.piece(move.side).as_set[move.quantity] == move.to


@pytest.mark.parametrize("case", BY_HAND)
def test_a_dead_on_setting_is_left_alone(case: str) -> None:
    trial = trial_of(BY_HAND[case][0])
    advice = advise(trial, told(trial))
    assert advice.moves == ()
    assert advice.following is trial
    assert advice.now == advice.then
    assert advice.now.mean == pytest.approx(planned(trial), abs=1e-12)


@pytest.mark.parametrize(("share", "moves"), [(0.9, 0), (-0.9, 0), (1.1, 1), (-1.1, 1)])
def test_less_than_the_gauge_scatters_is_not_moved(share: float, moves: int) -> None:
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT))
    advice = advise(trial, told(trial, {HEIGHT: share * SIGMA}), cut=["groove"])
    assert len(advice.moves) == moves


@pytest.mark.parametrize(("share", "moves"), [(0.9, 0), (1.1, 1)])
def test_nor_where_nobody_knows_what_the_setting_itself_is_off_by(share: float, moves: int) -> None:
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT))
    own = {trial.tongue.setting(TONGUE_HEIGHT): SIGMA}
    belief = told(trial, {HEIGHT: share * SIGMA}, unsure=own)
    assert len(advise(trial, belief, cut=["groove"]).moves) == moves


@pytest.mark.parametrize(("share", "moves"), [(1.15, 0), (1.35, 1)])
def test_a_zero_that_is_not_known_scatters_a_new_setting_too(share: float, moves: int) -> None:
    """Of zero and setting only the sum is known: half of its variance is the zero's."""
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT))
    unsure = {trial.tongue.setting(TONGUE_HEIGHT): SIGMA, HEIGHT: SIGMA}
    (blank,) = observed(trial.tongue, {"tongue thickness": [6.0]})
    seen = replace(blank, read=blank.expected - 2 * share * SIGMA, uncertainty=1e-6, shared={})
    belief = updated(told(trial, unsure=unsure), [seen])
    assert len(advise(trial, belief, cut=["groove"]).moves) == moves


def test_a_setting_not_yet_made_is_corrected_by_as_little_as_the_gauge_shows() -> None:
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT))
    for off, moves in ((0.004, 0), (0.006, 1)):
        belief = told(trial, {HEIGHT: off})
        lasting = belief.marginal([u for u in belief.unknowns if u.kind != "setting"])
        assert len(advise(trial, lasting, cut=["groove"]).moves) == moves


def test_a_move_that_would_scatter_joints_out_of_their_band_is_not_made() -> None:
    """At the end of the band is still surer than anywhere that a gauge this coarse sets to."""
    coarse = replace(GAUGE, mark="rule", resolution=0.25)
    tools = replace(INSTRUMENTS, height=coarse)
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT, instruments=tools))
    sure = told(trial, {Unknown("height zero", "rule"): 0.09})
    advice = advise(trial, sure, cut=["groove"])
    assert advice.moves == ()
    assert coarse.standard_uncertainty < 0.09
    assert advice.now.chance > 0.85


def test_what_a_setting_is_off_by_itself_goes_when_it_is_made_anew() -> None:
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT))
    own = trial.tongue.setting(TONGUE_HEIGHT)
    (move,) = advise(trial, told(trial, {own: 0.09, HEIGHT: -0.03}), cut=["groove"]).moves
    assert move.to == pytest.approx(trial.tongue.as_set[TONGUE_HEIGHT] + 0.03)
    assert move.by == pytest.approx(-0.06)


def test_where_all_boards_are_cut_nothing_is_moved() -> None:
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT))
    advice = advise(trial, told(trial, {HEIGHT: 0.3, FENCE: 0.3}), cut=["groove", "tongue"])
    assert advice.moves == ()
    assert advice.saves == 0
    assert advice.then.chance < 0.01


def test_a_groove_is_not_moved_where_the_tongue_is_fitted_to_it() -> None:
    trial = trial_of(in_a_row(grooves.BOTH_FACES, tongues.FLAT))
    advice = advise(trial, told(trial, {FENCE: 0.3}))
    assert Quantity("fence", "groove") not in {move.quantity for move in advice.moves}
    assert advice.then.mean == pytest.approx(planned(trial))


# By cutting again


def middle(piece: TrialPiece) -> float:
    """Thickness of a trial piece."""
    task = piece.solution.task
    return (task.grooved if piece.side == "groove" else task.tongued).middle


def really(piece: TrialPiece, off: Mapping[Unknown, float]) -> dict[str, float]:
    """Surfaces that the kernel leaves of a trial piece in a shop that is off."""
    thickness = middle(piece)
    if not piece.method.runs:
        return {"face-A cheek": 0.0, "face-B cheek": thickness}
    zero = {"height": off.get(HEIGHT, 0.0), "fence": off.get(FENCE, 0.0)}
    made = {quantity: value + zero[quantity.kind] for quantity, value in piece.as_set.items()}
    method: Method = piece.method
    for size in method.cutter_sizes:
        method = with_bigger_cutter(method, size.key, off.get(Unknown("cutter", size.key), 0.0))
    return measured(piece.method, cut_by(method, made, thickness))


def cut_clearance(trial: Trial, off: Mapping[Unknown, float]) -> float:
    width, thickness = (size_of(p.method, really(p, off)) for p in trial.pieces)
    return (width - thickness) / 2


def seen_on(piece: TrialPiece, off: Mapping[Unknown, float]) -> tuple[Observation, ...]:
    names = measurable(piece.solution, piece.side)
    spans = by_calipers(really(piece, off), middle(piece), names)
    return observed(piece, {name: [value] * 3 for name, value in spans.items()})


def check_cutting_again(drawn: Drawn, off: Mapping[Unknown, float]) -> None:
    """A trial in a shop that is off brings the next clearance back to what is planned."""
    trial = trial_of(drawn.solved())
    sizes = {**drawn.groove.cutter_sizes, **drawn.tongue.cutter_sizes}
    off = {**off, **{Unknown("cutter", size.key): off[GROOVE_CUTTER] for size in sizes}}
    vague = {u: 0.1 for u in from_documents(trial).unknowns if u.kind not in ("setting", "lift")}
    belief = told(trial, unsure=vague)
    for piece in trial.pieces:
        belief = updated(belief, seen_on(piece, off))
    advice = advise(trial, belief)
    goal = cut_clearance(trial, {})
    before, after = (cut_clearance(each, off) - goal for each in (trial, advice.following))
    piece = trial.adjusted
    control = piece.method.control
    if control is None:
        assert after == pytest.approx(before, abs=1e-6)
        assert advice.saves == 0
        return
    decisive = [move for move in advice.moves if move.quantity == control]
    assert advice.now.mean - planned(trial) == pytest.approx(before, abs=0.012)
    assert advice.then.mean - planned(trial) == pytest.approx(after, abs=0.012)
    least = SIGMA * abs(trial.play[piece.side].coefficient(control))
    assert abs(after) <= (0.012 if decisive else least + 0.012)


errors = st.fixed_dictionaries(
    {HEIGHT: lengths(-0.1, 0.1), FENCE: lengths(-0.1, 0.1), GROOVE_CUTTER: lengths(-0.1, 0.1)}
)


@pytest.mark.parametrize("case", GROOVES)
@FEW
@given(data=st.data(), off=errors)
def test_cutting_again_after_the_move_is_as_planned_for_every_groove(
    data: st.DataObject, off: Mapping[Unknown, float], case: str
) -> None:
    check_cutting_again(data.draw(drawn_joints(case, "flat")), off)


@pytest.mark.parametrize("case", TONGUES)
@FEW
@given(data=st.data(), off=errors)
def test_cutting_again_after_the_move_is_as_planned_for_every_tongue(
    data: st.DataObject, off: Mapping[Unknown, float], case: str
) -> None:
    check_cutting_again(data.draw(drawn_joints("one pass", case)), off)


@pytest.mark.parametrize("case", sorted(k for k, case in GROOVES.items() if not case.one))
@FEW
@given(data=st.data(), off=errors)
def test_cutting_again_after_the_move_is_as_planned_for_grooves_that_suit_a_strip(
    data: st.DataObject, off: Mapping[Unknown, float], case: str
) -> None:
    check_cutting_again(data.draw(drawn_joints(case, "strip")), off)


# What is expected


def test_boards_differ_by_their_thickness_and_by_half_the_variance_of_their_ride() -> None:
    rough = replace(TABLE, work_lift=0.3)
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT, machine=rough, scatter=0.05))
    along = float(trial.solution.task.tongued.deviation[0])
    ride = 0.3 / math.sqrt(12)
    # Half of the thickness, and half of each of two rides, is a side's.
    wanted = math.sqrt((along / 2) ** 2 + 2 * ride**2 / 2 / 4)
    assert trial.board_deviations == pytest.approx(np.full(2, wanted))


def test_before_any_trial_the_chance_is_that_of_the_plan() -> None:
    solution = in_a_row(grooves.TWO_PLACES, tongues.FLAT, scatter=0.03)
    trial = trial_of(solution)
    untested, _ = solution.sampled(trials=20_000, seed=1)
    now = advise(trial, from_documents(trial)).now
    assert now.chance == pytest.approx(float(untested.each.mean()), abs=0.01)
    assert now.mean == pytest.approx(float(untested.mean.mean()), abs=1e-9)


def test_chances_and_intervals_are_what_sampling_the_belief_shows() -> None:
    solution = flat_joint(scatter=0.04)
    trial = trial_of(solution)
    seen = observed(trial.tongue, {"tongue thickness": [6.26, 6.27], "tongue length": [9.0]})
    belief = updated(from_documents(trial), seen)
    generator = np.random.Generator(np.random.SFC64(5))
    drawn = belief.mean + generator.standard_normal((40_000, len(belief.unknowns))) @ belief.root.T
    deviations = trial.board_deviations
    boards = deviations * generator.standard_normal((len(drawn), len(deviations)))
    shift = (drawn @ belief.weights(trial.row(trial.play)))[:, None]
    clearances = solution.clearance[trial.joints] + shift + boards
    low, high = solution.band
    inside = float(((clearances >= low) & (clearances <= high)).mean())
    now = advise(trial, belief).now
    assert 0.05 < now.chance < 0.95
    assert now.chance == pytest.approx(inside, abs=0.01)
    assert now.mean == pytest.approx(float(clearances.mean()), abs=0.001)
    ends = np.quantile(clearances, [0.05, 0.95])
    assert [now.low, now.high] == pytest.approx(ends, abs=0.002)


@FEW
@given(
    off=st.lists(lengths(-0.3, 0.3), min_size=12, max_size=12),
    unsure=st.lists(lengths(0, 0.2), min_size=12, max_size=12),
)
def test_chances_are_chances_and_moves_never_spoil_them(
    off: list[float], unsure: list[float]
) -> None:
    trial = trial_of(flat_joint(scatter=0.02))
    unknowns = from_documents(trial).unknowns
    known = zip(off[: len(unknowns)], unsure[: len(unknowns)], strict=True)
    advice = advise(
        trial, Belief.independent(dict(zip(unknowns, known, strict=True))), cut=["groove"]
    )
    for each in (advice.now, advice.then):
        assert 0 <= each.chance <= 1
        assert each.low <= each.high
    assert advice.then.chance >= advice.now.chance - 0.01
    assert 0 <= advice.saves <= len(trial.joints)


def test_a_group_that_meets_nothing_is_judged_by_its_middle_board() -> None:
    task = joint([19.0, 19.0, 19.0, 20.0], groove_width=6.5, free_order=False)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.5))
    solution = solved(task, groove, tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2")))
    end = next(k for k, g in enumerate(solution.tongue_groups) if g.members.tolist() == [3])
    trial = Trial(piece_of(solution, "groove"), piece_of(solution, "tongue", group=end))
    assert trial.joints.tolist() == []
    advice = advise(trial, told(trial, {HEIGHT: 0.06}), cut=["groove"])
    assert [move.by for move in advice.moves if move.quantity == TONGUE_HEIGHT] == [
        pytest.approx(-0.06)
    ]
    assert advice.then.mean == pytest.approx(planned(trial), abs=1e-9)
    assert advice.saves == 0


# One more trial


def unsure_tongue(deviation: float) -> tuple[Trial, Belief]:
    trial = trial_of(in_a_row(grooves.ON_EDGE, tongues.FLAT, count=12))
    own = trial.tongue.setting(TONGUE_HEIGHT)
    return trial, told(trial, unsure={own: deviation})


def test_with_perfect_knowledge_nothing_is_saved_by_another_trial() -> None:
    trial, belief = unsure_tongue(0.0)
    advice = advise(trial, belief)
    assert advice.saves == 0
    assert not advice.another


def test_the_less_is_known_the_more_another_trial_saves() -> None:
    saves = [advise(*unsure_tongue(d)).saves for d in (0.02, 0.05, 0.1, 0.2)]
    assert saves == sorted(saves)
    assert saves[0] < WORTH_A_PIECE < saves[-1]


def test_another_trial_saves_less_where_fewer_joints_are_left() -> None:
    trial, belief = unsure_tongue(0.1)
    whole, half, none = (advise(trial, belief, left=left).saves for left in (11, 5, 0))
    assert advise(trial, belief).saves == whole
    assert half == pytest.approx(whole * 5 / 11)
    assert none == 0


@pytest.mark.parametrize("zero", [0.0, 0.12])
def test_what_another_trial_saves_is_what_making_it_saves(zero: float) -> None:
    trial, _ = unsure_tongue(0.1)
    own = trial.tongue.setting(TONGUE_HEIGHT)
    belief = told(trial, unsure={own: SIGMA if zero else 0.1, HEIGHT: zero})
    advice = advise(trial, belief)
    assert advice.moves == ()
    generator = np.random.Generator(np.random.SFC64(9))
    (blank,) = observed(replace(trial.tongue, mark="T9"), {"tongue thickness": [6.0] * 3})
    noise = math.hypot(blank.uncertainty, *blank.shared.values())
    mean, _ = belief.predicted(blank.row)
    found = []
    for _ in range(400):
        off = belief.root @ generator.standard_normal(len(belief.unknowns))
        read = blank.expected + mean + float(belief.weights(blank.row) @ off)
        seen = replace(blank, read=read + noise * generator.standard_normal())
        found.append(advise(trial, updated(belief, [seen]), cut=["groove"]).then.chance)
    gained = float(np.mean(found)) - advice.then.chance
    assert advice.saves / len(trial.joints) == pytest.approx(gained, abs=0.02)


# Causes


def tools(**gauges: Gauge) -> Instruments:
    return replace(INSTRUMENTS, **gauges)


def cause_with(solution: Solution, off: Mapping[Unknown, float] | None = None) -> tuple[str, ...]:
    trial = trial_of(solution)
    belief = from_documents(trial)
    if off is not None:
        belief = told(trial, off)
    return advise(trial, belief).causes


def test_boards_that_scatter_are_named() -> None:
    assert cause_with(in_a_row(grooves.ON_EDGE, tongues.FLAT, scatter=0.2)) == ("boards",)


def test_a_gauge_too_coarse_is_named() -> None:
    rule = Gauge(mark="rule", uses=("height",), resolution=0.5, repeatability=0.05)
    solution = in_a_row(grooves.ON_EDGE, tongues.FLAT, instruments=tools(height=rule))
    assert cause_with(solution) == ("gauge",)


def test_calipers_too_coarse_are_named() -> None:
    calipers = Gauge(mark="rule", uses=("thickness",), resolution=0.5, repeatability=0.1)
    fine = replace(GAUGE, mark="fine", resolution=0.001, repeatability=0.001)
    coarse = tools(calipers=calipers, height=fine, fence=fine)
    solution = in_a_row(grooves.TWO_PLACES, tongues.FACE_A, instruments=coarse)
    assert cause_with(solution) == ("calipers",)


def test_a_cutter_that_decides_is_named_where_no_setting_does() -> None:
    solution = in_a_row(grooves.ON_EDGE, tongues.PAIR)
    assert cause_with(solution, {Unknown("cutter", "P1"): 0.3}) == ("cutter",)


def test_nothing_is_named_where_joints_fit() -> None:
    assert cause_with(in_a_row(grooves.ON_EDGE, tongues.FLAT), {}) == ()


@pytest.mark.parametrize(("off", "moved"), [(0.2, True), (-0.2, True), (0.04, False)])
def test_a_fence_that_moved_is_told_from_a_zero_that_is_known(off: float, moved: bool) -> None:
    trial = trial_of(in_a_row(grooves.BOTH_FACES, tongues.FLAT))
    fence = Quantity("fence", "groove")
    own = trial.groove.setting(fence)
    belief = told(trial, unsure={own: SIGMA, FENCE: 0.004})
    (blank,) = observed(trial.groove, {"groove width": [6.5]})
    seen = replace(blank, read=blank.expected + 2 * off)
    advice = advise(trial, updated(belief, [seen]))
    assert advice.strayed == ((own,) if moved else ())
    assert ("moved" in advice.causes) == moved


# Further groups


def test_other_groups_start_from_what_the_first_has_told() -> None:
    boards = [18.6, 18.8, 19.0, 19.2, 19.4]
    task = joint([19.0] * 5, boards, groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    solution = solved(task, groove, tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2")))
    trial = trial_of(solution)
    vague = from_documents(trial)
    belief = told(trial, unsure={HEIGHT: 0.1, trial.tongue.setting(TONGUE_HEIGHT): SIGMA})
    belief = updated(belief, seen_on(trial.tongue, {HEIGHT: 0.08}))
    other = trial.at_group(1, "T2")
    assert other.tongue.group == 1
    assert other.groove is trial.groove
    advice = advise(other, belief, cut=["groove"])
    (by,) = [move.by for move in advice.moves if move.quantity == TONGUE_HEIGHT]
    assert by == pytest.approx(-belief.of(HEIGHT)[0], abs=1e-9)
    assert by == pytest.approx(-0.08, abs=0.01)
    assert advice.then.chance > advise(other, vague).then.chance


def test_a_shared_setting_made_again_stays_made_in_the_next_group() -> None:
    task = joint([19.0] * 3, [18.6, 19.0, 19.4], groove_width=6.35)
    groove = groove_by(task, grooves.ON_EDGE, straight(6.35))
    solution = solved(task, groove, tongue_by(task, groove, tongues.FLAT, straight(18.0, "C2")))
    fence = Quantity("fence", "tongue")
    trial = trial_of(solution).again({"tongue": {fence: 9.1, TONGUE_HEIGHT: 6.2}})
    other = trial.at_group(1, "T2").tongue
    assert other.as_set[fence] == 9.1
    assert other.setting(fence) == trial.tongue.setting(fence)
    assert other.as_set[TONGUE_HEIGHT] == solution.tongue_groups[1].settings[TONGUE_HEIGHT]


# Refusals


def test_pieces_the_wrong_way_round_are_refused() -> None:
    trial = trial_of(flat_joint())
    with pytest.raises(InputError, match=r"trial T1, T1: .* a tongue and a groove. Give a piece"):
        Trial(trial.tongue, trial.groove)


def test_pieces_of_two_plans_are_refused() -> None:
    with pytest.raises(InputError, match="of different plans"):
        Trial(piece_of(flat_joint(), "groove"), piece_of(flat_joint(), "tongue"))
