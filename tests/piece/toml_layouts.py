"""TOML texts drawn at random: any values, laid out in any of the ways that TOML allows."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from faywright.piece.toml_lines import FieldPath
from faywright.piece.toml_written import written, written_key

KEYS = ["part", "fit", "name", "groove-2", "a.b", "[x]", "", 'q"#', "1984"]
TEXTS = ["", "[[joint]]", '"""', "'''", "# no note", "a\r\nb", "\\", "é\x7f\t", "x = [", "}"]
NOTES = ["", "", "  # [note] 'x", ' # """']

texts = st.sampled_from(TEXTS)
scalars = st.one_of(
    texts,
    st.integers(-(2**40), 2**40),
    st.floats(allow_nan=False),
    st.booleans(),
    st.dates(min_value=date(1900, 1, 1)),
)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.sampled_from(KEYS), inner, max_size=3)
    ),
    max_leaves=8,
)
tables = st.dictionaries(st.sampled_from(KEYS), values, max_size=5)


@st.composite
def layouts(draw: DrawFn) -> str:
    """The text of a document."""
    lines = list(_table(draw, draw(tables), ()))
    text = "\n".join(lines) + draw(st.sampled_from(["", "\n", "\n\n# the end\n"]))
    return text.replace("\n", "\r\n") if draw(st.booleans()) else text


def _table(draw: DrawFn, data: dict[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    """Lines of a table: what is stated under its header, then the tables that follow it."""
    below: list[str] = []
    for key, value in data.items():
        way = draw(st.integers(0, 3))
        if isinstance(value, dict) and way < 2:
            below += _gap(draw)
            inner = list(_table(draw, value, (*path, key)))
            stated = not inner or not inner[0].startswith("[") or draw(st.booleans())
            below += [f"[{_header((*path, key))}]"] * stated + inner
        elif value and _is_tables(value) and way < 3:
            for each in value:
                below += [
                    *_gap(draw),
                    f"[[ {_header((*path, key))} ]]{draw(st.sampled_from(NOTES))}",
                ]
                below += _table(draw, each, (*path, key))
        else:
            yield from _stated(draw, (key,), value)
    yield from below


def _stated(draw: DrawFn, keys: tuple[str, ...], value: Any) -> Iterator[str]:
    if isinstance(value, dict) and value and draw(st.booleans()):
        for key, each in value.items():
            yield from _stated(draw, (*keys, key), each)
        return
    yield from draw(st.sampled_from([[], [], [""], ["# a = [1]"], ["  "]]))
    margin, note = draw(st.sampled_from(["", "", "  "])), draw(st.sampled_from(NOTES))
    yield from f"{margin}{_header(keys)} = {_value(draw, value)}{note}".split("\n")


def _value(draw: DrawFn, value: Any) -> str:
    if isinstance(value, list) and draw(st.booleans()):
        each = [f"  {_value(draw, one)},{draw(st.sampled_from(NOTES))}" for one in value]
        return "\n".join(["[ # each", *each, "]"])
    if isinstance(value, str) and "\r" not in value and draw(st.booleans()):
        return (
            '"""\n'
            + value.replace("\\", "\\\\").replace('"', '\\"').replace("\x7f", "\\u007f")
            + '"""'
        )
    return written(value)


def _gap(draw: DrawFn) -> list[str]:
    return draw(st.sampled_from([[], [""], ["", "# the next"], ["# [below]", ""]]))


def _header(keys: tuple[str, ...]) -> str:
    return ".".join(written_key(key) for key in keys)


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(each, dict) for each in value)


def paths(data: Any, path: FieldPath = ()) -> Iterator[FieldPath]:
    """Every field of a document, tables and entries of lists as well."""
    steps = data.items() if isinstance(data, dict) else enumerate(data)
    for step, value in steps:
        yield (*path, step)
        if isinstance(value, dict | list):
            yield from paths(value, (*path, step))
