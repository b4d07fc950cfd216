"""Passphrases are drawn fairly from words that can be told apart."""

from __future__ import annotations

import re

import pytest

from faywright.web.entry.passphrase import WORDS, made_passphrase, tidied, words


def test_there_are_as_many_words_as_the_count_of_bits_says() -> None:
    assert len(words()) == len(set(words())) == 2**8


def test_words_are_plain_and_short() -> None:
    assert [word for word in words() if not re.fullmatch("[a-z]{4,8}", word)] == []


def test_no_two_words_begin_alike() -> None:
    assert len({word[:4] for word in words()}) == len(words())


def test_a_passphrase_has_five_words_of_the_list() -> None:
    made = made_passphrase().split()
    assert len(made) == WORDS == 5
    assert set(made) <= set(words())


def test_every_word_can_be_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("secrets.choice", lambda seen: seen[-1])
    assert made_passphrase() == " ".join([words()[-1]] * WORDS)


@pytest.mark.parametrize(
    "typed", ["Tenon walnut kerf", "  tenon  WALNUT kerf ", "tenon\u00a0walnut\tkerf"]
)
def test_capitals_and_spaces_of_phones_make_no_difference(typed: str) -> None:
    assert tidied(typed) == "tenon walnut kerf"
