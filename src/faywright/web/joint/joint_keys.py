"""What a joint's form asks: every key of a ``[[joint]]`` table, in groups that change together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

from faywright.joints.grooves import GROOVE_METHODS
from faywright.joints.tongues import HALF_METHODS, TONGUE_METHODS
from faywright.joints.wanted import EdgeName, Family
from faywright.setups.choice import NEVER_OFFERED
from faywright.timber.strength import Duration
from faywright.web.fields import Choice, Kind, Spec, choices
from faywright.web.posted import odd

KeyPath = tuple[str, ...]
"""Where a key stands in the table of its joint, ``("groove", "part")``."""

FIT_KIND = "fit.kind"
"""No key: whether ``fit`` is the name of a packaged one, or a table of one's own figures."""

OWN = "own figures"


@dataclass(frozen=True, slots=True)
class Group:
    """Keys that are read and kept as one; a group of a single key needs no title."""

    name: str
    title: str
    specs: tuple[Spec, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Groups under one heading; ``folded`` is what most joints leave as it is."""

    title: str
    groups: tuple[Group, ...]
    folded: bool = False


def key_path(spec: Spec) -> KeyPath:
    """Where a key of the form stands in the joint's table."""
    return tuple(spec.key.split("."))


def _length(key: str, label: str, left_out: str = "", *, hint: str = "") -> Spec:
    return Spec(
        key=key, label=label, kind="length", left_out=left_out, needed=not left_out, help=hint
    )


def _choice(key: str, label: str, options: tuple[Choice, ...], *, hint: str = "") -> Spec:
    return Spec(key=key, label=label, kind="choice", choices=options, help=hint)


def _plain(key: str, label: str, kind: Kind, left_out: str = "", *, unit: str = "") -> Spec:
    return Spec(key=key, label=label, kind=kind, left_out=left_out, unit=unit)


def _alone(spec: Spec) -> Group:
    return Group(spec.key, "", (spec,))


def _place(key: str, label: str) -> tuple[Spec, Spec]:
    """Part and edge; the parts themselves are those of the piece."""
    edges = choices(get_args(EdgeName), "none")
    return (
        _choice(f"{key}.part", f"{label}: part", ()),
        _choice(f"{key}.edge", f"{label}: edge or face", edges),
    )


def _offered(methods: tuple[str, ...]) -> tuple[Choice, ...]:
    return choices([each for each in methods if each not in NEVER_OFFERED], "the one ranked first")


MEETS = Group(
    "meets",
    "What meets what",
    (
        _choice("family", "Family", choices(get_args(Family))),
        *_place("groove", "Groove"),
        *_place("tongue", "Tongue"),
        *_place("second_groove", "Other groove of a loose tongue"),
        _choice("strip", "Strip that goes in as it is", ()),
    ),
    "Of one part both: its boards join in a row. A loose tongue is a strip in two grooves, a "
    "runner a strip in one. A groove in a face runs along the board; housings across it are not "
    "reckoned.",
)

_FIT = Group(
    "fit",
    "Fit",
    (
        _choice(FIT_KIND, "Fit", ()),
        _plain("fit.name", "What you call your own", "text", "own"),
        _length("fit.aim", "Aim", "as the fit has it"),
        _length("fit.low", "Least that still goes together", "as the fit has it"),
        _length("fit.high", "Greatest that still holds", "as the fit has it"),
        Spec(key="fit.glued", label="Glued: it stays as it is assembled", kind="flag"),
    ),
    "Clearance a side, cheek to wall, in the finished joint. A typed figure makes the fit your "
    "own.",
)

_DETAIL = Group(
    "detail",
    "Profile along the joint",
    (
        _choice(
            "detail.kind", "Profile on face A", choices(("V", "bead", "square reveal"), "none")
        ),
        _length("detail.size", "Its width on one board", "none", hint="of a bead, its radius"),
    ),
)

_METHOD = Group(
    "method",
    "Way to cut it",
    (
        _choice("method.groove", "Groove", _offered(GROOVE_METHODS)),
        _choice("method.tongue", "Tongue", _offered((*TONGUE_METHODS, *HALF_METHODS))),
    ),
)

_LOAD = Group(
    "load",
    "What it carries",
    (
        _plain("load.force", "Push on its side", "number", "none", unit="N, 10 to a kilogram"),
        _length("load.along", "Spread along", "needed with a push"),
        _plain("load.drawer_kg", "Drawer that hangs on it, filled", "number", "none", unit="kg"),
        _plain("load.lean", "A hand that leans on its front", "number", "0", unit="N"),
        _length("load.pulled_out", "Pulled out", "half its length"),
        _length("load.projection", "Runner stands out by", "as far as it goes in"),
        _choice("load.duration", "In all it lasts", choices(get_args(Duration)[1:], "permanent")),
        _plain("load.strength_ratio", "Share of clear wood's strength", "number", "1"),
    ),
    "A push, or a drawer. A guide for furniture, not for structures.",
)

SECTIONS = (
    Section(
        "Groove and tongue",
        tuple(
            _alone(each)
            for each in (
                _length("groove_depth", "Groove depth", "tongue and bottom gap together"),
                _length("groove_width", "Groove width", "to suit the tongue"),
                _length("tongue_thickness", "Tongue thickness", "a third of the board"),
                _length("tongue_length", "Tongue length", "depth less bottom gap, or the usual"),
                _length("bottom_gap", "Bottom gap", "1 mm"),
                _length("offset", "Offset, face A to near wall", "centred"),
                _length("engagement", "Engagement kept at the driest", "3 mm"),
            )
        ),
    ),
    Section("Fit", (_FIT,)),
    Section(
        "Finish",
        (
            _alone(_length("film", "Film of finish on every surface", "0 mm")),
            _alone(_length("sanding", "Sanded off each cheek", "0 mm")),
        ),
    ),
    Section(
        "What meets what",
        (
            MEETS,
            _alone(
                Spec(
                    key="half",
                    label="Half tongue: one shoulder, face A runs on as a cheek",
                    kind="flag",
                )
            ),
            _alone(_choice("order", "Order of boards", choices(("as listed",), "free"))),
        ),
        folded=True,
    ),
    Section("Profile along the joint", (_DETAIL,), folded=True),
    Section(
        "Way to cut it",
        (
            _METHOD,
            _alone(_plain("most_settings", "Most settings a side", "whole", "as many as needed")),
        ),
        folded=True,
    ),
    Section("What it carries", (_LOAD,), folded=True),
    Section(
        "Name", (_alone(Spec(key="name", label="Name", kind="text", needed=True)),), folded=True
    ),
)

LEFT_OUT = {"order": "free", "load.duration": "permanent"}
"""Values that say no more than what holds without them: they are shown alike."""

PARTS = ("groove.part", "tongue.part", "second_groove.part", "strip")
"""Keys that name one of the piece's parts."""


def groups() -> Iterator[Group]:
    """All groups, in the order of the page."""
    for section in SECTIONS:
        yield from section.groups


def group_named(name: str) -> Group:
    """The group of that name.

    Raises
    ------
    InputError
        There is none.
    """
    for group in groups():
        if group.name == name:
            return group
    raise odd("group")


def group_with(key: str) -> Group:
    """The group that a key belongs to.

    Raises
    ------
    InputError
        There is none.
    """
    for group in groups():
        if key in {spec.key for spec in group.specs}:
            return group
    raise odd("path")
