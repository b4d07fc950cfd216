"""What the shop knows now: the latest of each unknown, by queries that every reader shares."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from faywright.app.records import Rows

Row = Sequence[object]
Ask = Callable[[str, str], Iterable[Row]]
"""Runs a query for a shop by its title."""

CUTTER = "cutter"
"""The kind of unknown that sharpening does away with; its owner is the cutter's mark."""

# One place in an index for each unknown, however many trials there are. Later by number is later
# known: what a trial teaches stands on all that was known when it was recorded.
LEARNED = """
SELECT u.kind, u.owner, l.mean, l.sd, l.datum, t.at, l.trial_id, l.place, l.covariance
FROM faywright_shop s
JOIN faywright_unknown u ON u.shop_id = s.id
JOIN faywright_learned l ON l.id = (
    SELECT l2.id FROM faywright_learned l2 JOIN faywright_trial t2 ON t2.id = l2.trial_id
    WHERE l2.unknown_id = u.id AND t2.forgotten IS NULL AND NOT (
        u.kind = 'cutter' AND EXISTS (
            SELECT 1 FROM faywright_thing c JOIN faywright_sharpened p ON p.cutter_id = c.id
            WHERE c.shop_id = s.id AND c.kind = 'cutter' AND c.mark = u.owner AND p.at > t2.at
        )
    )
    ORDER BY l2.trial_id DESC LIMIT 1
)
JOIN faywright_trial t ON t.id = l.trial_id
WHERE s.title = %s
ORDER BY u.kind, u.owner
"""

SHARPENED = """
SELECT c.mark, p.size, p.sd, p.listed, p.at
FROM faywright_shop s
JOIN faywright_thing c ON c.shop_id = s.id AND c.kind = 'cutter'
JOIN faywright_sharpened p ON p.id = (
    SELECT p2.id FROM faywright_sharpened p2 WHERE p2.cutter_id = c.id
    ORDER BY p2.at DESC, p2.id DESC LIMIT 1
)
WHERE s.title = %s AND p.size IS NOT NULL
ORDER BY c.mark
"""


FELT = """
SELECT f.timber, f.word, f.mean, f.sd
FROM faywright_shop s
JOIN faywright_feel f ON f.shop_id = s.id
LEFT JOIN faywright_trial t ON t.id = f.trial_id
WHERE s.title = %s AND t.forgotten IS NULL
ORDER BY f.id
"""

# How far each cutter had cut by the last trial that tells; nought since it was sharpened.
CUT = """
SELECT c.mark, COALESCE(t.metres, 0)
FROM faywright_shop s
JOIN faywright_thing c ON c.shop_id = s.id AND c.kind = 'cutter'
LEFT JOIN faywright_trial t ON t.id = (
    SELECT MAX(t2.id) FROM faywright_trial t2
    WHERE t2.cutter_id = c.id AND t2.forgotten IS NULL AND t2.metres > 0 AND NOT EXISTS (
        SELECT 1 FROM faywright_sharpened p WHERE p.cutter_id = c.id AND p.at > t2.at
    )
)
WHERE s.title = %s AND (
    t.id IS NOT NULL OR EXISTS (SELECT 1 FROM faywright_sharpened p WHERE p.cutter_id = c.id)
)
ORDER BY c.mark
"""


@dataclass(frozen=True, slots=True)
class Felt:
    """How a joint felt, and the clearance it is thought to have had. [mm]"""

    timber: str
    word: str
    mean: float
    sd: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Remembered:
    """What is known of an unknown, counted from its datum. [mm]

    ``trial`` taught it last; None if the cutter was measured anew since, after sharpening.
    """

    kind: str
    owner: str
    mean: float
    sd: float
    datum: float
    at: datetime
    trial: int | None


@dataclass(frozen=True, slots=True)
class Memory:
    """All that is known of a shop's unknowns.

    ``covariance`` is in the order of ``values``; it is nought between values that different
    trials taught last. [mm^2] ``cut`` has cutters' marks and the metres each had cut since new
    or sharpened, by the last trial that tells.
    """

    values: tuple[Remembered, ...] = ()
    covariance: Rows = ()
    feels: tuple[Felt, ...] = ()
    cut: tuple[tuple[str, float], ...] = ()


def memory_of(shop: str, ask: Ask) -> Memory:
    """What a store knows of a shop."""
    taught = [_Taught(row) for row in ask(LEARNED, shop)]
    known = {each.value.owner for each in taught if each.value.kind == CUTTER}
    anew = [
        each for row in ask(SHARPENED, shop) if (each := _measured_anew(row)).owner not in known
    ]
    covariance = [(*(one.with_(other) for other in taught), *(0.0 for _ in anew)) for one in taught]
    for place, value in enumerate(anew, start=len(taught)):
        row = [0.0] * (len(taught) + len(anew))
        row[place] = value.sd * value.sd
        covariance.append(tuple(row))
    feels = tuple(
        Felt(str(timber), str(word), _number(mean), _number(sd))
        for timber, word, mean, sd in ask(FELT, shop)
    )
    cut = tuple((str(mark), _number(metres)) for mark, metres in ask(CUT, shop))
    return Memory((*(each.value for each in taught), *anew), tuple(covariance), feels, cut)


class _Taught:
    """One row of ``LEARNED``."""

    def __init__(self, row: Row) -> None:
        kind, owner, mean, sd, datum, at, trial, place, covariance = row
        self.value = Remembered(
            kind=str(kind),
            owner=str(owner),
            mean=_number(mean),
            sd=_number(sd),
            datum=_number(datum),
            at=_moment(at),
            trial=int(str(trial)),
        )
        self._place = int(str(place)) - 1
        self._covariance: list[float] = json.loads(str(covariance))

    def with_(self, other: _Taught) -> float:
        """Covariance with another unknown, if the same trial taught both. [mm^2]"""
        same = self.value.trial == other.value.trial
        return float(self._covariance[other._place]) if same else 0.0


def _measured_anew(row: Row) -> Remembered:
    """One row of ``SHARPENED``: the cutter is off by what was measured less what was listed."""
    mark, size, sd, listed, at = row
    return Remembered(
        kind=CUTTER,
        owner=str(mark),
        mean=_number(size) - _number(listed),
        sd=_number(sd),
        datum=_number(listed),
        at=_moment(at),
        trial=None,
    )


def _number(value: object) -> float:
    return float(str(value))


def _moment(value: object) -> datetime:
    """A moment as a database gives it: SQLite as text in UTC."""
    moment = value if isinstance(value, datetime) else datetime.fromisoformat(str(value))
    return moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)
