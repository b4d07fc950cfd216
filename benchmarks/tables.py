"""Plain text tables."""

from __future__ import annotations

from collections.abc import Sequence


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Columns as wide as their widest cell: the first to the left, the others to the right.

    Examples
    --------
    >>> print(table(["what", "mm"], [["tongue", "5.93"]]))
    what      mm
    ------  ----
    tongue  5.93
    """
    lines = [list(head), *[list(row) for row in rows]]
    widths = [max(len(cell) for cell in column) for column in zip(*lines, strict=True)]
    lines.insert(1, ["-" * width for width in widths])
    return "\n".join(_line(cells, widths) for cells in lines)


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    first = cells[0].ljust(widths[0])
    rest = [cell.rjust(width) for cell, width in zip(cells[1:], widths[1:], strict=True)]
    return "  ".join([first, *rest]).rstrip()
