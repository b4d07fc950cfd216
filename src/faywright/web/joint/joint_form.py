"""The form of a joint: its groups as pages show them, with what was typed and its faults."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from faywright.errors import DocumentError, Fault, PlanError
from faywright.fit.bands import fits
from faywright.piece.words import Write, span
from faywright.web.fields import Choice, Field, Spec, blank_fields, choices
from faywright.web.joint.joint_at import JointAt
from faywright.web.joint.joint_keys import FIT_KIND, OWN, PARTS, SECTIONS, Group
from faywright.web.joint.joint_typed import Typed, Written


@dataclass(frozen=True, slots=True)
class Faults:
    """What is wrong with a group: by key, and of the group as a whole."""

    by_key: Mapping[str, str] = field(default_factory=dict)
    whole: str = ""

    @property
    def said(self) -> str:
        """All of them."""
        return " ".join([*self.by_key.values(), self.whole]).strip()


NONE = Faults()

_MILLIMETRES = re.compile(r"([0-9.]+) mm")
_SIGNS = ("mm", "in", "kg", "N")


@dataclass(frozen=True, slots=True, kw_only=True)
class FormGroup:
    """A group as it is shown: each field with its key; ``base`` is what it was read from."""

    name: str
    title: str
    note: str
    base: int
    fields: tuple[tuple[str, Field], ...]
    whole: str = ""
    faulty: bool = False

    @property
    def opened(self) -> bool:
        """Whether figures of one's own are shown at once: they are in use, or not right."""
        return self.faulty or any(key == FIT_KIND and one.shown == OWN for key, one in self.fields)

    @property
    def id(self) -> str:
        """What its form is called in a page."""
        return f"g-{self.name.replace('.', '-')}"


@dataclass(frozen=True, slots=True)
class FormSection:
    """Groups under one heading; ``said`` is what is set of them, for where they are folded."""

    title: str
    groups: tuple[FormGroup, ...]
    folded: bool = False

    @property
    def opened(self) -> bool:
        """Whether it is unfolded at once: something in it is not right."""
        return any(group.faulty for group in self.groups)

    @property
    def said(self) -> str:
        """What is set, in the words of the form."""
        found = [_set(field) for group in self.groups for _, field in group.fields]
        return ", ".join(each for each in found if each)


def written_of(at: JointAt) -> Written:
    """The joint as its document has it."""
    return Written(table=at.table, fit=at.wanted.fit, style=at.style, units=at.ground.piece.units)


def sections_of(
    at: JointAt, typed: Typed | None = None, faults: Faults = NONE
) -> tuple[FormSection, ...]:
    """The whole form; a group that was ``typed`` keeps its texts, with its faults."""
    return tuple(
        FormSection(
            section.title,
            tuple(
                group_of(at, group, typed, faults)
                if typed is not None and typed.group is group
                else group_of(at, group)
                for group in section.groups
            ),
            section.folded,
        )
        for section in SECTIONS
    )


def _set(field: Field) -> str:
    """What a field says, empty where it says nothing."""
    if field.kind == "flag":
        return field.label.partition(":")[0].lower() if field.shown else ""
    unit = f" {field.unit}" if field.shown[-1:].isdigit() and field.unit in _SIGNS else ""
    return f"{field.shown}{unit}"


def group_of(
    at: JointAt, group: Group, typed: Typed | None = None, faults: Faults = NONE
) -> FormGroup:
    """A group as the document has it, or as it was typed."""
    written = written_of(at)
    stored = {spec.key: written.shown(spec) for spec in group.specs}
    was, texts = (stored, stored) if typed is None else (typed.was, typed.texts)
    specs = [_offered(at, spec, texts[spec.key]) for spec in group.specs]
    fields = blank_fields(specs, at.style, texts, faults.by_key)
    return FormGroup(
        name=group.name,
        title=group.title,
        note=group.note,
        base=at.base,
        fields=tuple(
            (spec.key, replace(each, was=was[spec.key]))
            for spec, each in zip(specs, fields, strict=True)
        ),
        whole=faults.whole,
        faulty=bool(faults.said),
    )


def _offered(at: JointAt, spec: Spec, shown: str) -> Spec:
    """A key with what can be chosen for it in this piece, among it what is chosen now."""
    found = spec.choices
    if spec.key in PARTS:
        needed = spec.key == "groove.part"
        names = [part.name for part in at.ground.piece.parts if part.boards]
        found = choices(names, None if needed else "none")
    elif spec.key == FIT_KIND:
        timber = at.ground.piece.part(at.wanted.strip or at.wanted.groove.part).timber
        if timber != "sheet":
            timber = at.ground.piece.part(at.wanted.groove.part).timber
        found = fit_choices(timber, at.write)
    elif spec.kind == "length" or spec.left_out:
        return replace(spec, left_out="", help=_help(spec, at.write))
    if spec.kind == "choice" and shown not in {each.value for each in found}:
        found = (*found, Choice(shown, shown or "none"))
    return replace(spec, choices=tuple(found))


def _help(spec: Spec, write: Write) -> str:
    """What is taken where a key is left out, after what it is."""
    length = _MILLIMETRES.fullmatch(spec.left_out)
    named = spec.left_out if length is None else write(float(length[1]))
    taken = f"left out: {named}" if named else ""
    return "; ".join(each for each in (spec.help, taken) if each)


def fit_choices(timber: str, write: Write) -> tuple[Choice, ...]:
    """The packaged fits for a timber with their figures, and one's own."""
    found = [
        Choice(name, f"{name}, {span(fit.low, fit.high, write)}, aim {write(fit.aim)}")
        for (name, of), fit in fits().items()
        if of == timber
    ]
    return (*found, Choice(OWN, OWN))


def unknown(typed: Typed) -> Faults:
    """Methods that there are not: nobody reads them before a plan is made."""
    found = {}
    for spec in typed.changed:
        known = [each.value for each in spec.choices]
        text = typed.texts[spec.key]
        if typed.group.name == "method" and text not in known:
            named = "; ".join(each for each in known if each)
            found[spec.key] = f"There is no method {text!r}. Use one of: {named}."
    return Faults(found)


def faults_of(error: PlanError, group: Group, place: int) -> Faults:
    """What an error says beside the fields of a group; ``place`` of the joint counts from 1."""
    faults = error.faults if isinstance(error, DocumentError) else ()
    if not faults:
        return _placed(group, [(None, f"{error.what}. {error.remedy}.")])
    found = [(_key(each, group, place), each) for each in faults]
    return _placed(group, [(key, _said(each, key, place)) for key, each in found])


def _placed(group: Group, said: Sequence[tuple[str | None, str]]) -> Faults:
    only = group.specs[0].key if len(group.specs) == 1 else None
    by_key: dict[str, str] = {}
    whole = []
    for key, words in said:
        beside = key or only
        if beside is None:
            whole.append(words)
        else:
            by_key[beside] = f"{by_key[beside]} {words}" if beside in by_key else words
    return Faults(by_key, " ".join(whole))


def _key(fault: Fault, group: Group, place: int) -> str | None:
    """The key that a fault is about, if it is one of the group."""
    if fault.path[:2] != ("joint", place - 1):
        return None
    path = [str(step) for step in fault.path[2:]]
    known = [spec.key for spec in group.specs]
    for length in range(len(path), 0, -1):
        key = ".".join(path[:length])
        if key in known:
            return key
    if path == ["fit"] and FIT_KIND in known:
        return FIT_KIND
    return next((key for key in known if path and key.startswith(f"{path[0]}.")), None)


def _said(fault: Fault, key: str | None, place: int) -> str:
    """A fault in words; one of another table, or of a key elsewhere on the page, says so first."""
    here = key is not None or fault.path == ("joint", place - 1)
    return f"{'' if here else f'{fault.field}: '}{fault.what}. {fault.remedy}."
