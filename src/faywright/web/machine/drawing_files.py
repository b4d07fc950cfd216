"""Drawings of a plan as files: their names by joint, and what is in them."""

from __future__ import annotations

from dataclasses import dataclass

from faywright.drawing.drawings import PlanDrawing, plan_drawings
from faywright.drawing.folder import drawing_files
from faywright.errors import MissingError
from faywright.piece.plan import Plan

SVG, DXF = "image/svg+xml; charset=utf-8", "image/vnd.dxf; charset=utf-8"


@dataclass(frozen=True, slots=True)
class Files:
    """One drawing with the names of its files."""

    what: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Room:
    """What belongs together: a joint with its setups, or the charts of the year."""

    name: str
    files: tuple[Files, ...]


def drawings_by_joint(plan: Plan) -> tuple[Room, ...]:
    """Every drawing under its joint, those of no joint last."""
    rooms: dict[str, list[Files]] = {joint.wanted.name: [] for joint in plan.joints}
    joint = iter(plan.joints)
    at = ""
    for each in plan_drawings(plan):
        if each.stem.startswith("year-"):
            at = "Through the year"
        elif each.cut is None and not each.chart and each.stem.startswith("joint-"):
            at = next(joint).wanted.name  # a joint's own drawing comes before all of its others
        rooms.setdefault(at, []).append(Files(_called(each), tuple(drawing_files(each))))
    return tuple(Room(name, tuple(files)) for name, files in rooms.items() if files)


def _called(each: PlanDrawing) -> str:
    return each.stem.replace("-", " ")


def file_called(plan: Plan, name: str) -> tuple[str, str]:
    """What is in the file of that name, and its kind.

    Raises
    ------
    MissingError
        The plan has no such drawing.
    """
    for each in plan_drawings(plan):
        write = drawing_files(each).get(name) if name.startswith(each.stem) else None
        if write is not None:
            return write(), SVG if name.endswith(".svg") else DXF
    raise MissingError(
        f"there is no drawing {name[:80]!r}",
        where=plan.piece.title,
        remedy="Choose one from the list of the packet's page; the piece may have changed",
    )
