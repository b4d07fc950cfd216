"""One field of a text is changed, and no other line."""

import copy
import re
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faywright.errors import InputError
from faywright.piece.amending import Value, amended, named, with_table, without_table
from faywright.piece.toml_lines import FieldPath
from faywright.piece.toml_tables import TomlText
from tests.piece.test_toml_lines import Written, documents
from tests.piece.toml_layouts import layouts, paths, scalars, tables, values
from tests.strategies import STEADY

ROOT = Path(__file__).parents[2]
SLOW = settings(STEADY, suppress_health_check=[HealthCheck.too_slow])
THOROUGH = settings(SLOW, max_examples=3000, derandomize=False)

PIECE = """\
# A door.
title = "Door"  # of oak

[climate]
cutting = { temperature = 18, humidity = 45 } # [%]
[[climate.season]]
name = "winter"

# The back.
[[joint]]
name = "back"
thickness = [
    [19.02, 18.95], # head end
    [19.00, 18.96],
]
groove.part = "board"
[joint.fit]
play = "0.2 mm"

# ---- The lid ----

[[joint]]
name = "lid"
note = '''
[joint]
'''
# of the lid"""


def at(data: Any, path: FieldPath) -> Any:
    for step in path:
        data = data[step]
    return data


def put(data: Any, path: FieldPath, value: object | None) -> Any:
    """The same values with one field changed."""
    changed = copy.deepcopy(data)
    node, last = at(changed, path[:-1]), path[-1]
    if value is None:
        del node[last]
    elif isinstance(node, list) and last == len(node):
        node.append(value)
    else:
        node[last] = value
    return changed


def told(value: Any) -> str:
    """Values with their types, in an order of their own: 1, 1.0 and true differ."""
    if isinstance(value, dict):
        return f"{{{sorted((key, told(each)) for key, each in value.items())}}}"
    return str([told(each) for each in value]) if isinstance(value, list) else repr(value)


def new_paths(data: Any) -> list[FieldPath]:
    """Places where a field could be added."""
    places: list[FieldPath] = []
    for path in [(), *paths(data)]:
        here = at(data, path)
        if isinstance(here, dict):
            places += [(*path, "new"), (*path, "new", "inner")]
        elif isinstance(here, list):
            places.append((*path, len(here)))
    return places


def in_headed_list(text: str, path: FieldPath) -> bool:
    return isinstance(path[-1], int) and TomlText(text).holding(path[:-1]) is None


def changed_alone(text: str, path: FieldPath, value: Any) -> str:
    """The amended text, whose other values are what they were."""
    data = tomllib.loads(text)
    new = amended(text, path, value)
    while path[:-1] and path[:-1] not in paths(data):  # tables on the way are made
        path, value = path[:-1], {str(path[-1]): value}
    wanted = put(data, path, value)
    if value is None and in_headed_list(text, path) and not at(wanted, path[:-1]):
        wanted = put(wanted, path[:-1], None)  # the list is gone with its last table
    assert told(tomllib.loads(new)) == told(wanted)
    return new


def any_change(text: str, data: st.DataObject) -> None:
    there = list(paths(tomllib.loads(text)))
    path = data.draw(st.sampled_from([*there, *new_paths(tomllib.loads(text))]))
    value = data.draw(st.one_of(st.none(), values) if path in there else values)
    if in_headed_list(text, path) and not isinstance(value, dict | None):
        with pytest.raises(InputError, match="an entry of a list of tables can only be a table"):
            amended(text, path, value)
    else:
        changed_alone(text, path, value)


@SLOW
@given(layouts(), st.data())
def test_one_field_changes_and_no_other(text: str, data: st.DataObject) -> None:
    any_change(text, data)


@pytest.mark.soak
@THOROUGH
@given(layouts(), st.data())
def test_one_field_changes_and_no_other_in_very_many_texts(text: str, data: st.DataObject) -> None:
    any_change(text, data)


@SLOW
@given(documents(), st.data())
def test_one_field_changes_in_texts_with_odd_strings(doc: Written, data: st.DataObject) -> None:
    any_change(doc.text, data)


@SLOW
@given(layouts())
def test_the_values_of_a_text_are_those_that_tomllib_gives(text: str) -> None:
    assert told(TomlText(text).data) == told(tomllib.loads(text))


DOCUMENTS = [
    *(path.read_text(encoding="utf-8") for path in sorted((ROOT / "examples").rglob("*.toml"))),
    *re.findall(
        r"^```toml\n(.*?)^```",
        (ROOT / "docs/documents.md").read_text("utf-8"),
        re.DOTALL | re.MULTILINE,
    ),
    PIECE,
]


def test_documents_are_there_to_be_changed() -> None:
    assert len(DOCUMENTS) > 20


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
@pytest.mark.parametrize("number", range(len(DOCUMENTS)))
def test_every_field_of_a_real_document_can_be_set_and_removed(number: int, ends: str) -> None:
    text = DOCUMENTS[number].replace("\n", ends)
    data = tomllib.loads(text)
    for path in paths(data):
        changed_alone(text, path, None)
        if not in_headed_list(text, path):
            changed_alone(text, path, "3/4 in")
    for path in new_paths(data):
        new = changed_alone(text, path, {"new": 1.5})
        assert (new.count("\r\n") == new.count("\n")) == (ends == "\r\n")


def lines_changed(text: str, new: str) -> tuple[list[str], list[str]]:
    """Lines that went and lines that came, once what is alike before and after is left off."""
    old, now = text.split("\n"), new.split("\n")
    while old and now and old[0] == now[0]:
        del old[0], now[0]
    while old and now and old[-1] == now[-1]:
        del old[-1], now[-1]
    return old, now


@pytest.mark.parametrize(
    ("path", "value", "went", "came"),
    [
        (("title",), "Gate", ['title = "Door"  # of oak'], ['title = "Gate"  # of oak']),
        (("title",), None, ['title = "Door"  # of oak'], []),
        (("units",), "in", [], ['units = "in"']),
        (
            ("climate", "cutting", "humidity"),
            50.5,
            ["cutting = { temperature = 18, humidity = 45 } # [%]"],
            ["cutting = { temperature = 18, humidity = 50.5 } # [%]"],
        ),
        (
            ("climate", "cutting", "humidity"),
            None,
            ["cutting = { temperature = 18, humidity = 45 } # [%]"],
            ["cutting = { temperature = 18 } # [%]"],
        ),
        (
            ("climate", "cutting", "moisture"),
            10,
            ["cutting = { temperature = 18, humidity = 45 } # [%]"],
            ["cutting = { temperature = 18, humidity = 45, moisture = 10 } # [%]"],
        ),
        (("climate", "room"), "attic", [], ['room = "attic"']),
        (("joint", 0, "name"), "side", ['name = "back"'], ['name = "side"']),
        (
            ("joint", 0, "thickness", 0, 1),
            18.9,
            ["    [19.02, 18.95], # head end"],
            ["    [19.02, 18.9], # head end"],
        ),
        (("joint", 0, "thickness", 1), None, ["    [19.00, 18.96],"], []),
        (("joint", 0, "groove", "part"), "x", ['groove.part = "board"'], ['groove.part = "x"']),
        (("joint", 0, "groove", "edge"), "y", [], ['groove.edge = "y"']),
        (("joint", 0, "groove", "part"), None, ['groove.part = "board"'], ["groove = {}"]),
        (("joint", 0, "groove"), None, ['groove.part = "board"'], []),
        (("joint", 0, "fit", "play"), 0.2, ['play = "0.2 mm"'], ["play = 0.2"]),
        (("joint", 0, "fit", "sure"), True, [], ["sure = true"]),
        (("joint", 0, "fit"), {"play": 1}, ['play = "0.2 mm"'], ["play = 1"]),
        (("joint", 0, "fit"), None, ["[joint.fit]", 'play = "0.2 mm"', ""], []),
        (("joint", 1, "on"), date(2026, 9, 14), [], ["on = 2026-09-14"]),
        (("joint", 1, "groove", "part"), "x", [], ['groove = { part = "x" }']),
        (
            ("habits", "style"),
            "mm",
            [],
            ["", "[habits]", 'style = "mm"', ""],
        ),
    ],
)
def test_only_these_lines_change(
    path: FieldPath, value: Value | None, went: list[str], came: list[str]
) -> None:
    assert lines_changed(PIECE, changed_alone(PIECE, path, value)) == (went, came)


def test_a_table_is_added_after_the_last_of_its_kind() -> None:
    text = PIECE.replace("[climate]", "[[board]]\n[climate]")
    new = with_table(text, "board", {"mark": "B2", "thickness": [19.1, "3/4 in"]})
    assert tomllib.loads(new)["board"] == [{}, {"mark": "B2", "thickness": [19.1, "3/4 in"]}]
    came = ["", "[[board]]", 'mark = "B2"', 'thickness = [19.1, "3/4 in"]', ""]
    assert lines_changed(text, new) == ([], came)


def test_a_table_of_a_new_kind_is_added_at_the_end() -> None:
    assert with_table("", "shelf", {"name": "top"}) == '[[shelf]]\nname = "top"\n'
    assert with_table("a = 1", "b", {}) == "a = 1\n\n[[b]]\n"


def test_a_table_is_added_inside_another_before_the_next_one() -> None:
    new = with_table(PIECE, ("climate", "season"), {"name": "summer"})
    assert lines_changed(PIECE, new) == ([], ["[[climate.season]]", 'name = "summer"', ""])
    assert tomllib.loads(with_table(PIECE, ("joint", 0, "pass"), {"n": 1}))["joint"][0]["pass"] == [
        {"n": 1}
    ]


@SLOW
@given(layouts(), tables, st.data())
def test_a_table_is_added_wherever_one_can_stand(
    text: str, new: dict[str, Any], data: st.DataObject
) -> None:
    there = tomllib.loads(text)
    places = [p for p in [(), *paths(there)] if isinstance(at(there, p), dict)]
    lists = [p for p in paths(there) if isinstance(at(there, p), list) and isinstance(p[-1], str)]
    path = data.draw(st.sampled_from([*((*place, "new") for place in places), *lists]))
    here = at(there, path) if path in lists else []
    if all(isinstance(each, dict) for each in here):
        wanted = put(there, path, [*here, new])
        assert told(tomllib.loads(with_table(text, path, new))) == told(wanted)
    else:
        with pytest.raises(InputError, match="it is not a list of tables"):
            with_table(text, path, new)


@SLOW
@given(layouts(), tables)
def test_a_table_that_was_added_can_be_taken_out_again(text: str, new: dict[str, Any]) -> None:
    added = with_table(text, "added", new)
    assert without_table(added, ("added", 0)).rstrip() == text.rstrip()


def test_a_table_goes_with_the_comment_above_it_and_no_other() -> None:
    new = without_table(PIECE, ("joint", 0))
    went, came = lines_changed(PIECE, new)
    assert (went[0], went[-2:], came) == ("# The back.", ['play = "0.2 mm"', ""], [])
    assert new.endswith(PIECE[PIECE.index("# ---- The lid") :])


def test_a_comment_between_two_tables_is_about_the_next() -> None:
    text = "[a]\nx = 1\n# about b\n[b]\ny = 1\n# about y\n\n[c]\n"
    assert without_table(text, ("a",)) == "# about b\n[b]\ny = 1\n# about y\n\n[c]\n"
    assert without_table(text, ("b",)) == "[a]\nx = 1\n[c]\n"
    assert without_table(text, ("c",)) == text.removesuffix("[c]\n")


def test_the_last_table_goes_with_the_comment_below_it() -> None:
    assert without_table(PIECE, ("joint", 1)) == PIECE[: PIECE.index('[[joint]]\nname = "lid"')]


def test_a_byte_order_mark_stays() -> None:
    text = "\ufeff" + PIECE
    assert amended(text, ("title",), "Gate") == "\ufeff" + amended(PIECE, ("title",), "Gate")
    assert with_table(text, "board", {}) == "\ufeff" + with_table(PIECE, "board", {})
    assert without_table(text, ("joint", 0)) == "\ufeff" + without_table(PIECE, ("joint", 0))


@SLOW
@given(scalars)
def test_a_value_is_read_back_as_it_was_given(value: Value) -> None:
    assert told(tomllib.loads(amended("", ("a b",), value))) == told({"a b": value})


def test_a_field_is_named_as_a_maker_counts() -> None:
    assert named(("board", 3, "thickness", 0)) == "board 4: thickness 1"
