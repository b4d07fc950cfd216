"""A joint as it would be with a few fields changed: read for a look, and written nowhere."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import replace

from faywright.errors import MissingError
from faywright.joints.wanted import WantedJoint
from faywright.piece.amending import Value
from faywright.piece.document import tables_of
from faywright.piece.fields import Document, Table
from faywright.piece.joint_tables import read_joint
from faywright.piece.model import Piece

KeyPath = tuple[str, ...]
"""A field of a joint, ``("groove_depth",)`` or ``("fit", "aim")``."""


def tried(piece: Piece, text: str, name: str, values: Mapping[KeyPath, Value | None]) -> Piece:
    """The piece with ``values`` in its joint ``name``; ``text`` is the document it was read from.

    None takes a field away. Only the joint is read again: that takes a tenth of reading it all.

    Raises
    ------
    DocumentError
        The joint would have faults; their paths are those of the document.
    InputError
        Joints would not go together, or there is no such joint.
    """
    place, table = _table(text, name)
    for path, value in values.items():
        _put(table, path, value)
    document = Document("", file="piece")  # a look at a fault needs no lines
    document.units = piece.units
    label = f"joint {place + 1} ({name})"
    joint = document.finish(
        read_joint(
            Table(table, document, path=("joint", place), label=label),
            {part.name: part for part in piece.parts},
            {part.name for part in piece.parts if part.boards},
        )
    )
    return replace(piece, joints=_with(piece.joints, place, joint))


def joint_table(text: str, name: str) -> Mapping[str, object]:
    """What a document says of the joint of that name, as it was written.

    Raises
    ------
    MissingError
        There is none.
    """
    return _table(text, name)[1]


def _table(text: str, name: str) -> tuple[int, dict[str, object]]:
    joints = tables_of(text.removeprefix("\ufeff")).get("joint")
    for place, table in enumerate(joints if isinstance(joints, list) else []):
        if isinstance(table, dict) and str(table.get("name", "")).strip() == name:
            return place, deepcopy(table)
    raise MissingError(
        f"there is no joint {name!r}",
        where=f"joint {name}",
        remedy="Look at the piece as it is now; someone may have removed or renamed it",
    )


def _put(table: dict[str, object], path: KeyPath, value: Value | None) -> None:
    """Set or remove a field, in tables that are made on the way."""
    *around, key = path
    for step in around:
        inner = table.get(step)
        if not isinstance(inner, dict):
            if value is None:
                return
            inner = table[step] = {}
        table = inner
    if value is None:
        table.pop(key, None)
    else:
        table[key] = value


def _with(
    joints: tuple[WantedJoint, ...], place: int, joint: WantedJoint
) -> tuple[WantedJoint, ...]:
    return (*joints[:place], joint, *joints[place + 1 :])
