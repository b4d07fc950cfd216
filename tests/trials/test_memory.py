"""What a shop remembers, how it fades, and what forgetting one trial means."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import InputError
from faywright.trials.belief import Belief, Unknown
from faywright.trials.memory import (
    Entry,
    Forgetting,
    drift,
    entries_of,
    measured_anew,
    recalled,
    replayed,
)
from faywright.trials.update import Observation, updated
from tests.strategies import STEADY, lengths
from tests.trials.shops import CUTTER, FENCE, HEIGHT, LIFT, SETTING, beliefs, read, several

DAY = datetime.date(2024, 3, 1)
FIRST = Belief.independent({HEIGHT: (0.0, 0.03), FENCE: (0.0, 0.03), CUTTER: (0.0, 0.06)})


def after(days: int) -> datetime.date:
    return DAY + datetime.timedelta(days=days)


def entry(unknown: Unknown = HEIGHT, mean: float = 0.05, sd: float = 0.01, **more: object) -> Entry:
    figures: dict[str, object] = {"on": DAY, **more}
    return Entry(unknown=unknown, mean=mean, sd=sd, **figures)  # type: ignore[arg-type]  # figures of all kinds go through


# Fading


def test_on_the_same_day_everything_is_known_as_it_was_left() -> None:
    assert recalled([entry()], DAY, FIRST).of(HEIGHT) == pytest.approx((0.05, 0.01))


def test_what_was_never_measured_is_as_at_the_start() -> None:
    assert recalled([entry()], DAY, FIRST).of(FENCE) == FIRST.of(FENCE)
    same = recalled([], DAY, FIRST)
    assert same.covariance.tolist() == FIRST.covariance.tolist()


@pytest.mark.parametrize("days", [1, 4, 25])
def test_a_zero_wanders_by_the_root_of_the_days(days: int) -> None:
    mean, sd = recalled([entry()], after(days), FIRST, forgetting=Forgetting(zero=0.005)).of(HEIGHT)
    assert mean == 0.05
    assert sd**2 == pytest.approx(0.01**2 + 0.005**2 * days)


@pytest.mark.parametrize("metres", [0.0, 100.0, 900.0])
def test_a_cutter_grows_uncertain_by_what_it_cuts_and_not_by_lying_in_its_drawer(
    metres: float,
) -> None:
    left = entry(CUTTER, -0.02, 0.01, cuts=metres)
    mean, sd = recalled([left], after(300), FIRST).of(CUTTER)
    assert mean == -0.02
    assert sd**2 == pytest.approx(0.01**2 + 0.001**2 * metres)


@STEADY
@given(days=st.integers(0, 2000), metres=lengths(0, 5000), sd=lengths(0, 0.2))
def test_memory_is_never_surer_than_it_was_nor_less_sure_than_a_fresh_start(
    days: int, metres: float, sd: float
) -> None:
    first = FIRST.joined(Belief.independent({LIFT: (0.01, 0.004)}))
    left = [entry(unknown, 0.02, sd, cuts=metres) for unknown in first.unknowns]
    found = recalled(left, after(days), first)
    assert (found.deviation >= np.minimum(sd, first.deviation) - 1e-12).all()
    assert (found.deviation <= first.deviation + 1e-12).all()


@STEADY
@given(sooner=st.integers(0, 100), later=st.integers(0, 100))
def test_more_days_never_make_one_surer(sooner: int, later: int) -> None:
    one, two = (recalled([entry()], after(d), FIRST).of(HEIGHT)[1] for d in sorted((sooner, later)))
    assert one <= two


def test_a_year_later_a_zero_is_as_uncertain_as_in_a_new_shop_but_still_where_it_was() -> None:
    assert recalled([entry()], after(365), FIRST).of(HEIGHT) == pytest.approx((0.05, 0.03))


def test_only_the_last_entry_counts_for_it_holds_what_went_before() -> None:
    left = [entry(mean=0.09), entry(mean=0.04, on=after(3))]
    assert recalled(left, after(3), FIRST).of(HEIGHT)[0] == 0.04


def test_entries_of_things_one_does_not_ask_about_are_left_aside() -> None:
    other = Unknown("cutter", "C9")
    assert recalled([entry(other)], DAY, FIRST).unknowns == FIRST.unknowns


def test_an_entry_from_tomorrow_is_refused() -> None:
    with pytest.raises(InputError, match=r"height zero of dial: an entry of 2024-03-02 is later"):
        recalled([entry(on=after(1))], DAY, FIRST)


# What unknowns have in common


@STEADY
@given(belief=beliefs())
def test_a_trial_is_remembered_whole_settings_apart(belief: Belief) -> None:
    lasting = belief.marginal([u for u in belief.unknowns if u.kind != "setting"])
    wide = Belief(lasting.unknowns, np.zeros(len(lasting.unknowns)), 9 * lasting.covariance)
    found = recalled(entries_of(belief, on=DAY, trial="1"), DAY, wide)
    assert SETTING not in found.unknowns
    assert found.mean == pytest.approx(lasting.mean, abs=1e-15)
    assert found.covariance == pytest.approx(lasting.covariance, abs=1e-15)


def test_trial_after_trial_does_not_feign_knowledge_of_what_was_never_told_apart() -> None:
    """Only the sum is seen, so each alone stays as uncertain as half of what there was."""
    sum_only, belief = read({HEIGHT: 1.0, FENCE: 1.0}, 0.02, 0.001), FIRST
    entries: list[Entry] = []
    for number in range(30):
        belief = updated(recalled(entries, DAY, FIRST), [sum_only])
        entries += entries_of(belief, on=DAY, trial=str(number))
    assert belief.predicted({HEIGHT: 1.0, FENCE: 1.0})[1] < 0.001
    assert belief.of(HEIGHT)[1] == pytest.approx(0.03 / math.sqrt(2), rel=1e-3)


def test_time_adds_to_each_alone_and_leaves_what_they_share() -> None:
    belief = updated(FIRST, [read({HEIGHT: 1.0, FENCE: 1.0}, 0.02)])
    found = recalled(entries_of(belief, on=DAY, trial="1"), after(4), FIRST)
    assert found.covariance[0, 1] == pytest.approx(belief.covariance[0, 1])
    assert found.covariance[0, 0] == pytest.approx(belief.covariance[0, 0] + 0.004**2 * 4)


@pytest.mark.parametrize("trial", ["2", ""])
def test_entries_of_different_trials_have_nothing_in_common(trial: str) -> None:
    belief = updated(FIRST, [read({HEIGHT: 1.0, FENCE: 1.0}, 0.02)])
    height, fence, _ = entries_of(belief, on=DAY, trial="1")
    found = recalled([height, replace(fence, trial=trial)], DAY, FIRST)
    assert found.covariance[0, 1] == 0.0


def test_entries_of_no_trial_have_nothing_in_common() -> None:
    left = [entry(HEIGHT, correlations={FENCE: 0.9}), entry(FENCE, correlations={HEIGHT: 0.9})]
    assert recalled(left, DAY, FIRST).covariance[0, 1] == 0.0


def test_what_was_remembered_alone_has_nothing_in_common_with_a_first_belief() -> None:
    shared = np.array([[9.0, 8.0], [8.0, 9.0]]) * 1e-4
    first = Belief((HEIGHT, FENCE), np.zeros(2), shared)
    found = recalled([entry(sd=0.001)], DAY, first)
    assert found.covariance == pytest.approx(np.diag([1e-6, 9e-4]))


@STEADY
@given(belief=beliefs(least=3), days=st.integers(0, 400))
def test_however_long_ago_what_is_recalled_is_a_belief_that_can_be(
    belief: Belief, days: int
) -> None:
    lasting = belief.marginal([u for u in belief.unknowns if u.kind != "setting"])
    first = Belief.independent(dict.fromkeys(lasting.unknowns, (0.0, 0.05)))
    found = recalled(entries_of(belief, on=DAY, trial="1"), after(days), first)
    assert found.deviation.max() <= 0.05 + 1e-12


# Corrected shop files, and sharpened cutters


def test_a_size_corrected_in_the_shop_file_is_not_corrected_twice() -> None:
    left = entries_of(
        Belief.independent({CUTTER: (-0.02, 0.01)}), on=DAY, trial="1", datums={CUTTER: 6.35}
    )
    unchanged = recalled(left, DAY, FIRST, datums={CUTTER: 6.35}).of(CUTTER)
    corrected = recalled(left, DAY, FIRST, datums={CUTTER: 6.33}).of(CUTTER)
    assert unchanged[0] == pytest.approx(-0.02)
    assert corrected[0] == pytest.approx(0.0)
    assert corrected[1] == unchanged[1]


def test_after_sharpening_only_the_new_measurement_counts() -> None:
    worn = entry(CUTTER, -0.05, 0.002, cuts=800.0, datum=6.35, trial="1")
    sharp = measured_anew(
        "C1", measured=6.21, listed=6.35, sd=0.02, on=after(9), note="resharpened"
    )
    found = recalled([worn, sharp], after(9), FIRST, datums={CUTTER: 6.35})
    assert found.of(CUTTER) == pytest.approx((-0.14, 0.02))
    told = recalled([worn, sharp], after(9), FIRST, datums={CUTTER: 6.21})
    assert told.of(CUTTER) == pytest.approx((0.0, 0.02))
    assert sharp.note == "resharpened"


# Working the chain out again


def trials_of(
    data: st.DataObject, belief: Belief
) -> list[tuple[datetime.date, Sequence[Observation]]]:
    days = sorted(data.draw(st.lists(st.integers(0, 200), min_size=1, max_size=4)))
    return [(after(day), data.draw(several(belief))) for day in days]


@STEADY
@given(data=st.data())
def test_going_on_from_entries_is_the_same_as_working_out_the_whole_chain_again(
    data: st.DataObject,
) -> None:
    prior = data.draw(beliefs())
    prior = prior.marginal([u for u in prior.unknowns if u.kind != "setting"])
    trials = trials_of(data, prior)
    entries: list[Entry] = []
    for number, ((on, seen), wanted) in enumerate(
        zip(trials, replayed(prior, trials), strict=True)
    ):
        belief = updated(recalled(entries, on, prior), seen)
        entries += entries_of(belief, on=on, trial=str(number))
        assert belief.mean == pytest.approx(wanted.mean, abs=1e-11)
        assert belief.covariance == pytest.approx(wanted.covariance, abs=1e-12)


def test_forgetting_a_trial_leaves_what_would_have_been_believed_without_it() -> None:
    good, bad = read({HEIGHT: -2.0}, 0.06), read({HEIGHT: -2.0}, 0.50)
    trials = [(DAY, [good]), (after(2), [bad]), (after(5), [good])]
    without = replayed(FIRST, [trials[0], trials[2]])
    assert len(without) == 2
    assert replayed(FIRST, trials)[2].of(HEIGHT)[0] < without[1].of(HEIGHT)[0]
    assert without[0].of(HEIGHT) == updated(FIRST, [good]).of(HEIGHT)


def test_the_days_before_the_first_trial_do_not_count() -> None:
    (found,) = replayed(FIRST, [(after(5000), [read({HEIGHT: 1.0}, 0.02)])])
    assert found.of(HEIGHT) == updated(FIRST, [read({HEIGHT: 1.0}, 0.02)]).of(HEIGHT)


def test_metres_cut_between_trials_make_a_cutter_less_sure() -> None:
    trials = [(DAY, [read({CUTTER: 1.0}, 0.02)]), (after(1), [read({FENCE: 1.0}, 0.0)])]
    idle = replayed(FIRST, trials)[1].of(CUTTER)[1]
    used = replayed(FIRST, trials, cuts=[{}, {CUTTER: 250.0}])[1].of(CUTTER)[1]
    assert used**2 - idle**2 == pytest.approx(0.001**2 * 250)


def test_a_setting_made_in_the_past_does_not_change_any_more() -> None:
    prior = FIRST.joined(Belief.independent({SETTING: (0.0, 0.03)}))
    seen = read({SETTING: 1.0}, 0.02)
    one, two = replayed(prior, [(DAY, [seen]), (after(90), [])])
    assert two.of(SETTING) == pytest.approx(one.of(SETTING))


def test_trials_out_of_order_are_refused() -> None:
    with pytest.raises(InputError, match="not in the order of their dates"):
        replayed(FIRST, [(after(1), []), (DAY, [])])


def test_as_many_lists_of_metres_as_trials() -> None:
    with pytest.raises(InputError, match="2 lists of metres cut do not go with 1 trials"):
        replayed(FIRST, [(DAY, [])], cuts=[{}, {}])


def test_no_trials_leave_nothing() -> None:
    assert replayed(FIRST, []) == []


# Drift


def test_drift_goes_by_date_and_by_metres_cut_until_then() -> None:
    left = [
        entry(CUTTER, -0.03, 0.012, on=after(20), cuts=30.0),
        entry(CUTTER, -0.01, 0.010, cuts=120.0),
        entry(CUTTER, -0.04, 0.011, on=after(40)),
    ]
    found = drift(left)
    assert [point.on for point in found] == [DAY, after(20), after(40)]
    assert [point.metres for point in found] == [0.0, 120.0, 150.0]
    assert [point.mean for point in found] == pytest.approx([-0.01, -0.03, -0.04])
    assert [point.sd for point in found] == [0.010, 0.012, 0.011]


def test_drift_is_told_from_one_datum_though_the_shop_file_changed() -> None:
    left = [entry(CUTTER, -0.02, datum=6.35), entry(CUTTER, -0.01, on=after(1), datum=6.33)]
    assert [point.mean for point in drift(left)] == pytest.approx([0.0, -0.01])


def test_drift_of_nothing_is_nothing() -> None:
    assert drift([]) == ()


def test_two_unknowns_make_no_one_chart() -> None:
    with pytest.raises(InputError, match="several unknowns are mixed"):
        drift([entry(), entry(CUTTER)])


# Refusals


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"unknown": SETTING}, "a setting is not made a second time"),
        ({"sd": -0.01}, "a deviation of -0.01 mm cannot be"),
        ({"mean": math.nan}, "a mean of nan mm"),
        ({"datum": math.inf}, "Give finite numbers"),
        ({"cuts": -1.0}, "-1 m cut since cannot be"),
        ({"correlations": {FENCE: 1.2}}, "a correlation is beyond 1"),
    ],
)
def test_an_entry_that_cannot_be_is_refused(wrong: dict[str, object], message: str) -> None:
    with pytest.raises(InputError, match=message):
        entry(**wrong)  # type: ignore[arg-type]  # wrong figures are the point


def test_nothing_gets_surer_by_lying_about() -> None:
    with pytest.raises(InputError, match=r"rates of -0.001, 0.002 and 0.001 mm are not all 0"):
        Forgetting(zero=-0.001)
