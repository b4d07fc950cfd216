"""What was typed into the form of a joint, as values for its table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from faywright.fit.bands import Fit
from faywright.lengths import LengthStyle, Unit
from faywright.piece.amending import Value
from faywright.web.fields import Spec, edit_said, shown, typed
from faywright.web.joint.joint_keys import FIT_KIND, LEFT_OUT, OWN, Group, KeyPath, key_path

Values = dict[KeyPath, Value | None]

_FIGURES = ("aim", "low", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A joint's table as its document has it, and how lengths are shown and stored."""

    table: Mapping[str, object]
    fit: Fit
    style: LengthStyle
    units: Unit

    def value(self, path: KeyPath) -> object:
        """What the document has at a path; None where it has nothing."""
        found: object = self.table
        for step in path:
            found = found.get(step) if isinstance(found, dict) else None
        return found

    def shown(self, spec: Spec) -> str:
        """What the form shows for a key."""
        if spec.key == FIT_KIND:
            fit = self.table.get("fit")
            return fit if isinstance(fit, str) else OWN
        value = self.value(key_path(spec))
        if value is not None and value == LEFT_OUT.get(spec.key):
            return ""
        return shown(spec.kind, value, self.style, self.units)


@dataclass(frozen=True, slots=True)
class Typed:
    """A group as it was sent: ``texts`` and what was shown before them, by key."""

    group: Group
    texts: Mapping[str, str]
    was: Mapping[str, str]

    @property
    def changed(self) -> tuple[Spec, ...]:
        """Keys whose text is another than was shown."""
        return tuple(
            spec for spec in self.group.specs if self.texts[spec.key] != self.was[spec.key]
        )


def typed_in(group: Group, sent: Mapping[str, str]) -> Typed:
    """A group as a form sent it; what is not sent was not ticked."""
    texts = {spec.key: sent.get(spec.key, "").strip() for spec in group.specs}
    was = {spec.key: sent.get(f"was:{spec.key}", "").strip() for spec in group.specs}
    return Typed(group, texts, was)


def one_typed(group: Group, key: str, value: str, was: str, written: Written) -> Typed:
    """A group of which one key was typed, the others as they are."""
    stored = {spec.key: written.shown(spec) for spec in group.specs}
    return Typed(group, {**stored, key: value.strip()}, {**stored, key: was.strip()})


def values_of(typed_group: Typed, written: Written) -> Values:
    """Values for the joint's table; None takes a key away. What was not changed is left out."""
    plain: Values = {
        key_path(spec): typed(spec.kind, typed_group.texts[spec.key], written.style, written.units)
        for spec in typed_group.changed
        if spec.key != FIT_KIND
    }
    if typed_group.group.name == "fit":
        return _fit(typed_group, plain, written)
    if typed_group.group.name == "meets":
        plain |= _left_behind(typed_group, written)
    return _in_tables(plain, written)


def new_table(typed_group: Typed) -> dict[str, Value]:
    """The table of a new joint; what its family has no use for is left out."""
    found: dict[str, Value] = {}
    for spec in typed_group.group.specs:
        path, text = key_path(spec), typed_group.texts[spec.key]
        if not text:
            continue
        if len(path) == 1:
            found[path[0]] = text
        else:
            inner = found.setdefault(path[0], {})
            if isinstance(inner, dict):
                inner[path[1]] = text
    if found.get("family") == "loose tongue" or (
        found.get("family") == "runner" and "strip" in found
    ):
        found.pop("tongue", None)
    if found.get("family") != "loose tongue":
        found.pop("second_groove", None)
    return found


def said(typed_group: Typed, written: Written, joint: str) -> str:
    """The change in words, for the history."""
    found = []
    for spec in typed_group.changed:
        if spec.key == FIT_KIND:
            before, after = typed_group.was[spec.key], typed_group.texts[spec.key]
            found.append(f"fit of joint {joint}: {after}, was {before}")
            continue
        path = key_path(spec)
        after_value = typed(spec.kind, typed_group.texts[spec.key], written.style, written.units)
        whole = ("joint", joint, *path)
        found.append(edit_said(whole, spec.kind, written.value(path), after_value, written.units))
    return "; ".join(found)


def _in_tables(plain: Values, written: Written) -> Values:
    """A table that is new is put whole, and one that would be empty goes."""
    found: Values = {path: value for path, value in plain.items() if len(path) == 1}
    for outer in dict.fromkeys(path[0] for path in plain if len(path) == 2):
        inner = {path[1]: value for path, value in plain.items() if path[:-1] == (outer,)}
        old = written.table.get(outer)
        there = old if isinstance(old, dict) else {}
        left = {key: value for key, value in {**there, **inner}.items() if value is not None}
        if not left:
            found[outer,] = None
        elif there:
            found |= {(outer, key): value for key, value in inner.items()}
        else:
            found[outer,] = left
    return {
        path: value
        for path, value in found.items()
        if value is not None or written.value(path) is not None
    }


def _left_behind(typed_group: Typed, written: Written) -> Values:
    """Places that the family has no use for, and a tongue or strip that another takes over from."""
    loose = typed_group.texts["family"] == "loose tongue"
    gone = ["tongue"] if loose else ["second_groove"]
    new = {spec.key for spec in typed_group.changed if typed_group.texts[spec.key]}
    if not loose and "strip" in new:
        gone.append("tongue")
    elif not loose and "tongue.part" in new:
        gone.append("strip")
    found: Values = {}
    for key in gone:
        table = written.table.get(key)
        inner = table if isinstance(table, dict) else {}
        for each in inner:
            found[key, each] = None
        if not inner:
            found[(key,)] = None
    return found


def _fit(typed_group: Typed, plain: Values, written: Written) -> Values:
    """A packaged fit by its name, or a table; what is not typed of that is as the fit has it."""
    kind, was = typed_group.texts[FIT_KIND], typed_group.was[FIT_KIND]
    if kind not in (was, OWN):
        return {("fit",): kind}
    if isinstance(written.table.get("fit"), dict):
        return _in_tables(plain, written)
    if kind == was and not any(value is not None for value in plain.values()):
        return {}
    table = {key: _figure(getattr(written.fit, key), written.units) for key in _FIGURES}
    table |= {path[1]: value for path, value in plain.items() if value is not None}
    if written.fit.glued:
        table.setdefault("glued", True)
    return {("fit",): table}


def _figure(length: float, units: Unit) -> Value:
    """A length of a packaged fit, as a document of these units may have it."""
    return float(f"{length:.4g}") if units == "mm" else f"{length:.4g} mm"
