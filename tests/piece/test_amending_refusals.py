"""What cannot be changed is refused, with the place and what would be accepted."""

import re
import tomllib
from collections.abc import Callable
from datetime import datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.errors import InputError
from faywright.piece.amending import amended, with_table, without_table
from faywright.piece.toml_lines import FieldPath
from faywright.piece.toml_tables import TomlText
from tests.piece.test_amending import PIECE, SLOW, told
from tests.piece.toml_layouts import layouts

CHANGES: list[Callable[[str], str]] = [
    lambda text: amended(text, ("title",), "Gate"),
    lambda text: with_table(text, "board", {}),
    lambda text: without_table(text, ("a",)),
]


@pytest.mark.parametrize(
    "text",
    [
        "title = ",
        "title = 1\ntitle = 2",
        "[a]\n[a]",
        "[a] b = 1",
        "[[a]\nb = 1",
        '["a]\nb = 1',
        "a = [1\n",
        "a = }",
        "a = 1 # \x00",
        "[a] # \x00",
        "a = 1\n[a]",
        "a = []\n[[a]]",
        "[a.b]\n[[a]]",
        "[a]\nb.c = 1\n[a.b]",
        "[a.b]\n[a]\nb.c = 1",
        "= 1",
        '"a',
        "\ufeff\ufeffa = 1",
        "a = " + "9" * 5000,
        "a = " + "[" * 3000 + "]" * 3000,
    ],
)
def test_a_text_that_is_not_toml_is_refused(text: str) -> None:
    for change in CHANGES:
        with pytest.raises(InputError, match=r"document: it is not TOML \(.*\)\. Give a text that"):
            change(text)


@SLOW
@given(layouts(), st.data())
def test_a_spoilt_text_is_refused_just_where_tomllib_refuses_it(
    text: str, data: st.DataObject
) -> None:
    place = data.draw(st.integers(0, len(text)))
    spoilt = (
        text[:place] + data.draw(st.sampled_from("\"'[]{}=.,#\\ \n\r\t1a\0")) + text[place + 1 :]
    )
    try:
        wanted = tomllib.loads(spoilt)
    except tomllib.TOMLDecodeError:
        with pytest.raises(InputError, match="it is not TOML"):
            TomlText(spoilt)
    else:
        assert told(TomlText(spoilt).data) == told(wanted)


@pytest.mark.parametrize(
    ("path", "value", "message"),
    [
        ((), 1, "document: no field is named. Give the path of a field that is there"),
        (("units",), None, "units: there is no such field to remove"),
        (("joint", 7, "name"), None, "joint 8: name: there is no such field to remove"),
        (("joint", 7, "name"), "x", "joint is a list, and has no such place"),
        (("joint", -1, "name"), "x", "joint is a list, and has no such place"),
        (("joint", "name"), "x", "joint is a list, and has no such place"),
        (("title", "x"), 1, "title is text, and has no such place"),
        (("joint", 0, 3), 1, "joint 1 is a table, and has no such place"),
        (("new", 0), 1, "new is not there"),
        (("joint", 2), 1, "an entry of a list of tables can only be a table"),
        (("joint", 1), 1, "joint 2: an entry of a list of tables can only be a table"),
        (("title",), "\ud800", "value: half a character cannot be written"),
        (("title",), 2**63, "value: 9223372036854775808 has no form in TOML. Give text, a number"),
        (("title",), [None], "value: None has no form in TOML"),
        (("title",), {1: 2}, "value: 1 is no key"),
        (("title",), datetime.fromisoformat("2026-01-01T00:00:00+00:00:07"), "no form in TOML"),
    ],
)
def test_what_cannot_be_done_is_told(path: FieldPath, value: Any, message: str) -> None:
    with pytest.raises(InputError, match=re.escape(message)):
        amended(PIECE, path, value)


def test_a_value_that_goes_too_deep_is_refused() -> None:
    deep: Any = 1
    for _ in range(2000):
        deep = [deep]
    with pytest.raises(InputError, match="too deep inside each other"):
        amended(PIECE, ("title",), deep)


@pytest.mark.parametrize("path", [("title",), ("joint", 2), ("nothing",), ("joint",)])
def test_only_a_table_can_be_taken_out_as_one(path: FieldPath) -> None:
    with pytest.raises(InputError, match="there is no such table to remove"):
        without_table(PIECE, path)


@pytest.mark.parametrize("key", ["title", "climate", ("joint", 0), ()])
def test_a_table_is_added_only_to_a_list_of_tables(key: str | FieldPath) -> None:
    with pytest.raises(InputError, match=r"it is not a list of tables|no field is named"):
        with_table(PIECE, key, {})
