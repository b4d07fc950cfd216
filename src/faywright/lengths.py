r"""Lengths as makers write them: read exactly, written to the digits a gauge can hold.

What is read, after an optional sign::

    length     number [unit]                      1-1/2   38.1 mm   7 thou
               number feet ["-"] number inches    5'-6 1/4"
               number [unit] rest                 1/2 + .007 in   1/4 less .003
               "(" number [unit] rest ")" [unit]  -(1/2 + .007) in
    rest       ("+" | "less") decimal [unit]
    number     decimal | whole | [whole] fraction, joined by a space or a close hyphen

Anything that could mean two lengths is refused with a LengthError, never guessed at.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Literal, NamedTuple, get_args
from unicodedata import normalize

from faywright.errors import InputError, LengthError, RangeError

Unit = Literal["mm", "cm", "m", "in", "ft", "thou"]
Style = Literal["decimal inch", "fraction inch", "mm"]

INCH = Fraction("25.4")  # mm, exactly
MILLIMETRES_IN: Mapping[Unit, Fraction] = MappingProxyType(
    {
        "mm": Fraction(1),
        "cm": Fraction(10),
        "m": Fraction(1000),
        "in": INCH,
        "ft": 12 * INCH,
        "thou": INCH / 1000,
    }
)
LONGEST = 1_000_000  # mm; a kilometre and more is a slip of the keys, not a board
MOST_CHARACTERS = 60

_METRIC: tuple[Unit, ...] = ("mm", "cm", "m")
_FEET_MARKS = "'\N{PRIME}\N{RIGHT SINGLE QUOTATION MARK}"
_INCH_MARKS = '"\N{DOUBLE PRIME}\N{RIGHT DOUBLE QUOTATION MARK}'
_WORDS: dict[Unit, str] = {
    "mm": "mm millimetre millimetres millimeter millimeters",
    "cm": "cm centimetre centimetres centimeter centimeters",
    "m": "m metre metres meter meters",
    "in": "in inch inches",
    "ft": "ft foot feet",
    "thou": "thou thous thousandth thousandths",
}
_UNITS: dict[str, Unit] = {word: unit for unit, words in _WORDS.items() for word in words.split()}
_UNITS |= dict.fromkeys(_FEET_MARKS, "ft")
_UNITS |= dict.fromkeys([*_INCH_MARKS, *(2 * mark for mark in _FEET_MARKS)], "in")
_VULGAR = {
    sign: Fraction(normalize("NFKC", sign).replace("\N{FRACTION SLASH}", "/"))
    for sign in "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞↉"
}
_TOKEN = re.compile(
    rf"""(?P<space>\s+)
    | (?P<number>[0-9]*[.,]?[0-9]+)
    | (?P<vulgar>[{"".join(_VULGAR)}])
    | (?P<word>[A-Za-z]+)\.?
    | (?P<unit>(?P<foot>[{_FEET_MARKS}])(?P=foot)|[{_FEET_MARKS}{_INCH_MARKS}])
    | (?P<hyphen>[-\u2010\u2011\u2013])  # the keyboard's, two typographic ones, en dash
    | (?P<minus>\u2212)
    | (?P<slash>[/\u2044])  # and the fraction slash
    | (?P<plus>\+) | (?P<open>\() | (?P<close>\))""",
    re.VERBOSE,
)
_WRITE_OUT = "Write a length such as 1-1/2 in, 0.507 in, 12.88 mm or 5' 6\""


def read_length(value: str | int | float, *, bare: Unit) -> Fraction:
    """Exact millimetres of a length as written; ``bare`` is the unit of a number without one.

    An int or float, as a document holds it, is taken at the digits it was written with.

    Raises
    ------
    LengthError
        The length cannot be read, or could be read in two ways.

    Examples
    --------
    >>> read_length("1-1/2", bare="in")
    Fraction(381, 10)
    >>> read_length("18,3", bare="mm")
    Fraction(183, 10)
    >>> read_length("3/4", bare="mm")
    Traceback (most recent call last):
    ...
    faywright.errors.LengthError: length '3/4', character 1: a fraction without a unit, where \
bare numbers are mm. Write '3/4 in', or a decimal number of mm.
    """
    if bare not in MILLIMETRES_IN:
        known = ", ".join(MILLIMETRES_IN)
        raise InputError(f"{bare!r} is not a unit", where="default unit", remedy=f"Use {known}")
    if not isinstance(value, str):
        return _read_number(value, bare)
    if len(value) > MOST_CHARACTERS:
        raise LengthError(
            f"more than {MOST_CHARACTERS} characters",
            text=value[:MOST_CHARACTERS] + "...",
            position=MOST_CHARACTERS,
            remedy=_WRITE_OUT,
        )
    return _within_reach(_Reader(value, bare).length(), value)


def millimetres(value: str | int | float, *, bare: Unit) -> float:
    """Millimetres of a length as written, as the rest of the package holds them.

    >>> millimetres("5'-6 1/4\\"", bare="mm")
    1682.75
    """
    return float(read_length(value, bare=bare))


def _read_number(value: float, bare: Unit) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise LengthError(
            f"{type(value).__name__} is not a length",
            text=repr(value)[:MOST_CHARACTERS],
            position=0,
            remedy=_WRITE_OUT,
        )
    if isinstance(value, int):
        # str() refuses integers of thousands of digits
        text = str(value) if value.bit_length() < 200 else "a number of more than 60 digits"
        return _within_reach(value * MILLIMETRES_IN[bare], text)
    text = float.__repr__(value)  # plain digits for subclasses of float, too
    if not math.isfinite(value):
        raise LengthError("not a finite number", text=text, position=0, remedy=_WRITE_OUT)
    return _within_reach(Fraction(text) * MILLIMETRES_IN[bare], text)


def _within_reach(length: Fraction, text: str) -> Fraction:
    if abs(length) > LONGEST + 1:  # so that what was rounded up in writing is read back
        remedy = "Write a length of at most 1 km, and check its unit"
        raise LengthError("longer than 1 km", text=text, position=0, remedy=remedy)
    return length


class _Token(NamedTuple):
    kind: str
    text: str
    at: int
    spaced: bool  # a space stands before it


class _Number(NamedTuple):
    value: Fraction
    form: Literal["whole", "decimal", "fraction"]
    token: _Token


def _tokens(text: str) -> list[_Token]:
    """Words, numbers and signs of ``text``, with an end token after the last."""
    tokens = []
    at, spaced = 0, False
    while at < len(text):
        found = _TOKEN.match(text, at)
        if found is None:
            raise _stray(text, at)
        kind = found.lastgroup or ""
        if kind == "word":
            kind = _word_kind(text, found)
        if kind != "space":
            tokens.append(_Token(kind, found[0], at, spaced))
        spaced = kind == "space"
        at = found.end()
    tokens.append(_Token("end", "", len(text), spaced))
    return tokens


def _stray(text: str, at: int) -> LengthError:
    if text[at] in ".,":
        what, remedy = "a decimal mark without a digit after it", "Write 1.0, or 1"
    else:
        what, remedy = f"{text[at]!r} is not part of a length", _WRITE_OUT
    return LengthError(what, text=text, position=at, remedy=remedy)


def _word_kind(text: str, found: re.Match[str]) -> str:
    """Tell units from "less"; refuse other words, and the unclear dot of "5 ft.5 in"."""
    word = found["word"].lower()
    if word == "less" and not found[0].endswith("."):
        return "less"
    if word in ("mil", "mils"):
        what = f"{found['word']!r} is a thousandth of an inch to some and a millimetre to others"
        remedy = "Write thou or mm"
    elif word == "e":
        what, remedy = "an exponent in a length", "Write the number out in full"
    elif word not in _UNITS:
        what = f"{found['word']!r} is not a unit"
        remedy = "Use mm, cm, m, in, ft or thou"
    elif found[0].endswith(".") and text[found.end() : found.end() + 1].isdigit():
        what = "a point that could end the unit or begin the number"
        remedy = "Put a space after the unit, and 0 before a decimal point"
        raise LengthError(what, text=text, position=found.end() - 1, remedy=remedy)
    else:
        return "unit"
    raise LengthError(what, text=text, position=found.start(), remedy=remedy)


class _Reader:
    """The grammar at the head of this module, one method a rule."""

    def __init__(self, text: str, bare: Unit) -> None:
        self._text = text
        self._bare = bare
        self._left = _tokens(text)[::-1]  # next token last

    def length(self) -> Fraction:
        """Read the whole text."""
        sign = self._take("hyphen", "minus", "plus")
        negative = sign is not None and self._is_negative(sign)
        bracket = self._take("open")
        first = self._number()
        unit = self._unit()
        operator = self._take("plus", "less")
        if operator:
            if negative and not bracket:
                what = "a minus that could cover the fraction alone or its remainder as well"
                raise self._fault(what, operator, "Write it with brackets: -(1/2 + .007) in")
            length = self._with_remainder(first, unit, operator, bracketed=bracket is not None)
        elif bracket:
            what = "brackets around something other than a fraction and its remainder"
            raise self._fault(what, bracket, "Leave the brackets out")
        elif unit == "ft" and self._next.kind in ("number", "vulgar", "hyphen"):
            length = self._feet_and_inches(first)
        else:
            self._end()  # before the remedy for a bare fraction repeats the text
            length = self._scaled(first, unit)
        self._end()
        return -length if negative else length

    def _end(self) -> None:
        if self._next.kind != "end":
            raise self._left_over(self._next)

    def _feet_and_inches(self, feet: _Number) -> Fraction:
        if feet.form != "whole":
            raise self._fault("broken feet before inches", feet.token, "Write whole feet, 5' 6\"")
        self._joint()
        inches = self._number()
        unit_token = self._next
        unit = self._unit()
        if unit != "in":
            what = f"{unit} after feet" if unit else "no unit after the number that follows feet"
            raise self._fault(what, unit_token, "Write feet and inches, 5' 6\", or one unit only")
        if inches.value >= 12:
            what = "12 inches or more after feet"
            raise self._fault(what, inches.token, "Carry them to the feet")
        return self._scaled(feet, "ft") + self._scaled(inches, "in")

    def _with_remainder(
        self, first: _Number, unit: Unit | None, operator: _Token, *, bracketed: bool
    ) -> Fraction:
        rest = self._number()
        rest_unit = self._unit()
        if bracketed:
            if not self._take("close"):
                raise self._fault("a bracket that is not closed", self._next, "Write ) here")
            rest_unit = rest_unit or self._unit()
        written = unit or rest_unit
        unit = unit or ("in" if rest_unit == "in" else self._bare)
        rest_unit = rest_unit or self._bare
        if unit != "in" or rest_unit not in ("in", "thou"):
            what = "a remainder to something other than inches"
            if not written:
                what = f"a fraction without a unit, where bare numbers are {self._bare}"
            raise self._fault(what, operator, "Write 1/2 + .007 in")
        if first.form == "decimal":
            raise self._fault("a remainder to a decimal", operator, "Write one decimal number")
        if rest.form == "fraction" or (rest.form == "whole" and rest_unit != "thou"):
            what = "a remainder that is not a decimal"
            raise self._fault(what, rest.token, "Write .007 or 7 thou")
        length, remainder = self._scaled(first, "in"), self._scaled(rest, rest_unit)
        if operator.kind == "plus":
            return length + remainder
        if remainder > length:
            what = "more taken away than there is"
            raise self._fault(what, rest.token, "Write one decimal number")
        return length - remainder

    def _number(self) -> _Number:
        token = self._take("number", "vulgar")
        if token is None:
            what = f"{self._next.text!r} where a number belongs"
            if self._next.kind == "end":
                what = "no number" if self._text.strip() else "nothing written"
            raise self._fault(what, self._next, _WRITE_OUT)
        if token.kind == "vulgar":
            return _Number(_VULGAR[token.text], "fraction", token)
        if not token.text.isdigit():
            return _Number(_decimal_value(token.text), "decimal", token)
        if self._next.kind == "slash":
            return _Number(self._fraction(token), "fraction", token)
        return self._whole_and_fraction(token)

    def _whole_and_fraction(self, whole: _Token) -> _Number:
        joined = self._joint()
        token = self._take("vulgar")
        if token:
            part = _VULGAR[token.text]
        elif self._next.kind == "number" and self._left[-2].kind == "slash":
            part = self._fraction(self._left.pop())
        elif joined:
            what = "a hyphen that joins no fraction to the whole number"
            raise self._fault(what, joined, "Write 1-1/2 for one and a half")
        else:
            return _Number(Fraction(int(whole.text)), "whole", whole)
        return _Number(int(whole.text) + part, "fraction", whole)

    def _fraction(self, over: _Token) -> Fraction:
        """Value of ``over`` / the number after the slash that comes next; below 1."""
        self._take("slash")
        under = self._take("number")
        if under is None or not (over.text.isdigit() and under.text.isdigit()):
            at = over if under and not over.text.isdigit() else under or self._next
            raise self._fault("a fraction not made of whole numbers", at, "Write it like 3/4")
        if int(under.text) == 0:
            raise self._fault("a fraction over zero", under, "Write it like 3/4")
        if int(over.text) >= int(under.text):
            # 11/2 is more often 1 1/2 with the space lost than five and a half.
            what = "a fraction of one or more, which a lost space can make"
            raise self._fault(what, over, "Write the whole number apart, 1-1/2")
        return Fraction(int(over.text), int(under.text))

    def _scaled(self, number: _Number, unit: Unit | None) -> Fraction:
        """Millimetres of ``number``, once fraction and comma have been found to suit the unit."""
        if unit is None and number.form == "fraction" and self._bare not in ("in", "ft"):
            what = f"a fraction without a unit, where bare numbers are {self._bare}"
            remedy = f"Write '{self._text.strip()} in', or a decimal number of {self._bare}"
            raise self._fault(what, number.token, remedy)
        unit = unit or self._bare
        whole, comma, part = number.token.text.partition(",")
        if comma:
            at = number.token._replace(at=number.token.at + len(whole))
            if unit not in _METRIC:
                raise self._fault(f"a comma with the unit {unit}", at, "Write a decimal point")
            if len(part) == 3 and whole.strip("0"):
                what = "a comma that could part thousands or decimals"
                remedy = f"Write {whole}.{part} {unit} or {whole}{part} {unit}"
                raise self._fault(what, at, remedy)
        return number.value * MILLIMETRES_IN[unit]

    def _left_over(self, token: _Token) -> LengthError:
        if token.kind == "number" and not token.spaced and token.text[0] in ".,":
            return self._fault("a second decimal mark", token, "Write one, and part no thousands")
        if token.kind in ("hyphen", "minus"):
            return self._unclear_hyphen(token)
        what = {
            "number": f"a second number, {token.text}, that does not belong to the first",
            "unit": f"a second unit, {token.text},",
            "plus": "a sum of something other than a fraction and its remainder",
        }.get(token.kind, f"{token.text!r} after the end of the length")
        return self._fault(what, token, _WRITE_OUT)

    def _joint(self) -> _Token | None:
        """Take the hyphen of 1-1/2 or 5'-6"; with a space beside it, it could be a minus."""
        hyphen = self._take("hyphen")
        if hyphen and (hyphen.spaced or self._next.spaced):
            raise self._unclear_hyphen(hyphen)
        return hyphen

    def _unclear_hyphen(self, token: _Token) -> LengthError:
        what = "a hyphen that could join or take away"
        return self._fault(what, token, "Close it up to join, as in 1-1/2, or write less")

    def _is_negative(self, sign: _Token) -> bool:
        if sign.text not in "+-\N{MINUS SIGN}":
            raise self._fault(f"{sign.text!r} as a sign", sign, "Write -")
        if self._next.kind in ("hyphen", "minus", "plus"):
            raise self._fault("a second sign", self._next, "Write one sign")
        return sign.kind != "plus"

    def _unit(self) -> Unit | None:
        token = self._take("unit")
        return _UNITS[token.text.lower().rstrip(".")] if token else None

    @property
    def _next(self) -> _Token:
        return self._left[-1]

    def _take(self, *kinds: str) -> _Token | None:
        return self._left.pop() if self._left[-1].kind in kinds else None

    def _fault(self, what: str, token: _Token, remedy: str) -> LengthError:
        return LengthError(what, text=self._text, position=token.at, remedy=remedy)


def _decimal_value(digits: str) -> Fraction:
    whole, _, part = digits.replace(",", ".").partition(".")
    return Fraction(int(whole + part), 10 ** len(part))


_PLACES: dict[Style, tuple[int, ...]] = {
    "decimal inch": (3, 4),
    "fraction inch": (),
    "mm": (2, 1, 3),
}  # the usual one first
_DENOMINATORS = (16, 32, 64)


@dataclass(frozen=True, slots=True)
class LengthStyle:
    """How lengths are shown: ``places`` of a decimal (None: the usual), or the finest fraction."""

    style: Style
    places: int | None = None  # 3 or 4 of an inch, 1 to 3 of a millimetre
    denominator: int = 64  # of fractions: 16, 32 or 64

    def __post_init__(self) -> None:
        """Refuse more digits than a gauge holds, and fractions not on a rule."""
        known: dict[str, tuple[object, ...]] = {
            "style": get_args(Style),
            "places": (None, *sorted(_PLACES.get(self.style, ()))),
            "denominator": _DENOMINATORS,
        }
        for field, accepted in known.items():
            value = getattr(self, field)
            if value not in accepted:
                raise InputError(
                    f"{field} {value!r} of {self.style!r} lengths",
                    where="length style",
                    remedy=_use(accepted),
                )


def _use(accepted: tuple[object, ...]) -> str:
    named = " or ".join(str(value) for value in accepted if value is not None)
    if None not in accepted:
        return f"Use {named}"
    return f"Leave it out, or use {named}" if named else "Leave it out"


def write_length(mm: float | Fraction, style: LengthStyle) -> str:
    """Write ``mm`` in ``style``; halves of the last digit are rounded away from zero.

    A remainder under a minus is bracketed, for -1/2 + .007 could mean two lengths.

    Raises
    ------
    RangeError
        ``mm`` is not finite, or longer than can be read back.

    Examples
    --------
    >>> write_length(12.88, LengthStyle("mm"))
    '12.88 mm'
    >>> write_length(12.8778, LengthStyle("fraction inch"))
    '1/2 + .007 in'
    >>> write_length(-6.2738, LengthStyle("fraction inch"))
    '-(1/4 less .003) in'
    """
    if not -LONGEST < mm < LONGEST:  # nan is not, either
        what = f"{mm if isinstance(mm, float) else 'too many'} mm cannot be written"
        raise RangeError(what, where="length", remedy="Give a finite length below 1 km")
    exact = Fraction(mm if isinstance(mm, (int, Fraction)) else float.__repr__(mm))
    if style.style == "fraction inch":
        return _write_fraction(exact / INCH, style.denominator)
    unit: Unit = "mm" if style.style == "mm" else "in"
    places = style.places or _PLACES[style.style][0]
    steps = _nearest(exact / MILLIMETRES_IN[unit] * 10**places)
    whole, part = divmod(abs(steps), 10**places)
    return f"{'-' if steps < 0 else ''}{whole}.{part:0{places}d} {unit}"


def _write_fraction(inches: Fraction, denominator: int) -> str:
    minus = "-" if inches < 0 else ""
    inches = abs(inches)
    steps = _nearest(inches * denominator)
    thou = _nearest((inches - Fraction(steps, denominator)) * 1000)
    if thou == 0:
        return f"{minus if steps else ''}{_mixed(steps, denominator)} in"
    if steps == 0:
        return f"{minus}.{thou:03d} in"
    text = f"{_mixed(steps, denominator)} {'+' if thou > 0 else 'less'} .{abs(thou):03d}"
    return f"-({text}) in" if minus else f"{text} in"


def _mixed(steps: int, denominator: int) -> str:
    whole, over = divmod(steps, denominator)
    if over == 0:
        return str(whole)
    fraction = str(Fraction(over, denominator))
    return f"{whole}-{fraction}" if whole else fraction


def _nearest(value: Fraction) -> int:
    """Nearest integer, halves away from zero, so that -x is written as x with a minus."""
    size = math.floor(abs(value) + Fraction(1, 2))
    return -size if value < 0 else size
