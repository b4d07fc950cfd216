"""What is told to the store can be asked of it again, in a file and on a server."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from faywright.app import Contents, Memory, TrialRecord, open_store, recall
from faywright.app.store import Store
from faywright.errors import InputError
from tests.app.strategies import NEW_YEAR, a_feel, a_sharpening, a_trial, stores, trials
from tests.strategies import STEADY

SAME_STORE = settings(STEADY, suppress_health_check=[HealthCheck.function_scoped_fixture])
SHOP = "Mill Lane"


def means(memory: Memory) -> dict[str, float]:
    return {value.kind: value.mean for value in memory.values}


@SAME_STORE
@given(record=trials())
def test_a_trial_comes_back_as_it_was_told(store: Store, record: TrialRecord) -> None:
    kept = store.trial(store.add_trial(record))
    assert (kept.record, kept.forgotten) == (record, None)
    assert kept.record.at.tzinfo is UTC


def test_trials_are_listed_the_latest_first(store: Store) -> None:
    numbers = [store.add_trial(a_trial(0.0, joint=f"J{n}")) for n in range(5)]
    assert [each.id for each in store.trials(limit=3)] == numbers[:1:-1]


def test_trials_are_listed_by_shop(store: Store) -> None:
    here, there = (store.add_trial(a_trial(0.0, shop=shop)) for shop in (SHOP, "Elsewhere"))
    assert [each.id for each in store.trials(shop="Elsewhere")] == [there]
    assert [each.id for each in store.trials()] == [there, here]


def test_to_list_no_trials_is_refused(store: Store) -> None:
    with pytest.raises(InputError, match="0 trials cannot be listed"):
        store.trials(limit=0)


def test_the_latest_trial_tells_what_is_known(store: Store) -> None:
    for mean in (0.01, 0.02, 0.03):
        number = store.add_trial(a_trial(mean))
    known = store.learned(SHOP).values
    assert [(each.mean, each.datum, each.trial, each.at) for each in known] == [
        (0.03, 12.7, number, NEW_YEAR)
    ]


def test_each_unknown_has_its_own_latest_trial(store: Store) -> None:
    store.add_trial(a_trial(0.01, -0.05))
    store.add_trial(a_trial(0.02))
    memory = store.learned(SHOP)
    assert means(memory) == {"cutter": 0.02, "height zero": -0.05}
    assert memory.covariance == ((0.0004, 0.0), (0.0, 0.0004))


def test_what_one_trial_taught_together_hangs_together(store: Store) -> None:
    store.add_trial(a_trial(0.01, -0.05))
    assert store.learned(SHOP).covariance == ((0.0004, -0.0001), (-0.0001, 0.0004))


def test_another_shop_knows_nothing_of_it(store: Store) -> None:
    store.add_trial(a_trial(0.01))
    assert store.learned("Elsewhere") == Memory()


def test_a_forgotten_trial_teaches_nothing_but_stays_on_record(store: Store) -> None:
    first, second = store.add_trial(a_trial(0.01)), store.add_trial(a_trial(0.09))
    store.forget(second, at=NEW_YEAR)
    assert means(store.learned(SHOP)) == {"cutter": 0.01}
    assert [each.id for each in store.trials()] == [first]
    assert [each.id for each in store.trials(forgotten=True)] == [second, first]
    assert store.trial(second).forgotten == NEW_YEAR


def test_to_forget_twice_keeps_the_first_moment(store: Store) -> None:
    number = store.add_trial(a_trial(0.01))
    store.forget(number, at=NEW_YEAR)
    store.forget(number)
    assert store.trial(number).forgotten == NEW_YEAR


def test_forgetting_retells_what_later_trials_teach(store: Store) -> None:
    first, second = store.add_trial(a_trial(0.5)), store.add_trial(a_trial(0.3))
    store.forget(first, learned_anew={second: a_trial(0.1).learning})
    assert means(store.learned(SHOP)) == {"cutter": 0.1}
    assert store.trial(second).record == a_trial(0.1)


def test_forgetting_is_undone_if_a_later_trial_is_not_there(store: Store) -> None:
    number = store.add_trial(a_trial(0.5))
    with pytest.raises(InputError, match=r"trial: there is no trial 99\. Give the number of one"):
        store.forget(number, learned_anew={99: a_trial(0.1).learning})
    assert store.trial(number).forgotten is None


def test_a_corrected_trial_keeps_its_number_and_place(store: Store) -> None:
    first, second = store.add_trial(a_trial(0.5, 0.2)), store.add_trial(a_trial(0.3))
    store.correct(first, a_trial(0.1, 0.1, joint="J9"))
    assert store.trial(first).record == a_trial(0.1, 0.1, joint="J9")
    assert means(store.learned(SHOP)) == {"cutter": 0.3, "height zero": 0.1}
    assert [each.id for each in store.trials()] == [second, first]


def test_a_trial_that_is_not_there_cannot_be_shown_corrected_or_forgotten(store: Store) -> None:
    for ask in (store.trial, store.forget, lambda number: store.correct(number, a_trial(0.1))):
        with pytest.raises(InputError, match="there is no trial 7"):
            ask(7)


def test_sharpening_does_away_with_what_was_known_of_the_cutter_alone(store: Store) -> None:
    store.add_trial(a_trial(0.01, 0.05, day=0))
    store.sharpened(a_sharpening(day=1))
    assert means(store.learned(SHOP)) == {"height zero": 0.05}


def test_sharpening_leaves_a_gauge_of_the_same_mark_and_another_shops_cutter_alone(
    store: Store,
) -> None:
    store.add_trial(a_trial(0.01, 0.05, cutter="dial"))
    store.add_trial(a_trial(0.02, shop="Elsewhere"))
    store.sharpened(replace(a_sharpening(day=1), cutter="dial"))
    store.sharpened(a_sharpening(day=1))
    assert means(store.learned(SHOP)) == {"height zero": 0.05}
    assert means(store.learned("Elsewhere")) == {"cutter": 0.02}


def test_a_cutter_measured_after_sharpening_is_off_by_what_was_measured(store: Store) -> None:
    store.add_trial(a_trial(0.01, 0.05, day=0))
    store.sharpened(a_sharpening(day=1, size=12.5))
    memory = store.learned(SHOP)
    (_, cutter) = memory.values
    assert (cutter.kind, cutter.owner, cutter.trial, cutter.sd) == ("cutter", "SC12", None, 0.01)
    assert cutter.mean == pytest.approx(-0.2)
    assert memory.covariance == ((0.0004, 0.0), (0.0, 0.01 * 0.01))


def test_a_trial_after_sharpening_tells_the_cutter_again(store: Store) -> None:
    store.sharpened(a_sharpening(day=1, size=12.5))
    store.add_trial(a_trial(-0.21, day=2))
    store.add_trial(a_trial(0.4, day=0))  # cut before, but written down late
    assert means(store.learned(SHOP)) == {"cutter": -0.21}


def test_only_the_latest_sharpening_counts(store: Store) -> None:
    store.sharpened(a_sharpening(day=3))
    store.sharpened(a_sharpening(day=1, size=12.5))
    assert store.learned(SHOP) == Memory(cut=(("SC12", 0.0),))
    assert [each.record for each in store.sharpenings(SHOP)] == [
        a_sharpening(day=3),
        a_sharpening(day=1, size=12.5),
    ]


def test_metres_are_those_of_the_last_trial_that_tells(store: Store) -> None:
    for day, metres in ((0, 10.0), (1, 30.0), (2, 0.0)):
        store.add_trial(replace(a_trial(0.01, day=day), cutter="SC12", metres=metres))
    last = store.add_trial(replace(a_trial(0.01, day=3), cutter="SC12", metres=70.0))
    assert store.learned(SHOP).cut == (("SC12", 70.0),)
    store.forget(last)
    assert store.learned(SHOP).cut == (("SC12", 30.0),)
    store.sharpened(a_sharpening(day=5))
    assert store.learned(SHOP).cut == (("SC12", 0.0),)


def test_feels_are_asked_for_by_timber(store: Store) -> None:
    for timber in ("ash", "oak", "ash"):
        store.add_feel(a_feel(timber=timber))
    assert [each.record.timber for each in store.feels(SHOP, "ash")] == ["ash", "ash"]
    assert len(store.feels(SHOP)) == 3
    assert store.feels("Elsewhere", "ash") == ()


def test_a_forgotten_trial_takes_its_feels_with_it(store: Store) -> None:
    number = store.add_trial(a_trial(0.1))
    store.add_feel(a_feel(trial=number))
    kept = store.add_feel(a_feel())
    store.forget(number)
    assert [each.id for each in store.feels(SHOP, "ash")] == [kept]


def test_a_feel_of_another_shops_trial_is_refused(store: Store) -> None:
    number = store.add_trial(a_trial(0.1, shop="Elsewhere"))
    with pytest.raises(InputError, match=f"feel: trial: 'Mill Lane' has no trial {number}"):
        store.add_feel(a_feel(trial=number))


def test_a_store_that_was_closed_still_knows(place: str) -> None:
    with open_store(place) as store:
        store.add_trial(a_trial(0.01, -0.05))
        store.sharpened(a_sharpening(day=-1, size=12.5))
        known = store.learned(SHOP)
    with open_store(place) as store:
        assert store.learned(SHOP) == known
    assert recall(SHOP, place) == known


def test_two_stores_can_be_open_at_once(place: str, tmp_path: Path) -> None:
    with open_store(place) as one, open_store(tmp_path / "other.sqlite3") as other:
        one.add_trial(a_trial(0.01))
        assert other.contents() == Contents()


@SAME_STORE
@given(contents=stores())
def test_an_empty_store_takes_in_another_whole_numbers_and_all(
    tmp_path_factory: pytest.TempPathFactory, contents: Contents
) -> None:
    with open_store(tmp_path_factory.mktemp("store") / "trials.sqlite3") as store:
        store.add_contents(contents)
        assert store.contents() == contents


def test_numbers_go_on_after_those_taken_in(store: Store, tmp_path: Path) -> None:
    with open_store(tmp_path / "other.sqlite3") as other:
        for day in range(4):
            other.add_trial(a_trial(0.1, day=day))
        other.add_feel(a_feel(trial=4))
        store.add_contents(other.contents())
    assert store.add_trial(a_trial(0.2)) == 5
    assert store.add_feel(a_feel(word="rattles")) == 2


def test_taking_in_what_is_there_already_changes_nothing(store: Store) -> None:
    number = store.add_trial(a_trial(0.1))
    store.add_feel(a_feel(trial=number))
    store.sharpened(a_sharpening(day=1))
    before = store.contents()
    imported = store.add_contents(before)
    assert (imported.added, imported.known) == (0, 3)
    assert store.contents() == before


def test_a_store_with_trials_takes_in_others_under_new_numbers(
    store: Store, tmp_path: Path
) -> None:
    store.add_trial(a_trial(0.1, joint="here"))
    with open_store(tmp_path / "other.sqlite3") as other:
        number = other.add_trial(a_trial(0.2, joint="there"))
        other.add_feel(a_feel(trial=number))
        store.add_contents(other.contents())
    (there, here) = store.trials()
    assert (here.record.joint, there.record.joint) == ("here", "there")
    assert store.feels(SHOP)[0].record.trial == there.id != number


def test_moments_are_kept_to_the_microsecond_in_any_zone(store: Store) -> None:
    moment = datetime.fromisoformat("2026-07-01T23:59:59.999999-11:30")
    number = store.add_trial(a_trial(0.1))
    store.forget(number, at=moment)
    assert store.trial(number).forgotten == moment
    assert moment - NEW_YEAR > timedelta(days=181)
