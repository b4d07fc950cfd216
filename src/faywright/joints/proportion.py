"""Proportions: how thick and long a tongue, how wide and deep a groove, and where. [mm]"""

from __future__ import annotations

from dataclasses import dataclass

from faywright.errors import InfeasibleError
from faywright.joints.wanted import WantedJoint
from faywright.joints.work import Work

NARROW_BOARD = 75.0
"""Boards narrower than this take a tongue as long as it is thick. Common practice, no source."""

BOTTOM_GAP = 1.0
"""Groove deeper than the tongue is long. Common practice, no source: 0.8 to 1.6 mm."""

LEAST_WALL = 3.0
"""Least wall beside a groove, and least wood left under it. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """What the joint should be, before a cutter decides its groove. [mm]

    ``width`` and ``depth`` are the groove's, ``length`` the tongue's or how far a strip enters.
    ``thickness`` is the tongue's or strip's. ``offset`` is from face A to the near wall, None
    for centred. ``play`` is the clearance in all to be cut; ``band`` the least and most of it.
    ``given`` tells whether the maker gave the width, or what it follows from.
    """

    width: float
    depth: float
    thickness: float
    length: float
    offset: float | None
    play: float
    band: tuple[float, float]
    given: bool


def target_of(wanted: WantedJoint, grooved: Work, tongued: Work, *, strip: bool) -> Target:
    """Proportions from the maker's figures, or from the usual ones where none are given.

    A third of the thickness for the tongue (common practice, no source); its length equal to
    its thickness on narrow boards, else half the board's thickness, from 6 to 12 mm.

    Raises
    ------
    InfeasibleError
        The figures contradict each other.
    """
    extra = cut_allowance(wanted)
    play = 2 * wanted.fit.aim + extra
    band = (2 * wanted.fit.low + extra, 2 * wanted.fit.high + extra)
    if strip:
        thickness = tongued.middle
    elif wanted.tongue_thickness is not None:
        thickness = wanted.tongue_thickness
    elif wanted.groove_width is not None:
        thickness = wanted.groove_width - play
    else:
        thickness = tongued.middle / 3
    if wanted.groove_width is not None and wanted.tongue_thickness is not None and not strip:
        play = wanted.groove_width - thickness
        if not band[0] <= play <= band[1]:
            raise InfeasibleError(
                f"a tongue {thickness:g} mm thick in a groove {wanted.groove_width:g} mm wide has "
                f"{play:.2f} mm of play, and the fit wants {band[0]:.2f} to {band[1]:.2f} mm",
                where=f"joint {wanted.name!r}",
                remedy="Give one of the two, or a fit that allows both",
            )
    length, depth = _length_and_depth(wanted, grooved, tongued, thickness, strip=strip)
    if depth <= length:
        raise InfeasibleError(
            f"a groove {depth:g} mm deep leaves no room under a tongue {length:g} mm long",
            where=f"joint {wanted.name!r}",
            remedy=f"Make the tongue at most {depth - BOTTOM_GAP:g} mm, or the groove deeper",
        )
    return Target(
        width=thickness + play if wanted.groove_width is None else wanted.groove_width,
        depth=depth,
        thickness=thickness,
        length=length,
        offset=wanted.offset,
        play=play,
        band=band,
        given=wanted.groove_width is not None
        or (wanted.tongue_thickness is not None and not strip),
    )


def cut_allowance(wanted: WantedJoint) -> float:
    """Play to add when cutting for what happens to the cheeks before assembly. [mm]

    A film on cheek and wall takes twice its thickness on each side, four times in all; sanding
    a cheek gives back what it takes off, on both sides.
    """
    return 4 * wanted.film - 2 * wanted.sanding


def _length_and_depth(
    wanted: WantedJoint, grooved: Work, tongued: Work, thickness: float, *, strip: bool
) -> tuple[float, float]:
    gap = BOTTOM_GAP if wanted.bottom_gap is None else wanted.bottom_gap
    if None not in (wanted.tongue_length, wanted.groove_depth, wanted.bottom_gap):
        raise InfeasibleError(
            "tongue_length, groove_depth and bottom_gap are all given, and two decide the third",
            where=f"joint {wanted.name!r}",
            remedy="Leave one of them out",
        )
    if wanted.tongue_length is not None:
        length = wanted.tongue_length
    elif wanted.groove_depth is not None:
        length = wanted.groove_depth - gap
    elif strip:
        length = float(grooved.deep.min()) / 2 - gap if grooved.on_face else thickness * 1.5
        if wanted.second_groove is not None:
            length = min(length, float(tongued.deep.min()) / 2)
    elif float(tongued.deep.min()) < NARROW_BOARD:
        length = max(thickness, 5.0)
    else:
        length = min(max(tongued.middle / 2, 6.0), 12.0)
    depth = length + gap if wanted.groove_depth is None else wanted.groove_depth
    return length, depth
