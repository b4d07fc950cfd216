"""Forms that may arrive twice: what changes something is done once, and answered the same again.

A tablet that lost its connection does not know whether what it sent had arrived, and sends it
again. Each form carries a key of its own; the change and its key are kept together or not at all.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from django.db import connections
from django.db.transaction import atomic

from faywright.app.bench_models import Submission
from faywright.app.connecting import database_told, snapshot
from faywright.errors import InputError

Answer = Mapping[str, object]

KEPT = 2_000
"""Answers that are remembered, the latest: months of a shop's work."""

_KEY = re.compile(r"[A-Za-z0-9-]{8,80}")


@dataclass(frozen=True)
class Submissions:
    """Those of one store, by its name with Django; ``where`` names it in messages."""

    alias: str
    where: str

    def once(self, key: str, make: Callable[[], Answer]) -> Answer:
        """What ``make`` gives, which is called once for a key however often it is sent.

        Without a key it is called at once.

        Raises
        ------
        InputError
            That is no key.
        """
        if not key:
            return make()
        if not _KEY.fullmatch(key):
            raise InputError(
                f"{key[:40]!r} is no key of a form",
                where="submission",
                remedy="Send 8 to 80 letters, digits or dashes, or leave it out",
            )
        with database_told(self.where), atomic(using=self.alias):
            rows = Submission.objects.using(self.alias)
            self._alone(key)
            found = rows.filter(key=key).first()
            if found is not None:
                return _told(found.answer)
            answer = make()
            kept = rows.create(key=key, at=datetime.now(UTC), answer=dict(answer))
            rows.filter(id__lte=kept.id - KEPT).delete()
            return answer

    def answer(self, key: str) -> Answer | None:
        """What a form was answered; None if that is not known (any more)."""
        with database_told(self.where), snapshot(self.alias):
            found = Submission.objects.using(self.alias).filter(key=key).first()
            return None if found is None else _told(found.answer)

    def _alone(self, key: str) -> None:
        """Wait for whoever is at the same form; in SQLite one writes at a time anyway."""
        connection = connections[self.alias]
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SELECT pg_advisory_xact_lock(hashtext(%s))", [key])


def _told(answer: object) -> Answer:
    if not isinstance(answer, dict):
        raise TypeError(f"an answer is a table of values, not {answer!r}")
    return answer
