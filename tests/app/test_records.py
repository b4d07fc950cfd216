"""What is not worth storing is refused when it is made."""

from collections.abc import Callable
from dataclasses import fields as dataclass_fields
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import pytest

from faywright.app import (
    KeptTrial,
    Learned,
    Learning,
    MeasurementRecord,
    Share,
    SharpenedRecord,
    TrialRecord,
)
from faywright.errors import InputError
from tests.app.strategies import NEW_YEAR, a_feel, a_sharpening, a_trial

TRIAL = a_trial(0.1, 0.2)
READ = TRIAL.measurements[0]
SHARE = Share(kind="lift", owner="RT1", factor=1.0)
VALUE = Learned(kind="lift", owner="RT1", mean=0.1, sd=0.2)


def changed(**wrong: object) -> object:
    """A trial with fields of the wrong kind, as JSON might bring them."""
    fields = {field.name: getattr(TRIAL, field.name) for field in dataclass_fields(TRIAL)}
    return TrialRecord(**{**fields, **wrong})


def learning(*rows: tuple[float, ...]) -> Learning:
    return Learning(values=(VALUE, replace(VALUE, kind="cutter")), covariance=rows)


REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: replace(TRIAL, shop="  "), r"trial: shop: it is empty\. Give at least one letter"),
    (lambda: changed(piece=3), "trial: piece: 3 is not text"),
    (lambda: replace(TRIAL, joint="J" * 201), "joint: it has 201 characters. Keep it to 200"),
    (lambda: replace(TRIAL, note="n" * 10_001), "note: it has 10001 characters"),
    (lambda: replace(TRIAL, note="a\0"), r"note: character 2, '\\x00', cannot be stored"),
    (lambda: replace(TRIAL, side="\ud800"), r"side: character 1, '\\ud800', cannot be stored"),
    (lambda: replace(TRIAL, metres=-1), "metres: -1 is out of range. Give a number from 0"),
    (lambda: replace(TRIAL, metres=float("nan")), "metres: nan is out of range"),
    (lambda: changed(metres="3"), "metres: '3' is not a number"),
    (lambda: replace(TRIAL, metres=True), "metres: True is not a number"),
    (lambda: replace(TRIAL, at=datetime(2026, 1, 1)), "at: 2026-01-01 .* with its zone"),
    (lambda: changed(at="today"), "at: today is not a date"),
    (
        lambda: replace(TRIAL, at=datetime.min.replace(tzinfo=timezone(timedelta(hours=1)))),
        "at: .* cannot be told in UTC",
    ),
    (lambda: changed(measurements=[READ]), "measurements: it is not a tuple"),
    (lambda: replace(READ, readings=()), "'tongue': readings: 0 are given. Give 1 to 1000"),
    (lambda: replace(READ, readings=(1.0, float("inf"))), "readings: inf is out of range"),
    (lambda: replace(READ, row=(SHARE, SHARE)), r"row: \('lift', 'RT1'\) is there twice"),
    (lambda: replace(READ, shared=(("x", 0.1), ("x", 0.2))), "shared: x is there twice"),
    (lambda: replace(READ, shared=(("x", 2e4),)), "shared x: 20000 is out of range"),
    (lambda: replace(READ, uncertainty=-0.1), "uncertainty: -0.1 is out of range"),
    (lambda: replace(SHARE, factor=1e9), r"share: factor: 1e\+09 is out of range"),
    (lambda: replace(VALUE, sd=-1), "learned lift: sd: -1 is out of range"),
    (lambda: replace(VALUE, datum=1e9), "learned lift: datum"),
    (lambda: Learning(values=(VALUE, VALUE)), r"\('lift', 'RT1'\) is there twice"),
    (lambda: learning((0.04, 0.0)), "the covariance of 2 values has other rows or columns"),
    (lambda: learning((0.04, 0.0), (0.0,)), "the covariance of 2 values has other rows"),
    (lambda: learning((0.04, 0.0), (0.0, 0.2)), r"covariance\[2\]\[2\]: 0.2 does not fit"),
    (lambda: learning((0.04, 0.05), (0.05, 0.04)), r"covariance\[1\]\[2\]: 0.05 does not fit"),
    (lambda: learning((0.04, 0.01), (0.02, 0.04)), r"covariance\[1\]\[2\]: 0.01 does not fit"),
    (lambda: replace(a_feel(trial=1), trial=0), "feel: trial: 0 is out of range"),
    (lambda: replace(a_feel(), joint=""), "feel: joint: it is empty"),
    (lambda: replace(a_feel(), sd=-1), "feel: sd: -1 is out of range"),
    (lambda: replace(a_sharpening(day=0, size=12.0), sd=None), "only size and listed"),
    (lambda: replace(a_sharpening(day=0, size=12.0), size=-1), "sharpened: size: -1 is out"),
    (lambda: KeptTrial(4, TRIAL, datetime(2026, 1, 1)), "trial 4: forgotten: 2026-01-01"),
]


@pytest.mark.parametrize(("make", "message"), REFUSED)
def test_what_cannot_be_stored_is_refused(make: Callable[[], object], message: str) -> None:
    with pytest.raises(InputError, match=message):
        make()


def test_moments_become_utc() -> None:
    summer = datetime(2026, 7, 1, 14, 30, tzinfo=timezone(timedelta(hours=2)))
    assert replace(TRIAL, at=summer).at.isoformat() == "2026-07-01T12:30:00+00:00"


def test_a_feel_of_a_trial_needs_no_joint() -> None:
    assert replace(a_feel(trial=3), joint="").trial == 3


def test_a_cutter_may_come_back_unmeasured() -> None:
    record = SharpenedRecord(shop="Mill Lane", cutter="SC12", at=NEW_YEAR)
    assert (record.size, record.sd, record.listed) == (None, None, None)


def test_records_that_say_the_same_are_equal() -> None:
    assert MeasurementRecord(
        what="depth", readings=(1.0,), read=1, expected=1, uncertainty=0.1
    ) in {MeasurementRecord(what="depth", readings=(1.0,), read=1.0, expected=1, uncertainty=0.1)}
    assert NEW_YEAR.tzinfo is UTC
