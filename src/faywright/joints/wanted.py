"""What the maker asks of a joint, before any way of cutting it is chosen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from faywright.errors import InputError, RangeError
from faywright.fit.bands import Fit
from faywright.joints.loads import DrawerLoad, Load

EdgeName = Literal["reference edge", "opposite edge", "head end", "foot end", "face A", "face B"]
Family = Literal["tongue and groove", "loose tongue", "runner"]


@dataclass(frozen=True, slots=True)
class Place:
    """A named edge of a part."""

    part: str
    edge: EdgeName

    def __str__(self) -> str:
        """As a maker would say it."""
        return f"{self.edge} of {self.part}"


@dataclass(frozen=True, slots=True)
class EdgeDetail:
    """A profile along the joint on the face side: its kind, and its size across the face. [mm]"""

    kind: Literal["V", "bead", "square reveal"]
    size: float

    def __post_init__(self) -> None:
        """A detail has a size."""
        if not 0 < self.size <= 30:
            raise RangeError(
                f"a size of {self.size:g} mm is not between 0 and 30 mm",
                where=f"{self.kind} along the joint",
                remedy="Give its width on the face of one board",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedJoint:
    """A joint between named edges of parts. [mm; None where the program shall choose]

    ``tongue`` is the edge that gets the tongue; for a loose tongue or a bought runner it is None
    and ``strip`` names the part that enters the groove as it is. ``second_groove`` is the other
    grooved edge of a loose tongue. ``engagement`` is how much tongue shall stay in its groove at
    the driest. ``offset`` runs from face A to the near wall of the groove;
    None centres it. ``film`` is the thickness of finish on every surface of the joint before
    assembly, ``sanding`` what will be taken off each cheek after cutting.
    """

    name: str
    family: Family
    groove: Place
    fit: Fit
    tongue: Place | None = None
    second_groove: Place | None = None
    strip: str | None = None
    half: bool = False
    free_order: bool = True
    tongue_thickness: float | None = None
    tongue_length: float | None = None
    groove_width: float | None = None
    groove_depth: float | None = None
    bottom_gap: float | None = None
    engagement: float | None = None
    offset: float | None = None
    film: float = 0.0
    sanding: float = 0.0
    detail: EdgeDetail | None = None
    groove_method: str | None = None
    tongue_method: str | None = None
    most_settings: int | None = None
    load: Load | None = None

    def __post_init__(self) -> None:
        """Each family needs its own parts, and sizes within reason."""
        self._check_parts()
        for name in ("tongue_thickness", "tongue_length", "groove_width", "groove_depth"):
            size = getattr(self, name)
            if size is not None and not 0.5 <= size <= 100:
                self._refuse(f"{name} {size:g} mm is not between 0.5 and 100 mm", "Check its units")
        for name, most in (
            ("bottom_gap", 10),
            ("engagement", 30),
            ("offset", 200),
            ("film", 1),
            ("sanding", 1),
        ):
            size = getattr(self, name)
            if size is not None and not 0 <= size <= most:
                self._refuse(
                    f"{name} {size:g} mm is not between 0 and {most} mm", "Check its units"
                )
        if self.most_settings is not None and self.most_settings < 1:
            self._refuse(f"most_settings is {self.most_settings}", "Give 1 or more")
        if self.engagement is not None and not self.opens:
            why = "it is glued" if self.in_a_row else "its boards do not stand in a row"
            self._refuse(
                f"an engagement is given, and {why}: nothing opens", "Leave engagement out"
            )
        hangs = self.load is not None and isinstance(self.load.carries, DrawerLoad)
        if hangs and not (self.family == "runner" or self.half):
            self._refuse(
                "a drawer hangs on a runner or on a half tongue, and this joint has neither",
                "Give force and along for a push on its side, or leave the load out",
            )

    @property
    def in_a_row(self) -> bool:
        """Whether boards of one part are joined side by side."""
        other = self.tongue or self.second_groove
        return other is not None and other.part == self.groove.part

    @property
    def opens(self) -> bool:
        """Whether faces open and close with the seasons: boards in a row that are not glued."""
        return self.in_a_row and not self.fit.glued

    def _check_parts(self) -> None:
        if self.family == "loose tongue":
            if self.strip is None or self.second_groove is None or self.tongue is not None:
                self._refuse(
                    "a loose tongue joins two grooves with a strip",
                    "Give groove, second_groove and strip, and no tongue",
                )
        elif (self.tongue is None) == (self.strip is None):
            self._refuse(
                "it needs a tongue or a strip to enter the groove, not both",
                "Give tongue for an edge to be cut, or strip for a part used as it is",
            )
        elif self.second_groove is not None:
            self._refuse("only a loose tongue has a second groove", "Leave second_groove out")
        if self.groove in (self.tongue, self.second_groove):
            self._refuse(
                f"the {self.groove} cannot meet itself", "Give another edge, or another part"
            )
        cut = (self.half, self.detail is not None, self.tongue_thickness is not None)
        if self.strip is not None and any(cut):
            self._refuse(
                "a strip is not cut: it has no half tongue, no detail, and its own thickness",
                "Leave half, detail and tongue_thickness out",
            )

    def _refuse(self, what: str, remedy: str) -> None:
        error = RangeError if " mm is not between " in what else InputError
        raise error(what, where=f"joint {self.name!r}", remedy=remedy)
