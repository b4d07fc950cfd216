"""Outlines, cutter profiles, passes, mating and gaps: the kernel that cuts and measures."""

from faywright.section.cutting import Pass, Sections, Source, cut, cut_boards
from faywright.section.mating import (
    Meeting,
    Placing,
    gaps,
    narrowest_gap,
    overlap_area,
    place,
    seats,
)
from faywright.section.posture import Posture
from faywright.section.profile import (
    Arc,
    Line,
    Profile,
    bead_profile,
    core_profile,
    dovetail_profile,
    profile_of,
    slot_profile,
    straight_profile,
    tongue_pair_profile,
    v_profile,
)

__all__ = [
    "Arc",
    "Line",
    "Meeting",
    "Pass",
    "Placing",
    "Posture",
    "Profile",
    "Sections",
    "Source",
    "bead_profile",
    "core_profile",
    "cut",
    "cut_boards",
    "dovetail_profile",
    "gaps",
    "narrowest_gap",
    "overlap_area",
    "place",
    "profile_of",
    "seats",
    "slot_profile",
    "straight_profile",
    "tongue_pair_profile",
    "v_profile",
]
