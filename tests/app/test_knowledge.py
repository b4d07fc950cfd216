"""What a shop knows, in the terms of its documents."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from faywright.app.knowledge import (
    belief_by_documents,
    entries_after,
    entries_from,
    figures,
    kind_of,
    knowledge,
    learning_of_entries,
)
from faywright.app.records import Learned
from faywright.errors import InputError
from faywright.piece.plan import instruments_of
from faywright.shop.cutters import StraightCutter
from faywright.shop.gauges import Gauge
from faywright.shop.inventory import Shop
from faywright.trials.belief import Unknown
from faywright.trials.memory import Entry, measured_anew
from faywright.trials.update import Observation, updated
from tests.app.hidden import C1, FENCE, HEIGHT, NOW, shop

TODAY = date(2026, 11, 25)
C4 = Unknown("cutter", "C4")


def entry(unknown: Unknown, mean: float, sd: float = 0.01, **more: object) -> Entry:
    figure = figures(shop()).get(unknown, 0.0)
    told: dict[str, object] = {"on": TODAY, "trial": "1", "datum": figure, **more}
    return Entry(unknown=unknown, mean=mean, sd=sd, **told)  # type: ignore[arg-type]  # of all kinds


def gauge(mark: str, *uses: str) -> Gauge:
    return Gauge(mark=mark, uses=uses, resolution=0.01, repeatability=0.03)  # type: ignore[arg-type]  # uses by name


def test_without_entries_the_shop_is_as_its_file_says() -> None:
    known = knowledge(shop(), [], TODAY)
    assert known.shop == shop()
    assert known.lessons == ()
    assert known.belief.unknowns == belief_by_documents(shop()).unknowns


def test_a_zero_that_was_learned_is_taken_off_readings() -> None:
    known = knowledge(shop(), [entry(HEIGHT, 0.05)], TODAY).shop
    zero = known.gauge_for("height")
    # The cutter stands 0.05 mm higher than shown: the gauge shows that much too little.
    assert zero.zero_error == pytest.approx(shop().gauge_for("height").zero_error - 0.05)
    assert zero.zero_uncertainty == pytest.approx(0.01)
    assert zero.shows(10.0) == pytest.approx(9.95 + shop().gauge_for("height").zero_error)


def test_one_gauge_for_height_and_fence_has_a_zero_for_each() -> None:
    known = knowledge(shop(), [entry(HEIGHT, 0.05)], TODAY).shop
    assert known.gauge_for("height").mark == known.gauge_for("fence").mark
    assert known.gauge_for("fence").zero_error == shop().gauge_for("fence").zero_error
    both = knowledge(shop(), [entry(HEIGHT, 0.05), entry(FENCE, -0.02)], TODAY).shop
    zeros = [both.gauge_for("height").zero_error, both.gauge_for("fence").zero_error]
    listed = shop().gauge_for("height").zero_error
    assert zeros == pytest.approx([listed - 0.05, listed + 0.02])


def test_of_two_equally_good_gauges_the_same_one_sets_the_height() -> None:
    first, second = gauge("left", "height", "fence"), gauge("right", "height", "thickness")
    pair = replace(shop(), gauges=(first, second))
    known = knowledge(pair, [entry(Unknown("height zero", "left"), 0.05)], TODAY)
    assert known.shop.gauge_for("height").mark == "left"
    assert known.belief.unknowns == belief_by_documents(pair).unknowns


def test_a_zero_of_a_gauge_that_is_only_assumed_can_be_learned() -> None:
    bare: Shop = replace(shop(), gauges=())
    known = knowledge(bare, [entry(Unknown("height zero", "assumed"), 0.05)], TODAY).shop
    assert known.gauge_for("height").zero_error == pytest.approx(-0.05)
    assert known.gauge_for("fence") == bare.gauge_for("fence")
    assert known.gauge_for("thickness") == bare.gauge_for("thickness")


def test_a_cutter_cuts_what_it_was_found_to_cut() -> None:
    # C4 was measured by calipers and has a runout, which is in what it cuts already.
    known = knowledge(shop(), [entry(C4, 0.04)], TODAY).shop
    listed, learned = (
        next(each for each in one.cutters if each.mark == "C4") for one in (shop(), known)
    )
    assert learned.cut_size == pytest.approx((listed.cut_size or 0.0) + 0.04)
    assert learned.fit_size is not None
    assert learned.fit_size.uncertainty == pytest.approx(0.01)


def test_the_belief_counts_from_the_new_figures() -> None:
    known = knowledge(shop(), [entry(HEIGHT, 0.05), entry(C1, -0.03)], TODAY)
    assert known.belief.of(HEIGHT) == pytest.approx((0.0, 0.01))
    assert known.belief.of(C1) == pytest.approx((0.0, 0.01))


def test_what_unknowns_have_in_common_is_kept() -> None:
    together = {HEIGHT: {C1: -0.8}, C1: {HEIGHT: -0.8}}
    entries = [entry(u, 0.02, correlations=others) for u, others in together.items()]
    belief = knowledge(shop(), entries, TODAY).belief
    covariance = belief.covariance[belief.place(HEIGHT), belief.place(C1)]
    assert covariance == pytest.approx(-0.8 * 0.01**2)


def test_a_file_put_right_after_a_trial_is_not_put_right_twice() -> None:
    worn, *others = shop().cutters
    assert isinstance(worn, StraightCutter)
    cutters = (replace(worn, diameter=replace(worn.diameter, measured=6.32)), *others)
    mended = replace(shop(), cutters=cutters)
    known = knowledge(mended, [entry(C1, 0.03)], TODAY).shop
    assert known.cutters[0].cut_size == pytest.approx(6.32)


def test_an_entry_of_what_the_shop_no_longer_has_is_left_alone() -> None:
    known = knowledge(shop(), [entry(Unknown("cutter", "C99"), 0.05)], TODAY)
    assert known.shop == shop()
    assert known.taught == frozenset()


@pytest.mark.parametrize(
    ("mean", "sd", "told"), [(0.0, 0.0202, False), (0.0, 0.005, True), (0.05, 0.0202, True)]
)
def test_what_is_worth_telling_is_told(mean: float, sd: float, told: bool) -> None:
    lessons = knowledge(shop(), [entry(C1, mean, sd)], TODAY).lessons
    assert [each.unknown for each in lessons] == ([C1] if told else [])


def test_a_cutter_measured_after_sharpening_is_told_of() -> None:
    anew = measured_anew("C1", measured=6.20, listed=6.29, sd=0.02, on=TODAY, note="")
    (lesson,) = knowledge(shop(), [anew], TODAY).lessons
    assert lesson.said(lambda size: f"{size:.2f}") == (
        "cutter C1: 0.09 less than listed, known to 0.02"
    )


def test_metres_age_a_cutter_and_no_other() -> None:
    entries = [entry(C1, 0.0, 0.005), entry(C4, 0.0, 0.005)]
    aged = knowledge(shop(), entries, TODAY, metres={"C1": 36.0}).belief
    assert aged.of(C1)[1] == pytest.approx((0.005**2 + 0.006**2) ** 0.5)
    assert aged.of(C4)[1] == pytest.approx(0.005)


def test_an_entry_of_tomorrow_is_told() -> None:
    late = entry(C1, 0.0, on=TODAY + timedelta(days=1))
    with pytest.raises(InputError, match="later than today"):
        knowledge(shop(), [late], TODAY)


def test_a_trial_leaves_nothing_of_what_it_did_not_speak_of() -> None:
    first = belief_by_documents(shop())
    seen = [Observation(what="x", row={C1: 1.0}, expected=6.3, read=6.33, uncertainty=0.02)]
    after = updated(first, seen)
    kept = entries_after(after, seen, {HEIGHT}, on=TODAY, trial="2", figures=figures(shop()))
    assert {each.unknown for each in kept} == {C1, HEIGHT}
    learning = learning_of_entries(kept, after)
    back = entries_from([(value, NOW, 2) for value in learning.values], learning.covariance)
    assert [(e.unknown, e.mean, e.sd, e.datum) for e in back] == [
        (e.unknown, e.mean, e.sd, e.datum) for e in kept
    ]


def test_a_kind_that_is_not_known_was_written_by_another_version() -> None:
    value = Learned(kind="mood", owner="maker", mean=0.0, sd=0.1)
    with pytest.raises(InputError, match="unknown of the kind 'mood' was stored"):
        entries_from([(value, NOW, 1)], ((0.01,),))
    assert kind_of("lift") == "lift"


def test_figures_are_those_of_gauges_and_cutters() -> None:
    assert figures(shop())[C1] == pytest.approx(6.29)
    assert instruments_of(shop()).height.mark == HEIGHT.owner
