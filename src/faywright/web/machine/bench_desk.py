"""What pages at the machine need of the open store, beside the desk: ticks, trials, forms sent."""

from __future__ import annotations

from django.db import DEFAULT_DB_ALIAS
from django.http import HttpRequest

from faywright.app.cuts_done import CutsDone
from faywright.app.records import KeptTrial
from faywright.app.submissions import Submissions
from faywright.app.trial_history import trials_of
from faywright.web.desk import desk
from faywright.web.joint.joint_at import JointAt

SUBMISSION = "submission"
"""Field that carries a form's key; programs may send it as the header X-Submission."""


def cuts_done() -> CutsDone:
    """Which cuts are made."""
    return CutsDone(DEFAULT_DB_ALIAS, _where())


def submissions() -> Submissions:
    """Forms that were sent."""
    return Submissions(DEFAULT_DB_ALIAS, _where())


def submission_of(request: HttpRequest, of: str) -> str:
    """The key of a form that was sent, apart from those of other forms; empty if it has none."""
    key = request.headers.get("X-Submission") or request.POST.get(SUBMISSION, "")
    return key and kept_as(key, of)


def kept_as(key: str, of: str) -> str:
    """What stands for the key of a form among those of all forms."""
    return f"{of}-{key}"


def trials_made(at: JointAt) -> tuple[KeptTrial, ...]:
    """Trials of a joint, the latest first, forgotten ones too."""
    shop, piece = at.ground.shop.title, at.ground.piece.title
    return trials_of(DEFAULT_DB_ALIAS, _where(), shop=shop, piece=piece, joint=at.name)


def _where() -> str:
    return str(desk().store.place)
