"""Words for rows of boards, framed panels and drawers: what to cut, what to leave, what happens."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from faywright.piece.panels import RowPlan
from faywright.piece.words import counted, listed, span
from faywright.timber.climate import MONTHS
from faywright.timber.drawers import PLAY, DrawerFit
from faywright.timber.framed import FramedPanel
from faywright.timber.rows import Row, RowState, ShortPile
from faywright.timber.year import Expected, Swing

Write = Callable[[float], str]

FEW = 4
"""Seasons that are told one by one."""

SCATTER = (
    "Ranges in brackets hold 19 boards in 20, for boards of one species differ; moistures are "
    "taken to be as told."
)


def row_words(
    row: Row, write: Write, *, fine: Write | None = None, marks: Sequence[str] = ()
) -> list[str]:
    """A row: what to rip, the gaps to leave, the sums behind them, and the year.

    ``fine`` writes the sums, one digit finer; ``marks`` are those of given boards, in their order.
    """
    return [
        *(
            _equal_rips(row, write)
            if row.boards[0].width is None
            else _given_rips(row, marks, write)
        ),
        *_gaps(row, write),
        f"Working: {_row_sums(row, fine or write)}.",
        *(
            f"{months}: {_row_state(row, row.at(change), write)}."
            for months, change in turns(row.task.swing)
        ),
        *_scatter(row.task.swing),
        *_held(row, write),
    ]


def row_decisions(plan: RowPlan, write: Write) -> list[str]:
    """What has to be decided before the boards of a row are ripped."""
    row = plan.row
    if isinstance(row, ShortPile):
        return short_words(row, write)
    found = list(_leaving(row, write))
    if plan.lacking > 0:
        found.append(
            f"{len(row.boards)} boards are to be ripped, and joint {plan.joint} lists "
            f"{len(plan.widths)}: list them all, so that each is measured."
        )
    if plan.too_narrow:
        rip = write(max(board.rip for board in row.boards))
        found.append(f"{listed(plan.too_narrow)}: too narrow to rip {rip} wide. Use more boards.")
    if plan.equal_ends and not row.ends_alike:
        found.append(
            f"The ends cannot be made alike with boards in this order: the first face is "
            f"{write(row.faces[0])} wide and the last {write(row.faces[-1])}. Begin and end with "
            "wider boards."
        )
    return found


def short_words(pile: ShortPile, write: Write) -> list[str]:
    """A pile of given boards that do not fill the row, and what would."""
    boards = counted(len(pile.widths), "board")
    found = [f"{boards} do not fill {write(pile.task.width)}: {write(pile.short)} is missing."]
    if pile.another <= max(pile.widths):
        more = f" at least {write(pile.another)} wide" if pile.another > 0 else ", however narrow,"
        return [*found, f"One more board{more} fills it."]
    if pile.more is not None:
        found.append(f"{pile.more} more as wide as the widest of them fill it.")
    return found


def framed_words(panel: FramedPanel, write: Write, *, fine: Write | None = None) -> list[str]:
    """A panel in a frame: its size, the room to leave, where to pin it, and the year."""
    fine = fine or write
    rules, frame = panel.rules, panel.frame
    across = "wide" if panel.grain == "upright" else "high"
    far = panel.at(-rules.margin * panel.swing.shrinkage).far.size
    pins = (
        "Pin it at the middle of each end, one pin at either, so that it moves both ways. No glue "
        "in the grooves: only a sheet panel is glued."
    )
    if panel.needs_pins:
        left = f"only {write(far)} of it would stay in" if far > 0 else "it would leave"
        pins += f" It needs the pins: pushed into one groove, {left} the other at the driest."
    return [
        f"Cut the panel {write(panel.width)} wide and {write(panel.height)} high, grain "
        f"{panel.grain}; down to {write(panel.least_pinned)} {across} will do.",
        f"Leave {write(panel.room)} today between each long edge and the bottom of its groove, "
        f"{write(rules.room)} at each end of the grain.",
        f"Working: ({fine(panel.opening)} + 2 x {fine(frame.groove_depth)} - 2 x "
        f"{fine(rules.room)}) / (1 + {_share(rules.margin, panel.swing.swelling)}) = "
        f"{fine(panel.across)}.",
        *(
            f"{months}: panel {_range(state.size, write)} {across}, "
            f"{_range(state.engaged, write)} of it in each groove."
            for months, state in (
                (months, panel.at(change)) for months, change in turns(panel.swing)
            )
        ),
        *_scatter(panel.swing),
        pins,
    ]


def drawer_words(drawer: DrawerFit, write: Write, *, fine: Write | None = None) -> list[str]:
    """A drawer: its height and width today, the gap over it, and the year."""
    fine = fine or write
    found = [
        f"Make sides, front and back {write(drawer.height)} high today: that leaves a gap of "
        f"{write(drawer.gap)} in the opening.",
        f"Make the drawer {write(drawer.width)} wide, sides included: {write(drawer.play)} of play "
        f"a side ({span(*PLAY, write)} is common practice); along its front nothing moves.",
        f"Working: ({fine(drawer.opening_height)} - {fine(drawer.least_gap)}) / (1 + "
        f"{_share(drawer.margin, drawer.swing.swelling)}) = {fine(drawer.height)}.",
        *(
            f"{months}: gap {_range(drawer.at(change), write)}."
            for months, change in turns(drawer.swing)
        ),
        *_scatter(drawer.swing),
    ]
    if drawer.ready > 0:
        found.append(
            f"A solid bottom of this wood swells from front to back: hold it in the front's groove "
            f"only, and leave {100 * drawer.ready:.1f} % of its depth free behind it."
        )
    return found


def turns(swing: Swing) -> list[tuple[str, float]]:
    """The seasons where they are few; of a year told by months its driest and its wettest."""
    found = seasons(swing)
    if len(found) <= FEW:
        return found
    dry, wet = min(found, key=lambda each: each[1]), max(found, key=lambda each: each[1])
    return [(f"Driest, {dry[0]}", dry[1]), (f"Wettest, {wet[0]}", wet[1])]


def seasons(swing: Swing) -> list[tuple[str, float]]:
    """Months that follow each other with the same change, December before January, and the change.

    >>> winter, summer = -0.01, 0.004
    >>> months = (winter,) * 3 + (summer,) * 6 + (winter,) * 3
    >>> seasons(Swing(swelling=0.004, shrinkage=0.01, months=months))
    [('April to September', 0.004), ('October to March', -0.01)]
    """
    changes = swing.months
    begins = [at for at in range(12) if changes[at] != changes[at - 1]]
    if not begins:
        return [("All year", changes[0])]
    turned = [(begins[0] + step) % 12 for step in range(12)]
    found = []
    for change, group in groupby(turned, key=lambda month: changes[month]):
        months = list(group)
        first, last = MONTHS[months[0]], MONTHS[months[-1]]
        found.append((first if first == last else f"{first} to {last}", change))
    return found


def _scatter(swing: Swing) -> list[str]:
    return [SCATTER] if any(swing.months) else []


def _mark(place: int, marks: Sequence[str]) -> str:
    return marks[place - 1] if marks else f"board {place}"


def _equal_rips(row: Row, write: Write) -> Iterator[str]:
    count, tongue, face = len(row.boards), row.task.tongue, row.faces[0]
    if tongue == 0 or count == 1:
        yield f"Rip {counted(count, 'board')} {write(face)} wide."
        return
    yield (
        f"Rip {counted(count - 1, 'board')} {write(face + tongue)} wide and the last, which needs "
        f"no tongue, {write(face)}: faces of {write(face)}, tongues of {write(tongue)}."
    )


def _given_rips(row: Row, marks: Sequence[str], write: Write) -> Iterator[str]:
    names = [_mark(board.place, marks) for board in row.boards]
    last = len(names) - 1
    yield f"Lay {listed(names)} in this order; all but those named below keep their width."
    for at in row.filling:
        tongue = "" if at == last else ", tongue included,"
        rip, face = write(row.boards[at].rip), write(row.faces[at])
        yield f"Rip {names[at]} to {rip}{tongue} for a face of {face}."
    if row.filling != (last,):
        cut = "First and last are cut alike" if len(row.filling) == 2 else "The first is cut"
        yield f"{cut}, so that neither end is a sliver."
    if row.left_over:
        yield f"Left over: {listed([_mark(place, marks) for place in row.left_over])}."


def _gaps(row: Row, write: Write) -> Iterator[str]:
    if row.task.laid == "glued":
        yield f"Glued up it is {write(row.wood)} wide today; fix it so that it can move across."
        return
    if row.gap == 0:
        yield "Close the joints: the wood is as wet today as it will get."
    else:
        sides = f", {write(row.side_gap)} at each side" if row.side_gap else ""
        yield f"Leave {write(row.gap)} at each joint today{sides}."
    yield "Fix each board on one line, at its middle, so that it moves to both sides."
    if row.gap and row.task.laid == "between sides":
        pushed = row.task.width * row.task.swing.swelling
        yield f"Laid close, the row would be {write(pushed)} too wide for its place when wettest."


def _row_sums(row: Row, write: Write) -> str:
    task, count, filled = row.task, len(row.boards), len(row.filling)
    face, others = row.faces[row.filling[0]], row.wood - row.faces[row.filling[0]] * filled
    room = write(task.width) if filled == count else f"{write(task.width)} - {write(others)}"
    gaps = task.gaps(count) if row.gap else 0
    if gaps:
        room += f" - {gaps} x {write(row.gap)}"
    if filled > 1:
        room = f"({room}) / {filled}" if " - " in room else f"{room} / {filled}"
    found = f"face {room} = {write(face)}"
    if not gaps:
        return found
    widest = write(max(row.faces))
    return f"{found}; gap {_share(task.margin, task.swing.swelling)} x {widest} = {write(row.gap)}"


def _row_state(row: Row, state: RowState, write: Write) -> str:
    if row.task.laid == "glued":
        return f"{_range(state.wood, write)} wide"
    found = f"{_range(state.wood, write)} of wood"
    if state.openings:
        found += f", joints open {_ranges(state.openings, write)}"
    if row.task.laid == "free sides":
        found += f", {_range(state.overall, write)} over all"
    return found


def _held(row: Row, write: Write) -> Iterator[str]:
    if row.engagement is not None and row.keeps_hold:
        yield (
            f"At the driest at least {write(row.engagement)} of each tongue stays in its groove."
        )


def _leaving(row: Row, write: Write) -> Iterator[str]:
    left = row.engagement
    if left is None or row.keeps_hold:
        return
    kept = (
        f"only {write(left)} of a tongue stays in its groove" if left > 0 else "a tongue comes out"
    )
    yield (
        f"At the driest {kept}, where {write(row.task.engagement)} is to stay. Use narrower "
        "boards, or longer tongues."
    )


def _share(margin: float, swelling: float) -> str:
    return f"{margin:g} x {100 * swelling:.3f} %"


def _range(found: Expected, write: Write) -> str:
    return _ranges([found], write)


def _ranges(found: Sequence[Expected], write: Write) -> str:
    """What to expect of one size or several, and the range of it where that can be seen."""
    sizes = [each.size for each in found]
    told = span(min(sizes), max(sizes), write)
    around = span(min(each.low for each in found), max(each.high for each in found), write)
    return told if around == told else f"{told} ({around})"
