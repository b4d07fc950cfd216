"""The piece: its parts, the boards on hand for them, and the joints between them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from faywright.errors import InputError
from faywright.joints.wanted import Place, WantedJoint
from faywright.lengths import Unit
from faywright.piece.climate_table import PieceClimate
from faywright.piece.load_tables import Shelf
from faywright.piece.panel_tables import WantedDrawer, WantedFramed, WantedRow
from faywright.shop.boards import Board, Timber
from faywright.timber.movement import Grain


@dataclass(frozen=True, kw_only=True, eq=False)
class Part:
    """A part of the piece, and the boards it is made from in the order they were listed.

    ``species``, ``rings`` and ``moisture`` are those of boards that do not say their own.
    """

    name: str
    timber: Timber
    boards: tuple[Board, ...]
    species: str = ""
    rings: Grain | float | None = None
    moisture: float | None = None


@dataclass(frozen=True, kw_only=True, eq=False)
class Piece:
    """A piece of furniture as far as joints go. ``units`` is its default for bare numbers.

    Without a ``climate`` nothing is reckoned with that moisture does.
    """

    title: str
    units: Unit
    parts: tuple[Part, ...]
    joints: tuple[WantedJoint, ...]
    climate: PieceClimate | None = None
    shelves: tuple[Shelf, ...] = ()
    panels: tuple[WantedRow, ...] = ()
    framed: tuple[WantedFramed, ...] = ()
    drawers: tuple[WantedDrawer, ...] = ()

    def __post_init__(self) -> None:
        """Marks are unique, and joints name parts that exist and have boards."""
        marks = [board.mark for part in self.parts for board in part.boards]
        names = [part.name for part in self.parts]
        joints = [joint.name for joint in self.joints]
        for what, each in (("board", marks), ("part", names), ("joint", joints)):
            twice = next((mark for mark, count in Counter(each).items() if count > 1), None)
            if twice is not None:
                raise InputError(
                    f"{what} {twice!r} is listed twice",
                    where=f"piece {self.title!r}",
                    remedy="Give each its own name",
                )
        self._check_edges()
        for panel in self.panels:
            if panel.joint not in joints:
                raise InputError(
                    f"there is no joint {panel.joint!r}",
                    where=f"panel {panel.name!r}",
                    remedy=f"Use one of {', '.join(map(repr, joints))}" if joints else "Add it",
                )
        for joint in self.joints:
            for part in self.parts_of(joint):
                if not part.boards:
                    raise InputError(
                        f"part {part.name!r} has no boards",
                        where=f"joint {joint.name!r}",
                        remedy="List the boards measured for it",
                    )

    def _check_edges(self) -> None:
        """Each edge is cut for one joint: a second one would widen a groove that is there."""
        cut: dict[Place, str] = {}
        for joint in self.joints:
            for place in (joint.groove, joint.second_groove, joint.tongue):
                if place is None:
                    continue
                if place in cut:
                    raise InputError(
                        f"the {place} is cut for joint {cut[place]!r} already",
                        where=f"joint {joint.name!r}",
                        remedy="Make one joint of both, or name another edge",
                    )
                cut[place] = joint.name

    def part(self, name: str) -> Part:
        """The part of that name.

        Raises
        ------
        InputError
            There is none; the message lists the names there are.
        """
        part = self._by_name.get(name)
        if part is not None:
            return part
        raise InputError(
            f"no part called {name!r}",
            where=f"piece {self.title!r}",
            remedy=f"Use one of {', '.join(repr(part.name) for part in self.parts)}",
        )

    def parts_of(self, joint: WantedJoint) -> tuple[Part, ...]:
        """The parts a joint brings together, grooved part first."""
        places: list[Place | None] = [joint.groove, joint.second_groove, joint.tongue]
        names = [place.part for place in places if place is not None]
        if joint.strip is not None:
            names.append(joint.strip)
        return tuple(self.part(name) for name in dict.fromkeys(names))

    @cached_property
    def _by_name(self) -> Mapping[str, Part]:
        """A large piece asks for its parts often, and is made anew with every edit."""
        return {part.name: part for part in self.parts}
