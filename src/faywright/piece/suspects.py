"""What to ask about while the board is still in the hand: readable, but hardly meant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from statistics import median

from faywright.lengths import write_length
from faywright.piece.model import Part, Piece
from faywright.piece.shop_suspects import shop_suspects
from faywright.piece.slips import Pile, Slip, off_their_board, pile_of, snipe, spread_within
from faywright.piece.suspect import Suspect, Written
from faywright.shop.boards import Board
from faywright.shop.inventory import Shop

__all__ = ["Suspect", "suspects"]


def suspects(piece: Piece, shop: Shop) -> tuple[Suspect, ...]:
    """All that is suspect: the boards part by part, then the shop; lengths in the shop's style."""

    def written(mm: float) -> str:
        return write_length(mm, shop.habits.style)

    found = [each for part in piece.parts if part.boards for each in _in_part(part, written)]
    return (*found, *shop_suspects(shop, written))


def _in_part(part: Part, written: Written) -> Iterator[Suspect]:
    pile = pile_of(part.boards)
    looked_at = [_LookedAt(board, pile, part.name, written) for board in part.boards]
    spread = spread_within(
        list(column.values()) for each in looked_at for column in each.columns.values()
    )
    counts = Counter(board.readings.size for board in part.boards)
    usual = max(counts, key=lambda count: (counts[count], count))
    alone = all(len(board.readings) == 1 for board in part.boards)
    if alone:
        yield Suspect(f"part {part.name}", "each board has one reading along it", _READ_MORE)
    for each in looked_at:
        yield from each.slipped()
        yield from each.off(spread)
        yield from each.sniped()
        if not alone:
            yield from each.few(usual)


_READ_MORE = "Read each board at three places or more along it, so that its scatter is known"


class _LookedAt:
    """One board beside its pile: its slips, and the readings left without them."""

    def __init__(self, board: Board, pile: Pile, part: str, written: Written) -> None:
        self._board = board
        self._pile = pile
        self._part = part
        self._written = written
        self._slips: dict[tuple[int, int], Slip] = {}
        self.columns: dict[int, dict[int, float]] = {}
        for across, column in enumerate(board.readings.T.tolist()):
            kept = self.columns.setdefault(across, {})
            for along, thickness in enumerate(column):
                slip = pile.slip(thickness)
                if slip is None:
                    kept[along] = thickness
                else:
                    self._slips[along, across] = slip

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

    def off(self, spread: float) -> Iterator[Suspect]:
        """A question for each reading far from the others along its board."""
        head, foot = self._sniped_ends
        ends = {0} if head else set()
        ends |= {len(self._board.readings) - 1} if foot else set()
        for across, column in self.columns.items():
            places, readings = list(column), list(column.values())
            if len(readings) < 2:
                continue
            middle = median(readings)
            for at in off_their_board(readings, spread):
                if places[at] in ends:
                    continue
                read = self._written(readings[at])
                what = (
                    f"{read}, where the middle of its board's readings is {self._written(middle)}"
                )
                yield Suspect(self._where(places[at], across), what, "Measure it again there")

    def sniped(self) -> Iterator[Suspect]:
        """A question if an end is thinner than the middle."""
        head, foot = self._sniped_ends
        ends = [name for name, drop in (("head", head), ("foot", foot)) if drop]
        if ends:
            along = self._board.readings.mean(axis=1)
            drop = self._written(max(head, foot))
            middle = self._written(float(median(along[1:-1].tolist())))
            what = f"snipe at {' and '.join(ends)}: up to {drop} thinner than its middle, {middle}"
            ask = "Cut the ends off, or leave them long until the joint is cut"
            yield Suspect(f"board {self._board.mark}", what, ask)

    @property
    def _sniped_ends(self) -> tuple[float, float]:
        return (0.0, 0.0) if self._slips else snipe(self._board)

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
