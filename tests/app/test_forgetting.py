"""Leaving a trial out: all that came after it is as if it had never been."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from faywright.app.bench import informed_plan
from faywright.app.forgetting import forget
from faywright.app.opening import open_store
from faywright.app.records import Learning, SharpenedRecord
from faywright.app.trial_cut import (
    tried,
)
from faywright.app.trial_records import (
    record_of,
)
from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.words import writer
from tests.app.hidden import C1, FENCE, HEIGHT, NOW, Hidden, chest, shop

WRITE = writer(LengthStyle("mm"))
USUAL = Hidden({HEIGHT: 0.04, FENCE: -0.03, C1: 0.02})
WRONG_BOARD = Hidden({HEIGHT: -0.06, C1: -0.03})


def try_once(store: Path, hidden: Hidden, *, day: int, metres: float | None = None) -> int:
    at = NOW + timedelta(days=day)
    informed = informed_plan(chest(), shop(), store, today=at.date())
    known = informed.known if metres is None else informed.having_cut("C1", metres)
    outcome = tried(informed.plan, known, hidden.measured(informed.plan, known), WRITE)
    record = record_of(outcome, known, informed.plan, at, metres=metres or 0.0)
    with open_store(store) as opened:
        return opened.add_trial(record)


def sharpen(store: Path, *, day: int, size: float | None = None) -> None:
    record = SharpenedRecord(
        shop=shop().title,
        cutter="C1",
        at=NOW + timedelta(days=day, hours=1),
        size=size,
        sd=None if size is None else 0.02,
        listed=None if size is None else 6.29,
    )
    with open_store(store) as opened:
        opened.sharpened(record)


def truths(store: Path) -> dict[tuple[str, str], tuple[float, float]]:
    """What is known now of each unknown: what it is in all, and how well."""
    with open_store(store) as opened:
        values = opened.learned(shop().title).values
    return {(v.kind, v.owner): (v.mean + v.datum, v.sd) for v in values}


def close(one: Path, other: Path) -> None:
    left, right = truths(one), truths(other)
    assert left.keys() == right.keys()
    for unknown, found in left.items():
        assert found == pytest.approx(right[unknown], abs=2e-4), unknown


@pytest.mark.parametrize("sharpened", [None, "unmeasured", "measured"])
@pytest.mark.parametrize("metres", [False, True])
def test_what_came_after_is_as_if_it_had_never_been(
    tmp_path: Path, sharpened: str | None, metres: bool
) -> None:
    with_it, without = tmp_path / "with.sqlite3", tmp_path / "without.sqlite3"
    for store in (with_it, without):
        try_once(store, USUAL, day=0, metres=50.0 if metres else None)
        if store is with_it:
            number = try_once(store, WRONG_BOARD, day=2, metres=60.0 if metres else None)
        if sharpened:
            sharpen(store, day=3, size=6.25 if sharpened == "measured" else None)
        told = None if not metres else 20.0 if sharpened else 300.0
        try_once(store, USUAL, day=5, metres=told)
    forget(number, shop(), with_it)
    close(with_it, without)


def test_to_forget_the_first_takes_its_figures_with_it(tmp_path: Path) -> None:
    with_it, without = tmp_path / "with.sqlite3", tmp_path / "without.sqlite3"
    number = try_once(with_it, WRONG_BOARD, day=0)
    for store in (with_it, without):
        try_once(store, USUAL, day=1)
        try_once(store, USUAL, day=2)
    forget(number, shop(), with_it)
    close(with_it, without)


def test_to_forget_the_last_leaves_what_was_known_before_it(tmp_path: Path) -> None:
    store = tmp_path / "trials.sqlite3"
    try_once(store, USUAL, day=0)
    before = truths(store)
    number = try_once(store, WRONG_BOARD, day=1)
    forget(number, shop(), store)
    assert truths(store) == before


def test_trials_of_a_cutter_that_was_sold_are_worked_out_too(tmp_path: Path) -> None:
    store = tmp_path / "trials.sqlite3"
    number = try_once(store, WRONG_BOARD, day=0)
    try_once(store, USUAL, day=1)
    sold = replace(shop(), cutters=tuple(c for c in shop().cutters if c.mark != "C1"))
    forget(number, sold, store)
    assert truths(store)["height zero", "depth gauge"][1] > 0


def test_trials_taken_in_of_an_earlier_day_can_be_forgotten_too(tmp_path: Path) -> None:
    store = tmp_path / "trials.sqlite3"
    number = try_once(store, USUAL, day=5)
    still = try_once(store, USUAL, day=6)
    with open_store(store) as opened:
        record = opened.trial(still).record
        later = opened.add_trial(replace(record, at=NOW, learning=record.learning))
    forget(number, shop(), store)
    with open_store(store) as opened:
        assert opened.trial(later).record.learning != Learning()


def test_a_trial_that_is_not_there_cannot_be_forgotten(tmp_path: Path) -> None:
    store = tmp_path / "trials.sqlite3"
    with pytest.raises(InputError, match="no trial 3: nothing is remembered yet"):
        forget(3, shop(), store)
    assert not store.exists()
    number = try_once(store, USUAL, day=0)
    with pytest.raises(InputError, match="there is no trial 99"):
        forget(99, shop(), store)
    with pytest.raises(InputError, match="is of the shop 'Lean-to shop'"):
        forget(number, replace(shop(), title="Another"), store)
