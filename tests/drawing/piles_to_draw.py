"""Piles of boards in groups, ready to be drawn. [mm]"""

from __future__ import annotations

from hypothesis import strategies as st

from faywright.drawing.pile import Side, StripBoard, StripGroup
from tests.strategies import lengths

letters = st.characters(min_codepoint=33, max_codepoint=0x17F, exclude_categories=("Cc", "Cf"))
names = st.text(letters, min_size=1, max_size=60).filter(str.isprintable)


def board(name: str, thickness: float, *, spread: float = 0.03, over: float = 0.0) -> StripBoard:
    low, high = thickness - spread, thickness + 0.6 * spread
    return StripBoard(name=name, thickness=thickness, low=low, high=high, over=over)


def in_groups(
    boards: list[StripBoard], many: int, *, side: Side = "", first: int = 1, room: float = 0.2
) -> list[StripGroup]:
    """Groups of ``many`` boards by thickness, each with a band about its boards."""
    order = sorted(range(len(boards)), key=lambda k: boards[k].thickness)
    found: list[StripGroup] = []
    for start in range(0, len(order), many):
        members = order[start : start + many]
        middle = (boards[members[0]].thickness + boards[members[-1]].thickness) / 2
        found.append(
            StripGroup(
                members=tuple(members),
                setting=f"setup {first + len(found)}",
                band=(middle - room / 2, middle + room / 2),
                side=side,
            )
        )
    return found


@st.composite
def piles(draw: st.DrawFn) -> tuple[list[StripBoard], list[StripGroup]]:
    """2 to 60 boards, some as thick as others, with names of any length; groups on 0 to 2 sides."""
    count = draw(st.integers(2, 60))
    steps = draw(st.lists(st.integers(0, 40), min_size=count, max_size=count))
    marks = draw(st.lists(names, min_size=count, max_size=count))
    over = draw(st.sampled_from([0.0, 0.001, 0.07, -0.2]))
    boards = [
        board(mark, 19.0 + 0.02 * step, spread=0.01 * (step % 7), over=over * (step % 11 == 0))
        for mark, step in zip(marks, steps, strict=True)
    ]
    sides: list[Side] = list(draw(st.sampled_from([(), ("",), ("groove", "tongue")])))
    groups: list[StripGroup] = []
    for side in sides:
        many, room = draw(st.integers(1, count)), draw(lengths(0.05, 0.6))
        groups += in_groups(boards, many, side=side, first=len(groups) + 1, room=room)
    return boards, groups
