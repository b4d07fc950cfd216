"""One joint of an open piece, as pages ask for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from django.http import HttpRequest
from django.urls import reverse

from faywright.app.bench import Ground, reports_in
from faywright.app.knowledge import with_own_bands
from faywright.errors import MissingError
from faywright.joints.wanted import WantedJoint
from faywright.lengths import LengthStyle
from faywright.piece.amending import Value
from faywright.piece.document import tables_of
from faywright.piece.trying import joint_table, tried
from faywright.piece.words import Write, writer
from faywright.web.desk import OpenPiece, desk, open_piece, style_of
from faywright.web.joint.joint_keys import KeyPath


@dataclass(frozen=True, eq=False)
class JointAt:
    """A joint at its ``place``, counted from 1, in a piece as it stands."""

    opened: OpenPiece
    place: int
    wanted: WantedJoint
    style: LengthStyle

    @property
    def name(self) -> str:
        """Its name."""
        return self.wanted.name

    @property
    def ground(self) -> Ground:
        """What it is planned on."""
        return self.opened.ground

    @property
    def piece(self) -> int:
        """Number of the piece."""
        return self.opened.sheet.id

    @property
    def base(self) -> int:
        """Number of the revision it is seen at."""
        return self.opened.sheet.revision.number

    @property
    def address(self) -> str:
        """Where its page is."""
        return reverse("joint", args=[self.piece, self.place])

    @property
    def text(self) -> str:
        """The piece as it is written."""
        return self.opened.sheet.revision.text

    @property
    def table(self) -> Mapping[str, object]:
        """The joint as it is written."""
        return joint_table(self.text, self.name)

    @property
    def write(self) -> Write:
        """Writes lengths in the style that is asked for."""
        return writer(self.style)

    def trying(self, values: Mapping[KeyPath, Value | None]) -> tuple[Ground, WantedJoint]:
        """The joint with other values, and the ground it would be planned on.

        Raises
        ------
        DocumentError
            It would have faults.
        InputError
            The joints of the piece would not go together.
        """
        piece = tried(self.ground.piece, self.text, self.name, values)
        piece = with_own_bands(piece, reports_in(self.ground.memory.feels))
        return replace(self.ground, piece=piece), piece.joints[self.place - 1]


def joint_at(request: HttpRequest, piece: int, place: int) -> JointAt:
    """The joint at a place, counted from 1.

    Raises
    ------
    MissingError
        There is none.
    """
    return _at(request, open_piece(piece), place)


def joint_named(request: HttpRequest, piece: int, name: str) -> JointAt:
    """The joint of that name, wherever it stands by now.

    Raises
    ------
    MissingError
        There is none.
    """
    return _named(request, open_piece(piece), name)


def seen_at(request: HttpRequest, piece: int, place: int, base: int) -> JointAt:
    """The joint that stood at ``place`` in revision ``base``, as it is now.

    Raises
    ------
    MissingError
        It was removed or renamed since.
    """
    opened = open_piece(piece)
    if opened.sheet.revision.number == base:
        return _at(request, opened, place)
    text = desk().store.documents.revision(piece, base).text
    return _named(request, opened, _name_in(text, place))


def _at(request: HttpRequest, opened: OpenPiece, place: int) -> JointAt:
    joints = opened.ground.piece.joints
    if not 1 <= place <= len(joints):
        raise _none_there(f"joint {place}")
    style = style_of(request, opened.ground.shop.habits.style)
    return JointAt(opened, place, joints[place - 1], style)


def _named(request: HttpRequest, opened: OpenPiece, name: str) -> JointAt:
    names = [joint.name for joint in opened.ground.piece.joints]
    if name not in names:
        raise _none_there(f"joint {name!r}")
    return _at(request, opened, names.index(name) + 1)


def _name_in(text: str, place: int) -> str:
    joints = tables_of(text.removeprefix("\ufeff")).get("joint")
    table = joints[place - 1] if isinstance(joints, list) and 1 <= place <= len(joints) else None
    if not isinstance(table, dict):
        raise _none_there(f"joint {place}")
    return str(table.get("name", "")).strip()


def _none_there(where: str) -> MissingError:
    return MissingError(
        "there is no such joint in this piece",
        where=where,
        remedy="Go back to the piece, and choose one that is listed",
    )
