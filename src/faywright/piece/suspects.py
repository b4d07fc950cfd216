"""What to ask about while the board is still in the hand: readable, but hardly meant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from statistics import median

from faywright.lengths import write_length
from faywright.piece.model import Part, Piece
from faywright.piece.shop_suspects import shop_suspects
from faywright.piece.size_suspects import size_suspects
from faywright.piece.slips import (
    LEAST_SPREAD,
    Pile,
    Slip,
    off_their_board,
    pile_of,
    snipe,
    spread_within,
)
from faywright.piece.suspect import Suspect, Written
from faywright.shop.boards import Board
from faywright.shop.inventory import Shop

WEDGE = 0.3
"""Difference between the edges of a board that is asked about. [mm] Common practice, no source."""

__all__ = ["Suspect", "suspects"]


def suspects(piece: Piece, shop: Shop) -> tuple[Suspect, ...]:
    """All that is suspect: the boards part by part, then the shop; lengths in the shop's style."""

    def written(mm: float) -> str:
        return write_length(mm, shop.habits.style)

    step = shop.gauge_for("thickness").resolution
    found = [each for part in piece.parts if part.boards for each in _in_part(part, step, written)]
    return (*found, *shop_suspects(shop, written))


def _in_part(part: Part, step: float, written: Written) -> Iterator[Suspect]:
    pile = pile_of(part.boards)
    looked_at = [_LookedAt(board, pile, part.name, written) for board in part.boards]
    spread = max(LEAST_SPREAD, spread_within(each for look in looked_at for each in look.sound()))
    between = spread_within(each for look in looked_at for each in look.sound(ends=False))
    between = max(between, step)  # three steps of the gauge are no snipe
    counts = Counter(board.readings.size for board in part.boards)
    usual = max(counts, key=lambda count: (counts[count], count))
    alone = all(len(board.readings) == 1 for board in part.boards)
    if alone:
        yield Suspect(f"part {part.name}", "each board has one reading along it", _READ_MORE)
    for look in looked_at:
        look.compare(spread, between)
        yield from look.slipped()
        yield from look.off()
        yield from look.sniped()
        yield from look.apart()
        if not alone:
            yield from look.few(usual)
    yield from size_suspects(part, written)


_READ_MORE = "Read each board at three places or more along it, so that its scatter is known"


class _LookedAt:
    """One board beside its pile: its slips, and the readings left without them."""

    def __init__(self, board: Board, pile: Pile, part: str, written: Written) -> None:
        self._board = board
        self._pile = pile
        self._part = part
        self._written = written
        self._slips: dict[tuple[int, int], Slip] = {}
        self._columns: dict[int, dict[int, float]] = {}  # without slips, by places across, along
        self._off: list[tuple[int, int]] = []
        self._head, self._foot = 0.0, 0.0  # how much thinner these ends are
        for across, column in enumerate(board.readings.T.tolist()):
            kept = self._columns.setdefault(across, {})
            for along, thickness in enumerate(column):
                slip = pile.slip(thickness)
                if slip is None:
                    kept[along] = thickness
                else:
                    self._slips[along, across] = slip

    def sound(self, *, ends: bool = True) -> Iterator[list[float]]:
        """The readings of each column that are no slips; without those at the board's ends."""
        at_ends = () if ends else (0, len(self._board.readings) - 1)
        for column in self._columns.values():
            yield [thickness for along, thickness in column.items() if along not in at_ends]

    def compare(self, spread: float, between: float) -> None:
        """Find the readings that stand off, and thin ends, by the scatter of the whole pile.

        Thin ends are not looked for where a reading is a slip, or one between them stands off:
        of three, though, the middle one stands off two thin ends.
        """
        for across, column in self._columns.items():
            places, readings = list(column), list(column.values())
            off = off_their_board(readings, spread) if len(readings) > 1 else []
            self._off += [(places[at], across) for at in off]
        last = len(self._board.readings) - 1
        if self._slips or (last > 2 and any(0 < along < last for along, _ in self._off)):
            return
        self._head, self._foot = snipe(self._board, between)
        explained = {0} if self._head else set()
        explained |= {last} if self._foot else set()
        if len(explained) == last == 2:
            explained.add(1)
        self._off = [place for place in self._off if place[0] not in explained]

    def slipped(self) -> Iterator[Suspect]:
        """A question for each slip; one for the whole board where all its readings share it."""
        kinds = {slip.kind for slip in self._slips.values()}
        whole = len(self._slips) == self._board.readings.size > 1 and len(kinds) == 1
        most = f"where most of {self._part} is about {self._written(self._pile.middle)}"
        if whole:
            meant = Slip(next(iter(kinds)), median(each.meant for each in self._slips.values()))
            read = f"all its readings are about {self._written(self._board.thickness)}"
            yield Suspect(f"board {self._board.mark}", f"{read}, {most}", self._question(meant))
            return
        for (along, across), slip in self._slips.items():
            read = self._written(float(self._board.readings[along, across]))
            yield Suspect(self._where(along, across), f"{read}, {most}", self._question(slip))

    def _question(self, slip: Slip) -> str:
        ask = {
            "decimal point": "Is the decimal point in its place?",
            "inches": "Was it read in inches and written down as millimetres?",
            "millimetres": "Was it read in millimetres and written down as inches?",
            "fraction": "Is it a fraction written down as a decimal?",
        }[slip.kind]
        return f"{ask} {self._written(slip.meant)} would fit"

    def apart(self) -> Iterator[Suspect]:
        """A question for a whole board far from its pile, or much thicker at one edge."""
        board = self._board
        if not self._slips and not self._pile.holds(board.thickness):
            read = f"all its readings are about {self._written(board.thickness)}"
            most = f"where most of {self._part} is about {self._written(self._pile.middle)}"
            yield Suspect(f"board {board.mark}", f"{read}, {most}", "Does it belong to this part?")
        wedge = abs(board.thickness_at("reference edge") - board.thickness_at("opposite edge"))
        if not self._slips and wedge > WEDGE:
            what = f"it is {self._written(wedge)} thicker at one edge than at the other"
            ask = "Measure it again; if it is so, plane it true before it is jointed"
            yield Suspect(f"board {board.mark}", what, ask)

    def off(self) -> Iterator[Suspect]:
        """A question for each reading far from the others along its board."""
        for along, across in self._off:
            read = self._written(self._columns[across][along])
            middle = self._written(median(self._columns[across].values()))
            what = f"{read}, where the middle of its board's readings is {middle}"
            yield Suspect(self._where(along, across), what, "Measure it again there")

    def sniped(self) -> Iterator[Suspect]:
        """A question if an end is thinner than the middle."""
        ends = [name for name, drop in (("head", self._head), ("foot", self._foot)) if drop]
        if ends:
            along = self._board.readings.mean(axis=1)
            drop = self._written(max(self._head, self._foot))
            middle = self._written(float(median(along[1:-1].tolist())))
            what = f"snipe at {' and '.join(ends)}: up to {drop} thinner than its middle, {middle}"
            ask = "Measure it again; if it is so, cut the ends off or keep the joint clear of them"
            yield Suspect(f"board {self._board.mark}", what, ask)

    def few(self, usual: int) -> Iterator[Suspect]:
        """A question if there is one reading along the board, or fewer than is usual."""
        board = self._board
        if len(board.readings) == 1:
            what = "one reading along it, so that its scatter is not known"
            yield Suspect(f"board {board.mark}", what, _READ_MORE)
        elif board.readings.size < usual:
            what = f"{board.readings.size} readings, where most of {self._part} has {usual}"
            yield Suspect(f"board {board.mark}", what, "Was one left out? Measure it again")

    def _where(self, along: int, across: int) -> str:
        place = f"board {self._board.mark}, reading {along + 1}"
        last = self._board.readings.shape[1] - 1
        if last == 0:
            return place
        edges = {0: " along the reference edge", last: " along the opposite edge"}
        return place + edges.get(across, f", {across + 1} from the reference edge")
