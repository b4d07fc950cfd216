"""Nobody guesses for long, and nobody is shut out for long."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.web.entry.attempts import (
    FORGOTTEN,
    FREE,
    FREE_OF_ALL,
    LONGEST,
    LONGEST_OF_ALL,
    REMEMBERED,
    Attempts,
    TooManyTries,
    source_of,
)

PHONE, OTHER, HERE = "192.168.1.20", "192.168.1.21", "127.0.0.1"


class Clock:
    """One that goes when it is told to."""

    now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def attempts(clock: Clock) -> Attempts:
    return Attempts(clock)


def wait(attempts: Attempts, address: str) -> int:
    """Seconds that a try has to wait; 0 if it was let through, and was wrong."""
    try:
        attempts.begin(address)
    except TooManyTries as error:
        return error.seconds
    return 0


def spend(attempts: Attempts, address: str, number: int) -> None:
    for _ in range(number):
        assert wait(attempts, address) == 0


def test_a_few_tries_are_free(attempts: Attempts) -> None:
    spend(attempts, PHONE, FREE)
    assert wait(attempts, PHONE) == 1


def test_each_wrong_try_doubles_the_wait_up_to_two_minutes(
    attempts: Attempts, clock: Clock
) -> None:
    spend(attempts, PHONE, FREE)
    waits = []
    for _ in range(9):
        waits.append(wait(attempts, PHONE))
        clock.now += waits[-1]
        assert wait(attempts, PHONE) == 0
    assert waits == [1, 2, 4, 8, 16, 32, 64, 120, 120]


def test_tries_that_come_too_early_make_the_wait_no_longer(
    attempts: Attempts, clock: Clock
) -> None:
    spend(attempts, PHONE, FREE)
    clock.now += 0.5
    assert [wait(attempts, PHONE) for _ in range(50)] == [1] * 50
    clock.now += 0.5
    assert wait(attempts, PHONE) == 0


def test_what_one_address_spends_costs_another_nothing(attempts: Attempts) -> None:
    spend(attempts, PHONE, FREE)
    assert wait(attempts, PHONE) == 1
    assert wait(attempts, OTHER) == 0


def test_a_right_try_does_not_count(attempts: Attempts) -> None:
    for _ in range(100):
        attempts.right(attempts.begin(PHONE))
    assert len(attempts) == 0
    spend(attempts, PHONE, FREE)


def test_a_right_try_takes_back_no_wrong_ones(attempts: Attempts, clock: Clock) -> None:
    spend(attempts, PHONE, FREE)
    clock.now += 1
    attempts.right(attempts.begin(PHONE))
    assert wait(attempts, PHONE) == 0  # as long as before it
    assert wait(attempts, PHONE) == 2


def test_as_many_right_tries_may_come_at_once_as_are_free(attempts: Attempts) -> None:
    made = [attempts.begin(PHONE) for _ in range(FREE)]
    for one in made:
        attempts.right(one)
    assert wait(attempts, PHONE) == 0


def test_wrong_tries_are_forgotten(attempts: Attempts, clock: Clock) -> None:
    spend(attempts, PHONE, FREE)
    clock.now += FORGOTTEN + 1
    spend(attempts, PHONE, FREE)


def addresses(number: int) -> list[str]:
    return [f"10.0.{index // 250}.{index % 250 + 1}" for index in range(number)]


def test_many_addresses_together_wait_half_a_minute_at_most(
    attempts: Attempts, clock: Clock
) -> None:
    many = addresses(FREE_OF_ALL + 20)
    for address in many[:FREE_OF_ALL]:
        assert wait(attempts, address) == 0
    waits = []
    for address in many[FREE_OF_ALL:]:
        waits.append(wait(attempts, address))
        clock.now += waits[-1]
        assert wait(attempts, address) == 0
    assert waits[:6] == [1, 2, 4, 8, 16, 30]
    assert max(waits) == LONGEST_OF_ALL


def test_others_cannot_shut_out_this_computer_or_who_has_got_in(attempts: Attempts) -> None:
    attempts.right(attempts.begin(PHONE))
    for address in addresses(FREE_OF_ALL):
        assert wait(attempts, address) == 0
    assert wait(attempts, OTHER) > 0
    assert wait(attempts, PHONE) == 0
    assert wait(attempts, HERE) == 0


def test_this_computer_answers_for_its_own_tries(attempts: Attempts) -> None:
    spend(attempts, HERE, FREE)
    assert wait(attempts, HERE) == 1


def test_only_so_many_addresses_are_remembered(attempts: Attempts, clock: Clock) -> None:
    for address in addresses(REMEMBERED + 100):
        clock.now += LONGEST_OF_ALL
        assert wait(attempts, address) == 0
    assert len(attempts) == REMEMBERED


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("2001:db8::1", "2001:db8::ffff:1"),
        ("::ffff:192.0.2.1", "192.0.2.1"),
        ("fe80::1%eth0", "fe80::2%wlan0"),
        ("", "no address at all"),
    ],
)
def test_what_one_device_may_call_itself_is_one_address(one: str, other: str) -> None:
    assert source_of(one) == source_of(other)


def test_the_wait_is_told_in_a_sentence(attempts: Attempts) -> None:
    spend(attempts, PHONE, FREE)
    with pytest.raises(TooManyTries, match=r"too many wrong tries\. Try again in 1 second\.$"):
        attempts.begin(PHONE)


@given(st.lists(st.tuples(st.sampled_from([PHONE, OTHER, HERE]), st.floats(0, 200)), max_size=80))
def test_no_wait_is_longer_than_the_longest(steps: list[tuple[str, float]]) -> None:
    clock = Clock()
    attempts = Attempts(clock)
    for address, pause in steps:
        clock.now += pause
        asked = wait(attempts, address)
        assert asked <= LONGEST
        if asked:
            clock.now += asked
            assert wait(attempts, address) == 0
