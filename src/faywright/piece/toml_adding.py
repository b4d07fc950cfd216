"""Lines and tables added to a TOML text, each where a reader would look for it."""

from __future__ import annotations

from collections.abc import Mapping

from faywright.piece.toml_lines import FieldPath
from faywright.piece.toml_tables import TomlText
from faywright.piece.toml_written import written, written_key


def with_line(toml: TomlText, parent: FieldPath, key: str, value: object) -> str:
    """With a line more in a table that has a header, or stands in the dots of keys."""
    section, in_dots = toml.section(parent), toml.dotted(parent)
    statements = in_dots if section is None else toml.statements(section)
    line = f"{written_key(key)} = {written(value)}{toml.line_end}"
    if statements:
        last = statements[-1]
        around = next(toml.around(last.path))
        before = "".join(f"{written_key(step)}." for step in parent[len(around.path) :])
        margin = toml.text[last.start : last.value]
        line = margin[: len(margin) - len(margin.lstrip())] + before + line
        return _inserted(toml, last.end, line)
    if section is None:  # only tables inside it have headers
        first = toml.under(parent)[0]
        header = f"[{dotted(parent)}]{toml.line_end}"
        return _inserted(toml, toml.lead(first), header + line + toml.line_end)
    if section.path or len(toml.sections) == 1:
        return _inserted(toml, section.body if section.path else section.end, line)
    return _inserted(toml, toml.lead(toml.sections[1]), line + toml.line_end)


def with_header(
    toml: TomlText, header: str, values: Mapping[str, object], *, after: FieldPath
) -> str:
    """With a table more, after all there is of the table ``after``."""
    lines = [header, *(f"{written_key(key)} = {written(each)}" for key, each in values.items())]
    table = "".join(line + toml.line_end for line in lines)
    if not after:
        return _inserted(toml, len(toml.text), toml.line_end + table if toml.text else table)
    inside = toml.under(after) or [next(toml.around(after))]
    at = toml.close(inside[-1])
    follows = toml.text[at:].partition("\n")[0].strip()
    return _inserted(toml, at, toml.line_end + table + (toml.line_end if follows else ""))


def dotted(path: FieldPath) -> str:
    """A path as a header names it, without places in lists."""
    return ".".join(written_key(step) for step in path if isinstance(step, str))


def _inserted(toml: TomlText, at: int, lines: str) -> str:
    before = toml.text[:at]
    if before and not before.endswith("\n"):
        before += toml.line_end
    return before + lines + toml.text[at:]
