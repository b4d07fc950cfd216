"""Tables of what is done at the machine: setups that are cut, and forms that were sent."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from django.db import models

from faywright.app.opening import set_up_django

if TYPE_CHECKING:
    from faywright.app.models import Json, Moment, Number, Text

    Whole = models.PositiveBigIntegerField[int, int]

set_up_django()


class CutDone(models.Model):
    """A cut that is made, and what height and fence were set to for it. [mm]

    ``piece`` is the number of its document; ``cut`` stands for what is cut on which boards.
    """

    id: int
    piece: Whole = models.PositiveBigIntegerField()
    cut: Text = models.TextField()
    height: Number = models.FloatField()
    fence: Number = models.FloatField()
    at: Moment = models.DateTimeField()
    author: Text = models.TextField()

    class Meta:
        """A cut is made once; made again, it is the last time that counts."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["piece", "cut"], name="cut_done_once")
        ]


class Submission(models.Model):
    """A form that was sent and what it was answered, so that sending it again changes nothing."""

    id: int
    key: Text = models.TextField(unique=True)
    at: Moment = models.DateTimeField()
    answer: Json = models.JSONField()
