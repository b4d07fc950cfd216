"""What was made is kept: the latest as it is, older things folded up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import pytest

from faywright.app.kept import Kept, fingerprint


def test_a_value_is_made_once() -> None:
    kept, made = Kept[str](2), []

    def make() -> str:
        made.append("back")
        return "back"

    for _ in range(3):
        kept.get("back", make)
    assert made == ["back"]


def test_the_one_not_used_for_longest_is_forgotten() -> None:
    kept = Kept[str](2)
    for name in ("back", "seat"):
        kept.put(name, name)
    kept.peek("back")
    kept.put("door", "door")
    assert [kept.peek(name) for name in ("back", "seat", "door")] == ["back", None, "door"]


def test_what_is_folded_up_comes_back_equal() -> None:
    kept = Kept[object](1, folded=2)
    value = {"sizes": MappingProxyType({"groove": 6.3}), "boards": ("B01", "B02")}
    kept.put("back", value)
    kept.put("seat", "seat")
    assert kept.peek("back") == value
    assert kept.peek("back") is not value


def test_only_so_many_are_folded_up() -> None:
    kept = Kept[str](1, folded=2)
    for name in "ABCDE":
        kept.put(name, name)
    assert [kept.peek(name) for name in "AB"] == [None, None]
    assert [kept.peek(name) for name in "CDE"] == ["C", "D", "E"]


def test_what_could_not_be_made_is_tried_again() -> None:
    kept = Kept[str](2)

    def fail() -> str:
        raise ValueError("no wood")

    with pytest.raises(ValueError, match="no wood"):
        kept.get("back", fail)
    assert kept.get("back", lambda: "made") == "made"


@dataclass(frozen=True)
class Square:
    side: float

    @cached_property
    def area(self) -> float:
        return self.side**2


def test_what_a_value_has_worked_out_does_not_count() -> None:
    fresh, used = Square(2.0), Square(2.0)
    assert used.area == 4.0
    assert fingerprint(fresh) == fingerprint(used) != fingerprint(Square(3.0))


def test_equal_values_have_one_fingerprint_and_others_another() -> None:
    assert fingerprint("a", MappingProxyType({"b": 1})) == fingerprint(
        "a", MappingProxyType({"b": 1})
    )
    assert fingerprint("a", 1) != fingerprint("a", 2)
