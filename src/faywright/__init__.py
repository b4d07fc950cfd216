"""Verified router-table settings for joints, from the boards and cutters a maker really has.

The whole job is three calls: :func:`open_documents`, :func:`plan` and :func:`summary`. What each
room of the package offers is in its own ``__init__``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from faywright.drawing.folder import write_plan
    from faywright.piece.opened import Documents, open_documents
    from faywright.piece.plan import Plan, plan
    from faywright.piece.plan_json import plan_json
    from faywright.piece.summary import summary

__all__ = [
    "Documents",
    "Plan",
    "open_documents",
    "plan",
    "plan_json",
    "summary",
    "write_plan",
]

_ROOMS = {
    "Documents": "faywright.piece.opened",
    "Plan": "faywright.piece.plan",
    "open_documents": "faywright.piece.opened",
    "plan": "faywright.piece.plan",
    "plan_json": "faywright.piece.plan_json",
    "summary": "faywright.piece.summary",
    "write_plan": "faywright.drawing.folder",
}


def __getattr__(name: str) -> object:
    """Load a name's room when it is first asked for, so that ``--help`` stays quick."""
    if name not in _ROOMS:
        raise AttributeError(f"module 'faywright' has no attribute {name!r}")
    from importlib import import_module  # noqa: PLC0415 - only needed here

    return getattr(import_module(_ROOMS[name]), name)
