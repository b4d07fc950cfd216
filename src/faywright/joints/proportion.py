"""Proportions: how thick and long a tongue, how wide and deep a groove, and where. [mm]"""

from __future__ import annotations

from dataclasses import dataclass

from faywright.errors import InfeasibleError
from faywright.joints.moving import LEAST_BOTTOM, Moving
from faywright.joints.wanted import WantedJoint
from faywright.joints.work import Work
from faywright.timber.movement import MARGIN

NARROW_BOARD = 75.0
"""Boards narrower than this take a tongue as long as it is thick. Common practice, no source."""

BOTTOM_GAP = 1.0
"""Groove deeper than the tongue is long. Common practice, no source: 0.8 to 1.6 mm."""

KEPT_BAND = 0.3
"""Least share of a fit's band to be left for errors of cutting, when the seasons have theirs."""

LEAST_TONGUE = 0.5
"""A tongue shorter than this is none. [mm]"""

LEAST_WALL = 3.0
"""Least wall beside a groove, and least wood left under it. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """What the joint should be, before a cutter decides its groove. [mm]

    ``width`` and ``depth`` are the groove's, ``length`` the tongue's or how far a strip enters.
    ``thickness`` is the tongue's or strip's. ``offset`` is from face A to the near wall, None
    for centred. ``play`` is the clearance in all to be cut; ``band`` the least and most of it.
    ``given`` tells whether the maker gave the width, or what it follows from. ``grows`` is what
    moisture adds to the play by the day of assembly; it is taken off ``play`` and ``band``.
    ``usual_length`` is the tongue's where nothing moved, ``length`` the one that movement asks for.
    """

    width: float
    depth: float
    thickness: float
    length: float
    offset: float | None
    play: float
    band: tuple[float, float]
    given: bool
    grows: float = 0.0
    usual_length: float = 0.0


def target_of(
    wanted: WantedJoint,
    grooved: Work,
    tongued: Work,
    *,
    strip: bool,
    moving: Moving | None = None,
    opens: bool = False,
) -> Target:
    """Proportions from the maker's figures, or from the usual ones where none are given.

    A third of the thickness for the tongue (common practice, no source); its length equal to
    its thickness on narrow boards, else half the board's thickness, from 6 to 12 mm. Where a
    climate is given, ``moving`` says how the timber moves in it: the play is cut so that it is
    right when assembled and, unless glued, in every season; a tongue between faces that open
    (``opens``) is long enough to stay in its groove, and the groove deep enough never to bottom.

    Raises
    ------
    InfeasibleError
        The figures contradict each other.
    """
    extra = cut_allowance(wanted)
    play = 2 * wanted.fit.aim + extra
    band = (2 * wanted.fit.low + extra, 2 * wanted.fit.high + extra)
    thickness = _thickness(wanted, tongued, play, strip=strip)
    grows = 0.0
    if moving is not None:
        grows, later = moving.play_changes(thickness + play, thickness)
        band = _for_all_seasons(band, () if wanted.fit.glued else later)
        play = min(max(play, band[0]), band[1]) - grows
        band = (band[0] - grows, band[1] - grows)
        thickness = _thickness(wanted, tongued, play, strip=strip)
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
    usual = length
    if moving is not None:
        length, depth = _room_to_move(wanted, grooved, length, depth, moving, opens=opens)
    if length < LEAST_TONGUE:
        raise InfeasibleError(
            f"with {depth - length:.3g} mm of room at its bottom a groove {depth:.3g} mm deep "
            "leaves no tongue to speak of",
            where=f"joint {wanted.name!r}",
            remedy="Make the groove deeper, or give a smaller bottom_gap",
        )
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
        grows=grows,
        usual_length=usual,
    )


def _thickness(wanted: WantedJoint, tongued: Work, play: float, *, strip: bool) -> float:
    """Of the tongue or strip: as it is, as given, as a given groove leaves it, or a third."""
    if strip:
        return tongued.middle
    if wanted.tongue_thickness is not None:
        return wanted.tongue_thickness
    if wanted.groove_width is not None:
        return wanted.groove_width - play
    return tongued.middle / 3


def _for_all_seasons(band: tuple[float, float], changes: tuple[float, ...]) -> tuple[float, float]:
    """The play at assembly that stays within ``band`` after each of ``changes``. [mm]

    Where the seasons move it more than the band allows, the band stays as it is, and what the
    seasons do is told with the joint.
    """
    low = band[0] - min(0.0, *changes, 0.0)
    high = band[1] - max(0.0, *changes, 0.0)
    return (low, high) if high - low > KEPT_BAND * (band[1] - band[0]) else band


def _room_to_move(
    wanted: WantedJoint,
    grooved: Work,
    length: float,
    depth: float,
    moving: Moving,
    *,
    opens: bool,
) -> tuple[float, float]:
    """Length of the tongue and depth of the groove with room for the seasons, where free. [mm]"""
    usual = depth - length

    def gap_under(tongue: float) -> float:
        if wanted.bottom_gap is not None:
            return usual
        return max(usual, LEAST_BOTTOM + MARGIN * moving.bottom_loss(tongue + usual, tongue))

    if opens and wanted.tongue_length is None and wanted.groove_depth is None:
        widest = float(grooved.deep.max())
        loose = wanted.second_groove is not None
        for _ in range(2 if loose else 1):  # a longer tongue may want more room, and it less
            slides = gap_under(length) if loose else None
            least = moving.least_length(widest, from_face=wanted.tongue is not None, slides=slides)
            length = max(length, least)
    gap = gap_under(length)
    if wanted.groove_depth is None:
        return length, length + gap
    if wanted.tongue_length is None:
        return depth - gap, depth
    return length, depth


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
