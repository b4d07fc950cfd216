"""Other names for parts, joints, boards and the like, wherever a piece refers to them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from faywright.errors import MissingError
from faywright.web.changing import NamedPath, Put, value_at

_NAMED_BY = ("name", "mark")
_PLACES = ("groove", "tongue", "second_groove")


def is_name(path: NamedPath) -> bool:
    """Whether a field is what its table is known by.

    >>> is_name(("part", "lid", "name")), is_name(("joint", "back", "fit", "name"))
    (True, False)
    """
    return len(path) == 3 and path[-1] in _NAMED_BY and isinstance(path[1], str)


def renamed(tables: Mapping[str, object], path: NamedPath, name: str) -> Sequence[Put]:
    """What it takes to give the table of a path another name.

    Raises
    ------
    MissingError
        There is no such table any more.
    """
    kind, old = path[0], path[1]
    if value_at(tables, path[:2]) is None:
        raise MissingError(
            f"there is no {kind} {old!r}",
            where=f"{kind} {old}",
            remedy="Look at it as it is now; someone may have removed or renamed it",
        )
    found: list[Put] = []
    if kind == "part":
        found += (Put(each, name, along=True) for each in _of_part(tables, old))
    if kind == "joint":
        found += (
            Put(("panel", panel, "joint"), name, along=True)
            for panel, table in named_tables(tables, "panel")
            if table.get("joint") == old
        )
    return [*found, Put(path, name)]


def _of_part(tables: Mapping[str, object], part: object) -> Iterator[NamedPath]:
    """Fields that name a part."""
    for board, table in named_tables(tables, "board"):
        if table.get("part") == part:
            yield ("board", board, "part")
    for joint, table in named_tables(tables, "joint"):
        if table.get("strip") == part:
            yield ("joint", joint, "strip")
        for key in _PLACES:
            there = table.get(key)
            if isinstance(there, dict) and there.get("part") == part:
                yield ("joint", joint, key, "part")


def named_tables(
    tables: Mapping[str, object], key: str
) -> Iterator[tuple[str, Mapping[str, object]]]:
    """The tables of a list with their names or marks, in their order."""
    listed = tables.get(key)
    for table in listed if isinstance(listed, list) else ():
        name = table.get("mark", table.get("name")) if isinstance(table, dict) else None
        if isinstance(name, str):
            yield name, table
