"""Words for what a plan says: the same on the terminal, on paper and on a page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from math import ceil

from faywright.joints.method import Reference
from faywright.lengths import LengthStyle, write_length
from faywright.setups.setup import Change, CheckReading, Correction, Direction, Setting, Setup
from faywright.shop.inventory import Reference as Edge

Write = Callable[[float], str]

SMALL = 25.4 / 16
"""Below this a length in fractions is written in thousandths, as makers say it. [mm]"""

MOVES: dict[Direction, str] = {
    "raise": "raise the cutter",
    "lower": "lower the cutter",
    "back": "move the fence back, away from you",
    "forward": "move the fence forward, towards you",
}

OPPOSITE: dict[Direction, Direction] = {
    "raise": "lower",
    "lower": "raise",
    "back": "forward",
    "forward": "back",
}

MILLIMETRES = LengthStyle("mm")

MEASURED: dict[Reference, str] = {
    "cutter top": "table to the cutter's top",
    "wing's lower edge": "table to the lower edge of the wing",
    "lower wing's top": "table to the top of the lower wing",
}
"""What a height is measured from and to."""

KINDS = {
    "StraightCutter": "straight",
    "SlotCutter": "slot",
    "TonguePairCutter": "tongue pair",
    "VCutter": "V",
    "BeadCutter": "bead",
    "DovetailCutter": "dovetail",
}

BOUNDLESS = 1e3
"""A setting this far off is bounded by nothing. [mm]"""

WRITTEN = 4096
"""Lengths a writer keeps at hand: sheets say the same ones again and again."""

PAST = 0.5
"""Turns of the key to go past on the way down, so that the last move is always up."""


def writer(style: LengthStyle) -> Write:
    """A function that writes lengths in the maker's style; small ones never as fractions."""

    @lru_cache(WRITTEN)
    def write(length: float) -> str:
        if style.style == "fraction inch" and abs(length) < SMALL:
            return write_length(length, LengthStyle("decimal inch"))
        return write_length(length, style)

    return write


def finer(style: LengthStyle) -> Write:
    """As :func:`writer`, one digit finer: for sums, so that what is printed adds up."""
    if style.style == "mm":
        return writer(LengthStyle("mm", min((style.places or 2) + 1, 3)))
    return writer(LengthStyle("decimal inch", 4))


def at_least(style: LengthStyle) -> Write:
    """Writes a distance to keep, or rough stock: whole centimetres or inches, never less.

    Examples
    --------
    >>> at_least(LengthStyle("mm"))(100.0), at_least(LengthStyle("fraction inch"))(100.0)
    ('100 mm', '4 in')
    """

    def write(length: float) -> str:
        if style.style == "mm":
            return f"{10 * ceil(length / 10 - 1e-9)} mm"
        return f"{ceil(length / 25.4 - 1e-9)} in"

    return write


def percent(chance: float) -> str:
    """A chance in percent, with no more digits than it deserves.

    Examples
    --------
    >>> percent(0.9312), percent(0.9996), percent(1.0), percent(0.0004)
    ('93 %', 'over 99 %', 'over 99 %', 'under 1 %')
    """
    if chance > 0.99:
        return "over 99 %"
    if chance < 0.01:
        return "under 1 %"
    return f"{100 * chance:.0f} %"


def span(low: float, high: float, write: Write) -> str:
    """One length, or two with "to" between them where they are written differently."""
    one, two = write(low), write(high)
    return one if one == two else f"{one} to {two}"


def listed(marks: Sequence[str]) -> str:
    """Marks of boards, never shortened: a group has to be made up from them."""
    return (", " if any(" " in mark for mark in marks) else " ").join(marks)


def counted(number: int, thing: str) -> str:
    """A number of things.

    Examples
    --------
    >>> counted(1, "joint"), counted(4, "joint")
    ('1 joint', '4 joints')
    """
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def share_of(share: float) -> str:
    """How much of a difference to move by.

    Examples
    --------
    >>> share_of(0.5), share_of(1.0), share_of(0.41)
    ('half', 'the whole', '0.41')
    """
    if abs(share - 0.5) < 1e-9:
        return "half"
    return "the whole" if abs(share - 1) < 1e-9 else f"{share:.2f}"


def corrected(correction: Correction) -> str:
    """What to do if a reading is more, and if it is less."""
    more, less = MOVES[correction.more], MOVES[OPPOSITE[correction.more]]
    return (
        f"if it reads more, {more} by {share_of(correction.share)} of the difference; "
        f"if less, {less} by as much"
    )


def check(reading: CheckReading, write: Write) -> str:
    """A check reading with its correction."""
    found = f"{reading.what} {write(reading.shows)}"
    if reading.per_thickness:
        found += f" on a trial piece {write(reading.thickness_shows)} {reading.size_word}"
        found += f" ({_per_thickness(reading)})"
    if reading.correction is None:
        return (
            f"{found}; the cutter decides it: if it differs, note it as the cutter's size and "
            "plan again"
        )
    return f"{found}; within {write(reading.leave)} leave it alone; {corrected(reading.correction)}"


def _per_thickness(reading: CheckReading) -> str:
    way = "more" if reading.per_thickness > 0 else "less"
    word = "thicker" if reading.size_word == "thick" else "wider"
    return f"on a {word} piece {way} by what it is {word}"


def working(setting: Setting, write: Write) -> str:
    """The sum behind a setting, in one line; empty where there is none to show."""
    if setting.working is None:
        return ""
    if len(setting.working.terms) == 1 and abs(setting.working.divisor - 1) < 1e-9:
        return f"that is the {setting.working.terms[0][0]}"
    parts = []
    for k, (what, value) in enumerate(setting.working.terms):
        sign = "- " if value < 0 else "+ " if k else ""
        parts.append(f"{sign}{what} {write(abs(value))}")
    total = " ".join(parts)
    divisor = setting.working.divisor
    if abs(divisor - 1) > 1e-9:
        total = f"({total}) / {divisor:.4g}"
    return f"{total} = {write(setting.true)}"


def tolerance(setting: Setting, shift: float, write: Write) -> str:
    """From where to where a setting is good, as its gauge shows; empty where nothing depends.

    ``shift`` is from what the setting is worked out to, to what is measured. [mm]
    """
    if setting.tolerance is None:
        return ""
    bounded_low = setting.tolerance.low > -BOUNDLESS
    bounded_high = setting.tolerance.high < BOUNDLESS
    low = setting.shows + shift + setting.tolerance.low
    high = setting.shows + shift + setting.tolerance.high
    if bounded_low and bounded_high:
        reach = f"from {write(low)} to {write(high)}"
    elif bounded_low:
        reach = f"down to {write(low)}"
    else:
        reach = f"up to {write(high)}"
    shown = "" if abs(setting.shows - setting.true) < 1e-9 else " on the gauge"
    return (
        f"good {reach}{shown} if all else is dead on: beyond, {gap_called(setting.tolerance.gap)}"
    )


def gap_called(name: str) -> str:
    """What is wrong beyond the bounds of a gap."""
    if name.startswith("clearance"):
        return "the fit is out of its band"
    if name.startswith("wood"):
        return f"too little {name} is left"
    if name == "cutting edge":
        return "the cutter's edge is not long enough"
    return "too little room is left under the tongue" if name == "bottom" else f"the {name} closes"


def changed(change: Change, write: Write) -> str:
    """What to move from the setup before it; empty where nothing moves."""
    moves = []
    if abs(change.raised) > 1e-6:
        moves.append(_lifted(change, write))
    if abs(change.fence) > 1e-6:
        moved = f"fence {change.fence_way} {write(abs(change.fence))}"
        if change.fence_end is not None:
            moved += f" ({write(abs(change.fence_end))} at its free end)"
        moves.append(moved)
    return "; ".join(moves)


def _lifted(change: Change, write: Write) -> str:
    way = "up" if change.raised > 0 else "down"
    found = f"cutter {way} {write(abs(change.raised))}"
    if change.turns is None:
        return found
    turns = abs(change.turns)
    if change.raised > 0:
        return f"{found} ({turns:.2f} turns of the key)"
    return f"{found} (down {turns + PAST:.2f} turns of the key, then up {PAST:g} against backlash)"


def fed(setup: Setup, write: Write) -> list[str]:
    """One line a pass: how the work lies, which way it is fed, and how much wood it takes."""
    return [
        f"{each.down} on the table, {each.against} against the fence, feed {each.feed}; takes "
        f"{write(each.bite_up)} up, {write(each.bite_across)} across"
        for each in setup.passes
    ]


def notes(setting: Setting, shift: float, write: Write, fine: Write) -> list[str]:
    """What goes with a number to set; ``fine`` writes the sum behind it.

    ``shift`` is from what the setting is worked out to, to what is measured. [mm]
    """
    found = [working(setting, fine), *set_by(setting, shift, write)]
    return [note for note in (*found, tolerance(setting, shift, write)) if note]


def set_by(setting: Setting, shift: float, write: Write) -> list[str]:
    """What a gauge with a zero error shows, and where to start the trial piece."""
    found = []
    off_zero = abs(setting.shows - setting.true) > 1e-9
    if off_zero:
        found.append(f"the gauge shows {write(setting.shows + shift)} there")
    if setting.start is not None and setting.start_shows is not None:
        start = f"start the trial piece at {write(setting.start + shift)}"
        if off_zero:
            start += f" (the gauge shows {write(setting.start_shows + shift)})"
        found.append(f"{start}, on the side that can be cured")
    return found


def final_setups(setups: Sequence[Setup]) -> Iterator[tuple[Setup, tuple[Setup, ...]]]:
    """Final setups, each with the clearing ones that lead up to it."""
    clearing: list[Setup] = []
    for setup in setups:
        if setup.final:
            yield setup, tuple(clearing)
            clearing = []
        else:
            clearing.append(setup)


def cleared(final: Setup, clearing: Setup, write: Write) -> str:
    """One setting before the final one: what differs from it."""
    height = f"height {write(clearing.height.true)}"
    far = f"far edge {write(clearing.places.far_edge)}"
    if abs(clearing.places.far_edge - final.places.far_edge) < 1e-6:
        return height
    return far if abs(clearing.cutter_top - final.cutter_top) < 1e-6 else f"{height}, {far}"


def reading_row(reading: CheckReading, write: Write) -> dict[str, str]:
    """A check reading in columns: what, how much, and what to do if it is more or less."""
    what = reading.what
    if reading.per_thickness:
        what += f" ({_per_thickness(reading)})"
    correction = reading.correction
    if correction is None:
        more = less = "the cutter decides it: note it as the cutter's size and plan again"
    else:
        by = f"by {share_of(correction.share)} of the difference"
        more = f"{MOVES[correction.more]} {by}"
        less = f"{MOVES[OPPOSITE[correction.more]]} {by}"
    return {
        "what": what,
        "reads": write(reading.shows),
        "leave": write(reading.leave),
        "more": more,
        "less": less,
    }


def measured_to(setup: Setup, reference: Edge) -> str:
    """Where the fence is measured to, in words."""
    if reference == "axis":
        return "to the POINT of the cutter" if _pointed(setup) else "to the AXIS of the cutter"
    return f"to the {reference.split()[0].upper()} edge of the cutter"


def beside(setup: Setup, reference: Edge, write: Write) -> str:
    """The two references that are not measured to; those behind the fence face say so."""
    edges: tuple[Edge, ...] = ("far edge", "axis", "near edge")
    parts = []
    for edge in edges:
        place = setup.places.to(edge)
        if edge != reference:
            inside = f"{write(-place)} behind the fence face" if place < 0 else write(place)
            parts.append(f"{edge} {inside}")
    return ", ".join(parts)


def _pointed(setup: Setup) -> bool:
    return setup.reference("far edge") == "axis"


def cutter_called(setup: Setup, write: Write) -> str:
    """The cutter's mark with its kind and the size that matters."""
    cutter = setup.report.station.run.cutter
    size = cutter.cut_size
    kind = KINDS[type(cutter).__name__]
    told = kind if size is None else f"{kind} {write(size)}"
    return f"{setup.cutter} ({told})"


def group_letter(number: int) -> str:
    """A, B … Z, AA, AB and so on."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
