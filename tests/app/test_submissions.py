"""Forms that arrive twice change things once."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest

from faywright.app import submissions as module
from faywright.app.bench_models import Submission
from faywright.app.opening import open_store
from faywright.app.submissions import Answer, Submissions
from faywright.errors import InputError

KEY = "0123456789abcdef"


@pytest.fixture(name="kept")
def _kept(tmp_path: Path) -> Iterator[Submissions]:
    with open_store(tmp_path / "shop.sqlite3") as store:
        yield Submissions(store._alias, "the store")


class Counter:
    """Gives a new answer each time."""

    def __init__(self) -> None:
        self._numbers = count(1)

    def __call__(self) -> Answer:
        return {"trial": next(self._numbers)}


def test_the_second_time_it_is_answered_as_the_first(kept: Submissions) -> None:
    make = Counter()
    assert kept.once(KEY, make) == kept.once(KEY, make) == {"trial": 1}
    assert kept.answer(KEY) == {"trial": 1}
    assert kept.answer("f" * 16) is None


def test_without_a_key_it_is_done_each_time(kept: Submissions) -> None:
    make = Counter()
    assert [kept.once("", make), kept.once("", make)] == [{"trial": 1}, {"trial": 2}]


def test_what_fails_is_not_answered_and_can_be_sent_again(kept: Submissions) -> None:
    def fail() -> Answer:
        raise InputError("no", where="here", remedy="Do something else")

    with pytest.raises(InputError, match="no"):
        kept.once(KEY, fail)
    assert kept.once(KEY, Counter()) == {"trial": 1}


def test_only_the_latest_are_remembered(kept: Submissions, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "KEPT", 3)
    for number in range(5):
        kept.once(f"{KEY}{number}", Counter())
    rows = Submission.objects.using(kept.alias).order_by("id")
    assert [row.key for row in rows] == [f"{KEY}{number}" for number in (2, 3, 4)]


@pytest.mark.parametrize("key", ["short", "a" * 81, "with space", "semi;colon", "ключключ"])
def test_what_is_no_key_is_refused(kept: Submissions, key: str) -> None:
    with pytest.raises(InputError, match="no key of a form"):
        kept.once(key, Counter())
