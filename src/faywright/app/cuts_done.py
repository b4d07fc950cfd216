"""Which setups of a piece are cut, and whether they were set as the plan now has them."""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from django.db.transaction import atomic

from faywright.app.bench_models import CutDone
from faywright.app.connecting import database_told, snapshot
from faywright.errors import InputError
from faywright.setups.setup import Setup

SAME = 0.01
"""Settings that differ by less are the same: no gauge tells them apart. [mm]"""

FURTHEST = 10_000.0
"""No height or fence is further. [mm]"""


@dataclass(frozen=True, slots=True)
class Done:
    """A cut that was made: what was set, when, and by whom. [mm]"""

    height: float
    fence: float
    at: datetime
    author: str

    def as_set(self, height: float, fence: float) -> bool:
        """Whether the plan still has these settings, as they were then."""
        return abs(self.height - height) < SAME and abs(self.fence - fence) < SAME


def cuts_of(setups: Sequence[Setup]) -> tuple[str, ...]:
    """What stands for each cut: what is cut, with which cutter, on which boards.

    What is set is not part of it, so that a cut that was made otherwise can be told as such.
    """
    met = Counter[str]()
    found = []
    for setup in setups:
        what = json.dumps(
            [
                setup.joint,
                setup.side,
                setup.method,
                setup.stage,
                setup.final,
                setup.cutter,
                sorted(setup.marks),
                [[each.down, each.against] for each in setup.passes],
            ]
        )
        met[what] += 1  # clearing cuts differ from each other by their height alone
        found.append(hashlib.sha256(f"{met[what]} {what}".encode()).hexdigest()[:32])
    return tuple(found)


@dataclass(frozen=True)
class CutsDone:
    """Ticks of one store, by its name with Django; ``where`` names it in messages."""

    alias: str
    where: str

    def of(self, piece: int) -> Mapping[str, Done]:
        """Cuts of a piece that were made, by what stands for them."""
        with database_told(self.where), snapshot(self.alias):
            rows = CutDone.objects.using(self.alias).filter(piece=piece)
            return {row.cut: Done(row.height, row.fence, row.at, row.author) for row in rows}

    def tick(self, piece: int, cut: str, height: float, fence: float, *, author: str) -> Done:
        """A cut was made with these settings.

        Raises
        ------
        InputError
            That cannot stand for a cut, or is no setting.
        """
        _check(cut, height, fence)
        at = datetime.now(UTC)
        values = {"height": height, "fence": fence, "at": at, "author": author}
        with database_told(self.where), atomic(using=self.alias):
            CutDone.objects.using(self.alias).update_or_create(
                piece=piece, cut=cut, defaults=values
            )
        return Done(height, fence, at, author)

    def untick(self, piece: int, cut: str) -> None:
        """It was not made after all."""
        with database_told(self.where), atomic(using=self.alias):
            CutDone.objects.using(self.alias).filter(piece=piece, cut=cut).delete()


def _check(cut: str, height: float, fence: float) -> None:
    if not re.fullmatch(r"[0-9a-f]{32}", cut):
        raise InputError(
            f"{cut[:40]!r} is no cut of a plan",
            where="setup done",
            remedy="Press Done on the card of the setup",
        )
    for value in (height, fence):
        if not (math.isfinite(value) and abs(value) <= FURTHEST):
            raise InputError(
                f"{value:g} mm is no setting",
                where="setup done",
                remedy="Press Done on the card of the setup",
            )
