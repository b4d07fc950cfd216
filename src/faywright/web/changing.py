"""Changing a document from a form, the API or anywhere: one way, whoever else is at it.

A change names fields by the names of what they belong to, ``("joint", "back", "groove_depth")``,
so that it finds them wherever they stand by now. It is made on the text as it stands, read again
by the readers of documents, and kept as a revision. Where someone else changed the same field
since the page was shown, nothing is written and both are told.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from faywright.app.documents import Documents, Overtaken, Sheet
from faywright.errors import InputError, MissingError
from faywright.piece.amending import Value, amended, with_table, without_table
from faywright.piece.boards_inside import with_boards
from faywright.piece.document import tables_of
from faywright.piece.piece_file import piece_from_text
from faywright.piece.shop_file import shop_from_text

NamedPath = tuple[str | int, ...]

LISTS = (
    *("part", "board", "joint", "panel", "framed", "drawer", "shelf", "season"),
    *("machine", "cutter", "gauge", "species"),
)
"""Keys of documents under which stand lists of tables with names or marks."""

TRIES = 5
"""How often a change is put on top of another that was quicker."""


@dataclass(frozen=True, slots=True)
class Put:
    """A field that gets a value, or loses it (None).

    One that goes ``along`` with another change, as all that names a part does with its name, is
    put whatever it was.
    """

    path: NamedPath
    value: Value | None
    along: bool = False


@dataclass(frozen=True, slots=True)
class Add:
    """A table more, ``[[key]]``."""

    key: str
    values: Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class AddBoards:
    """Tables of boards more, many at once."""

    boards: tuple[Mapping[str, Value], ...]


@dataclass(frozen=True, slots=True)
class Drop:
    """A table less."""

    path: NamedPath


Edit = Put | Add | AddBoards | Drop


@dataclass(frozen=True, slots=True)
class Changed:
    """A document after a change; ``over`` says who changed what else of it meanwhile, if any."""

    sheet: Sheet
    over: tuple[str, ...] = ()


class DiffersError(InputError):
    """Someone else changed the same field: ``theirs`` is what it is now, ``mine`` was not kept."""

    def __init__(self, sheet: Sheet, path: NamedPath, theirs: object, mine: object) -> None:
        """``sheet`` is the document as it stands."""
        who = sheet.revision.author or "another page"
        super().__init__(
            f"{who} changed it meanwhile, to {_said(theirs)}; yours was {_said(mine)}",
            where=" ".join(str(step) for step in path),
            remedy="Keep theirs, or put yours",
        )
        self.sheet, self.path, self.theirs, self.mine = sheet, path, theirs, mine


def change(
    documents: Documents,
    number: int,
    base: int,
    edits: Sequence[Edit],
    *,
    author: str = "",
    what: str,
    seen: int | None = None,
) -> Changed:
    """Make all of ``edits`` in one revision; ``base`` is the revision they were made from.

    ``what`` says in a sentence what was changed. ``seen`` is the newest revision that is known
    to who makes the change, where that is later than ``base``: others are told of in ``over``.

    Raises
    ------
    DiffersError
        Someone else changed one of the fields since ``base``.
    DocumentError
        The document would have faults; they name paths in the new text.
    MissingError
        What was to be changed is not there any more.
    """
    for _ in range(TRIES):
        sheet = documents.sheet(number)
        over: tuple[str, ...] = ()
        if sheet.revision.number != base:
            _compare(documents.revision(number, base).text, sheet, edits)
        if sheet.revision.number > (seen or base):
            over = _others(documents, number, seen or base)
        text = sheet.revision.text
        for edit in edits:
            text = made(text, edit)
        if text == sheet.revision.text:
            return Changed(sheet)
        title = READERS[sheet.kind](text)
        try:
            kept = documents.revise(
                number, sheet.revision.number, text, title=title, author=author, what=what
            )
        except Overtaken:
            continue
        return Changed(kept, over)
    raise InputError(
        "others are changing it too quickly", where=what, remedy="Try again in a moment"
    )


def made(text: str, edit: Edit) -> str:
    """The text after one edit."""
    match edit:
        case Put(path, value):
            place = resolved(tables_of(text), path)
            if value is None and value_at(tables_of(text), place) is None:
                return text  # there is nothing to take away
            return amended(text, place, value)
        case Add(key, values):
            return with_table(text, key, values)
        case AddBoards(boards):
            return with_boards(text, boards)
        case Drop(path):
            return without_table(text, resolved(tables_of(text), path))


def _piece_title(text: str) -> str:
    return piece_from_text(text, file="piece", folder=None).piece.title


def _shop_title(text: str) -> str:
    return shop_from_text(text, file="shop").title


READERS: Mapping[str, Callable[[str], str]] = {"piece": _piece_title, "shop": _shop_title}
"""Read a text of each kind, or raise a DocumentError; they give its title."""


def resolved(tables: Mapping[str, object], path: NamedPath) -> NamedPath:
    """A path with places in lists for the names or marks of what stands there.

    >>> resolved({"board": [{"mark": "B01"}, {"mark": "B02"}]}, ("board", "B02", "width"))
    ('board', 1, 'width')

    Raises
    ------
    MissingError
        Nothing has that name.
    """
    found: list[str | int] = []
    value: object = tables
    for step in path:
        listed = isinstance(value, list) or (value is None and found[-1:] and found[-1] in LISTS)
        if listed and isinstance(step, str):
            step = _place_of(value, step, path)  # noqa: PLW2901 - the name becomes a place
        value = _inside(value, step)
        found.append(step)
    return tuple(found)


def value_at(tables: Mapping[str, object], path: NamedPath) -> object:
    """The value at a path of names or places; None where there is none."""
    value: object = tables
    for step in path:
        if isinstance(value, list) and isinstance(step, str):
            value = next((each for each in value if _named(each) == step), None)
        else:
            value = _inside(value, step)
    return value


def _place_of(values: object, name: str, path: NamedPath) -> int:
    for place, each in enumerate(values if isinstance(values, list) else ()):
        if _named(each) == name:
            return place
    raise MissingError(
        f"there is no {path[0]} {name!r}",
        where=" ".join(str(step) for step in path),
        remedy="Look at the piece as it is now; someone may have removed or renamed it",
    )


def _named(table: object) -> object:
    if not isinstance(table, dict):
        return None
    return table.get("mark", table.get("name"))


def _inside(value: object, step: str | int) -> object:
    if isinstance(value, dict):
        return value.get(step)
    if isinstance(value, list) and isinstance(step, int) and 0 <= step < len(value):
        return value[step]
    return None


def _compare(before: str, sheet: Sheet, edits: Sequence[Edit]) -> None:
    """Refuse edits of fields that someone else changed."""
    then, now = tables_of(before), tables_of(sheet.revision.text)
    for edit in edits:
        if isinstance(edit, Add | AddBoards) or (isinstance(edit, Put) and edit.along):
            continue
        resolved(now, edit.path)  # what was removed or renamed is missing rather than different
        mine = edit.value if isinstance(edit, Put) else None
        theirs = value_at(now, edit.path)
        if theirs != value_at(then, edit.path) and theirs != mine:
            raise DiffersError(sheet, edit.path, theirs, mine)


def _others(documents: Documents, number: int, seen: int) -> tuple[str, ...]:
    """Who did what since a revision, the first of them first."""
    steps = [step for step in documents.history(number) if step.number > seen]
    return tuple(f"{step.author or 'another page'}: {step.what}" for step in reversed(steps))


def _said(value: object) -> str:
    return "nothing" if value is None else str(value)
