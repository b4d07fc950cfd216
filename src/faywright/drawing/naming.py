"""What parts and their faces are called on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

FACE_A = "face A"


@dataclass(frozen=True, slots=True)
class Naming:
    """A part by its name; ``up`` is the face or edge that lies up, None where it does not matter.

    ``grooved_face`` is the face that its groove is in; None for a groove along an edge.
    """

    name: str
    up: str | None = FACE_A
    grooved_face: str | None = None


def what_is_up(parts: Sequence[Naming]) -> str:
    """How the parts lie, for the line under the title.

    Examples
    --------
    >>> what_is_up([Naming("B02"), Naming("B01")])
    'faces A up'
    >>> what_is_up([Naming("D2", "reference edge", "face B"), Naming("R1", None)])
    'reference edge up, groove in face B'
    """
    lying = [part for part in parts if part.up is not None]
    names = {part.up for part in lying}
    told = []
    if len(lying) > 1 and names == {FACE_A}:
        told.append("faces A up")
    elif len(names) == 1:
        told.append(f"{lying[0].up} up")
    elif lying:
        told.append(" and ".join(f"{part.up} of {part.name}" for part in lying) + " up")
    told += [f"groove in {part.grooved_face}" for part in parts if part.grooved_face is not None]
    return ", ".join(told)
