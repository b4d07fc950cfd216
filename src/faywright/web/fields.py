"""Fields of forms: what a maker may set, how it is shown, and what typed text stands for.

A ``Spec`` says what a key of a document is; with a document it makes a ``Field``, which the
template ``parts/field.html`` shows. Nothing that is typed is judged here: the document's own
reader does that, and says what is wrong.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal, get_args
from zlib import crc32

from faywright.lengths import LengthStyle, Unit
from faywright.piece.amending import Value
from faywright.web.changing import LISTS, NamedPath, value_at
from faywright.web.readings_typed import ACROSS, readings
from faywright.web.typed import length_shown, length_typed, unit_of

Kind = Literal[
    "length",
    "text",
    "whole",
    "number",
    "flag",
    "choice",
    "readings",
    "numbers",
    "date",
    "many",
]
"""``number`` may have a sign after it, as "9.5 %" or "68 F"; ``numbers`` are a list of them, and
``many`` are several of the choices."""

MANY = "; "
"""Between several choices, or readings, in one text."""

_PLAIN = re.compile(r"[-+]?\d+(?:[.,]\d+)?")
_LONGEST_SAID = 120
_THOUSANDS = re.compile(r"(?<![\d.,])\d{1,3}(?:(?:,\d{3})+|(?:[ \u00a0\u202f]\d{3})+)(?!\d)")


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the values that a field may have, and how it is called on the page."""

    value: str
    words: str


def choices(values: Iterable[str], left_out: str | None = None) -> tuple[Choice, ...]:
    """Values that are their own words; ``left_out`` calls what is taken without one.

    >>> choices(["free", "as listed"], "as it comes")[0]
    Choice(value='', words='as it comes')
    """
    first = () if left_out is None else (Choice("", left_out),)
    return (*first, *(Choice(value, value) for value in values))


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """A key of a document that a maker may set; dots lead into tables inside, "fence.kind".

    ``left_out`` says what is taken without it, ``suggests`` is the id of a datalist on the page.
    """

    key: str
    label: str
    kind: Kind
    needed: bool = False
    unit: str = ""
    choices: tuple[Choice, ...] = ()
    left_out: str = ""
    help: str = ""
    suggests: str = ""

    @property
    def path(self) -> NamedPath:
        """The key as a path."""
        return tuple(self.key.split("."))


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A field as a page shows it: ``shown`` is its text, empty where the document has nothing."""

    label: str
    path: NamedPath
    kind: Kind
    shown: str
    unit: str = ""
    choices: tuple[Choice, ...] = ()
    help: str = ""
    fault: str = ""
    left_out: str = ""
    needed: bool = False
    suggests: str = ""
    was: str | None = None
    form: str = ""
    """What tells it apart from a field of the same path in another form of the page."""

    @property
    def before(self) -> str:
        """What the field showed when it was last read, where ``shown`` is what was typed since."""
        return self.shown if self.was is None else self.was

    @property
    def said(self) -> str:
        """What it shows, with its unit where that is not typed with it."""
        bare = self.unit and _PLAIN.fullmatch(self.shown)
        return f"{self.shown} {self.unit}" if bare else self.shown

    @property
    def path_text(self) -> str:
        """The path as a form sends it."""
        return json.dumps(self.path)

    @property
    def name(self) -> str:
        """The last steps of the path by which forms of several fields know it."""
        return ".".join(str(step) for step in self.path)

    @property
    def ticked(self) -> tuple[tuple[Choice, bool], ...]:
        """Each choice, and whether it is among those that are shown."""
        among = self.shown.split(MANY)
        return tuple((choice, choice.value in among) for choice in self.choices)

    @property
    def id(self) -> str:
        """What the element is called in a page."""
        words = re.sub(r"[^a-z0-9_]+", "-", self.name.lower())[:60]
        return f"f-{words}-{crc32((self.form + self.path_text).encode()):x}"

    @property
    def described_by(self) -> str:
        """Ids of what is said about it."""
        said = [f"{self.id}-help"] if self.help else []
        return " ".join([*said, f"{self.id}-fault"] if self.fault else said)


def fields_of(
    specs: Iterable[Spec], tables: Mapping[str, object], style: LengthStyle, at: NamedPath = ()
) -> tuple[Field, ...]:
    """The fields of the table at a path of names in a document, whose tables those are."""
    units = units_of(tables)
    return tuple(
        _field(
            spec,
            path := (*at, *spec.path),
            shown(spec.kind, value_at(tables, path), style, units),
            style,
        )
        for spec in specs
    )


def blank_fields(
    specs: Iterable[Spec],
    style: LengthStyle,
    typed: Mapping[str, str] | None = None,
    faults: Mapping[str, str] | None = None,
) -> tuple[Field, ...]:
    """Fields of a form for something new, with what was typed and its faults, by key."""
    typed, faults = typed or {}, faults or {}
    return tuple(
        replace(
            _field(spec, spec.path, typed.get(spec.key, ""), style),
            fault=faults.get(spec.key, ""),
        )
        for spec in specs
    )


def _field(spec: Spec, path: NamedPath, shown: str, style: LengthStyle) -> Field:
    long = spec.kind in {"length", "readings"}
    return Field(
        label=spec.label,
        path=path,
        kind=spec.kind,
        shown=shown,
        unit=spec.unit or (unit_of(style) if long else ""),
        choices=spec.choices,
        help=spec.help,
        left_out=spec.left_out,
        needed=spec.needed,
        suggests=spec.suggests,
    )


def units_of(tables: Mapping[str, object]) -> Unit:
    """The unit of bare numbers in a document that was read without faults."""
    units: Sequence[Unit] = get_args(Unit)
    return next((each for each in units if tables.get("units") == each), "mm")


def shown(kind: Kind, value: object, style: LengthStyle, units: Unit) -> str:
    """What a field shows of a value of a document; empty where there is none.

    >>> shown("readings", [[19.02, 18.95], [19, 18.96]], LengthStyle("mm"), "mm")
    '19.02 | 18.95; 19 | 18.96'
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else ""
    if isinstance(value, list):
        inner: Kind = "length" if kind == "readings" else "number"
        return MANY.join(
            f" {ACROSS} ".join(shown(inner, each, style, units) for each in place)
            if isinstance(place, list)
            else shown(inner, place, style, units)
            for place in value
        )
    if kind in {"length", "readings"} and isinstance(value, (int, float, str)):
        return length_shown(value, style, units)
    return f"{value:.12g}" if isinstance(value, float) and abs(value) < 1e5 else str(value)


def typed(kind: Kind, text: str, style: LengthStyle, units: Unit) -> Value | None:
    """What a document shall have for a text that was typed; None where it is left out.

    Raises
    ------
    InputError
        Readings are not parted plainly.

    Examples
    --------
    >>> typed("number", "9,5", LengthStyle("mm"), "mm")
    9.5
    """
    text = text.strip()
    if not text:
        return None
    if kind == "length":
        return length_typed(text, style, units)
    if kind == "readings":
        return [
            [length_typed(each, style, units) for each in place]
            if isinstance(place, list)
            else length_typed(place, style, units)
            for place in readings(text)
        ]
    plain = _PLAINLY.get(kind)
    return text if plain is None else plain(text)


def _numbers(text: str) -> Value:
    """What parts thousands, "18,000" or "18 000", parts nothing else."""
    whole = _THOUSANDS.sub(lambda found: re.sub(r"\D", "", found[0]), text)
    return [_number(each) for each in re.split(r"[;\s]+|,\s*", whole) if each]


def _several(text: str) -> Value:
    return list(text.split(MANY))


def _flag(text: str) -> Value:
    return text == "true"


def _date(text: str) -> date | str:
    """A day as one, all else as it is."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return text


def _number(text: str) -> int | float | str:
    """A plain number as one, all else as it is."""
    if not _PLAIN.fullmatch(text) or len(text) > 15:
        return text
    text = text.replace(",", ".")
    return float(text) if "." in text else int(text)


_PLAINLY: Mapping[Kind, Callable[[str], Value]] = {
    "numbers": _numbers,
    "number": _number,
    "whole": _number,
    "flag": _flag,
    "many": _several,
    "date": _date,
}


def edit_said(path: NamedPath, kind: Kind, before: object, after: object, units: Unit) -> str:
    """A change in a sentence, for history.

    >>> edit_said(("joint", "back", "groove_depth"), "length", 8, 9.5, "mm")
    'groove depth of joint back: 9.5 mm, was 8 mm'
    >>> edit_said(("climate", "room"), "choice", "unheated room", None, "mm")
    'room of climate: left out, was unheated room'
    """
    after_words, before_words = (_said(each, kind, units) for each in (after, before))
    return f"{path_said(path)}: {after_words}, was {before_words}"


def path_said(path: NamedPath) -> str:
    """What a path leads to, as a maker would say it.

    >>> path_said(("joint", "back", "groove", "part")), path_said(("title",))
    ('part of groove of joint back', 'title')
    """
    steps: list[str] = []
    for step in path:
        if steps and steps[-1] in LISTS:
            steps[-1] = f"{steps[-1]} {step if isinstance(step, str) else step + 1}"
        else:
            steps.append(str(step).replace("_", " "))
    return " of ".join(reversed(steps))[:_LONGEST_SAID]


def _said(value: object, kind: Kind, units: Unit) -> str:
    if value is None:
        return "left out"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        words = ", ".join(_said(each, kind, units) for each in value)
        return words if len(words) <= _LONGEST_SAID else f"{words[:_LONGEST_SAID]} ..."
    if kind in {"length", "readings"} and isinstance(value, (int, float)):
        return f"{value:.12g} {units}"
    text = f"{value:.12g}" if isinstance(value, float) else str(value)
    return text if len(text) <= _LONGEST_SAID else f"{text[:_LONGEST_SAID]} ..."
