"""What requests are made of: nothing unknown, nothing without bounds, nothing that is no number."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from faywright.app.sheet import TEXT as LONGEST_TEXT
from faywright.lengths import Style

GREATEST_NUMBER = 2**53 - 1
"""The greatest whole number that every reader of JSON holds exactly."""

SOUND = r"^[^\x00]*$"
"""Text that every database can hold."""


class Request(BaseModel):
    """The body of a request: each key is known, and no value is bent to fit."""

    model_config = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False)


class Nothing(Request):
    """The address says it all: `{}`."""


class Asked(BaseModel):
    """What stands after the question mark of an address: each name is known."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class Told(BaseModel):
    """Part of an answer."""

    model_config = ConfigDict(extra="forbid")


Number = Annotated[int, Field(ge=1, le=GREATEST_NUMBER)]
"""Of a document, revision, joint, setup or trial: all are counted from 1."""

Name = Annotated[str, Field(min_length=1, max_length=200, pattern=SOUND)]
Note = Annotated[str, Field(max_length=10_000, pattern=SOUND)]
Line = Annotated[str, Field(max_length=400, pattern=SOUND)]
Text = Annotated[str, Field(min_length=1, max_length=LONGEST_TEXT, pattern=SOUND)]
Typed = Annotated[str, Field(min_length=1, max_length=100, pattern=SOUND)]
"""A length, or another short value, as it is typed."""

Base = Annotated[
    int,
    Field(ge=1, le=GREATEST_NUMBER, description="Number of the revision the change is made from."),
]


Units = Annotated[
    Style | None,
    Field(description="How lengths are written in words and drawings; if left out, as the shop."),
]


class Shown(Asked):
    """How lengths are written in what is answered."""

    units: Units = None


class OnPaper(Shown):
    """How a packet is printed."""

    paper: Annotated[Literal["a4", "us-letter"], Field(description="Paper of the packet.")] = "a4"
    only: Annotated[
        str,
        Field(
            max_length=200,
            pattern=r"^([1-9][0-9]{0,5}(,[1-9][0-9]{0,5})*)?$",
            description="Setups in it, by number, as 3 or 5,8; all if left out.",
        ),
    ] = ""
