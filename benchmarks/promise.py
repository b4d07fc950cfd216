"""Promises as measured, and the table that says which are kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from benchmarks.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One promise as measured; ``ratio`` is our time, or memory, over the peer's.

    ``kept`` is None where nothing is promised and the figure is only told.
    """

    what: str
    measured: str
    promise: str
    kept: bool | None
    peer: str
    ratio: float


VERDICTS = {True: "kept", False: "NOT KEPT", None: ""}


def report(results: Sequence[Result]) -> str:
    """All promises as a table."""
    rows = [
        [
            result.what,
            result.measured,
            result.promise,
            VERDICTS[result.kept],
            f"{result.ratio:.2f} x",
            result.peer,
        ]
        for result in results
    ]
    return table(["what", "measured", "promise", "", "beside the peer", "peer"], rows)
