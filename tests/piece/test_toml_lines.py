import tomllib
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from faywright.piece.toml_lines import DEEPEST, FieldPath, Lines, line_of
from tests.strategies import STEADY


class Written(NamedTuple):
    """Text, and the lines of fields in it counted from its own first line as 0."""

    text: str
    lines: list[tuple[FieldPath, int]]


KEYS = [
    ("plain", "plain"),
    ("with-dash_9", "with-dash_9"),
    ('"dotted.key"', "dotted.key"),
    ("'hash # key'", "hash # key"),
    ('"quo\\"te = [x]"', 'quo"te = [x]'),
    ('"\\u00e9\\n"', "é\n"),
    ('""', ""),
    ("1984", "1984"),
]
SCALARS = [
    "1",
    "-3.5e2",
    "true",
    "2026-09-14",
    "2026-09-14 07:30:00",
    '""',
    '"# not a comment ]"',
    '"back\\\\slash \\" quote"',
    "''",
    "'C:\\path\\'",
    '"""one line"""',
    '"""\nthree\nlines"""',
    '"""ends with quotes"""""',
    '"""\\\n  folded "" \\""""',
    "'''\nliteral ' it'''",
    "'''ends ''''",
]
BREAKS = ["", " ", "\n", "  # comment ] }\n", "\n\n\t"]

keys = st.sampled_from(KEYS)
scalars = st.sampled_from(SCALARS).map(lambda text: Written(text, [((), 0)]))


def below(step: str | int, inner: Written, line: int) -> list[tuple[FieldPath, int]]:
    return [((step, *path), at + line) for path, at in inner.lines]


@st.composite
def arrays(draw: DrawFn, values: st.SearchStrategy[Written]) -> Written:
    text, lines = "[", [((), 0)]
    found: list[tuple[FieldPath, int]] = list(lines)
    for index, value in enumerate(draw(st.lists(values, max_size=3))):
        text += draw(st.sampled_from(BREAKS))
        found += below(index, value, text.count("\n"))
        text += value.text + draw(st.sampled_from(BREAKS)) + ","
    return Written(text + draw(st.sampled_from(BREAKS)) + "]", found)


@st.composite
def inline_tables(draw: DrawFn, values: st.SearchStrategy[Written]) -> Written:
    found: list[tuple[FieldPath, int]] = [((), 0)]
    text = "{ "
    for index, (written, key) in enumerate(draw(st.lists(keys, max_size=3, unique=True))):
        value = draw(values)
        text += f"{', ' if index else ''}{written}"
        if draw(st.booleans()):
            text += ' . "inner"'
            found.append(((key,), text.count("\n")))
            value = Written(value.text, [(("inner", *path), at) for path, at in value.lines])
        text += " = "
        found += below(key, value, text.count("\n"))
        text += value.text
    return Written(text + " }", found)


values = st.recursive(
    scalars, lambda inner: st.one_of(arrays(inner), inline_tables(inner)), max_leaves=6
)


@st.composite
def bodies(draw: DrawFn) -> Written:
    """Lines of key = value, with comments and blank lines between."""
    text, found = "", []
    for written, key in draw(st.lists(keys, max_size=4, unique=True)):
        text += draw(st.sampled_from(["", "# note [x]\n", "\n", "  "]))
        value = draw(values)
        line = text.count("\n")
        found += below(key, value, line)
        text += f"{written}={value.text} # end\n"
    return Written(text, found)


@st.composite
def documents(draw: DrawFn) -> Written:
    body = draw(bodies())
    text, found = body.text, list(body.lines)
    counts: dict[str, int] = {}
    for number in range(draw(st.integers(0, 4))):
        several = draw(st.booleans())
        name = draw(st.sampled_from(["many", "lots"])) if several else f"one{number}"
        body = draw(bodies())
        start = text.count("\n")
        path: FieldPath = (name, counts.get(name, 0)) if several else (name,)
        counts[name] = counts.get(name, 0) + 1
        text += f"[[ {name} ]]\n" if several else f"[{name}] # header\n"
        text += body.text
        found.append((path, start))
        found += [((*path, *inner), at + start + 1) for inner, at in body.lines]
    return Written(text, found)


@STEADY
@given(documents(), st.booleans())
def test_every_field_of_a_document_is_found_on_its_line(document: Written, windows: bool) -> None:
    text = document.text.replace("\n", "\r\n") if windows else document.text
    tomllib.loads(text)
    lines = Lines(text)
    for path, line in document.lines:
        if len(path) <= DEEPEST:
            assert lines.of(path) == line + 1, path


NESTED = """\
top.inner = 1
[a.b]
c = 1
[[list]]
x = 1
[list.sub]
y = 2
[[list.sub.more]]
[[list]]
[[list.deep]]
z = 1
[[list.deep]]
[a]
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("top",), 1),
        (("top", "inner"), 1),
        (("a", "b", "c"), 3),
        (("a",), 13),
        (("list",), 4),
        (("list", 0, "x"), 5),
        (("list", 0, "sub", "y"), 7),
        (("list", 0, "sub", "more", 0), 8),
        (("list", 1), 9),
        (("list", 1, "deep", 0, "z"), 11),
        (("list", 1, "deep", 1), 12),
    ],
)
def test_tables_inside_the_newest_of_a_list_are_found(path: FieldPath, line: int) -> None:
    assert line_of(NESTED, path) == line


@pytest.mark.parametrize(
    ("path", "line"),
    [(("list", 0, "width"), 4), (("a", "b", "x", "y"), 2), (("none",), 1), ((), 1)],
)
def test_a_missing_field_has_the_line_of_what_would_hold_it(path: FieldPath, line: int) -> None:
    assert line_of(NESTED, path) == line


def test_fields_deeper_than_any_document_has_them_get_the_line_around_them() -> None:
    text = f"x = [\n{'[' * 20}1{']' * 20}\n]"
    assert line_of(text, ("x", *[0] * 20)) == 2


def test_a_text_that_toml_does_not_allow_is_no_business_of_the_scanner() -> None:
    with pytest.raises(AssertionError, match="tomllib has not accepted"):
        line_of("= 1", ("x",))
