"""Where the tables and statements of a TOML text stand, for changes that touch no other line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from faywright.piece.toml_cut import Cut, Section, after_value, keys_at
from faywright.piece.toml_lines import FieldPath

_BLANK_OR_NOTE = re.compile(r"[ \t]*(#[^\n]*)?\r?(?:\n|\Z)")


@dataclass(frozen=True, slots=True)
class Statement:
    """One ``key = value`` with its whole lines; ``value`` to ``after`` is the value itself."""

    path: FieldPath
    start: int
    value: int
    after: int
    end: int


class TomlText:
    """A text with its tables and, of those that are asked for, their statements."""

    def __init__(self, text: str) -> None:
        """Cut the text.

        Raises
        ------
        InputError
            It is not TOML.
        """
        cut = Cut(text)
        self.text = text
        self.data = cut.data
        self.sections = cut.sections
        self.line_end = "\r\n" if text[: text.find("\n") + 1].endswith("\r\n") else "\n"
        self._at = {section.path: number for number, section in enumerate(cut.sections)}

    def section(self, path: FieldPath) -> Section | None:
        """The table with a header of its own that stands at ``path``."""
        number = self._at.get(path)
        return None if number is None else self.sections[number]

    def under(self, path: FieldPath) -> list[Section]:
        """All tables with headers at or inside ``path``, in the order of the text."""
        return [each for each in self.sections if each.path[: len(path)] == path]

    def statements(self, section: Section) -> list[Statement]:
        """What a table says, line by line."""
        found: list[Statement] = []
        at = section.body
        while at < section.end:
            blank = _BLANK_OR_NOTE.match(self.text, at)
            if blank:
                at = blank.end()
            else:
                found.append(self._statement(section, at))
                at = found[-1].end
        return found

    def holding(self, path: FieldPath) -> Statement | None:
        """The statement whose value is, or has in it, the field at ``path``."""
        return next(
            (each for each in self._statements_around(path) if each.path == path[: len(each.path)]),
            None,
        )

    def dotted(self, path: FieldPath) -> list[Statement]:
        """The statements that, by the dots in their keys, make up the table at ``path``."""
        return [each for each in self._statements_around(path) if each.path[: len(path)] == path]

    def _statements_around(self, path: FieldPath) -> Iterator[Statement]:
        """The statements of tables with headers that enclose ``path``, innermost first."""
        for section in self.around(path):
            yield from self.statements(section)

    def around(self, path: FieldPath) -> Iterator[Section]:
        """The tables with headers that enclose ``path``, innermost first."""
        for length in range(len(path) - 1, -1, -1):
            section = self.section(path[:length])
            if section is not None:
                yield section

    def lead(self, section: Section) -> int:
        """Where the comment begins that stands right above a header; else the header."""
        before = self.sections[self._at[section.path] - 1]
        start, floor = section.start, self.said(before)
        while start > floor:
            line = self.text.rfind("\n", 0, start - 1) + 1
            if not self.text[line:start].lstrip(" \t").startswith("#"):
                break
            start = line
        return start

    def said(self, section: Section) -> int:
        """Where the last statement of a table ends; its header's line, if it has none."""
        statements = self.statements(section)
        return statements[-1].end if statements else section.body

    def close(self, section: Section) -> int:
        """Where a table's own lines end: comments right below them are its own, too."""
        said = at = self.said(section)
        while at < section.end:
            note = _BLANK_OR_NOTE.match(self.text, at)
            if note is None or not note[1]:
                return at
            at = note.end()
        # Comments with no line between them and the next header are about that.
        return at if section.end == len(self.text) else said

    def _statement(self, section: Section, start: int) -> Statement:
        keys, equals = keys_at(self.text, start)
        stop = after_value(self.text, equals + 1)
        raw = self.text[equals + 1 : stop]
        value = stop - len(raw.lstrip())
        end = self.text.find("\n", stop) + 1 or len(self.text)
        return Statement((*section.path, *keys), start, value, value + len(raw.strip()), end)
